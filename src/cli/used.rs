//! Every use of a thing in a step, with its place, what is done there, and the conditions it stands under.

use crate::model::schema::{Holds, Named, STEP, Thing, Under, Use, Within, names_in_step, thing_of, walk};
use crate::model::{Manual, Step};
use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdBlockKind};

/// A use.
#[derive(Clone, Debug)]
pub(super) struct Used<'a> {
    pub thing: Thing,
    pub name: &'a str,
    pub span: Span,
    /// In words: `pulled, 2`, `fastener of a joint`.
    pub how: String,
    /// The conditions it stands under inside its step, from the outside in.
    pub only: Vec<Under<'a>>,
}

/// Every use in a step, in the order written.
pub(super) fn uses<'a>(manual: &Manual, step: &'a Step) -> Vec<Used<'a>> {
    let mut found = Vec::new();
    let whole = step.only.as_ref().map(|only| only.span);
    names_in_step(step, &mut |named, within| {
        let only = within.only.iter().copied().filter(|under| Some(under.span) != whole).collect();
        let how = how(&named, within);
        found.push(Used { thing: thing_of(manual, &named), name: named.name, span: named.span, how, only });
    });
    found
}

/// What is done with a thing where it is named.
fn how(named: &Named, within: &Within) -> String {
    let beside = |key: &str| within.leaf.and_then(|leaf| leaf.beside(key));
    let count = || named.count.or_else(|| beside("quantity")).unwrap_or("1").to_owned();
    let places = || beside("places").filter(|n| *n != "1").map_or_else(String::new, |n| format!(", {n} places"));
    let by = || beside("by").unwrap_or("builder").to_owned();
    let part = || beside("part").unwrap_or("a part").to_owned();
    let joint = |what: &str| format!("{what} of a joint{}", places());
    match named.how {
        Use::Named => "named here".to_owned(),
        Use::Taken => format!("{}, {}", done(beside("do"), "pulled"), count()),
        Use::CutOut => format!("cut out of {}, {}", part(), named.count.unwrap_or("1")),
        Use::Listed => format!("{}, {}", done(beside("do"), "fitted"), count()),
        Use::Fastener => joint("fastener"),
        Use::UnderHead => joint("under the head"),
        Use::UnderNut => joint("under the nut"),
        Use::Nut => joint("nut"),
        Use::Pin => joint("pin"),
        Use::OfKind => format!("a joint of this kind{}", places()),
        Use::ByKind => "in a joint, by its kind".to_owned(),
        Use::Clamped => format!("clamped by {}", beside("fastener").unwrap_or("a fastener")),
        Use::Cut => format!("cut, {}, by the {}", beside("cut").unwrap_or("square"), by()),
        Use::Onto => format!("{} is fitted onto it", part()),
        Use::Bent => format!("bent, by the {}", by()),
        Use::Flattened => format!("flattened, by the {}", by()),
        Use::CableOf => format!("the cable {} is made of it", beside("cable").unwrap_or("here")),
        Use::CableEnd => format!("in an end of the cable {}", beside("cable").unwrap_or("here")),
        Use::Guide => format!("leads the cable {}", beside("cable").unwrap_or("here")),
        Use::Drilled => format!("holes: {}, by the {}", beside("do").unwrap_or("drill"), by()),
        Use::DrilledFrom => format!("holes of {} are taken from it", part()),
        Use::HoleFor => format!("a hole in {} is for it", part()),
        Use::HoleName => format!("of {}: {}, by the {}", part(), beside("do").unwrap_or("drill"), by()),
        Use::SetOutFrom => format!("{} is measured from it", beside("place").unwrap_or("a place")),
        Use::Shown => "shown".to_owned(),
        Use::ShownOpposite => "shown by the opposite step".to_owned(),
        Use::PointedAt => {
            format!("callout {} of {}", beside("callout").unwrap_or("?"), beside("figure").unwrap_or("a figure"))
        }
        Use::ComesBefore => "comes before".to_owned(),
        Use::InSection => "a step of it".to_owned(),
        Use::Made => "made here".to_owned(),
        Use::UsedUp => "used".to_owned(),
        Use::Inspected => "inspected".to_owned(),
        Use::Closed => "closed for good".to_owned(),
        Use::Needed => "needed".to_owned(),
        Use::Sent => format!("sent to who has built it already, {}", named.count.unwrap_or("1")),
        Use::InText => "named in the text".to_owned(),
        Use::InCondition => "in a condition".to_owned(),
        other => other.note().to_owned(),
    }
}

/// What was done, of a word of the key `do`.
fn done(word: Option<&str>, usual: &'static str) -> String {
    match word {
        None => usual,
        Some("pull") => "pulled",
        Some("trial fit") => "fitted on trial",
        Some("remove") => "removed",
        Some("finish") => "finished",
        Some("refit") => "refitted",
        Some("use") => "worked on",
        Some("fit") => "fitted",
        Some("fit temporarily") => "fitted for a time",
        Some(other) => other,
    }
    .to_owned()
}

/// An item or a stretch of text, and its condition.
#[derive(Clone, Debug)]
pub(super) struct Conditioned<'a> {
    /// What it is: `the item of `parts``, `the text`.
    pub what: String,
    pub span: Span,
    pub only: Under<'a>,
}

/// Everything in a step that stands under a condition of its own, in the order written.
pub(super) fn conditions(step: &Step) -> Vec<Conditioned<'_>> {
    let mut found = Vec::new();
    walk(&step.front, &STEP, &mut |leaf| {
        if let (Holds::Condition, Some(condition), [_, .., item]) = (leaf.holds, step.condition(leaf), leaf.within) {
            let what = leaf.form.what.replacen("an ", "the ", 1);
            found.push(Conditioned { what, span: item.span, only: Under { condition, span: leaf.span } });
        }
    });
    found.extend(text_conditions(&step.body));
    found.sort_by_key(|c| (c.span.start, std::cmp::Reverse(c.span.end)));
    found
}

/// The stretches of text under a condition, from the outside in.
pub(super) fn text_conditions(blocks: &[MdBlock]) -> Vec<Conditioned<'_>> {
    let mut found = Vec::new();
    for block in blocks {
        if let MdBlockKind::Only { condition, condition_span, .. } = &block.kind {
            let only = Under { condition, span: *condition_span };
            found.push(Conditioned { what: "the text".to_owned(), span: block.span, only });
        }
        block.children().for_each(|inner| found.extend(text_conditions(inner)));
    }
    found
}
