//! Ends of tubes against ordinates that were computed in closed form and agree with two solid modellers.

use super::*;
use crate::units::{Angle, Clock, Length};

fn inches(text: &str) -> Length {
    Length::parse(text).expect(text)
}

fn degrees(text: &str) -> Angle {
    Angle::parse(text).expect(text)
}

fn clock(hour: &str) -> Clock {
    Clock::parse(hour).expect(hour)
}

/// Angle off square, radius, heights at 0, 30, ... 180 degrees.
const MITRES: [(&str, &str, [f64; 7]); 4] = [
    ("45", ".5", [0.0, 0.06699, 0.25, 0.5, 0.75, 0.93301, 1.0]),
    ("45", ".451", [0.0, 0.06042, 0.2255, 0.451, 0.6765, 0.84158, 0.902]),
    ("22.5", ".5", [0.0, 0.02775, 0.10355, 0.20711, 0.31066, 0.38647, 0.41421]),
    ("30", ".5", [0.0, 0.03868, 0.14434, 0.28868, 0.43301, 0.53868, 0.57735]),
];

#[test]
fn mitres_have_the_computed_heights() {
    for (angle, radius, heights) in MITRES {
        let mitre = Mitre::new(inches(radius) * 2, degrees(angle)).expect(angle);
        for (i, height) in heights.into_iter().enumerate() {
            assert!((mitre.height(30.0 * i as f64) - height).abs() < 1e-5, "{angle} {radius} {i}");
        }
        assert!((mitre.rise() - heights[6]).abs() < 1e-5);
    }
    // Published: the scarf of a 1 in tube 30 degrees from its axis, 60 off square, is 1.732 in long; the cutback of
    // a lobster-back of 168 mm at 15 degrees is 22.5 mm at the centre line.
    assert!((Mitre::new(inches("1"), degrees("60")).expect("a mitre").rise() - 1.732).abs() < 5e-4);
    let bend = Mitre::new(inches("168 mm"), degrees("15")).expect("a mitre");
    assert!((bend.rise() / 2.0 * 25.4 - 22.5).abs() < 0.05);
    for angle in ["-1", "81", "90"] {
        assert!(matches!(Mitre::new(inches("1"), degrees(angle)), Err(Impossible::Angle { .. })), "{angle}");
    }
    assert!(matches!(Mitre::new(Length::ZERO, degrees("45")), Err(Impossible::Size { .. })));
}

#[test]
fn a_corner_is_cut_in_halves() {
    assert_eq!(corner_mitre(degrees("90")), degrees("45"));
    assert_eq!(corner_mitre(degrees("135")), degrees("22.5"));
    assert_eq!(corner_mitre(degrees("180")), degrees("0"));
}

/// Angle, offset, then the outer (.500) and the inner (.451) curve at 0, 30, ... 330 degrees, main radius .625.
const SADDLES: [(&str, &str, [f64; 12], [f64; 12]); 3] = [
    (
        "45",
        "0",
        [0.38388, 0.37708, 0.38738, 0.53033, 0.88738, 1.24311, 1.38388, 1.24311, 0.88738, 0.53033, 0.38738, 0.37708],
        [0.43288, 0.43377, 0.46454, 0.61192, 0.91554, 1.21493, 1.33488, 1.21493, 0.91554, 0.61192, 0.46454, 0.43377],
    ),
    (
        "60",
        "0",
        [0.43301, 0.41144, 0.37608, 0.43301, 0.66475, 0.91144, 1.01036, 0.91144, 0.66475, 0.43301, 0.37608, 0.41144],
        [0.46130, 0.44758, 0.43322, 0.49963, 0.69360, 0.89858, 0.98207, 0.89858, 0.69360, 0.49963, 0.43322, 0.44758],
    ),
    (
        "45",
        ".1",
        [0.37250, 0.29928, 0.21157, 0.24749, 0.71157, 1.16530, 1.37250, 1.29106, 0.99797, 0.67915, 0.49797, 0.42504],
        [0.42150, 0.36398, 0.32215, 0.41719, 0.77315, 1.14513, 1.32350, 1.25646, 1.00805, 0.73133, 0.55705, 0.47530],
    ),
];

fn saddle(angle: &str, offset: &str) -> Result<Saddle, Impossible> {
    Saddle::new(inches("1.25"), inches("1"), inches(".049"), degrees(angle), inches(offset))
}

#[test]
fn saddles_have_the_computed_ordinates() {
    for (angle, offset, outer, inner) in SADDLES {
        let saddle = saddle(angle, offset).expect(angle);
        for (i, (outer, inner)) in outer.into_iter().zip(inner).enumerate() {
            let at = 30.0 * i as f64;
            assert!((saddle.outer(at) - outer).abs() < 1e-5, "{angle} {offset} {at} {}", saddle.outer(at));
            assert!((saddle.inner(at) - inner).abs() < 1e-5, "{angle} {offset} {at} {}", saddle.inner(at));
            assert!(saddle.cut(at) >= outer.max(inner) - 1e-5);
        }
    }
}

/// Computed extremes: A .37500 at 41.41 degrees and 1.38388 at 180; B .37500 at 64.34; C2 .18923 at 74.49 and
/// 1.37856 at 186.09.
#[test]
fn extremes_fall_between_the_stations() {
    for (angle, offset, low, high) in [
        ("45", "0", (41.41, 0.375), Some((180.0, 1.38388))),
        ("60", "0", (64.34, 0.375), None),
        ("45", ".1", (74.49, 0.18923), Some((186.09, 1.37856))),
    ] {
        let (lowest, highest) = saddle(angle, offset).expect(angle).outer_extremes();
        assert!((lowest.distance - low.1).abs() < 1e-5, "{angle} {offset} {lowest:?}");
        // Without an offset the curve is the same on both sides.
        let mirrored = if offset == "0" { lowest.degrees.min(360.0 - lowest.degrees) } else { lowest.degrees };
        assert!((mirrored - low.0).abs() < 0.01, "{angle} {offset} {lowest:?}");
        if let Some((at, distance)) = high {
            assert!((highest.distance - distance).abs() < 1e-5 && (highest.degrees - at).abs() < 0.01, "{highest:?}");
        }
    }
}

/// The cut square to the wall is the highest over the wall, by brute force; it is above the edge curves by less
/// than .0007 in on a 1 in tube.
#[test]
fn the_cut_is_the_highest_over_the_wall() {
    for (angle, offset) in [("45", "0"), ("60", "0"), ("45", ".1"), ("30", "-.12"), ("90", ".1"), ("75", "0")] {
        let saddle = saddle(angle, offset).expect(angle);
        for tenth in 0..3600 {
            let at = f64::from(tenth) / 10.0;
            let radians = at.to_radians();
            let t = degrees(angle).to_f64().to_radians();
            let e = inches(offset).to_f64();
            let highest = (0..=490)
                .map(|i| 0.451 + 0.0001 * f64::from(i))
                .map(|q| {
                    ((0.625_f64.powi(2) - (e + q * radians.sin()).powi(2)).sqrt() - q * radians.cos() * t.cos())
                        / t.sin()
                })
                .fold(f64::NEG_INFINITY, f64::max);
            let cut = saddle.cut(at);
            assert!(cut >= highest - 1e-9 && cut - highest < 1e-6, "{angle} {offset} {at}: {cut} {highest}");
            if offset == "0" {
                assert!(cut - saddle.outer(at).max(saddle.inner(at)) < 0.0007);
            }
        }
    }
}

/// Published depths of 90 degree saddles: 4.5 in pipe on 6.625 in pipe .8814; 1.5 on 1.5 .75.
#[test]
fn square_saddles_have_the_published_depth() {
    for (main, branch, depth) in [("6.625", "4.5", 0.8814), ("1.5", "1.5", 0.75)] {
        let saddle = Saddle::new(inches(main), inches(branch), inches(".1"), degrees("90"), Length::ZERO).expect(main);
        let (low, high) = saddle.outer_extremes();
        assert!((high.distance - low.distance - depth).abs() < 5e-5, "{main} {branch} {low:?} {high:?}");
    }
}

/// Computed: with an offset of .2 there is no cut between 58.2117 and 121.7883 degrees.
#[test]
fn what_misses_the_main_tube_is_an_error() {
    let Err(Impossible::Misses { gaps, .. }) = saddle("45", ".2") else { panic!("it misses") };
    assert_eq!(gaps.len(), 1);
    assert!((gaps[0].from - 58.2117).abs() < 1e-4 && (gaps[0].to - 121.7883).abs() < 1e-4, "{gaps:?}");
    let Err(Impossible::Misses { gaps, .. }) = saddle("45", "-.2") else { panic!("it misses") };
    assert!((gaps[0].from - 238.2117).abs() < 1e-4 && (gaps[0].to - 301.7883).abs() < 1e-4, "{gaps:?}");
    let Err(Impossible::Misses { gaps, .. }) = saddle("45", "5") else { panic!("it misses") };
    assert_eq!(gaps, [Gap { from: -90.0, to: 270.0 }]);
    let larger = Saddle::new(inches("1"), inches("1.5"), inches(".1"), degrees("90"), Length::ZERO);
    assert!(matches!(larger, Err(Impossible::Misses { gaps, .. }) if gaps.len() == 2));
    for angle in ["14", "166", "0", "-45", "180"] {
        assert!(matches!(saddle(angle, "0"), Err(Impossible::Angle { .. })), "{angle}");
    }
    let solid = Saddle::new(inches("1.25"), inches("1"), inches(".6"), degrees("45"), Length::ZERO);
    assert!(matches!(solid, Err(Impossible::Wall { .. })));
    assert_eq!(
        saddle("45", ".2").expect_err("it misses").to_string(),
        "the branch reaches 0.7000 in from the main tube's centre, which has a radius of 0.6250 in; \
         no cut between 58.21° and 121.79°"
    );
}

#[test]
fn a_piece_between_two_mitres() {
    let cut = Mitre::new(inches("1"), degrees("45")).expect("a mitre");
    let mitre = |hour: &str| EndCut::Mitre { cut, long_point: clock(hour) };
    // Long points on one line: a trapezium. Both hours name the same line only at 12 and 6.
    let same = CutPiece::new(inches("10"), mitre("12"), mitre("12")).expect("a piece").lines();
    assert!((same.longest - 10.0).abs() < 1e-9 && (same.shortest - 8.0).abs() < 1e-9, "{same:?}");
    assert!((same.longest_at, same.shortest_at) == (0.0, 180.0));
    // Long points opposite: a parallelogram, every line as long.
    let opposite = CutPiece::new(inches("10"), mitre("12"), mitre("6")).expect("a piece").lines();
    assert!((opposite.longest - 9.0).abs() < 1e-9 && (opposite.shortest - 9.0).abs() < 1e-9, "{opposite:?}");
    // 3 o'clock at end A is the line that is 9 o'clock at end B.
    let three = CutPiece::new(inches("10"), mitre("3"), mitre("9")).expect("a piece").lines();
    assert!((three.longest - 10.0).abs() < 1e-9 && three.longest_at == 90.0, "{three:?}");
    assert!(matches!(CutPiece::new(inches("2"), mitre("12"), mitre("12")), Err(Impossible::Crossing { .. })));
    assert!(CutPiece::new(inches("2"), mitre("12"), mitre("6")).is_ok());
    assert!(matches!(CutPiece::new(Length::ZERO, EndCut::Square, EndCut::Square), Err(Impossible::Size { .. })));
}

#[test]
fn a_piece_with_a_saddle_loses_its_depth() {
    let cut = Saddle::new(inches("1.5"), inches("1.5"), inches(".058"), degrees("90"), Length::ZERO).expect("a saddle");
    let end = EndCut::Saddle { cut, long_point: clock("12") };
    let piece = CutPiece::new(inches("10"), end, EndCut::Square).expect("a piece");
    let lines = piece.lines();
    assert!((lines.longest - 10.0).abs() < 1e-6, "{lines:?}");
    // 1.5 in on 1.5 in is .75 deep (published, see above). It is deepest where the main
    // tube runs, 12 and 6, and stands out most at the sides.
    assert!((lines.longest - lines.shortest - 0.75).abs() < 1e-6, "{lines:?}");
    assert!((piece.line(0.0) - 9.25).abs() < 1e-6 && (piece.line(90.0) - 10.0).abs() < 1e-6);
    assert!((piece.line(lines.shortest_at) - lines.shortest).abs() < 1e-9);
}

#[test]
fn over_ninety_degrees_is_the_same_saddle() {
    let (a, b) = (saddle("60", ".05").expect("a saddle"), saddle("120", ".05").expect("a saddle"));
    for at in 0..360 {
        assert!((a.cut(f64::from(at)) - b.cut(f64::from(at))).abs() < 1e-12);
    }
    assert!((a.off_square() - 30.0).abs() < 1e-9 && a.hole_saw() == 1.25);
}

/// Points in space, by vectors alone. The branch goes up from a main tube that lies along x. Looking at the branch's
/// lower end means looking along it: right is then the line of sight crossed with what is up, the long point. The main
/// tube's axis runs `offset` to the right of the branch's; wrapped around the branch, the sleeve's curve must lie on
/// the main tube. To the right on a sleeve that is read with the end up, printed side out, is against the clock.
#[test]
fn a_saddle_is_of_the_right_hand() {
    let (radius, main) = (0.5, 0.625);
    for (angle, offset) in [(90.0_f64, ".1"), (60.0, ".1"), (45.0, "-.12"), (30.0, ".05")] {
        let cut = saddle(&angle.to_string(), offset).expect("a saddle");
        let end = EndCut::Saddle { cut, long_point: clock("12") };
        let wrap = Wrap::new(&end, inches("1"), Length::ZERO, clock("12"), 360);
        let t = angle.to_radians();
        let (sight, up) = ([t.cos(), 0.0, t.sin()], [-t.sin(), 0.0, t.cos()]);
        let right = [
            sight[1] * up[2] - sight[2] * up[1],
            sight[2] * up[0] - sight[0] * up[2],
            sight[0] * up[1] - sight[1] * up[0],
        ];
        let highest = cut.outer_extremes().1.distance;
        for point in &wrap.outer {
            let clockwise = -std::f64::consts::TAU * point.x / wrap.width;
            let (sin, cos) = clockwise.sin_cos();
            let at = |i: usize| (highest - point.y) * sight[i] + radius * (cos * up[i] + sin * right[i]);
            let from_axis = |i: usize| at(i) - inches(offset).to_f64() * right[i];
            let distance = from_axis(1).hypot(from_axis(2));
            assert!((distance - main).abs() < 1e-9, "{angle} {offset} {point:?} {distance}");
        }
    }
}

#[test]
fn a_sleeve_goes_once_around() {
    let cut = Mitre::new(inches("1"), degrees("45")).expect("a mitre");
    let end = EndCut::Mitre { cut, long_point: clock("3") };
    let wrap = Wrap::new(&end, inches("1"), inches(".004"), clock("12"), 360);
    assert!((wrap.width - std::f64::consts::PI * 1.004).abs() < 1e-12);
    assert!((wrap.mark(clock("3")) - wrap.width * 0.75).abs() < 1e-12);
    let highest = wrap.outer.iter().copied().fold(WrapPoint { x: 0.0, y: -1.0 }, |a, b| if b.y > a.y { b } else { a });
    assert!((highest.y - wrap.height).abs() < 1e-12 && (highest.x - wrap.mark(clock("3"))).abs() < 1e-9);
    assert!((wrap.outer[0].y - wrap.outer[360].y).abs() < 1e-12);
}
