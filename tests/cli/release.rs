//! `release` and `compare`: what is written, what is refused, what is said.

use super::Desk;

const FIRST: [&str; 7] = ["release", "--summary", "First issue", "--class", "information", "--date", "2026-01-05"];

#[test]
fn a_release_is_written_once_and_is_the_same_for_the_same_sources() {
    let (desk, other) = (Desk::with_manual(), Desk::with_manual());
    assert!(desk.run(&["release", "--check"]).ends(1).out.contains("nothing was released yet"));
    let run = desk.run(&FIRST).ends(0);
    assert!(run.err.contains("Release A, 2026-01-05, "), "{}", run.err);
    assert!(desk.run(&["release", "--check"]).ends(0).out.contains("the sources are those of release A"));
    let again = desk.run(&FIRST).ends(2);
    assert!(again.err.contains("nothing has changed since release A"), "{}", again.err);
    other.run(&FIRST).ends(0);
    assert_eq!(desk.files("manual-src/releases"), other.files("manual-src/releases"));
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    assert!(desk.run(&["release", "--check"]).ends(1).out.contains("differ from release A"));
    let before = desk.read("manual-src/releases/A.release");
    desk.run(&["release", "--summary", "Titles", "--class", "recommended", "--date", "2026-02-01"]).ends(0);
    assert_eq!(desk.read("manual-src/releases/A.release"), before);
    assert!(desk.read("manual-src/releases/B.release").contains("\nletter B\ndate 2026-02-01\nclass recommended\n"));
}

#[test]
fn a_manual_with_errors_is_not_released() {
    let desk = Desk::with_manual();
    desk.edit("manual-src/steps/running-gear/10-axle.md", "  - GT-103\n", "  - GT-113\n");
    desk.run(&FIRST).ends(1);
    assert!(!desk.path("manual-src/releases").exists());
}

#[test]
fn what_a_release_needs_is_asked_for() {
    let desk = Desk::with_manual();
    for arguments in [
        &["release"][..],
        &["release", "--summary", "x"],
        &["release", "--summary", "x", "--class", "grave"],
        &["release", "--summary", "x", "--class", "mandatory", "--date", "2026-02-30"],
        &["release", "--check", "--summary", "x"],
    ] {
        desk.run(arguments).ends(2);
    }
    assert!(!desk.path("manual-src/releases").exists());
}

/// Typed text is held to what texts of the sources are held to: it stands on pages and on paper like them.
#[test]
fn typed_text_holds_nothing_that_is_not_seen() {
    let desk = Desk::with_manual();
    let long = "x".repeat(501);
    for (text, said) in [
        ("Torque 95\u{202E} in-lb", "the text of --summary holds U+202E, a mark that turns the direction of writing"),
        ("Torque\u{200B} raised", "U+200B, a character that is not seen"),
        ("\u{1B}[2JTorque", "U+001B, a control character"),
        ("\u{5D0}", "a script that runs from right to left"),
        (" \n ", "is empty"),
        (&long, "has 501 characters, more than 500"),
    ] {
        let run = desk.run(&["release", "--summary", text, "--class", "information", "--date", "2026-01-05"]).ends(2);
        assert!(run.err.contains(said) && !run.err.contains(['\u{202E}', '\u{1B}']), "{}", run.err);
        for option in ["--summary", "--built"] {
            let mut words =
                vec!["notice", "--part", "GT-104", "--class", "mandatory", "--summary", "x", "--built", "y"];
            let at = words.iter().position(|word| *word == option).expect("it is there");
            words[at + 1] = text;
            let run = desk.run(&words).ends(2);
            assert!(run.err.contains(&said.replace("--summary", option)), "{}", run.err);
        }
    }
    assert!(!desk.path("manual-src/releases").exists());
    desk.run(&["release", "--summary", "Torque\n\traised", "--class", "information", "--date", "2026-01-05"]).ends(0);
    assert!(desk.read("manual-src/releases/A.release").contains("\nsummary Torque raised\n"));
}

#[test]
fn what_belongs_into_the_commit_is_listed_with_its_digest() {
    let desk = Desk::with_manual();
    desk.run(&FIRST).ends(0);
    let out = desk.run(&["release", "--check"]).ends(0).out;
    let (_, list) = out.split_once("files of the releases, to be committed:\n").expect("a list");
    let listed: Vec<(&str, &str)> = list.lines().map(|l| l.split_once("  ").expect("digest and path")).collect();
    let there = desk.files("manual-src/releases");
    let paths: Vec<String> = listed.iter().map(|(_, path)| path.replacen("releases/", "", 1)).collect();
    assert_eq!(paths, there.keys().cloned().collect::<Vec<_>>());
    for (digest, path) in listed {
        let bytes = std::fs::read(desk.path("manual-src").join(path)).expect("it is listed");
        assert_eq!(kitwright::change::hex_digest(&bytes), digest, "{path}");
    }
}

#[test]
fn a_damaged_store_is_mended_by_a_seal() {
    let desk = Desk::with_manual();
    desk.run(&FIRST).ends(0);
    let name = desk.files("manual-src/releases/files").into_keys().next().expect("a figure is stored");
    let path = format!("manual-src/releases/files/{name}");
    let good = desk.read(&path);
    desk.write(&path, "spoilt");
    let found = desk.run(&["check", "--format", "short"]).ends(1).out;
    assert!(found.contains("broken-release") && found.contains(&name), "{found}");
    let said = desk.run(&["release", "--seal"]).ends(0).err;
    assert!(said.contains("put back from the sources") && said.contains("every release proves itself"), "{said}");
    assert_eq!(desk.read(&path), good);
    desk.run(&["check"]).ends(0);
}

/// What stands in the place of the releases, their folders or the files of the store is told, and nothing is written through
/// a link.
#[cfg(unix)]
#[test]
fn what_is_no_release_is_told() {
    use std::fs::{create_dir, remove_dir_all, remove_file, rename};
    use std::os::unix::fs::symlink;
    for folder in ["manual-src/releases", "manual-src/releases/files"] {
        let desk = Desk::with_manual();
        desk.run(&FIRST).ends(0);
        rename(desk.path(folder), desk.path("away")).expect("moved");
        let before = desk.files("away");
        for stands in ["link", "file"] {
            match stands {
                "link" => symlink(desk.path("away"), desk.path(folder)).expect("a link"),
                _ => std::fs::write(desk.path(folder), "x").expect("written"),
            }
            let found = desk.run(&["check", "--format", "short"]).ends(1).out;
            assert!(found.contains("broken-release") && found.contains("a file or a link, and no folder"), "{found}");
            for arguments in [&["release", "--seal"][..], &FIRST] {
                let run = desk.run(arguments).ends(2);
                assert!(run.err.contains("put the folder itself in its place"), "{}", run.err);
            }
            assert_eq!(desk.files("away"), before);
            remove_file(desk.path(folder)).expect("removed");
        }
    }
    let desk = Desk::with_manual();
    desk.run(&FIRST).ends(0);
    let release = desk.read("manual-src/releases/A.release");
    remove_file(desk.path("manual-src/releases/A.release")).expect("removed");
    create_dir(desk.path("manual-src/releases/A.release")).expect("a folder");
    let found = desk.run(&["check", "--format", "short"]).ends(1).out;
    assert!(found.contains("broken-release") && found.contains("releases/A.release"), "{found}");
    assert_ne!(desk.run(&FIRST).code, 0);
    remove_dir_all(desk.path("manual-src/releases/A.release")).expect("removed");
    desk.write("manual-src/releases/A.release", &release);
    let name = desk.files("manual-src/releases/files").into_keys().next().expect("a figure is stored");
    let stored = desk.path(&format!("manual-src/releases/files/{name}"));
    remove_file(&stored).expect("removed");
    create_dir(&stored).expect("a folder");
    let said = desk.run(&["release", "--seal"]).ends(2).err;
    assert!(said.contains("move the folder away") && !said.contains("--out"), "{said}");
}

/// A picture that can't be read is an error, and so is a template that no document can be made with: nothing is frozen.
#[test]
fn what_cannot_be_read_or_printed_is_not_released() {
    let desk = Desk::with_manual();
    desk.write("manual-src/templates/page.html", "{% if %}");
    let run = desk.run(&FIRST).ends(1);
    assert!(run.out.contains("broken-template"), "{}{}", run.out, run.err);
    std::fs::remove_dir_all(desk.path("manual-src/templates")).expect("removed");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("nowhere.svg", desk.path("manual-src/figures/unread.svg")).expect("a link");
        let run = desk.run(&FIRST);
        assert_ne!(run.code, 0, "{}{}", run.out, run.err);
        std::fs::remove_file(desk.path("manual-src/figures/unread.svg")).expect("removed");
    }
    assert!(!desk.path("manual-src/releases").exists());
    desk.run(&FIRST).ends(0);
}

#[test]
fn a_clock_that_cannot_be_right_is_not_believed() {
    let desk = Desk::with_manual();
    let later = ["release", "--summary", "Later", "--class", "information"];
    desk.run(&["release", "--summary", "First", "--class", "information", "--date", "2999-01-05"]).ends(0);
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    let run = desk.run(&later).ends(2);
    assert!(run.err.contains("before release A of 2999-01-05") && run.err.contains("--date"), "{}", run.err);
    let desk = Desk::with_manual();
    desk.run(&["release", "--summary", "First", "--class", "information", "--date", "1999-01-05"]).ends(0);
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    let run = desk.run(&later).ends(2);
    assert!(run.err.contains("years after release A of 1999-01-05"), "{}", run.err);
    let step = desk.path("manual-src/steps/frame/10-handle.md");
    let file = std::fs::File::options().write(true).open(step).expect("opened");
    file.set_modified(std::time::SystemTime::now() + std::time::Duration::from_secs(9 * 86_400)).expect("set");
    let desk_run = desk.run(&[&later[..], &["--date", "2026-02-01"]].concat()).ends(0);
    assert!(desk_run.err.contains("Release B, 2026-02-01"), "{}", desk_run.err);
}

/// A run that can't write the whole file leaves none.
#[cfg(unix)]
#[test]
fn there_is_never_half_a_release() {
    let desk = Desk::with_manual();
    let run = desk.run_limited(4, &FIRST).ends(2);
    assert!(run.err.contains("can't be written"), "{}", run.err);
    let left = desk.files("manual-src/releases");
    assert!(left.keys().all(|path| path.starts_with("files/")), "{:?}", left.keys());
    desk.run(&FIRST).ends(0);
}

#[test]
fn documents_say_which_release_they_are_of() {
    let desk = Desk::with_manual();
    desk.run(&["compile", "--configuration", "TALL"]).ends(0);
    assert!(desk.read("out/TALL/manual/index.html").contains("working copy, not released"));
    desk.run(&FIRST).ends(0);
    desk.run(&["compile", "--configuration", "TALL"]).ends(0);
    assert!(desk.read("out/TALL/manual/index.html").contains("Release A, 2026-01-05, "));
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    desk.run(&["compile", "--configuration", "TALL"]).ends(0);
    assert!(desk.read("out/TALL/manual/index.html").contains("working copy after release A, not released"));
    let pages = desk.files("out/TALL/manual");
    let marked: Vec<_> = pages
        .iter()
        .filter(|(path, bytes)| path.ends_with(".html") && String::from_utf8_lossy(bytes).contains("change-mark"))
        .map(|(path, _)| path.as_str())
        .collect();
    assert_eq!(marked.len(), 1, "{marked:?}");
    assert!(marked[0].contains("handle"), "{marked:?}");
}

#[test]
fn a_change_is_told_as_text_and_as_json() {
    let desk = Desk::with_manual();
    desk.run(&FIRST).ends(0);
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    let text = desk.run(&["compare", "A/TALL", "TALL"]).ends(0).out;
    assert!(text.starts_with("from A/TALL to TALL\n\nsteps changed: 1\n"), "{text}");
    assert!(text.contains("changed: title: ") && text.contains(" becomes Now "), "{text}");
    let json = desk.run(&["compare", "A/TALL", "TALL", "--format", "json"]).ends(0).out;
    let change: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(change["steps_changed"].as_array().map(Vec::len), Some(1));
    assert!(desk.run(&["compare", "TALL", "TALL"]).ends(0).out.contains("nothing differs"));
    assert!(desk.run(&["compare", "B/TALL", "TALL"]).ends(2).err.contains("there is no release B"));
}
