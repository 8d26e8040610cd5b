//! An item of hardware that a step takes in another unit than the hardware list gives for it, or that a joint, a cable or a
//! wire counts or measures while the list sells it otherwise.
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
use crate::model::CableEnd;
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
        let ends = step.cables.iter().flat_map(|c| c.ends()).flatten().flat_map(CableEnd::hardware);
        let terminals = step.wires.iter().flat_map(|w| &w.terminals).flatten();
        let counted = ends.map(|(d, _)| d).chain(terminals).map(|d| (&d.value, Unit::Each, d.span));
        // A wire and a sheath come off a roll by their length.
        let sheaths = step.cables.iter().filter_map(|c| c.sheath.as_ref());
        let sheaths = sheaths.map(|s| (s.span, s.as_str()));
        let wires = step.wires.iter().filter_map(|w| w.hardware.as_ref()).map(|d| (d.span, d.as_str()));
        let rolls = sheaths.chain(wires).filter_map(|(span, name)| {
            let (designation, item) = ctx.manual.hardware.get_key_value(&Designation::new(name))?;
            Some((designation, item.unit.of_a_length(), span))
        });
        for (designation, unit, span) in listed.chain(joints).chain(counted).chain(rolls) {
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
    use crate::check::testing::{sound, wired};

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

    /// A terminal is counted, a wire is measured off its roll: neither is weighed.
    #[test]
    fn wires_and_their_terminals() {
        let step = "steps/finish/20-brake.md";
        let weighed = wired().edit("hardware.csv", "RT-1,Ring terminal,other,each", "RT-1,Ring terminal,other,lb");
        assert_eq!(weighed.findings(), [format!("hardware-unit {step} `RT-1`")]);
        let roll = |unit: &str| {
            wired()
                .edit("hardware.csv", "RT-1,", &format!("FL-1,Wire,other,{unit}\nRT-1,"))
                .edit(step, "length: 60", "length: 60, hardware: FL-1")
                .findings()
        };
        for unit in ["ft", "m", "each"] {
            assert_eq!(roll(unit), [""; 0], "{unit}");
        }
        assert_eq!(roll("lb"), [format!("hardware-unit {step} `FL-1`")]);
    }
}
