//! `lines.js`: the lines of every page that the search looks into, so that it can show the line it found. A script of its
//! own, which is read when someone searches and not before.

use rayon::prelude::*;
use serde_json::json;

use super::data::{is_searched, safe_json};
use super::site::Site;
use crate::document::{Block, BlockKind, Figure, ListItem, Table, plain_text};
use crate::units::UnitStyle;

/// A list for each page, in their order; empty where the search does not look.
pub fn script(site: &Site<'_>) -> String {
    let units = site.document.meta.units;
    let of_page = site.document.leaves.par_iter().map(|leaf| {
        let mut lines = Vec::new();
        if is_searched(leaf.role) {
            push_all(&leaf.blocks, units, &mut lines);
        }
        lines
    });
    let lines: Vec<Vec<String>> = of_page.collect();
    format!("window.kitwrightLines = {};\n", safe_json(&json!(lines)))
}

fn push_all(blocks: &[Block], units: UnitStyle, lines: &mut Vec<String>) {
    blocks.iter().for_each(|block| push(block, units, lines));
}

/// Puts words before the first line of some blocks.
fn push_behind(words: &str, blocks: &[Block], units: UnitStyle, lines: &mut Vec<String>) {
    let first = lines.len();
    push_all(blocks, units, lines);
    if let Some(line) = lines.get_mut(first) {
        line.insert_str(0, words);
    }
}

fn push(block: &Block, units: UnitStyle, lines: &mut Vec<String>) {
    let plain = |line: &crate::document::Inlines| one_line(&plain_text(line, units));
    match &block.kind {
        BlockKind::List { ordered, items } => list(*ordered, items, units, lines),
        BlockKind::Table(table) => rows(table, units, lines),
        BlockKind::Figure(figure) => of_figure(figure, units, lines),
        BlockKind::Fields(fields) | BlockKind::Values(fields) => {
            lines.extend(fields.iter().map(|field| format!("{}: {}", plain(&field.label), plain(&field.value))));
        }
        BlockKind::StepHead(head) => {
            lines.extend(head.effectivity.iter().map(plain));
            lines.extend(head.facts.iter().map(|field| format!("{}: {}", plain(&field.label), plain(&field.value))));
        }
        BlockKind::Safety { word, blocks } => push_behind(&format!("{}: ", word.word()), blocks, units, lines),
        BlockKind::Group(group) => push_all(&group.blocks, units, lines),
        BlockKind::Region(region) => push_all(&region.blocks, units, lines),
        BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => push_all(blocks, units, lines),
        BlockKind::Preformatted(text) => lines.extend(text.lines().map(one_line).filter(|line| !line.is_empty())),
        BlockKind::Heading { text, .. } | BlockKind::Paragraph(text) => {
            lines.extend(Some(plain(text)).filter(|line| !line.is_empty()));
        }
        BlockKind::Drawing(drawn) => lines.extend(Some(plain(&drawn.caption)).filter(|line| !line.is_empty())),
        BlockKind::SignOff { .. } | BlockKind::Contents(_) | BlockKind::Rule => {}
    }
}

fn list(ordered: Option<u64>, items: &[ListItem], units: UnitStyle, lines: &mut Vec<String>) {
    for (number, item) in (ordered.unwrap_or(0)..).zip(items) {
        let words = ordered.map_or_else(String::new, |_| format!("{number}. "));
        push_behind(&words, &item.blocks, units, lines);
    }
}

fn rows(table: &Table, units: UnitStyle, lines: &mut Vec<String>) {
    for row in &table.rows {
        let cells = row.cells.iter().map(|cell| one_line(&plain_text(&cell.content, units)));
        let cells: Vec<String> = cells.filter(|cell| !cell.is_empty()).collect();
        if !cells.is_empty() {
            lines.push(cells.join(", "));
        }
    }
}

fn of_figure(figure: &Figure, units: UnitStyle, lines: &mut Vec<String>) {
    let caption = one_line(&plain_text(&figure.caption, units));
    lines.push(
        [&*figure.label, &caption, &*figure.alt]
            .iter()
            .filter(|s| !s.is_empty())
            .copied()
            .collect::<Vec<_>>()
            .join(": "),
    );
    let callouts = figure.callouts.iter();
    lines.extend(callouts.map(|c| format!("{}: {} {}", figure.label, c.number, one_line(&plain_text(&c.text, units)))));
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
