//! Bolts against the published AN bolt tables.

use super::rows;
use crate::trade::{Source, decode};
use crate::units::{Length, Rational};

/// The printed value: three decimals, half up.
fn printed(length: Length) -> i64 {
    (length.as_inches() * Rational::from_integer(1000)).round().to_integer()
}

#[test]
fn every_published_row_is_reproduced() {
    for row in rows(include_str!("published/an-bolts.csv")) {
        let [series, diameter, thread, dash, length, grip] = row[..] else { panic!("{row:?}") };
        let name = format!("{series}-{dash}A");
        let bolt = decode(&name).expect(&name);
        assert_eq!(bolt.thread.map(|t| t.value.to_string()).as_deref(), Some(thread), "{name}");
        let nominal = if diameter == "3/16" { ".190" } else { diameter };
        assert_eq!(bolt.diameter.map(|d| d.value), Length::parse(nominal).ok(), "{name}");
        for (ours, theirs) in [(bolt.length, length), (bolt.grip, grip)] {
            let ours = ours.expect(&name);
            assert_eq!(printed(ours.value), printed(Length::parse(theirs).expect(theirs)), "{name}");
            assert!(matches!(ours.source, Source::Published(_)), "{name}");
        }
    }
}

/// Independent values from other printings: AN4-15 grip 1 3/16; AN6-20 1 7/16; AN5-27 2 7/16; AN3-12 .875;
/// AN3-13 1.000.
#[test]
fn independent_printings_agree() {
    for (name, grip) in
        [("AN4-15", "1 3/16"), ("AN6-20", "1 7/16"), ("AN5-27", "2 7/16"), ("AN3-12", ".875"), ("AN3-13", "1")]
    {
        assert_eq!(decode(name).and_then(|b| b.grip).map(|g| g.value), Length::parse(grip).ok(), "{name}");
    }
}

/// A longer dash is a longer bolt, everywhere in the series.
#[test]
fn grip_grows_with_the_dash() {
    for size in 3..=6 {
        let grips: Vec<_> =
            (1..=80).filter_map(|dash| decode(&format!("AN{size}-{dash}"))).map(|b| (b.length, b.grip)).collect();
        assert!(grips.len() > 55);
        assert!(grips.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 <= pair[1].1), "AN{size}");
    }
}
