//! A safety message in the text that stands after the last action, or behind the text of the list item it belongs to.
//!
//! It matters because it is read when the finger is already in the drill.
//!
//! A message between two items of the numbered list guards the second; one inside an item stands before the item's
//! own text. `NOTE` is help and may stand anywhere.
//!
//! Wrong: the numbered list, then `> **WARNING** ...` as the last thing. Right: the message first, or between the
//! items.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Spanned;
use crate::syntax::markdown::{MdBlock, MdBlockKind};

pub const RULE: Rule = Rule {
    id: "late-safety",
    level: Level::Error,
    summary: "a safety message after the action it guards",
    source: "EN 82079-1: a message stands before the step or sentence it guards",
    bending: Leave::Refused,
    file: include_str!("late_safety.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        let blocks = flat(&step.body);
        let has_list = blocks.iter().any(|b| matches!(b.kind, MdBlockKind::List { .. }));
        look(&blocks, has_list, &mut |word, label| {
            sink.push(
                RULE.found(format!(
                    "a {} of step `{}` stands after what it guards",
                    word.value.to_uppercase(),
                    step.id.value
                ))
                .at(word.span, label)
                .help("move the message before the action, or to `safety:` at the head of the step")
                .about(&step.id.value),
            );
        });
    }
    sink
}

/// Finds messages among `blocks` behind which no action follows; actions are lists where there is one, else any text.
fn look(blocks: &[&MdBlock], has_list: bool, report: &mut dyn FnMut(&Spanned<String>, &'static str)) {
    let acts = |b: &&MdBlock| match b.kind {
        MdBlockKind::List { .. } => true,
        MdBlockKind::Paragraph(_) | MdBlockKind::Table { .. } | MdBlockKind::Code(_) => !has_list,
        _ => false,
    };
    for (i, block) in blocks.iter().enumerate() {
        match &block.kind {
            MdBlockKind::Safety { word, .. }
                if !word.value.eq_ignore_ascii_case("note") && !blocks[i + 1..].iter().any(acts) =>
            {
                report(word, "no action follows it");
            }
            // Inside an item any text that follows is its action.
            MdBlockKind::List { .. } => block.children().for_each(|item| look(&flat(item), false, report)),
            _ => {}
        }
    }
}

/// The blocks with those under a condition among them.
fn flat(blocks: &[MdBlock]) -> Vec<&MdBlock> {
    let mut all = Vec::new();
    for block in blocks {
        match &block.kind {
            MdBlockKind::Only { .. } => block.children().for_each(|inner| all.extend(flat(inner))),
            _ => all.push(block),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_message_comes_first() {
        assert_eq!(
            sound().add("steps/frame/20-left.md", "\n> **WARNING** Sharp. Wear gloves.\n").findings(),
            ["late-safety steps/frame/20-left.md `WARNING`"]
        );
        assert_eq!(
            sound()
                .edit("steps/frame/20-left.md", "shows.\n", "shows.\n\n   > **CAUTION** Sharp. Wear gloves.\n")
                .findings(),
            ["late-safety steps/frame/20-left.md `CAUTION`"]
        );
        assert_eq!(sound().add("steps/frame/20-left.md", "\n> **NOTE** The bolts are long.\n").findings(), [""; 0]);
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "1. Drill", "> **DANGER** Look out.\n\n1. Drill").findings(),
            [""; 0]
        );
    }
}
