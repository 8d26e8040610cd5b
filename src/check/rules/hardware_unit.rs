//! An item of hardware that a step takes in another unit than the hardware list gives for it, or that a joint counts
//! while the list sells it by weight or length.
//!
//! It matters because pieces and pounds can't be added, and the order for it would be wrong.
//!
//! Wrong: `quantity: 0.05 lb` of a bolt that the list counts each. Right: the same unit in both.
//!
//! It can't be accepted.

use crate::check::MOST_NOTES;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Note};
use crate::diag::{Level, Sink};
use crate::units::{Designation, Unit};
use indexmap::IndexMap;

pub const RULE: Rule = Rule {
    id: "hardware-unit",
    level: Level::Error,
    summary: "hardware counted in another unit than the hardware list says",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("hardware_unit.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut found: IndexMap<&Designation, Diagnostic> = IndexMap::new();
    for step in &ctx.manual.steps {
        let listed = step.hardware.iter().map(|h| (&h.hardware.value, h.quantity.unit, h.quantity_span));
        let joints = step.joints.iter().flat_map(|joint| joint.with_fastener().map(|d| (&d.value, Unit::Each, d.span)));
        for (designation, unit, span) in listed.chain(joints) {
            let Some(item) = ctx.manual.hardware.get(designation).filter(|h| h.unit != unit) else { continue };
            let note = format!("{} here", word(unit));
            if let Some(d) = found.get_mut(designation) {
                if d.notes.len() <= MOST_NOTES {
                    d.notes.push(Note { span, label: note });
                }
                continue;
            }
            let d = RULE
                .found(format!(
                    "{designation} is {} in the hardware list and {} in a step",
                    word(item.unit),
                    word(unit)
                ))
                .at(span, note)
                .note(item.designation.span, format!("{} in the list", word(item.unit)))
                .help("use the same unit in both")
                .about(designation);
            found.insert(designation, d);
        }
    }
    found.into_values().collect()
}

fn word(unit: Unit) -> &'static str {
    match unit {
        Unit::Each => "counted each",
        Unit::Foot => "measured in ft",
        Unit::Pound => "weighed in lb",
        Unit::Metre => "measured in m",
        Unit::SquareMetre => "measured in m²",
        Unit::Kilogram => "weighed in kg",
        Unit::Gram => "weighed in g",
        Unit::Litre => "measured in litres",
        Unit::Millilitre => "measured in ml",
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_unit() {
        assert_eq!(
            sound().edit("steps/frame/40-paint.md", "0.05 lb", "12").findings(),
            ["hardware-unit steps/frame/40-paint.md `12`"]
        );
        assert_eq!(
            sound().edit("hardware.csv", "AN960-416,Washer,washer,each", "AN960-416,Washer,washer,lb").findings(),
            ["hardware-unit steps/frame/20-left.md `AN960-416`"]
        );
    }
}
