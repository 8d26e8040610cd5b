//! Something to be done in a step for which none of its tools is meant: a hole without a drill bit of its size, a reamed hole
//! without its reamer, a torque without a torque wrench that reaches it, rivets, pressed sleeves, measures. And a tool that the
//! text links to and the step does not list.
//!
//! It matters because the builder gets ready what the step lists, and stands there with a clamped part and the wrong bit.
//!
//! What a tool is for is told by the plain words of its title: `Drill bit, 1/4 in`, `Torque wrench, 10 to 200 in-lb`. A kind of
//! tool that manual.yaml does not name is left to the builder and never asked for. A measure that is held to 1/64 in or
//! closer needs a gauge or a caliper; for another length a tape or a straightedge is asked in a review alone.
//!
//! Wrong: `drill: 1/4` and `tools: [drill, drill-30]`. Right: `tools: [drill, drill-30, drill-1-4]`.
//!
//! To accept: `accept: [{ rule: tool-missing, about: drill bit, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use crate::check::tools::{ToolNeed, joints_by_file, known_tools, tool_needs};
use crate::check::{Context, Leave, Rule, Run, prose};
use crate::diag::{Diagnostic, Level, Sink};
use crate::trade::ToolKind;
use crate::units::{StepId, ToolId};

pub const RULE: Rule = Rule {
    id: "tool-missing",
    level: Level::Warning,
    summary: "a hole, joint, cable or measure for which a step lists no tool",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("tool_missing.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let known = known_tools(ctx);
    let joints = joints_by_file(ctx);
    // A tool that a step lacks is one finding, at the first place that needs it.
    let mut lacking: IndexMap<(&StepId, String), Diagnostic> = IndexMap::new();
    for (r, s) in ctx.resolved.iter().flat_map(|r| r.steps.iter().map(move |s| (r, s))) {
        let (step, id) = (&s.step, &s.step.id.value);
        let listed: BTreeSet<&ToolId> = step.tools.iter().map(|t| &t.value.value).collect();
        // A tool that does not exist may be the one that was meant.
        if ctx.excuses.steps.contains(id) || listed.iter().any(|t| !known.contains_key(*t)) {
            continue;
        }
        for need in tool_needs(&joints, r, s) {
            let has_kind = known.values().any(|tool| need.kinds.iter().any(|k| tool.kinds.contains(k)));
            if has_kind && !listed.iter().any(|t| need.is_met_by(&known[*t])) {
                let fitting = known.iter().find(|(_, tool)| need.is_met_by(tool)).map(|(id, _)| *id);
                // Without the tool that deburrs the holes are not deburred, which is the finding.
                if fitting.is_some() && fitting == ctx.manual.settings.fastening.deburr_with.as_ref().map(|t| &t.value)
                {
                    continue;
                }
                let first = || {
                    let mut d = RULE
                        .found(format!("step `{id}` lists no {}", need.words()))
                        .at(need.span, need.done.clone())
                        .help(help(&need, fitting))
                        .about(need.kinds.first().map_or("", |k| k.words()))
                        .about(id);
                    // A length that is not held closely may be judged by eye.
                    if need.kinds.first() == Some(&ToolKind::Length) {
                        d.level = Level::Question;
                    }
                    d
                };
                let d = lacking.entry((id, need.words())).or_insert_with(first);
                d.configurations.insert(r.name.clone());
            }
        }
        for to in prose::links(&step.body) {
            let Some(("tool", name, span)) = prose::reference(to) else { continue };
            let tool = ToolId::new(name);
            if known.contains_key(&tool) && !listed.contains(&tool) {
                let first = || {
                    RULE.found(format!("step `{id}` names `{tool}` in its text and does not list it"))
                        .at(span, "not among the tools of the step")
                        .help(format!("add `{tool}` to the `tools` of the step"))
                        .about(&tool)
                        .about(id)
                };
                let d = lacking.entry((id, format!("`{tool}`"))).or_insert_with(first);
                d.configurations.insert(r.name.clone());
            }
        }
    }
    lacking.into_values().collect()
}

fn help(need: &ToolNeed, fitting: Option<&ToolId>) -> String {
    match fitting {
        Some(id) => format!("add `{id}` to the `tools` of the step"),
        None => format!("name a {} under `tools` in manual.yaml, and list it in the step", need.words()),
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::check::testing::{Case, sound};

    const LEFT: &str = "steps/frame/20-left.md";
    const RIGHT: &str = "steps/frame/21-right.md";
    const KEEL: &str = "steps/frame/10-keel.md";

    /// The sound manual with the bits and instruments of a shop.
    fn shop() -> Case {
        let tools = "  bit-14: Drill bit, 1/4 in\n  bit-30: Drill bit, No. 30\n  tape: Steel tape, 16 ft\n  \
                     torque: \"Torque wrench, 10 to 200 in-lb\"\n  feelers: Feeler gauges\n";
        sound()
            .edit("manual.yaml", "consumables:\n", &format!("{tools}consumables:\n"))
            .edit(KEEL, "tools: [saw]", "tools: [saw, tape, bit-30, feelers]")
            .edit(LEFT, "tools: [drill]", "tools: [drill, bit-14, torque]")
            .edit(RIGHT, "tools: [drill]", "tools: [drill, bit-14, torque]")
    }

    #[test]
    fn a_hole_needs_its_bit() {
        assert_eq!(shop().findings(), [""; 0]);
        let without = shop().edit(LEFT, "bit-14, torque", "bit-30, torque");
        assert_eq!(without.findings(), [format!("tool-missing {LEFT} `1/4`")]);
        assert_eq!(without.only().help, "add `bit-14` to the `tools` of the step");
        let no_drill = shop().edit("manual.yaml", "deburr-with: drill", "deburr-with: saw");
        let no_drill = no_drill.edit_all(LEFT, "[drill, bit-14, torque]", "[saw, bit-14, torque]");
        let no_drill = no_drill.edit(RIGHT, "[drill, bit-14, torque]", "[drill, saw, bit-14, torque]");
        assert_eq!(no_drill.findings(), [format!("tool-missing {LEFT} `1/4`")]);
        let other = shop().edit_all(LEFT, "drill: 1/4", "drill: 17/64");
        let found = other.check().0.into_iter().find(|d| d.rule == "tool-missing").expect("one");
        assert_eq!(found.help, "name a drill bit, 17/64 in under `tools` in manual.yaml, and list it in the step");
    }

    #[test]
    fn a_torque_needs_a_wrench_that_reaches_it() {
        let without = shop().edit(LEFT, "bit-14, torque", "bit-14");
        assert_eq!(without.findings(), [format!("tool-missing {LEFT} `AN4-10A`")]);
        let small = shop().edit("manual.yaml", "10 to 200 in-lb", "1 to 10 in-lb");
        let at = [format!("tool-missing {LEFT} `AN4-10A`"), format!("tool-missing {RIGHT} `AN4-10A`")];
        assert_eq!(small.findings(), at);
    }

    #[test]
    fn a_measure_needs_an_instrument() {
        let fine = |tools: &str| {
            shop().edit(KEEL, "tolerance: 1/16", "tolerance: .005").edit(KEEL, "tape, bit-30, feelers", tools)
        };
        assert_eq!(fine("tape, bit-30, feelers").findings(), [""; 0]);
        assert_eq!(fine("tape, bit-30").findings(), [format!("tool-missing {KEEL} `Length`")]);
        let unnamed = fine("tape, bit-30").without_line("manual.yaml", "  feelers:");
        assert_eq!(unnamed.findings(), [""; 0]);
        let none = shop().edit(KEEL, "tape, bit-30, feelers", "bit-30");
        assert_eq!(none.questions(RULE.id), [format!("tool-missing {KEEL} `Length`")]);
    }

    #[test]
    fn a_link_names_a_listed_tool() {
        let linked = sound().edit(LEFT, "2. Fit the bolts.", "2. Fit the bolts with the [](tool:saw).");
        assert_eq!(linked.findings(), [format!("tool-missing {LEFT} `saw`")]);
    }
}
