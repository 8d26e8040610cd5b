//! Mistakes in the text of steps and pages: actions, sentences, words, figures, links, marks of conditions.

use std::ops::Range;

use kitwright::model::schema::Thing;
use kitwright::source::FileId;
use kitwright::syntax::markdown::{MdBlock, MdBlockKind, MdItem, each_block, each_link, reference};

use super::labels::Group;
use super::manuals::CleanManual;
use super::seed::{Bed, Seed};
use super::values;

pub fn seeds(manual: usize, c: &CleanManual) -> Vec<Seed> {
    let steps = c.steps().map(|(step, _)| (step.file, step.body.as_slice()));
    let pages = c.manual().pages.iter().map(|page| (page.span.file, page.body.as_slice()));
    let actions = all_actions(c);
    let mut all = Vec::new();
    for (file, body) in steps.chain(pages) {
        all.append(&mut of_body(manual, c, file, body, &actions));
    }
    all
}

/// What the items of all steps say, less their numbers.
fn all_actions(c: &CleanManual) -> Vec<String> {
    let mut all = Vec::new();
    for (step, text) in c.steps() {
        each_block(&step.body, &mut |block| {
            if let MdBlockKind::List { items, .. } = &block.kind {
                all.extend(items.iter().map(|i| text[said(text, i)].to_owned()));
            }
        });
    }
    all
}

/// The text of an item behind its number, in its first paragraph.
fn said(text: &str, item: &MdItem) -> Range<usize> {
    let range = item.blocks.first().map_or(item.span.range(), |b| b.span.range());
    let trimmed = text[range.clone()].trim_end();
    range.start..range.start + trimmed.len()
}

/// The lines of an item.
fn lines(text: &str, item: &MdItem) -> Range<usize> {
    let range = item.span.range();
    let start = text[..range.start].rfind('\n').map_or(0, |i| i + 1);
    let end = range.start + text[range.clone()].trim_end().len();
    start..text[end..].find('\n').map_or(text.len(), |i| end + i + 1)
}

fn of_body(manual: usize, c: &CleanManual, file: FileId, body: &[MdBlock], actions: &[String]) -> Vec<Seed> {
    let mut bed = Bed::new(manual, c, file);
    each_block(body, &mut |block| match &block.kind {
        MdBlockKind::List { items, .. } => of_list(&mut bed, items, actions),
        MdBlockKind::Paragraph(_) => of_paragraph(&mut bed, block.span.range()),
        MdBlockKind::Only { condition_span, .. } => of_mark(&mut bed, block.span.range(), condition_span.range()),
        _ => {}
    });
    each_block(body, &mut |block| {
        for run in block.runs() {
            each_link(run, &mut |to| {
                if let Some((scheme, name, span)) = reference(to)
                    && let Some(thing) = Thing::of_scheme(scheme)
                {
                    of_link(&mut bed, block.span.range(), thing, name, span.range());
                }
            });
        }
    });
    bed.seeds
}

fn of_list(bed: &mut Bed, items: &[MdItem], actions: &[String]) {
    let text = bed.text;
    for (i, item) in items.iter().enumerate() {
        let (at, action) = (lines(text, item), said(text, item));
        let kind = |what: &str| format!("text: {what}");
        bed.put(Group::Text, kind("an action left out"), at.clone(), at.clone(), "");
        bed.put(Group::Text, kind("an action twice"), at.clone(), at.clone(), text[at.clone()].repeat(2));
        let other = bed.dice(action.start, "another step's").pick(actions).clone();
        bed.put(Group::Text, kind("an action of another step"), at.clone(), action.clone(), other);
        if let Some(next) = items.get(i + 1).map(|n| said(text, n)) {
            // Not across the mark of a condition.
            if !text[action.end..next.start].contains("<!--") {
                let swapped =
                    format!("{}{}{}", &text[next.clone()], &text[action.end..next.start], &text[action.clone()]);
                let both = action.start..next.end;
                bed.put(Group::Order, kind("two actions in the other order"), both.clone(), both, swapped);
            }
        }
    }
}

fn of_paragraph(bed: &mut Bed, range: Range<usize>) {
    let text = bed.text;
    let said = text[range.clone()].trim_end();
    let at = range.start..range.start + said.len();
    let which = bed.dice(at.start, "paragraph").below(12);
    let unit = if said.contains(" mm") { "mm" } else { "in" };
    let mut slip = |what: &str, group: Group, new: Option<String>| {
        if let Some(new) = new {
            bed.put(group, format!("text: {what}"), at.clone(), at.clone(), new);
        }
    };
    // Words and figures in the target of a link are names: those are mistaken elsewhere.
    let beside_links = |new: Option<String>| new.filter(|new| targets(new) == targets(said));
    let word = |pairs, both_ways| beside_links(values::turned(said, pairs, both_ways, which));
    slip("left for right", Group::Hands, word(&values::SIDES, true));
    slip("another direction", Group::Text, word(&values::DIRECTIONS, true));
    slip("another number word", Group::Text, word(&values::NUMBER_WORDS, false));
    slip("a digit", Group::Text, beside_links(values::digit(said, which)));
    slip("a number ten times", Group::Text, beside_links(values::one_ten_times(said, which)));
    slip("another unit", Group::Text, beside_links(values::other_unit(said, unit, which)));
    slip("another letter of a hole", Group::Text, hole_letter(said));
    slip("a sentence out", Group::Text, values::sentence_out(said, which));
    slip("two sentences in the other order", Group::Order, values::sentences_swapped(said, which));
    slip("half a sentence out", Group::Text, values::half_out(said, which));
    slip("a not less or more", Group::Text, values::not_out(said));
}

/// Where the links of a text lead.
fn targets(text: &str) -> Vec<&str> {
    text.split("](").skip(1).filter_map(|rest| rest.split_once(')')).map(|(to, _)| to).collect()
}

/// `hole A` for `hole B`.
fn hole_letter(text: &str) -> Option<String> {
    let at = values::words(text, "hole").map(|i| i + 5).find(|&i| {
        text[i.min(text.len())..].starts_with(|c: char| c.is_ascii_uppercase())
            && !text[i + 1..].starts_with(|c: char| c.is_alphanumeric())
    })?;
    let letter = if text[at..].starts_with('A') { "B" } else { "A" };
    Some(format!("{}{letter}{}", &text[..at], &text[at + 1..]))
}

fn of_mark(bed: &mut Bed, range: Range<usize>, condition: Range<usize>) {
    let text = bed.text;
    let line = |at: usize| {
        let start = text[..at].rfind('\n').map_or(0, |i| i + 1);
        start..text[at..].find('\n').map_or(text.len(), |i| at + i + 1)
    };
    let opening = line(condition.start);
    let Some(closing) = text[opening.end..].find("<!-- end only").map(|i| line(opening.end + i)) else { return };
    let item = range.start.min(opening.start)..range.end.max(closing.end);
    let inner = text[opening.end..closing.start].to_owned();
    let both = opening.start..closing.end;
    let kind = |what: &str| format!("mark of a condition: {what}");
    bed.put(Group::Conditions, kind("left out"), item.clone(), both.clone(), inner);
    bed.put(Group::Conditions, kind("left out with its text"), item.clone(), both, "");
    let names = bed.c.names(Thing::Variant);
    let said = &text[condition.clone()];
    let missing: Vec<&String> = names.iter().filter(|v| !values::words(said, v).any(|_| true)).collect();
    if !missing.is_empty() {
        let other = *bed.dice(condition.start, "mark").pick(&missing);
        bed.put(Group::Conditions, kind("another variant"), item.clone(), condition.clone(), other.clone());
        let wider = format!("{said} or {other}");
        bed.put(Group::Conditions, kind("a variant more"), item.clone(), condition.clone(), wider);
    }
    if let Some((first, _)) = said.split_once(" or ") {
        bed.put(Group::Conditions, kind("a variant less"), item, condition, first.to_owned());
    }
}

fn of_link(bed: &mut Bed, item: Range<usize>, thing: Thing, name: &str, at: Range<usize>) {
    let mut dice = bed.dice(at.start, "link");
    let word = thing.word();
    if let Some(other) = bed.another(thing, name, &mut dice) {
        bed.put(Group::Links, format!("link to a {word}: another"), item.clone(), at.clone(), other);
    }
    if let Some(other) = bed.c.opposite(name) {
        bed.put(Group::Hands, format!("link to a {word}: of the other hand"), item.clone(), at.clone(), other);
    }
    if let Some(other) = values::mistyped(name).filter(|n| !bed.c.names(thing).contains(n)) {
        bed.put(Group::Links, format!("link to a {word}: mistyped"), item, at, other);
    }
}
