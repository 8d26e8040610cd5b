//! `why` and `where`.

use super::Desk;

/// Lines with runs of spaces made one.
fn lines(text: &str) -> Vec<String> {
    text.lines().map(|l| l.split_whitespace().collect::<Vec<_>>().join(" ")).filter(|l| !l.is_empty()).collect()
}

#[track_caller]
fn has(text: &str, line: &str) {
    assert!(lines(text).iter().any(|l| l == line), "no line `{line}` in\n{text}");
}

/// The trolley with an option that a step hangs on, and a step that it passes its order on to.
fn desk() -> Desk {
    let desk = Desk::with_manual();
    desk.edit(
        "manual-src/manual.yaml",
        "configurations: [PLAIN, TALL]",
        "options:\n  bell: { title: Bell, only: TALL }\nconfigurations: [PLAIN, TALL, TALL+bell]",
    );
    desk.write(
        "manual-src/steps/running-gear/15-bell.md",
        "---\nstep: bell\ntitle: Hang the bell\nsection: running-gear\nonly: bell and (TALL or not PLAIN)\nafter: [axle]\nparts: [GT-108]\n---\n\n1. Hang the bell on the handle.\n",
    );
    desk.edit("manual-src/steps/running-gear/20-wheels.md", "after: [axle]", "after: [bell]");
    let (head, rows) = (",bell\n", ",\n");
    let parts = desk.read("manual-src/parts.csv").replace('\n', rows).replacen(rows, head, 1);
    desk.write("manual-src/parts.csv", &format!("{parts}GT-108,Bell,,,Brass,,,finished,0,,A6,1,P4,bought,,,1\n"));
    desk.run(&["check"]).ends(0);
    desk
}

#[test]
fn a_step_is_in_with_the_truth_of_each_part_of_its_condition() {
    let desk = desk();
    let text = desk.run(&["why", "bell", "TALL+bell"]).ends(0).out;
    has(&text, "Step `bell` (Hang the bell) is in TALL+bell, as step 2.2.");
    has(&text, "bell and (TALL or not PLAIN) yes steps/running-gear/15-bell.md:5");
    has(&text, "TALL or not PLAIN yes");
    has(&text, "not PLAIN yes");
    has(&text, "PLAIN no");
    has(&text, "axle is step 2.1 steps/running-gear/15-bell.md:6");
    has(&text, "wheels is step 2.3 steps/running-gear/20-wheels.md:5");

    let text = desk.run(&["why", "bell", "PLAIN"]).ends(0).out;
    has(&text, "Step `bell` (Hang the bell) is not in PLAIN.");
    has(&text, "bell no");
}

#[test]
fn a_step_that_is_absent_passes_its_order_on() {
    let desk = desk();
    let text = desk.run(&["why", "wheels", "PLAIN"]).ends(0).out;
    has(&text, "bell is not here; it passes on what it waits for: axle (step 2.1) steps/running-gear/20-wheels.md:5");
}

#[test]
fn a_part_shows_the_cells_that_add_up() {
    let desk = desk();
    let text = desk.run(&["why", "GT-104", "TALL+bell"]).ends(0).out;
    has(&text, "Part GT-104 (Axle clamp) is in TALL+bell: 2 in the crate.");
    has(&text, "blank column TALL so PLAIN counts, on which it is based");
    has(&text, "2 column PLAIN parts.csv, row 6, column PLAIN");
    has(&text, "2 step 2.1 axle steps/running-gear/10-axle.md:9");
    has(&text, "That is as many as are listed.");

    let text = desk.run(&["why", "GT-108", "TALL+bell"]).ends(0).out;
    has(&text, "0 column PLAIN parts.csv, row 10, column PLAIN");
    has(&text, "+1 column bell parts.csv, row 10, column bell");
    has(&text, "1 in the crate");

    let text = desk.run(&["why", "GT-106", "PLAIN"]).ends(0).out;
    has(&text, "Part GT-106 (Tall handle tube) is not in PLAIN.");
    has(&text, "handle pulled, 1 steps/frame/10-handle.md:8 only: TALL");
}

#[test]
fn hardware_shows_what_the_steps_take() {
    let desk = desk();
    let text = desk.run(&["why", "ISO 7089 6", "TALL"]).ends(0).out;
    // Two joints of two places, one of four and one of two, with a washer under head and nut of each.
    has(&text, "ISO 7089 6 (Plain washer) is in TALL: 20 needed; no spares.");
    has(&text, "4 step 1.1 handle");
    has(&text, "8 step 1.2 board");
    has(&text, "8 step 2.1 axle");
}

#[test]
fn a_line_of_a_file_shows_the_conditions_around_it() {
    let desk = desk();
    let step = desk.read("manual-src/steps/frame/10-handle.md");
    let line = step.lines().position(|l| l.starts_with("The tall handle bends")).expect("the text") + 1;
    let place = format!("steps/frame/10-handle.md:{line}");
    let text = desk.run(&["why", &place, "PLAIN"]).ends(0).out;
    has(&text, &format!("steps/frame/10-handle.md, line {line} is not in PLAIN."));
    has(&text, "The condition of the text:");
    let text = desk.run(&["why", &place, "TALL"]).ends(0).out;
    has(&text, &format!("steps/frame/10-handle.md, line {line} is in TALL, in step 1.1."));
    let text = desk.run(&["why", "steps/frame/10-handle.md:7", "TALL"]).ends(0).out;
    has(&text, "steps/frame/10-handle.md, line 7 is not in TALL.");
    has(&text, "The condition of the item of `parts`:");
    let text = desk.run(&["why", "parts.csv:6", "TALL"]).ends(0).out;
    has(&text, "Part GT-104 (Axle clamp) is in TALL: 2 in the crate.");
}

#[test]
fn a_name_that_is_not_there_offers_the_nearest() {
    let desk = desk();
    let cases: [(&[&str], &str); 7] = [
        (&["why", "wheel", "PLAIN"], "did you mean `wheels`?"),
        (&["why", "GT-114", "PLAIN"], "did you mean `GT-104`?"),
        (&["why", "wheels", "PLAIM"], "did you mean `PLAIN`?"),
        (&["why", "wheels", "PLAIN+bell"], "option `bell` does not go on this variant"),
        (&["why", "wheels", "kit-0147"], "there is no kit 147"),
        (&["why", "steps/frame/10-handle.md:999", "PLAIN"], "has no line 999"),
        (&["where", "drill-65"], "did you mean `drill-6-5`?"),
    ];
    for (arguments, words) in cases {
        let run = desk.run(arguments).ends(2);
        assert!(run.err.contains(words), "{arguments:?}: {}", run.err);
    }
}

#[test]
fn an_option_that_leaves_no_choice_need_not_be_said() {
    let desk = desk();
    desk.edit(
        "manual-src/manual.yaml",
        "configurations:",
        "option-groups:\n  - { title: Bells, one-of: [bell] }\nconfigurations:",
    );
    desk.edit("manual-src/manual.yaml", "TALL, TALL+bell]", "TALL+bell]");
    let text = desk.run(&["why", "bell", "TALL"]).ends(0).out;
    has(&text, "Step `bell` (Hang the bell) is in TALL+bell, as step 2.2.");
    let text = desk.run(&["compare", "PLAIN", "TALL"]).ends(0).out;
    has(&text, "from PLAIN to TALL+bell");
}

#[test]
fn a_kit_of_the_register_is_a_configuration() {
    let desk = desk();
    desk.write("manual-src/kits.csv", "serial,configuration\n147,TALL+bell\n");
    let text = desk.run(&["why", "bell", "kit-0147"]).ends(0).out;
    has(&text, "Step `bell` (Hang the bell) is in kit-0147, as step 2.2.");
}

#[test]
fn where_lists_every_use_with_its_step_in_each_configuration() {
    let desk = desk();
    let text = desk.run(&["where", "GT-102-L"]).ends(0).out;
    has(&text, "step PLAIN TALL TALL+bell place how");
    has(&text, "handle 1.1 1.1 1.1 steps/frame/10-handle.md:9 pulled, 1");
    has(&text, "handle 1.1 - - steps/frame/10-handle.md:15 holes of GT-105 are taken from it");
    has(&text, "handle - 1.1 1.1 steps/frame/10-handle.md:16 holes of GT-106 are taken from it");
    has(&text, "board 1.2 1.2 1.2 steps/frame/20-board.md:12 clamped by ISO 4017 M6x30");
    assert!(text.contains("named in the text"), "{text}");
    has(&text, "parts.csv, row 4, column opposite opposite of GT-102-R");

    let text = desk.run(&["where", "axle.svg"]).ends(0).out;
    has(&text, "axle 2.1 2.1 2.1 steps/running-gear/10-axle.md:21 shown");
    has(&text, "figures/axle.svg the file");
    for (name, line) in [
        ("grease", "wheels 2.2 2.2 2.3 steps/running-gear/20-wheels.md:13 needed"),
        ("frame", "axle 2.1 2.1 2.1 steps/running-gear/10-axle.md:7 used"),
        ("TUBE-1", "parts.csv, row 7, column stock GT-105 is made of it"),
        ("ISO 1234 3.2x25", "wheels 2.2 2.2 2.3 steps/running-gear/20-wheels.md:11 fitted, 2"),
    ] {
        has(&desk.run(&["where", name]).ends(0).out, line);
    }
}

/// The folder is the last word of every command that reads a manual; `--folder`, which some once had, is still read.
#[test]
fn the_folder_is_the_last_word_of_every_command() {
    let desk = Desk::empty();
    desk.run(&["start", "mine"]).ends(0);
    desk.run(&["release", "mine", "--summary", "First issue", "--class", "information", "--date", "2026-01-05"])
        .ends(0);
    let commands: [&[&str]; 9] = [
        &["check"],
        &["why", "wheels", "PLAIN"],
        &["where", "GT-104"],
        &["compare", "A/PLAIN", "PLAIN"],
        &["convert", "PLAIN", "TALL"],
        &["rename", "GT-104", "GT-144"],
        &["impact"],
        &["fit", "ISO 4014 M6x30", ".25"],
        &["notice", "--part", "GT-104", "--class", "information", "--summary", "x"],
    ];
    for words in commands {
        let told = desk.run(&[words, &["mine"]].concat());
        assert!(told.code < 2 || told.err.contains("no kit of the register"), "{words:?}: {}", told.err);
        let named = desk.run(&[words, &["--folder", "mine"]].concat());
        assert_eq!((named.code, named.out, named.err), (told.code, told.out, told.err), "{words:?}");
        if words[0] != "fit" {
            let lacking = desk.run(words).ends(2);
            assert!(lacking.err.contains("there is no folder manual-src"), "{words:?}: {}", lacking.err);
        }
    }
    let help = desk.run(&["compare", "--help"]).ends(0).out;
    assert!(help.contains("[FOLDER]") && !help.contains("--folder"), "{help}");
    assert!(desk.run(&["notice", "A", "mine", "--lot", "1"]).ends(2).err.contains("class"));
}
