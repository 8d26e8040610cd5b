//! A piece that a step cuts out of another part than the column `cut from` of the parts list says, or that is of another
//! line of stock than the part it is cut from.
//!
//! It matters because the piece is then of other stock than its documents say, and the part that it comes from is
//! counted as supplied where it is not.
//!
//! Wrong: `becomes: [KW-201]` of `KW-200`, and an empty cell `cut from` in the row of `KW-201`. Right: `KW-200` in that
//! cell.
//!
//! To accept: `accept: [{ rule: cut-from-differs, about: KW-201, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "cut-from-differs",
    level: Level::Error,
    summary: "a piece cut out of another part or stock than the parts list says",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("cut_from_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut seen = BTreeSet::new();
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for item in &step.parts {
            for (piece, _) in &item.becomes {
                let Some(part) = ctx.manual.parts.get(&piece.value) else { continue };
                let from = &item.part.value;
                // An opposite, or a part that a later one replaces, is cut from another in another configuration.
                let listed = part.cut_from.as_ref().map(|f| &f.value);
                if listed == Some(from) || !ctx.manual.parts.contains_key(from) || !seen.insert((from, &piece.value)) {
                    continue;
                }
                let mut taken = ctx.manual.steps.iter().flat_map(|s| &s.parts);
                let elsewhere = taken
                    .any(|p| Some(&p.part.value) == listed && p.becomes.iter().any(|(b, _)| b.value == piece.value));
                if elsewhere || ctx.excuses.parts.contains(from) {
                    continue;
                }
                let says = listed.map_or("nothing".to_owned(), |l| l.to_string());
                sink.push(
                    RULE.found(format!("{} is cut out of {from}, and the parts list says {says}", piece.value))
                        .at(piece.span, format!("cut out of {from} here"))
                        .note(
                            part.cut_from.as_ref().map_or(part.number.span, |f| f.span),
                            format!("{says} in the column cut from"),
                        )
                        .help(format!("write {from} into the column cut from, or correct `becomes`"))
                        .about(&piece.value)
                        .about(&step.id.value),
                );
            }
        }
    }
    sink.extend(ctx.manual.parts.values().filter_map(|piece| {
        let from = ctx.manual.parts.get(&piece.cut_from.as_ref()?.value)?;
        let (own, stock) = (piece.stock.as_ref()?, from.stock.as_ref()?);
        let held_back =
            own.value == stock.value || [own, stock].iter().any(|s| !ctx.manual.stock.contains_key(&s.value));
        (!held_back).then(|| {
            RULE.found(format!(
                "{} is of {}, and {}, which it is cut from, of {}",
                piece.number.value, own.value, from.number.value, stock.value
            ))
            .at(own.span, "not the stock of the part it is cut from")
            .note(stock.span, format!("the stock of {}", from.number.value))
            .help("write the same line of stock for both, or empty this cell")
            .about(&piece.number.value)
        })
    }));
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_piece_is_of_the_stock_of_its_part() {
        let found = sound()
            .add("stock.csv", "T-9,4130,round tube,3/4,.058,144\n")
            .edit("parts.csv", "Cross piece,,,T-1", "Cross piece,,,T-9")
            .findings();
        assert_eq!(found, ["cut-from-differs parts.csv `T-9`"]);
    }

    #[test]
    fn a_piece_comes_from_where_the_list_says() {
        let found = sound()
            .edit("parts.csv", "KW-201,Cross piece,,,T-1,12,,,,,,KW-200", "KW-201,Cross piece,,,T-1,12,,,,,,KW-105")
            .findings();
        assert!(found.contains(&"cut-from-differs steps/finish/10-cross.md `KW-201`".to_owned()), "{found:?}");
        let found = sound()
            .edit("parts.csv", "KW-201,Cross piece,,,T-1,12,,,,,,KW-200", "KW-201,Cross piece,,,T-1,12,,,,,,")
            .findings();
        assert!(found.contains(&"cut-from-differs steps/finish/10-cross.md `KW-201`".to_owned()), "{found:?}");
    }
}
