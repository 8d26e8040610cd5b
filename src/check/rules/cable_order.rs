//! A cable whose second end is closed before it is led through its fairleads and pulleys, or that is led through them in
//! an order in which they don't lie.
//!
//! It matters because a closed end with its thimble does not go through a fairlead: the end must be cut off, and the
//! cable is then too short.
//!
//! Wrong: a step with `end-b` for a cable whose `run` no step before has threaded. Right: `thread: yes` in that step or an
//! earlier one. Within an item of `cables` end A is closed first, then the cable is threaded, then end B is closed.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run, written_cable_faults};
use crate::diag::{Level, Sink};
use crate::plan::CableFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "cable-order",
    level: Level::Error,
    summary: "a cable end closed before its fairleads are threaded, or a run threaded out of order",
    source: "geometry: a thimble does not pass a fairlead",
    bending: Leave::Refused,
    file: include_str!("cable_order.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in written_cable_faults(resolved) {
        let cable = fault.cable;
        let (headline, label, help) = match &fault.kind {
            CableFaultKind::ClosedEarly { left } => (
                format!("the second end of the cable {cable} is closed before it is led through {}", left.join(", ")),
                "closed too early",
                "add `thread: yes` here or in an earlier step, or take the place out of the `run`",
            ),
            CableFaultKind::ThreadedLate => (
                format!("the cable {cable} is threaded when both of its ends are closed"),
                "threaded too late",
                "thread it in an earlier step, or close an end in a later one",
            ),
            CableFaultKind::OutOfOrder { name, next } => (
                format!("the cable {cable} is led through {name} out of its order"),
                "not the next of the run",
                if next.is_some() {
                    "from a closed end on, the free end passes the nearest place of the `run` first"
                } else {
                    "correct the `run`"
                },
            ),
            CableFaultKind::NotInRun { name } => (
                format!("the run of the cable {cable} has no {name}, or it is threaded already"),
                "not in the run",
                "correct the name, or add it to the `run` where the cable's length is written",
            ),
            _ => continue,
        };
        sink.push(RULE.found(headline).at(fault.at, label).help(help).about(cable).about(&fault.step.step.id.value));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_run_is_threaded_before_the_second_end_is_closed() {
        let found = |thread: &str| {
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-300, construction: 7x7, length: 20, run: [{{ fairlead: KW-104 }}], \
                 end-a: {{ thimble: AN960-416, loop: 2 }}, {thread}end-b: {{ thimble: AN960-416, loop: 2 }} }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            case.findings().into_iter().filter(|f| f.starts_with("cable-order")).count()
        };
        assert_eq!(found("thread: yes, "), 0);
        assert_eq!(found(""), 1);
        assert_eq!(found("thread: [KW-105], "), 2);
    }
}
