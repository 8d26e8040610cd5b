//! A piece of round tube between its two end cuts, as a configuration has them.
//!
//! The length of a piece is between its two outermost points. An end that no step of the configuration cuts is square.

use std::collections::{BTreeMap, BTreeSet};

use crate::geometry::{CutPiece, EndCut, Impossible, Lines, Mitre, Saddle};
use crate::model::{Cut, CutKind, Manual, Part, StepItem, StockShape, TubeEnd};
use crate::resolve::Resolved;
use crate::trade;
use crate::units::{Clock, Length, PartNumber};

/// An end of a piece.
#[derive(Clone, Copy, Debug)]
pub struct EndWork<'a> {
    /// The cut as written; none for an end that nobody cuts.
    pub cut: Option<&'a StepItem<Cut>>,
    pub geometry: EndCut,
    /// The diameter of the tube that a saddle fits.
    pub main_diameter: Option<Length>,
}

/// A piece of tube.
#[derive(Clone, Debug)]
pub struct TubePiece<'a> {
    pub part: &'a Part,
    pub outside_diameter: Length,
    pub wall: Length,
    /// Between the two outermost points.
    pub overall: Length,
    pub blank: Option<Length>,
    /// It is bent somewhere: its lengths are of the tube laid out straight.
    pub bent: bool,
    /// End A and end B.
    pub ends: [EndWork<'a>; 2],
    pub piece: CutPiece,
    pub lines: Lines,
}

/// Why nothing can be worked out.
#[derive(Clone, Debug)]
pub enum TubeFault<'a> {
    /// Sizes or angles that are not given, or stock that is no round tube: nothing is claimed about it.
    Unknown,
    /// A cut that can't be made.
    Cut { cut: &'a StepItem<Cut>, why: Impossible },
    /// Two cuts that can't both be made.
    Piece { why: Impossible },
}

/// What the steps of a configuration do to its tubes, by part.
#[derive(Debug)]
pub struct TubeWork<'a> {
    manual: &'a Manual,
    cuts: BTreeMap<&'a PartNumber, Vec<&'a StepItem<Cut>>>,
    bent: BTreeSet<&'a PartNumber>,
}

impl<'a> TubeWork<'a> {
    pub fn new(manual: &'a Manual, resolved: &'a Resolved) -> Self {
        let mut work = Self { manual, cuts: BTreeMap::new(), bent: BTreeSet::new() };
        for step in resolved.steps.iter().map(|s| &s.step) {
            for cut in &step.cuts {
                work.cuts.entry(&cut.part.value).or_default().push(cut);
            }
            work.bent.extend(step.bends.iter().map(|b| &b.part.value));
        }
        work
    }

    /// All cuts on a part, in the order of the steps.
    pub fn cuts(&self, number: &PartNumber) -> &[&'a StepItem<Cut>] {
        self.cuts.get(number).map_or(&[], Vec::as_slice)
    }

    /// Puts a piece together from all the cuts on it.
    ///
    /// # Errors
    /// What is not given, or can't be.
    pub fn piece(&self, number: &PartNumber) -> Result<TubePiece<'a>, TubeFault<'a>> {
        tube_piece(self.manual, self.cuts(number), self.bent.contains(number), number)
    }
}

fn tube_piece<'a>(
    manual: &'a Manual,
    cuts: &[&'a StepItem<Cut>],
    bent: bool,
    number: &PartNumber,
) -> Result<TubePiece<'a>, TubeFault<'a>> {
    let part = manual.parts.get(number).ok_or(TubeFault::Unknown)?;
    let (outside_diameter, wall) = tube_size(manual, number).ok_or(TubeFault::Unknown)?;
    let overall = cuts.iter().find_map(|c| c.length).or(part.cut_length).ok_or(TubeFault::Unknown)?.value;
    let end = |end: TubeEnd| {
        let cut = cuts.iter().copied().find(|c| {
            let written = c.end.map_or(TubeEnd::Both, |e| e.value);
            written == end || written == TubeEnd::Both
        });
        work(manual, cut, (outside_diameter, wall))
    };
    let ends = [end(TubeEnd::A)?, end(TubeEnd::B)?];
    let piece = CutPiece::new(overall, ends[0].geometry, ends[1].geometry).map_err(|why| TubeFault::Piece { why })?;
    let from = part.cut_from.as_ref().and_then(|f| manual.parts.get(&f.value));
    let blank = part.blank_length.or_else(|| from.and_then(|f| f.blank_length.or(f.cut_length))).map(|b| b.value);
    Ok(TubePiece { bent, part, outside_diameter, wall, overall, blank, ends, lines: piece.lines(), piece })
}

fn work<'a>(
    manual: &Manual,
    cut: Option<&'a StepItem<Cut>>,
    tube: (Length, Length),
) -> Result<EndWork<'a>, TubeFault<'a>> {
    let Some(cut) = cut else { return Ok(EndWork { cut: None, geometry: EndCut::Square, main_diameter: None }) };
    let long_point = cut.long_point.map_or(Clock::TWELVE, |c| c.value);
    let impossible = |why| TubeFault::Cut { cut, why };
    let angle = || cut.angle.map(|a| a.value).ok_or(TubeFault::Unknown);
    let (geometry, main_diameter) = match cut.kind {
        CutKind::Square => (EndCut::Square, None),
        CutKind::Mitre => {
            let mitre = Mitre::new(tube.0, angle()?).map_err(impossible)?;
            (EndCut::Mitre { cut: mitre, long_point }, None)
        }
        CutKind::Saddle => {
            let onto = cut.onto.as_ref().ok_or(TubeFault::Unknown)?;
            let main = round(manual, &onto.value).ok_or(TubeFault::Unknown)?;
            let offset = cut.offset.map_or(Length::ZERO, |o| o.value);
            let saddle = Saddle::new(main, tube.0, tube.1, angle()?, offset).map_err(impossible)?;
            (EndCut::Saddle { cut: saddle, long_point }, Some(main))
        }
    };
    Ok(EndWork { cut: Some(cut), geometry, main_diameter })
}

/// A worked-out length as it is written: whole 64ths where it is one, else to a thousandth of an inch.
pub fn on_tape(inches: f64) -> Length {
    let sixty_fourths = (inches * 64.0).round();
    if (inches * 64.0 - sixty_fourths).abs() < 1e-6 {
        return Length::inches(sixty_fourths as i64, 64);
    }
    Length::inches((inches * 1000.0).round() as i64, 1000)
}

/// Outside diameter and wall of a part of round tube; none of any other.
pub fn tube_size(manual: &Manual, number: &PartNumber) -> Option<(Length, Length)> {
    let stock = stock(manual, number)?;
    let is_tube = stock.shape == StockShape::RoundTube;
    is_tube.then_some((stock.outside_diameter?.value, stock.wall?.value))
}

/// The diameter of a part of round tube or bar.
fn round(manual: &Manual, number: &PartNumber) -> Option<Length> {
    let stock = stock(manual, number)?;
    let is_round = matches!(stock.shape, StockShape::RoundTube | StockShape::Bar);
    stock.outside_diameter.filter(|_| is_round).map(|d| d.value)
}

pub(super) fn stock<'a>(manual: &'a Manual, number: &PartNumber) -> Option<&'a crate::model::Stock> {
    let part = manual.parts.get(number)?;
    let from = part.cut_from.as_ref().and_then(|from| manual.parts.get(&from.value));
    let id = part.stock.as_ref().or(from.and_then(|p| p.stock.as_ref()))?;
    manual.stock.get(&id.value)
}

impl TubePiece<'_> {
    /// How far end B's long point is turned from end A's, degrees against the clock looking at end B, -180 to 180.
    /// None unless both ends have a long point.
    pub fn turned(&self) -> Option<i64> {
        let hour = |end: &EndCut| match end {
            EndCut::Square => None,
            EndCut::Mitre { long_point, .. } | EndCut::Saddle { long_point, .. } => Some(*long_point),
        };
        let (a, b) = (hour(&self.ends[0].geometry)?, hour(&self.ends[1].geometry)?);
        let hours = i64::from(a.from_other_end().hour() % 12) - i64::from(b.hour() % 12);
        let degrees = (hours * 30).rem_euclid(360);
        Some(if degrees > 180 { degrees - 360 } else { degrees })
    }

    /// Weight in pounds: of the mean of all its lines. None for a material without a published constant.
    pub fn weight(&self) -> Option<f64> {
        let a_foot = trade::tube_weight(&self.part.material, self.outside_diameter, self.wall)?.value;
        let steps = 360;
        let mean = (0..steps).map(|i| self.piece.line(f64::from(i))).sum::<f64>() / f64::from(steps);
        Some(a_foot * mean / 12.0)
    }
}

impl EndWork<'_> {
    /// The hole saw that cuts a saddle and the setting of the notching jig, degrees off square. None where a hole
    /// saw will not do: it goes through the branch's axis, so only axes that meet (common practice).
    pub fn hole_saw(&self) -> Option<(Length, f64)> {
        let EndCut::Saddle { cut, .. } = self.geometry else { return None };
        let offset = self.cut.and_then(|c| c.offset).map_or(Length::ZERO, |o| o.value);
        // A jig reaches to about 60 degrees off square (common practice); beyond that the saw runs out of the tube.
        let fits = offset == Length::ZERO && cut.off_square() <= 60.0 + 1e-9;
        self.main_diameter.filter(|_| fits).map(|d| (d, cut.off_square()))
    }
}

#[cfg(test)]
mod tests;
