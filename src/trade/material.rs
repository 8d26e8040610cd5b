//! Materials: density.

use super::{Cited, Source};
use crate::units::Rational;

const SUPPLIER: Source = Source::Published("supplier constant");

/// Names a material goes by, density in ten-thousandths of a pound to the cubic inch. The constants of tube weight
/// (`k` in lb/ft = k (OD - t) t) are published to five digits, so they are kept as they are: k = 12 pi density.
const MATERIALS: [(&[&str], i64, f64, Source); 3] = [
    (&["6061-T6", "6061"], 980, 3.6945, SUPPLIER),
    (&["4130 steel", "4130"], 2833, 10.68, SUPPLIER),
    (&["2024-T3", "2024"], 1000, 3.770, Source::FromMemory),
];

fn row(material: &str) -> Option<&'static (&'static [&'static str], i64, f64, Source)> {
    let material = material.trim();
    MATERIALS.iter().find(|(names, ..)| names.iter().any(|name| name.eq_ignore_ascii_case(material)))
}

/// Density in pounds to the cubic inch.
pub fn density(material: &str) -> Option<Cited<Rational>> {
    row(material).map(|&(_, density, _, source)| Cited::new(Rational::new(density, 10_000), source))
}

/// The constant k of a round tube's weight: lb/ft = k (OD - t) t, lengths in inches.
pub(super) fn tube_constant(material: &str) -> Option<Cited<f64>> {
    row(material).map(|&(_, _, k, source)| Cited::new(k, source))
}
