//! Where things are set out from a datum, rows of holes with their marks, and jigs that serve both hands.

use super::tables::{cell, column, filled, naming, push_note, text_cell};
use super::{DocumentComposer, block, drawn, paragraph};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::drawing;
use crate::plan::{hole_row, nearest_mark};
use crate::resolve::ResolvedStep;

/// The places that a step measures from a datum.
pub(super) fn offsets(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    if s.step.offsets.is_empty() {
        return None;
    }
    let columns = vec![naming("Place", Width::Share(2)), column("Where", CellAlign::Start, Width::Share(3))];
    let rows = s.step.offsets.iter().map(|offset| {
        let datum =
            c.manual.settings.datums.get(&offset.from.value).map_or(offset.from.value.as_str(), |d| d.value.as_str());
        let mut place = Inlines::new();
        for (side, length) in &offset.away {
            if !place.is_empty() {
                place.push(Inline::text(", and "));
            }
            place.extend([
                Inline::Length(length.value),
                Inline::text(format!(" {} ", side.words())),
                Inline::text(lower_first(datum)),
            ]);
        }
        push_note(&mut place, offset.note.as_deref());
        TableRow {
            cells: vec![text_cell(&offset.place.value), cell(place)],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "offsets", item: offset.index },
        }
    });
    Some(filled(TableRole::Plain, columns, rows.collect()))
}

/// `the centre line of the keel`, as it stands in a sentence.
fn lower_first(datum: &str) -> String {
    let mut chars = datum.chars();
    let first = chars.next().map_or_else(String::new, |c| c.to_lowercase().to_string());
    format!("the {first}{}", chars.as_str())
}

/// The rows of holes of a step: a drawing and a table of marks each.
pub(super) fn rows(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let units = c.manual.settings.units;
    let mut out = Vec::new();
    for hole in &s.step.holes {
        let (Some(row), Some(Ok(places))) = (&hole.row, hole_row(c.manual, hole)) else { continue };
        let part = c.part(&hole.part.value);
        let end = row.from.word();
        let whole = part.and_then(|p| p.cut_length).map(|l| l.value);
        let drawing = drawing::hole_row(hole.part.value.as_str(), end, &places, whole, units);
        let name = hole.hole.as_ref().map_or_else(String::new, |h| format!(", holes {}", h.value));
        let line = row.line.map_or_else(String::new, |l| format!(" On the line at {}, looking at end {end}.", l.value));
        let caption = vec![
            Inline::strong(hole.part.value.as_str()),
            Inline::text(format!("{name}. Every mark is measured from end {end}, so that no error adds up.{line}")),
        ];
        out.push(drawn(s, "holes", hole.index, drawing, caption));
        let columns = vec![
            naming("Hole", Width::Fit),
            column(&format!("From end {end}"), CellAlign::Start, Width::Fit),
            column("On a tape", CellAlign::Start, Width::Fit),
        ];
        let marks = places.iter().enumerate().map(|(i, place)| TableRow {
            cells: vec![
                text_cell((i + 1).to_string()),
                cell(vec![Inline::Length(*place)]),
                cell(nearest_mark(*place, units).map(Inline::Length).into_iter().collect()),
            ],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "holes", item: hole.index },
        });
        out.push(block(BlockKind::Table(filled(TableRole::Plain, columns, marks.collect()))));
    }
    out
}

/// One jig for both hands: which face is up for which hand, and from where it is drilled.
pub(super) fn one_jig(s: &ResolvedStep) -> Vec<Block> {
    let (Some(jig), Some(hand)) = (&s.step.one_jig, s.step.hand) else { return Vec::new() };
    let Some(other) = jig.other_face_up() else { return Vec::new() };
    let (here, there) = (hand.value, hand.value.opposite());
    let (up, from) = (&jig.face_up.value, jig.drilled_from.word());
    let words = format!(
        "One jig serves both hands. For the {here} hand lay the part in it with the {up} up, for the {there} hand with the {other} up. \
         Drill from {from}. Mark the hand on each part before it comes out of the jig."
    );
    let drawing = drawing::one_jig(here, up, &other, jig.drilled_from);
    vec![paragraph(words), drawn(s, "one-jig", 0, drawing, Inlines::new())]
}
