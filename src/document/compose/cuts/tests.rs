use super::*;
use crate::drawing::{Drawing, LineType, Mark, Point, plain_words};
use crate::model;
use crate::resolve::{configurations, resolve};
use crate::source::Memory;

/// Both hands of a stay: the drawing of the other hand is this one with the near and the far side changed, which is what
/// a mirror in the plane of the paper does; the long points in the end views change from 3 to 9.
#[test]
fn the_piece_of_mirrored_data_is_the_mirrored_piece() {
    let mut files = Memory::new();
    files.insert("manual.yaml", "title: T\nvariants: { A: { title: A } }\nsections: [{ section: s, title: S }]\n");
    files.insert(
        "parts.csv",
        "number,name,hand,opposite,material,stock,cut length,A\nK-L,Stay,left,K-R,4130 steel,T-1,12,1\nK-R,Stay,right,K-L,4130 steel,T-1,12,1\nK-2,Keel,,,4130 steel,T-2,40,1\n",
    );
    files.insert("stock.csv", "stock,material,shape,outside diameter,wall\nT-1,4130 steel,round tube,1,.058\nT-2,4130 steel,round tube,1.25,.058\n");
    let cuts = "  - { part: K-L, end: A, cut: saddle, onto: K-2, angle: 40, long-point: 3, offset: 1/8 }\n  - { part: K-L, end: B, cut: mitre, angle: 30, long-point: 12 }\n";
    files.insert("steps/1.md", format!("---\nstep: s\ntitle: Left\nsection: s\nhand: left\nopposite: yes\nparts: [K-L, K-2]\ncuts:\n{cuts}---\n1. Cut it.\n"));
    let manual = model::read(&files).expect("memory").manual.expect("a manual");
    let resolved = resolve(&manual, &configurations(&manual)[0]);
    let drawn = |part: &str| {
        let piece = TubeWork::new(&manual, &resolved).piece(&PartNumber::new(part)).expect("a piece");
        drawing::tube_piece(&piece, UnitStyle::InchFraction)
    };
    let (left, right) = (drawn("K-L"), drawn("K-R"));
    let edges = |d: &Drawing, line: LineType| -> Vec<Vec<Point>> {
        let paths = d.marks.iter().filter_map(|m| match m {
            Mark::Path(path, l) if *l == line && path.0.len() > 50 => Some(path.runs().concat()),
            _ => None,
        });
        paths.collect()
    };
    // Near edges run from top to bottom, far edges from bottom to top.
    let (near, far) = (edges(&left, LineType::Thick), edges(&right, LineType::Hidden));
    assert_eq!((near.len(), far.len()), (2, 2));
    for (a, b) in near.iter().zip(&far) {
        assert!(a.iter().zip(b.iter().rev()).all(|(p, q)| (p.0 - q.0).abs() < 1e-9 && (p.1 - q.1).abs() < 1e-9));
    }
    let lengths = |d: &Drawing| {
        d.marks
            .iter()
            .filter_map(|m| {
                if let Mark::Level { words, .. } = m { Some(plain_words(words, UnitStyle::InchFraction)) } else { None }
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(lengths(&left), lengths(&right));
    assert!(left.alt.contains("at 3") && right.alt.contains("at 9"), "{} {}", left.alt, right.alt);
}
