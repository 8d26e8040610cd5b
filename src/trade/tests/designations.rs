//! Designations: words, near misses, items that do not exist.

use super::rows;
use crate::trade::{
    DesignationFault, Drilled, ItemForm, Normalised, NutForm, Source, Undecoded, decode, normalise, read,
};
use crate::units::Length;

#[test]
fn words_say_what_the_item_is() {
    for (designation, words) in [
        ("AN4-12A", "bolt, 1/4-28, grip 13/16 in, cadmium-plated steel, shank not drilled"),
        ("AN4C20A", "bolt, 1/4-28, grip 1 9/16 in, corrosion-resistant steel, shank not drilled"),
        ("AN3H-5A", "bolt, 10-32, grip 1/4 in, cadmium-plated steel, shank not drilled, head drilled"),
        ("AN6-30", "bolt, 3/8-24, grip 2 7/16 in, cadmium-plated steel, shank drilled"),
        ("MS20470AD4-5", "solid rivet, universal head, diameter 1/8 in, length 5/16 in, 2117 aluminium"),
        ("AN426AD3-3.5", "solid rivet, flush head 100°, diameter 3/32 in, length 7/32 in, 2117 aluminium"),
        (
            "AN960-416L",
            "washer, thin, diameter 1/4 in (from memory), thickness 0.032 in, cadmium-plated steel (from memory)",
        ),
        ("NAS1149F0363P", "washer, No. 10, thickness 0.063 in, cadmium-plated steel (from memory)"),
        ("AN310-4", "castle nut, 1/4-28, cadmium-plated steel"),
        ("AN380-2-2", "cotter pin, diameter 1/16 in, length 1/2 in, cadmium-plated steel (all from memory)"),
    ] {
        assert_eq!(decode(designation).map(|d| d.words()).as_deref(), Some(words));
    }
}

#[test]
fn letters_tell_the_holes() {
    let shank = |d: &str| decode(d).and_then(|b| b.shank).map(|s| s.value);
    assert_eq!(shank("AN4-6"), Some(Drilled::Drilled));
    assert_eq!(shank("AN4-6A"), Some(Drilled::NotDrilled));
    assert_eq!(decode("AN4H-6").and_then(|b| b.head).map(|h| h.value), Some(Drilled::Drilled));
}

/// Published NAS1149 / AN960 cross-references: both numbers of a row are the same washer.
#[test]
fn washers_agree_with_the_cross_references() {
    for row in rows(include_str!("published/washers.csv")) {
        let thickness = Length::parse(row[2]).ok();
        for name in &row[..2] {
            let washer = decode(name).expect(name);
            assert_eq!(washer.thickness.map(|t| t.value), thickness, "{name}");
            assert!(washer.thickness.is_some_and(|t| matches!(t.source, Source::Published(_))), "{name}");
        }
        assert_eq!(
            decode(row[0]).and_then(|w| w.diameter).map(|d| d.value),
            decode(row[1]).and_then(|w| w.diameter).map(|d| d.value),
            "{row:?}"
        );
    }
}

#[test]
fn nuts_are_told_apart() {
    let form = |d: &str| decode(d).map(|n| n.form);
    assert_eq!(form("AN365-428A"), Some(ItemForm::Nut(NutForm::Elastic)));
    assert_eq!(form("MS20364-1032A"), Some(ItemForm::Nut(NutForm::ElasticShear)));
    assert_eq!(form("MS21042-4"), Some(ItemForm::Nut(NutForm::AllMetal)));
    assert_eq!(form("AN320-5"), Some(ItemForm::Nut(NutForm::CastleShear)));
    for (nut, thread) in
        [("MS21044N3", "10-32"), ("AN365-1032A", "10-32"), ("AN310-10", "5/8-18"), ("MS21042-08", "8-32")]
    {
        assert_eq!(decode(nut).and_then(|n| n.thread).map(|t| t.value.to_string()).as_deref(), Some(thread));
    }
}

#[test]
fn a_dash_that_does_not_exist_names_its_neighbours() {
    for (designation, neighbours) in [
        ("AN4-8A", &["AN4-7A", "AN4-10A"][..]),
        ("AN3-19", &["AN3-17", "AN3-20"]),
        ("AN5-3A", &["AN5-4A"]),
        ("AN11-10", &["AN10-10", "AN12-10"]),
        ("AN365-425A", &["AN365-428A"]),
        ("MS20470AD7-5", &["MS20470AD6-5", "MS20470AD8-5"]),
        ("AN960-417", &["AN960-416", "AN960-516"]),
        ("NAS1149F0433P", &["NAS1149F0432P", "NAS1149F0463P"]),
        ("AN31-10", &["AN30-10", "AN32-10"]),
    ] {
        let Err(Undecoded::NoSuch(none)) = read(designation) else { panic!("{designation}") };
        let mut got = none.neighbours;
        got.sort();
        let mut expected: Vec<_> = neighbours.iter().map(|n| (*n).to_owned()).collect();
        expected.sort();
        assert_eq!(got, expected, "{designation}");
        assert!(!got.is_empty() && got.iter().all(|n| decode(n).is_some()), "{designation}: {got:?}");
    }
}

#[test]
fn near_misses_are_understood() {
    for (text, to, fault) in [
        ("an4-10a", "AN4-10A", DesignationFault::LowerCase),
        (" AN4-10A", "AN4-10A", DesignationFault::Space),
        ("AN4 -10A", "AN4-10A", DesignationFault::Space),
        ("AN4 10A", "AN4-10A", DesignationFault::MissingDash),
        ("AN4-1OA", "AN4-10A", DesignationFault::LetterForDigit),
        ("AN4\u{2013}10A", "AN4-10A", DesignationFault::DashSign),
        ("AN365428A", "AN365-428A", DesignationFault::MissingDash),
        ("AN96O-416", "AN960-416", DesignationFault::LetterForDigit),
        ("ms20470ad4-5", "MS20470AD4-5", DesignationFault::LowerCase),
        ("iso 4014 m6X30", "ISO 4014 M6x30", DesignationFault::LowerCase),
        ("ISO4017 M6 x 20 A4", "ISO 4017 M6x20 A4", DesignationFault::Space),
        ("ISO 7089-6", "ISO 7089 6", DesignationFault::Space),
        ("an4 8a", "AN4-8A", DesignationFault::LowerCase),
        ("AN4l5A", "AN4-15A", DesignationFault::LetterForDigit),
        ("MS21044-N4", "MS21044N4", DesignationFault::StrayDash),
        ("AN4--10A", "AN4-10A", DesignationFault::StrayDash),
        ("AN 960 416", "AN960-416", DesignationFault::MissingDash),
        ("ISO 4014 - M6 x 30 - 8.8", "ISO 4014 M6x30 8.8", DesignationFault::Space),
        ("ISO 4762 M6x20 a4-70", "ISO 4762 M6x20 A4-70", DesignationFault::LowerCase),
    ] {
        match normalise(text) {
            Normalised::Corrected { to: got, faults } => {
                assert_eq!(got, to, "{text}");
                assert!(faults.contains(&fault), "{text}: {faults:?}");
            }
            other => panic!("{text}: {other:?}"),
        }
    }
    for text in ["AN4-10A", "AN4-8A", "MS21044N4", "ISO 1234 1.6x14 A4", "AN4C20A"] {
        assert_eq!(normalise(text), Normalised::AsWritten, "{text}");
    }
    for text in ["", "TB-1/4", "BLK-40", "Ω", "AN", "AN-", "ISO", "ISO 4014", "ANO", &"A".repeat(5000)] {
        assert_eq!(normalise(text), Normalised::NotBuiltIn, "{text}");
    }
}

#[test]
fn metric_designations_are_read_from_themselves() {
    for (designation, words) in [
        (
            "ISO 4762 M6x20 A4",
            "socket head screw, M6, length 20 mm, stainless steel A4, shank not drilled (all from memory)",
        ),
        ("ISO 7089 6 A4", "washer, diameter 6 mm, thickness 1.6 mm, stainless steel A4 (all from memory)"),
    ] {
        assert_eq!(decode(designation).map(|d| d.words()).as_deref(), Some(words));
    }
    let nut = decode("ISO 7040 M6 8").expect("a nut");
    assert_eq!(nut.height.map(|h| h.value), Some(Length::millimetres(8, 1)));
    assert!(matches!(read("ISO 4014 M7x30"), Err(Undecoded::NoSuch(_))));
    assert_eq!(read("ISO 4014 30"), Err(Undecoded::NotBuiltIn));
}

#[test]
fn what_is_not_told_is_named() {
    for (designation, missing) in [
        ("AN4-10A", &[][..]),
        ("AN8-22A", &["length", "grip"]),
        ("AN310-4", &["height"]),
        ("AN23-12", &["length", "grip"]),
        ("AN960-416", &[]),
        ("ISO 7093 6", &[]),
        ("ISO 7093 7", &["thickness"]),
        ("ISO 4017 M6x20", &[]),
        ("ISO 15977 4x12", &["grip"]),
        ("MS24665-999", &["diameter"]),
    ] {
        assert_eq!(decode(designation).expect(designation).missing(), missing, "{designation}");
    }
}
