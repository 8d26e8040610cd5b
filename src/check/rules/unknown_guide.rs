//! A pulley or fairlead of a cable's run that is neither a part nor hardware of the lists.
//!
//! It matters because the builder can't find what the cable goes through.
//!
//! Wrong: `{ pulley: BLK-41 }`. Right: a number of the parts list or a designation of the hardware list.
//!
//! It can't be accepted.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-guide",
    level: Level::Error,
    summary: "a pulley or fairlead that is neither a part nor hardware",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_guide.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "add it to parts.csv or hardware.csv";
    unknown(ctx, &RULE, Kind::Item, |name| format!("`{name}` is neither in parts.csv nor in hardware.csv"), otherwise)
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
