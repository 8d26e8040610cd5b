//! `variant`: a new variant, place by place.

use std::io::Write as _;
use std::process::Stdio;

use super::Desk;

const STEP: &str = "manual-src/steps/frame/10-handle.md";

#[test]
fn a_new_variant_is_begun_answered_in_its_file_and_written() {
    let desk = Desk::with_manual();
    let step = desk.read(STEP);
    let begun = desk.run(&["variant", "CAB", "--based-on", "TALL", "--title", "With a roof"]).ends(0).out;
    assert!(begun.contains("conditions name TALL and not CAB"), "{begun}");
    let yaml = desk.read("manual-src/manual.yaml");
    assert!(yaml.contains("\n  CAB: { title: \"With a roof\", based-on: TALL }\n"), "{yaml}");
    let parts = desk.read("manual-src/parts.csv");
    assert!(parts.lines().next().is_some_and(|head| head.contains("TALL,CAB,")), "{parts}");
    assert_eq!(desk.read(STEP), step, "nothing of the steps is written yet");
    let checked = desk.run(&["check", "--format", "lines"]);
    let hints = checked.out.matches("variant-conditions").count() + checked.err.matches("variant-conditions").count();
    assert_eq!((checked.code, hints), (1, 1), "{}{}", checked.out, checked.err);

    let list = desk.read("manual-src/variant-CAB.csv");
    let rows: Vec<&str> = list.lines().collect();
    assert!(rows[0].starts_with("like TALL,place,only,what") && rows.len() == 6, "{list}");
    // All but the text; then the text.
    let answered: Vec<String> = rows
        .iter()
        .enumerate()
        .map(|(i, row)| if (1..5).contains(&i) { format!("yes{row}") } else { (*row).to_owned() })
        .collect();
    desk.write("manual-src/variant-CAB.csv", &answered.join("\n"));
    let some = desk.run(&["variant", "CAB", "--write"]).ends(0).out;
    assert!(some.contains("in 4 places") && some.contains("1 places are left"), "{some}");
    assert_eq!(desk.read(STEP).matches("TALL or CAB").count(), 4);
    let rest = desk.read("manual-src/variant-CAB.csv");
    desk.write("manual-src/variant-CAB.csv", &rest.replacen("\n,", "\nno,", 1));
    let all = desk.run(&["variant", "CAB", "--write"]).ends(0).out;
    assert!(all.contains("every place is decided"), "{all}");
    assert!(!desk.path("manual-src/variant-CAB.csv").exists());
    assert!(desk.read("manual-src/manual.yaml").contains("based-on: TALL, inherits-conditions: no }"));
    let text = desk.run(&["check"]).ends(0);
    assert!(!format!("{}{}", text.out, text.err).contains("variant-conditions"));
    // The parts follow: what TALL takes, CAB takes.
    desk.run(&["why", "GT-106", "CAB"]).ends(0);
}

#[test]
fn a_new_variant_is_answered_in_the_terminal() {
    let desk = Desk::with_manual();
    let mut command = desk.command(&["variant", "CAB", "--based-on", "TALL"]);
    drop(command.output().expect("it runs"));
    let mut run = desk
        .command(&["variant", "CAB", "--ask", "--write"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it runs");
    run.stdin.take().expect("piped").write_all(b"yes\nmaybe\ny\nyes\nyes\nno\n").expect("written");
    let ended = run.wait_with_output().expect("it ends");
    let said = String::from_utf8(ended.stdout).expect("UTF-8");
    assert!(ended.status.success() && said.contains("1 of 5") && said.contains("every place is decided"), "{said}");
    assert_eq!(desk.read(STEP).matches("TALL or CAB").count(), 4);
    desk.run(&["check"]).ends(0);
}

#[test]
fn one_answer_for_all_places() {
    let desk = Desk::with_manual();
    let step = desk.read(STEP);
    desk.run(&["variant", "CAB", "--based-on", "TALL", "--inherits", "yes"]).ends(0);
    assert!(desk.read("manual-src/manual.yaml").contains("CAB: { based-on: TALL, inherits-conditions: yes }"));
    assert_eq!(desk.read(STEP), step);
    desk.run(&["check"]).ends(0);
    let why = desk.run(&["why", "steps/frame/10-handle.md:8", "CAB"]).ends(0).out;
    assert!(why.contains("inherits its conditions"), "{why}");
}

#[test]
fn what_can_not_be_a_new_variant_is_said() {
    let desk = Desk::with_manual();
    for (words, said) in [
        (&["variant", "CAB"][..], "there is no variant CAB"),
        (&["variant", "CAB", "--based-on", "TAL"], "did you mean"),
        (&["variant", "TALL", "--based-on", "TALL"], "TALL is based on PLAIN"),
        (&["variant", "not", "--based-on", "TALL"], "can't name a variant"),
        (&["variant", "CAB", "--based-on", "TALL", "--inherits", "perhaps"], "write yes or no"),
    ] {
        let err = desk.run(words).ends(2).err;
        assert!(err.contains(said), "{words:?}: {err}");
    }
    desk.run(&["variant", "CAB", "--based-on", "TALL"]).ends(0);
    let list = desk.read("manual-src/variant-CAB.csv");
    desk.write("manual-src/variant-CAB.csv", &list.replacen("\n,", "\nperhaps,", 1));
    let err = desk.run(&["variant", "CAB", "--write"]).ends(2).err;
    assert!(err.contains("variant-CAB.csv, row 2") && err.contains("is no answer"), "{err}");
}

/// What the steps say once under a role is what they said for each part under a condition: not a byte of the documents differs.
#[test]
fn a_role_in_the_place_of_numbers_makes_the_same_documents() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    let both = |part: &str, rest: &str| {
        format!("{{ part: GT-105{part}, only: PLAIN }}{rest}{{ part: GT-106{part}, only: TALL }}\n")
    };
    desk.edit(STEP, &both("", "\n  - "), "handle tube\n");
    desk.edit(STEP, &both(", through: tube", "\n      - "), "{ part: handle tube, through: tube }\n");
    let hole = ", hole: A, count: 2, do: match-drill, from: GT-102-L, drill: 6.5 mm, for: ISO 4017 M6x45";
    desk.edit(STEP, &both(hole, "\n  - "), &format!("{{ part: handle tube{hole} }}\n"));
    let parts = desk.read("manual-src/parts.csv");
    let called = parts.lines().map(|row| match row.split(',').next() {
        Some("number") => format!("{row},called\n"),
        Some("GT-105" | "GT-106") => format!("{row},handle tube\n"),
        _ => format!("{row},\n"),
    });
    desk.write("manual-src/parts.csv", &called.collect::<String>());
    desk.run(&["check"]).ends(0);
    desk.run(&["compile"]).ends(0);
    assert!(desk.files("out") == before, "a role changes the documents");
    let text = desk.run(&["where", "GT-106"]).ends(0).out;
    assert!(text.contains("10-handle.md"), "{text}");
}
