//! How long joints and tube ends take: 10,000 joints judged, 100 stacks solved, 1,000 saddle templates of 360 points.
//! Run with `cargo bench --bench trade`.

use kitwright::drawing::{PaperSheet, PrintScale, wrap_template};
use kitwright::geometry::{EndCut, Saddle};
use kitwright::joint::{Items, seen};
use kitwright::model::{Manual, read};
use kitwright::resolve::{configurations, resolve};
use kitwright::source::Memory;
use kitwright::trade::fit::{BoltChoice, Clamp, FitRules, Shank, WasherChoice, bolts_like, judge, solve};
use kitwright::trade::{Cited, Source, decode};
use kitwright::units::{Angle, Clock, Length, UnitStyle};

fn main() {
    divan::main();
}

fn given(length: Length) -> Cited<Length> {
    Cited::new(length, Source::CommonPractice)
}

#[divan::bench]
fn ten_thousand_joints() -> usize {
    let rules = FitRules::default();
    (0..10_000)
        .filter(|i| {
            let (bolt, nut, washer) = (decode("AN4-12A"), decode("AN365-428A"), decode("AN960-416"));
            let shank = bolt.as_ref().and_then(Shank::of).expect("a shank");
            let clamp = Clamp {
                stack: given(Length::inches(40 + i % 20, 64)),
                under_head: Vec::new(),
                under_nut: washer.and_then(|washer| washer.thickness).into_iter().collect(),
                nut_height: nut.and_then(|nut| nut.height),
            };
            judge(&shank, &clamp, &rules).expect("a fit").faults.is_empty()
        })
        .count()
}

/// From the sources on: a manual of 10,000 different joints is read once, then every joint is judged as the rules see
/// it: hardware, stack, fit, nut, torque.
#[divan::bench]
fn ten_thousand_joints_of_a_manual(bencher: divan::Bencher) {
    let manual = manual_of_joints();
    let resolved: Vec<_> = configurations(&manual).iter().map(|c| resolve(&manual, c)).collect();
    bencher.bench(|| {
        let items = Items::new(&manual);
        let joints = seen(&manual, &items, &resolved);
        assert_eq!(joints.len(), 10_000);
        joints.iter().filter(|j| matches!(&j.reading.fit, Some(Ok(fit)) if fit.faults.is_empty())).count()
    });
}

fn manual_of_joints() -> Manual {
    let mut files = Memory::new();
    files.insert("manual.yaml", "title: T\nvariants:\n  A: { title: A }\nsections:\n  - { section: s, title: S }\n");
    let mut parts = "number,name,material,stock,A\n".to_owned();
    let mut stock = "stock,material,shape,outside diameter,wall\nT,4130 steel,round tube,1.25,.058\n".to_owned();
    for i in 0..20 {
        parts.push_str(&format!("P{i},Plate,4130 steel,S{i},1\n"));
        stock.push_str(&format!("S{i},4130 steel,sheet,,{}/64\n", 2 + i));
    }
    parts.push_str("TUBE,Tube,4130 steel,T,1\n");
    files.insert("parts.csv", parts);
    files.insert("stock.csv", stock);
    files.insert(
        "hardware.csv",
        "designation,name,kind\nAN4-17A,Bolt,bolt\nMS21044N4,Nut,nut\nAN960-416,Washer,washer\n",
    );
    for step in 0..100 {
        let mut text = format!("---\nstep: s{step}\ntitle: T\nsection: s\njoints:\n");
        for joint in 0..100 {
            let (a, b) = (joint % 20, (joint + step) % 20);
            text.push_str(&format!("  - {{ fastener: AN4-17A, stack: [P{a}, {{ part: TUBE, through: tube }}, P{b}], under-nut: [AN960-416], nut: MS21044N4 }}\n"));
        }
        files.insert(format!("steps/{step:03}.md"), text + "---\n");
    }
    read(&files).expect("memory can be listed").manual.expect("a manual")
}

#[divan::bench]
fn hundred_stacks_solved() -> usize {
    let bolts: Vec<_> = bolts_like(&decode("AN4-12A").expect("a bolt"))
        .into_iter()
        .filter_map(|bolt| Some(BoltChoice { shank: Shank::of(&bolt)?, designation: bolt.designation, at_hand: false }))
        .collect();
    let washers = ["AN960-416", "AN960-416L"].map(|name| WasherChoice {
        designation: name.to_owned(),
        thickness: decode(name).and_then(|washer| washer.thickness).expect("a thickness"),
        at_hand: false,
    });
    let nut = decode("AN365-428A").and_then(|nut| nut.height);
    (0..100)
        .map(|i| {
            let stack = given(Length::inches(20 + i, 64));
            solve(&bolts, &washers, stack, nut, &FitRules::default()).expect("a list").len()
        })
        .sum()
}

/// From the geometry to the ink of every sheet: curves, hatch, clock marks, title, lines to measure.
#[divan::bench]
fn thousand_saddle_templates() -> usize {
    let noon = Clock::parse("12").expect("a clock position");
    let sheet = PaperSheet {
        title: "Branch, end A",
        facts: Vec::new(),
        note: "",
        room: (180.0, 200.0),
        scale: PrintScale::TRUE,
        units: UnitStyle::InchFraction,
    };
    (0..1000)
        .map(|i| {
            let angle = Angle::degrees(300 + i % 600, 10);
            let (main, branch, wall) = (Length::inches(5, 4), Length::inches(1, 1), Length::inches(49, 1000));
            let cut = Saddle::new(main, branch, wall, angle, Length::inches(i % 10, 100)).expect("a saddle");
            let end = EndCut::Saddle { cut, long_point: noon };
            let sheets = wrap_template(&end, branch, Length::millimetres(1, 10), &sheet);
            sheets.iter().map(|s| s.ink().len()).sum::<usize>()
        })
        .sum()
}
