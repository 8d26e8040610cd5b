//! `data.js`: what the pages' script knows of the whole manual, as one classic script that opens from disk.

use std::collections::BTreeMap;

use rayon::prelude::*;
use serde_json::{Value, json};

use super::digest::digest;
use super::page::{role_word, step_id};
use super::site::Site;
use super::table::cure_words;
use super::words::{text_of, words};
use crate::document::{
    BenchThing, Block, BlockKind, Inline, Leaf, LeafRole, StepBeginning, TableRole, all_blocks, plain_text,
};
use crate::units::{Rational, StepId, UnitStyle};

/// How much a word counts by where it stands.
const IN_NUMBER: u32 = 40;
const IN_TITLE: u32 = 8;
const IN_TEXT: u32 = 1;

/// The script. Search results are pages first, then things: a place in `posts` is a page's number, or the number of
/// pages and a thing's number.
pub fn script(site: &Site<'_>) -> String {
    let document = site.document;
    let meta = &document.meta;
    let leaves = document.leaves.par_iter().enumerate();
    let (mut pages, mut found): (Vec<Value>, Vec<Found>) =
        leaves.map(|(number, leaf)| page(site, number, leaf)).unzip();
    let step_pages: BTreeMap<&StepId, usize> =
        document.leaves.iter().enumerate().filter_map(|(number, leaf)| Some((step_id(leaf)?, number))).collect();
    for (step, beginning) in &site.bench.beginnings {
        if let Some(page) = step_pages.get(step) {
            begin(site, step, beginning, &step_pages, &mut pages[*page]);
        }
    }
    let page_of = |step: &str| step_pages.get(&StepId::from(step)).copied();
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let mut things = Vec::new();
    for (number, thing) in site.bench.things.iter().enumerate() {
        places.entry(&thing.designation).or_insert(number);
        let mut words = Found::default();
        words.add(&thing.name, IN_TITLE);
        words.add(&thing.designation, IN_TITLE);
        words.put(thing.designation.to_lowercase(), IN_NUMBER);
        // What one kit has otherwise is looked for by the words of its packing slip.
        thing.notes.iter().for_each(|note| words.add(note, IN_TEXT));
        found.push(words);
        things.push(thing_value(thing, &page_of));
    }
    let picks: Vec<Value> = site
        .bench
        .picks
        .iter()
        .filter_map(|pick| {
            let (page, thing) = (page_of(&pick.step)?, places.get(pick.designation.as_str())?);
            Some(json!([
                page,
                thing,
                exact(pick.quantity.value),
                pick.quantity.unit.word(),
                pick.bag,
                pick.crate_,
                pick.hand.map_or("", |h| h.word())
            ]))
        })
        .collect();
    let (words, posts) = index(found);
    let data = json!({
        "title": &*meta.title,
        "maker": &*meta.maker,
        "manual": &*meta.number,
        "configuration": &*meta.variant_and_options,
        "kit": &*meta.kit,
        "release": &*meta.release,
        "units": units_word(meta.units),
        "pages": pages,
        "things": things,
        "picks": picks,
        "owed": owed(site),
        "everyday": everyday(site, &words),
        "words": words,
        "posts": posts,
    });
    format!("window.kitwright = {};\n", safe_json(&data))
}

/// A value as a script may hold it: `<` never stands in it, whatever page it is put into, and no sign that ends a line.
pub fn safe_json(value: &Value) -> String {
    value.to_string().replace('<', "\\u003c").replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}

/// Whether the search looks into the pages of this kind. Lists of everything would answer every question.
pub fn is_searched(role: LeafRole) -> bool {
    matches!(role, LeafRole::Step | LeafRole::Text | LeafRole::Section | LeafRole::Title)
}

/// The groups of words for one thing of which this manual has at least one.
fn everyday<'a>(site: &'a Site<'_>, known: &[String]) -> Vec<&'a Vec<String>> {
    let has = |phrase: &String| words(phrase).iter().all(|word| known.binary_search(word).is_ok());
    site.bench.everyday.iter().filter(|group| group.iter().any(has)).collect()
}

/// What is on back order in this kit, by step: pairs of a step and an item.
fn owed(site: &Site<'_>) -> Vec<Value> {
    site.bench.owed.iter().map(|(step, item)| json!([step.as_str(), item])).collect()
}

/// What today's work has to know of a step: hours, what it waits for, who signs, what it glues and what must have cured.
fn begin(site: &Site<'_>, id: &StepId, b: &StepBeginning, pages: &BTreeMap<&StepId, usize>, page: &mut Value) {
    let cures = |field: &'static str, index: usize| {
        let cures = site.bench.cures.get(&(id.clone(), field, index));
        [cures.map_or_else(String::new, cure_words), cures.and_then(|c| c.least).map_or_else(String::new, exact)]
    };
    let waits = b.waits.iter().filter_map(|(step, what)| Some(json!([pages.get(step)?, what.join(", ")])));
    let glues = b.glues.iter().map(|(bond, index)| {
        let [times, least] = cures("bonds", *index);
        json!([bond, times, least])
    });
    let cured = b.cured.iter().filter_map(|(bond, step, index)| {
        let [times, least] = cures("cured", *index);
        Some(json!([bond, pages.get(step)?, times, least]))
    });
    let mut put = |key: &str, list: Vec<Value>| {
        if !list.is_empty() {
            page[key] = list.into();
        }
    };
    put("w", waits.collect());
    put("o", b.signs.iter().map(|role| json!(role)).collect());
    put("g", glues.collect());
    put("c", cured.collect());
    if let Some(hours) = b.hours {
        page["h"] = json!(exact(hours));
    }
}

/// What a step measures: item, what is wanted, the limits and their unit.
fn measures(site: &Site<'_>, step: &StepId, blocks: &[Block]) -> Vec<Value> {
    let units = site.document.meta.units;
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let tables = blocks.iter().flat_map(|block| match &block.kind {
        BlockKind::Group(group) => group.blocks.as_slice(),
        _ => std::slice::from_ref(block),
    });
    let tables = tables.filter_map(|block| match &block.kind {
        BlockKind::Table(table) if table.role == TableRole::Measures => Some(table),
        _ => None,
    });
    let rows = tables.flat_map(|table| &table.rows).filter(|row| row.cells.len() > 1);
    rows.map(|row| {
        let mut item = plain_text(&row.cells[0].content, units);
        let count = seen.entry(item.clone()).or_default();
        *count += 1;
        if *count > 1 {
            item.push_str(&format!(" ({count})"));
        }
        let limits = site.bench.limits.get(&(step.clone(), row.origin.item));
        let bound = |of: Option<crate::units::Measure>| of.map_or_else(String::new, |m| exact(m.value));
        let unit = limits.and_then(|l| l.low.or(l.high).or(l.target)).map_or("", |m| m.unit.word());
        json!([
            item,
            plain_text(&row.cells[1].content, units),
            bound(limits.and_then(|l| l.low)),
            bound(limits.and_then(|l| l.high)),
            unit
        ])
    })
    .collect()
}

fn thing_value(thing: &BenchThing, page_of: &impl Fn(&str) -> Option<usize>) -> Value {
    let pages: Vec<usize> = thing.steps.iter().filter_map(|step| page_of(step.as_str())).collect();
    json!({
        "k": thing.kind.word(),
        "n": thing.designation,
        "t": thing.name,
        "q": thing.quantity.map_or_else(String::new, |q| q.to_string()),
        "b": thing.bag,
        "c": thing.crate_,
        "r": thing.notes.join("; "),
        "p": pages,
    })
}

/// `3/2`
pub fn exact(value: Rational) -> String {
    format!("{}/{}", value.numer(), value.denom())
}

pub fn units_word(units: UnitStyle) -> &'static str {
    match units {
        UnitStyle::InchFraction => "fraction",
        UnitStyle::InchDecimal => "decimal",
        UnitStyle::Millimetre => "mm",
        UnitStyle::Both => "both",
    }
}

/// A page, and the words by which it is found.
fn page(site: &Site<'_>, number: usize, leaf: &Leaf) -> (Value, Found) {
    let units = site.document.meta.units;
    let title = plain_text(&leaf.title, units);
    let mut found = Found::default();
    found.add(&title, IN_TITLE);
    if let Some(own) = &leaf.number {
        found.put(own.to_lowercase(), IN_NUMBER);
    }
    if is_searched(leaf.role) {
        found.add(&text_of(&leaf.blocks, units), IN_TEXT);
        all_blocks(&leaf.blocks).for_each(|block| found.block(block));
    }
    let mut page = json!({ "f": site.file(number), "t": title, "r": role_word(leaf.role) });
    if let Some(own) = &leaf.number {
        page["n"] = json!(&**own);
    }
    if let Some(step) = step_id(leaf) {
        page["s"] = json!(step.as_str());
        page["d"] = json!(digest(site, leaf));
        let measures = measures(site, step, &leaf.blocks);
        if !measures.is_empty() {
            page["m"] = json!(measures);
        }
    }
    (page, found)
}

/// The words by which a page or a thing is found, and how much each counts.
#[derive(Default)]
struct Found {
    words: BTreeMap<String, u32>,
}

impl Found {
    fn add(&mut self, text: &str, weight: u32) {
        words(text).into_iter().for_each(|word| self.put(word, weight));
    }

    /// What is looked for besides the words: figures by their labels and what they show, lengths by their exact values.
    fn block(&mut self, block: &Block) {
        if let BlockKind::Figure(figure) = &block.kind {
            self.add(&figure.label, IN_TITLE);
            self.add(&figure.alt, IN_TEXT);
        }
        block.lines().into_iter().for_each(|(_, line)| self.lengths(line));
    }

    fn lengths(&mut self, line: &[Inline]) {
        for inline in line {
            match inline {
                Inline::Length(length) => self.put(format!("={}", exact(length.as_inches())), IN_TEXT),
                Inline::Measure(m) if m.unit.word() == "in" => self.put(format!("={}", exact(m.value)), IN_TEXT),
                other => self.lengths(other.children()),
            }
        }
    }

    /// A word counts as its best place, and a little more for each further one, up to a limit.
    fn put(&mut self, word: String, weight: u32) {
        if word.is_empty() {
            return;
        }
        let known = self.words.entry(word).or_default();
        *known = if weight > *known { weight } else { (*known + 1).min(weight.max(*known).max(IN_TITLE)) };
    }
}

/// The words in order, and for each its places and weights, one after another. A place is that of its words in `found`.
fn index(found: Vec<Found>) -> (Vec<String>, Vec<Vec<usize>>) {
    let placed = found.into_par_iter().enumerate();
    let mut all: Vec<(String, usize, u32)> = placed
        .flat_map_iter(|(place, found)| found.words.into_iter().map(move |(word, weight)| (word, place, weight)))
        .collect();
    all.par_sort_unstable();
    let mut words: Vec<String> = Vec::new();
    let mut posts: Vec<Vec<usize>> = Vec::new();
    for (word, place, weight) in all {
        if words.last() != Some(&word) {
            words.push(word);
            posts.push(Vec::new());
        }
        if let Some(places) = posts.last_mut() {
            places.extend([place, weight as usize]);
        }
    }
    (words, posts)
}
