//! Writing: a run replaces the output as a whole or leaves it as it was.

use std::fs;
use std::process::Command;

use super::Desk;

/// What the list of written files begins with.
const MARKER: &str = "Written by kitwright. The files below are replaced by the next compile; others are kept.";

/// What is left of a run beside its documents.
fn no_leftovers(desk: &Desk) {
    for entry in fs::read_dir(desk.path("out")).expect("the output") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        let kept = [".kitwright-lock", ".kitwright-kept"].contains(&&*name);
        assert!(kept || !name.starts_with(".kitwright"), "{name} is left");
    }
}

#[test]
fn every_declared_configuration_has_its_documents() {
    let desk = Desk::compiled();
    let files = desk.files("out");
    for configuration in ["PLAIN", "TALL"] {
        for file in [
            "manual/index.html",
            "manual.pdf",
            "shop-copy.pdf",
            "pick-lists.csv",
            "pick-lists.pdf",
            "receiving-list.pdf",
            "receiving-list.csv",
        ] {
            let name = format!("{configuration}/{file}");
            assert!(files.get(&name).is_some_and(|bytes| !bytes.is_empty()), "{name}");
        }
    }
    no_leftovers(&desk);
}

#[test]
fn one_configuration_can_be_made_alone() {
    let desk = Desk::with_manual();
    desk.run(&["compile", "--configuration", "TALL"]).ends(0);
    assert!(desk.path("out/TALL/manual.pdf").exists());
    assert!(!desk.path("out/PLAIN").exists());
}

#[test]
fn faults_leave_the_old_output_as_it_was() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    desk.edit("manual-src/steps/running-gear/10-axle.md", "  - GT-103\n", "  - GT-113\n");
    desk.run(&["compile"]).ends(1);
    assert_eq!(desk.files("out"), before);
}

#[test]
fn a_broken_template_leaves_the_old_output_as_it_was() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    desk.write("manual-src/templates/page.html", "{% if %}");
    let run = desk.run(&["compile", "--format", "lines"]).ends(1);
    assert!(run.out.contains("templates/page.html"), "{}", run.out);
    assert_eq!(desk.files("out"), before);
    no_leftovers(&desk);
}

#[test]
fn what_is_no_longer_made_goes_and_what_others_put_there_stays() {
    let desk = Desk::compiled();
    desk.write("out/.gitignore", "*\n");
    desk.write("out/notes.txt", "mine");
    desk.write("out/photos/bench.txt", "mine too");
    desk.write("out/PLAIN/remarks/today.txt", "kept with the manual");
    desk.write("out/TALL/remarks.txt", "kept when the rest goes");
    desk.edit("manual-src/manual.yaml", "configurations: [PLAIN, TALL]", "configurations: [PLAIN]");
    desk.run(&["compile"]).ends(0);
    let files = desk.files("out");
    let tall: Vec<_> = files.keys().filter(|f| f.starts_with("TALL/")).collect();
    assert_eq!(tall, ["TALL/remarks.txt"]);
    for (file, text) in [
        (".gitignore", "*\n"),
        ("notes.txt", "mine"),
        ("photos/bench.txt", "mine too"),
        ("PLAIN/remarks/today.txt", "kept with the manual"),
    ] {
        assert_eq!(files.get(file).map(Vec::as_slice), Some(text.as_bytes()), "{file}");
    }
    no_leftovers(&desk);
    // And back again: the folder that holds only foreign files is taken over, with them.
    desk.edit("manual-src/manual.yaml", "configurations: [PLAIN]", "configurations: [PLAIN, TALL]");
    desk.run(&["compile"]).ends(0);
    assert_eq!(desk.read("out/TALL/remarks.txt"), "kept when the rest goes");
    assert!(desk.path("out/TALL/manual.pdf").exists());
}

#[test]
fn a_page_that_is_no_longer_made_goes() {
    let desk = Desk::compiled();
    desk.write("out/PLAIN/manual/old.html", "foreign");
    let made = desk.read("out/PLAIN/.kitwright");
    let page = made.lines().find(|l| l.contains("wheels")).expect("a page of the step").to_owned();
    desk.edit("manual-src/steps/running-gear/20-wheels.md", "step: wheels", "step: rollers");
    desk.run(&["compile"]).ends(0);
    assert!(!desk.path("out/PLAIN").join(page).exists());
    assert!(desk.path("out/PLAIN/manual/old.html").exists());
}

#[test]
fn a_foreign_file_in_the_way_is_not_lost() {
    let desk = Desk::with_manual();
    desk.write("out/PLAIN/manual.pdf", "someone else's");
    let before = desk.files("out");
    let run = desk.run(&["compile"]).ends(2);
    assert!(run.err.contains("was not written by kitwright and would be lost"), "{}", run.err);
    let mut after = desk.files("out");
    after.remove(".kitwright-lock");
    assert_eq!(after, before);
    no_leftovers(&desk);
}

#[test]
fn a_file_in_the_place_of_a_folder_is_named() {
    let desk = Desk::with_manual();
    desk.write("out/TALL", "a file");
    let run = desk.run(&["compile"]).ends(2);
    assert!(run.err.contains("TALL is not a folder"), "{}", run.err);
    assert_eq!(desk.read("out/TALL"), "a file");
    assert!(!desk.path("out/PLAIN").exists());

    desk.write("other", "a file");
    let run = desk.run(&["compile", "--out", "other"]).ends(2);
    assert!(run.err.contains("other can't be written"), "{}", run.err);
}

/// `ulimit -f` of bash and the shells of POSIX (IEEE Std 1003.1, `ulimit`) makes writes beyond the limit fail.
#[cfg(unix)]
#[test]
fn a_limit_on_file_sizes_in_mid_compile_leaves_the_old_output_as_it_was() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    let largest = before.values().map(Vec::len).max().expect("files") / 1024;
    let run = desk.run_limited(u32::try_from(largest).expect("small") - 1, &["compile"]).ends(2);
    assert!(run.err.contains("can't be written") && run.err.contains("ulimit -f"), "{}", run.err);
    assert_eq!(desk.files("out"), before);
    no_leftovers(&desk);

    let fresh = Desk::with_manual();
    fresh.run_limited(4, &["compile"]).ends(2);
    assert_eq!(fresh.files("out").keys().collect::<Vec<_>>(), [".kitwright-lock"]);
}

#[cfg(unix)]
#[test]
fn a_read_only_output_is_named_and_unchanged() {
    use std::os::unix::fs::PermissionsExt as _;
    let desk = Desk::compiled();
    let before = desk.files("out");
    let mode = |mode| fs::set_permissions(desk.path("out"), fs::Permissions::from_mode(mode)).expect("a mode");
    mode(0o555);
    let run = if super::is_administrator() { desk.run_bound(&["compile"]) } else { Some(desk.run(&["compile"])) };
    mode(0o755);
    let Some(run) = run else {
        eprintln!("left out: this user may write everywhere, and setpriv of util-linux is not there");
        return;
    };
    let run = run.ends(2);
    assert!(run.err.contains("make the folder writable"), "{}", run.err);
    assert_eq!(desk.files("out"), before);
}

#[test]
fn a_manual_that_declares_nothing_leaves_the_old_output_as_it_was() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    desk.edit("manual-src/manual.yaml", "configurations: [PLAIN, TALL]", "configurations: []");
    let run = desk.run(&["compile", "--format", "lines"]).ends(1);
    assert!(run.out.contains("manual.yaml: error: configuration-not-allowed: "), "{}", run.out);
    assert_eq!(desk.files("out"), before);
}

#[test]
fn a_run_that_broke_off_while_writing_is_cleared_up() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    desk.write("out/.kitwright-new/PLAIN/manual.pdf", "half");
    desk.run(&["compile"]).ends(0);
    assert_eq!(desk.files("out"), before);
    no_leftovers(&desk);
}

/// The states that a swap goes through, as `cli/swap.rs` names them: PLAIN is in its place, TALL only moved away.
#[test]
fn a_swap_that_broke_off_is_finished() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    for folder in [".kitwright-replaced", ".kitwright-new"] {
        fs::create_dir_all(desk.path("out").join(folder)).expect("a folder");
    }
    for name in ["PLAIN", "TALL"] {
        fs::rename(desk.path("out").join(name), desk.path("out/.kitwright-replaced").join(name)).expect("moved");
    }
    desk.write("out/PLAIN/.kitwright", &format!("{MARKER}\nmanual.pdf\n"));
    desk.write("out/PLAIN/manual.pdf", "new");
    desk.write("out/.kitwright-new/TALL/.kitwright", &format!("{MARKER}\nmanual.pdf\n"));
    desk.write("out/.kitwright-new/TALL/manual.pdf", "new");
    desk.write("out/.kitwright-replaced/PLAIN/foreign.txt", "kept");
    desk.write("out/.kitwright-plan", "kitwright plan\nput PLAIN\nput TALL\nend\n");
    // A run of something else finishes the swap.
    desk.run(&["compare", "PLAIN", "TALL", "--out", "out"]).ends(0);
    assert_eq!((desk.read("out/PLAIN/manual.pdf"), desk.read("out/TALL/manual.pdf")), ("new".into(), "new".into()));
    assert_eq!(desk.read("out/PLAIN/foreign.txt"), "kept");
    fs::remove_dir_all(desk.path("out/PLAIN..TALL")).expect("it was made");
    desk.run(&["compile"]).ends(0);
    let mut after = desk.files("out");
    assert_eq!(after.remove("PLAIN/foreign.txt").as_deref(), Some(b"kept".as_slice()));
    assert_eq!(after, before);
    no_leftovers(&desk);
}

/// The clearing up broke off before, when the list of what was written was gone and the files were not.
#[test]
fn a_clearing_up_that_broke_off_takes_nothing_old_for_foreign() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    desk.write("out/.kitwright-trash-0/PLAIN/manual.pdf", "old");
    desk.write("out/.kitwright-trash-0/PLAIN/manual/gone.html", "old");
    desk.run(&["compile"]).ends(0);
    assert_eq!(desk.files("out"), before);
    no_leftovers(&desk);
}

#[test]
fn a_second_run_at_the_same_time_is_refused() {
    let desk = Desk::compiled();
    let before = desk.files("out");
    let lock = fs::File::options().append(true).open(desk.path("out/.kitwright-lock")).expect("the lock");
    lock.lock().expect("locked");
    let run = desk.run(&["compile"]).ends(2);
    assert!(run.err.contains("another run is writing to out"), "{}", run.err);
    drop(lock);
    assert_eq!(desk.files("out"), before);
    desk.run(&["compile"]).ends(0);
}

/// What no run makes under the program's own names: nothing is waited for, followed or thrown away.
#[cfg(unix)]
#[test]
fn what_stands_under_a_name_of_the_program_is_told() {
    let desk = Desk::compiled();
    desk.write("elsewhere/mine.txt", "mine");
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    let make = |path: &std::path::Path, what: &str| match what {
        "pipe" => assert!(Command::new("mkfifo").arg(path).status().expect("mkfifo runs").success()),
        "link" => std::os::unix::fs::symlink(desk.path("elsewhere"), path).expect("a link"),
        "dangling" => std::os::unix::fs::symlink(desk.path("nowhere"), path).expect("a link"),
        "folder" => fs::create_dir(path).expect("a folder"),
        _ => fs::write(path, "mine").expect("written"),
    };
    for (name, kinds) in [
        (".kitwright-lock", ["pipe", "link", "dangling", "folder"]),
        (".kitwright-plan", ["pipe", "link", "dangling", "folder"]),
        (".kitwright-new", ["pipe", "link", "dangling", "file"]),
        (".kitwright-replaced", ["pipe", "link", "dangling", "file"]),
    ] {
        for kind in kinds {
            let path = desk.path("out").join(name);
            let _ = fs::remove_file(&path);
            make(&path, kind);
            let run = desk.run(&["compile"]).ends(2);
            assert!(run.err.contains(&format!("out/{name} is no f")), "{kind}: {}", run.err);
            assert!(fs::symlink_metadata(&path).is_ok(), "{kind}: it is still there");
            assert!(!desk.path("nowhere").exists() && desk.path("elsewhere/mine.txt").exists());
            fs::remove_file(&path).or_else(|_| fs::remove_dir(&path)).expect("removed");
        }
    }
    // The list of what was written: without it all is foreign.
    for kind in ["pipe", "link", "folder"] {
        let path = desk.path("out/PLAIN/.kitwright");
        let _ = fs::remove_file(&path).or_else(|_| fs::remove_dir(&path));
        make(&path, kind);
        let run = desk.run(&["compile"]).ends(2);
        assert!(run.err.contains("was not written by kitwright"), "{kind}: {}", run.err);
    }
}

/// A manual whose folder has the name of a configuration is not swapped for its output.
#[test]
fn the_manual_is_never_replaced_by_its_output() {
    let desk = Desk::empty();
    desk.run(&["start", "PLAIN"]).ends(0);
    let before = desk.files("PLAIN");
    for arguments in [&["compile", "PLAIN", "--out", "."][..], &["stick", "PLAIN", "--out", "."]] {
        let run = desk.run(arguments).ends(2);
        assert!(run.err.contains("PLAIN is where the manual itself lies"), "{}", run.err);
    }
    desk.run(&["compile", "PLAIN", "--out", ".", "--configuration", "TALL"]).ends(0);
    assert_eq!(desk.files("PLAIN"), before);
}

#[test]
fn a_link_in_the_place_of_a_folder_is_not_followed() {
    let desk = Desk::with_manual();
    desk.write("elsewhere/manual.pdf", "someone else's");
    fs::create_dir(desk.path("out")).expect("a folder");
    #[cfg(unix)]
    std::os::unix::fs::symlink(desk.path("elsewhere"), desk.path("out/PLAIN")).expect("a link");
    #[cfg(unix)]
    {
        desk.run(&["compile"]).ends(2);
        assert_eq!(desk.files("elsewhere").len(), 1);
    }
}

/// What a step closes is inspected before its work on the page, all else after it.
#[test]
fn an_inspection_stands_before_the_work_that_closes() {
    let desk = Desk::with_manual();
    desk.edit(
        "manual-src/steps/frame/20-board.md",
        "hours: 0.5\n",
        "inspect:\n  - { inspect: inside of the board, look-for: no chips }\n  - { inspect: later, look-for: tight }\ncloses: [inside of the board]\nhours: 0.5\n",
    );
    desk.run(&["compile", "--configuration", "PLAIN"]).ends(0);
    let pages = desk.files("out/PLAIN/manual");
    let page = pages
        .values()
        .map(|b| String::from_utf8_lossy(b))
        .find(|t| t.contains("no chips") && t.contains("Stand the handle on the board"));
    let page = page.expect("the step has a page");
    let at = |words: &str| page.rfind(words).unwrap_or_else(|| panic!("{words}"));
    assert!(at("Close nothing before") < at("no chips") && at("no chips") < at("Stand the handle on the board"));
    assert!(at("Stand the handle on the board") < at("Before closing later"));
}
