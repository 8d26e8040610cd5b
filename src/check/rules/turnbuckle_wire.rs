//! A turnbuckle whose safety wire goes round its shanks fewer than four times.
//!
//! It matters because a wire that slips lets the turnbuckle turn, and it unscrews itself.
//!
//! Wrong: `wraps: 2`. Right: `wraps: 4`, or more.
//!
//! To accept: `accept: [{ rule: turnbuckle-wire, about: left-shroud, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run, written_cables};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "turnbuckle-wire",
    level: Level::Error,
    summary: "a turnbuckle whose safety wire has fewer than four turns round a shank",
    source: "FAA AC 43.13-1B, chapter 7, safety methods for turnbuckles",
    bending: Leave::Allowed,
    file: include_str!("turnbuckle_wire.rs"),
    run: Run::Configuration(run),
};

/// Turns round each shank, at least.
const LEAST: i64 = 4;

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for cable in written_cables(ctx.manual, resolved) {
        for (end, step) in cable.ends.into_iter().flatten() {
            let Some(wraps) = end.wraps.as_ref().filter(|n| n.value < LEAST) else { continue };
            sink.push(
                RULE.found(format!("the safety wire of {} goes round each shank {} times", cable.id, wraps.value))
                    .at(wraps.span, format!("fewer than {LEAST}"))
                    .help(format!("write `wraps: {LEAST}`, and see that the text says the same"))
                    .about(cable.id)
                    .about(&step.step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn four_turns_at_least() {
        let found = |wraps: &str| {
            let end = "{ sleeve: CS-1/8, crimps: 3, loop: 2 }";
            let buckle = format!("{{ turnbuckle: TB-1/4, thread: left, reach: 1, loop: 2, safety: Wire, {wraps} }}");
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-300, construction: 7x19, length: 20, end-a: {end}, end-b: {buckle} }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            let all = case.findings().into_iter();
            all.filter(|f| f.starts_with("turnbuckle-wire")).collect::<Vec<_>>()
        };
        assert_eq!(found("wraps: 4"), [""; 0]);
        assert_eq!(found("wraps: 2"), ["turnbuckle-wire steps/frame/10-keel.md `2`"]);
    }
}
