//! `rename` and `keys`.

use super::Desk;

#[test]
fn a_part_is_renamed_wherever_it_is_named() {
    let desk = Desk::with_manual();
    let before = desk.run(&["where", "GT-104"]).ends(0).out;
    let parts = desk.read("manual-src/parts.csv");
    let shown = desk.run(&["rename", "GT-104", "GT-904"]).ends(0).out;
    assert!(shown.contains("nothing was written"), "{shown}");
    assert_eq!(desk.read("manual-src/parts.csv"), parts);
    let done = desk.run(&["rename", "GT-104", "GT-904", "--write"]).ends(0).out;
    assert!(done.contains("changed"), "{done}");
    let after = desk.run(&["where", "GT-904"]).ends(0).out;
    assert_eq!(before.replace("GT-104", "GT-904"), after);
    desk.run(&["check"]).ends(0);
    desk.run(&["where", "GT-104"]).ends(2);
    // All else is byte for byte as it was.
    assert_eq!(desk.read("manual-src/parts.csv"), parts.replace("GT-104", "GT-904"));
}

#[test]
fn a_step_and_a_tool_are_renamed_too() {
    let desk = Desk::with_manual();
    desk.run(&["rename", "axle", "back-axle", "--kind", "step", "--write"]).ends(0);
    desk.run(&["check"]).ends(0);
    let text = desk.run(&["where", "back-axle"]).ends(0).out;
    assert!(text.contains("written"), "{text}");
}

#[test]
fn a_name_that_is_taken_or_is_none_is_refused() {
    let desk = Desk::with_manual();
    let taken = desk.run(&["rename", "GT-104", "GT-105"]).ends(2).err;
    assert!(taken.contains("there is a part `GT-105` already"), "{taken}");
    let near = desk.run(&["rename", "GT-10x", "GT-905"]).ends(2).err;
    assert!(near.contains("did you mean"), "{near}");
    desk.run(&["rename", "GT-104", "a, b"]).ends(2);
}

#[test]
fn keys_explains_those_of_one_list() {
    let desk = Desk::with_manual();
    let text = desk.run(&["keys", "cuts"]).ends(0).out;
    assert!(text.contains("`long-point`") && !text.contains("`fastener`"), "{text}");
    let near = desk.run(&["keys", "cutz"]).ends(2).err;
    assert!(near.contains("did you mean `cuts`?"), "{near}");
}
