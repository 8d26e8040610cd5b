//! What was put in the place of something in a kit is another kind of thing, of another size, or weaker or locked otherwise in
//! a joint that lives hang on.
//!
//! It matters because a joint is as good as what is really in it: a cable in the place of a bolt, a plain nut for a castle
//! nut, a softer screw in the steering arm.
//!
//! A substitute is of the same kind and diameter. Whether it fits the stack, its nut, its hole and its torque is judged by the
//! rules for every joint when the kit's documents are made. In a critical joint, and in those of steering, brakes and rig, it
//! locks the same way, is at least as strong, and the approval names the designer's reference.
//!
//! Wrong: `AN365-428A` for `AN310-4` at the steering arm. Right: another castle nut of that thread.
//!
//! It can't be accepted.

use crate::check::fastened::called;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::joint::{SeenJoint, lives_hang_on};
use crate::model::{Deviation, DeviationKind};
use crate::resolve::{Resolved, ShippedFault, ShippedFaultKind};
use crate::trade::Decoded;
use crate::units::Designation;

pub const RULE: Rule = Rule {
    id: "substitute-unsuited",
    level: Level::Error,
    summary: "a substitute in a kit of another kind or size, or weaker in a critical joint",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("substitute_unsuited.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink: Sink = r.shipped.faults.iter().filter_map(found).collect();
    let rows: Vec<&Deviation> =
        r.configuration.deviations.iter().filter(|d| d.kind == DeviationKind::Substituted).collect();
    if rows.is_empty() {
        return sink;
    }
    let of_kit =
        |seen: &&SeenJoint| seen.configurations.contains(&r.name.as_str()) && lives_hang_on(ctx.manual, seen.joint);
    for seen in ctx.joints.iter().filter(of_kit) {
        for name in seen.joint.with_fastener() {
            let Some((item, _)) = r.shipped.in_place_of(seen.step, name.as_str()) else { continue };
            // What stands there from the row itself.
            let row =
                rows.iter().find(|d| d.item.value == item && d.with.as_ref().is_some_and(|w| w.span == name.span));
            let Some(row) = row else { continue };
            sink.extend(critical(ctx, seen, row, item, name.as_str()));
        }
    }
    sink
}

/// The finding of a fault, where it is one of these.
pub fn found(fault: &ShippedFault) -> Option<Diagnostic> {
    let ShippedFaultKind::OtherThing { item, with, why } = &fault.kind else { return None };
    Some(
        RULE.found(format!("{with} can't stand for {item} in kit {}: {why}", fault.serial))
            .at(fault.span, why.clone())
            .help("name what was really put in its place; until then the substitution does not count")
            .about(fault.serial),
    )
}

/// What is asked of a substitute where lives hang on the joint.
fn critical(ctx: &Context, seen: &SeenJoint, row: &Deviation, item: &str, with: &str) -> Vec<Diagnostic> {
    let mut all = Vec::new();
    let span = row.with.as_ref().map_or(row.span, |w| w.span);
    let said = |words: String, help: &str| {
        RULE.found(words).at(span, "lives hang on this joint").help(help).about(with).about(seen.step)
    };
    if row.approval().is_some_and(|a| !a.reference) {
        let span = row.approved.as_ref().map_or(span, |a| a.span);
        all.push(
            RULE.found(format!("{with} in place of {item} in {} has no reference of the designer", called(seen)))
                .at(span, "no reference is named")
                .help("add the number of the designer's letter or drawing, for example `M. Orr, D-31, 2026-03-02`")
                .about(with)
                .about(seen.step),
        );
    }
    let get = |name: &str| ctx.items.get(&Designation::new(name)).cloned();
    let (old, new) = (get(item), get(with));
    let Some((old, new)) = old.as_deref().zip(new.as_deref()) else {
        let words = format!("whether {with} is as strong as {item} in {} is not known", called(seen));
        let mut d = said(words, "write kind, thread and class into hardware.csv");
        d.level = Level::Warning;
        all.push(d);
        return all;
    };
    if old.form != new.form {
        let words = format!("{with} does not hold as {item} does in {}", called(seen));
        all.push(said(words, "take one of the same form, locked the same way"));
        return all;
    }
    if let Some(why) = weaker(old, new) {
        let words = format!("{with} in place of {item} in {} {why}", called(seen));
        all.push(said(words, "take one of the same material and class, or a stronger one"));
    }
    all
}

/// Why one is not shown to be as strong as the other; none where it is.
fn weaker(old: &Decoded, new: &Decoded) -> Option<String> {
    if let Some((old, new)) = old.strength.zip(new.strength) {
        return (old.value.unit == new.value.unit && new.value.value < old.value.value)
            .then(|| format!("is weaker: {} {}, not {}", new.value.value, new.value.unit.word(), old.value.value));
    }
    match (old.class, new.class) {
        (Some(old), Some(new)) if new.value < old.value => {
            return Some(format!("is of class {}, not {}", new.value, old.value));
        }
        (Some(old), None) => return Some(format!("is of no known class, where class {} belongs", old.value)),
        _ => {}
    }
    match (old.material, new.material) {
        (Some(old), Some(new)) if old.value != new.value => Some(format!("is of {}, not of {}", new.value, old.value)),
        (Some(old), None) => Some(format!("is of no known material, where {} belongs", old.value)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    fn with(row: &str, critical: bool) -> Vec<String> {
        let case = sound()
            .edit(
                "hardware.csv",
                "AN4-10A,Bolt,bolt,each\n",
                "AN4-10A,Bolt,bolt,each\nAN4H10A,Bolt,bolt,each\nAN3-10A,Bolt,bolt,each\nAN4DD10A,Bolt,bolt,each\nAN310-4,Nut,nut,each\nCS-9,Cable,cable,ft\n",
            )
            .add("kits.csv", "serial,configuration\n7,BASE\n")
            .add("shipped.csv", &format!("serial,item,what,with,where,approved\n7,{row}\n"));
        let case = if critical {
            case.edit("steps/frame/20-left.md", "    places: 2\n", "    places: 2\n    critical: yes\n")
        } else {
            case
        };
        case.shipped()
    }

    #[test]
    fn like_stands_for_like() {
        let found = "substitute-unsuited shipped.csv";
        assert_eq!(with("AN4-10A,substituted,CS-9,left-bracket,D-31 2026-03-02", false), [format!("{found} `CS-9`")]);
        assert_eq!(
            with("AN4-10A,substituted,AN3-10A,left-bracket,D-31 2026-03-02", false),
            [format!("{found} `AN3-10A`")]
        );
        assert_eq!(
            with("AN4-10A,substituted,KW-104,left-bracket,D-31 2026-03-02", false),
            [format!("{found} `KW-104`")]
        );
        assert_eq!(with("KW-103-L,substituted,KW-103-R,,D-31 2026-03-02", false), [format!("{found} `KW-103-R`")]);
    }

    #[test]
    fn lives_hang_on_what_is_as_strong_and_locks_alike() {
        let found = |at: &str| format!("substitute-unsuited shipped.csv `{at}`");
        let row = |with: &str, approved: &str| format!("AN4-10A,substituted,{with},left-bracket,{approved}");
        let has = |all: &[String], one: String| assert!(all.contains(&one), "{one} in {all:?}");
        has(&with(&row("AN4H10A", "M. Orr 2026-03-02"), true), found("M. Orr 2026-03-02"));
        assert!(
            !with(&row("AN4H10A", "M. Orr 2026-03-02"), false).iter().any(|d| d.starts_with("substitute-unsuited"))
        );
        has(&with(&row("AN4DD10A", "D-31 2026-03-02"), true), found("AN4DD10A"));
        has(&with("AN365-428A,substituted,AN310-4,left-bracket,D-31 2026-03-02", true), found("AN310-4"));
    }
}
