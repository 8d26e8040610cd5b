//! How tight a joint is drawn, as documents say it.

use crate::document::inline::{Inline, Inlines};
use crate::joint::{Reading, Tightening};
use crate::model::{Joint, ThreadCondition, TorqueRange};
use crate::trade::{Decoded, ItemForm, Source, adds_run_down_drag, newton_metres};
use crate::units::{Measure, MeasureUnit, Rational, UnitStyle, decimal_text};

/// How tight, in words, with where the value comes from.
pub(super) fn tighten(joint: &Joint, reading: &Reading, units: UnitStyle) -> Inlines {
    let mut out = Inlines::new();
    let drag = drags(reading.nut.as_deref());
    match &reading.tightening {
        Tightening::None => {}
        Tightening::Designer { range, .. } => {
            let value = if drag && !joint.drag_included { with_drag(*range, units) } else { kept(*range, units) };
            let included = if joint.drag_included { ", drag of the nut included" } else { "" };
            let threads = match joint.condition.as_ref().map(|c| c.value) {
                Some(ThreadCondition::Dry) => ", dry threads",
                Some(ThreadCondition::Greased) => ", greased threads",
                None => "",
            };
            out.push(Inline::text(format!("{value}{included}{threads}, designer's value")));
        }
        Tightening::Table(table) => {
            let (least, most) = table.value.inch_pounds();
            let range = TorqueRange { least, most };
            let value = if drag { with_drag(range, units) } else { kept(range, units) };
            let limit = Measure { value: Rational::from_integer(table.value.limit), unit: MeasureUnit::InchPound };
            let limit = measured(limit, limit, units);
            let memory = if table.source == Source::FromMemory { " (from memory)" } else { "" };
            out.push(Inline::text(format!("{value}, table value{memory}, never above {limit}")));
        }
        Tightening::Required(why) => {
            out.push(Inline::strong("designer's value required"));
            out.push(Inline::text(format!(": {}", why.words())));
        }
    }
    if joint.turns {
        let freely = match joint.clamps.as_ref().map(|c| c.value.word()) {
            Some(still) => format!("its parts must turn freely round the {still}"),
            None => "it must turn freely".to_owned(),
        };
        out.push(Inline::text(if out.is_empty() { freely } else { format!("; {freely}") }));
    }
    out
}

/// What is asked for where lives hang on a joint.
pub(super) const CRITICAL: &str =
    "a second person looks at it; paint mark across nut or head; look again after the first use";

fn drags(nut: Option<&Decoded>) -> bool {
    nut.is_some_and(|nut| matches!(nut.form, ItemForm::Nut(form) if adds_run_down_drag(form)))
}

/// What stands where a nut drags, and what it means.
pub(super) const DRAG: &str = "drag\u{a0}____";
pub(super) const DRAG_IS: &str = ". Drag is what the wrench reads while the nut runs down and does not touch yet";

/// `drag ____ + 30 to 40 in-lb = set ____`: the builder feels the drag of the nut as it runs down, and adds it.
fn with_drag(range: TorqueRange, units: UnitStyle) -> String {
    format!("{DRAG} + {} = set\u{a0}____", kept(range, units))
}

/// The same on paper, where a line never ends within the unit.
fn kept(range: TorqueRange, units: UnitStyle) -> String {
    torque_words(range, units).replace("N m", "N\u{a0}m")
}

/// `30 to 40 in-lb (3.4 to 4.5 N m)`; in a metric manual `3.4 to 4.5 N m`.
pub(super) fn torque_words(range: TorqueRange, units: UnitStyle) -> String {
    measured(range.least, range.most, units)
}

fn measured(least: Measure, most: Measure, units: UnitStyle) -> String {
    let words = |least: Measure, most: Measure| {
        let number = |m: Measure| decimal_text(m.value, 1);
        let unit = most.unit.word();
        if least == most {
            format!("{} {unit}", number(most))
        } else {
            format!("{} to {} {unit}", number(least), number(most))
        }
    };
    let given = words(least, most);
    match (newton_metres(least), newton_metres(most)) {
        (Some(least), Some(most)) if units == UnitStyle::Millimetre => words(least, most),
        (Some(least_nm), Some(most_nm)) if most_nm.unit != most.unit && least != most => {
            format!("{given} ({})", words(least_nm, most_nm))
        }
        (Some(least_nm), Some(most_nm)) if most_nm.unit != most.unit => {
            format!("{given} ({})", words(least_nm, most_nm))
        }
        _ => given,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 50 and 70 in-lb by 0.112 984 83 N m: 5.6 and 7.9.
    #[test]
    fn a_torque_is_said_in_the_units_of_the_manual() {
        let inch_pounds = |n| Measure { value: Rational::from_integer(n), unit: MeasureUnit::InchPound };
        let range = TorqueRange { least: inch_pounds(50), most: inch_pounds(70) };
        assert_eq!(torque_words(range, UnitStyle::InchFraction), "50 to 70 in-lb (5.6 to 7.9 N m)");
        assert_eq!(torque_words(range, UnitStyle::Millimetre), "5.6 to 7.9 N m");
        assert_eq!(with_drag(range, UnitStyle::Millimetre), "drag\u{a0}____ + 5.6 to 7.9 N\u{a0}m = set\u{a0}____");
    }
}
