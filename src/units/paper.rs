//! Paper sizes.

/// The paper of a manual's printed documents, upright.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Paper {
    #[default]
    Letter,
    A4,
}

impl Paper {
    /// Width and height in points (1/72 in). US Letter is 8 1/2 by 11 in (ANSI/ASME Y14.1 size A); A4 is 210 by 297 mm (ISO 216).
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::Letter => (612.0, 792.0),
            Self::A4 => (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0),
        }
    }
}
