//! How runs end: 0 no errors, 1 errors in the manual, 2 could not run.

use super::Desk;

#[test]
fn a_sound_manual_ends_with_0() {
    let desk = Desk::with_manual();
    let run = desk.run(&["check"]).ends(0);
    // It is said what was looked at.
    let (found, examined) = run.out.split_once('\n').expect("two lines");
    assert_eq!(found, "no errors, warnings or hints");
    assert!(examined.starts_with("examined ") && examined.lines().count() == 1, "{}", run.out);
    let lines = desk.run(&["check", "--format", "lines"]).ends(0);
    assert_eq!(lines.out, "no errors, warnings or hints\n");
}

#[test]
fn questions_are_asked_in_a_review_alone() {
    let desk = Desk::with_manual();
    let row = "ISO 4017 M6x50,Hexagon head screw,screw,each,H1,P2,1,M6,6 mm,50 mm,\"Steel, zinc plated\",,\n";
    desk.write("manual-src/hardware.csv", &(desk.read("manual-src/hardware.csv") + row));
    desk.write(
        "manual-src/manual.yaml",
        &format!("{}levels: {{ unused-hardware: question }}\n", desk.read("manual-src/manual.yaml")),
    );
    let quiet = desk.run(&["check", "--format", "lines"]).ends(0);
    assert_eq!(quiet.out, "no errors, warnings or hints\n");
    let asked = desk.run(&["check", "--review", "--format", "lines"]).ends(0);
    assert!(asked.out.contains(": question: unused-hardware: "), "{}", asked.out);
    assert!(asked.out.ends_with("\n1 question\n"), "{}", asked.out);
    desk.run(&["compile"]).ends(0);
    desk.run(&["check", "--review", "--coverage"]).ends(2);
}

#[test]
fn a_fault_ends_with_1_and_is_said_once_at_its_place() {
    let desk = Desk::with_manual();
    desk.edit("manual-src/steps/running-gear/10-axle.md", "  - GT-103\n", "  - GT-113\n");
    let run = desk.run(&["check", "--format", "lines"]).ends(1);
    let lines: Vec<_> = run.out.lines().collect();
    assert_eq!(lines.len(), 2, "{}", run.out);
    assert_eq!(lines[1], "1 error");
    assert!(lines[0].starts_with("steps/running-gear/10-axle.md:8:5: error: unknown-part: "), "{}", lines[0]);
}

#[test]
fn a_run_that_can_not_be_made_ends_with_2_and_says_what_to_do() {
    let desk = Desk::with_manual();
    let cases: [(&[&str], &str); 12] = [
        (&["check", "nowhere"], "there is no folder nowhere"),
        (&["compile", "nowhere"], "there is no folder nowhere"),
        (&["check", "manual-src/manual.yaml"], "it is not a folder"),
        (&["check", "manual-src/figures"], "there is no manual in manual-src/figures"),
        (&["check", "--threads", "0"], "0 is not a number of threads"),
        (&["check", "--threads", "many"], "invalid value"),
        (&["check", "--format", "loud"], "invalid value"),
        (&["compile", "--out", "manual-src/out"], "lies inside the manual's folder"),
        (&["compile", "--out", "manual-src"], "lies inside the manual's folder"),
        (&["compile", "--configuration", "TALLL"], "did you mean `TALL`?"),
        (&["rules", "unknown-prat"], "did you mean `unknown-part`?"),
        (&["man", "compil"], "did you mean `compile`?"),
    ];
    for (arguments, words) in cases {
        let run = desk.run(arguments).ends(2);
        assert!(run.err.contains(words), "{arguments:?}: {}", run.err);
        assert_eq!(run.out, "", "{arguments:?}");
    }
    assert!(!desk.path("out").exists());
}

#[test]
fn an_empty_folder_is_no_manual() {
    let desk = Desk::empty();
    std::fs::create_dir(desk.path("manual-src")).expect("a folder");
    for command in ["check", "compile"] {
        let run = desk.run(&[command]).ends(2);
        assert!(run.err.contains("the folder is empty; `kitwright start FOLDER`"), "{}", run.err);
    }
}

#[test]
fn the_folder_above_a_manual_names_the_manual() {
    let desk = Desk::with_manual();
    let run = desk.run(&["check", "."]).ends(2);
    assert!(run.err.contains("there is one in `manual-src`"), "{}", run.err);
}

#[test]
fn names_that_would_leave_the_output_are_faults() {
    let desk = Desk::with_manual();
    let yaml = desk.read("manual-src/manual.yaml").replace("TALL", "../TALL");
    desk.write("manual-src/manual.yaml", &yaml);
    let run = desk.run(&["compile", "--format", "lines"]).ends(1);
    assert!(run.out.contains("manual.yaml:11:3: error: unusable-name: `../TALL` can't name a variant"), "{}", run.out);
    assert!(!desk.path("TALL").exists());
    assert!(!desk.path("out").exists());
}

#[test]
fn json_is_one_object_a_line_and_nothing_else() {
    let desk = Desk::with_manual();
    desk.edit("manual-src/steps/running-gear/10-axle.md", "  - GT-103\n", "  - GT-113\n");
    for command in ["check", "compile"] {
        let run = desk.run(&[command, "--format", "json", "--verbose"]).ends(1);
        let lines: Vec<serde_json::Value> =
            run.out.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
        assert_eq!(lines.len(), 2, "{}", run.out);
        assert_eq!(lines[0]["rule"], "unknown-part");
        assert_eq!(lines[1]["errors"], 1);
    }
}

#[test]
fn verbose_says_what_was_assumed() {
    let desk = Desk::with_manual();
    // As a spreadsheet program in Germany writes it: Windows-1252, semicolons.
    let metal = "6061-T6 Röhre";
    let stock = desk.read("manual-src/stock.csv").replace(',', ";").replace("6061-T6", metal);
    desk.write("manual-src/parts.csv", &desk.read("manual-src/parts.csv").replace("6061-T6", metal));
    let latin: Vec<u8> = stock.chars().map(|c| u8::try_from(u32::from(c)).expect("in Latin-1")).collect();
    std::fs::write(desk.path("manual-src/stock.csv"), latin).expect("written");
    let run = desk.run(&["check", "--verbose"]).ends(0);
    let line = run.err.lines().find(|l| l.starts_with("stock.csv: ")).expect("a line for the table");
    assert!(line.contains("Windows-1252") && line.contains("semicolon"), "{line}");
    assert!(run.err.contains("checked 2: PLAIN, TALL"), "{}", run.err);
    assert_eq!(desk.run(&["check"]).ends(0).err, "");
}

/// A reader that closes early, such as `head`, is no failure.
#[cfg(unix)]
#[test]
fn a_closed_pipe_is_no_failure() {
    let desk = Desk::with_manual();
    let mut command = desk.command(&["completions", "zsh"]);
    let mut child =
        command.stdout(std::process::Stdio::piped()).stderr(std::process::Stdio::piped()).spawn().expect("it runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}
