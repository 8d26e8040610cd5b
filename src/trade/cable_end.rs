//! Ends of cables: oval sleeves and what suits them, and what each member of an end bears.

use super::{CableWire, Cited, Decoded, Family, ItemForm, MaterialFamily, Source, family, material_family};
use crate::units::Length;

const COPPER_ONLY: Source = Source::Published("FAA AC 43.13-1B, 7-148b: sleeves of copper only");

/// A copper oval sleeve of one cable size, pressed on a flexible cable round a thimble.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OvalSleeve {
    pub presses: i64,
    /// Its length before and after pressing.
    pub before: Length,
    pub after: Length,
    /// What a pressed end was tested to, pounds.
    pub strength: i64,
}

/// Cable diameter in 64ths; presses; length before and after in 16ths; tested strength. From memory, after FAA AC 43.13-1B
/// Table 7-6; a tool of another kind may need other presses.
const SLEEVES: [(i64, i64, i64, i64, i64); 8] = [
    (3, 1, 6, 7, 340),
    (4, 1, 6, 7, 550),
    (6, 1, 7, 8, 1_180),
    (8, 3, 9, 12, 2_300),
    (10, 3, 10, 14, 3_050),
    (12, 4, 16, 20, 4_350),
    (14, 4, 14, 17, 5_790),
    (16, 3, 18, 24, 7_180),
];

/// The sleeve for a cable. `None` for a size that the table does not have.
pub fn oval_sleeve(diameter: Length) -> Option<Cited<OvalSleeve>> {
    let &(_, presses, before, after, strength) = SLEEVES.iter().find(|row| Length::inches(row.0, 64) == diameter)?;
    let sixteenths = |n| Length::inches(n, 16);
    Some(Cited::from_memory(OvalSleeve { presses, before: sixteenths(before), after: sixteenths(after), strength }))
}

/// What a sleeve is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SleeveMetal {
    Copper,
    /// Copper with tin, zinc or nickel on it.
    CoatedCopper,
    Aluminium,
    Stainless,
}

/// What a material's name says of a sleeve.
pub fn sleeve_metal(material: &str) -> Option<SleeveMetal> {
    let name = material.to_ascii_lowercase();
    let coated = ["tin", "zinc", "plated", "nickel"].iter().any(|word| name.contains(word));
    match material_family(material)? {
        MaterialFamily::Copper if coated => Some(SleeveMetal::CoatedCopper),
        MaterialFamily::Copper => Some(SleeveMetal::Copper),
        MaterialFamily::Aluminium => Some(SleeveMetal::Aluminium),
        MaterialFamily::Stainless => Some(SleeveMetal::Stainless),
        _ => None,
    }
}

/// Why a sleeve does not suit its cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SleeveFault {
    /// Aluminium on steering, brakes or rig.
    Aluminium,
    /// Bare copper on stainless steel.
    BareOnStainless,
    /// On a single strand, which it may not hold: its maker's value is wanted.
    SingleStrand,
}

impl SleeveFault {
    pub fn words(self) -> &'static str {
        match self {
            Self::Aluminium => "an aluminium sleeve is none for a cable that a craft hangs on",
            Self::BareOnStainless => "bare copper corrodes on stainless cable",
            Self::SingleStrand => "an oval sleeve on a single strand needs its maker's value",
        }
    }
}

/// What is wrong between a sleeve and its cable.
pub fn sleeve_faults(
    metal: Option<SleeveMetal>,
    wire: Option<CableWire>,
    construction: &str,
) -> Vec<Cited<SleeveFault>> {
    let mut faults = Vec::new();
    match (metal, wire) {
        (Some(SleeveMetal::Aluminium), _) => faults.push(Cited::new(SleeveFault::Aluminium, COPPER_ONLY)),
        (Some(SleeveMetal::Copper), Some(CableWire::Stainless)) => {
            faults.push(Cited::new(SleeveFault::BareOnStainless, Source::CommonPractice));
        }
        _ => {}
    }
    let strands = construction.trim_start();
    if strands.starts_with("1x") || strands.starts_with("1 x") || strands.starts_with("1×") {
        faults.push(Cited::new(SleeveFault::SingleStrand, Source::CommonPractice));
    }
    faults
}

/// The cable size that a thimble or sleeve is for: by its standard code, else by the fraction in its name: AN100-C4 is for
/// 4/32 in, `CS-1/8` and `Oval sleeve for 1/8 in cable` for 1/8 in.
pub fn cable_size(designation: &str, name: &str) -> Option<Length> {
    if let Some(rest) = designation.strip_prefix("AN100-").or_else(|| designation.strip_prefix("AN100")) {
        let number: i64 = rest.trim_start_matches('C').trim_start_matches('-').parse().ok()?;
        return (1..=32).contains(&number).then(|| Length::inches(number, 32));
    }
    [designation, name].into_iter().find_map(|text| {
        let pieces = text.split(|c: char| !c.is_ascii_digit() && c != '/');
        let fractions = pieces.filter_map(|piece| {
            let (n, d) = piece.split_once('/')?;
            let (n, d): (i64, i64) = (n.parse().ok()?, d.parse().ok()?);
            (n > 0 && n < d && matches!(d, 4 | 8 | 16 | 32 | 64)).then(|| Length::inches(n, d))
        });
        let mut fractions = fractions.take(2);
        // Two sizes say nothing for certain.
        let first = fractions.next()?;
        fractions.next().is_none().then_some(first)
    })
}

/// What a turnbuckle bears, pounds: the AN standards give it in hundreds in the dash number, `AN130-16S` (from memory).
pub fn turnbuckle_strength(designation: &str) -> Option<Cited<i64>> {
    let (series, rest) = designation.strip_prefix("AN")?.split_once('-')?;
    let series: u32 = series.parse().ok()?;
    let hundreds = rest.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let hundreds: i64 = hundreds.parse().ok().filter(|n| (8..=200).contains(n))?;
    matches!(series, 130 | 135 | 140 | 150 | 155 | 160 | 161 | 165 | 170).then(|| Cited::from_memory(hundreds * 100))
}

/// Shear strength of plated steel pins and bolts, pounds per square inch (from memory).
const SHEAR: f64 = 75_000.0;

/// What a pin or bolt of plated steel bears in double shear, pounds. `None` for other metals.
pub fn double_shear(pin: &Decoded) -> Option<Cited<i64>> {
    let steel = pin
        .material
        .is_some_and(|m| m.value.contains("steel") && family(m.value) == Family::Other && !m.value.contains("class"));
    if !steel || !matches!(pin.form, ItemForm::ClevisPin | ItemForm::Bolt | ItemForm::ClevisBolt) {
        return None;
    }
    let diameter = pin.diameter?.value.to_f64();
    let pounds = 2.0 * SHEAR * std::f64::consts::FRAC_PI_4 * diameter * diameter;
    (pounds > 0.0 && pounds < 1e9).then(|| Cited::from_memory(pounds as i64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::{cable_strength, decode};

    /// From memory: a 1/8 in sleeve is pressed three times, a 3/32 in sleeve once; a pressed end holds what the cable of
    /// coated wire breaks at (FAA AC 43.13-1B Table 7-3).
    #[test]
    fn a_pressed_end_is_as_strong_as_its_cable() {
        let presses = |n, d| oval_sleeve(Length::inches(n, d)).map(|s| s.value.presses);
        assert_eq!(
            (presses(1, 8), presses(3, 32), presses(3, 16), presses(1, 4)),
            (Some(3), Some(1), Some(4), Some(3))
        );
        assert_eq!(presses(1, 2), None);
        for (n, d) in [(1, 16), (3, 32), (1, 8), (5, 32), (3, 16), (7, 32), (1, 4)] {
            let size = Length::inches(n, d);
            let (sleeve, cable) =
                (oval_sleeve(size).expect("a sleeve"), cable_strength("7x19", size, CableWire::Coated));
            assert!(sleeve.value.after > sleeve.value.before);
            assert!(cable.is_some_and(|c| sleeve.value.strength >= c.value), "{n}/{d}");
            assert!(!sleeve.source.may_fail());
        }
    }

    #[test]
    fn metals_are_held_against_each_other() {
        let faults = |sleeve: &str, wire, construction: &str| -> Vec<SleeveFault> {
            sleeve_faults(sleeve_metal(sleeve), wire, construction).into_iter().map(|f| f.value).collect()
        };
        let (stainless, coated) = (Some(CableWire::Stainless), Some(CableWire::Coated));
        assert_eq!(faults("copper tinned", stainless, "7x19"), []);
        assert_eq!(faults("copper", coated, "7x7"), []);
        assert_eq!(faults("copper", stainless, "7x7"), [SleeveFault::BareOnStainless]);
        assert_eq!(faults("aluminium", coated, "7x19"), [SleeveFault::Aluminium]);
        assert_eq!(faults("zinc-plated copper", stainless, "1x19"), [SleeveFault::SingleStrand]);
        assert_eq!(faults("", stainless, "7x19"), []);
    }

    #[test]
    fn sizes_are_read_out_of_names() {
        let eighth = Some(Length::inches(1, 8));
        assert_eq!(cable_size("AN100-C4", ""), eighth);
        assert_eq!(cable_size("CS-1/8", ""), eighth);
        assert_eq!(cable_size("SL-4", "Oval sleeve for 1/8 in cable"), eighth);
        assert_eq!(cable_size("SL-4", "sleeve 1/8 to 3/16"), None);
        assert_eq!(cable_size("SL-4", "sleeve"), None);
    }

    #[test]
    fn members_bear_what_they_are_made_for() {
        assert_eq!(turnbuckle_strength("AN130-16S").map(|s| s.value), Some(1600));
        assert_eq!(turnbuckle_strength("TB-1/4"), None);
        // 2 x 75,000 psi x .0276 square inches.
        let pin = double_shear(&decode("AN393-11").expect("a pin")).map(|p| p.value);
        assert_eq!(pin, Some(4141));
        assert_eq!(double_shear(&decode("ISO 2341 B 6x20 A4").expect("a pin")), None);
    }
}
