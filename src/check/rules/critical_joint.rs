//! A joint that lives hang on, `critical: yes`, in a step that nobody else looks at, with a value from memory, or of which a
//! measure or a torque is not known.
//!
//! It matters because in steering, brakes and rig a bolt that comes out is noticed too late to help.
//!
//! A second person looks at it: the step names two roles under `sign-off`. No value that it is judged by may be from memory:
//! look the measure up and write it into hardware.csv. The documents ask for a paint mark over nut and bolt, and for a look at
//! it after the first use.
//!
//! Wrong: `critical: yes` in a step with `sign-off: [builder]`. Right: `sign-off: [builder, second person]`.
//!
//! To accept: `accept: [{ rule: critical-joint, about: pivot, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{Tightening, recalled};
use crate::model::HardwareAction;

pub const RULE: Rule = Rule {
    id: "critical-joint",
    level: Level::Warning,
    summary: "a critical joint without a second person, or judged by a value from memory",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("critical_joint.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(critical) = seen.joint.critical.filter(|_| seen.joint.action != HardwareAction::Remove) else {
            continue;
        };
        let signs = ctx.step(seen.step).map_or(0, |s| s.sign_off.len());
        if signs < 2 {
            let d = RULE
                .found(format!("{} is critical, and no second person signs for it", called(seen)))
                .at(critical, "called critical here")
                .help("add `sign-off: [builder, second person]` to the step")
                .about("sign-off");
            sink.push(about_joint(d, seen));
        }
        let mut from_memory = recalled(&seen.reading);
        if !from_memory.is_empty() {
            let last = from_memory.pop().unwrap_or_default();
            let all =
                if from_memory.is_empty() { last.to_owned() } else { format!("{} and {last}", from_memory.join(", ")) };
            let d = RULE
                .found(format!("{} is critical, and judged from memory: {all}", called(seen)))
                .at(critical, "called critical here")
                .help("look it up in the maker's or the standard's sheet and write it into hardware.csv; give the torque as the designer's")
                .about("from memory");
            sink.push(about_joint(d, seen));
        }
        let unjudged = seen.reading.fit.is_none() && seen.reading.threaded.is_none();
        let drawn = seen.reading.fastener.as_deref().is_some_and(|f| f.form.drawn());
        // What is missing of a torque is another finding, and so is what is not known of a stack.
        let stack_known = seen.reading.thickness.is_some();
        if drawn && unjudged && stack_known && !matches!(seen.reading.tightening, Tightening::Required(_)) {
            let d = RULE
                .found(format!("{} is critical, and its fit is not judged", called(seen)))
                .at(critical, "called critical here")
                .help("write what is not known of bolt, nut and washers into hardware.csv; `kitwright check --coverage` names it")
                .about("not judged");
            sink.push(about_joint(d, seen));
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    #[test]
    fn a_second_person_and_no_value_from_memory() {
        let case = sound().edit(STEP, "    places: 2\n", "    places: 2\n    critical: yes\n");
        let (found, _) = case.check();
        let said: Vec<_> = found.iter().filter(|d| d.rule == "critical-joint").map(|d| d.headline.as_str()).collect();
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].contains("height of the nut") && said[1].contains("second person"), "{said:?}");
        // Looked up, a torque of the designer's and a second person: nothing is found. Heights are the author's then.
        let known = case
            .add("manual.yaml", "levels: { ragged-row: off }\n")
            .edit("hardware.csv", "designation,name,kind,unit\n", "designation,name,kind,unit,height,thickness\n")
            .edit("hardware.csv", "AN365-428A,Nut,nut,each", "AN365-428A,Nut,nut,each,.328,")
            .edit("hardware.csv", "AN960-416,Washer,washer,each", "AN960-416,Washer,washer,each,,.063")
            .edit(STEP, "    critical: yes\n", "    critical: yes\n    torque: 50..70 in-lb dry\n")
            .edit(STEP, "tools: [drill]\n", "tools: [drill]\nsign-off: [builder, second person]\n");
        assert_eq!(known.findings(), [""; 0]);
    }
}
