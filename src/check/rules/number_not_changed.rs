//! A part that differs from the one that was released under its number: another length, stock, material, other holes or
//! another state in the crate.
//!
//! It matters because two different things then have one number: the shop pulls the old one for the new kit, a builder is
//! sent the new one for the old craft, and nothing shows it.
//!
//! Wrong: `cut length` of SK-112 from 72 to 74. Right: a new number for the longer tube, with `replaced by` in the row of the
//! old one where it is no longer made; or, if each may stand in the place of the other, `both ways since B` in the column
//! `interchangeable`, where B is the last release; or `new for old since B`, if the new one fits old kits and not the other
//! way round.
//!
//! To accept, for example where none was shipped: `accept: [{ rule: number-not-changed, about: SK-112, reason: ... }]` in
//! manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Manual, Part};
use crate::source::Span;
use crate::units::plain;

pub const RULE: Rule = Rule {
    id: "number-not-changed",
    level: Level::Error,
    summary: "a part that changed under a number that was released",
    source: "common practice: a part that is not interchangeable gets a new number",
    bending: Leave::Allowed,
    file: include_str!("number_not_changed.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let Some(last) = &ctx.past.last else { return sink };
    for (number, part) in &ctx.manual.parts {
        let Some(old) = last.manual.parts.get(number) else { continue };
        let declared = part.interchangeable.as_ref();
        // What can't be read has not changed.
        if declared.is_some_and(|d| d.value.since == last.letter) || ctx.excuses.unread.contains(number) {
            continue;
        }
        let differences = differences(ctx.manual, part, &last.manual, old);
        let Some((first, span)) = differences.first() else { continue };
        let all: Vec<&str> = differences.iter().map(|d| d.0.as_str()).collect();
        let mut d = RULE
            .found(format!("{number} differs from what release {} has under this number: {}", last.letter, all.join("; ")))
            .at(*span, first.split(':').next().unwrap_or_default().to_owned() + " changed, the number did not")
            .help(format!(
                "give it a new number, or write `both ways since {0}` or `new for old since {0}` into the column `interchangeable`",
                last.letter
            ))
            .about(number);
        if let Some(declared) = declared {
            d = d.note(
                declared.span,
                format!("this was said of release {}, and the last one is {}", declared.value.since, last.letter),
            );
        }
        sink.push(d);
    }
    sink
}

/// What a builder or the shop would find different, each with the cell that says so.
fn differences(manual: &Manual, part: &Part, before: &Manual, old: &Part) -> Vec<(String, Span)> {
    let mut found = Vec::new();
    let mut see = |what: &str, a: String, b: String, span: Option<Span>| {
        if a != b {
            let blank = |t: String| if t.is_empty() { "nothing".to_owned() } else { t };
            found.push((format!("{what}: {} becomes {}", blank(a), blank(b)), span.unwrap_or(part.number.span)));
        }
    };
    let length = |l: &Option<crate::source::Spanned<crate::units::Length>>| {
        l.as_ref().map_or_else(String::new, |l| plain(&l.value.pieces(manual.settings.units)))
    };
    see("cut length", length(&old.cut_length), length(&part.cut_length), part.cut_length.as_ref().map(|l| l.span));
    see(
        "blank length",
        length(&old.blank_length),
        length(&part.blank_length),
        part.blank_length.as_ref().map(|l| l.span),
    );
    let stock = |m: &Manual, p: &Part| p.stock.as_ref().map_or_else(String::new, |s| stock_words(m, s));
    see("stock", stock(before, old), stock(manual, part), part.stock.as_ref().map(|s| s.span));
    see("material", old.material.clone(), part.material.clone(), None);
    see("hand", hand(old), hand(part), part.hand_span);
    see("as supplied", supplied(old), supplied(part), part.supplied.span);
    // Holes without a size are drilled by a step: where they come is no matter of the part as it is shipped.
    let holes = |m: &Manual| {
        let come = m.holes_of(&part.number.value).iter().filter(|h| h.size.is_some());
        let words: Vec<String> = come.map(|h| h.words(manual.settings.units)).collect();
        words.join("; ")
    };
    see("holes", holes(before), holes(manual), manual.holes_of(&part.number.value).first().map(|h| h.span));
    found
}

/// What a line of stock is, whatever it is called.
fn stock_words(manual: &Manual, id: &crate::source::Spanned<crate::units::StockId>) -> String {
    let Some(stock) = manual.stock.get(&id.value) else { return id.value.to_string() };
    let length = |l: &Option<crate::source::Spanned<crate::units::Length>>| {
        l.as_ref().map_or_else(String::new, |l| format!(" {}", plain(&l.value.pieces(manual.settings.units))))
    };
    format!("{} {}{}{}", stock.material, stock.shape.word(), length(&stock.outside_diameter), length(&stock.wall))
}

fn hand(part: &Part) -> String {
    part.hand.map_or_else(String::new, |h| h.word().to_owned())
}

fn supplied(part: &Part) -> String {
    let s = &part.supplied;
    let mut words: Vec<String> = [(s.cut, "cut"), (s.finished, "finished"), (s.assembled, "assembled")]
        .into_iter()
        .filter(|(yes, _)| *yes)
        .map(|(_, word)| word.to_owned())
        .collect();
    let names = |list: &[String]| {
        let mut list = list.to_vec();
        list.sort();
        list.join(", ")
    };
    if !s.pilot_holes.is_empty() {
        words.push(format!("pilot holes {}", names(&s.pilot_holes)));
    }
    if !s.holes.is_empty() {
        words.push(format!("holes {}", names(&s.holes)));
    }
    words.join("; ")
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn another_part_has_another_number() {
        let found = |case: crate::check::testing::Case| case.since(&sound(), |t| t).findings();
        let longer = || sound().edit("parts.csv", "KW-105,Rail,,,T-1,20,", "KW-105,Rail,,,T-1,21,");
        assert_eq!(found(longer()), ["number-not-changed parts.csv `21`"]);
        assert_eq!(
            found(sound().edit("parts.csv", "S-2,,,finished; holes C", "S-2,,,finished; pilot holes C")),
            ["number-not-changed parts.csv `finished; pilot holes C`"]
        );
        // Other holes, by the list of holes.
        let holes = |size: &str| sound().add("holes.csv", &format!("part,hole,count,size\nKW-104,C,2,{size}\n"));
        assert_eq!(
            holes("5/16").since(&holes("1/4"), |t| t).findings(),
            ["number-not-changed holes.csv `KW-104,C,2,5/16`"]
        );
        // The same line of stock, drawn thicker.
        assert_eq!(
            found(sound().edit("stock.csv", "S-2,6061-T6,sheet,,.058", "S-2,6061-T6,sheet,,.063")),
            ["number-not-changed parts.csv `S-2`"]
        );
        // Written otherwise, or where it lies: no other part.
        assert_eq!(found(sound().edit("parts.csv", "KW-105,Rail,,,T-1,20,", "KW-105,Side rail,,,T-1,20.0,")), [""; 0]);
        let declared = |word: &str| {
            longer()
                .edit_all("parts.csv", "\n", ",\n")
                .edit("parts.csv", "brake,cut from,", "brake,cut from,interchangeable")
                .edit("parts.csv", "KW-105,Rail,,,T-1,21,,cut,1,,,,", &format!("KW-105,Rail,,,T-1,21,,cut,1,,,,{word}"))
        };
        assert_eq!(found(declared("new for old since A")), [""; 0]);
        assert_eq!(found(declared("both ways since B")), ["number-not-changed parts.csv `21`"]);
    }
}
