//! Mistakes in bends, cables, rows of holes and setting out.

use super::{brings, edit};
use kitwright::source::Memory;

const CABLE: &str = "steps/steering/50-cable.md";
const TRAY: &str = "steps/seat/70-tray-bend.md";
const STAY: &str = "steps/frame/40-stay.md";

/// The finding at the line of a change.
fn at_line(path: &'static str, old: &'static str, new: &'static str, rule: &str) {
    brings(|files: &mut Memory| format!("{rule} {path}:{}", edit(files, path, old, new)));
}

#[test]
fn an_end_closed_before_the_fairlead_is_threaded() {
    brings(|files| {
        let line = edit(files, CABLE, "    thread: yes\n    end-b:\n      thimble", "    end-b:\n      thimble");
        // The end itself is marked.
        format!("cable-order {CABLE}:{}", line + 1)
    });
}

#[test]
fn a_cable_longer_than_what_is_supplied() {
    at_line(CABLE, "    length: 38 3/4\n", "    length: 64\n", "cable-too-long");
}

#[test]
fn a_cable_without_a_side_in_its_id() {
    at_line(CABLE, "  - cable: left-steering", "  - cable: steering", "cable-unfinished");
}

/// FAA AC 43.13-1B Table 4-6: 5052-H32 of .063 takes half to one thickness.
#[test]
fn a_sheet_bent_too_sharp() {
    brings(|files| {
        let line = edit(
            files,
            TRAY,
            "{ part: SK-220, legs: [1, 16, 1], angle: 90, radius: 1/8,",
            "{ part: SK-220, legs: [1, 15.914, 1], angle: 90, radius: 1/40,",
        );
        format!("bend-too-tight {TRAY}:{line}")
    });
}

#[test]
fn a_leg_that_is_shorter_than_its_bend() {
    at_line(TRAY, "{ part: SK-220, legs: [1, 16, 1],", "{ part: SK-220, legs: [1/8, 16, 1],", "bend-impossible");
}

#[test]
fn a_flange_that_the_blank_does_not_have() {
    brings(|files| {
        edit(files, TRAY, "{ part: SK-220, legs: [1, 16, 1],", "{ part: SK-220, legs: [1, 16, 1 1/2],");
        "bend-length-differs parts.csv row 37, cut length".to_owned()
    });
}

#[test]
fn a_datum_with_a_letter_missing() {
    at_line(STAY, "from: beam-line, forward", "from: bem-line, forward", "unknown-datum");
}

#[test]
fn a_row_with_a_hole_too_many() {
    at_line(
        "steps/rig/70-boom.md",
        "count: 8, do: drill, drill: 1/4, from-end: B, first: 3, last: 39",
        "count: 8, do: drill, drill: 1/4, from-end: B, stations: [3, 8, 13, 18, 23, 28, 33]",
        "hole-row-impossible",
    );
}
