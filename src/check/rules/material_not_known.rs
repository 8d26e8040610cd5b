//! A material that the program does not know by any name of the trade.
//!
//! It matters because what is not known is not judged: whether a table torque applies, whether metals corrode each other, how
//! tight a sheet bends, what a part weighs. The finding says what is left out.
//!
//! Alloys go by their numbers and signs (`6061-T6`, `EN AW-6060 T66`, `AlMgSi`, `S235`, `1.4301`, `A4-70`, `4130N`, `CW614N`), others by
//! their words: birch plywood, nylon, glass fibre, rubber.
//!
//! Wrong: `6601-T6`. Right: `6061-T6`; for something that has no usual name, its family beside it: `steel, maker's own`.
//!
//! To accept: `accept: [{ rule: material-not-known, about: 6601-T6, reason: ... }]` in manual.yaml.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::StockShape;
use crate::source::Span;
use crate::trade::material_family;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "material-not-known",
    level: Level::Warning,
    summary: "a material that is not known by its name",
    source: "EN 573-3, EN 10027, ISO 3506, SAE and AISI numbers; words of the trade",
    bending: Leave::Allowed,
    file: include_str!("material_not_known.rs"),
    run: Run::Manual(run),
};

/// Where a name stands, and what is not judged because of it.
#[derive(Default)]
struct Places {
    at: Vec<Span>,
    joints: bool,
    bends: bool,
    metals: bool,
    weights: bool,
    cables: bool,
}

fn run(ctx: &Context) -> Sink {
    let manual = ctx.manual;
    let mut unknown: BTreeMap<&str, Places> = BTreeMap::new();
    let strange = |name: &str| !name.trim().is_empty() && material_family(name).is_none();
    let clamped =
        |number: &PartNumber| ctx.joints.iter().any(|j| j.joint.stack.iter().any(|m| m.part.value == *number));
    for (number, part) in manual.parts.iter().filter(|(_, p)| strange(&p.material)) {
        let places = unknown.entry(part.material.trim()).or_default();
        places.at.push(part.number.span);
        places.joints |= clamped(number);
    }
    for (id, stock) in manual.stock.iter().filter(|(_, s)| strange(&s.material)) {
        let places = unknown.entry(stock.material.trim()).or_default();
        places.at.push(stock.id.span);
        places.bends |= stock.shape == StockShape::Sheet;
        places.weights |= matches!(stock.shape, StockShape::RoundTube | StockShape::SquareTube);
        places.cables |= stock.shape == StockShape::Cable;
        let of_it = |p: &crate::model::Part| p.material.is_empty() && p.stock.as_ref().is_some_and(|s| s.value == *id);
        places.joints |= manual.parts.iter().any(|(number, part)| of_it(part) && clamped(number));
    }
    for row in manual.hardware.values().filter(|h| strange(&h.material)) {
        let places = unknown.entry(row.material.trim()).or_default();
        places.at.push(row.designation.span);
        places.metals = true;
    }
    let mut sink = Sink::new();
    for (name, places) in unknown {
        let Some(first) = places.at.first() else { continue };
        let left_out: Vec<&str> = [
            ("whether a table torque applies", places.joints),
            ("whether metals corrode each other", places.joints || places.metals),
            ("how tight it bends", places.bends),
            ("what it weighs", places.weights),
            ("what the cable bears", places.cables),
        ]
        .into_iter()
        .filter_map(|(what, so)| so.then_some(what))
        .collect();
        let left_out = if left_out.is_empty() { vec!["what depends on it"] } else { left_out };
        let mut d = RULE
            .found(format!("the material `{name}` is not known; it is not judged {}", left_out.join(", ")))
            .at(*first, "of this material")
            .help("write its number or sign (6061-T6, EN AW-6060 T66, S235, 1.4301) or its family beside it (steel, aluminium, plywood)")
            .about(name);
        for span in places.at.iter().skip(1).take(MOST_NOTES) {
            d = d.note(*span, "and this");
        }
        sink.push(d);
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_misspelt_alloy_is_told_once() {
        let d = sound().edit_all("stock.csv", "6061-T6", "6601-T6").check().0;
        let ours: Vec<_> = d.iter().filter(|d| d.rule == "material-not-known").collect();
        assert_eq!(ours.len(), 1, "{d:?}");
        assert!(
            ours[0].headline.contains("whether a table torque applies") && ours[0].notes.len() == 1,
            "{:?}",
            ours[0]
        );
        for name in ["EN AW-6060 T66", "S235", "1.4301", "birch plywood"] {
            let found = sound().edit_all("stock.csv", "6061-T6", name).findings();
            assert!(!found.iter().any(|f| f.starts_with("material-not-known")), "{name}: {found:?}");
        }
    }
}
