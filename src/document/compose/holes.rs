//! Holes as documents show them: with which drill and reamer, where, how they come; the register of holes.

use super::tables::{cell, column, made_by, naming, part_link, push_if_wrong, push_note, text_cell};
use super::{DocumentComposer, block, paragraph, part_anchor};
use crate::document::block::{Block, BlockKind, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::joint::{HoleLedger, HoleRecord, Supply};
use crate::model::{By, Hole, HoleAction, ListedHole, Manual, Sides};
use crate::resolve::ResolvedStep;
use crate::trade::Drill;
use crate::units::{PartNumber, Quantity, UnitStyle, natural_cmp, plain};

/// `No. 30 (.1285)`: a drill with its decimal size; in a metric manual with its millimetres.
pub(super) fn drill_words(drill: Drill, units: UnitStyle) -> String {
    match drill {
        Drill::Millimetre(_) if units == UnitStyle::Millimetre => drill.to_string(),
        _ if units == UnitStyle::Millimetre => format!("{drill} ({})", plain(&drill.size().value.pieces(units))),
        Drill::Decimal(_) => drill.to_string(),
        _ => format!("{drill} ({})", drill.decimal()),
    }
}

/// With what a hole of a step is made; empty where it says nothing.
pub(super) fn sizes(c: &DocumentComposer, hole: &Hole) -> String {
    tools(hole.drill.map(|d| d.value), hole.reamer.map(|r| r.value), c.manual.settings.units)
}

/// The drill; or `drill 15/64 in (.2344), then reamer 1/4 in (.250)`.
pub(super) fn tools(drill: Option<Drill>, reamer: Option<Drill>, units: UnitStyle) -> String {
    let drill_words = |drill| drill_words(drill, units);
    match (drill, reamer) {
        (None, None) => String::new(),
        (Some(drill), None) => drill_words(drill),
        (None, Some(reamer)) => format!("reamer {}", drill_words(reamer)),
        (Some(drill), Some(reamer)) => format!("drill {}, then reamer {}", drill_words(drill), drill_words(reamer)),
    }
}

/// The size of a hole as supplied, by the list of holes: `, No. 40`; nothing where it is not told.
pub(super) fn supplied_size(manual: &Manual, part: &PartNumber, name: &str) -> String {
    let mut sizes: Vec<String> =
        named(manual, part, name).filter_map(|h| h.size).map(|s| s.value.to_string()).collect();
    sizes.sort();
    sizes.dedup();
    if sizes.is_empty() { String::new() } else { format!(", {}", sizes.join(" and ")) }
}

/// Where holes are: `7 holes 1 in apart, the first 1/2 in from the left, 1/2 in from below (floor)`. Of a part whose rows
/// are those of its opposite, sides are changed over: it is a mirror image.
pub(super) fn place(manual: &Manual, part: &PartNumber, name: &str) -> Inlines {
    let listed = manual.parts.get(part);
    let tube = listed
        .and_then(|p| p.stock.as_ref())
        .and_then(|s| manual.stock.get(&s.value))
        .is_some_and(|s| matches!(s.shape, crate::model::StockShape::RoundTube | crate::model::StockShape::SquareTube));
    let sides = Sides::new(&manual.settings.side_words, &manual.settings.opposite_keep, &[]);
    let mut out = Inlines::new();
    for row in named(manual, part, name) {
        let mirrored = row.part.value != *part;
        let mut said: Vec<Inlines> = Vec::new();
        if let Some(pitch) = row.pitch {
            said.push(vec![
                Inline::text(format!("{} holes ", row.count)),
                Inline::Length(pitch.value),
                Inline::text(" apart"),
            ]);
        }
        if let Some(along) = row.along {
            let side = match (tube, mirrored) {
                (true, _) => " from end A",
                (false, false) => " from the left",
                (false, true) => " from the right",
            };
            let mut words = vec![Inline::Length(along.value), Inline::text(side)];
            if row.pitch.is_some() {
                words.insert(0, Inline::text("the first "));
            }
            said.push(words);
        }
        if let Some(across) = row.across {
            let mut words = vec![
                Inline::Length(across.value),
                Inline::text(if tube { " around from the datum line" } else { " from below" }),
            ];
            if tube && mirrored {
                words.push(Inline::text(format!(", the other way round than on {}", row.part.value)));
            }
            said.push(words);
        }
        if let Some(edge) = row.edge.filter(|_| row.along.is_none() || row.across.is_none()) {
            said.push(vec![Inline::Length(edge.value), Inline::text(" from the edge")]);
        }
        let note = if mirrored { sides.swapped(&row.note) } else { row.note.clone() };
        // The column beside it says so.
        let note = if note == Supply::Pilot.word() { String::new() } else { note };
        if said.is_empty() && note.is_empty() {
            continue;
        }
        if !out.is_empty() {
            out.push(Inline::text("; "));
        }
        let some = !said.is_empty();
        for (i, words) in said.into_iter().enumerate() {
            if i > 0 {
                out.push(Inline::text(", "));
            }
            out.extend(words);
        }
        if !note.is_empty() {
            out.push(Inline::text(if some { format!(" ({note})") } else { note }));
        }
    }
    out
}

fn named<'a>(manual: &'a Manual, part: &PartNumber, name: &str) -> impl Iterator<Item = &'a ListedHole> {
    let name = name.to_owned();
    manual.holes_of(part).iter().filter(move |h| h.hole.value == name)
}

/// The holes of a step, each with its drill and the state it starts from.
pub(super) fn table(c: &DocumentComposer, s: &ResolvedStep) -> Option<Table> {
    if s.step.holes.is_empty() {
        return None;
    }
    let columns = vec![
        naming("Part", Width::Fit),
        column("Hole", CellAlign::Start, Width::Fit),
        column("Count", CellAlign::End, Width::Fit),
        column("Do", CellAlign::Start, Width::Share(3)),
        column(
            if s.step.holes.iter().any(|h| h.reamer.is_some()) { "Drill and reamer" } else { "Drill" },
            CellAlign::Start,
            Width::Share(2),
        ),
        column("Place", CellAlign::Start, Width::Share(3)),
        column("As supplied", CellAlign::Start, Width::Share(2)),
        column("Made by", CellAlign::Start, Width::Fit),
    ];
    let made_by = made_by(c, s.step.holes.iter().map(|hole| hole.by));
    let rows = s.step.holes.iter().map(|hole| {
        let mut work = vec![Inline::text(hole.action.word())];
        if let Some(from) = &hole.from {
            work.push(Inline::text(" from "));
            work.push(part_link(&from.value));
        }
        if let Some(for_) = &hole.for_ {
            work.push(Inline::text(" for "));
            work.push(c.hardware_link(&for_.value));
        }
        push_note(&mut work, hole.note.as_deref());
        if let Some(with) = &hole.touch_up {
            let title = c.manual.settings.consumable_title(&with.value);
            work.extend([Inline::LineBreak, Inline::text(format!("Touch up the bare edge with {title}"))]);
        }
        push_if_wrong(&mut work, hole.if_wrong.as_deref());
        let with = sizes(c, hole);
        let name = hole.hole.as_ref().map(|h| h.value.as_str());
        let at = name.map_or_else(Inlines::new, |name| place(c.manual, &hole.part.value, name));
        let state = c.part(&hole.part.value).zip(name).map_or_else(String::new, |(part, name)| {
            let of = |names: &[String]| names.iter().any(|n| n == name);
            let size = || supplied_size(c.manual, &hole.part.value, name);
            if of(&part.supplied.pilot_holes) {
                format!("pilot{}", size())
            } else if of(&part.supplied.holes) {
                format!("full size{}", size())
            } else if matches!(hole.action, HoleAction::Deburr | HoleAction::Prime) {
                String::new()
            } else {
                "none".to_owned()
            }
        });
        TableRow {
            cells: vec![
                cell(vec![part_link(&hole.part.value)]),
                text_cell(name.unwrap_or("")),
                cell(vec![Inline::Quantity(Quantity::each(hole.count))]),
                cell(work),
                text_cell(with),
                cell(at),
                text_cell(state),
                made_by(hole.by),
            ],
            anchor: None,
            origin: Origin { step: Some(s.step.id.value.clone()), field: "holes", item: hole.index },
        }
    });
    let rows = rows.collect();
    Some(super::tables::filled(TableRole::Holes, columns, rows))
}

/// The records that a register shows, by part and name.
pub(super) fn sorted<'a, 'b>(ledger: &'b HoleLedger<'a>) -> Vec<&'b HoleRecord<'a>> {
    let mut records: Vec<_> = ledger.holes.values().collect();
    records.sort_by(|a, b| a.part.cmp(b.part).then_with(|| natural_cmp(a.name, b.name)));
    records
}

/// The register of holes.
pub(super) fn register(c: &DocumentComposer) -> Vec<Block> {
    let columns = vec![
        naming("Part", Width::Fit),
        column("Hole and its place", CellAlign::Start, Width::Share(3)),
        column("Count", CellAlign::End, Width::Fit),
        column("As supplied", CellAlign::Start, Width::Share(2)),
        column("Drill and reamer", CellAlign::Start, Width::Share(3)),
        column("For", CellAlign::Start, Width::Fit),
        column("Work", CellAlign::Start, Width::Share(4)),
    ];
    let ledger = HoleLedger::new(c.manual, &c.items, c.resolved);
    let rows: Vec<TableRow> = sorted(&ledger).into_iter().map(|record| row(c, record)).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let intro = "Every hole that a part comes with or that a step makes, on all pieces of the part together: how it comes, where \
                 it is, what is done to it in which step, and the drill and reamer it ends with.";
    let table = super::tables::filled(TableRole::Index, columns, rows);
    vec![paragraph(intro), block(BlockKind::Table(table))]
}

fn row(c: &DocumentComposer, record: &HoleRecord) -> TableRow {
    let mut work = Inlines::new();
    for done in &record.work {
        if !work.is_empty() {
            work.push(Inline::text("; "));
        }
        let by = if done.hole.by == By::Maker { "by the maker " } else { "" };
        work.push(Inline::text(format!("{} {by}in step ", done.hole.action.word())));
        work.push(c.step_link(done.step));
        if let Some(from) = &done.hole.from {
            work.push(Inline::text(format!(" from {}", from.value)));
        }
    }
    for done in done_besides(record) {
        let lead = if work.is_empty() { "" } else { "; " };
        work.push(Inline::text(format!("{lead}{done}")));
    }
    let (drill, reamer) = record.tools();
    let link = Inline::Link { to: part_anchor(record.part), content: vec![Inline::text(record.part.as_str())] };
    let supply = match record.supply {
        Supply::None => record.supply.word().to_owned(),
        _ => format!("{}{}", record.supply.word(), supplied_size(c.manual, record.part, record.name)),
    };
    let count = record.count();
    let mut named_place = vec![Inline::text(record.name)];
    let place = place(c.manual, record.part, record.name);
    if !place.is_empty() {
        named_place.push(Inline::text(": "));
        named_place.extend(place);
    }
    TableRow {
        cells: vec![
            if c.part(record.part).is_some() { cell(vec![link]) } else { text_cell(record.part.as_str()) },
            cell(named_place),
            cell(if count > 0 { vec![Inline::Quantity(Quantity::each(count))] } else { Vec::new() }),
            text_cell(supply),
            text_cell(tools(drill, reamer, c.manual.settings.units)),
            text_cell(record.for_.map_or("", |f| f.as_str())),
            cell(work),
        ],
        anchor: None,
        origin: Origin::default(),
    }
}

/// What steps did to it by their tools and consumables alone.
pub(super) fn done_besides(record: &HoleRecord) -> Vec<&'static str> {
    use crate::model::HoleAction::{Deburr, Prime};
    let drilled = record.work.iter().any(|w| w.hole.by == By::Builder && !matches!(w.hole.action, Deburr | Prime));
    let said = |action| record.work.iter().any(|w| w.hole.action == action);
    let mut done = Vec::new();
    if drilled && record.burred.is_none() && !said(Deburr) {
        done.push("deburred");
    }
    if record.primed && record.bare.is_none() && !said(Prime) {
        done.push("primed");
    }
    done
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Memory;
    use crate::units::UnitStyle;

    /// A mirror image has its left edge on the right; a tube keeps its ends. The rows are written for one hand only.
    #[test]
    fn a_part_that_takes_its_opposites_rows_has_them_mirrored() {
        let mut files = Memory::new();
        files
            .insert("manual.yaml", "title: T\nvariants:\n  A: { title: A }\nsections:\n  - { section: s, title: S }\n");
        files.insert(
            "parts.csv",
            "number,name,hand,opposite,stock,cut length,A\n\
             P-L,Plate,left,P-R,S,,1\nP-R,Plate,right,P-L,S,,1\nT-L,Tube,left,T-R,T,20,1\nT-R,Tube,right,T-L,T,20,1\n",
        );
        files.insert(
            "stock.csv",
            "stock,material,shape,outside diameter,wall\nS,4130 steel,sheet,,.090\nT,4130 steel,round tube,1.25,.058\n",
        );
        files.insert(
            "holes.csv",
            "part,hole,count,size,along,across,pitch,edge,note\n\
             P-L,A,7,#40,1/2,3/4,1,1/2,\"floor, left leg\"\nP-L,B,1,#40,,,,1/2,pilot\nT-L,A,1,#30,2,1,,,\n",
        );
        let manual = crate::model::read(&files).expect("memory can be listed").manual.expect("a manual");
        let said = |part: &str, hole: &str| {
            crate::document::plain_text(&place(&manual, &PartNumber::new(part), hole), UnitStyle::InchFraction)
        };
        let row = "7 holes 1 in apart, the first 1/2 in from the";
        assert_eq!(said("P-L", "A"), format!("{row} left, 3/4 in from below (floor, left leg)"));
        assert_eq!(said("P-R", "A"), format!("{row} right, 3/4 in from below (floor, right leg)"));
        assert_eq!(said("P-R", "B"), "1/2 in from the edge");
        assert_eq!(said("T-L", "A"), "2 in from end A, 1 in around from the datum line");
        assert_eq!(
            said("T-R", "A"),
            "2 in from end A, 1 in around from the datum line, the other way round than on T-L"
        );
    }
}
