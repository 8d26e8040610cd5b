//! An assembly that a step makes and nothing uses: no later step takes it, no step inspects or closes it, no callout shows it.
//!
//! It matters because the step that was to take it takes something else, or nothing, and its place in the order is not watched.
//!
//! It is a question, and what the last step makes is the end of the work: that one is not asked about.
//!
//! Wrong: `makes: [steering-head]`, and the step that fits the head lists its parts one by one. Right: `- { assembly:
//! steering-head }` there, or no `makes`.
//!
//! To accept: `accept: [{ rule: assembly-not-used, about: steering-head, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::CalloutTarget;
use crate::resolve::Resolved;
use crate::units::AssemblyId;

pub const RULE: Rule = Rule {
    id: "assembly-not-used",
    level: Level::Question,
    summary: "an assembly that is made and never used",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("assembly_not_used.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    if ctx.excuses.steps_unread {
        return Sink::new();
    }
    let steps = || r.steps.iter().map(|s| &s.step);
    let taken = steps().flat_map(|s| &s.assemblies).map(|a| &a.assembly.value);
    let looked_at = steps().flat_map(|s| s.inspects.iter().map(|i| &i.what.value));
    let closed = steps().flat_map(|s| s.closes.iter().map(|c| &c.value.value));
    let shown = steps().flat_map(|s| &s.figures).flat_map(|f| &f.callouts).filter_map(|c| match &c.target {
        CalloutTarget::Assembly(id) => Some(&id.value),
        _ => None,
    });
    let used: BTreeSet<&AssemblyId> = taken.chain(looked_at).chain(closed).chain(shown).collect();
    let end = r.steps.iter().rposition(|s| !s.step.makes.is_empty());
    let mut sink = Sink::new();
    for (i, s) in r.steps.iter().enumerate().filter(|(i, _)| Some(*i) != end) {
        for makes in s.step.makes.iter().filter(|m| !used.contains(&m.value.value)) {
            let id = &makes.value.value;
            if ctx.excuses.assemblies.contains(id) || ctx.excuses.steps.contains(&r.steps[i].step.id.value) {
                continue;
            }
            sink.push(
                RULE.found(format!("which step uses `{id}`?"))
                    .at(makes.value.span, "made here and named nowhere else")
                    .help("list it in the step that takes it, `- { assembly: ... }`, or take it out of `makes`")
                    .about(id)
                    .about(&s.step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_is_made_is_used() {
        let more =
            sound().edit("steps/frame/30-plates.md", "section: frame\n", "section: frame\nmakes: [plate-pack]\n");
        // It is the last that is made.
        assert_eq!(more.questions("assembly-not-used"), [""; 0]);
        let then = more.edit("steps/finish/10-cross.md", "section: finish\n", "section: finish\nmakes: [pieces]\n");
        assert_eq!(then.questions("assembly-not-used"), ["assembly-not-used steps/frame/30-plates.md `plate-pack`"]);
        let used = then.edit("steps/frame/40-paint.md", "parts:\n", "parts:\n  - { assembly: plate-pack }\n");
        assert_eq!(used.questions("assembly-not-used"), [""; 0]);
    }
}
