//! A random manual as text: variants, options, sections, steps with `after`, parts and hardware that come and go.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use kitwright::source::Memory;

use super::dice::Dice;

const CONDITIONS: &[&str] = &[
    "ALFA",
    "BRAVO",
    "not BRAVO",
    "ALFA and based",
    "brake",
    "tow and not brake",
    "BRAVO or tow",
    "ALFA and (brake or tow)",
    "not (brake and tow)",
];

const HARDWARE: &[&str] = &["AN3-5A", "AN4-7A", "AN960-10", "AN960-416", "MS21044N3", "MS21044N4", "AN380-2-2"];

/// A step while it is being written.
struct Draft {
    id: String,
    path: String,
    section: usize,
    after: Vec<String>,
    parts: Vec<String>,
    hardware: Vec<String>,
    joints: Vec<String>,
    only: Option<&'static str>,
}

/// A manual. With `circles`, `after` may point anywhere, else only to steps that stand before.
pub fn manual(start: u64, circles: Circles) -> Memory {
    let mut dice = Dice::new(start);
    let sections = dice.between(1, 4);
    let count = dice.between(2, 24);
    let mut steps: Vec<Draft> = (0..count).map(|i| draft(i, sections, &mut dice)).collect();
    // The order in which steps are built is not that of their paths.
    steps.sort_by_key(|s| s.section);
    afters(&mut steps, circles, &mut dice);
    let parts = parts(&mut steps, &mut dice);
    hardware(&mut steps, &mut dice);

    let mut files = Memory::new();
    files.insert("manual.yaml", settings(sections));
    files.insert("parts.csv", parts);
    let mut rows = "designation,name,kind,unit,one use\n".to_owned();
    for name in HARDWARE {
        let (kind, one_use) = if name.starts_with("AN380") { ("cotter pin", "yes") } else { ("other", "") };
        let _ = writeln!(rows, "{name},Item {name},{kind},each,{one_use}");
    }
    files.insert("hardware.csv", rows);
    for step in &steps {
        files.insert(step.path.clone(), text(step));
    }
    files
}

/// Whether steps may wait for one another in a circle.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Circles {
    Possible,
    None,
}

fn settings(sections: usize) -> String {
    let mut text = "title: Random\nvariants:\n  ALFA: { title: Alfa }\n  BRAVO: { title: Bravo, based-on: ALFA, inherits-conditions: no }\noptions:\n  \
        brake: { title: Brake }\n  tow: { title: Tow }\nconfigurations: [ALFA, BRAVO+brake, ALFA+brake+tow, BRAVO+tow]\nsections:\n"
        .to_owned();
    for i in 0..sections {
        let _ = writeln!(text, "  - {{ section: section-{i}, title: Section {i} }}");
    }
    text
}

fn draft(i: usize, sections: usize, dice: &mut Dice) -> Draft {
    let section = dice.below(sections);
    // Numbers of one and two digits, so that natural order and plain order differ.
    let path = format!("steps/section-{section}/{}-{}{i}.md", dice.between(1, 30), dice.pick(&["a", "b", "Z"]));
    let only = dice.percent(25).then(|| *dice.pick(CONDITIONS));
    Draft {
        id: format!("step-{i}"),
        path,
        section,
        after: vec![],
        parts: vec![],
        hardware: vec![],
        joints: vec![],
        only,
    }
}

fn afters(steps: &mut [Draft], circles: Circles, dice: &mut Dice) {
    let ids: Vec<String> = steps.iter().map(|s| s.id.clone()).collect();
    for (i, step) in steps.iter_mut().enumerate() {
        for _ in 0..dice.below(4) {
            let to = if circles == Circles::Possible && dice.percent(20) {
                dice.below(ids.len())
            } else {
                dice.below(i.max(1))
            };
            if to == i || to > i && circles == Circles::None {
                continue;
            }
            let item = if dice.percent(15) {
                format!("{{ step: {}, only: {} }}", ids[to], dice.pick(CONDITIONS))
            } else {
                ids[to].clone()
            };
            step.after.push(item);
        }
    }
}

/// Parts with a life each: pulled in several steps, fitted on trial and refitted, finished first, or cut up.
fn parts(steps: &mut [Draft], dice: &mut Dice) -> String {
    let mut table = "number,name,ALFA,BRAVO,brake,tow,cut from\n".to_owned();
    for n in 0..dice.between(1, 14) {
        let number = format!("P-{n:03}");
        let quantity = dice.between(1, 4);
        let mut places: Vec<usize> = (0..dice.between(1, 5)).map(|_| dice.below(steps.len())).collect();
        places.sort_unstable();
        let item = |action: &str| format!("{{ part: {number}, quantity: {quantity}, do: {action} }}");
        match dice.below(5) {
            0 => {
                for &at in &places {
                    let only =
                        if dice.percent(20) { format!(", only: {}", dice.pick(CONDITIONS)) } else { String::new() };
                    steps[at].parts.push(format!("{{ part: {number}, quantity: {}{only} }}", dice.between(1, 3)));
                }
            }
            1 => {
                let actions = ["trial fit", "remove", "finish", "refit"];
                for (&at, action) in places.iter().zip(actions) {
                    steps[at].parts.push(item(action));
                }
            }
            2 => {
                for (&at, action) in places.iter().zip(["finish", "pull", "use", "remove", "refit"]) {
                    steps[at].parts.push(item(action));
                }
            }
            3 => {
                let piece = format!("P-{n:03}-A");
                let _ = writeln!(table, "{piece},Piece,,,,,{number}");
                let at = places[0];
                steps[at].parts.push(format!("{{ part: {number}, quantity: {quantity}, becomes: [2 x {piece}] }}"));
                let last = places[places.len() - 1];
                steps[last].parts.push(format!("{} x {piece}", dice.between(1, 2 * quantity + 1)));
            }
            _ => {
                for &at in &places {
                    steps[at].parts.push(format!("{} x {number}", dice.between(1, 3)));
                }
            }
        }
        let cell = |dice: &mut Dice| if dice.percent(40) { String::new() } else { dice.below(6).to_string() };
        let signed = |dice: &mut Dice| if dice.percent(60) { "" } else { *dice.pick(&["1", "-1", "2"]) };
        let _ = writeln!(table, "{number},Part,{},{},{},{},", cell(dice), cell(dice), signed(dice), signed(dice));
    }
    table
}

fn hardware(steps: &mut [Draft], dice: &mut Dice) {
    // What is out, over all steps whatever their condition, so that not everything that comes off is a fault.
    let mut out: BTreeMap<&str, usize> = BTreeMap::new();
    for step in steps.iter_mut() {
        let mut named: Vec<&str> = Vec::new();
        for _ in 0..dice.below(4) {
            let name = *dice.pick(HARDWARE);
            if named.contains(&name) {
                continue;
            }
            named.push(name);
            let fitted = out.entry(name).or_default();
            if *fitted > 0 && dice.percent(50) {
                let n = dice.between(1, *fitted);
                *fitted -= n;
                step.hardware.push(format!("{{ hardware: {name}, quantity: {n}, do: remove }}"));
            } else {
                let n = dice.between(1, 6);
                *fitted += n;
                let action = dice.pick(&["fit", "fit temporarily"]);
                step.hardware.push(format!("{{ hardware: {name}, quantity: {n}, do: {action} }}"));
            }
        }
        if dice.percent(30) {
            let (bolt, washer, nut) =
                *dice.pick(&[("AN3-5A", "AN960-10", "MS21044N3"), ("AN4-7A", "AN960-416", "MS21044N4")]);
            let action = dice.pick(&["fit", "fit temporarily", "remove"]);
            let pin = if dice.percent(30) { ", pin: AN380-2-2" } else { "" };
            step.joints.push(format!(
                "{{ fastener: {bolt}, stack: [P-000], under-head: [{washer}], under-nut: [2 x {washer}], nut: {nut}{pin}, \
                 places: {}, do: {action} }}",
                dice.between(1, 4)
            ));
        }
    }
}

fn text(step: &Draft) -> String {
    let mut text = format!("---\nstep: {}\ntitle: Do it\nsection: section-{}\n", step.id, step.section);
    if let Some(only) = step.only {
        let _ = writeln!(text, "only: {only}");
    }
    for (key, items) in
        [("after", &step.after), ("parts", &step.parts), ("hardware", &step.hardware), ("joints", &step.joints)]
    {
        if !items.is_empty() {
            let _ = writeln!(text, "{key}:");
            for item in items {
                let _ = writeln!(text, "  - {item}");
            }
        }
    }
    text.push_str("---\n\n1. Do it.\n");
    text
}
