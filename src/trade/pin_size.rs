//! Which cotter pin goes through a bolt or clevis pin.
//!
//! The tables are from memory: what is found by them warns.

use super::{Cited, Decoded, ItemForm, Source};
use crate::units::{Length, Rational};

/// Nominal diameter of bolt or pin up to which a cotter pin of the second number is used; sixty-fourths of an inch.
/// From memory: AN3 to AN5 1/16, AN6 to AN8 3/32, AN9 to AN12 1/8.
const INCH: [(i64, i64); 3] = [(20, 4), (32, 6), (48, 8)];

/// The same for ISO 2341 pins and ISO 1234 split pins, in tenths of a millimetre; from memory.
const METRIC: [(i64, i64); 8] = [(30, 8), (40, 10), (50, 12), (60, 16), (80, 20), (120, 32), (160, 40), (200, 50)];

/// Least length of a cotter pin in diameters of what it goes through: one prong is bent over the end, one cut or bent
/// back (common practice).
const LONG_ENOUGH: (i64, i64) = (3, 2);

/// What is wrong with a cotter pin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CotterFault {
    /// It does not go into the hole.
    TooThick { right: Length },
    /// It lies loose in the hole.
    TooThin { right: Length },
    /// Its prongs can't be bent.
    TooShort { least: Length },
}

/// The nominal diameter of the cotter pin for a bolt or pin. `None` where no table has it.
pub fn cotter_diameter(through: &Decoded) -> Option<Cited<Length>> {
    if !matches!(through.form, ItemForm::Bolt | ItemForm::ClevisBolt | ItemForm::Eyebolt | ItemForm::ClevisPin) {
        return None;
    }
    let diameter = through.diameter?.value;
    let metric = through.designation.starts_with("ISO ");
    let found = if metric {
        let tenths = diameter.as_inches() * Rational::from_integer(254);
        METRIC.iter().find(|row| tenths <= Rational::from_integer(row.0)).map(|row| Length::millimetres(row.1, 10))
    } else {
        INCH.iter().find(|row| diameter <= Length::inches(row.0, 64)).map(|row| Length::inches(row.1, 64))
    };
    found.map(Cited::from_memory)
}

/// Whether a cotter pin suits the bolt or pin it goes through.
pub fn cotter_faults(through: &Decoded, cotter: &Decoded) -> Vec<Cited<CotterFault>> {
    let mut faults = Vec::new();
    if let (Some(right), Some(given)) = (cotter_diameter(through), cotter.diameter) {
        let fault = if given.value > right.value {
            Some(CotterFault::TooThick { right: right.value })
        } else if given.value < right.value {
            Some(CotterFault::TooThin { right: right.value })
        } else {
            None
        };
        faults.extend(fault.map(|fault| Cited::new(fault, right.source.min(given.source))));
    }
    if let (Some(diameter), Some(length)) = (through.diameter, cotter.length) {
        let least = Length::from_inches(diameter.value.as_inches() * Rational::new(LONG_ENOUGH.0, LONG_ENOUGH.1));
        if length.value < least {
            let source = length.source.min(diameter.source).min(Source::CommonPractice);
            faults.push(Cited::new(CotterFault::TooShort { least }, source));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::decode;

    fn faults(through: &str, cotter: &str) -> Vec<CotterFault> {
        let item = |d: &str| decode(d).expect(d);
        cotter_faults(&item(through), &item(cotter)).into_iter().map(|f| f.value).collect()
    }

    /// From memory, like the tables; no publication at hand gives them.
    #[test]
    fn a_cotter_pin_goes_with_its_bolt() {
        let inch = Length::inches;
        for (through, cotter, expected) in [
            ("AN4-6", "AN380-2-2", &[][..]),
            ("AN6-21", "AN380-3-3", &[]),
            ("AN10-20", "AN380-4-5", &[]),
            ("ISO 2341 B 6x20 A4", "ISO 1234 1.6x14 A4", &[]),
            ("AN393-11", "AN380-2-2", &[]),
            ("AN4-6", "AN380-3-3", &[CotterFault::TooThick { right: inch(1, 16) }]),
            (
                "AN6-21",
                "AN380-2-2",
                &[CotterFault::TooThin { right: inch(3, 32) }, CotterFault::TooShort { least: inch(9, 16) }],
            ),
        ] {
            assert_eq!(faults(through, cotter), expected, "{through} {cotter}");
        }
        let all = cotter_faults(&decode("AN6-21").expect("a bolt"), &decode("AN380-2-2").expect("a pin"));
        assert!(all.iter().all(|f| !f.source.may_fail()));
    }

    /// ISO 2341 B 6x20: the hole's near side is 20 - 3.2 - 0.8 mm from the head (from memory).
    #[test]
    fn a_clevis_pin_holds_up_to_its_hole() {
        let pin = decode("ISO 2341 B 6x20").expect("a pin");
        assert_eq!(pin.grip.map(|g| g.value), Some(Length::millimetres(16, 1)));
        assert_eq!(decode("ISO 2341 A 6x20").and_then(|p| p.grip), None);
    }
}
