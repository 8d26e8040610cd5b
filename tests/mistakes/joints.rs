//! Twelve mistakes of joints and holes: each is found, and the way out is right.

use super::{demonstration, edit, findings};
use kitwright::source::Memory;

/// The findings of `rule` that a change brings must say `help`; nothing else may come but what `also` names: the holes say
/// what they are for, so that they speak against another fastener too.
#[track_caller]
fn found(change: impl FnOnce(&mut Memory), rule: &str, says: &[&str], also: &[&str]) {
    let mut files = demonstration();
    change(&mut files);
    let found = findings(&files);
    assert!(found.iter().any(|f| f.0.starts_with(&format!("{rule} "))), "{rule}: {found:#?}");
    for (place, _) in &found {
        let name = place.split(' ').next().expect("a rule");
        assert!(name == rule || also.contains(&name), "{place} was not expected: {}", found[0].1);
    }
    // The report is folded to the terminal's width.
    let said = found[0].1.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in says {
        assert!(said.contains(words), "`{words}` is not said in {said}");
    }
}

const GUSSETS: &str = "steps/frame/92-beam-bolt-up.md";
const KEEL_BOLTS: &str = "beam-gusset-keel-bolts\n    fastener: AN4-17A";

/// The published AN bolt tables: AN4-16A has grip 1 5/16 in, AN4-17A 1 7/16 in, AN4-20A 1 9/16 in; the stack is 1.43 in.
#[test]
fn a_dash_one_too_short_or_too_long() {
    let with = |bolt: &'static str| {
        move |files: &mut Memory| {
            edit(files, GUSSETS, KEEL_BOLTS, &format!("beam-gusset-keel-bolts\n    fastener: {bolt}"));
        }
    };
    found(with("AN4-16A"), "bolt-does-not-fit", &["too short", "AN4-17A, AN960-416 under the nut"], &[]);
    found(with("AN4-20A"), "bolt-does-not-fit", &["too long", "AN4-17A, AN960-416 under the nut"], &[]);
}

#[test]
fn a_washer_missing() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    under-nut: [AN960-416]\n", "");
    };
    found(change, "bolt-does-not-fit", &["AN4-17A, AN960-416 under the nut"], &[]);
}

/// FAA AC 43.13-1B, 7-64a.
#[test]
fn a_locking_nut_where_it_turns() {
    let change = |files: &mut Memory| {
        edit(files, "steps/steering/80-claw.md", "    nut: AN310-5\n    pin: AN380-2-2\n", "    nut: MS21044N5\n");
        hardware(files, "MS21044N5,Self-locking nut,nut,each,H4,P5,2,,,,,,,,,,");
    };
    found(
        change,
        "nut-does-not-suit",
        &["self-locking nut on a joint that turns", "castle nut and a cotter pin"],
        &["unused-hardware", "bolt-does-not-fit"],
    );
}

/// NAVEDTRA 14018: .126 + 1.5 x 1/8 is .3135 in, nearest to 5/16 in.
#[test]
fn a_rivet_a_size_short() {
    let change = |files: &mut Memory| {
        edit(files, "steps/seat/73-tray-doubler.md", "    fastener: MS20470AD4-5", "    fastener: MS20470AD4-4");
        hardware(files, "MS20470AD4-4,Solid rivet,solid rivet,each,H7,P3,2,,,,,,,,,,");
    };
    found(change, "rivet-length", &["too short", "fit MS20470AD4-5"], &["hole-without-fastener"]);
}

/// MS20600 counts the largest grip in sixteenths (from memory, as in the hardware list): -1 is 1/16 in.
#[test]
fn a_wrong_grip_number() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/40-cleat.md", "    fastener: MS20600AD4-2", "    fastener: MS20600AD4-1");
        hardware(files, "MS20600AD4-1,Blind rivet,blind rivet,each,H7,P3,2,,1/8,,,,,#30,aluminium,,");
    };
    found(change, "blind-rivet-grip", &["thicker than its grip", "fit MS20600AD4-2"], &["hole-without-fastener"]);
}

/// FAA AC 43.13-1B ch. 4: two diameters of a 1/4 in bolt.
#[test]
fn an_edge_distance_short() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    places: 2\n", "    places: 2\n    edge: 3/8\n");
    };
    found(change, "fastener-spacing", &["less than 2 diameters", "keep at least 1/2 in"], &[]);
}

/// FAA AC 43.13-1B CHG 1, Table 7-1: 1/4-28 in tension, at most 100 in-lb.
#[test]
fn a_torque_that_is_off() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    torque: 30..40 in-lb\n", "    torque: 300..400 in-lb\n");
    };
    found(change, "torque-too-high", &["is past the table's limit for AN4-17A"], &[]);
}

#[test]
fn a_table_torque_across_an_unbushed_tube() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    torque: 30..40 in-lb\n", "    torque: 50..70 in-lb\n");
        edit(
            files,
            "steps/rig/50-forestay.md",
            "    torque-reason: The bolt runs through an unbushed tube, and more pull dents the wall.\n",
            "",
        );
    };
    found(
        change,
        "torque-unlike-table",
        &["across a tube without a bushing", "the designer's value for this place"],
        &[],
    );
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    torque: 30..40 in-lb\n", "");
        edit(
            files,
            "steps/rig/50-forestay.md",
            "    torque-reason: The bolt runs through an unbushed tube, and more pull dents the wall.\n",
            "",
        );
    };
    found(change, "torque-required", &["across a tube without a bushing"], &[]);
}

#[test]
fn a_castle_nut_on_an_undrilled_bolt() {
    let change = |files: &mut Memory| {
        edit(files, "steps/steering/80-claw.md", "    fastener: AN5-21", "    fastener: AN5-21A");
        hardware(files, "AN5-21A,Bolt,bolt,each,H3,P5,2,,,,,,,,,,");
    };
    found(
        change,
        "nut-does-not-suit",
        &["not drilled", "no A at the end"],
        &["unused-hardware", "hole-without-fastener"],
    );
}

#[test]
fn a_bolt_into_a_pilot_hole() {
    let change = |files: &mut Memory| {
        let line = "  - { part: SK-116-L, hole: A, count: 4, do: open up, drill: 1/4, for: AN4-15A }\n";
        edit(files, "steps/frame/50-stay-gussets.md", line, "");
    };
    found(change, "hole-too-small", &["hole A is still at pilot size", "open it up to 1/4 in"], &[]);
}

/// The published AN bolt tables have no dash 8 or 9.
#[test]
fn a_dash_that_does_not_exist() {
    let change = |files: &mut Memory| {
        edit(files, GUSSETS, KEEL_BOLTS, "beam-gusset-keel-bolts\n    fastener: AN4-18A");
        hardware(files, "AN4-18A,Bolt,bolt,each,H1,P2,2,,,,,,,,,,");
    };
    found(change, "no-such-designation", &["AN4-17A or AN4-20A"], &[]);
}

#[test]
fn a_hole_whose_size_nobody_tells() {
    found(
        |files| {
            edit(files, "holes.csv", "SK-618,A,2,1/4,,,1,1/2,\n", "");
        },
        "hole-size-not-known",
        &["hole A of SK-618", "add a row to holes.csv"],
        &[],
    );
}

#[test]
fn a_hole_that_comes_too_small() {
    found(
        |files| {
            edit(files, "holes.csv", "SK-618,A,2,1/4,", "SK-618,A,2,3/16,");
        },
        "hole-too-small",
        &["SK-618 has no hole for AN4-17A"],
        &[],
    );
}

#[test]
fn more_holes_opened_than_there_are() {
    found(
        |files| {
            edit(files, "holes.csv", "SK-207,A,4,", "SK-207,A,3,");
        },
        "hole-not-there",
        &["32 holes A of SK-207", "there are 24"],
        &[],
    );
}

/// FAA AC 43.13-1B ch. 4: three diameters of a 1/4 in bolt in a row.
#[test]
fn holes_too_near_each_other() {
    found(
        |files| {
            edit(files, "holes.csv", "SK-614-L,A,2,1/4,,,1 3/8,1/2,", "SK-614-L,A,2,1/4,,,5/8,1/2,");
        },
        "fastener-spacing",
        &["less than 3 diameters", "keep at least 3/4 in"],
        &[],
    );
}

#[test]
fn stainless_in_aluminium_without_paste() {
    let change = |files: &mut Memory| {
        edit(
            files,
            "steps/rig/20-mast-join.md",
            "consumables: [grease, barrier-paste, masking-tape]",
            "consumables: [grease, masking-tape]",
        );
    };
    found(change, "unlike-metals", &["AN4C20A is stainless and SK-611 aluminium", "add a sealant or primer"], &[]);
}

#[test]
fn a_reamer_with_nothing_to_take_off() {
    let change = |files: &mut Memory| {
        edit(files, "steps/steering/80-claw.md", "drill: 19/64, reamer: 5/16", "drill: 5/16, reamer: 5/16");
    };
    found(change, "reamer-allowance", &["takes nothing off", "drill 1/64 in smaller"], &[]);
}

/// From memory, so it warns: 1/16 in for a 5/16 in bolt.
#[test]
fn a_cotter_pin_of_another_size() {
    let change = |files: &mut Memory| {
        edit(files, "steps/steering/80-claw.md", "    pin: AN380-2-2\n", "    pin: AN380-3-3\n");
    };
    found(
        change,
        "pin-does-not-fit",
        &["too thick", "take a cotter pin of 1/16 in"],
        &["unused-hardware", "reference-not-here"],
    );
}

#[test]
fn a_bolt_without_a_nut() {
    let change = |files: &mut Memory| {
        edit(files, "steps/rig/50-forestay.md", "    under-nut: [AN960-416]\n    nut: MS21044N4\n", "");
    };
    found(
        change,
        "nut-does-not-suit",
        &["a bolt without a nut", "add `nut:`"],
        &["torque-unlike-table", "critical-joint"],
    );
}

/// Adds a row to the hardware list.
fn hardware(files: &mut Memory, row: &str) {
    use kitwright::source::Files as _;
    let mut text = String::from_utf8(files.read("hardware.csv").expect("it is there")).expect("UTF-8");
    text.push_str(row);
    text.push('\n');
    files.insert("hardware.csv", text);
}
