//! The pieces of tube that a step cuts: a drawing each with what follows from it, and the templates at full size.

use std::collections::BTreeSet;

use super::{DocumentComposer, meta, name, paragraph, step_anchor};
use crate::document::block::{Block, BlockKind, Drawn, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Document, Leaf, LeafRole, Purpose};
use crate::drawing::{self, PaperSheet, PrintScale, Word};
use crate::geometry::EndCut;
use crate::model::{By, Manual, Part};
use crate::plan::{TubePiece, TubeWork, hole_row, nearest_mark, on_tape};
use crate::resolve::{Resolved, ResolvedStep};
use crate::units::{Angle, Clock, Length, Paper, PartNumber, UnitStyle, Weight, plain};

/// The parts that a step cuts, each once, in the order of its cuts, with their pieces. What can't be worked out is a
/// rule's finding and is left out here.
fn pieces<'a>(tubes: &TubeWork<'a>, s: &ResolvedStep) -> Vec<TubePiece<'a>> {
    let mut seen: BTreeSet<&PartNumber> = BTreeSet::new();
    let parts = s.step.cuts.iter().map(|c| &c.part.value).filter(|p| seen.insert(p));
    parts.filter_map(|p| tubes.piece(p).ok()).collect()
}

/// A drawing for each piece of tube.
pub(super) fn drawings(c: &DocumentComposer, s: &ResolvedStep) -> Vec<Block> {
    let units = c.manual.settings.units;
    pieces(&c.tubes, s)
        .iter()
        .enumerate()
        .map(|(item, piece)| Block {
            kind: BlockKind::Drawing(Drawn {
                drawing: drawing::tube_piece(piece, units),
                caption: caption(piece, units),
            }),
            origin: Origin { step: Some(s.step.id.value.clone()), field: "cuts", item },
            anchor: None,
        })
        .collect()
}

/// What follows from the cuts: sides, blank, how the ends are turned, saw, weight.
fn caption(piece: &TubePiece, units: UnitStyle) -> Inlines {
    let mut out = vec![
        Inline::strong(piece.part.number.value.as_str()),
        Inline::text(format!(" {}. Longest line ", piece.part.name)),
    ];
    side(piece.lines.longest, units, &mut out);
    if piece.lines.longest - piece.lines.shortest > 0.001 {
        out.push(Inline::text(", shortest "));
        side(piece.lines.shortest, units, &mut out);
        if !drawing::draws_shortest(piece) {
            out.push(Inline::text(", which is on neither line that the drawing measures"));
        }
    }
    if let Some(blank) = piece.blank {
        out.extend([Inline::text("; from a blank of "), Inline::Length(blank)]);
    }
    out.push(Inline::text("."));
    if piece.bent {
        out.push(Inline::text(" It is bent: the lengths are of the tube laid out straight."));
    }
    let mitres = piece.ends.iter().all(|e| matches!(e.geometry, EndCut::Mitre { .. }));
    match piece.turned() {
        Some(turned) if !mitres => out.push(Inline::text(saddles_turned(piece, turned))),
        Some(0) => out.push(Inline::text(" Both long points on one line of the tube.")),
        Some(180) => out.push(Inline::text(" The long points on opposite sides of the tube.")),
        Some(turned) => {
            let way = if turned > 0 { "against the clock" } else { "with the clock" };
            let words = format!("° {way} from A's, looking at end B.");
            out.push(Inline::text(format!(" B's long point is turned {}{words}", turned.abs())));
        }
        None => {}
    }
    for (letter, end) in ["A", "B"].into_iter().zip(&piece.ends) {
        match (end.geometry, end.cut.and_then(|c| c.angle)) {
            (EndCut::Mitre { .. }, Some(angle)) => {
                out.extend([
                    Inline::text(format!(" End {letter}: saw set ")),
                    Inline::Angle(angle.value),
                    Inline::text(" from square."),
                ]);
            }
            (EndCut::Saddle { .. }, _) => match end.hole_saw() {
                Some((saw, off)) => {
                    let setting = Angle::degrees((off * 100.0).round() as i64, 100);
                    out.extend([
                        Inline::text(format!(" End {letter}: hole saw ")),
                        Inline::Length(saw),
                        Inline::text(", jig set "),
                        Inline::Angle(setting),
                        Inline::text(" from square."),
                    ]);
                }
                None => out.push(Inline::text(format!(" End {letter}: no hole saw will do; cut to the template."))),
            },
            _ => {}
        }
    }
    if let Some(weight) = piece.weight() {
        out.push(Inline::text(format!(" Weighs {}.", Weight::words(weight, units))));
    }
    out
}

/// How the ends of a piece lie that is saddled at one of them: a clock position of each, since a saddle may be longest
/// beside the tube that it sits on.
fn saddles_turned(piece: &TubePiece, turned: i64) -> String {
    let at = |i: usize| {
        let clock = piece.ends[i].cut.and_then(|c| c.long_point).map_or(Clock::TWELVE, |c| c.value);
        format!("{clock} of end {}", ["A", "B"][i])
    };
    let (a, b) = (at(0), at(1));
    match turned {
        0 => format!(" One line of the tube is at {a} and at {b}."),
        180 => format!(" The line at {a} is across the tube from the one at {b}."),
        _ => {
            let way = if turned > 0 { "against the clock" } else { "with the clock" };
            format!(" The line at {b} is turned {}° {way} from the one at {a}, looking at end B.", turned.abs())
        }
    }
}

/// A worked-out length, and the nearest mark of a tape beside one that is between two.
pub(super) fn side(inches: f64, units: UnitStyle, out: &mut Inlines) {
    let exact = on_tape(inches);
    out.push(Inline::Length(exact));
    // A worked-out length is rounded to what can be shown; where that is a mark of the tape nothing is added.
    let shown = |l: Length| plain(&l.pieces(units));
    if let Some(near) = nearest_mark(exact, units).filter(|near| shown(*near) != shown(exact)) {
        out.extend([Inline::text(" (on a tape "), Inline::Length(near), Inline::text(")")]);
    }
}

/// The templates of the ends that the builder cuts, by step, at full size. None where there are none.
pub fn templates(manual: &Manual, resolved: &Resolved, scale: PrintScale) -> Option<Document> {
    let tubes = TubeWork::new(manual, resolved);
    let mut leaves = vec![how()];
    for s in &resolved.steps {
        let mut blocks: Vec<Block> =
            pieces(&tubes, s).iter().flat_map(|piece| sleeves(manual, s, piece, scale)).collect();
        blocks.extend(strips(manual, s, scale));
        if !blocks.is_empty() {
            leaves.push(Leaf {
                anchor: step_anchor(&s.step.id.value),
                role: LeafRole::Step,
                number: Some(s.number.to_string().into()),
                title: vec![Inline::text(&s.step.title.value)],
                parent: None,
                blocks,
            });
        }
    }
    (leaves.len() > 1).then(|| Document {
        purpose: Purpose::Templates,
        name: name(Purpose::Templates).into(),
        meta: meta(manual, resolved),
        leaves,
        bars: crate::document::Bars::default(),
    })
}

fn sleeves(manual: &Manual, s: &ResolvedStep, piece: &TubePiece, scale: PrintScale) -> Vec<Block> {
    let here = |end: &crate::plan::EndWork| {
        end.cut.is_some_and(|c| c.by == By::Builder && s.step.cuts.iter().any(|x| x.span == c.span))
    };
    let ends = ["A", "B"].into_iter().zip(&piece.ends);
    let settings = &manual.settings;
    let mut out = Vec::new();
    for (letter, end) in ends.filter(|(_, end)| here(end) && !matches!(end.geometry, EndCut::Square)) {
        let facts = vec![
            Word::text("Tube "),
            Word::Length(piece.outside_diameter),
            Word::text(" by "),
            Word::Length(piece.wall),
            Word::text(". Printed side out, hatched side to the end, cut on the thick line."),
        ];
        let saddle = matches!(end.geometry, EndCut::Saddle { .. });
        let sheet = PaperSheet {
            title: &title(piece.part, &format!("end {letter}")),
            facts,
            note: if saddle { "Dashed: the edge of the bore. File to it from the outside." } else { "" },
            room: room(settings.paper),
            scale,
            units: settings.units,
        };
        let sheets = drawing::wrap_template(&end.geometry, piece.outside_diameter, settings.paper_thickness, &sheet);
        out.extend(sheets.into_iter().map(|drawing| template(s, "cuts", drawing)));
    }
    out
}

/// `SK-111-L Side stay, left, end A`
fn title(part: &Part, what: &str) -> String {
    let hand = part.hand.map_or_else(String::new, |h| format!(", {h}"));
    format!("{} {}{hand}, {what}", part.number.value, part.name)
}

fn template(s: &ResolvedStep, field: &'static str, drawing: drawing::Drawing) -> Block {
    super::drawn(s, field, 0, drawing, Inlines::new())
}

/// A strip for each row of holes that the builder drills.
fn strips(manual: &Manual, s: &ResolvedStep, scale: PrintScale) -> Vec<Block> {
    let mut out = Vec::new();
    for hole in s.step.holes.iter().filter(|h| h.by == By::Builder) {
        let (Some(row), Some(Ok(places))) = (&hole.row, hole_row(manual, hole)) else { continue };
        let Some(part) = manual.parts.get(&hole.part.value) else { continue };
        let end = row.from.word();
        let name = hole.hole.as_ref().map_or_else(|| "holes".to_owned(), |h| format!("holes {}", h.value));
        let line = row.line.map_or_else(String::new, |l| format!(" Middle line on {}, looking at end {end}.", l.value));
        let sheet = PaperSheet {
            title: &title(part, &format!("{name} from end {end}")),
            facts: vec![Word::text(format!(
                "Printed side out, thick edge on end {end}.{line} Punch through each circle."
            ))],
            note: "",
            room: room(manual.settings.paper),
            scale,
            units: manual.settings.units,
        };
        out.extend(
            drawing::strip_template(end, &places, &sheet).into_iter().map(|drawing| template(s, "holes", drawing)),
        );
    }
    out
}

/// What a sheet of a template may take of the paper, millimetres: within the margins, below a step's title.
fn room(paper: Paper) -> (f64, f64) {
    const POINT: f64 = 25.4 / 72.0;
    let (wide, high) = paper.size();
    (wide * POINT - 33.0, high * POINT - 70.0)
}

/// What to know before a template is used.
fn how() -> Leaf {
    let lines = [
        "Print on plain paper at 100 %, never fitted to the page. Measure both check lines of every page before you cut; below them \
         stands how far off is still good, and what to type into the print dialog where it is more.",
        "Cut out a sleeve, wrap it around the tube with the printed side out and its square edge away from the end, and \
         bring the edges together over the tab. They must meet; if they do not, the print is off or the tube is another size.",
        "Turn 12 to the tube's datum line, which is the same line at both ends. Mark along the thick line. The hatched side is waste.",
        "A template that is too large for the paper comes in sheets. Cut one along its match line, lay it on the line of the same \
         number of the next, and tape them. Measure across the joint before you use it.",
        "Lay a strip for a row of holes along the part with its thick edge on the end that is written on it. Punch through each circle.",
        "Saw outside of the line and file to it. Try the joint before you cut the other end.",
        "The lines are for the outside of a tube of the size that is written on the template. The designer's drawing governs.",
    ];
    Leaf {
        anchor: crate::document::inline::Anchor::new("templates", ""),
        role: LeafRole::Text,
        number: None,
        title: vec![Inline::text("Templates at full size")],
        parent: None,
        blocks: lines.into_iter().map(paragraph).collect(),
    }
}

#[cfg(test)]
mod tests;
