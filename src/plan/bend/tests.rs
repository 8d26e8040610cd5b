use super::*;
use crate::model;
use crate::resolve::{Resolved, configurations, resolve};
use crate::source::Memory;

const PARTS: &str = "number,name,material,stock,cut length,blank length,A\n\
    K-1,Tray,6061-T6,S-1,,,1\n\
    K-2,Hoop,4130 steel,T-1,,60,1\n\
    K-3,Rail,4130 steel,T-1,20,,1\n";
const STOCK: &str = "stock,material,shape,outside diameter,wall,bar length\n\
    S-1,6061-T6,sheet,,.064,48\n\
    T-1,4130 steel,round tube,1,.058,144\n";

fn with(work: &str, check: impl FnOnce(&Manual, &Resolved)) {
    let mut files = Memory::new();
    files.insert(
        "manual.yaml",
        b"title: T\nvariants: { A: { title: A } }\nsections: [{ section: s, title: S }]\n".as_slice(),
    );
    files.insert("parts.csv", PARTS.as_bytes());
    files.insert("stock.csv", STOCK.as_bytes());
    let step =
        format!("---\nstep: bend-it\ntitle: Bend it\nsection: s\nparts: [K-1, K-2, K-3]\n{work}---\n1. Bend it.\n");
    files.insert("steps/a.md", step.as_bytes());
    let read = model::read(&files).expect("a folder in memory");
    let manual = read.manual.expect("a manual");
    let resolved = resolve(&manual, &configurations(&manual)[0]);
    check(&manual, &resolved);
}

fn bend(keys: &str, check: impl FnOnce(Result<BentPiece, BendFault>)) {
    with(&format!("bends:\n  - {{ {keys} }}\n"), |manual, _| check(bent_piece(manual, &manual.steps[0].bends[0])));
}

/// FAA AC 43.13-1B: .064 sheet at .25 has a setback of .130 at 45 degrees and .758 at 135. Allowance by hand:
/// A/57.29578 (R + .4475 T).
#[test]
fn sheet_is_laid_out_with_the_published_setback() {
    for (degrees, setback) in [(45.0_f64, 0.130), (135.0, 0.758)] {
        bend(&format!("part: K-1, legs: [2, 3], angle: {degrees}, radius: .25"), |piece| {
            let piece = piece.expect("a piece");
            let allowance = degrees / 57.295_78 * (0.25 + 0.4475 * 0.064);
            let (begins, ends) = piece.flat.bends[0];
            assert!((begins - (2.0 - setback)).abs() < 5e-4, "{begins}");
            assert!((ends - begins - allowance).abs() < 1e-6);
            assert!((piece.flat.length - (5.0 - 2.0 * setback + allowance)).abs() < 1e-3);
            assert!((piece.sight_line(0) - begins - 0.25).abs() < 1e-12);
        });
    }
}

/// FAA AC 43.13-1B Table 4-6: 6061-T6 of .064, 1 to 2 thicknesses.
#[test]
fn the_smallest_radius_is_the_tables() {
    bend("part: K-1, legs: [2, 3], angle: 90, radius: .25", |piece| {
        let smallest = piece.expect("a piece").smallest.expect("a row").value;
        assert_eq!((smallest.least, smallest.safe), (Length::inches(64, 1000), Length::inches(128, 1000)));
    });
}

/// By hand: 20 + 18 + 20 less four setbacks of 4.5, and two quarter circles of 4 in.
#[test]
fn a_hoop_of_tube_is_bent_about_its_centre_line() {
    let keys = "part: K-2, legs: [20, 18, 20], angle: 90, radius: 3 1/2, toward: 9";
    let cuts = "cuts:\n  - { part: K-2, end: A, cut: saddle, onto: K-3, angle: 70, long-point: 12 }\n  - { part: K-2, end: B, cut: saddle, onto: K-3, angle: 70, long-point: 12 }\n";
    with(&format!("bends:\n  - {{ {keys} }}\n{cuts}"), |manual, resolved| {
        let piece = bent_piece(manual, &manual.steps[0].bends[0]).expect("a piece");
        let by_hand = 58.0 - 4.0 * 4.5 + 2.0 * std::f64::consts::FRAC_PI_2 * 4.0;
        assert!((piece.flat.length - by_hand).abs() < 1e-9, "{}", piece.flat.length);
        assert!(piece.is_flat());
        // 12 is a quarter with the clock from 9 looking at A; looking at B the inside is at 3, and 12 a quarter against.
        assert_eq!(piece.clocking(&TubeWork::new(manual, resolved), TubeEnd::A), Some((Clock::TWELVE, 90)));
        assert_eq!(piece.clocking(&TubeWork::new(manual, resolved), TubeEnd::B), Some((Clock::TWELVE, 270)));
    });
}

#[test]
fn two_planes_are_no_flat_drawing() {
    bend("part: K-2, legs: [10, 12, 10], angle: 90, radius: 3, toward: [12, 3]", |piece| {
        let piece = piece.expect("a piece");
        assert!(!piece.is_flat());
        assert_eq!(piece.turn(piece.toward[1]), 90);
    });
}

#[test]
fn what_can_not_be_bent_is_an_error_with_its_numbers() {
    for (keys, words) in [
        ("part: K-1, legs: [2], angle: 90, radius: .25", "between two legs"),
        ("part: K-1, legs: [2, 3, 2], angle: [90, 90, 45], radius: .25", "2 bends need 2 angles"),
        ("part: K-1, legs: [2, 3, 2], angle: 90, radius: [.25, .25, .25]", "2 bends need 2 radii"),
        ("part: K-1, legs: [2, 3], radius: .25", "1 bends need 1 angles"),
        ("part: K-1, legs: [2, 3], angle: 180, radius: .25", "between 0 and 180"),
        ("part: K-1, legs: [2, 3], angle: 0, radius: .25", "between 0 and 180"),
        ("part: K-1, legs: [2, 3], angle: 90, radius: -.25", "inside radius of -0.2500 in"),
        (
            "part: K-1, legs: [.3, 3], angle: 90, radius: .25",
            "leg 1 of 0.3000 in is shorter than the bends beside it, 0.3140 in",
        ),
        ("part: K-1, legs: [0, 3], angle: 90, radius: .25", "a leg has no length"),
        ("part: K-1, legs: [2, 3], angle: 90, radius: .25, toward: 3", "up (12) or down (6)"),
        ("part: K-2, legs: [9, 9], angle: 90, radius: 0", "inside radius of 0.0000 in"),
    ] {
        bend(keys, |piece| match piece {
            Err(BendFault::Impossible { why, .. }) => assert!(why.contains(words), "{keys}: {why}"),
            other => panic!("{keys}: {other:?}"),
        });
    }
}

/// Half the circumference of a 1 in tube is 1.5708 in.
#[test]
fn a_flattened_end_is_half_the_circumference_wide() {
    let flat = |keys: &str, check: fn(Result<FlatEnd, BendFault>)| {
        with(&format!("flattened:\n  - {{ {keys} }}\n"), |manual, _| {
            check(flat_end(manual, &manual.steps[0].flattened[0]))
        });
    };
    flat("part: K-3, end: A, length: 1 1/2, transition: 2", |end| {
        let end = end.expect("an end");
        assert!((end.width - std::f64::consts::FRAC_PI_2).abs() < 1e-4);
        assert_eq!(end.thickness, Length::inches(116, 1000));
    });
    flat("part: K-3, end: both, length: 8, transition: 3", |end| {
        assert!(matches!(end, Err(BendFault::Impossible { .. })))
    });
    flat("part: K-3, end: A, length: 0, transition: 3", |end| {
        assert!(matches!(end, Err(BendFault::Impossible { .. })))
    });
    flat("part: K-3, end: A, length: 1, transition: 0", |end| {
        assert!(matches!(end, Err(BendFault::Impossible { .. })))
    });
    flat("part: K-1, end: A, length: 1, transition: 1", |end| assert!(matches!(end, Err(BendFault::Unknown))));
}
