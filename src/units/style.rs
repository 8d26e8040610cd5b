//! How a length is written.

/// The units a document shows. A setting of the manual.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum UnitStyle {
    /// `23 15/16 in`; decimal inches where the value is no whole number of 64ths.
    #[default]
    InchFraction,
    /// `23.9375 in`, at most four places.
    InchDecimal,
    /// `608 mm`, at most one place.
    Millimetre,
    /// `23 15/16 in (608 mm)`.
    Both,
}

/// A piece of a written value; a fraction stays apart so that an emitter can set it as one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ValuePiece {
    Text(String),
    Fraction { numerator: u32, denominator: u32 },
}

/// The pieces as plain text: `23 15/16 in`.
pub fn plain(pieces: &[ValuePiece]) -> String {
    let mut text = String::new();
    for piece in pieces {
        match piece {
            ValuePiece::Text(t) => text.push_str(t),
            ValuePiece::Fraction { numerator, denominator } => {
                if text.ends_with(|c: char| c.is_ascii_digit()) {
                    text.push(' ');
                }
                text.push_str(&format!("{numerator}/{denominator}"));
            }
        }
    }
    text
}
