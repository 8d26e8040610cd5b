//! A pulley or fairlead of a cable's run that is neither a part nor hardware of the lists.
//!
//! It matters because the builder can't find what the cable goes through.
//!
//! Wrong: `{ pulley: BLK-41 }`. Right: a number of the parts list or a designation of the hardware list.
//!
//! It can't be accepted.

use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink, nearest};
use crate::model::Opposite;
use crate::units::{Designation, PartNumber};

pub const RULE: Rule = Rule {
    id: "unknown-guide",
    level: Level::Error,
    summary: "a pulley or fairlead that is neither a part nor hardware",
    source: "common practice",
    bending: Bending::Refused,
    file: include_str!("unknown_guide.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let (parts, hardware) = (&ctx.manual.parts, &ctx.manual.hardware);
    for step in ctx.manual.steps.iter().filter(|s| !matches!(s.opposite, Opposite::Of(_))) {
        for guide in step.cables.iter().flat_map(|c| &c.run) {
            let name = &guide.name.value;
            if parts.contains_key(&PartNumber::new(name)) || hardware.contains_key(&Designation::new(name)) {
                continue;
            }
            let known = parts.keys().map(|p| p.as_str()).chain(hardware.keys().map(|h| h.as_str()));
            let help = match nearest(name, known) {
                Some(near) => format!("write `{near}`, if that is what was meant"),
                None => "add it to the parts list or the hardware list".to_owned(),
            };
            sink.push(
                RULE.found(format!("unknown {} `{name}`", guide.kind.word()))
                    .at(guide.name.span, "in neither list")
                    .help(help)
                    .about(name)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_guide_is_in_a_list() {
        let found = |name: &str| {
            let end = "{ thimble: AN960-416, loop: 2 }";
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-200, length: 20, run: [{{ pulley: {name} }}], end-a: {end}, thread: yes, end-b: {end} }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            case.findings().into_iter().filter(|f| f.starts_with("unknown-guide")).collect::<Vec<_>>()
        };
        assert_eq!(found("KW-104"), [""; 0]);
        assert_eq!(found("AN4-10A"), [""; 0]);
        assert_eq!(found("KW-114"), ["unknown-guide steps/frame/10-keel.md `KW-114`"]);
    }
}
