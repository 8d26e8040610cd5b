//! Materials: what family a name means, density, and whether they bear a table's torque.

mod families;

pub use families::{MaterialFamily, material_family};

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

/// What a torque table has to know of a material.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Substance {
    Metal,
    /// Wood, plastic, fabric, rubber: it gives under a nut.
    Soft,
    Unknown,
}

/// What kind of material a name means.
pub fn substance(material: &str) -> Substance {
    match material_family(material) {
        Some(family) if family.metal() => Substance::Metal,
        Some(_) => Substance::Soft,
        None => Substance::Unknown,
    }
}

/// Families of metal that corrode each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Stainless steel, nickel-copper alloy, titanium: noble.
    Stainless,
    Aluminium,
    Other,
}

/// The family a material's name means, as far as metals corrode each other.
pub fn family(material: &str) -> Family {
    match material_family(material) {
        Some(MaterialFamily::Stainless | MaterialFamily::Nickel | MaterialFamily::Titanium) => Family::Stainless,
        Some(MaterialFamily::Aluminium) => Family::Aluminium,
        _ => Family::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noble_and_base_metals_are_told_apart() {
        for (name, expected) in [
            ("corrosion-resistant steel", Family::Stainless),
            ("stainless steel A4", Family::Stainless),
            ("nickel-copper alloy", Family::Stainless),
            ("nickel-plated steel", Family::Other),
            ("304 stainless", Family::Stainless),
            ("6061-T6", Family::Aluminium),
            ("2117 aluminium", Family::Aluminium),
            ("cadmium-plated steel", Family::Other),
            ("4130 steel", Family::Other),
            ("", Family::Other),
        ] {
            assert_eq!(family(name), expected, "{name}");
        }
    }

    #[test]
    fn materials_are_told_by_their_words() {
        for (name, expected) in [
            ("4130 steel", Substance::Metal),
            ("6061-T6", Substance::Metal),
            ("304 stainless", Substance::Metal),
            ("UHMW polyethylene", Substance::Soft),
            ("birch plywood", Substance::Soft),
            ("glass fibre", Substance::Soft),
            ("", Substance::Unknown),
            ("mystery", Substance::Unknown),
        ] {
            assert_eq!(substance(name), expected, "{name}");
        }
    }
}
