//! `holes.csv`: the holes that parts come with or get, where they are and how large.

use indexmap::IndexMap;

use super::fields::{DRILL, Key, LENGTH, count, key};
use super::parts::{missing, positive_length};
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink};
use crate::model::part::ListedHole;
use crate::source::Spanned;
use crate::syntax::Table;
use crate::trade::Drill;
use crate::units::{Length, PartNumber};

/// The columns of the list of holes.
pub const HOLE_COLUMNS: &[Key] = &[
    key("part", "the part's number; where its opposite has no rows of its own they hold for both"),
    key("hole", "the hole's name, as in the column as supplied of parts.csv and in the steps"),
    key("count", "how many holes of one piece this row stands for; one where it is empty"),
    key("size", "how large they come, as a drill: \"#30\", F, 1/4, 6.5 mm; empty for holes that a step drills"),
    key("along", "from end A of a tube, or from the left edge, to the middle of the first"),
    key("across", "from the lower edge to their middle; on a tube around its outside from the datum line"),
    key("pitch", "from the middle of a hole of the row to that of the next"),
    key("edge", "least distance from the middle of any of them to an edge of the part"),
    key("note", "a remark"),
];

pub(super) fn holes(table: &Table, sink: &mut Sink) -> IndexMap<PartNumber, Vec<ListedHole>> {
    let c = Columns::new(table, HOLE_COLUMNS, &[], &["part", "hole"], sink);
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
