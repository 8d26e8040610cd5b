//! Where holes are in their part, and whether they are too near to each other, to an edge or to an end.

use std::collections::BTreeMap;

use super::hole_ledger::same_size;
use super::{HoleLedger, HoleRecord, Items};
use crate::model::{Hole, HoleRow, ListedHole, Manual, Stations, StepItem, StockShape, TubeEnd};
use crate::resolve::Resolved;
use crate::source::{Span, Spanned};
use crate::trade::{Cited, ItemForm, RivetHead, Spacing};
use crate::units::{Length, PartNumber, Rational};

/// Points of a part beyond this many are not compared with each other: their rows are all the same.
const MOST_POINTS: usize = 2_000;

/// What a hole is too near to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NearWhat<'a> {
    /// An edge of the part, as the list of holes gives it.
    Edge,
    /// An end of a part with a length.
    End,
    /// The next hole of its own row.
    Next,
    /// A hole of this name in the same row.
    InRow(&'a str),
    /// A hole of this name in another row.
    OtherRow(&'a str),
    /// It lies beyond the part's end.
    Beyond,
}

/// A hole that is too near to something.
#[derive(Clone, Debug)]
pub struct Near<'a> {
    pub part: &'a PartNumber,
    pub hole: &'a str,
    /// What says where it is.
    pub span: Span,
    pub what: NearWhat<'a>,
    /// Between middles, or from the middle to the edge; rounded to a thousandth where it is aslant.
    pub distance: Length,
    pub least: Length,
    /// How many diameters `least` is.
    pub times: Cited<Rational>,
    pub diameter: Cited<Length>,
    /// The fastener the hole is for, or `None` where the hole's own size was taken.
    pub fastener: Option<&'a str>,
}

/// The holes of a configuration that are too near to something by the manual's rules of spacing. Rows of the list that
/// hold for an opposite part too are looked at once.
pub fn too_near<'a>(
    manual: &'a Manual,
    items: &Items,
    resolved: &'a Resolved,
    ledger: &HoleLedger<'a>,
) -> Vec<Near<'a>> {
    let mut drilled: BTreeMap<&PartNumber, Vec<(&'a StepItem<Hole>, &'a HoleRow)>> = BTreeMap::new();
    for hole in resolved.steps.iter().flat_map(|s| &s.step.holes) {
        if let Some(row) = &hole.row {
            drilled.entry(&hole.part.value).or_default().push((hole, row));
        }
    }
    let mut found = Vec::new();
    for (number, part) in &manual.parts {
        let size = |name: &'a str| sized(items, resolved, ledger.holes.get(&(number, name))?);
        let own = manual.holes.get(number).map_or(&[][..], Vec::as_slice);
        let listed = own.iter().filter_map(|h| Some(PlaceRow::listed(h, size(h.hole.value.as_str())?)));
        let of_steps = drilled.get(number).map_or(&[][..], Vec::as_slice).iter();
        let tube =
            part.stock.as_ref().and_then(|s| manual.stock.get(&s.value)).filter(|s| s.shape == StockShape::RoundTube);
        let around = tube.and_then(|s| s.outside_diameter).map(|d| rounded(d.value.to_f64() * std::f64::consts::PI));
        let length = part.cut_length.map(|l| l.value);
        let of_steps = of_steps.filter_map(|(hole, row)| {
            PlaceRow::drilled(hole, row, length, around, size(hole.hole.as_ref().map_or("", |h| h.value.as_str()))?)
        });
        let rows: Vec<PlaceRow> = listed.chain(of_steps).collect();
        for row in &rows {
            row.edges(manual, number, length, &mut found);
        }
        between(manual, number, &rows, around, &mut found);
    }
    found
}

/// The diameter that distances are counted in.
struct Sized<'a> {
    diameter: Cited<Length>,
    fastener: Option<&'a str>,
    flush: bool,
}

fn sized<'a>(items: &Items, resolved: &'a Resolved, record: &HoleRecord<'a>) -> Option<Sized<'a>> {
    let size = record.largest();
    let named = record.for_.filter(|f| items.get(f).is_some_and(|f| f.diameter.is_some()));
    let of_joints = || {
        let size = size?;
        let joints = resolved.steps.iter().flat_map(|s| &s.step.joints);
        let through =
            joints.filter(|j| j.stack.iter().any(|m| m.part.value == *record.part)).map(|j| &j.fastener.value);
        let fits = |diameter: Length| same_size(size, diameter);
        through
            .filter(|f| items.get(f).and_then(|f| f.diameter).is_some_and(|d| fits(d.value)))
            .max_by_key(|f| items.get(f).and_then(|f| f.diameter))
    };
    match named.or_else(of_joints) {
        Some(name) => {
            let fastener = items.get(name)?;
            let flush = matches!(
                fastener.form,
                ItemForm::SolidRivet(RivetHead::Flush100 | RivetHead::Flush120)
                    | ItemForm::BlindRivet(RivetHead::Flush100 | RivetHead::Flush120)
            );
            Some(Sized { diameter: fastener.diameter?, fastener: Some(name.as_str()), flush })
        }
        None => {
            let source = crate::trade::Source::Published("list of holes");
            Some(Sized { diameter: Cited::new(size?, source), fastener: None, flush: false })
        }
    }
}

/// Holes in a row.
struct PlaceRow<'a> {
    hole: &'a str,
    size: Sized<'a>,
    /// Where its holes are along the part, and what says so.
    along: Vec<Length>,
    place: Span,
    across: Option<Length>,
    /// From one to the next, and to the edge, where it is told.
    pitch: Option<Spanned<Length>>,
    edge: Option<Spanned<Length>>,
}

impl<'a> PlaceRow<'a> {
    /// A row of the list of holes.
    fn listed(listed: &'a ListedHole, size: Sized<'a>) -> Self {
        let count = listed.count.min(MOST_POINTS as i64);
        let along = match (listed.along, listed.pitch) {
            (Some(first), Some(pitch)) => (0..count).map(|i| first.value + pitch.value * i).collect(),
            (Some(first), None) if count == 1 => vec![first.value],
            _ => Vec::new(),
        };
        Self {
            hole: listed.hole.value.as_str(),
            size,
            along,
            place: listed.along.map_or(listed.span, |a| a.span),
            across: listed.across.map(|a| a.value),
            pitch: listed.pitch,
            edge: listed.edge,
        }
    }

    /// A row that a step drills, on a line of a tube.
    fn drilled(
        hole: &'a StepItem<Hole>,
        row: &'a HoleRow,
        length: Option<Length>,
        around: Option<Length>,
        size: Sized<'a>,
    ) -> Option<Self> {
        let count = hole.count.clamp(1, MOST_POINTS as i64);
        let mut along: Vec<Length> = match &row.stations {
            Stations::At(all) => all.iter().map(|s| s.value).collect(),
            Stations::Spaced { first, last } => {
                let gap = (last.value - first.value).as_inches() / Rational::from_integer((count - 1).max(1));
                (0..count).map(|i| first.value + Length::from_inches(gap * i)).collect()
            }
        };
        if row.from == TubeEnd::B {
            let length = length?;
            along.iter_mut().for_each(|place| *place = length - *place);
        }
        along.sort();
        let pitch = along.windows(2).map(|pair| pair[1] - pair[0]).min();
        // Twelve o'clock is the datum line.
        let across = row
            .line
            .zip(around)
            .map(|(line, around)| rounded(around.to_f64() * f64::from(line.value.hour() % 12) / 12.0));
        let hole_name = hole.hole.as_ref().map_or("", |h| h.value.as_str());
        Some(Self {
            hole: hole_name,
            size,
            along,
            place: row.span,
            across,
            pitch: pitch.map(|p| Spanned::new(p, row.span)),
            edge: None,
        })
    }

    fn near(
        &self,
        part: &'a PartNumber,
        what: NearWhat<'a>,
        (distance, span): (Length, Span),
        times: Cited<Rational>,
    ) -> Near<'a> {
        let Sized { diameter, fastener, .. } = self.size;
        let least = Spacing::least(times, diameter.value).value;
        Near { part, hole: self.hole, span, what, distance, least, times, diameter, fastener }
    }

    fn edges(&self, manual: &'a Manual, part: &'a PartNumber, length: Option<Length>, found: &mut Vec<Near<'a>>) {
        let spacing = &manual.settings.fastening.spacing;
        let times = if self.size.flush { spacing.flush_edge } else { spacing.edge };
        let first = self.along.iter().min().copied();
        let last = self.along.iter().max().copied().zip(length).map(|(last, length)| length - last);
        let edges = self.edge.map(|e| (NearWhat::Edge, e.value, e.span)).into_iter();
        let ends = first
            .into_iter()
            .chain(last)
            .map(|d| (if d > Length::ZERO { NearWhat::End } else { NearWhat::Beyond }, d, self.place));
        let next = self.pitch.map(|p| self.near(part, NearWhat::Next, (p.value, p.span), spacing.pitch));
        let edges = edges.chain(ends).map(|(what, distance, span)| self.near(part, what, (distance, span), times));
        found.extend(edges.chain(next).filter(|near| Spacing::short(near.distance, near.least)));
    }
}

/// Holes of different rows.
fn between<'a>(
    manual: &Manual,
    part: &'a PartNumber,
    rows: &[PlaceRow<'a>],
    around: Option<Length>,
    found: &mut Vec<Near<'a>>,
) {
    let spacing = &manual.settings.fastening.spacing;
    let mut points: Vec<(Length, Option<Length>, usize)> = rows
        .iter()
        .enumerate()
        .flat_map(|(i, row)| row.along.iter().map(move |along| (*along, row.across, i)))
        .take(MOST_POINTS)
        .collect();
    points.sort();
    let widest = rows.iter().map(|r| r.size.diameter.value).max().unwrap_or(Length::ZERO);
    let reach = Spacing::least(spacing.pitch, widest).value.max(Spacing::least(spacing.rows, widest).value);
    for (at, &(along, across, i)) in points.iter().enumerate() {
        for &(other_along, other_across, j) in points[at + 1..].iter().take_while(|p| p.0 - along < reach) {
            // A row's own pitch is looked at with the row.
            if i == j || across.is_some() != other_across.is_some() {
                continue;
            }
            let aside = across.zip(other_across).map_or(Length::ZERO, |(a, b)| a.max(b) - a.min(b));
            // Around a tube the other way may be shorter.
            let aside = around.map_or(aside, |around| aside.min((around - aside).max(Length::ZERO)));
            let (row, other) = if rows[i].size.diameter.value >= rows[j].size.diameter.value { (i, j) } else { (j, i) };
            let name = rows[other].hole;
            let (what, times) = if aside == Length::ZERO {
                (NearWhat::InRow(name), spacing.pitch)
            } else {
                (NearWhat::OtherRow(name), spacing.rows)
            };
            let near = rows[row].near(part, what, (apart(other_along - along, aside), rows[row].place), times);
            let again = |n: &Near| n.span == near.span && n.what == near.what;
            if Spacing::short(near.distance, near.least) && !found.iter().any(again) {
                found.push(near);
            }
        }
    }
}

fn apart(along: Length, aside: Length) -> Length {
    if along == Length::ZERO || aside == Length::ZERO {
        return along + aside;
    }
    rounded(libm::hypot(along.to_f64(), aside.to_f64()))
}

/// A length in thousandths of an inch.
fn rounded(inches: f64) -> Length {
    Length::inches((inches * 1000.0).round() as i64, 1000)
}
