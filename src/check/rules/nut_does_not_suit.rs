//! A nut, pin or washer that does not go with its bolt or with what the joint does: a self-locking nut where the joint
//! turns, a castle nut on an undrilled shank or without a cotter pin, a thin nut in tension, no nut at all, a plain nut without a
//! lock, an elastic insert in a hot place, a washer of another size, a screw in a threaded hole without a lock.
//!
//! A self-locking nut may stand where the bolt clamps a spacer or an inner race and does not turn: say so with `clamps`. On a
//! bolt that turns it may stand with `trade: metric-general` alone, and never where lives hang on the joint: one that is
//! `critical: yes`, or of a part whose `area` is steering, brakes or rig.
//!
//! It matters because the nut comes off in use.
//!
//! Wrong: `nut: AN365-428A` with `turns: yes`. Right: a drilled bolt, `nut: AN310-4` and `pin: AN380-2-2`. What else
//! locks a nut is said with `locked-by:`.
//!
//! To accept: `accept: [{ rule: nut-does-not-suit, about: pivot, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::SeenJoint;
use crate::model::{Joint, Through};
use crate::trade::{LockFault, washer_of_another_size};

pub const RULE: Rule = Rule {
    id: "nut-does-not-suit",
    level: Level::Error,
    summary: "a nut, pin or washer that does not go with its bolt or its use",
    source: "FAA AC 43.13-1B, 7-64; common practice",
    bending: Leave::Allowed,
    file: include_str!("nut_does_not_suit.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let joint = seen.joint;
        // A nut of which it is not known what it is, is another finding.
        let unknown = joint.nut.is_some() && seen.reading.nut.is_none();
        let of_the_nut = |f: LockFault| matches!(f, LockFault::NoNut | LockFault::NoPin | LockFault::PinWithoutHole);
        for fault in seen.reading.lock.iter().filter(|f| !(unknown && of_the_nut(f.value))) {
            let nut = joint.nut.as_ref().map_or(joint.fastener.span, |n| n.span);
            let (span, help) = match fault.value {
                LockFault::ThreadsDiffer => (nut, "name a nut with the bolt's thread"),
                LockFault::SelfLockingTurns => (nut, turning(joint)),
                LockFault::ThreadUnlocked => (
                    joint.into.as_ref().map_or(joint.fastener.span, |i| i.span),
                    "say with `locked-by:` what keeps it from turning: a lock washer, thread locker, safety wire, a locking insert",
                ),
                LockFault::CastleUndrilled => (
                    joint.fastener.span,
                    "use the bolt with a drilled shank (no A at the end), or a self-locking nut where the joint does not turn",
                ),
                LockFault::NoPin => (nut, "add `pin:` with a cotter pin, or say with `locked-by:` what else locks it"),
                LockFault::PinWithoutHole => (
                    joint.pin.as_ref().map_or(nut, |p| p.span),
                    "use a drilled bolt and a castle nut, or take the pin out",
                ),
                LockFault::ShearNutInTension => (nut, "use a nut of full height, or say `carries: shear`"),
                LockFault::ShearBoltInTension => {
                    (joint.fastener.span, "use a bolt with a full head, or say `carries: shear`")
                }
                LockFault::NoNut => (
                    joint.fastener.span,
                    "add `nut:`, or say with `locked-by:` what its thread goes into and what locks it there",
                ),
                LockFault::NoLock => (nut, "use a self-locking nut, or say with `locked-by:` what locks it"),
                LockFault::ElasticHot => (nut, "use an all-metal self-locking nut or a castle nut"),
                LockFault::ElasticOnDrilled => {
                    (joint.fastener.span, "use the bolt with an undrilled shank (A at the end)")
                }
            };
            let d = RULE
                .found(format!("{}: {}", called(seen), fault.value.words()))
                .at(span, fault.source.words())
                .help(help)
                .about(fault.value.words());
            sink.push(about_joint(no_stronger_than(d, fault.source), seen));
        }
        if let Some(clamps) = joint.clamps.as_ref().filter(|_| !clamps_something(seen)) {
            let word = clamps.value.word();
            let d = RULE
                .found(format!("{}: the {word} that it clamps is not in its stack", called(seen)))
                .at(clamps.span, "nothing of the kind is between head and nut")
                .help(
                    "put it into the stack, a spacer with `through: length`, or take `clamps` out: then the bolt turns",
                )
                .about(word);
            sink.push(about_joint(d, seen));
        }
        // A bolt of another size than its nut has washers of another size too.
        let other = seen.reading.lock.iter().any(|f| matches!(f.value, LockFault::ThreadsDiffer));
        let Some(bolt) = seen.reading.fastener.as_ref().filter(|_| !other) else { continue };
        for (washer, _) in joint.under_head.iter().chain(&joint.under_nut) {
            let misfit = ctx.items.get(&washer.value).and_then(|w| washer_of_another_size(bolt, w));
            if let Some(source) = misfit {
                let d = RULE
                    .found(format!(
                        "{}: {} is for another size than {}",
                        called(seen),
                        washer.value,
                        joint.fastener.value
                    ))
                    .at(washer.span, "another size")
                    .help("name the washer of the bolt's size")
                    .about(&washer.value);
                sink.push(about_joint(no_stronger_than(d, source), seen));
            }
        }
    }
    sink
}

/// What is done about a self-locking nut on a bolt that turns.
fn turning(joint: &Joint) -> &'static str {
    if joint.into.is_some() {
        return "say with `locked-by:` what else keeps it";
    }
    "use a drilled bolt (no A at the end), a castle nut and a cotter pin; where the bolt clamps a spacer or an inner race and \
     stands still, say so with `clamps: spacer`"
}

/// Whether the stack holds something that the bolt can draw tight without the parts: a spacer along its length, or a member
/// with a bore of its own.
fn clamps_something(seen: &SeenJoint) -> bool {
    seen.joint.stack.is_empty()
        || seen.joint.stack.iter().any(|m| m.through == Through::Length || m.bore.is_some() || m.thickness.is_some())
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// FAA AC 43.13-1B, 7-64a: no self-locking nut where the bolt or nut turns.
    #[test]
    fn a_locking_nut_does_not_turn() {
        let found = sound()
            .edit(
                "steps/frame/20-left.md",
                "    places: 2\n",
                "    places: 2\n    turns: yes\n    torque: 10..15 in-lb\n    torque-reason: It must turn.\n",
            )
            .only();
        assert_eq!(found.rule, "nut-does-not-suit");
        assert!(found.help.contains("castle nut"), "{found:?}");
    }

    /// What stands still on a spacer may be locked by its nut; a spacer that is not there excuses nothing.
    #[test]
    fn a_bolt_that_clamps_a_spacer_stands_still() {
        let step = "steps/frame/20-left.md";
        let turns = "    places: 2\n    turns: yes\n    clamps: spacer\n";
        let case = sound().edit(step, "    places: 2\n", turns);
        let missing = case.findings();
        assert_eq!(missing, [format!("nut-does-not-suit {step} `spacer`")]);
        let spacer = case.edit(step, "stack: [KW-103-L, { part", "stack: [{ part: KW-103-L, bore: 1/4 }, { part");
        assert_eq!(spacer.findings(), [""; 0]);
    }

    /// With the metric profile a folding pivot may have a self-locking nut; steering, brakes and rig keep castle nut and pin.
    #[test]
    fn a_profile_allows_a_folding_pivot_and_no_brake() {
        let step = "steps/frame/20-left.md";
        let pivot = |more: &str| {
            let row = "AN4-10A,Bolt,bolt,each\nISO 4017 M6x30 8.8,Bolt,bolt,each\nISO 7040 M6 8,Nut,nut,each\n";
            let keys = format!("    places: 2\n    turns: yes\n    torque: 2 N m\n{more}");
            let found = sound()
                .add("manual.yaml", "trade: metric-general\n")
                .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", row)
                .edit(step, "fastener: AN4-10A", "fastener: ISO 4017 M6x30 8.8")
                .edit(step, "nut: AN365-428A", "nut: ISO 7040 M6 8")
                .edit(step, "    places: 2\n", &keys)
                .findings();
            found.into_iter().filter(|f| f.starts_with("nut-does-not-suit") && f.contains("7040")).collect::<Vec<_>>()
        };
        assert_eq!(pivot(""), [""; 0]);
        assert_eq!(pivot("    critical: yes\n"), [format!("nut-does-not-suit {step} `ISO 7040 M6 8`")]);
        // Inch aircraft hardware keeps its published rule.
        let inch = sound().add("manual.yaml", "trade: metric-general\n").edit(
            step,
            "    places: 2\n",
            "    places: 2\n    turns: yes\n    torque: 10..15 in-lb\n    torque-reason: It turns.\n",
        );
        assert_eq!(inch.findings(), [format!("nut-does-not-suit {step} `AN365-428A`")]);
    }

    #[test]
    fn a_screw_in_a_tapped_hole_wants_a_lock() {
        let step = "steps/frame/20-left.md";
        let tapped = |more: &str| {
            let keys = format!("    into: tapped hole\n    torque: 40 in-lb\n    torque-reason: The drawing.\n{more}");
            sound().edit(step, "    under-nut: [AN960-416]\n    nut: AN365-428A\n", &keys).findings()
        };
        let found = tapped("");
        assert!(found.contains(&format!("nut-does-not-suit {step} `tapped hole`")), "{found:?}");
        let found = tapped("    locked-by: thread locker\n");
        assert!(!found.iter().any(|f| f.starts_with("nut-does-not-suit")), "{found:?}");
    }

    #[test]
    fn a_castle_nut_wants_a_drilled_bolt() {
        let case = sound().edit("hardware.csv", "AN380-2-2", "AN310-4,Nut,nut,each\nAN380-2-2").edit(
            "steps/frame/20-left.md",
            "nut: AN365-428A",
            "nut: AN310-4\n    pin: AN380-2-2",
        );
        let (found, _) = case.check();
        assert!(
            found.iter().any(|d| d.rule == "nut-does-not-suit" && d.headline.contains("not drilled")),
            "{:?}",
            case.findings()
        );
    }
}
