//! A mitre or a saddle on a part that has no stock in the parts list, or any cut by the builder on one.
//!
//! It matters because without the tube's size there is no template and no cut plan. A piece has the stock of the part
//! it is cut from.
//!
//! Wrong: a cut on `KW-110` with an empty stock cell. Right: the line of stock.csv in that cell.
//!
//! To accept: `accept: [{ rule: cut-without-stock, about: KW-110, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Part;
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "cut-without-stock",
    level: Level::Error,
    summary: "a cut on a part whose stock is not known",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("cut_without_stock.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut seen = BTreeSet::new();
    let mut sink = Sink::new();
    for (step, cut) in ctx.cuts() {
        let Some(part) = ctx.manual.parts.get(&cut.part.value) else { continue };
        if has_stock(ctx, part) || !seen.insert(&part.number.value) {
            continue;
        }
        sink.push(
            RULE.found(format!("{} is cut, and its stock is not known", cut.part.value))
                .at(cut.part.span, "a part without stock")
                .note(part.number.span, "the stock cell of this row is empty")
                .help("write the line of stock.csv into the column stock")
                .about(&cut.part.value)
                .about(&step.id.value),
        );
    }
    sink
}

/// Whether a part, or the one it is cut from, says its stock. An unknown line of stock is another rule's finding.
fn has_stock(ctx: &Context, part: &Part) -> bool {
    let from = part.cut_from.as_ref().and_then(|from| ctx.manual.parts.get(&from.value));
    part.stock.is_some() || from.is_some_and(|p| p.stock.is_some())
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_cut_needs_stock() {
        assert_eq!(
            sound().edit("parts.csv", "Keel tube,,,T-1", "Keel tube,,,").findings(),
            ["cut-without-stock steps/frame/10-keel.md `KW-101`"]
        );
        assert_eq!(
            sound()
                .edit("parts.csv", "Cross piece,,,T-1", "Cross piece,,,")
                .edit("steps/finish/10-cross.md", "tools:", "cuts:\n  - { part: KW-201, end: B, cut: square }\ntools:")
                .findings(),
            [""; 0]
        );
    }
}
