//! Change bars: beside what changed and nothing else, with the letter.

use std::collections::BTreeSet;

use kitwright::change::Change;
use kitwright::document::{Bars, Block, BlockKind, Document, Edition, Origin, Purpose, compose_edition};
use kitwright::source::Memory;

use super::{State, change, edit, folder, imprint};

const STEP: &str = "steps/frame/10-keel-join.md";

/// The demonstration in a configuration with the bars of what `work` changed.
fn barred(work: impl FnOnce(&mut Memory)) -> (Change, Document) {
    let files = folder("manual-src");
    let mut other = files.clone();
    work(&mut other);
    let (old, new) = (State::of(&files), State::of(&other));
    let (a, b) = (old.resolved("ICE+claw"), new.resolved("ICE+claw"));
    let c = change((&old, &a), (&new, &b));
    let bars = Bars::of(&imprint((&old, &a)), &imprint((&new, &b)), &b, "A", "B");
    let edition = Edition { bars, ..Edition::default() };
    (c, compose_edition(&new.manual, &b, Purpose::Manual, &edition))
}

/// The origins of blocks, list items and rows of a document that have a bar.
fn marked(document: &Document) -> BTreeSet<(String, &'static str, usize)> {
    fn walk<'a>(blocks: &'a [Block], all: &mut Vec<&'a Origin>) {
        for block in blocks {
            all.push(&block.origin);
            match &block.kind {
                BlockKind::List { items, .. } => items.iter().for_each(|i| walk(&i.blocks, all)),
                BlockKind::Table(table) => all.extend(table.rows.iter().map(|r| &r.origin)),
                BlockKind::Group(group) => walk(&group.blocks, all),
                BlockKind::Region(region) => walk(&region.blocks, all),
                BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                    walk(blocks, all);
                }
                _ => {}
            }
        }
    }
    let mut all = Vec::new();
    document.leaves.iter().for_each(|l| walk(&l.blocks, &mut all));
    let with = all.into_iter().filter(|o| document.bars.at(o).is_some());
    with.map(|o| (o.step.as_ref().map_or_else(String::new, ToString::to_string), o.field, o.item)).collect()
}

fn places(document: &Document) -> Vec<(String, &'static str)> {
    marked(document).into_iter().map(|(step, field, _)| (step, field)).collect()
}

#[test]
fn a_word_marks_its_own_line_of_the_list() {
    let (_, document) = barred(|f| edit(f, STEP, "13. Torque the nuts.", "13. Torque the four nuts."));
    let found = marked(&document);
    assert_eq!(found.len(), 1, "{found:?}");
    let item = found.first().expect("one").2;
    // The text has one paragraph, the list, and thirteen lines: the last one is the fifteenth block, counted from 0.
    assert_eq!(item, 14);
    assert_eq!(
        document.bars.at(&Origin { step: Some("keel-join".into()), field: "text", item }).map(|l| &**l),
        Some("B")
    );
}

#[test]
fn rows_are_marked_where_they_are_shown() {
    let (_, document) = barred(|f| edit(f, STEP, "  - SK-103\n", "  - { part: SK-103, note: deburred }\n"));
    assert_eq!(places(&document), [("keel-join".to_owned(), "parts")]);
    // More washers in a joint change the joint and the hardware of the step.
    let (_, document) = barred(|f| {
        edit(
            f,
            STEP,
            "    under-nut: [2 x AN960-416]\n    nut: MS21044N4\n    places: 2\n    carries: shear\n    torque: 30..40 in-lb\n    torque-reason: The bolt runs through an unbushed tube, and more pull dents the wall.\n    note: aft",
            "    under-nut: [AN960-416]\n    nut: MS21044N4\n    places: 2\n    carries: shear\n    torque: 30..40 in-lb\n    torque-reason: The bolt runs through an unbushed tube, and more pull dents the wall.\n    note: aft",
        );
    });
    let mut found = places(&document);
    found.dedup();
    let right = [
        ("", "hardware-list"),
        ("", "receive"),
        ("keel-join", "hardware"),
        ("keel-join", "joint-register"),
        ("keel-join", "joints"),
        ("keel-join", "values"),
    ];
    assert_eq!(found, right.map(|(step, field)| (step.to_owned(), field)));
}

#[test]
fn what_was_taken_out_marks_what_stands_there_now() {
    let (change, document) = barred(|f| {
        edit(
            f,
            STEP,
            "11. Pull the joint apart, deburr every hole, and degrease and prime the sleeve, its holes too.\n",
            "",
        )
    });
    assert_eq!(change.changed.len(), 1);
    let found = marked(&document);
    assert_eq!(found.iter().map(|f| (f.0.as_str(), f.1)).collect::<Vec<_>>(), [("keel-join", "text")]);
}

#[test]
fn typing_errors_that_the_author_marks_have_no_bar() {
    let mend = |f: &mut Memory, line: &str| {
        edit(f, STEP, "13. Torque the nuts.", "13. Torque all the nuts.");
        edit(f, STEP, "section: frame\n", &format!("section: frame\n{line}"));
    };
    assert!(marked(&barred(|f| mend(f, "typing-errors: A\n")).1).is_empty());
    // What was marked for an earlier release holds no more.
    assert_eq!(marked(&barred(|f| mend(f, "typing-errors: B\n")).1).len(), 1);
    // Only words are mended so, never a quantity.
    let (_, document) = barred(|f| {
        mend(f, "typing-errors: A\n");
        edit(f, STEP, "hours: 1\n", "hours: 2\n");
    });
    assert_eq!(places(&document), [("keel-join".to_owned(), "title")]);
}

#[test]
fn other_numbers_have_no_bars_and_what_comes_first_has() {
    let (change, document) =
        barred(|f| edit(f, "steps/rig/40-cleat.md", "after: [mast-join]\n", "after: [mast-join, forestay]\n"));
    assert_eq!(change.moved.len(), 1, "{:?}", change.moved);
    // The page of the step says what has to be done first.
    assert_eq!(places(&document), [("cleat".to_owned(), "title")]);
}
