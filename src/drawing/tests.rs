use super::*;
use crate::units::{Length, UnitStyle};

/// A circle of four cubics is off by less than 3 parts in 10,000 (the well-known error of 4/3 tan(90/4)).
#[test]
fn an_arc_is_round() {
    for run in Path::circle((10.0, 20.0), 7.0).runs() {
        for (x, y) in run {
            assert!((libm::hypot(x - 10.0, y - 20.0) / 7.0 - 1.0).abs() < 3e-4);
        }
    }
}

#[test]
fn dashes_have_the_lengths_of_the_pattern() {
    let mut drawing = Drawing::new(100.0, 10.0, "a line");
    drawing.path(Path::line((0.0, 5.0), (100.0, 5.0)), LineType::Hidden);
    let ink = drawing.ink();
    let [Ink::Stroke { path, width }] = &ink[..] else { panic!("{ink:?}") };
    assert_eq!(*width, 0.25);
    let runs = path.runs();
    // Dashes of 12 widths and gaps of 3: one every 3.75 mm.
    assert_eq!(runs.len(), 27);
    for (i, run) in runs.iter().enumerate() {
        assert!((run[0].0 - 3.75 * i as f64).abs() < 1e-9);
    }
    assert!((runs[0][1].0 - 3.0).abs() < 1e-9);
}

/// By hand: lines at 45 degrees, 1 apart and one through the corner, in a square of 10. The seventh is 7 from the
/// corner and 14 long; the eighth is beyond the diagonal.
#[test]
fn a_hatch_stays_inside_its_area() {
    let area = vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
    let drawing = Drawing { marks: vec![Mark::Hatch { area, degrees: 45.0, gap: 1.0 }], ..Drawing::default() };
    let ink = drawing.ink();
    let [Ink::Stroke { path, .. }] = &ink[..] else { panic!("{ink:?}") };
    let runs = path.runs();
    assert!(runs.len() >= 14);
    let mut longest = 0.0_f64;
    for run in &runs {
        for &(x, y) in run {
            assert!((-1e-9..=10.0 + 1e-9).contains(&x) && (-1e-9..=10.0 + 1e-9).contains(&y));
        }
        longest = longest.max(libm::hypot(run[1].0 - run[0].0, run[1].1 - run[0].1));
        // Up to the right on paper.
        assert!((run[1].0 - run[0].0) * (run[1].1 - run[0].1) <= 1e-9);
    }
    assert!((longest - 14.0).abs() < 1e-6);
}

/// A clock seen in a mirror runs the other way, so the sleeve of the other hand is this one turned over: what is at x
/// on the paper is at the width less x. That holds for every point of the line to cut along, and for the hatch.
#[test]
fn the_sleeve_of_mirrored_data_is_the_mirrored_sleeve() {
    use crate::geometry::{EndCut, Mitre, Saddle};
    use crate::units::{Angle, Clock};
    let inches = |text: &str| Length::parse(text).expect(text);
    let clock = |text: &str| Clock::parse(text).expect(text);
    let saddle = |offset: &str| {
        Saddle::new(inches("1 1/4"), inches("1"), inches(".058"), Angle::degrees(30, 1), inches(offset))
            .expect("a saddle")
    };
    let mitre = Mitre::new(inches("1"), Angle::degrees(45, 1)).expect("a mitre");
    let pairs = [
        (
            EndCut::Saddle { cut: saddle("1/8"), long_point: clock("3") },
            EndCut::Saddle { cut: saddle("-1/8"), long_point: clock("9") },
        ),
        (EndCut::Mitre { cut: mitre, long_point: clock("4") }, EndCut::Mitre { cut: mitre, long_point: clock("8") }),
    ];
    let sheet = PaperSheet {
        title: "T",
        facts: Vec::new(),
        note: "",
        room: (180.0, 200.0),
        scale: PrintScale::TRUE,
        units: UnitStyle::InchFraction,
    };
    let thick = |cut: &EndCut| {
        let drawing = wrap_template(cut, inches("1"), inches(".004"), &sheet).remove(0);
        let paths = drawing.marks.into_iter().filter_map(|m| match m {
            Mark::Path(path, LineType::Thick | LineType::Hidden) => Some(path.runs().concat()),
            _ => None,
        });
        paths.collect::<Vec<_>>()
    };
    for (left, right) in pairs {
        let (left, right) = (thick(&left), thick(&right));
        assert_eq!(left.len(), right.len());
        for (ours, theirs) in left.iter().zip(&right) {
            let width = ours.last().expect("a point").0;
            for (a, b) in ours.iter().zip(theirs.iter().rev()) {
                assert!((width - a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{a:?} {b:?}");
            }
        }
    }
}

#[test]
fn a_value_stays_one_until_it_is_written() {
    let words = [Word::text("long "), Word::Length(Length::inches(1, 2))];
    assert_eq!(plain_words(&words, UnitStyle::InchFraction), "long 1/2 in");
    assert_eq!(plain_words(&words, UnitStyle::Millimetre), "long 12.7 mm");
}

#[test]
fn a_dimension_reaches_from_end_to_end() {
    let mark = Mark::Level {
        from: (10.0, 10.0),
        to: (50.0, 12.0),
        away: 15.0,
        arrows: ArrowSide::Inside,
        words: vec![Word::text("40")],
    };
    let drawing = Drawing { marks: vec![mark], ..Drawing::default() };
    let ink = drawing.ink();
    let tips: Vec<Point> = ink
        .iter()
        .filter_map(|i| match i {
            Ink::Fill { path, .. } => path.runs().first().map(|run| run[0]),
            _ => None,
        })
        .collect();
    assert_eq!(tips, [(10.0, 25.0), (50.0, 25.0)]);
    assert!(ink.iter().any(|i| matches!(i, Ink::Text(t) if t.at == (30.0, 24.0) && t.align == Align::Middle)));
}
