//! The manual to begin from.

use super::Desk;

#[test]
fn it_compiles_without_a_finding() {
    let desk = Desk::empty();
    desk.run(&["start", "trolley"]).ends(0);
    let run = desk.run(&["compile", "trolley"]).ends(0);
    assert_eq!(run.out, "");
}

/// In millimetres too, with the trade and the paper that were asked for; and no inch is left in what it says.
#[test]
fn a_metric_one_compiles_without_a_finding() {
    let desk = Desk::empty();
    desk.run(&["start", "--units", "mm", "trolley"]).ends(0);
    assert!(desk.read("trolley/manual.yaml").contains("trade: metric-general\n"));
    let run = desk.run(&["compile", "trolley"]).ends(0);
    assert_eq!(run.out, "");
    desk.run(&["start", "--trade", "aircraft-inch", "--paper", "a4", "other"]).ends(0);
    let settings = desk.read("other/manual.yaml");
    assert!(settings.contains("trade: aircraft-inch\n") && settings.contains("paper: a4\n"), "{settings}");
    assert_eq!(desk.run(&["compile", "other"]).ends(0).out, "");
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
