//! What is no file, what is too much, what can't be seen, and an output that nobody reads.

use std::process::{Command, Stdio};

use super::desk::{Desk, STEP_PATH};

#[cfg(unix)]
fn pipe(desk: &Desk, path: &str) {
    std::fs::remove_file(desk.path(path)).expect("it can be removed");
    let made = Command::new("mkfifo").arg(desk.path(path)).status().expect("mkfifo runs");
    assert!(made.success());
}

/// A pipe would keep a reader waiting without end.
#[cfg(unix)]
#[test]
fn pipes_and_folders_are_no_files() {
    for path in ["figures/rail.svg", "parts.csv", "manual.yaml", STEP_PATH] {
        let desk = Desk::new();
        pipe(&desk, path);
        desk.refused_with(&format!("{path}: error: unreadable-file"), "it is a folder, a pipe or a device");
    }
    let desk = Desk::new();
    std::fs::remove_file(desk.path("figures/rail.svg")).expect("it can be removed");
    std::os::unix::fs::symlink(desk.path("steps"), desk.path("figures/rail.svg")).expect("a link can be made");
    desk.refused_with("figures/rail.svg: error: unreadable-file", "it is a folder, a pipe or a device");
    let desk = Desk::new();
    std::fs::remove_file(desk.path("figures/rail.svg")).expect("it can be removed");
    std::os::unix::fs::symlink("/dev/zero", desk.path("figures/rail.svg")).expect("a link can be made");
    desk.refused_with("figures/rail.svg: error: outside-folder", "");
    for path in ["figures/rail.svg", "parts.csv", "manual.yaml", STEP_PATH] {
        let desk = Desk::new();
        std::fs::remove_file(desk.path(path)).expect("it can be removed");
        std::fs::create_dir(desk.path(path)).expect("a folder can be made");
        desk.refused_with(&format!("{path}: error: unreadable-file"), "it is a folder, a pipe or a device");
    }
}

/// A link to a folder is not followed, so what is in it would be missing without a word.
#[cfg(unix)]
#[test]
fn links_to_folders_are_told() {
    for (path, rule) in [("steps", "unread-file"), ("figures", "unread-file"), ("steps/frame", "unreadable-file")] {
        let desk = Desk::new();
        let away = desk.path("away");
        std::fs::rename(desk.path(path), &away).expect("it can be moved");
        std::os::unix::fs::symlink(&away, desk.path(path)).expect("a link can be made");
        let (found, said) = desk.refusal(path);
        assert!(found.contains(&format!("{path}: error: {rule}")), "{said}");
    }
}

#[test]
fn of_very_many_findings_the_first_are_shown() {
    let desk = Desk::new();
    let tools: String = (0..3_000).map(|i| format!("  - tool-{i}\n")).collect();
    desk.edit(STEP_PATH, "tools: [spanner]\n", &format!("tools:\n{tools}"));
    let (found, said) = desk.refusal("\"not-shown\":2");
    assert_eq!(found.len(), 1_000, "{}", &said[..2_000]);
}

#[test]
fn lists_lines_and_words_have_limits() {
    let desk = Desk::new();
    let tools: String = (0..10_100).map(|i| format!("  tool-{i}: Tool\n")).collect();
    desk.edit("manual.yaml", "  spanner: Spanner\n", &format!("  spanner: Spanner\n{tools}"));
    desk.refused_with("manual.yaml:10010: error: text-too-large", "more than 10000 entries");
    for (more, words) in [
        ("Bolt. ".repeat(11_000), "line 17 has more than 64000 characters"),
        ("x".repeat(2_001), "line 17 holds a word of more than 2000 characters"),
        ("Bolt it.\n".repeat(120_000), "more than 1 MB"),
    ] {
        let desk = Desk::new();
        desk.edit(
            STEP_PATH,
            "1. Bolt the rails to the plate.\n",
            &format!("1. Bolt the rails to the plate.\n\n{more}\n"),
        );
        desk.refused_with(&format!("{STEP_PATH}: error: text-too-large"), words);
    }
    let desk = Desk::new();
    desk.edit("parts.csv", "T-2,Rail,,2\n", &format!("T-2,{},,2\n", "Rail ".repeat(7_000)));
    desk.refused_with("parts.csv row 3, name: error: table-too-large", "a cell of more than 32767 characters");
    let desk = Desk::new();
    desk.put("parts.csv", "number,name,ONE\n".to_owned() + &",,\n".repeat(700_000));
    desk.refused_with("parts.csv: error: table-too-large", "more than 2000000 cells are not read");
}

/// Unicode Standard Annex 9: what turns the direction of writing shows on a page and not on paper.
#[test]
fn characters_that_are_not_seen() {
    for (path, old, new, finding) in [
        (STEP_PATH, "the rails to", "the \u{202E}rails to", format!("{STEP_PATH}:15: error: hidden-character")),
        (STEP_PATH, "the rails to", "the &#8238;rails to", format!("{STEP_PATH}:15: error: hidden-character")),
        (
            STEP_PATH,
            "title: Fit the rails",
            "title: \"Fit the\\u202E rails\"",
            format!("{STEP_PATH}:3: error: hidden-character"),
        ),
        (
            STEP_PATH,
            "title: Fit the rails",
            "title: Fit the \u{5D0}\u{5D1} rails",
            format!("{STEP_PATH}:3: error: hidden-character"),
        ),
        ("manual.yaml", "maker: Nobody", "maker: No\u{200B}body", "manual.yaml:2: error: hidden-character".to_owned()),
        ("parts.csv", "T-2,Rail", "T-2,Ra\u{2066}il", "parts.csv row 3, name: error: hidden-character".to_owned()),
    ] {
        let desk = Desk::new();
        desk.edit(path, old, new);
        desk.refused(&[&finding], "what is copied from elsewhere often brings it along");
    }
    let desk = Desk::new();
    desk.put("figures/rail\u{202E}.svg", std::fs::read(desk.path("figures/rail.svg")).expect("it is there"));
    desk.refused_with("figures/rail\u{202E}.svg: error: file-name", "turns the direction of writing");
    let desk = Desk::new();
    desk.edit("figures/rail.svg", "<path", "<text y=\"9\">a\u{202E}b</text><path");
    desk.refused_with("figures/rail.svg:1: error: broken-figure", "U+202E");
}

/// `check` over a manual, with its outputs led where nobody reads.
#[cfg(unix)]
#[test]
fn an_output_that_nobody_reads_changes_no_status() {
    let full = || Stdio::from(std::fs::File::options().write(true).open("/dev/full").expect("a device that is full"));
    let kitwright = |arguments: &[&str], desk: &Desk| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
        command.args(arguments).current_dir(desk.path("..")).stdout(Stdio::null()).stderr(Stdio::null());
        command
    };
    let code = |command: &mut Command| command.status().expect("it runs").code();
    let (sound, spoilt) = (Desk::new(), Desk::new());
    spoilt.edit(STEP_PATH, "tools: [", "tolls: [");
    for (desk, usual) in [(&sound, Some(0)), (&spoilt, Some(1))] {
        assert_eq!(code(&mut kitwright(&["check"], desk)), usual);
        assert_eq!(code(kitwright(&["check", "--verbose"], desk).stderr(full())), usual);
        assert_eq!(code(kitwright(&["check"], desk).stdout(full())), Some(2), "what was found could not be told");
        // The reader goes before the first word.
        let (reader, writer) = std::io::pipe().expect("a pipe can be made");
        drop(reader);
        assert_eq!(code(kitwright(&["check"], desk).stdout(writer)), usual);
    }
    for arguments in [&["check", "nowhere"][..], &["no-such-command"], &["check", "a", "manual-src"]] {
        assert_eq!(code(kitwright(arguments, &sound).stderr(full())), Some(2));
    }
}
