//! YAML and Markdown.

use super::desk::{Desk, STEP_PATH};

#[test]
fn broken_yaml() {
    let desk = Desk::new();
    desk.edit("manual.yaml", "maker: Nobody", "maker: [Nobody");
    desk.refused(&["manual.yaml:2: error: broken-yaml"], "");
}

#[test]
fn front_matter_that_is_not_closed() {
    let desk = Desk::new();
    desk.edit(STEP_PATH, "---\n\n1.", "\n1.");
    desk.refused(&["steps/frame/10-rail.md:1: error: no-front-matter"], "---");
}

#[test]
fn an_unknown_key_offers_the_nearest() {
    let desk = Desk::new();
    desk.edit(STEP_PATH, "tools: [", "tolls: [");
    desk.refused(&["steps/frame/10-rail.md:7: error: unknown-key"], "tools");
}

#[test]
fn a_list_where_a_word_belongs() {
    let desk = Desk::new();
    desk.edit(STEP_PATH, "title: Fit the rails", "title: [Fit, the rails]");
    desk.refused(&["steps/frame/10-rail.md:3: error: wrong-type"], "title");
}

#[test]
fn a_key_that_stands_twice() {
    let desk = Desk::new();
    desk.edit("manual.yaml", "number: T-1\n", "number: T-1\nnumber: T-2\n");
    desk.refused(&["manual.yaml:4: error: duplicate-key"], "number");
}

#[test]
fn an_alias_bomb() {
    let desk = Desk::new();
    let mut bomb = "&a {x: [y, y, y, y, y, y, y, y, y]}".to_owned();
    for (name, from) in "bcdefghij".chars().zip("abcdefghi".chars()) {
        bomb = format!("{bomb}, &{name} {{x: [{}]}}", vec![format!("*{from}"); 9].join(", "));
    }
    // Nine to the tenth power of entries, were it written out.
    desk.edit(
        "manual.yaml",
        "tools:\n  spanner: Spanner\n",
        &format!("tools:\n  spanner: Spanner\naccept: [{bomb}]\n"),
    );
    desk.refused_with("manual.yaml:11: error: broken-yaml", "too much is repeated");
}

#[test]
fn leading_zeros_are_kept() {
    // A plain 0104 is a number to YAML; here it is the part number that was written.
    let desk = Desk::new();
    desk.edit(STEP_PATH, "parts: [0104,", "parts: [104,");
    desk.refused(&["steps/frame/10-rail.md:5: error: unknown-part"], "0104");
}

#[test]
fn a_picture_outside_the_folder() {
    let desk = Desk::new();
    desk.edit(STEP_PATH, "figure: rail.svg", "figure: ../../secret.svg");
    desk.refused(
        &["figures/rail.svg: warning: unused-figure", "steps/frame/10-rail.md:9: error: outside-folder"],
        "leaves the manual's folder",
    );
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder() {
    let desk = Desk::new();
    let outside = tempfile::NamedTempFile::new().expect("a file can be made");
    std::fs::write(outside.path(), "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"/>")
        .expect("it can be written");
    std::fs::remove_file(desk.path("figures/rail.svg")).expect("it can be removed");
    std::os::unix::fs::symlink(outside.path(), desk.path("figures/rail.svg")).expect("a link can be made");
    desk.refused(&["figures/rail.svg: error: outside-folder"], "");
}

#[test]
fn a_text_that_is_not_utf_8() {
    let desk = Desk::new();
    desk.put("steps/frame/20-more.md", b"---\nstep: more\n---\n\n1. Caf\xe9.\n");
    desk.refused(&["steps/frame/20-more.md: error: not-utf-8"], "line 5 is not UTF-8");
}

#[test]
fn names_that_differ_only_in_case() {
    let desk = Desk::new();
    desk.put("figures/Rail.svg", std::fs::read(desk.path("figures/rail.svg")).expect("it is there"));
    desk.refused(
        &["figures/Rail.svg: warning: unused-figure", "figures/rail.svg: error: file-name"],
        "only in the case",
    );
}

/// A step that was saved in another form would be missing without a word.
#[test]
fn a_step_that_is_not_read() {
    for (name, words) in [
        ("20-more.txt", "rename it so that it ends in `.md`"),
        ("20-more.md.docx", "copy its text into a plain text file"),
    ] {
        let desk = Desk::new();
        desk.put(&format!("steps/frame/{name}"), "x");
        desk.refused(&[&format!("steps/frame/{name}: error: unread-file")], words);
    }
    // What a spreadsheet or an editor leaves beside an open file is no part of the manual.
    let desk = Desk::new();
    for name in ["~$parts.xlsx", "steps/frame/10-rail.md~", "steps/frame/.DS_Store", "figures/Thumbs.db"] {
        desk.put(name, "x");
    }
    desk.compiles(&[]);
}

#[test]
fn slips_of_the_keyboard() {
    let spoilt = |path: &str, old: &str, new: &str, finding: &str, words: &str| {
        let desk = Desk::new();
        desk.edit(path, old, new);
        desk.refused(&[finding], words);
    };
    let step = |line: u32, rule: &str| format!("{STEP_PATH}:{line}: error: {rule}");
    spoilt(
        STEP_PATH,
        "parts: [0104, 2 x T-2]",
        "parts:\n  - 0104\n    - { part: T-2, quantity: 2 }",
        &step(7, "broken-yaml"),
        "fits neither the list nor the keys",
    );
    spoilt(
        STEP_PATH,
        "parts: [0104, 2 x T-2]",
        "parts:\n  - 0104\n  -{ part: T-2, quantity: 2 }",
        &step(7, "broken-yaml"),
        "a space is missing after `-`",
    );
    spoilt(STEP_PATH, "    alt:", "\u{A0}   alt:", &step(10, "broken-yaml"), "a no-break space");
    spoilt(
        STEP_PATH,
        "tools:",
        "holes:\n  - { part: T-2, do: drill, drill: #30, count: 2 }\ntools:",
        &step(8, "broken-yaml"),
        "put it in quotes: \\\"#30\\\"",
    );
    spoilt(
        "manual.yaml",
        "ONE: { title: One }",
        "ONE: { title: One, 2 m }",
        "manual.yaml:5: error: unknown-key",
        "put a text that holds one in quotes",
    );
    spoilt(
        "manual.yaml",
        "ONE: { title: One }",
        "ONE: { title: “One, long” }",
        "manual.yaml:5: error: unknown-key",
        "quotes of a word processor",
    );
    spoilt(
        "manual.yaml",
        "ONE: { title: One }",
        "ONE: { title: \"One }\n  TWO: { title: \"Two\" }",
        "manual.yaml:5: error: broken-yaml",
        "a quote is opened and never closed",
    );
}
