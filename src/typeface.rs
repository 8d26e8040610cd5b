//! The font files that are built in.
//!
//! Owns: their bytes. This is the one place that takes them, so the program holds each file once: the functions of the
//! crate that carries them are short enough to be inlined, and every place that calls one gets the file anew.
//! Must not know: what is set in them.

/// A font file that is built in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typeface {
    Sans,
    SansBold,
    SansOblique,
    Condensed,
    CondensedBold,
    CondensedOblique,
    CondensedBoldOblique,
    Mono,
}

impl Typeface {
    /// The font file (ISO/IEC 14496-22).
    #[inline(never)]
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Self::Sans => dejavu::sans::regular(),
            Self::SansBold => dejavu::sans::bold(),
            Self::SansOblique => dejavu::sans::oblique(),
            Self::Condensed => dejavu::sans_condensed::regular(),
            Self::CondensedBold => dejavu::sans_condensed::bold(),
            Self::CondensedOblique => dejavu::sans_condensed::oblique(),
            Self::CondensedBoldOblique => dejavu::sans_condensed::bold_oblique(),
            Self::Mono => dejavu::sans_mono::regular(),
        }
    }
}
