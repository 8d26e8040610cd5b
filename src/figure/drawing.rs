//! A picture as plain drawing operations, for any emitter.
//!
//! Owns: the types. Must not know: SVG, PDF.

use super::raster::Raster;

#[derive(Clone, Debug)]
pub enum Drawing {
    Vector(Vector),
    Raster(Raster),
}

/// A vector picture. Units are the picture's own; y runs down from the top edge.
#[derive(Clone, Debug)]
pub struct Vector {
    pub width: f64,
    pub height: f64,
    pub ops: Vec<Op>,
    /// Characters in its text that the built-in fonts lack.
    pub missing: Vec<char>,
}

#[derive(Clone, Debug)]
pub enum Op {
    /// Everything inside is drawn under a matrix, after clips, as one.
    Group {
        matrix: [f64; 6],
        clips: Vec<(Vec<PathPart>, FillRule)>,
        opacity: f64,
        /// Of text, whose letters are paths: how large it is.
        lettering: Option<Letters>,
        ops: Vec<Op>,
    },
    Fill {
        path: Vec<PathPart>,
        rule: FillRule,
        paint: Paint,
        opacity: f64,
    },
    Stroke {
        path: Vec<PathPart>,
        color: u32,
        opacity: f64,
        look: StrokeLook,
    },
    /// Pixels over a rectangle: left, top, width, height.
    Raster {
        raster: Raster,
        place: [f64; 4],
    },
}

/// How large a text is in its group, and the point that stays where it is when it is made larger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Letters {
    /// Of the smallest type in it.
    pub size: f64,
    pub at: (f64, f64),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FillRule {
    NonZero,
    EvenOdd,
}

/// A piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PathPart {
    Move(f64, f64),
    Line(f64, f64),
    Curve(f64, f64, f64, f64, f64, f64),
    Close,
}

#[derive(Clone, Debug)]
pub enum Paint {
    /// 0xRRGGBB.
    Solid(u32),
    Gradient(Gradient),
}

#[derive(Clone, Debug)]
pub struct Gradient {
    pub kind: GradientKind,
    /// From the gradient's space to the path's.
    pub matrix: [f64; 6],
    /// Offset 0 to 1 and colour, offsets rising.
    pub stops: Vec<(f64, u32)>,
}

#[derive(Clone, Copy, Debug)]
pub enum GradientKind {
    /// From and to.
    Linear([f64; 4]),
    /// Focus and its radius, centre and radius.
    Radial([f64; 6]),
}

#[derive(Clone, Debug)]
pub struct StrokeLook {
    pub width: f64,
    pub dashes: Vec<f64>,
    pub dash_offset: f64,
    /// 0 butt, 1 round, 2 square.
    pub cap: u8,
    /// 0 mitre, 1 round, 2 bevel.
    pub join: u8,
    pub miter_limit: f64,
}
