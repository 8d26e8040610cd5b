//! Torque, blind rivets and bends against their publications.

use super::rows;
use crate::trade::{
    Against, BlindRivet, Clamped, Drill, Grip, Motion, NoTableTorque, NutLoad, Source, Thread, ThreadState,
    bend_radius, compare_torque, decode, newton_metres, nut_load, table_torque, torque, torque_for,
};
use crate::units::{Length, Measure, MeasureUnit, Rational};

fn inches(text: &str) -> Length {
    Length::parse(text).expect(text)
}

/// FAA AC 43.13-1B CHG 1, Table 7-1: every row.
#[test]
fn torques_are_the_published_ones() {
    let mut seen = 0;
    for row in rows(include_str!("published/torque.csv")) {
        let thread = Thread::parse(row[1]).expect(row[1]);
        let number = |at: usize| row[at].parse::<i64>().expect(row[at]);
        for (load, least, most, limit) in [(NutLoad::Tension, 2, 3, 6), (NutLoad::Shear, 4, 5, 7)] {
            let found = torque(thread, load).expect(row[1]).value;
            assert_eq!((found.least, found.most, found.limit), (number(least), number(most), number(limit)), "{row:?}");
        }
        seen += 1;
    }
    assert_eq!(seen, 25);
    assert_eq!(torque(Thread::Metric { diameter: 600, pitch: 100 }, NutLoad::Tension), None);
}

#[test]
fn a_nut_knows_its_column() {
    let load = |d: &str| nut_load(&decode(d).expect(d)).map(|l| l.value);
    assert_eq!(load("AN310-4"), Some(NutLoad::Tension));
    assert_eq!(load("AN320-4"), Some(NutLoad::Shear));
    assert_eq!(load("MS20364-428A"), Some(NutLoad::Shear));
    // The table does not name all-metal nuts.
    assert_eq!(load("MS21042-4"), None);
    let castle = torque_for(&decode("AN310-4").expect("a nut")).expect("a torque");
    assert_eq!((castle.value.least, castle.value.most), (50, 70));
    assert!(castle.source.may_fail());
    assert_eq!(torque_for(&decode("MS21044N4").expect("a nut")).map(|t| t.source), Some(Source::FromMemory));
}

/// FAA AC 43.13-1B CHG 1, Table 7-1: every fine row that a nut of the four named families has, by its designation.
#[test]
fn every_named_nut_has_its_row() {
    let mut seen = 0;
    for row in rows(include_str!("published/torque.csv")) {
        let fine = row[0] == "fine";
        let thread = Thread::parse(row[1]).expect(row[1]);
        let number = |at: usize| row[at].parse::<i64>().expect(row[at]);
        let (size, run_together) = match thread {
            Thread::Number { number: 10, per_inch } => (3, format!("10{per_inch}")),
            Thread::Sixteenths { sixteenths, per_inch } => (sixteenths, format!("{sixteenths}{per_inch}")),
            _ => continue,
        };
        for (nut, least, most, limit) in [
            (format!("AN310-{size}"), 2, 3, 6),
            (format!("AN320-{size}"), 4, 5, 7),
            (format!("MS20365-{run_together}"), 2, 3, 6),
            (format!("MS20364-{run_together}"), 4, 5, 7),
        ] {
            let Some(decoded) = decode(&nut).filter(|d| fine && d.thread.is_some_and(|t| t.value == thread)) else {
                continue;
            };
            let found = torque_for(&decoded).expect(&nut).value;
            assert_eq!((found.least, found.most, found.limit), (number(least), number(most), number(limit)), "{nut}");
            seen += 1;
        }
    }
    assert_eq!(seen, 44);
}

#[test]
fn the_table_speaks_only_where_it_holds() {
    let castle = decode("AN310-4").expect("a nut");
    let bolt = decode("AN4-10").expect("a bolt");
    let dry = ThreadState::Dry;
    let found =
        |nut, clamped, motion| table_torque(&bolt, nut, clamped, motion, dry).map(|t| (t.value.least, t.value.most));
    assert_eq!(found(Some(&castle), Clamped::SolidMetal, Motion::Fixed), Ok((50, 70)));
    assert_eq!(found(Some(&castle), Clamped::SolidMetal, Motion::Turns), Err(NoTableTorque::Pivot));
    assert_eq!(found(Some(&castle), Clamped::UnbushedTube, Motion::Fixed), Err(NoTableTorque::UnbushedTube));
    assert_eq!(found(Some(&castle), Clamped::Soft, Motion::Fixed), Err(NoTableTorque::SoftStack));
    assert_eq!(found(Some(&castle), Clamped::Unknown, Motion::Fixed), Err(NoTableTorque::UnknownStack));
    assert_eq!(found(None, Clamped::SolidMetal, Motion::Fixed), Err(NoTableTorque::UnknownNut));
    // The table is for steel; a clevis bolt is not drawn tight.
    for (bolt, nut, why) in [
        ("AN4DD10A", "AN365-428A", NoTableTorque::Aluminium),
        ("AN4-10A", "AN365D428", NoTableTorque::Aluminium),
        ("AN24-12", "AN320-4", NoTableTorque::ClevisBolt),
    ] {
        let (bolt, nut) = (decode(bolt).expect(bolt), decode(nut).expect(nut));
        assert_eq!(table_torque(&bolt, Some(&nut), Clamped::SolidMetal, Motion::Fixed, ThreadState::Dry), Err(why));
    }
    let table = torque_for(&castle).expect("a torque").value;
    for (least, most, expected) in
        [(50, 70, Against::Within), (40, 60, Against::Below), (60, 80, Against::Above), (60, 101, Against::PastLimit)]
    {
        assert_eq!(compare_torque(Rational::from_integer(least), Rational::from_integer(most), table), expected);
    }
}

/// 0.0254 m by 4.448 221 615 260 5 N, both by definition.
#[test]
fn newton_metres_are_rounded_to_a_tenth() {
    for value in [0, 1, 12, 50, 70, 140, 690, 11000, 25000] {
        let measure = Measure { value: Rational::from_integer(value), unit: MeasureUnit::InchPound };
        let exact = value as f64 * 0.0254 * 4.448_221_615_260_5;
        let got = newton_metres(measure).expect("a torque").value;
        assert_eq!(*got.numer() as f64 / *got.denom() as f64, (exact * 10.0).round() / 10.0, "{value}");
    }
}

/// US Army TM 10-5410-221-14/1, Table 4-3: every row.
#[test]
fn blind_rivets_are_the_published_ones() {
    for row in rows(include_str!("published/blind-rivets.csv")) {
        let [number, diameter, drill, hole_min, hole_max, length, grip_min, grip_max] = row[..] else {
            panic!("{row:?}")
        };
        let rivet = BlindRivet::of_number(number).expect(number);
        assert_eq!(rivet.diameter(), inches(diameter), "{number}");
        assert_eq!(rivet.drill, Drill::parse(drill).expect(drill), "{number}");
        assert_eq!(rivet.length().map(|l| l.value), Some(inches(length)), "{number}");
        let grip = rivet.grip().value;
        assert_eq!((grip.least, grip.most), (Some(inches(grip_min)), inches(grip_max)), "{number}");
        // The table's own drill makes a hole within its own limits.
        let size = rivet.drill.size().value;
        assert!(inches(hole_min) <= size && size <= inches(hole_max), "{number}");
        assert_eq!(grip.judge(inches(grip_max)), Grip::Holds, "{number}");
        let thousandth = Length::inches(1, 1000);
        assert_eq!(grip.judge(inches(grip_max) + thousandth), Grip::TooThick(thousandth), "{number}");
        assert_eq!(grip.judge(inches(grip_min) - thousandth), Grip::TooThin(thousandth), "{number}");
        // Both ends of its grip are taken by it.
        for end in [grip_min, grip_max] {
            assert_eq!(BlindRivet::holding(inches(diameter), inches(end)).map(|r| r.number), Some(number), "{end}");
        }
    }
    let between = Length::inches(1255, 10_000);
    assert_eq!(BlindRivet::holding(inches("1/8"), between).map(|r| r.number), Some("43"));
    assert_eq!(BlindRivet::holding(inches("1/8"), inches(".6")), None);
    assert_eq!(BlindRivet::holding(inches("1/8"), inches(".01")), None);
}

/// FAA AC 43.13-1B Table 4-6: every cell.
#[test]
fn bend_radii_are_the_published_ones() {
    let thicknesses = [".016", ".032", ".064", ".128", ".182", ".258"];
    for row in rows(include_str!("published/bend-radii.csv")) {
        for (thickness, cell) in thicknesses.iter().zip(&row[1..]) {
            let (least, safe) = cell.split_once('-').unwrap_or((cell, cell));
            let found = bend_radius(row[0], inches(thickness)).expect(row[0]).value;
            let by = |multiple: &str| Length::from_inches(inches(thickness).as_inches() * inches(multiple).as_inches());
            assert_eq!((found.least, found.safe), (by(least), by(safe)), "{} {thickness}", row[0]);
        }
    }
    assert_eq!(bend_radius("6061-T6", inches(".063")).map(|r| r.value.safe), Some(inches(".126")));
    assert_eq!(bend_radius("6061-T6", inches(".3")), None);
    assert_eq!(bend_radius("unobtainium", inches(".063")), None);
}
