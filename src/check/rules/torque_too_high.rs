//! A designer's torque that draws screw or nut past what it bears, wherever the joint is: in metal, tube or wood.
//!
//! It matters because a bolt that is drawn past its proof load is longer and weaker afterwards, and looks like the others.
//!
//! Metric screws and nuts go by their property class (ISO 898-1 and -2, ISO 3506-1 and -2), the weaker of the two. Where
//! friction is lowest, what passes the usual preload, 0.7 of the proof load, is a warning; what passes the proof load even
//! where friction is highest is an error. A class that is not written is taken for the lowest there is, and said; then only
//! what passes its proof load is told, as a warning. What friction is, `friction` in manual.yaml says for dry, greased and
//! stainless threads; what an item bears, `strength` in the hardware list, in place of its class. Inch bolts
//! and nuts have the largest torques of the table; there are none for what it does not name, and those of aluminium bolts
//! are from memory.
//!
//! The ceiling says nothing of the parts between: what a tube, wood or an aluminium thread bears is less, and the designer's
//! to know.
//!
//! Wrong: `torque: 100 N m` on an M6 screw of class 8.8. Right: 9 N m; or the class behind the designation, where it is
//! higher: `ISO 4014 M6x40 10.9`.
//!
//! To accept: `accept: [{ rule: torque-too-high, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::joint::{SeenJoint, thread_state};
use crate::trade::{Ceiling, UnderCeiling, Weakest, ceiling, inch_pounds};
use crate::units::{Measure, MeasureUnit, Rational, UnitStyle, plain};

pub const RULE: Rule = Rule {
    id: "torque-too-high",
    level: Level::Error,
    summary: "a torque that draws the screw or its nut past what it bears",
    source: "ISO 898-1, ISO 898-2, ISO 3506-1, ISO 3506-2; FAA AC 43.13-1B CHG 1, Table 7-1",
    bending: Leave::Allowed,
    file: include_str!("torque_too_high.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    // The torque of a kind stands in one place for all its joints.
    for d in ctx.joints.iter().filter_map(|seen| judged(ctx, seen)) {
        match sink.iter_mut().find(|other: &&mut Diagnostic| other.span == d.span && other.headline == d.headline) {
            Some(other) => other.configurations.extend(d.configurations),
            None => sink.push(d),
        }
    }
    sink
}

fn judged(ctx: &Context, seen: &SeenJoint) -> Option<Diagnostic> {
    let torque = seen.joint.torque.as_ref()?;
    let screw = seen.reading.fastener.as_deref().filter(|f| f.form.drawn())?;
    let (friction, state) = (&ctx.manual.settings.fastening.friction, thread_state(seen.joint));
    let limit = ceiling(screw, seen.reading.nut.as_deref(), friction, state)?;
    let how = limit.value.judge(torque.value.most)?;
    let unit = torque.value.most.unit;
    let least = |measure: Measure| words(in_unit(measure, unit));
    let what = weakest(seen, &limit.value);
    let friction = limit.value.class.map_or_else(|| "the table".to_owned(), |class| friction.words(class, state));
    let headline = match how {
        UnderCeiling::Under => return None,
        // Of a class that is not written only what passes the lowest there is, is sure enough to be told.
        UnderCeiling::AboveUsual if limit.value.assumed => return None,
        UnderCeiling::AboveUsual => format!(
            "the torque of {} may draw {what} past its usual preload: {} reaches it with {friction}",
            called(seen),
            least(limit.value.usual?)
        ),
        UnderCeiling::Past if limit.value.class.is_some() => format!(
            "the torque of {} draws {what} past its proof load at any {friction}: {} is the most",
            called(seen),
            least(limit.value.most)
        ),
        UnderCeiling::Past => format!(
            "the torque of {} is past the table's limit for {what}: {} is the most",
            called(seen),
            least(limit.value.most)
        ),
    };
    let help = if limit.value.assumed {
        "write the property class behind the designation or under `class` in the hardware list, for example 8.8, 8 or \
         A4-70; until then the lowest there is counts; or lower the torque"
    } else {
        "lower the torque, or take a screw and a nut of a higher class"
    };
    let mut d = RULE.found(headline).at(torque.span, limit.source.words()).help(help);
    // What is only likely, or rests on a class that is not written, warns.
    if how == UnderCeiling::AboveUsual || limit.value.assumed {
        d.level = Level::Warning;
    }
    Some(about_joint(no_stronger_than(d, limit.source), seen))
}

/// What gives first, by its name and class.
fn weakest(seen: &SeenJoint, limit: &Ceiling) -> String {
    let name = match (limit.weakest, &seen.joint.nut) {
        (Weakest::Nut, Some(nut)) => &nut.value,
        _ => &seen.joint.fastener.value,
    };
    match limit.class {
        Some(class) if limit.assumed => format!("{name}, taken for class {class},"),
        Some(class) if !name.as_str().contains(&class.to_string()) => format!("{name} of class {class}"),
        _ => name.to_string(),
    }
}

/// The measure in the unit that the author writes, rounded down.
fn in_unit(measure: Measure, unit: MeasureUnit) -> Measure {
    let inch_pounds = inch_pounds(measure).unwrap_or(measure.value);
    let (value, unit) = match unit {
        MeasureUnit::NewtonMetre => {
            let tenths = (inch_pounds * Rational::new(11_298, 10_000)).floor();
            (tenths / Rational::from_integer(10), MeasureUnit::NewtonMetre)
        }
        _ => (inch_pounds.floor(), MeasureUnit::InchPound),
    };
    if measure.unit == unit { measure } else { Measure { value, unit } }
}

fn words(measure: Measure) -> String {
    plain(&measure.pieces(UnitStyle::InchDecimal))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};
    use crate::diag::Level;

    const STEP: &str = "steps/frame/20-left.md";

    fn with(torque: &str) -> Case {
        let keys = format!("    places: 2\n    torque: {torque}\n    torque-reason: The drawing says so.\n");
        sound().edit(STEP, "    places: 2\n", &keys)
    }

    /// A metric screw in the same place.
    fn metric(bolt: &str, torque: &str) -> Case {
        let row = format!("AN4-10A,Bolt,bolt,each\n{bolt},Bolt,bolt,each\nISO 7040 M6 8,Nut,nut,each\n");
        with(torque)
            .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", &row)
            .edit(STEP, "fastener: AN4-10A", &format!("fastener: {bolt}"))
            .edit(STEP, "nut: AN365-428A", "nut: ISO 7040 M6 8")
    }

    fn found(case: &Case) -> Vec<(Level, String)> {
        let (found, sources) = case.check();
        let ours = found.into_iter().filter(|d| d.rule == "torque-too-high");
        ours.map(|d| (d.level, d.span.map_or(String::new(), |span| sources.slice(span).to_owned()))).collect()
    }

    /// FAA AC 43.13-1B CHG 1, Table 7-1: 1/4-28, tension nut: never above 100 in-lb.
    #[test]
    fn the_table_has_a_limit() {
        assert_eq!(found(&with("90..100 in-lb")), []);
        assert_eq!(found(&with("90..101 in-lb")), [(Level::Error, "90..101 in-lb".to_owned())]);
        assert_eq!(found(&with("12 N m")), [(Level::Error, "12 N m".to_owned())]);
        assert_eq!(found(&with("10 N m")), []);
    }

    /// ISO 898-1: an M6 of class 8.8 has a proof load of 11,600 N. Ten times the usual 9 N m is past it.
    #[test]
    fn a_class_has_a_ceiling() {
        assert_eq!(found(&metric("ISO 4017 M6x30 8.8", "9 N m")), []);
        assert_eq!(found(&metric("ISO 4017 M6x30 8.8", "11 N m")), [(Level::Warning, "11 N m".to_owned())]);
        assert_eq!(found(&metric("ISO 4017 M6x30 8.8", "90 N m")), [(Level::Error, "90 N m".to_owned())]);
        assert_eq!(found(&metric("ISO 4017 M6x30 A4-70", "90 N m")), [(Level::Error, "90 N m".to_owned())]);
        // The class stands in its column.
        let listed = metric("ISO 4017 M6x30", "9 N m")
            .edit("hardware.csv", "designation,name,kind,unit\n", "designation,name,kind,unit,class,strength\n")
            .edit("hardware.csv", "ISO 4017 M6x30,Bolt,bolt,each\n", "ISO 4017 M6x30,Bolt,bolt,each,8.8,\n");
        assert_eq!(found(&listed), []);
        // What its maker says that it bears wins: 2000 N is far less.
        let weak = listed.clone().edit("hardware.csv", "each,8.8,\n", "each,8.8,2000 N\n");
        assert_eq!(found(&weak), [(Level::Error, "9 N m".to_owned())]);
        // Greased threads draw more for the same torque, and so does less friction.
        let near = |more: &str| {
            let case = listed.clone().edit(STEP, "    places: 2\n", &format!("    places: 2\n{more}"));
            found(&case)
        };
        assert_eq!(near(""), []);
        assert_eq!(near("    condition: greased\n").len(), 1);
        let slippery = listed.add("manual.yaml", "friction: { dry: 0.08..0.12 }\n");
        assert_eq!(found(&slippery).len(), 1);
        // The class is not written: the lowest counts, and it is said.
        let case = metric("ISO 4017 M6x30", "9 N m");
        assert_eq!(found(&case), [(Level::Warning, "9 N m".to_owned())]);
        assert!(case.check().0.iter().any(|d| d.headline.contains("taken for class 4.6")));
    }
}
