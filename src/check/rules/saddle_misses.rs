//! A saddle on a tube that is thicker than the one it fits, or that passes it so far off its axis that a part of it
//! misses.
//!
//! It matters because there is no such cut: the template would have a gap, and the joint nothing to weld.
//!
//! Wrong: a branch of 1 in on a main tube of 1 in with `offset: 1/8`. Right: no offset, or a thicker main tube.
//!
//! It can't be accepted.

use super::cut_too_long::text;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{CutKind, StockShape};
use crate::units::{Length, PartNumber};

pub const RULE: Rule = Rule {
    id: "saddle-misses",
    level: Level::Error,
    summary: "a saddle of which a part misses the tube it fits",
    source: "geometry: a branch of radius r whose axis passes that of the main tube at e touches it all round only where e + r is at most R",
    bending: Leave::Refused,
    file: include_str!("saddle_misses.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for cut in step.cuts.iter().filter(|c| c.kind == CutKind::Saddle) {
            let Some(onto) = &cut.onto else { continue };
            let (Some(branch), Some(main)) = (diameter(ctx, &cut.part.value), diameter(ctx, &onto.value)) else {
                continue;
            };
            let offset = cut.offset.map_or(Length::ZERO, |o| o.value);
            let aside = if offset < Length::ZERO { Length::ZERO - offset } else { offset };
            // Twice e + r against twice R.
            if aside * 2 + branch <= main {
                continue;
            }
            let (span, label) = match &cut.offset {
                Some(written) if branch <= main => (written.span, "so far aside that a part of it misses"),
                _ => (cut.part.span, "thicker than the tube it fits"),
            };
            sink.push(
                RULE.found(format!("the saddle on {} does not meet {} all round", cut.part.value, onto.value))
                    .at(span, label)
                    .note(onto.span, format!("{} across; the branch has {}", text(ctx, main), text(ctx, branch)))
                    .help("correct the offset, or the stock of one of the two parts")
                    .about(&cut.part.value)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

/// The outside diameter of a round tube or bar.
fn diameter(ctx: &Context, number: &PartNumber) -> Option<Length> {
    let part = ctx.manual.parts.get(number)?;
    let from = part.cut_from.as_ref().and_then(|from| ctx.manual.parts.get(&from.value));
    let stock = part.stock.as_ref().or(from.and_then(|p| p.stock.as_ref()))?;
    let stock = ctx.manual.stock.get(&stock.value)?;
    let round = matches!(stock.shape, StockShape::RoundTube | StockShape::Bar);
    stock.outside_diameter.filter(|_| round).map(|d| d.value)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_branch_meets_its_tube() {
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/10-keel.md",
                    "cut: mitre, angle: 22.5",
                    "cut: saddle, onto: KW-105, angle: 60, offset: 1/8"
                )
                .findings(),
            ["saddle-misses steps/frame/10-keel.md `1/8`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/frame/10-keel.md",
                    "cut: mitre, angle: 22.5",
                    "cut: saddle, onto: KW-105, angle: 60, offset: 0"
                )
                .findings(),
            [""; 0]
        );
        assert_eq!(
            sound()
                .add("stock.csv", "T-9,4130,round tube,3/4,.058,144\n")
                .edit("parts.csv", "Rail,,,T-1", "Rail,,,T-9")
                .edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5", "cut: saddle, onto: KW-105, angle: 60")
                .findings(),
            ["saddle-misses steps/frame/10-keel.md `KW-101`"]
        );
    }
}
