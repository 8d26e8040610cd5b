//! Electric wires, as the author wrote them.

use super::hardware::words;
use crate::source::Spanned;
use crate::trade::{Cited, WireSize};
use crate::units::{Designation, Length, Measure, Rational, ToolId};

/// A wire from one place to another.
#[derive(Clone, Debug)]
pub struct Wire {
    pub wire: Spanned<String>,
    pub from: Spanned<String>,
    pub to: Spanned<String>,
    pub colour: Option<String>,
    pub size: Spanned<WireSize>,
    /// What it is cut to.
    pub length: Spanned<Length>,
    /// The wire on the roll.
    pub hardware: Option<Spanned<Designation>>,
    /// Where it begins and where it ends.
    pub terminals: [Option<Spanned<Designation>>; 2],
    pub crimped_with: Option<Spanned<ToolId>>,
    pub current: Option<Spanned<Measure>>,
    pub voltage: Option<Spanned<Measure>>,
    pub fuse: Option<Spanned<Measure>>,
    pub breaker: Option<Spanned<Measure>>,
    /// A fuse or a circuit breaker is written, be it one that can't be read.
    pub protected: bool,
    /// The designer's limit of what is lost on the way.
    pub drop: Option<Spanned<Measure>>,
    pub back: WayBack,
}

impl Wire {
    /// What is lost on the way, there and back unless the frame leads back, in volts; none where no current is written.
    pub fn lost(&self) -> Option<Cited<Rational>> {
        let ways = Rational::from_integer(if self.back == WayBack::Wire { 2 } else { 1 });
        let way = Length::from_inches(self.length.value.as_inches() * ways);
        self.size.value.drop(way, self.current.as_ref()?.value.value)
    }
}

words! {
    /// How the current goes back.
    WayBack {
        Wire = "wire",
        Frame = "frame",
    }
}
