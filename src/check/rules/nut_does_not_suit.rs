//! A nut, pin or washer that does not go with its bolt or with what the joint does: a self-locking nut where the joint
//! turns, a castle nut on an undrilled shank or without a cotter pin, a thin nut in tension, no nut at all, a plain nut without a
//! lock, an elastic insert in a hot place, a washer of another size.
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
                LockFault::SelfLockingTurns => {
                    (nut, "use a drilled bolt (no A at the end), a castle nut and a cotter pin")
                }
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
