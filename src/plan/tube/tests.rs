use super::*;
use crate::model;
use crate::resolve::{configurations, resolve};
use crate::source::Memory;

const PARTS: &str = "number,name,material,stock,cut length,as supplied,A\n\
    K-1,Branch,6061-T6,T-1,20,blank 21 in,1\n\
    K-2,Main,6061-T6,T-2,40,cut,1\n";
const STOCK: &str = "stock,material,shape,outside diameter,wall,bar length\n\
    T-1,6061-T6,round tube,1,.058,144\n\
    T-2,6061-T6,round tube,1 1/4,.058,144\n";

fn with(cuts: &str, check: impl FnOnce(Result<TubePiece, TubeFault>)) {
    let mut files = Memory::new();
    files.insert(
        "manual.yaml",
        b"title: T\nvariants: { A: { title: A } }\nsections: [{ section: s, title: S }]\n".as_slice(),
    );
    files.insert("parts.csv", PARTS.as_bytes());
    files.insert("stock.csv", STOCK.as_bytes());
    let step =
        format!("---\nstep: cut-it\ntitle: Cut it\nsection: s\nparts: [K-1, K-2]\ncuts:\n{cuts}---\n1. Cut it.\n");
    files.insert("steps/a.md", step.as_bytes());
    let read = model::read(&files).expect("a folder in memory");
    let manual = read.manual.expect("a manual");
    let resolved = resolve(&manual, &configurations(&manual)[0]);
    check(TubeWork::new(&manual, &resolved).piece(&PartNumber::new("K-1")));
}

#[test]
fn a_mitred_rail_is_shorter_inside_by_two_diameters() {
    // A 45 degree cut: long side less short side is the diameter.
    let cuts = "  - { part: K-1, end: A, cut: mitre, angle: 45, long-point: 3, length: 21 }\n  \
                - { part: K-1, end: B, cut: mitre, angle: 45, long-point: 9 }\n";
    with(cuts, |found| {
        let piece = found.expect("a piece");
        assert!((piece.lines.longest - 21.0).abs() < 1e-9 && (piece.lines.shortest - 19.0).abs() < 1e-9);
        assert_eq!(piece.turned(), Some(0));
        // 6061 1 x .058 in weighs .202 lb/ft (published); the mean length is 20 in.
        assert!((piece.weight().expect("a weight") - 0.202 * 20.0 / 12.0).abs() < 5e-4);
        assert_eq!(piece.blank, Some(Length::inches(21, 1)));
    });
}

#[test]
fn ends_turned_against_each_other() {
    let cuts = "  - { part: K-1, end: A, cut: mitre, angle: 45, long-point: 12 }\n  \
                - { part: K-1, end: B, cut: mitre, angle: 45, long-point: 3 }\n";
    with(cuts, |found| assert_eq!(found.expect("a piece").turned(), Some(-90)));
}

#[test]
fn a_hole_saw_does_only_where_the_axes_meet() {
    let saddle = |more: &str| format!("  - {{ part: K-1, end: A, cut: saddle, onto: K-2, {more} }}\n");
    with(&saddle("angle: 60"), |found| {
        let saw = found.expect("a piece").ends[0].hole_saw();
        assert!(saw.is_some_and(|(d, off)| d == Length::inches(5, 4) && (off - 30.0).abs() < 1e-9));
    });
    with(&saddle("angle: 60, offset: 1/8"), |found| assert!(found.expect("a piece").ends[0].hole_saw().is_none()));
    with(&saddle("angle: 20"), |found| assert!(found.expect("a piece").ends[0].hole_saw().is_none()));
}

#[test]
fn what_can_not_be_is_an_error_with_its_numbers() {
    let crossing = "  - { part: K-1, end: A, cut: mitre, angle: 70, long-point: 12, length: 2 }\n  \
                    - { part: K-1, end: B, cut: mitre, angle: 70, long-point: 12 }\n";
    with(crossing, |found| assert!(matches!(found, Err(TubeFault::Piece { why: Impossible::Crossing { .. } }))));
    let misses = "  - { part: K-1, end: A, cut: saddle, onto: K-2, angle: 90, offset: 1/4 }\n";
    with(misses, |found| assert!(matches!(found, Err(TubeFault::Cut { why: Impossible::Misses { .. }, .. }))));
    let flat = "  - { part: K-1, end: A, cut: saddle, onto: K-2, angle: 10 }\n";
    with(flat, |found| assert!(matches!(found, Err(TubeFault::Cut { why: Impossible::Angle { .. }, .. }))));
    let unknown = "  - { part: K-1, end: A, cut: saddle, onto: K-9, angle: 60 }\n";
    with(unknown, |found| assert!(matches!(found, Err(TubeFault::Unknown))));
}
