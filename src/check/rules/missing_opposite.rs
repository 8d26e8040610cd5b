//! A part with a hand that names no opposite, or a part whose opposite names another part or is of no hand.
//!
//! It matters because a step that is written once for both sides takes its other half from this column, and a kit
//! with two left brackets is found out on the last day.
//!
//! Wrong: `KW-103-L` with `KW-104-R` as its opposite, while `KW-104-R` names `KW-104-L`. Right: each of the two names
//! the other.
//!
//! To accept a part that has no opposite, for example a lever on the left only: `accept: [{ rule: missing-opposite,
//! about: KW-103-L, reason: ... }]` in manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Part;
use crate::units::PartNumber;
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "missing-opposite",
    level: Level::Warning,
    summary: "a handed part without its opposite, or two parts that do not name each other",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("missing_opposite.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let parts = &ctx.manual.parts;
    let other = |p: &Part| p.opposite.as_ref().and_then(|o| parts.get(&o.value));
    let mutual = |p: &Part| other(p).and_then(|o| o.opposite.as_ref()).is_some_and(|back| back.value == p.number.value);
    let mut blamed: BTreeMap<&PartNumber, &Part> = BTreeMap::new();
    let mut sink = Sink::new();
    for part in parts.values() {
        match (&part.opposite, other(part)) {
            (None, _) if part.hand.is_some() => {
                blamed.insert(&part.number.value, part);
            }
            (Some(_), Some(_)) if !mutual(part) => {
                // The last of a chain that names another is the wrong one; of a circle its first in the list.
                let mut chain = vec![part];
                let last = loop {
                    let at = chain[chain.len() - 1];
                    match other(at) {
                        Some(next) if next.opposite.is_none() => break next,
                        Some(next) if mutual(next) => break at,
                        Some(next) if chain.iter().any(|p| p.number.value == next.number.value) => {
                            break chain.iter().copied().min_by_key(|p| p.number.span).unwrap_or(at);
                        }
                        Some(next) => chain.push(next),
                        None => break at,
                    }
                };
                // An opposite that is not in the list is another rule's finding.
                if last.opposite.is_none() || other(last).is_some() {
                    blamed.insert(&last.number.value, last);
                }
            }
            _ => {}
        }
        if part.hand.is_none() && part.opposite.is_some() && mutual(part) && !by_number(ctx, part) {
            blamed.insert(&part.number.value, part);
        }
    }
    for (number, part) in blamed {
        let named_by = parts
            .values()
            .find(|p| p.opposite.as_ref().is_some_and(|o| o.value == *number) && p.number.value != *number);
        let d = match (&part.opposite, named_by) {
            (None, Some(by)) => RULE
                .found(format!("{number} names no opposite, and {} names it", by.number.value))
                .at(part.number.span, "no opposite in this row")
                .note(by.number.span, "this part names it as its opposite")
                .help(format!("write `{}` in the column opposite, and the hand in the column hand", by.number.value)),
            (None, None) => RULE
                .found(format!("{number} has a hand and no opposite"))
                .at(part.hand_span.unwrap_or(part.number.span), "a part with a hand")
                .help(
                    "write the number of the part for the other hand in the column opposite, or leave the hand blank",
                ),
            (Some(opposite), _) if part.hand.is_none() && mutual(part) => RULE
                .found(format!("{number} has the opposite {} and no hand", opposite.value))
                .at(part.number.span, "no hand in this row")
                .help("write left or right in the column hand, or leave the opposite blank"),
            (Some(opposite), _) => RULE
                .found(format!("{number} names {} as its opposite, which does not name it", opposite.value))
                .at(opposite.span, "not its opposite")
                .help(match named_by {
                    Some(by) => format!("write `{}`, which names it", by.number.value),
                    None => "let the two parts name each other".to_owned(),
                }),
        };
        sink.push(d.about(number));
    }
    sink
}

/// Whether the ending of the number says a hand; then the rule about hands speaks.
fn by_number(ctx: &Context, part: &Part) -> bool {
    ctx.manual.settings.hand_of_number(part.number.as_str()).is_some()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_two_must_name_each_other() {
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R", "left,").findings(),
            ["missing-opposite parts.csv `KW-103-L`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R", "left,KW-104").findings(),
            ["missing-opposite parts.csv `KW-104`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R", "left,KW-103-L").findings(),
            ["missing-opposite parts.csv `KW-103-L`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "left,KW-103-R", "left,KW-103-Q").findings(),
            ["unknown-part parts.csv `KW-103-Q`"]
        );
        assert_eq!(sound().edit("parts.csv", "Rail,", "Rail,left").findings(), ["missing-opposite parts.csv `left`"]);
    }
}
