//! A tool in a step in which neither the holes, joints, cables and measures nor a sentence have a use for it: a drill bit of
//! another size, a reamer where nothing is reamed.
//!
//! It matters because it is often the bit of the hole as it was before a change, and because the builder looks for a tool that
//! stays in the box.
//!
//! It is a question: a step may use a tool in a way that its data don't tell. A tool whose title does not say what it is for
//! is not looked at, and one that the text names is used. So is a bit that is smaller than a hole of the step: it drills ahead.
//!
//! Wrong: `tools: [drill-5-16]` where every hole is 1/4 in. Right: the bits of the holes.
//!
//! To accept: `accept: [{ rule: tool-not-needed, about: drill-5-16, reason: ... }]` in the step's file.

use crate::check::tools::{ToolFit, ToolNeed, joints_by_file, known_tools, said, tool_needs};
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Level, Sink};
use crate::model::Step;
use crate::resolve::Resolved;
use crate::trade::{Drill, ToolKind, ToolWords};
use crate::units::ToolId;

pub const RULE: Rule = Rule {
    id: "tool-not-needed",
    level: Level::Question,
    summary: "a tool for which a step has no use",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("tool_not_needed.rs"),
    run: Run::Manual(run),
};

/// A tool that is needed in one configuration stands in the step for all.
fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let known = known_tools(ctx);
    let joints = joints_by_file(ctx);
    for step in ctx.manual.written_steps() {
        let id = &step.id.value;
        let resolved: Vec<(&Resolved, _)> = ctx.resolved.iter().filter_map(|r| Some((r, r.step(id)?))).collect();
        if resolved.is_empty() || ctx.excuses.steps.contains(id) || ctx.excuses.steps_unread {
            continue;
        }
        let needs: Vec<_> = resolved.iter().flat_map(|(r, s)| tool_needs(&joints, r, s)).collect();
        let text = said(step);
        for tool in &step.tools {
            let Some(words) = known.get(&tool.value.value) else { continue };
            let judged = !words.kinds.is_empty() && words.kinds.iter().all(|k| !says_so(*k).is_empty());
            let used = needs.iter().any(|n| n.is_met_by(words)) || drills_ahead(words, &needs);
            if !judged || used || is_named(step, &tool.value.value, words, &text) {
                continue;
            }
            let title = ctx.manual.settings.tool_title(&tool.value.value);
            sink.push(
                RULE.found(format!("what does step `{id}` need `{}` for?", tool.value.value))
                    .at(tool.value.span, format!("{title}: nothing of the step asks for it"))
                    .help("take it out of the list, or correct what it is for")
                    .about(&tool.value.value)
                    .about(id),
            );
        }
    }
    sink
}

/// Whether it is a bit that is smaller than a hole of the step.
fn drills_ahead(words: &ToolWords, needs: &[ToolNeed]) -> bool {
    let holes =
        || needs.iter().filter_map(|n| if let ToolFit::Size(size) = n.fits { Some(size.size().value) } else { None });
    let smaller = |bit: &Drill| holes().any(|hole| bit.size().value < hole);
    words.kinds.contains(&ToolKind::DrillBit) && words.sizes.iter().any(smaller)
}

/// Whether a sentence speaks of the tool or of what it does.
fn is_named(step: &Step, id: &ToolId, words: &ToolWords, text: &str) -> bool {
    let linked = prose::links(&step.body)
        .into_iter()
        .any(|to| prose::reference(to).is_some_and(|(scheme, name, _)| scheme == "tool" && name == id.as_str()));
    // A bit is named by its size.
    let sized = words.kinds.contains(&ToolKind::DrillBit) && !words.sizes.is_empty();
    linked
        || if sized {
            words.sizes.iter().any(|s| text.contains(&s.to_string().to_lowercase()))
        } else {
            words.kinds.iter().any(|k| says_so(*k).iter().any(|w| text.contains(w)))
        }
}

/// Beginnings of words that speak of what a tool does; none for one that a step may use without a word.
fn says_so(kind: ToolKind) -> &'static [&'static str] {
    match kind {
        ToolKind::Drill | ToolKind::DrillBit => &["drill", "hole", "bit"],
        ToolKind::Reamer => &["ream"],
        ToolKind::TorqueWrench => &["torque", "in-lb", "n m"],
        ToolKind::RivetSetter | ToolKind::BuckingBar | ToolKind::BlindRiveter => &["rivet"],
        ToolKind::Swager | ToolKind::SleeveGauge => &["press", "swag", "sleeve"],
        ToolKind::CableCutter => &["cable", "cut"],
        ToolKind::CableTension => &["tension", "tight"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const LEFT: &str = "steps/frame/20-left.md";

    #[test]
    fn a_bit_of_no_hole() {
        let with = |text: &str| {
            sound()
                .edit("manual.yaml", "consumables:\n", "  bit-14: Drill bit, 1/4 in\n  bit-38: Drill bit, 3/8 in\n  bit-30: Drill bit, No. 30\nconsumables:\n")
                .edit_all(LEFT, "tools: [drill]", "tools: [drill, bit-14, bit-30, bit-38]")
                .edit_all("steps/frame/21-right.md", "tools: [drill]", "tools: [drill, bit-14]")
                .edit(LEFT, "2. Fit the bolts.", text)
        };
        assert_eq!(
            with("2. Fit the bolts.").questions("tool-not-needed"),
            [format!("tool-not-needed {LEFT} `bit-38`")]
        );
        assert_eq!(with("2. Fit the bolts.").findings(), [""; 0]);
        assert_eq!(with("2. Try it on scrap with the 3/8 in bit.").questions("tool-not-needed"), [""; 0]);
        assert_eq!(with("2. Try it with the [](tool:bit-38).").questions("tool-not-needed"), [""; 0]);
    }

    #[test]
    fn a_tool_that_may_be_used_without_a_word() {
        assert_eq!(sound().questions("tool-not-needed"), [""; 0]);
        let saw = sound().edit("manual.yaml", "saw: Hacksaw", "saw: Wrench");
        assert_eq!(saw.questions("tool-not-needed"), [""; 0]);
    }
}
