//! An assembly that two steps of one configuration make.
//!
//! It matters because a later step that uses it can't say which of the two it means.
//!
//! Wrong: `makes: [frame]` in two steps. Right: two names, or `only` on one of them.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::PartFaultKind;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "assembly-made-twice",
    level: Level::Error,
    summary: "an assembly that two steps make",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("assembly_made_twice.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in &r.ledger.faults {
        let PartFaultKind::MadeTwice(id, first) = &fault.kind else { continue };
        let mut d = RULE
            .found(format!("`{id}` is made twice, by the steps `{first}` and `{}`", fault.step))
            .at(fault.span, "the second time")
            .help("give one of the two another name, or let only one of the steps apply in a configuration")
            .about(id);
        let other = ctx.step(first).and_then(|s| s.makes.iter().find(|m| m.value.value == *id));
        if let Some(made) = other {
            d = d.note(made.value.span, "the first time");
        }
        sink.push(d);
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn two_makers() {
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "hand: left", "hand: left\nmakes: [keel-tube]").findings(),
            ["assembly-made-twice steps/frame/20-left.md `keel-tube`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "hand: left", "hand: left\nmakes: [left-keel]").findings(),
            [""; 0]
        );
    }
}
