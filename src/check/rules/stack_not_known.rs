//! A joint whose stack can't be added up: a part without the stock that tells its thickness, a tube of which it is not
//! said whether the fastener goes through one wall or both, or no stack at all.
//!
//! It matters because the length of the fastener is then checked by nobody.
//!
//! Wrong: `stack: [KW-101]` for a tube. Right: `stack: [{ part: KW-101, through: tube }]`. For a curved spacer, or a
//! part without stock: `{ part: KW-140, thickness: 3/8 }`.
//!
//! To accept: `accept: [{ rule: stack-not-known, about: keel-bolts, reason: ... }]` in the step's file.

use indexmap::IndexMap;

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Diagnostic, Level, Note, Sink};
use crate::joint::Unmeasured;
use crate::model::Part;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "stack-not-known",
    level: Level::Warning,
    summary: "a joint whose stack has a member of unknown thickness",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("stack_not_known.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut by_part: IndexMap<(&PartNumber, &str), Diagnostic> = IndexMap::new();
    for seen in &ctx.joints {
        if seen.joint.stack.is_empty() {
            let d = RULE
                .found(format!("{} does not say what it clamps", called(seen)))
                .at(seen.joint.fastener.span, "fastens nothing that is named")
                .help("add `stack:` with the parts from the head, for example `stack: [KW-103, { part: KW-101, through: tube }]`");
            sink.push(about_joint(d, seen));
        }
        for member in &seen.reading.members {
            let Err(why) = member.layer else { continue };
            let part = &member.member.part;
            // Stock that is missing although the part is cut from it: reported there.
            let explained = |p: &&Part| p.stock.is_none() && p.cut_length.is_some();
            if member.part.as_ref().is_some_and(explained) {
                continue;
            }
            let (what, help) = match why {
                Unmeasured::NoPart => continue,
                Unmeasured::NoSize => (
                    "has no stock that gives it",
                    "give the part its stock, with the wall or thickness in the stock list, or add `thickness:` to this member",
                ),
                Unmeasured::WallOrTube => {
                    ("is a tube", "say `through: wall` for one wall or `through: tube` for right through")
                }
                Unmeasured::NoLength => {
                    ("has no cut length", "give the part its cut length, or add `thickness:` to this member")
                }
                Unmeasured::NotPositive => ("is zero or less in the stock list", "correct the stock list"),
            };
            match by_part.get_mut(&(&part.value, what)) {
                // What a row of a list does not tell is missing once, however many joints ask for it.
                Some(first) if !matches!(why, Unmeasured::WallOrTube) => {
                    let more = first.notes.len() < MOST_NOTES && first.span != Some(part.span);
                    first
                        .notes
                        .extend(more.then(|| Note { span: part.span, label: format!("and in {}", called(seen)) }));
                    first.configurations.extend(seen.configurations.iter().map(|c| (*c).to_owned()));
                }
                known => {
                    let d = RULE
                        .found(format!("{}: how thick {} is there is not known", called(seen), part.value))
                        .at(part.span, what)
                        .help(help)
                        .about(&part.value);
                    let d = about_joint(d, seen);
                    if known.is_some() {
                        sink.push(d);
                    } else {
                        by_part.insert((&part.value, what), d);
                    }
                }
            }
        }
    }
    sink.extend(by_part.into_values());
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn every_member_has_a_thickness() {
        let step = "steps/frame/20-left.md";
        assert_eq!(
            sound().edit(step, "through: wall", "through: thickness").findings(),
            ["stack-not-known steps/frame/20-left.md `KW-101`"]
        );
        assert_eq!(
            sound().edit(step, "stack: [KW-103-L, { part: KW-101, through: wall }]", "stack: []").findings(),
            ["stack-not-known steps/frame/20-left.md `AN4-10A`"]
        );
        let zero = sound().edit(
            step,
            "- fastener: AN4-10A\n    stack: [KW-103-L",
            "- fastener: AN4-10A\n    stack: [{ part: KW-103-L, thickness: 0 }",
        );
        assert_eq!(zero.findings()[0], "unreadable-value steps/frame/20-left.md `0`");
    }
}
