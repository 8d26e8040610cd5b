//! Cables: breaking strength, and the load that proves one.

use super::{Cited, MaterialFamily, Source, material_family};
use crate::units::Length;

const STRENGTH: Source = Source::Published("FAA AC 43.13-1B Table 7-3");
const PROOF: Source = Source::Published("FAA AC 43.13-1B chapter 7 section 8");

/// What the wires of a cable are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CableWire {
    /// Carbon steel with zinc or tin, MIL-W-83420 composition A.
    Coated,
    /// Corrosion-resistant steel, composition B.
    Stainless,
}

/// Construction, diameter as numerator and denominator, smallest breaking strength in pounds of composition A and B.
const ROWS: [(&str, i64, i64, i64, Option<i64>); 15] = [
    ("3x7", 1, 32, 110, Some(110)),
    ("7x7", 3, 64, 270, Some(270)),
    ("7x7", 1, 16, 480, Some(480)),
    ("7x19", 1, 16, 480, Some(480)),
    ("7x7", 3, 32, 920, Some(920)),
    ("7x19", 3, 32, 1_000, Some(920)),
    ("7x19", 1, 8, 2_000, Some(1_760)),
    ("7x19", 5, 32, 2_800, Some(2_400)),
    ("7x19", 3, 16, 4_200, Some(3_700)),
    ("7x19", 7, 32, 5_600, Some(5_000)),
    ("7x19", 1, 4, 7_000, Some(6_400)),
    ("7x19", 9, 32, 8_000, Some(7_800)),
    ("7x19", 5, 16, 9_800, Some(9_000)),
    ("7x19", 11, 32, 12_500, None),
    ("7x19", 3, 8, 14_400, Some(12_000)),
];

/// Single strands of 19 wires, which go over no pulley: diameter and smallest breaking strength in pounds of both
/// compositions (MIL-DTL-87161, from memory).
const SINGLE: [(i64, i64, i64); 10] = [
    (3, 64, 375),
    (1, 16, 500),
    (5, 64, 800),
    (3, 32, 1_200),
    (7, 64, 1_600),
    (1, 8, 2_100),
    (5, 32, 3_300),
    (3, 16, 4_700),
    (7, 32, 6_300),
    (1, 4, 8_200),
];

/// What a material's name says of a cable's wires; none where it says neither.
pub fn cable_wire(material: &str) -> Option<CableWire> {
    let name = material.to_ascii_lowercase();
    let has = |words: &[&str]| words.iter().any(|w| name.contains(w));
    if material_family(material) == Some(MaterialFamily::Stainless) {
        Some(CableWire::Stainless)
    } else if has(&["galvan", "zinc", "tin", "carbon"]) {
        Some(CableWire::Coated)
    } else {
        None
    }
}

/// The smallest breaking strength of a cable in pounds. `None` for what the tables do not have.
pub fn cable_strength(construction: &str, diameter: Length, wire: CableWire) -> Option<Cited<i64>> {
    let flat: String =
        construction.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_lowercase().replace('×', "x");
    if flat == "1x19" {
        let row = SINGLE.iter().find(|(n, d, _)| Length::inches(*n, *d) == diameter)?;
        return Some(Cited::from_memory(row.2));
    }
    let row = ROWS.iter().find(|(name, n, d, ..)| *name == flat && Length::inches(*n, *d) == diameter)?;
    let pounds = match wire {
        CableWire::Coated => Some(row.3),
        CableWire::Stainless => row.4,
    }?;
    Some(Cited::new(pounds, STRENGTH))
}

/// The load that a finished cable is proved with, in pounds, held for 3 minutes: 60 % of its breaking strength.
pub fn proof_load(strength: Cited<i64>) -> Cited<i64> {
    Cited::new(strength.value * 3 / 5, PROOF)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Check values read in FAA AC 43.13-1B Table 7-3, apart from the rows above: the columns at 1/8 and 1/4 in.
    #[test]
    fn strengths_are_the_published_ones() {
        let strength =
            |construction, n, d, wire| cable_strength(construction, Length::inches(n, d), wire).map(|c| c.value);
        assert_eq!(strength("7x19", 1, 8, CableWire::Coated), Some(2000));
        assert_eq!(strength("7 x 19", 1, 8, CableWire::Stainless), Some(1760));
        assert_eq!(strength("7×19", 1, 4, CableWire::Stainless), Some(6400));
        assert_eq!(strength("7x7", 1, 8, CableWire::Stainless), None);
        // From memory.
        assert_eq!(strength("1x19", 1, 8, CableWire::Stainless), Some(2100));
        assert_eq!(strength("7x19", 11, 32, CableWire::Stainless), None);
        let table = cable_strength("7x19", Length::inches(1, 8), CableWire::Stainless).expect("a strength");
        assert_eq!(proof_load(table).value, 1056);
    }

    /// In the table strength never falls with diameter, and stainless is never the stronger.
    #[test]
    fn the_rows_are_in_order() {
        for pair in ROWS.windows(2) {
            assert!(pair[0].1 * pair[1].2 <= pair[1].1 * pair[0].2 && pair[0].3 <= pair[1].3, "{pair:?}");
        }
        assert!(ROWS.iter().all(|r| r.4.is_none_or(|b| b <= r.3)));
    }

    #[test]
    fn wires_are_told_by_the_material() {
        assert_eq!(cable_wire("316 stainless"), Some(CableWire::Stainless));
        assert_eq!(cable_wire("galvanised carbon steel"), Some(CableWire::Coated));
        assert_eq!(cable_wire("aramid"), None);
    }
}
