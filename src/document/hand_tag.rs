//! The shape that stands before the word of a hand, the same on screens and on paper.

use crate::units::Hand;

/// A tag that points to its side. The left one is full and the right one open, so that direction and filling both
/// tell them apart, in grey and from afar.
pub struct HandTag {
    /// Corners in a box [`HandTag::WIDTH`] wide and 1 high, x to the right, y down.
    pub corners: [(f64, f64); 5],
    pub full: bool,
}

impl HandTag {
    pub const WIDTH: f64 = 1.2;

    pub fn of(hand: Hand) -> Self {
        let left = [(0.0, 0.5), (0.5, 0.0), (Self::WIDTH, 0.0), (Self::WIDTH, 1.0), (0.5, 1.0)];
        match hand {
            Hand::Left => Self { corners: left, full: true },
            Hand::Right => Self { corners: left.map(|(x, y)| (Self::WIDTH - x, y)), full: false },
        }
    }
}
