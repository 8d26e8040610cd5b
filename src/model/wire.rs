//! Electric wires, as the author wrote them.

use super::hardware::words;
use crate::source::Spanned;
use crate::trade::WireSize;
use crate::units::{Designation, Length, Measure, ToolId};

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
    /// The designer's limit of what is lost on the way.
    pub drop: Option<Spanned<Measure>>,
    pub back: WayBack,
}

words! {
    /// How the current goes back.
    WayBack {
        Wire = "wire",
        Frame = "frame",
    }
}
