//! The bends and flattened ends of a step: tables with the marks, and a drawing each with what follows from it.

use super::cuts::side;
use super::tables::{cell, column, filled, made_by, naming, part_link, push_note, text_cell};
use super::{DocumentComposer, drawn};
use crate::document::block::{Block, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::drawing;
use crate::model::TubeEnd;
use crate::plan::{BentPiece, BentShape, FlatEnd, bent_piece, flat_end, on_tape};
use crate::resolve::ResolvedStep;
use crate::units::{Clock, decimal_text};

/// What can be laid out; what can't is a rule's finding.
fn pieces<'a>(c: &'a DocumentComposer, s: &'a ResolvedStep) -> Vec<BentPiece<'a>> {
    s.step.bends.iter().filter_map(|b| bent_piece(c.manual, b).ok()).collect()
}

/// Every bend of a step with its marks, all measured from end A.
pub(super) fn table(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Part", Width::Fit),
        column("Bend", CellAlign::Start, Width::Share(3)),
        column("Begins, from end A", CellAlign::Start, Width::Share(3)),
        column("Ends, from end A", CellAlign::Start, Width::Share(3)),
        column("Setback", CellAlign::Start, Width::Fit),
        column("Along the bend", CellAlign::Start, Width::Fit),
        column("Made by", CellAlign::Start, Width::Fit),
    ];
    let pieces = pieces(c, s);
    let made_by = made_by(c, pieces.iter().map(|piece| piece.work.by));
    let mut rows = Vec::new();
    for piece in &pieces {
        for (i, bend) in piece.bends.iter().enumerate() {
            let (begins, ends) = piece.flat.bends[i];
            let mut what = vec![
                Inline::text(format!("{}: ", i + 1)),
                Inline::Angle(bend.angle),
                Inline::text(", R "),
                Inline::Length(bend.inside_radius),
                Inline::text(format!(", {}", toward(piece, piece.toward[i]))),
            ];
            if i == 0 {
                push_note(&mut what, piece.work.note.as_deref());
            }
            let mut begin = Inlines::new();
            side(begins, c.manual.settings.units, &mut begin);
            if piece.shape == BentShape::Sheet {
                begin.extend([Inline::text("; sight line "), Inline::Length(on_tape(piece.sight_line(i)))]);
            }
            let mut end = Inlines::new();
            side(ends, c.manual.settings.units, &mut end);
            rows.push(TableRow {
                cells: vec![
                    cell(vec![part_link(&piece.part.number.value)]),
                    cell(what),
                    cell(begin),
                    cell(end),
                    cell(bend.setback().map(|b| Inline::Length(on_tape(b))).into_iter().collect()),
                    cell(vec![Inline::Length(on_tape(bend.allowance()))]),
                    made_by(piece.work.by),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "bends", item: piece.work.index },
            });
        }
    }
    (!rows.is_empty()).then(|| filled(TableRole::Cuts, columns, rows))
}

fn toward(piece: &BentPiece, clock: Clock) -> String {
    match (piece.shape, clock.hour()) {
        (BentShape::Sheet, 12) => "up".to_owned(),
        (BentShape::Sheet, _) => "down".to_owned(),
        (BentShape::Round, hour) => format!("towards {hour}"),
    }
}

/// A drawing for each bent piece.
pub(super) fn drawings(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let units = c.manual.settings.units;
    pieces(c, s)
        .iter()
        .map(|piece| drawn(s, "bends", piece.work.index, drawing::bent_piece(piece, units), caption(c, piece)))
        .collect()
}

fn caption(c: &DocumentComposer, piece: &BentPiece) -> Inlines {
    let mut out = vec![
        Inline::strong(piece.part.number.value.as_str()),
        Inline::text(format!(" {}. Laid out flat ", piece.part.name)),
    ];
    side(piece.flat.length, c.manual.settings.units, &mut out);
    if let Some(blank) = piece.blank {
        out.extend([Inline::text("; from a blank of "), Inline::Length(blank)]);
    }
    let neutral = piece.bends.first().map_or_else(String::new, |b| decimal_text(b.neutral, 4));
    let of = if piece.shape == BentShape::Sheet { "thickness" } else { "diameter" };
    out.push(Inline::text(format!(
        ". R is the inside radius. Legs are measured along the outside to the corner. Neutral axis at {neutral} of the {of} from the inside."
    )));
    if piece.shape == BentShape::Round {
        out.push(Inline::text(" Clock positions are seen looking at end A."));
    }
    if let Some(trim) = piece.trim(&c.tubes) {
        out.extend([
            Inline::strong(" While end A still has its trim of "),
            Inline::Strong(vec![Inline::Length(trim)]),
            Inline::strong(", add it to every mark."),
        ]);
    }
    if piece.shape == BentShape::Sheet {
        match piece.smallest {
            Some(smallest) => out.extend([
                Inline::text(" Smallest inside radius "),
                Inline::Length(smallest.value.least),
                Inline::text(", safe from "),
                Inline::Length(smallest.value.safe),
                Inline::text(format!(" on ({}, 90°).", smallest.source.words())),
            ]),
            None => out.push(Inline::text(" No published smallest radius is known for this sheet: try it on scrap.")),
        }
    }
    for (letter, end) in [("A", TubeEnd::A), ("B", TubeEnd::B)] {
        if let Some((clock, degrees)) = piece.clocking(&c.tubes, end) {
            let place = match degrees {
                0 => "lies on the inside of the bend".to_owned(),
                180 => "lies on the outside of the bend".to_owned(),
                d if d < 180 => {
                    format!("lies {d}° with the clock from the inside of the bend, looking at end {letter}")
                }
                d => {
                    format!("lies {}° against the clock from the inside of the bend, looking at end {letter}", 360 - d)
                }
            };
            out.push(Inline::text(format!(" After bending the line at {clock} of end {letter} {place}.")));
        }
    }
    for (i, toward) in piece.toward.iter().enumerate().skip(1) {
        let turned = piece.turn(*toward);
        if !matches!(turned, 0 | 180) {
            out.push(Inline::text(format!(
                " Before bend {} turn the tube {turned}° from bend 1, with the clock looking at end A.",
                i + 1
            )));
        }
    }
    out
}

fn flats<'a>(c: &'a DocumentComposer, s: &'a ResolvedStep) -> Vec<FlatEnd<'a>> {
    s.step.flattened.iter().filter_map(|f| flat_end(c.manual, f).ok()).collect()
}

/// The ends that a step presses flat.
pub(super) fn flattened(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    let columns = vec![
        naming("Part", Width::Fit),
        column("End", CellAlign::Start, Width::Fit),
        column("Flat", CellAlign::Start, Width::Fit),
        column("Wide", CellAlign::Start, Width::Share(2)),
        column("Thick", CellAlign::Start, Width::Fit),
        column("Transition", CellAlign::Start, Width::Fit),
        column("Faces", CellAlign::Start, Width::Share(2)),
        column("Made by", CellAlign::Start, Width::Fit),
    ];
    let flats = flats(c, s);
    let made_by = made_by(c, flats.iter().map(|flat| flat.work.by));
    let rows: Vec<TableRow> = flats
        .iter()
        .map(|flat| {
            let work = flat.work;
            let mut wide = Inlines::new();
            side(flat.width, c.manual.settings.units, &mut wide);
            let mut faces: Inlines =
                work.faces.map(|f| Inline::text(format!("{}, looking at the end", f.value))).into_iter().collect();
            push_note(&mut faces, work.note.as_deref());
            TableRow {
                cells: vec![
                    cell(vec![part_link(&flat.part.number.value)]),
                    text_cell(work.end.map_or(TubeEnd::Both, |e| e.value).word()),
                    cell(vec![Inline::Length(work.length.value)]),
                    cell(wide),
                    cell(vec![Inline::Length(flat.thickness)]),
                    cell(work.transition.map(|t| Inline::Length(t.value)).into_iter().collect()),
                    cell(faces),
                    made_by(flat.work.by),
                ],
                anchor: None,
                origin: Origin { step: Some(s.step.id.value.clone()), field: "flattened", item: work.index },
            }
        })
        .collect();
    (!rows.is_empty()).then(|| filled(TableRole::Cuts, columns, rows))
}

/// A drawing for each flattened end.
pub(super) fn flat_drawings(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    flats(c, s)
        .iter()
        .map(|flat| {
            let mut caption = vec![
                Inline::strong(flat.part.number.value.as_str()),
                Inline::text(format!(" {}. Pressed flat a tube of ", flat.part.name)),
            ];
            caption.extend([Inline::Length(flat.outside_diameter), Inline::text(" is half its circumference wide.")]);
            drawn(s, "flattened", flat.work.index, drawing::flat_end(flat, c.manual.settings.units), caption)
        })
        .collect()
}
