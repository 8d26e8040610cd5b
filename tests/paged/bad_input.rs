//! What no author means to write, and what must still come out readable.

use std::collections::{BTreeMap, BTreeSet};

use kitwright::document::*;
use kitwright::emit::pdf::{PdfInk, write};
use kitwright::layout::{Fonts, ItemKind, Laid, Problem, Style, lay_out};
use kitwright::units::FigureName;

use super::drawn::{figures, svg};
use super::specimen::{block, column, document, leaf, p, row, safety, step_leaf, t};
use super::{print, specimen};

fn with(blocks: Vec<Block>) -> Document {
    let mut document = document(Purpose::Manual);
    document.leaves = vec![leaf("page", "x", LeafRole::Text, "Trial", blocks)];
    document
}

/// Every letter drawn, furniture and all, and nothing outside the page.
fn letters(laid: &Laid) -> usize {
    let mut count = 0;
    for page in &laid.pages {
        for item in &page.items {
            if let ItemKind::Text(run) = &item.kind {
                assert!(item.at.0 >= -0.5 && item.at.0 + run.width() <= page.size.0 + 0.5, "text off the page's side");
                assert!(item.at.1 >= 0.0 && item.at.1 <= page.size.1, "text off the page's end");
                if item.tag.is_some() {
                    count += run.glyphs.len();
                }
            }
        }
    }
    count
}

#[test]
fn a_word_of_5000_letters_is_parted_and_complete() {
    let word = "x".repeat(5000);
    let laid = print(with(vec![p(&word)]), &BTreeMap::new()).laid;
    let without = print(with(vec![]), &BTreeMap::new()).laid;
    assert_eq!(letters(&laid) - letters(&without), 5000);
    assert!(laid.pages.len() < 5);
}

#[test]
fn a_table_wider_than_the_page_is_fitted_and_told() {
    let columns: Vec<Column> =
        (0..30).map(|i| column(&format!("Column{i}"), CellAlign::Start, Width::Fit, i == 0)).collect();
    let rows = (0..3).map(|_| row((0..30).map(|i| t(&format!("value{i}value"))).collect())).collect();
    let table = block(BlockKind::Table(Table { role: TableRole::Plain, caption: vec![], columns, rows }));
    let laid = print(with(vec![table]), &BTreeMap::new()).laid;
    letters(&laid);
    assert!(laid.problems.iter().any(|p| matches!(p, Problem::TableTight { .. })));
}

#[test]
fn a_cell_taller_than_a_page_goes_on_on_the_next() {
    let columns =
        vec![column("A", CellAlign::Start, Width::Fit, true), column("B", CellAlign::Start, Width::Share(1), false)];
    let long = "word ".repeat(4000);
    let rows = vec![row(vec![t("short"), t(&long)]), row(vec![t("next"), t("row")])];
    let table = block(BlockKind::Table(Table { role: TableRole::Plain, caption: vec![], columns, rows }));
    let laid = print(with(vec![table]), &BTreeMap::new()).laid;
    let without = print(with(vec![]), &BTreeMap::new()).laid;
    assert!(letters(&laid) - letters(&without) >= 4000 * 5);
    assert!(laid.pages.len() > 3);
}

#[test]
fn a_safety_message_is_whole_unless_no_page_holds_it() {
    let mut blocks: Vec<Block> = Vec::new();
    for i in 0..40 {
        blocks.push(p(&"filling ".repeat(10 + i * 3)));
        blocks.push(safety(SafetyWord::Warning, &"It bites hard. ".repeat(8)));
    }
    let laid = print(with(blocks), &BTreeMap::new()).laid;
    assert!(laid.problems.is_empty());
    // Of each message the word and the last line stand on one page: as many words as messages a page.
    let endless = with(vec![safety(SafetyWord::Danger, &"It bites. ".repeat(2500))]);
    let laid = print(endless, &BTreeMap::new()).laid;
    assert!(laid.problems.iter().any(|p| matches!(p, Problem::SafetySplit { .. })));
}

#[test]
fn figures_of_extreme_shape_stay_on_the_page() {
    let bar = |w: u32, h: u32| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{w}' height='{h}'><rect width='{w}' height='{h}'/></svg>"
        )
    };
    for (w, h) in [(10_000, 1), (1, 10_000), (1, 1), (30_000, 30_000)] {
        let file = svg("x.svg", &bar(w, h), w, h);
        let laid = print(with(vec![specimen::figure("x.svg")]), &BTreeMap::from([(file.name.clone(), file)])).laid;
        for placed in &laid.placed {
            assert!(placed.width <= 612.0 && placed.height <= 792.0, "{w} by {h}: {placed:?}");
        }
        letters(&laid);
    }
}

#[test]
fn three_hundred_callouts_are_all_there() {
    let mut figure = specimen::figure("foot.svg");
    if let BlockKind::Figure(f) = &mut figure.kind {
        f.callouts = (1..=300)
            .map(|n| Callout {
                number: n,
                at: (f64::from(n % 20) * 6.0 - 5.0, f64::from(n / 20) * 8.0),
                text: t(&format!("callout {n}")),
                to: None,
            })
            .collect();
    }
    let laid = print(with(vec![figure]), &figures()).laid;
    letters(&laid);
    assert!(laid.pages.len() >= 3);
}

#[test]
fn an_empty_document_is_still_a_document() {
    let mut empty = document(Purpose::Manual);
    empty.leaves.clear();
    assert!(!print(empty, &BTreeMap::new()).laid.pages.is_empty());
    let hollow = with(vec![
        block(BlockKind::Paragraph(vec![])),
        block(BlockKind::List {
            ordered: Some(u64::MAX),
            items: vec![ListItem { tick: true, blocks: vec![] }, ListItem { tick: false, blocks: vec![] }],
        }),
        block(BlockKind::Table(Table { role: TableRole::Plain, caption: vec![], columns: vec![], rows: vec![] })),
        block(BlockKind::Table(Table {
            role: TableRole::Plain,
            caption: vec![],
            columns: vec![column("", CellAlign::Start, Width::Fit, false)],
            rows: vec![row(vec![]), row(vec![t("a"), t("one too many")])],
        })),
        block(BlockKind::Safety { word: SafetyWord::Danger, blocks: vec![] }),
        block(BlockKind::Group(Group { role: "do", title: vec![], blocks: vec![] })),
        block(BlockKind::Fields(vec![])),
        block(BlockKind::Quote(vec![])),
        block(BlockKind::Contents(vec![])),
        block(BlockKind::Preformatted("".into())),
        block(BlockKind::Paragraph(vec![Inline::LineBreak, Inline::LineBreak, Inline::Text("\0\t\u{1b}".into())])),
    ]);
    print(hollow, &BTreeMap::new());
}

#[test]
fn deep_nesting_comes_to_an_end() {
    let mut inner = p("deep");
    for i in 0..60 {
        inner = match i % 3 {
            0 => block(BlockKind::Quote(vec![inner])),
            1 => block(BlockKind::List { ordered: None, items: vec![ListItem { tick: false, blocks: vec![inner] }] }),
            _ => block(BlockKind::Group(Group { role: "do", title: t("Do"), blocks: vec![inner] })),
        };
    }
    print(with(vec![inner]), &BTreeMap::new());
}

#[test]
fn a_missing_figure_is_told_and_its_words_are_printed() {
    let laid = print(with(vec![specimen::figure("nowhere.svg")]), &BTreeMap::new()).laid;
    assert!(matches!(&laid.problems[..], [Problem::MissingFigure { name, .. }] if name.as_str() == "nowhere.svg"));
}

#[test]
fn a_letter_no_font_has_is_told_once_a_place_and_drawn() {
    let laid = print(with(vec![p("before 漢 after")]), &BTreeMap::new()).laid;
    let missing: BTreeSet<char> = laid
        .problems
        .iter()
        .filter_map(|p| match p {
            Problem::MissingGlyph { character, .. } => Some(*character),
            _ => None,
        })
        .collect();
    assert_eq!(missing, BTreeSet::from(['漢']));
}

#[test]
fn a_broken_font_is_told_and_the_built_in_one_is_used() {
    let document = with(vec![p("Text")]);
    let fonts = Fonts::new(Some(b"no font at all"));
    let none: BTreeMap<FigureName, _> = BTreeMap::new();
    let laid = lay_out(&document, &none, &fonts, &Style::of(&document));
    assert!(matches!(&laid.problems[..], [Problem::BadFont { .. }]));
    assert!(write(laid, &none, &fonts, PdfInk::Colour, None).is_ok());
}

#[test]
fn a_link_to_nowhere_is_told() {
    let document = with(vec![block(BlockKind::Paragraph(vec![Inline::Link {
        to: Anchor::new("step", "gone"),
        content: t("gone"),
    }]))]);
    let laid = print(document, &BTreeMap::new()).laid;
    assert!(matches!(&laid.problems[..], [Problem::MissingAnchor { .. }]));
}

#[test]
fn a_broken_picture_is_never_passed_over() {
    let document = with(vec![specimen::figure("foot.svg")]);
    let mut files = figures();
    if let Some(file) = files.get_mut(&FigureName::new("foot.svg")) {
        file.bytes = b"<svg".as_slice().into();
    }
    let fonts = Fonts::new(None);
    let laid = lay_out(&document, &files, &fonts, &Style::of(&document));
    assert!(matches!(&laid.problems[..], [Problem::MissingFigure { .. }]));
    // A photograph is looked into only when it is written.
    let document = with(vec![specimen::figure("photo.jpg")]);
    if let Some(file) = files.get_mut(&FigureName::new("photo.jpg")) {
        file.bytes = b"\xFF\xD8\xFF".as_slice().into();
    }
    let laid = lay_out(&document, &files, &fonts, &Style::of(&document));
    let error = write(laid, &files, &fonts, PdfInk::Colour, None).unwrap_err().to_string();
    assert!(error.contains("photo.jpg"), "{error}");
}

#[test]
fn steps_may_follow_one_another_on_a_page() {
    let mut document = document(Purpose::Manual);
    document.leaves = (0..12)
        .map(|i| {
            let mut leaf = step_leaf(&format!("1.{i}"), &format!("s{i}"), None, None);
            leaf.blocks.truncate(2);
            leaf.parent = None;
            leaf
        })
        .collect();
    let fonts = Fonts::new(None);
    let style = Style { step_start: kitwright::units::StepStart::WhereItFits, ..Style::of(&document) };
    let packed = lay_out(&document, &BTreeMap::new(), &fonts, &style);
    let apart = lay_out(&document, &BTreeMap::new(), &fonts, &Style::of(&document));
    assert_eq!(apart.pages.len(), 13);
    assert!(packed.pages.len() <= 5, "{}", packed.pages.len());
}
