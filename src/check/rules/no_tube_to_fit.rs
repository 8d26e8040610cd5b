//! A saddle on a part that is no round tube, or onto one that is neither round tube nor bar, or onto itself; a mitre on
//! sheet, cable or fabric.
//!
//! It matters because there is no template and no drawing of such a cut, and the builder files by eye.
//!
//! Wrong: `cut: saddle, onto: KW-104`, a plate. Right: the tube that the end meets.
//!
//! To accept: `accept: [{ rule: no-tube-to-fit, about: KW-110, reason: ... }]` in the step's file.

use super::stock_incomplete::missing;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{CutKind, Opposite, Part, Stock, StockShape};
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "no-tube-to-fit",
    level: Level::Error,
    summary: "a saddle or mitre on something that is no tube, or a saddle onto something that is not round",
    source: "geometry",
    bending: Leave::Allowed,
    file: include_str!("no_tube_to_fit.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (step, cut) in ctx.cuts().filter(|(step, _)| !matches!(step.opposite, Opposite::Of(_))) {
        let Some(part) = ctx.manual.parts.get(&cut.part.value) else { continue };
        let here = stock(ctx, part).map(|s| s.shape);
        let flat = matches!(here, Some(StockShape::Sheet | StockShape::Cable | StockShape::Fabric));
        let saddle = cut.kind == CutKind::Saddle;
        let onto = cut.onto.as_ref().filter(|_| saddle).and_then(|o| Some((o, ctx.manual.parts.get(&o.value)?)));
        let found = if saddle && here.is_some_and(|s| s != StockShape::RoundTube) || cut.kind == CutKind::Mitre && flat
        {
            let shape = here.map_or("", StockShape::word);
            Some((
                cut.part.span,
                format!("the {} on {}, which is {shape}", cut.kind.word(), cut.part.value),
                format!("{shape}, by its stock"),
            ))
        } else {
            onto.and_then(|(name, other)| {
                let shape = stock(ctx, other).map(|s| s.shape);
                if other.number.value == part.number.value {
                    Some((
                        name.span,
                        format!("the saddle on {} fits itself", cut.part.value),
                        "the part itself".to_owned(),
                    ))
                } else if shape.is_some_and(|s| !matches!(s, StockShape::RoundTube | StockShape::Bar)) {
                    let shape = shape.map_or("", StockShape::word);
                    Some((
                        name.span,
                        format!("the saddle on {} fits {}, which is {shape}", cut.part.value, name.value),
                        format!("{shape}, by its stock"),
                    ))
                } else {
                    None
                }
            })
        };
        let Some((span, headline, label)) = found else { continue };
        sink.push(
            RULE.found(headline)
                .at(span, label)
                .help("name the tube that is meant, or correct the kind of the cut or the part's line of stock")
                .about(&cut.part.value)
                .about(&step.id.value),
        );
    }
    sink
}

/// The stock of a part, or of the one it is cut from; none where it is not fully known.
fn stock<'a>(ctx: &'a Context, part: &'a Part) -> Option<&'a Stock> {
    let of = |p: &'a Part| p.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value));
    let from: Option<&PartNumber> = part.cut_from.as_ref().map(|f| &f.value);
    let found = of(part).or_else(|| of(ctx.manual.parts.get(from?)?))?;
    (missing(found).is_empty() && found.shape != StockShape::Other && !ctx.excuses.sizes.contains(&part.number.value))
        .then_some(found)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_saddle_fits_a_tube() {
        let step = "steps/frame/10-keel.md";
        let onto = |part: &str| {
            let case = sound().edit(
                step,
                "cut: mitre, angle: 22.5",
                &format!("cut: saddle, onto: {part}, angle: 60, offset: 0"),
            );
            case.findings().into_iter().filter(|f| f.starts_with("no-tube")).collect::<Vec<_>>()
        };
        assert_eq!(onto("KW-105"), [""; 0]);
        assert_eq!(onto("KW-104"), ["no-tube-to-fit steps/frame/10-keel.md `KW-104`"]);
        assert_eq!(onto("KW-101"), ["no-tube-to-fit steps/frame/10-keel.md `KW-101`"]);
        let sheet = sound().edit("parts.csv", "Keel tube,,,T-1", "Keel tube,,,S-1").findings();
        assert!(sheet.contains(&"no-tube-to-fit steps/frame/10-keel.md `KW-101`".to_owned()), "{sheet:?}");
    }
}
