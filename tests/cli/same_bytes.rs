//! The same sources give the same bytes, whatever the machine is doing.

use super::Desk;

#[test]
fn threads_folder_time_zone_and_language_do_not_show() {
    let desk = Desk::with_manual();
    desk.run(&["compile", "--threads", "1", "--out", "one"]).ends(0);
    desk.run(&["compile", "--threads", "2", "--out", "two"]).ends(0);

    let other = Desk::empty();
    let (folder, out) = (desk.path("manual-src"), other.path("three"));
    let mut command = other.command(&["compile", "--out"]);
    command.arg(&out).arg(&folder).env("TZ", "Pacific/Auckland").env("LC_ALL", "de_DE.UTF-8").env("HOME", "/nonexistent");
    super::Run::of(command.output().expect("it runs")).ends(0);

    let one = desk.files("one");
    assert!(one.len() > 10, "{:?}", one.keys());
    for (name, files) in [("two threads", desk.files("two")), ("another folder and time zone", other.files("three"))] {
        assert_eq!(one.keys().collect::<Vec<_>>(), files.keys().collect::<Vec<_>>(), "{name}");
        for (file, bytes) in &one {
            assert!(files[file] == *bytes, "{name}: {file} differs");
        }
    }
}

#[test]
fn nothing_of_the_machine_is_written() {
    let desk = Desk::compiled();
    let machine = desk.path("").to_string_lossy().trim_end_matches('/').to_owned();
    for (file, bytes) in desk.files("out") {
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains(&machine), "{file} names {machine}");
    }
}
