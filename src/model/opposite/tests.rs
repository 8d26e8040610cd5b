use super::*;
use crate::diag::Sink;
use crate::model::{self, CalloutTarget};
use crate::source::Memory;
use crate::units::Length;

const STEP: &str = "---
step: tang
title: Bolt on the left tang
section: s
hand: left
opposite: yes
after: [keel]
makes: [left-tang]
parts: [K-1-L]
cuts:
  - { part: K-1-L, end: A, cut: saddle, onto: K-2, angle: 60, long-point: 4, offset: 1/8 }
figures:
  - figure: tang.svg
    alt: The tang on the left
    forward: left
    callouts: [{ callout: 1, at: [20, 30], part: K-1-L }]
---
1. Bolt the [tang](part:K-1-L) to the left end, as [](figure:tang.svg) shows.
2. The turnbuckle has a left-hand thread.
";
const DRAWING: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 50\"><path d=\"M1 1 L9 9\"/><text x=\"5\" y=\"9\">A</text></svg>";

fn read(section: &str) -> Manual {
    let mut files = Memory::new();
    let settings =
        format!("title: T\nvariants: {{ A: {{ title: A }} }}\nsections: [{{ section: s, title: S{section} }}]\n");
    files.insert("manual.yaml", settings.as_bytes());
    files.insert(
        "parts.csv",
        b"number,name,hand,opposite,A\nK-1-L,Tang,left,K-1-R,1\nK-1-R,Tang,right,K-1-L,1\nK-2,Keel,,,1\n".as_slice(),
    );
    let plain = |id: &str, more: &str| format!("---\nstep: {id}\ntitle: {id}\nsection: s\n{more}---\n1. Do it.\n");
    files.insert("steps/10.md", plain("keel", "parts: [K-2]\n").as_bytes());
    files.insert("steps/20.md", STEP.as_bytes());
    files.insert("steps/30.md", plain("stay", "hand: left\nopposite: yes\nafter: [tang]\n").as_bytes());
    files.insert("steps/40.md", plain("end", "after: [tang]\n").as_bytes());
    files.insert("figures/tang.svg", DRAWING.as_bytes());
    model::read(&files).expect("a folder in memory").manual.expect("a manual")
}

/// The steps in their order, which is what decides between steps that do not wait for one another.
fn order(manual: &Manual) -> Vec<&str> {
    manual.steps.iter().map(|s| s.id.value.as_str()).collect()
}

#[test]
fn the_other_hand_stands_beside_it_or_behind_all_of_the_first() {
    assert_eq!(order(&read("")), ["keel", "tang", "tang:right", "stay", "stay:right", "end"]);
    assert_eq!(order(&read(", hands: apart")), ["keel", "tang", "stay", "tang:right", "stay:right", "end"]);
}

#[test]
fn what_changes_of_itself() {
    let manual = read("");
    let made = manual.steps.iter().find(|s| s.id.value == StepId::new("tang:right")).expect("the made step");
    assert_eq!((made.title.as_str(), made.hand.map(|h| h.value)), ("Bolt on the right tang", Some(Hand::Right)));
    assert_eq!(made.makes[0].value.value.as_str(), "right-tang");
    assert_eq!(made.parts[0].part.as_str(), "K-1-R");
    let cut = &made.cuts[0];
    // Seen in a mirror, 4 o'clock is 8, and what lay to the right lies to the left.
    assert_eq!((cut.part.as_str(), cut.long_point.map(|c| c.value.hour())), ("K-1-R", Some(8)));
    assert_eq!(cut.offset.map(|o| o.value), Some(Length::inches(-1, 8)));
    let figure = &made.figures[0];
    assert_eq!((figure.figure.as_str(), figure.forward.as_deref()), ("tang--opposite.svg", Some("right")));
    assert_eq!(figure.callouts[0].at.map(|a| a.value), Some((80.0, 30.0)));
    assert!(matches!(&figure.callouts[0].target, CalloutTarget::Part(p) if p.as_str() == "K-1-R"));
    assert!(manual.figures.contains_key(&FigureName::new("tang--opposite.svg")));
    let lines: Vec<String> =
        step_units(made).into_iter().filter(|(label, _)| *label == "text").map(|(_, line)| line).collect();
    assert_eq!(lines[0], "Bolt the tang to the right end, as figure:tang--opposite.svg shows.");
    assert_eq!(lines[1], "The turnbuckle has a left-hand thread.");
    let end = manual.steps.iter().find(|s| s.id.value == StepId::new("end")).expect("the step behind both");
    assert_eq!(end.after.len(), 2);
}

#[test]
fn the_opposite_of_the_opposite_is_the_step_itself() {
    let manual = read("");
    let step = manual.steps.iter().find(|s| s.id.value == StepId::new("tang")).expect("the written step");
    let sides = sides(&manual, step);
    let (parts, pairs) = (part_pairs(&manual), BTreeMap::new());
    let mut twice = step.clone();
    for shown in ["left", "right"] {
        let mut drawings = BTreeMap::new();
        let mut mirror = step::Mirror {
            manual: &manual,
            sides: &sides,
            parts: &parts,
            pairs: &pairs,
            shown,
            drawings: &mut drawings,
        };
        twice = mirror.step(&twice, &mut Sink::new()).expect("the other hand");
    }
    let plain = |s: &Step| {
        let lines =
            step_units(s).into_iter().map(|(label, line)| format!("{label} {}", line.replace("--opposite", "")));
        lines.collect::<Vec<_>>()
    };
    assert_eq!(plain(&twice), plain(step));
}

#[test]
fn what_a_builder_is_told_who_has_done_the_step_is_for_the_other_hand() {
    let mut files = Memory::new();
    files.insert("manual.yaml", "title: T\nvariants: { A: { title: A } }\nsections: [{ section: s, title: S }]\n");
    files.insert("parts.csv", "number,name,hand,opposite,A\nK-1-L,Tang,left,K-1-R,1\nK-1-R,Tang,right,K-1-L,1\n");
    let told = "if-already-built:\n  - { release: B, inspect: Look at the left tang., send: [2 x K-1-L] }\n";
    let step = format!("---\nstep: tang\ntitle: T\nsection: s\nhand: left\nopposite: yes\n{told}---\n1. Do it.\n");
    files.insert("steps/10.md", step);
    let manual = model::read(&files).expect("a folder in memory").manual.expect("a manual");
    let made = manual.steps.iter().find(|s| s.id.value == StepId::new("tang:right")).expect("the made step");
    let told = &made.already_built[0];
    assert_eq!(told.inspect.as_deref(), Some("Look at the right tang."));
    assert_eq!(told.send[0].0.value, "K-1-R");
}
