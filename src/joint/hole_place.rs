//! Where holes are in their part, and whether they are too near to each other, to an edge or to an end.

use super::hole_ledger::SAME_SIZE;
use super::{HoleLedger, HoleRecord, Items};
use crate::model::{ListedHole, Manual};
use crate::resolve::Resolved;
use crate::trade::{Cited, Form, RivetHead, Spacing};
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
    pub row: &'a ListedHole,
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

/// The holes of a configuration that are too near to something by the manual's rules of spacing.
pub fn too_near<'a>(manual: &'a Manual, items: &Items, resolved: &'a Resolved, ledger: &HoleLedger<'a>) -> Vec<Near<'a>> {
    let mut found = Vec::new();
    for number in manual.parts.keys() {
        let rows: Vec<Row> = manual
            .holes_of(number)
            .iter()
            .filter_map(|listed| {
                let record = ledger.holes.get(&(number, listed.hole.value.as_str()))?;
                let size = sized(items, resolved, record)?;
                Some(Row { listed, size })
            })
            .collect();
        for row in &rows {
            row.edges(manual, number, &mut found);
        }
        between(manual, number, &rows, &mut found);
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
        let through = joints.filter(|j| j.stack.iter().any(|m| m.part.value == *record.part)).map(|j| &j.fastener.value);
        let fits = |diameter: Length| size >= diameter && size <= diameter + Length::inches(SAME_SIZE.0, SAME_SIZE.1);
        through.filter(|f| items.get(f).and_then(|f| f.diameter).is_some_and(|d| fits(d.value))).max_by_key(|f| items.get(f).and_then(|f| f.diameter))
    };
    match named.or_else(of_joints) {
        Some(name) => {
            let fastener = items.get(name)?;
            let flush = matches!(
                fastener.form,
                Form::SolidRivet(RivetHead::Flush100 | RivetHead::Flush120) | Form::BlindRivet(RivetHead::Flush100 | RivetHead::Flush120)
            );
            Some(Sized { diameter: fastener.diameter?, fastener: Some(name.as_str()), flush })
        }
        None => {
            let source = crate::trade::Source::Published("list of holes");
            Some(Sized { diameter: Cited::new(size?, source), fastener: None, flush: false })
        }
    }
}

struct Row<'a> {
    listed: &'a ListedHole,
    size: Sized<'a>,
}

impl<'a> Row<'a> {
    fn near(&self, part: &'a PartNumber, what: NearWhat<'a>, distance: Length, times: Cited<Rational>) -> Near<'a> {
        let Sized { diameter, fastener, .. } = self.size;
        let least = Spacing::least(times, diameter.value).value;
        Near { part, row: self.listed, what, distance, least, times, diameter, fastener }
    }

    /// The last hole of the row along the part.
    fn last(&self) -> Option<Length> {
        let along = self.listed.along?.value;
        match self.listed.pitch {
            Some(pitch) => Some(along + pitch.value * (self.listed.count - 1)),
            None => (self.listed.count == 1).then_some(along),
        }
    }

    fn edges(&self, manual: &'a Manual, part: &'a PartNumber, found: &mut Vec<Near<'a>>) {
        let spacing = &manual.settings.fastening.spacing;
        let times = if self.size.flush { spacing.flush_edge } else { spacing.edge };
        let length = manual.parts.get(part).and_then(|p| p.cut_length).map(|l| l.value);
        let ends = self.listed.along.map(|a| a.value).into_iter().chain(self.last().zip(length).map(|(last, length)| length - last));
        let edges = self.listed.edge.map(|e| (NearWhat::Edge, e.value)).into_iter();
        let ends = ends.map(|d| (if d > Length::ZERO { NearWhat::End } else { NearWhat::Beyond }, d));
        for (what, distance) in edges.chain(ends) {
            let near = self.near(part, what, distance, times);
            if distance < near.least {
                found.push(near);
            }
        }
        let next = self.listed.pitch.map(|p| self.near(part, NearWhat::Next, p.value, spacing.pitch));
        found.extend(next.filter(|near| near.distance < near.least));
    }

    /// Where its holes are, along and across; none where it is not told.
    fn points(&self) -> impl Iterator<Item = (Length, Option<Length>)> + use<> {
        let across = self.listed.across.map(|a| a.value);
        let first = self.listed.along.map(|a| a.value).filter(|_| self.last().is_some());
        let pitch = self.listed.pitch.map_or(Length::ZERO, |p| p.value);
        let count = self.listed.count.min(MOST_POINTS as i64);
        first.into_iter().flat_map(move |first| (0..count).map(move |i| (first + pitch * i, across)))
    }
}

/// Holes of different rows of the list.
fn between<'a>(manual: &Manual, part: &'a PartNumber, rows: &[Row<'a>], found: &mut Vec<Near<'a>>) {
    let spacing = &manual.settings.fastening.spacing;
    let mut points: Vec<(Length, Option<Length>, usize)> =
        rows.iter().enumerate().flat_map(|(i, row)| row.points().map(move |(along, across)| (along, across, i))).take(MOST_POINTS).collect();
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
            let (row, other) = if rows[i].size.diameter.value >= rows[j].size.diameter.value { (i, j) } else { (j, i) };
            let name = rows[other].listed.hole.value.as_str();
            let (what, times) = if aside == Length::ZERO { (NearWhat::InRow(name), spacing.pitch) } else { (NearWhat::OtherRow(name), spacing.rows) };
            let near = rows[row].near(part, what, apart(other_along - along, aside), times);
            let again = |n: &Near| std::ptr::eq(n.row, near.row) && n.what == near.what;
            if near.distance < near.least && !found.iter().any(again) {
                found.push(near);
            }
        }
    }
}

fn apart(along: Length, aside: Length) -> Length {
    if along == Length::ZERO || aside == Length::ZERO {
        return along + aside;
    }
    let thousandths = (libm::hypot(along.to_f64(), aside.to_f64()) * 1000.0).round();
    Length::inches(thousandths as i64, 1000)
}
