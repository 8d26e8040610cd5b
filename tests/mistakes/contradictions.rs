//! Mistakes that leave every single line readable and contradict another line: each is found once, where it was made.

use super::{brings, edit, line_of, row};
use kitwright::source::Memory;

const FORESTAY: &str = "steps/rig/50-forestay.md";
const GUSSETS: &str = "steps/frame/50-stay-gussets.md";
const MITRES: &str = "steps/seat/10-seat-mitres.md";
const HOOP: &str = "steps/seat/40-back-hoop.md";

/// One edit of a step, which the rule finds in the line of the edit.
#[track_caller]
pub(super) fn in_step(path: &str, old: &str, new: &str, rule: &str) {
    brings(|files| format!("{rule} {path}:{}", edit(files, path, old, new)));
}

/// One edit of a table, which the rule finds in `column` of the part's row.
#[track_caller]
fn in_table(path: &str, old: &str, new: &str, found: &str) {
    brings(|files: &mut Memory| {
        edit(files, path, old, new);
        found.to_owned()
    });
}

#[test]
fn a_joint_of_fewer_places_than_holes() {
    let path = "steps/rig/10-mast-heel.md";
    brings(|files| {
        edit(files, path, "    places: 2\n", "");
        // Both tubes have a hole too many; it is one finding.
        let line = line_of(files, path, "hole: mast");
        format!("hole-without-fastener {path}:{line}")
    });
}

#[test]
fn a_hole_for_another_bolt_than_the_joint_has() {
    in_step(
        "steps/steering/40-foot-bar.md",
        "  - { part: SK-503, hole: pivot, count: 1, do: drill, drill: 3/8, for: AN6-30 }",
        "  - { part: SK-503, hole: pivot, count: 1, do: drill, drill: 3/8, for: AN6-21 }",
        "hole-without-fastener",
    );
}

#[test]
fn the_text_names_a_bolt_that_the_step_does_not_have() {
    in_step(
        "steps/frame/10-keel-join.md",
        "Push an [](hardware:AN4-16A)",
        "Push an [](hardware:AN4-17A)",
        "text-names-another",
    );
}

#[test]
fn a_callout_points_at_the_plate_of_the_other_hand() {
    in_step(
        "steps/frame/95-tang.md",
        "at: [42.2, 66.4], part: SK-141-L",
        "at: [42.2, 66.4], part: SK-141-R",
        "text-names-another",
    );
}

#[test]
fn holes_taken_from_a_gusset_that_lies_elsewhere() {
    in_step(
        GUSSETS,
        "  - { part: SK-111-R, hole: back, count: 2, do: match-drill, from: SK-116-R,",
        "  - { part: SK-111-R, hole: back, count: 2, do: match-drill, from: SK-116-L,",
        "match-drill-elsewhere",
    );
}

#[test]
fn match_drilling_that_was_forgotten() {
    in_step(FORESTAY, "do: match-drill, from: SK-618", "do: drill, from: SK-618", "match-drill-without-from");
}

#[test]
fn a_hole_without_its_drill() {
    in_step(
        "steps/rig/70-boom.md",
        "do: drill, drill: 1/4, from-end: B",
        "do: drill, from-end: B",
        "hole-size-not-known",
    );
}

#[test]
fn a_pilot_hole_as_large_as_the_drill() {
    brings(|files| {
        edit(files, "holes.csv", "SK-212-L,A,8,#40,", "SK-212-L,A,8,#30,");
        format!(
            "opens-nothing steps/seat/50-hoop-plate.md:{}",
            line_of(files, "steps/seat/50-hoop-plate.md", "do: open up")
        )
    });
}

#[test]
fn a_row_of_holes_for_a_hole_that_is_not_there() {
    in_table("holes.csv", "SK-614-L,F,1,", "SK-614-L,C,1,", "hole-row-unknown holes.csv row 31, hole");
}

#[test]
fn both_ends_onto_the_left_rail() {
    in_step(
        MITRES,
        "  - { part: SK-202, end: B, cut: mitre, angle: 45, onto: SK-201-R,",
        "  - { part: SK-202, end: B, cut: mitre, angle: 45, onto: SK-201-L,",
        "both-ends-onto-one",
    );
}

#[test]
fn a_mitre_that_does_not_say_its_end() {
    in_step(MITRES, "  - { part: SK-202, end: A, cut: mitre,", "  - { part: SK-202, cut: mitre,", "cut-incomplete");
}

#[test]
fn a_saddle_onto_a_gusset() {
    in_step(
        "steps/seat/20-seat-bearers.md",
        "  - { part: SK-204, end: A, cut: saddle, onto: SK-201-L,",
        "  - { part: SK-204, end: A, cut: saddle, onto: SK-208,",
        "no-tube-to-fit",
    );
}

#[test]
fn a_cut_that_is_missing() {
    brings(|files| {
        let line = "  - { part: SK-210, end: A, cut: saddle, onto: SK-201-L, angle: 70, long-point: 12, offset: 0, trim: 1/2, only: SAND or ICE }\n";
        edit(files, HOOP, line, "");
        format!("trim-differs {HOOP}:{}", line_of(files, HOOP, "part: SK-210, end: B"))
    });
}

#[test]
fn a_blank_that_nobody_cuts() {
    brings(|files| {
        let path = "steps/frame/40-stay.md";
        for cut in [
            "onto: SK-101, angle: 30, long-point: 3, offset: 1/8, length: 48, trim: 1",
            "onto: SK-110, angle: 60, long-point: 9, offset: -1/8, trim: 1, only: SAND or ICE",
            "onto: SK-112, angle: 60, long-point: 9, offset: -1/8, trim: 1, only: DUO",
        ] {
            let end = if cut.starts_with("onto: SK-101") { "A" } else { "B" };
            edit(files, path, &format!("  - {{ part: SK-111-L, end: {end}, cut: saddle, {cut} }}\n"), "");
        }
        edit(files, path, "cuts:\n", "");
        format!("never-cut parts.csv row {}, blank length", row(files, "SK-111-L"))
    });
}

#[test]
fn a_sleeve_pressed_twice_in_place_of_three_times() {
    brings(|files| {
        let line = edit(files, FORESTAY, "sleeve: CS-1/8, crimps: 3, loop", "sleeve: CS-1/8, crimps: 2, loop");
        format!("cable-ends-differ {FORESTAY}:{line}")
    });
}

#[test]
fn a_cable_end_without_its_sleeve() {
    in_step(
        FORESTAY,
        "thimble: AN100-C4, sleeve: CS-1/8, crimps: 3, loop",
        "thimble: AN100-C4, crimps: 3, loop",
        "cable-incomplete",
    );
}

#[test]
fn a_cable_end_without_its_split_pin() {
    brings(|files| {
        let pins = "fittings: [2 x ISO 2341 B 6x20 A4, 2 x ISO 1234 1.6x14 A4]";
        edit(files, FORESTAY, pins, "fittings: [2 x ISO 2341 B 6x20 A4]");
        format!("cable-incomplete {FORESTAY}:{}", line_of(files, FORESTAY, "      thimble: AN100-C4"))
    });
}

#[test]
fn a_bolt_called_a_rivet() {
    in_table(
        "hardware.csv",
        "AN4-17A,Bolt,bolt,",
        "AN4-17A,Bolt,solid rivet,",
        "hardware-differs hardware.csv row 6, designation",
    );
}

#[test]
fn a_part_of_another_material_than_its_stock() {
    in_table(
        "parts.csv",
        "SK-630,Boom,,,6061-T6,",
        "SK-630,Boom,,,4130 steel,",
        "material-differs parts.csv row 94, stock",
    );
}

#[test]
fn a_tube_without_its_wall() {
    in_table(
        "stock.csv",
        "T-1.000x.058-4130,4130 steel,round tube,1.000,.058,",
        "T-1.000x.058-4130,4130 steel,round tube,1.000,,",
        "stock-incomplete stock.csv row 4, stock",
    );
}

#[test]
fn a_wall_that_is_not_that_of_the_stock() {
    in_table(
        "stock.csv",
        "T-.750x.058-4130,4130 steel,round tube,.750,.058,",
        "T-.750x.058-4130,4130 steel,round tube,.750,.085,",
        "stock-name-differs stock.csv row 6, stock",
    );
}

#[test]
fn a_piece_cut_from_nothing() {
    brings(|files| {
        edit(files, "parts.csv", "builder,SK-205,", "builder,,");
        let path = "steps/seat/20-seat-bearers.md";
        format!("cut-from-differs {path}:{}", line_of(files, path, "becomes: [2 x SK-206]"))
    });
}

#[test]
fn more_plates_than_there_are() {
    in_step(
        "steps/running-gear/40-runner.md",
        "part: SK-352, quantity: 2, do: use",
        "part: SK-352, quantity: 5, do: use",
        "more-than-there",
    );
}

#[test]
fn one_packer_of_two_painted() {
    in_step(
        "steps/frame/91-frame-paint.md",
        "part: SK-122, quantity: 2, do: finish",
        "part: SK-122, quantity: 1, do: finish",
        "finished-in-part",
    );
}

#[test]
fn an_offset_to_the_other_side() {
    in_step(
        "steps/frame/80-tang-drill.md",
        "from: keel-line, left: 16",
        "from: keel-line, right: 16",
        "offset-on-other-side",
    );
}

#[test]
fn a_bolt_for_a_time_that_is_said_to_stay() {
    let path = "steps/frame/60-mast-step-drill.md";
    brings(|files| {
        edit(files, path, "AN4-20A, quantity: 1, do: fit temporarily", "AN4-20A, quantity: 1, do: fit");
        let strip = "steps/frame/90-frame-strip.md";
        format!("not-put-back {strip}:{}", line_of(files, strip, "hardware: AN4-20A"))
    });
}

#[test]
fn an_offset_that_is_measured_otherwise() {
    brings(|files| {
        let path = "steps/frame/80-tang-drill.md";
        edit(files, path, "from: keel-line, left: 16", "from: keel-line, left: 17");
        format!("offset-differs {path}:{}", line_of(files, path, "measure: Middle of the tang"))
    });
}

#[test]
fn a_fork_that_goes_further_to_one_side() {
    in_step(
        "steps/steering/60-steering-set.md",
        "Travel of the fork to the right, min: 30 deg",
        "Travel of the fork to the right, min: 20 deg",
        "measure-sides-differ",
    );
}
