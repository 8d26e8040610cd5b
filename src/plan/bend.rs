//! A bent piece of tube, bar or sheet as it is laid out flat, and a flattened tube end.

use super::tube::{TubeWork, stock, tube_size};
use crate::geometry::{Bend, Developed, developed, flattened_width};
use crate::model::{BendUse, Cut, CutKind, Flattened, Manual, Part, StepItem, StockShape, TubeEnd};
use crate::source::{Span, Spanned};
use crate::trade::{self, BendRadius, Cited};
use crate::units::{Clock, Length};

/// What is bent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BentShape {
    /// Round tube or bar; the thickness of its bends is the outside diameter.
    Round,
    Sheet,
}

/// A bent piece.
#[derive(Clone, Debug)]
pub struct BentPiece<'a> {
    pub part: &'a Part,
    pub work: &'a StepItem<BendUse>,
    pub shape: BentShape,
    /// Outside diameter, or thickness of the sheet.
    pub thickness: Length,
    pub legs: Vec<Length>,
    pub bends: Vec<Bend>,
    /// Towards which line of the tube each bend goes, seen at end A.
    pub toward: Vec<Clock>,
    pub flat: Developed,
    /// The length in which it is supplied.
    pub blank: Option<Length>,
    /// The table's smallest inside radius for the sheet.
    pub smallest: Option<Cited<BendRadius>>,
}

/// Why nothing can be worked out.
#[derive(Clone, Debug)]
pub enum BendFault {
    /// Sizes that are not given: nothing is claimed about it.
    Unknown,
    /// A bend that can't be made; lower case, no full stop.
    Impossible { at: Span, why: String },
}

/// Lays out a piece with its bends.
///
/// # Errors
/// What is not given, or can't be.
pub fn bent_piece<'a>(manual: &'a Manual, work: &'a StepItem<BendUse>) -> Result<BentPiece<'a>, BendFault> {
    let part = manual.parts.get(&work.part.value).ok_or(BendFault::Unknown)?;
    let stock = stock(manual, &work.part.value).ok_or(BendFault::Unknown)?;
    let (shape, thickness) = match stock.shape {
        StockShape::RoundTube | StockShape::Bar => (BentShape::Round, stock.outside_diameter),
        StockShape::Sheet => (BentShape::Sheet, stock.wall),
        _ => return Err(BendFault::Unknown),
    };
    let thickness = thickness.ok_or(BendFault::Unknown)?.value;
    let impossible = |at: Span, why: String| BendFault::Impossible { at, why };
    if work.legs.is_empty() && work.angles.is_empty() {
        return Err(BendFault::Unknown);
    }
    let count = work.legs.len().saturating_sub(1);
    if count == 0 {
        let at = work.legs.first().map_or(work.part.span, |l| l.span);
        return Err(impossible(at, "a bend lies between two legs, and fewer are written".to_owned()));
    }
    let angles =
        each(&work.angles, count, "angles").map_err(|(at, why)| impossible(at.unwrap_or(work.part.span), why))?;
    let radii = each(&work.radii, count, "radii").map_err(|(at, why)| impossible(at.unwrap_or(work.part.span), why))?;
    let usual = [Spanned::new(Clock::TWELVE, work.part.span)];
    let toward = if work.toward.is_empty() { &usual[..] } else { &work.toward[..] };
    let toward = each(toward, count, "positions under `toward`")
        .map_err(|(at, why)| impossible(at.unwrap_or(work.part.span), why))?;
    let neutral = work.neutral.map_or(
        if shape == BentShape::Sheet { manual.settings.bending.sheet } else { manual.settings.bending.tube },
        |n| n.value,
    );
    let mut bends = Vec::with_capacity(count);
    for ((angle, radius), toward) in angles.iter().zip(&radii).zip(&toward) {
        let degrees = angle.value.to_f64();
        if degrees <= 0.0 || degrees >= 180.0 {
            return Err(impossible(
                angle.span,
                format!("a bend of {} is none, or has no outside corner: it is between 0 and 180 degrees", angle.value),
            ));
        }
        if radius.value < Length::ZERO || (shape == BentShape::Round && radius.value == Length::ZERO) {
            return Err(impossible(
                radius.span,
                format!("an inside radius of {:.4} in is none", radius.value.to_f64()),
            ));
        }
        if shape == BentShape::Sheet && !matches!(toward.value.hour(), 6 | 12) {
            return Err(impossible(
                toward.span,
                format!("sheet bends up (12) or down (6), not towards {}", toward.value),
            ));
        }
        bends.push(Bend { angle: angle.value, inside_radius: radius.value, thickness, neutral });
    }
    let legs: Vec<Length> = work.legs.iter().map(|l| l.value).collect();
    if let Some(none) = work.legs.iter().find(|l| l.value <= Length::ZERO) {
        return Err(impossible(none.span, "a leg has no length".to_owned()));
    }
    let flat = developed(&legs, &bends).map_err(|why| impossible(work.legs[0].span, why))?;
    let smallest = if shape == BentShape::Sheet {
        trade::bend_radius(if part.material.is_empty() { &stock.material } else { &part.material }, thickness)
    } else {
        None
    };
    Ok(BentPiece {
        part,
        work,
        shape,
        thickness,
        legs,
        bends,
        toward: toward.iter().map(|t| t.value).collect(),
        flat,
        blank: part.blank_length.or(part.cut_length).map(|b| b.value),
        smallest,
    })
}

/// One value for all, or one each.
fn each<T: Copy>(given: &[Spanned<T>], count: usize, what: &str) -> Result<Vec<Spanned<T>>, (Option<Span>, String)> {
    match given {
        [one] => Ok(vec![*one; count]),
        many if many.len() == count => Ok(many.to_vec()),
        other => Err((
            other.first().map(|v| v.span),
            format!("{count} bends need {count} {what}, or one for all, not {}", other.len()),
        )),
    }
}

impl BentPiece<'_> {
    /// All bends lie in one plane, so that a drawing in that plane shows them.
    pub fn is_flat(&self) -> bool {
        self.toward.iter().all(|t| matches!(self.turn(*t), 0 | 180))
    }

    /// How far a bend's plane is turned from the first's, degrees clockwise looking at end A, 0 to 359.
    pub fn turn(&self, toward: Clock) -> i64 {
        let hour = |c: Clock| i64::from(c.hour() % 12);
        ((hour(toward) - hour(self.toward[0])) * 30).rem_euclid(360)
    }

    /// The line to see under the nose of a brake, inches from end A: one inside radius from where the bend begins
    /// (common practice).
    pub fn sight_line(&self, bend: usize) -> f64 {
        self.flat.bends[bend].0 + self.bends[bend].inside_radius.to_f64()
    }

    /// The trim that end A carries until it is cut, which is on none of the marks.
    pub fn trim(&self, tubes: &TubeWork) -> Option<Length> {
        let at_a = |c: &&StepItem<Cut>| c.end.is_none_or(|e| e.value != TubeEnd::B);
        tubes.cuts(&self.work.part.value).iter().copied().filter(at_a).find_map(|c| c.trim).map(|t| t.value)
    }

    /// Where an end's clock position lies after bending: that position, and degrees clockwise from the inside of the
    /// nearest bend, looking at that end, 0 to 359. None for an end without one.
    pub fn clocking(&self, tubes: &TubeWork, end: TubeEnd) -> Option<(Clock, i64)> {
        let cuts = tubes.cuts(&self.work.part.value).iter();
        let cut: &Cut = cuts.filter(|c| c.kind != CutKind::Square).find(|c| {
            c.end.map_or(TubeEnd::Both, |e| e.value) == end || c.end.is_none_or(|e| e.value == TubeEnd::Both)
        })?;
        let inside = if end == TubeEnd::A {
            self.toward.first().copied()
        } else {
            self.toward.last().map(|t| t.from_other_end())
        }?;
        let hour = |c: Clock| i64::from(c.hour() % 12);
        let clock = cut.long_point?.value;
        Some((clock, ((hour(clock) - hour(inside)) * 30).rem_euclid(360)))
    }
}

/// A flattened tube end.
#[derive(Clone, Debug)]
pub struct FlatEnd<'a> {
    pub part: &'a Part,
    pub work: &'a StepItem<Flattened>,
    pub outside_diameter: Length,
    /// Of the flat: half the tube's circumference, inches.
    pub width: f64,
    /// Of the flat: two walls.
    pub thickness: Length,
}

/// What becomes of a tube end that is pressed flat.
///
/// # Errors
/// What is not given, or can't be.
pub fn flat_end<'a>(manual: &'a Manual, work: &'a StepItem<Flattened>) -> Result<FlatEnd<'a>, BendFault> {
    let part = manual.parts.get(&work.part.value).ok_or(BendFault::Unknown)?;
    let (outside_diameter, wall) = tube_size(manual, &work.part.value).ok_or(BendFault::Unknown)?;
    let impossible = |at: Span, why: String| Err(BendFault::Impossible { at, why });
    let transition = work.transition.map_or(Length::ZERO, |t| t.value);
    if work.length.value <= Length::ZERO {
        return impossible(work.length.span, "a flat has no length".to_owned());
    }
    if let Some(short) = work.transition.filter(|t| t.value <= Length::ZERO) {
        return impossible(short.span, "a transition has no length: the wall would tear".to_owned());
    }
    let ends = if work.end.is_none_or(|e| e.value == TubeEnd::Both) { 2 } else { 1 };
    let taken = (work.length.value + transition) * ends;
    if let Some(length) = part.cut_length.or(part.blank_length).filter(|l| taken > l.value) {
        let why =
            format!("flat and transition take {:.4} in of a tube of {:.4} in", taken.to_f64(), length.value.to_f64());
        return impossible(work.length.span, why);
    }
    Ok(FlatEnd { part, work, outside_diameter, width: flattened_width(outside_diameter), thickness: wall * 2 })
}

#[cfg(test)]
mod tests;
