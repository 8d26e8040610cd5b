//! The manual to begin from.

use super::Desk;

#[test]
fn it_compiles_without_a_finding() {
    let desk = Desk::empty();
    desk.run(&["start", "trolley"]).ends(0);
    let run = desk.run(&["compile", "trolley"]).ends(0);
    assert_eq!(run.out, "");
}

#[test]
fn it_may_go_into_an_empty_folder_but_no_other() {
    let desk = Desk::empty();
    std::fs::create_dir(desk.path("manual-src")).expect("a folder");
    desk.run(&["start"]).ends(0);
    let before = desk.files("manual-src");
    let run = desk.run(&["start"]).ends(2);
    assert!(run.err.contains("the folder manual-src is not empty"), "{}", run.err);
    assert_eq!(desk.files("manual-src"), before);
    desk.write("file", "x");
    desk.run(&["start", "file"]).ends(2);
    assert_eq!(desk.read("file"), "x");
}

#[cfg(unix)]
#[test]
fn half_a_manual_is_not_left() {
    let desk = Desk::empty();
    let run = desk.run_limited(1, &["start"]).ends(2);
    assert!(run.err.contains("can't be written"), "{}", run.err);
    assert_eq!(desk.files("manual-src").len(), 0);
}
