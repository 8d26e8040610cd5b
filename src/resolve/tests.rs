//! Configurations made from small manuals in memory.

use super::*;
use crate::model::{Manual, read};
use crate::source::Memory;
use crate::units::{Designation, PartNumber, Quantity, StepId};

const SETTINGS: &str = "\
title: Trial
variants:
  A: {}
  B: { based-on: A }
  C: {}
options:
  x: {}
  y: { excludes: [x] }
  z: { requires: [x], only: A }
option-groups:
  - { title: Brakes, at-most-one-of: [x, y] }
configurations: [A+x, B]
sections:
  - { section: one, title: One }
  - { section: two, title: Two }
";

fn manual(parts: &str, steps: &[(&str, &str)]) -> Manual {
    let mut files = Memory::new();
    files.insert("manual.yaml", SETTINGS);
    files.insert("parts.csv", parts);
    files.insert("hardware.csv", "designation,kind\nAN3-5A,bolt\nAN380-2-2,cotter pin\nAN4-5A,bolt\n");
    for (path, text) in steps {
        files.insert(format!("steps/{path}.md"), *text);
    }
    let read = read(&files).unwrap();
    assert!(read.faults.is_empty(), "{:?}", read.faults);
    read.manual.unwrap()
}

fn step(head: &str) -> String {
    format!("---\ntitle: T\n{head}\n---\n")
}

fn made(manual: &Manual, name: &str) -> Resolved {
    resolve(manual, &parse_configuration(&manual.settings, name).unwrap())
}

#[test]
fn every_allowed_combination_and_no_other() {
    let m = manual("number,name\n", &[]);
    let names: Vec<_> = configurations(&m).iter().map(|c| c.name(&m.settings)).collect();
    assert_eq!(names, ["A", "A+x", "A+y", "A+x+z", "B", "B+x", "B+y", "C", "C+x", "C+y"]);
    let refused = |name| parse_configuration(&m.settings, name).unwrap_err();
    assert!(matches!(refused("A+z"), ConfigurationRefusal::Requires(..)));
    assert!(matches!(refused("B+x+z"), ConfigurationRefusal::NotForVariant(_)));
    assert!(matches!(refused("A+x+y"), ConfigurationRefusal::Excludes(..)));
    assert!(matches!(refused("Q"), ConfigurationRefusal::UnknownVariant(_)));
}

#[test]
fn quantities_are_inherited_and_options_added() {
    let m = manual("number,name,A,B,C,x\nP1,p,2,,0,1\nP2,p,1,0,,\nP3,p,4,5,3,-2\n", &[]);
    let count = |name, number: &str| made(&m, name).listed.get(&PartNumber::new(number)).map_or(0, |l| l.count);
    assert_eq!([count("A", "P1"), count("B", "P1"), count("C", "P1"), count("B+x", "P1")], [2, 2, 0, 3]);
    assert_eq!([count("A", "P2"), count("B", "P2"), count("C", "P2")], [1, 0, 0]);
    assert_eq!([count("A+x", "P3"), count("B+x", "P3"), count("C+x", "P3")], [2, 3, 1]);
}

#[test]
fn an_absent_step_passes_its_after_on_and_sections_are_hard() {
    let m = manual(
        "number,name\n",
        &[
            ("a", &step("step: a\nsection: two\nafter: [b]")),
            ("b", &step("step: b\nsection: two\nonly: C\nafter: [c]")),
            ("c", &step("step: c\nsection: two")),
            ("d", &step("step: d\nsection: one")),
        ],
    );
    let order =
        |name| made(&m, name).steps.iter().map(|s| format!("{}={}", s.number, s.step.id.value)).collect::<Vec<_>>();
    assert_eq!(order("A"), ["1.1=d", "2.1=c", "2.2=a"]);
    assert_eq!(order("C"), ["1.1=d", "2.1=c", "2.2=b", "2.3=a"]);
}

#[test]
fn a_circle_is_named_and_the_other_steps_are_still_ordered() {
    let m = manual(
        "number,name\n",
        &[
            ("a", &step("step: a\nsection: one\nafter: [b]")),
            ("b", &step("step: b\nsection: one\nafter: [c]")),
            ("c", &step("step: c\nsection: one\nafter: [a]")),
            ("d", &step("step: d\nsection: one\nafter: [c]")),
            ("e", &step("step: e\nsection: one\nafter: [f]")),
            ("f", &step("step: f\nsection: two")),
        ],
    );
    let r = made(&m, "A");
    assert_eq!(r.steps.len(), 6);
    let [OrderFault::Backward { step, after, .. }, OrderFault::Circle { steps, .. }] = &r.order_faults[..] else {
        panic!("{:?}", r.order_faults)
    };
    assert_eq!((step.as_str(), after.as_str()), ("e", "f"));
    assert_eq!(steps.iter().map(StepId::as_str).collect::<Vec<_>>(), ["a", "b", "c"]);
}

#[test]
fn only_the_first_taking_is_booked() {
    let m = manual(
        "number,name,A\nP1,p,2\n",
        &[
            ("1", &step("step: a\nsection: one\nparts:\n- { part: P1, quantity: 2, do: trial fit }")),
            ("2", &step("step: b\nsection: one\nparts:\n- { part: P1, quantity: 2, do: remove }")),
            ("3", &step("step: c\nsection: one\nparts:\n- { part: P1, quantity: 2, do: finish }")),
            ("4", &step("step: d\nsection: one\nparts:\n- { part: P1, quantity: 2, do: refit }")),
            ("5", &step("step: e\nsection: one\nparts:\n- { part: P1, do: refit }")),
        ],
    );
    let r = made(&m, "A");
    let account = &r.ledger.parts[&PartNumber::new("P1")];
    assert_eq!((account.listed, account.taken(), account.pulled.len(), account.steps.len()), (2, 2, 1, 5));
    assert_eq!(r.ledger.faults.len(), 1);
    assert_eq!(r.ledger.faults[0].kind, PartFaultKind::RefittedBeforeRemoved(PartNumber::new("P1")));
}

#[test]
fn pieces_come_from_the_step_that_cuts_them() {
    let parts = "number,name,cut from,A\nT,tube,,1\nT1,piece,T,\nT2,piece,T,\n";
    let cut = step("step: cut\nsection: one\nparts:\n- { part: T, becomes: [T1, 2 x T2] }");
    let early = step("step: early\nsection: one\nparts: [T1]");
    let late = step("step: late\nsection: one\nparts: [2 x T2]");
    let r = made(&manual(parts, &[("1", &cut), ("2", &early), ("3", &late)]), "A");
    assert!(r.ledger.faults.is_empty());
    assert_eq!(r.ledger.parts[&PartNumber::new("T2")].listed, 2);
    assert_eq!(r.ledger.parts[&PartNumber::new("T2")].taken(), 2);
    let r = made(&manual(parts, &[("1", &early), ("2", &cut), ("3", &late)]), "A");
    let [fault] = &r.ledger.faults[..] else { panic!("{:?}", r.ledger.faults) };
    assert_eq!(fault.kind, PartFaultKind::PartNotThere(PartNumber::new("T1"), Some(StepId::new("cut"))));
}

#[test]
fn temporary_hardware_is_needed_at_its_peak_and_pins_each_time() {
    let m = manual(
        "number,name\n",
        &[
            (
                "1",
                &step(
                    "step: a\nsection: one\nhardware:\n- { hardware: AN3-5A, quantity: 4, do: fit temporarily }\n- AN380-2-2",
                ),
            ),
            (
                "2",
                &step(
                    "step: b\nsection: one\nhardware:\n- { hardware: AN3-5A, quantity: 4, do: remove }\n- { hardware: AN380-2-2, do: remove }",
                ),
            ),
            ("3", &step("step: c\nsection: one\nhardware:\n- 3 x AN3-5A\n- AN380-2-2")),
            ("4", &step("step: d\nsection: one\nhardware: [2 x AN3-5A]")),
        ],
    );
    let r = made(&m, "A");
    let need = |d: &str| r.ledger.hardware[&Designation::new(d)].need;
    assert_eq!(need("AN3-5A"), Quantity::each(5));
    assert_eq!(need("AN380-2-2"), Quantity::each(2));
    assert!(r.ledger.faults.is_empty());
}

#[test]
fn hardware_of_joints_is_derived_and_a_listed_item_compared() {
    let joint = "joints:\n- { fastener: AN3-5A, under-head: [AN4-5A], under-nut: [2 x AN4-5A], places: 3 }\nhardware: [2 x AN3-5A]";
    let m = manual("number,name\n", &[("1", &step(&format!("step: a\nsection: one\n{joint}")))]);
    let r = made(&m, "A");
    let s = &r.steps[0];
    let needs: Vec<_> = s.hardware.iter().map(|n| (n.designation.as_str(), n.quantity)).collect();
    assert_eq!(needs, [("AN3-5A", Quantity::each(3)), ("AN4-5A", Quantity::each(9))]);
    assert_eq!((s.doubled[0].joints, s.doubled[0].listed), (Quantity::each(3), Quantity::each(2)));
}

#[test]
fn lists_are_spliced_where_a_condition_divided_them() {
    use crate::syntax::markdown::MdBlockKind;
    let body = "1. First\n\n<!-- only: x -->\n\n2. With x\n3. More x\n\n<!-- end only -->\n\n4. Last\n\nText.\n\n1. New list\n";
    let m = manual("number,name\n", &[("1", &format!("{}\n{body}", step("step: a\nsection: one")))]);
    let items = |name| {
        let r = made(&m, name);
        r.steps[0]
            .step
            .body
            .iter()
            .map(|b| match &b.kind {
                MdBlockKind::List { items, .. } => items.len(),
                _ => 0,
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(items("A"), [2, 0, 1]);
    assert_eq!(items("A+x"), [4, 0, 1]);
}

#[test]
fn conditions_say_why() {
    let m =
        manual("number,name\n", &[("1", &step("step: a\nsection: one\nonly: B and based and not (x or serial 5..9)"))]);
    let c = parse_configuration(&m.settings, "B+x").unwrap();
    let only = m.steps[0].only.as_ref().unwrap();
    let v = explain(&only.value, &Facts { settings: &m.settings, configuration: &c });
    assert!(!v.holds);
    assert!(v.parts[0].holds && !v.parts[1].holds);
    assert_eq!(in_words(&only.value), "B and based and not (x or serial 5 to 9)");
}

/// A step that stands for two is waited for in both hands, whether the one that waits has conditions inside or not.
#[test]
fn who_waits_for_both_hands_waits_for_both_with_conditions_inside_too() {
    let arm = step("step: arm\nsection: one\nhand: left\nopposite: yes").replace("title: T", "title: The left arm");
    for more in ["", "\nhardware:\n  - { hardware: AN3-5A, quantity: 1, only: A }"] {
        let next = step(&format!("step: a-next\nsection: one\nafter: [arm]{more}"));
        let m = manual("number,name\n", &[("1", &next), ("2", &arm)]);
        let ids: Vec<_> = made(&m, "A").steps.iter().map(|s| s.step.id.value.to_string()).collect();
        assert_eq!(ids, ["arm", "arm:right", "a-next"], "{more}");
    }
}
