//! Bends: smallest radius of sheet.

use super::{Cited, Source};
use crate::units::{Length, Rational};

const TABLE: Source = Source::Published("FAA AC 43.13-1B Table 4-6");

/// Sheet thickness of the columns, thousandths of an inch.
const THICKNESS: [i64; 6] = [16, 32, 64, 128, 182, 258];

/// Multiples of thickness in halves, least and greatest, for a bend of 90 degrees.
const ROWS: [(&str, [(i64, i64); 6]); 8] = [
    ("2024-O", [(0, 0), (0, 2), (0, 2), (0, 2), (0, 2), (0, 2)]),
    ("2024-T3", [(3, 6), (4, 8), (6, 10), (8, 12), (8, 12), (10, 14)]),
    ("5052-H32", [(0, 0), (0, 0), (1, 2), (1, 3), (1, 3), (1, 3)]),
    ("5052-H34", [(0, 0), (0, 0), (1, 3), (3, 5), (3, 5), (4, 6)]),
    ("6061-O", [(0, 0), (0, 2), (0, 2), (0, 2), (0, 2), (0, 2)]),
    ("6061-T4", [(0, 2), (0, 2), (1, 3), (2, 4), (3, 6), (5, 8)]),
    ("6061-T6", [(0, 2), (1, 3), (2, 4), (3, 6), (4, 8), (6, 8)]),
    ("7075-T6", [(4, 8), (6, 10), (8, 12), (10, 14), (10, 14), (12, 20)]),
];

/// The smallest inside radius for a 90 degree bend: the least that the table allows, and what it calls safe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BendRadius {
    pub least: Length,
    pub safe: Length,
}

/// The table's smallest inside radius for an alloy and a thickness. A thickness between two columns takes the
/// multiples of the thicker one; `None` beyond the thickest column and for an alloy that is not in the table.
pub fn bend_radius(alloy: &str, thickness: Length) -> Option<Cited<BendRadius>> {
    let (_, multiples) = ROWS.iter().find(|(name, _)| name.eq_ignore_ascii_case(alloy.trim()))?;
    if thickness <= Length::ZERO {
        return None;
    }
    let column = THICKNESS.iter().position(|&t| thickness <= Length::inches(t, 1000))?;
    let (least, safe) = multiples[column];
    let radius = |halves: i64| Length::from_inches(thickness.as_inches() * Rational::new(halves, 2));
    Some(Cited::new(BendRadius { least: radius(least), safe: radius(safe) }, TABLE))
}
