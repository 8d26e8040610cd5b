//! `holes.csv`: the holes that parts come with or get, where they are and how large.

use indexmap::IndexMap;

use super::fields::{DRILL, LENGTH, count};
use super::parts::{missing, positive_length};
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink};
use crate::model::part::ListedHole;
use crate::model::schema::HOLE_ROWS;
use crate::source::Spanned;
use crate::syntax::SourceTable;
use crate::trade::Drill;
use crate::units::{Length, PartNumber};

pub(super) fn holes(table: &SourceTable, sink: &mut Sink) -> IndexMap<PartNumber, Vec<ListedHole>> {
    let c = Columns::new(table, &HOLE_ROWS, &[], sink);
    let mut holes: IndexMap<PartNumber, Vec<ListedHole>> = IndexMap::new();
    for row in c.rows() {
        let (Some(part), Some(hole)) = (c.filled(row, "part"), c.filled(row, "hole")) else {
            missing(row, if c.filled(row, "part").is_none() { "part" } else { "hole" }, sink);
            continue;
        };
        let listed = ListedHole {
            part: part.clone().map(PartNumber::new),
            hole: hole.clone(),
            count: c.filled(row, "count").map_or(Some(1), |cell| count(cell, sink)).unwrap_or(1),
            size: c.value(row, "size", DRILL, Drill::parse, sink),
            along: c.value(row, "along", LENGTH, positive_length, sink),
            across: c.value(row, "across", LENGTH, Length::parse, sink),
            pitch: c.value(row, "pitch", LENGTH, positive_length, sink),
            edge: c.value(row, "edge", LENGTH, positive_length, sink),
            note: c.text(row, "note"),
            span: row.span,
        };
        lone_pitch(&listed, sink);
        holes.entry(listed.part.value.clone()).or_default().push(listed);
    }
    holes
}

/// A pitch says something of two holes or more, and a place of several needs it.
fn lone_pitch(listed: &ListedHole, sink: &mut Sink) {
    let name: &Spanned<String> = &listed.hole;
    match (&listed.pitch, &listed.along) {
        (Some(pitch), _) if listed.count < 2 => sink.push(
            Diagnostic::error("unreadable-value", format!("a pitch of one hole `{}`", name.value))
                .at(pitch.span, "there is no next hole")
                .help("write how many there are in the column `count`, or empty this cell"),
        ),
        (None, Some(along)) if listed.count > 1 => sink.push(
            Diagnostic::error(
                "missing-value",
                format!("how far apart the {} holes `{}` are is not said", listed.count, name.value),
            )
            .at(along.span, "the place of the first")
            .help("fill in the column `pitch`, or write a row for each hole"),
        ),
        _ => {}
    }
}
