//! An offset from a datum that `manual.yaml` does not name.
//!
//! It matters because a place that is measured from an unknown line can't be found.
//!
//! Wrong: `from: keel-lin`. Right: the id of a line under `datums` in manual.yaml.
//!
//! It can't be accepted.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-datum",
    level: Level::Error,
    summary: "a datum that manual.yaml does not name",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_datum.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "name it under `datums` in manual.yaml, as `keel-line: Centre line of the keel`";
    unknown(ctx, &RULE, Kind::Datum, |name| format!("there is no datum `{name}`"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_datum_is_named() {
        let found = |from: &str| {
            let offset = format!("offsets:\n  - {{ place: Stay, from: {from}, left: 24 }}\ntools: [saw]");
            let case = sound()
                .edit("manual.yaml", "kerf: 1/16", "kerf: 1/16\ndatums: { keel-line: Centre line of the keel }")
                .edit("steps/frame/10-keel.md", "tools: [saw]", &offset);
            case.findings().into_iter().filter(|f| f.starts_with("unknown-datum")).collect::<Vec<_>>()
        };
        assert_eq!(found("keel-line"), [""; 0]);
        assert_eq!(found("keel-lin"), ["unknown-datum steps/frame/10-keel.md `keel-lin`"]);
    }
}
