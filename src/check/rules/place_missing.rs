//! A part or an item of hardware without a crate, in a manual whose kit is packed in crates.
//!
//! It matters because the receiving list and the steps then do not say where it lies, and the builder looks through
//! every crate for it or takes it for missing.
//!
//! Pieces that a step cuts out of another part lie nowhere, and parts that no configuration lists are not looked at.
//!
//! Wrong: an empty cell `crate` in one row. Right: the crate it ships in.
//!
//! To accept: `accept: [{ rule: place-missing, about: KW-101, reason: Sent by post }]` in manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "place-missing",
    level: Level::Warning,
    summary: "a part or hardware without a crate in a kit that is packed in crates",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("place_missing.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let parts = ctx.manual.parts.values().filter(|p| {
        let shipped = ctx.resolved.iter().any(|r| r.listed.get(&p.number.value).is_some_and(|l| l.count > 0));
        shipped && p.cut_from.is_none()
    });
    let parts: Vec<(&str, &str, Span)> = parts.map(|p| (p.number.as_str(), p.crate_.as_str(), p.number.span)).collect();
    let hardware: Vec<_> =
        ctx.manual.hardware.values().map(|h| (h.designation.as_str(), h.crate_.as_str(), h.designation.span)).collect();
    for rows in [parts, hardware] {
        let without: Vec<_> = rows.iter().filter(|(_, crate_, _)| crate_.is_empty()).collect();
        // A list that says it of hardly anything does not pack in crates, or not yet.
        if without.len() * 2 >= rows.len() {
            continue;
        }
        sink.extend(without.into_iter().map(|(name, _, span)| {
            RULE.found(format!("where {name} is packed is not said"))
                .at(*span, "no crate in this row")
                .help("fill in the column crate")
                .about(name)
        }));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_kit_in_crates_has_a_crate_for_each_thing() {
        let with = |bolt: &str| {
            let case = sound().edit("hardware.csv", "kind,unit\n", "kind,unit,crate\n").edit_all(
                "hardware.csv",
                "each\n",
                "each,1\n",
            );
            case.edit("hardware.csv", "AN4-10A,Bolt,bolt,each,1", &format!("AN4-10A,Bolt,bolt,each,{bolt}"))
                .edit("hardware.csv", "rivet,lb\n", "rivet,lb,2\n")
                .findings()
        };
        assert_eq!(with("1"), [""; 0]);
        assert_eq!(with(""), ["place-missing hardware.csv `AN4-10A`"]);
    }
}
