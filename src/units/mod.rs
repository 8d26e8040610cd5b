//! Measures as types: lengths, angles, quantities, weights, hands, ids, clock positions.
//!
//! Owns: exact values, reading them from an author's text, and writing them in the manual's units.
//! Must not know: files, spans, messages, documents.

mod angle;
mod clock;
mod date;
mod hand;
mod hidden;
mod id;
mod length;
mod measure;
mod natural;
mod paper;
mod period;
mod quantity;
mod rational;
mod spreadsheet;
mod step_start;
mod style;
mod weight;

pub use angle::Angle;
pub use clock::Clock;
pub use date::Date;
pub use hand::Hand;
pub use hidden::{character_code, hidden};
pub use id::*;
pub use length::Length;
pub use measure::{Measure, MeasureUnit};
pub use natural::natural_cmp;
pub use paper::Paper;
pub use period::{Period, Temperature};
pub use quantity::{Quantity, Unit};
pub use rational::{Rational, UnreadableNumber, decimal_text};
pub use spreadsheet::{
    bare, cell_text, heading_unit, misread, shortened, spreadsheet_date, thousands_or_decimals, with_point, with_unit,
};
pub use step_start::StepStart;
pub use style::{UnitStyle, ValuePiece, plain};
pub use weight::Weight;
