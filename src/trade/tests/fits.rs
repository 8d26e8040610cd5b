//! Grip against stack: the rules recomputed from the drawing's dimensions, and brute force.

use crate::trade::fit::{
    BoltChoice, Clamp, FaultKind, FitRules, Shank, Unusable, WasherChoice, bolts_like, judge, solve,
};
use crate::trade::{Cited, Source, decode};
use crate::units::{Length, Rational};

fn inches(text: &str) -> Length {
    Length::parse(text).expect(text)
}

fn given(length: Length) -> Cited<Length> {
    Cited::new(length, Source::Published("drawing"))
}

fn clamp(stack: &str, under_head: &[&str], under_nut: &[&str], nut: &str) -> Clamp {
    let washers = |list: &[&str]| list.iter().map(|w| given(inches(w))).collect();
    Clamp {
        stack: given(inches(stack)),
        under_head: washers(under_head),
        under_nut: washers(under_nut),
        nut_height: Some(given(inches(nut))),
    }
}

fn shank(designation: &str) -> Shank {
    Shank::of(&decode(designation).expect(designation)).expect(designation)
}

fn faults(bolt: &str, clamp: &Clamp) -> Vec<FaultKind> {
    judge(&shank(bolt), clamp, &FitRules::default()).expect(bolt).faults.iter().map(|f| f.kind).collect()
}

/// The published tables are drawn for one plain washer under the nut and a full-height nut on a stack as thick as
/// the grip: every row must fit that. Nut heights: IFI regular top-insert locknuts, largest.
#[test]
fn every_published_bolt_fits_the_stack_it_is_made_for() {
    for (size, nut) in [(3, ".249"), (4, ".328"), (5, ".359"), (6, ".469")] {
        for dash in (5..=20).filter(|dash| dash % 10 < 8) {
            let name = format!("AN{size}-{dash}A");
            let bolt = decode(&name).expect(&name);
            let stack = Clamp { stack: bolt.grip.expect(&name), ..clamp("1", &[], &[".063"], nut) };
            assert_eq!(faults(&name, &stack), [], "{name}");
        }
    }
}

#[test]
fn each_rule_is_found_broken() {
    // AN4-12A: grip 13/16, length 1 9/32, 28 threads to the inch (published tables).
    for (stack, head, nut_washers, expected) in [
        ("13/16", &[][..], &[".063"][..], &[][..]),
        (".84", &[], &[".063"], &[FaultKind::ThreadInHole]),
        ("7/8", &[], &[".063"], &[FaultKind::ThreadInHole, FaultKind::TooFewThreads]),
        ("13/16", &[".063"], &[".063"], &[FaultKind::ThreadInHole, FaultKind::TooFewThreads]),
        ("3/4", &[], &[".032"], &[FaultKind::NutOnShank, FaultKind::TooManyThreads]),
        ("3/4", &[], &[".032", ".032", ".016", ".016"], &[FaultKind::TooManyWashers]),
        ("1 1/8", &[], &[], &[FaultKind::ThreadInHole, FaultKind::TooFewThreads]),
    ] {
        assert_eq!(
            faults("AN4-12A", &clamp(stack, head, nut_washers, ".328")),
            expected,
            "{stack} {head:?} {nut_washers:?}"
        );
    }
}

#[test]
fn a_finding_is_as_weak_as_its_weakest_value() {
    let mut joint = clamp("7/8", &[], &[".063"], ".328");
    joint.nut_height = Some(Cited::from_memory(inches(".328")));
    joint.stack = given(inches("1 1/8"));
    let fit = judge(&shank("AN4-12A"), &joint, &FitRules::default()).expect("a fit");
    for fault in &fit.faults {
        assert_eq!(fault.source == Source::FromMemory, fault.kind == FaultKind::TooFewThreads, "{fault:?}");
    }
    joint.nut_height = None;
    let fit = judge(&shank("AN4-12A"), &joint, &FitRules::default()).expect("a fit");
    assert_eq!(fit.threads_past, None);
    assert_eq!(fit.faults.len(), 1);
}

#[test]
fn senseless_lengths_are_refused() {
    let rules = FitRules::default();
    let mut joint = clamp("1", &[], &[], ".328");
    joint.stack = given(Length::ZERO);
    assert!(matches!(judge(&shank("AN4-12A"), &joint, &rules), Err(Unusable::NotPositive(_))));
    joint.stack = given(Length::inches(999_999_999, 1));
    assert!(matches!(judge(&shank("AN4-12A"), &joint, &rules), Err(Unusable::TooLarge(_))));
    joint.stack = given(Length::inches(99_990, 99_991));
    joint.under_head = vec![given(Length::inches(1, 99_989)); 3];
    joint.under_nut = vec![given(Length::inches(7, 99_971)), given(Length::inches(3, 65_537))];
    assert!(judge(&shank("AN4-12A"), &joint, &rules).is_ok());
}

/// ISO 4014 M6x40 by its drawing (from memory): thread 18 mm, five pitches of it run-out; so shank 17 mm, full thread
/// from 22 mm. A nut of 8 mm with a washer of 1.6 mm.
#[test]
fn a_metric_nut_does_not_run_on_the_run_out() {
    let joint = |stack: &str| clamp(stack, &[], &["1.6 mm"], "8 mm");
    let bolt = "ISO 4014 M6x40";
    assert_eq!(faults(bolt, &joint("16 mm")), [FaultKind::NutOnShank, FaultKind::TooManyThreads]);
    assert_eq!(
        faults(bolt, &joint("18 mm")),
        [FaultKind::ThreadInHole, FaultKind::NutOnShank, FaultKind::TooManyThreads]
    );
    let fit = judge(&shank(bolt), &joint("16 mm"), &FitRules::default()).expect("a fit");
    assert!(fit.faults.iter().all(|fault| fault.source == Source::FromMemory));
}

#[test]
fn a_margin_names_where_it_comes_from() {
    let fit = judge(&shank("AN4-12A"), &clamp("13/16", &[], &[], ".328"), &FitRules::default()).expect("a fit");
    let margins = [fit.margins.hole, fit.margins.nut].map(|m| m.expect("a bolt with a grip"));
    assert!(margins.iter().all(|m| !m.source.words().is_empty()));
}

/// ISO 4017 is threaded up to its head (from memory): M6x30 with a nut of 8 mm, a pitch of 1 mm. Its length alone is
/// judged: 30 - 8 - 1.6 mm leave 20.4 mm for stack and threads past the nut.
#[test]
fn a_screw_is_judged_by_its_length() {
    let joint = |stack: &str| clamp(stack, &[], &["1.6 mm"], "8 mm");
    for (stack, expected) in [
        ("20 mm", &[FaultKind::TooFewThreads][..]),
        ("19 mm", &[]),
        ("17.5 mm", &[]),
        ("16 mm", &[FaultKind::TooManyThreads]),
    ] {
        assert_eq!(faults("ISO 4017 M6x30", &joint(stack)), expected, "{stack}");
    }
}

/// ISO 4014 M6 (from memory): thread 18 mm and five pitches of run-out. For a stack of 20 mm with the nut of ISO 7040, 8 mm:
/// 45 mm has a shank of 22 mm without thread, and its nut would run on the run-out; no length fits with one washer.
#[test]
fn metric_lengths_are_the_preferred_ones() {
    let bolts = bolts_like(&decode("ISO 4017 M6x30 A4").expect("a screw"));
    assert!(
        bolts.iter().any(|b| b.designation == "ISO 4017 M6x35 A4")
            && !bolts.iter().any(|b| b.designation.contains("x33"))
    );
    let washers: Vec<_> = ["ISO 7089 6"]
        .map(|name| WasherChoice {
            designation: name.to_owned(),
            thickness: decode(name).and_then(|w| w.thickness).expect(name),
            at_hand: false,
        })
        .into();
    let found = solve(
        &choices("ISO 4017 M6x30 A4"),
        &washers,
        given(inches("19 mm")),
        Some(given(inches("8 mm"))),
        &FitRules::default(),
    );
    let names: Vec<_> = found.expect("solutions").iter().map(super::super::fit::Solution::words).collect();
    // 30 - 19 - 8 mm leave 3 threads of 1 mm, a washer of 1.6 mm leaves 1.4.
    assert!(
        names.contains(&"ISO 4017 M6x30 A4".to_owned())
            && names.iter().all(|n| n.starts_with("ISO 4017 M6x30") || n.starts_with("ISO 4017 M6x35")),
        "{names:?}"
    );
}

fn choices(bolt: &str) -> Vec<BoltChoice> {
    bolts_like(&decode(bolt).expect(bolt))
        .into_iter()
        .map(|b| BoltChoice { shank: Shank::of(&b).expect(bolt), designation: b.designation, at_hand: false })
        .collect()
}

fn washers() -> Vec<WasherChoice> {
    ["AN960-416", "AN960-416L"]
        .into_iter()
        .map(|name| WasherChoice {
            designation: name.to_owned(),
            thickness: decode(name).and_then(|w| w.thickness).expect(name),
            at_hand: name == "AN960-416",
        })
        .collect()
}

#[test]
fn what_is_at_hand_comes_first() {
    let mut bolts = choices("AN4-12A");
    assert!(bolts.len() > 60 && bolts.iter().all(|b| b.designation.ends_with('A')));
    for bolt in &mut bolts {
        bolt.at_hand = bolt.designation == "AN4-12A";
    }
    let found = solve(&bolts, &washers(), given(inches("13/16")), Some(given(inches(".328"))), &FitRules::default());
    let first = &found.expect("solutions")[0];
    assert_eq!((first.bolt.as_str(), first.under_head.len(), first.at_hand), ("AN4-12A", 0, true));
    assert_eq!(first.words(), "AN4-12A, AN960-416 under the nut");
}

/// A series from its drawing, inches: length = E/8 + `over`, grip = length - `threaded`, threads to the inch;
/// the height of its nut (IFI regular top-insert locknuts) and its two washers.
struct Drawing {
    series: &'static str,
    over: f64,
    threaded: f64,
    per_inch: f64,
    nut: &'static str,
    washers: [&'static str; 2],
    /// Shortest dash that follows the drawing's rule.
    first: u32,
}

const DRAWINGS: [Drawing; 4] = [
    Drawing {
        series: "AN3",
        over: 1.0 / 32.0,
        threaded: 13.0 / 32.0,
        per_inch: 32.0,
        nut: ".249",
        washers: ["AN960-10", "AN960-10L"],
        first: 4,
    },
    Drawing {
        series: "AN4",
        over: 1.0 / 32.0,
        threaded: 15.0 / 32.0,
        per_inch: 28.0,
        nut: ".328",
        washers: ["AN960-416", "AN960-416L"],
        first: 4,
    },
    Drawing {
        series: "AN5",
        over: 3.0 / 32.0,
        threaded: 17.0 / 32.0,
        per_inch: 24.0,
        nut: ".359",
        washers: ["AN960-516", "AN960-516L"],
        first: 4,
    },
    Drawing {
        series: "AN6",
        over: 5.0 / 64.0,
        threaded: 41.0 / 64.0,
        per_inch: 24.0,
        nut: ".469",
        washers: ["AN960-616", "AN960-616L"],
        first: 5,
    },
];

impl Drawing {
    /// The margin of a joint by the drawing's dimensions, in floating point; `None` where a rule is broken.
    fn margin(&self, dash: u32, head: f64, stack: f64, under_nut: f64) -> Option<f64> {
        let eighths = 8 * (dash / 10) + dash % 10;
        let length = f64::from(eighths) / 8.0 + self.over;
        let grip = length - self.threaded;
        let past = length - head - stack - under_nut - inches(self.nut).to_f64();
        let limits = [
            grip - head - stack,
            head + stack + under_nut - grip,
            past - 1.0 / self.per_inch,
            3.0 / self.per_inch - past,
        ];
        let margin = limits.into_iter().fold(f64::INFINITY, f64::min);
        // What rounding lets pass is not offered.
        (margin > -1e-9).then_some(margin)
    }
}

/// How many plain and thin washers, three at most.
fn counts() -> impl Iterator<Item = (u32, u32)> {
    (0..=3).flat_map(|plain| (0..=3 - plain).map(move |thin| (plain, thin)))
}

/// Every series and every stack in steps of 1/64 in: what is solved satisfies the rules recomputed from the
/// drawing, nothing that satisfies them is missing, and none has a better margin.
#[test]
fn brute_force_finds_none_better() {
    for drawing in &DRAWINGS {
        let mut bolts = choices(&format!("{}-12A", drawing.series));
        bolts.truncate(28);
        let washers = drawing.washers.map(|name| WasherChoice {
            designation: name.to_owned(),
            thickness: decode(name).and_then(|w| w.thickness).expect(name),
            at_hand: false,
        });
        let dash_of = |bolt: &str| -> u32 { bolt[4..].trim_end_matches('A').parse().expect("a dash") };
        let sum = |(plain, thin): (u32, u32)| 0.063 * f64::from(plain) + 0.032 * f64::from(thin);
        let thickness =
            |names: &[String]| -> f64 { names.iter().map(|n| if n.ends_with('L') { 0.032 } else { 0.063 }).sum() };
        for sixty_fourths in 16..160 {
            let stack = Length::inches(sixty_fourths, 64);
            let nut = Some(given(inches(drawing.nut)));
            let mut solved =
                solve(&bolts, &washers, given(stack), nut, &FitRules::default()).expect("a list of solutions");
            solved.retain(|s| dash_of(&s.bolt) >= drawing.first);
            for s in &solved {
                let by_hand = drawing
                    .margin(dash_of(&s.bolt), thickness(&s.under_head), stack.to_f64(), thickness(&s.under_nut))
                    .unwrap_or_else(|| panic!("{s:?} breaks a rule"));
                assert!((by_hand - float(s.margin)).abs() < 1e-9, "{s:?}: {by_hand}");
            }
            let mut margins = Vec::new();
            for dash in bolts.iter().map(|b| dash_of(&b.designation)).filter(|&dash| dash >= drawing.first) {
                for head in counts() {
                    for nut in counts().filter(|nut| head.0 + head.1 + nut.0 + nut.1 <= 3) {
                        margins.extend(drawing.margin(dash, sum(head), stack.to_f64(), sum(nut)));
                    }
                }
            }
            assert_eq!(solved.len(), margins.len(), "{} {stack:?}", drawing.series);
            assert!(!margins.is_empty(), "no {} bolt for {stack:?}", drawing.series);
            let best = margins.into_iter().fold(f64::NEG_INFINITY, f64::max);
            assert!((best - float(solved[0].margin)).abs() < 1e-9, "{} {stack:?}", drawing.series);
        }
    }
}

fn float(value: Rational) -> f64 {
    *value.numer() as f64 / *value.denom() as f64
}

/// A sweep over ISO 4014 in M5 to M12 and stacks of 8 to 80 mm in steps of half a millimetre, under general metric practice with
/// the nuts of ISO 7040: every stack for which ISO 4014 or, for shorter ones, ISO 4017 lists a long enough bolt is solved,
/// only with listed lengths and never with a negative margin.
#[test]
fn every_metric_stack_that_the_standards_reach_is_solved() {
    let rules = crate::trade::Profile::metric_general().fit;
    for size in [5, 6, 8, 10, 12] {
        let bolts = bolts_like(&decode(&format!("ISO 4014 M{size}x50 8.8")).expect("a bolt"));
        let longest = bolts.iter().filter_map(|b| b.length).map(|l| l.value).max().expect("bolts");
        let nut = decode(&format!("ISO 7040 M{size}")).and_then(|n| n.height).expect("a nut");
        let pitch = bolts[0].thread.expect("a thread").value.pitch();
        let washers = [format!("ISO 7089 {size}")].map(|name| WasherChoice {
            thickness: decode(&name).and_then(|w| w.thickness).expect("a washer"),
            designation: name,
            at_hand: false,
        });
        let choices: Vec<_> = bolts
            .iter()
            .map(|b| BoltChoice {
                designation: b.designation.clone(),
                shank: Shank::of(b).expect("a shank"),
                at_hand: false,
            })
            .collect();
        let (mut solved, mut reached) = (0, 0);
        for half in 16..=160 {
            let stack = Length::millimetres(half, 2);
            let reach = stack + nut.value + pitch <= longest;
            let found = solve(&choices, &washers, given(stack), Some(nut), &rules).expect("solutions");
            assert!(found.iter().all(|s| s.margin >= Rational::from_integer(0)), "M{size} {stack:?}");
            assert_eq!(!found.is_empty(), reach, "M{size}, stack {} mm", f64::from(half as i32) / 2.0);
            solved += usize::from(!found.is_empty());
            reached += usize::from(reach);
        }
        assert!(solved == reached && solved > 40, "M{size}: {solved} of {reached}");
        assert!(bolts.iter().any(|b| b.designation.starts_with("ISO 4017")), "M{size}");
    }
}

/// Where the joint turns, the thread stays out of the hole in every trade.
#[test]
fn a_profile_does_not_put_threads_into_a_pivot() {
    let rules = crate::trade::Profile::metric_general().fit;
    let joint = clamp("16 mm", &[], &["1.6 mm"], "8 mm");
    let kinds = |rules: &FitRules| -> Vec<FaultKind> {
        judge(&shank("ISO 4014 M6x30"), &joint, rules).expect("a fit").faults.iter().map(|f| f.kind).collect()
    };
    assert_eq!(kinds(&rules), []);
    assert!(kinds(&rules.for_motion(crate::trade::Motion::Turns)).contains(&FaultKind::ThreadInHole));
}

/// The published AN bolt tables: the grip may be off by 1/64 in. AN4-12A in a stack as thick as its grip has no margin, and
/// is 1/64 in short where its grip is.
#[test]
fn the_tolerance_of_the_grip_is_counted() {
    let found = solve(
        &choices("AN4-12A"),
        &washers(),
        given(inches("13/16")),
        Some(given(inches(".328"))),
        &FitRules::default(),
    )
    .expect("solutions");
    let usual = found.iter().find(|s| s.bolt == "AN4-12A").expect("the usual one");
    assert!(usual.margin >= Rational::from_integer(0));
    assert_eq!(usual.worst, usual.margin - Rational::new(1, 64));
    assert!(found.iter().any(|s| s.worst >= Rational::from_integer(0)), "one that holds whatever the tolerance");
}
