//! Sentences that contradict what the front matter says, typed into the demonstration manual one at a time: a torque, a drill,
//! a length, an order, a link, an action. Each is found in its line.

use super::contradictions::in_step;

const JOIN: &str = "steps/frame/10-keel-join.md";
const GUSSETS: &str = "steps/frame/30-beam-gussets.md";
const BEAM: &str = "steps/frame/92-beam-bolt-up.md";
const HEEL: &str = "steps/rig/10-mast-heel.md";
const FOOT_BAR: &str = "steps/steering/40-foot-bar.md";
const FAIRLEAD: &str = "steps/steering/45-fairlead-bar.md";
const CABLE: &str = "steps/steering/50-cable.md";
const SET: &str = "steps/steering/60-steering-set.md";

#[test]
fn a_torque_that_the_joint_does_not_have() {
    in_step(JOIN, "13. Torque the nuts.", "13. Torque the nuts to 60 in-lb.", "value-differs");
    in_step(
        HEEL,
        "8. Fit both bolts and torque the nuts.",
        "8. Fit both bolts and torque the nuts to 5 ft-lb.",
        "value-differs",
    );
    in_step(
        FAIRLEAD,
        "square to it, fit the bolt from above, and torque the nut.",
        "fit the bolt from above, and torque the nut to 8 N m.",
        "value-differs",
    );
    in_step(
        BEAM,
        "6. Torque the nuts, beginning at the middle of the keel, and hold",
        "6. Torque the nuts to 20 to 25 in-lb, and hold",
        "value-differs",
    );
}

#[test]
fn a_bit_that_the_hole_does_not_have() {
    // Where the size alone told which holes are meant, the action is tied to none, and the size is none of the step's.
    in_step(FOOT_BAR, "then with the 3/8 in bit.", "then with the 5/16 in bit.", "value-not-of-step");
    in_step(GUSSETS, "4. Take the No. 30 bit.", "4. Take the No. 40 bit.", "value-not-of-step");
    in_step(
        "steps/frame/50-stay-gussets.md",
        "walls with the No. 30 bit.",
        "walls with the No. 31 bit.",
        "value-not-of-step",
    );
    in_step(
        "steps/seat/74-tray-mount.md",
        "doubler with the No. 30 bit.",
        "doubler with the 9/64 in bit.",
        "value-not-of-step",
    );
    in_step(JOIN, "8. Drill one hole upright", "8. Drill one hole with a 5/16 in bit upright", "value-differs");
}

#[test]
fn a_length_that_the_data_have_otherwise() {
    in_step(FOOT_BAR, "keel 6 1/4 in behind", "keel 6 3/8 in behind", "nearly-a-length");
    in_step(FAIRLEAD, "keel 16 in ahead", "keel 16 1/4 in ahead", "nearly-a-length");
    in_step(CABLE, "bar 10 1/2 in left", "bar 10 9/16 in left", "nearly-a-length");
    in_step(CABLE, "8. Measure 32 5/8 in along", "8. Measure 32 3/8 in along", "nearly-a-length");
}

#[test]
fn a_caption_with_a_drill_of_no_hole() {
    in_step(
        JOIN,
        "    caption: The keel joint, cut open",
        "    caption: The keel joint, drilled with the No. 21 bit",
        "value-not-of-step",
    );
}

#[test]
fn an_order_that_cannot_be_followed() {
    in_step(
        HEEL,
        "6. Pull the heel out, deburr,",
        "6. Torque the nuts. Pull the heel out, deburr,",
        "tightened-before-fitted",
    );
}

#[test]
fn a_link_to_what_the_step_does_not_have() {
    in_step(BEAM, "(joint:sheet-eye-bolt) there", "(joint:sheet-eye-bolts) there", "not-of-this-step");
    in_step(JOIN, "5. Lay the keel", "5. Clamp the [](cut:SK-101). Lay the keel", "not-of-this-step");
}

#[test]
fn a_bolt_fitted_by_two_actions() {
    in_step(BEAM, "4. Run the nuts up", "4. Fit the [eye's](joint:sheet-eye-bolt). Run the nuts up", "done-twice");
}

#[test]
fn an_action_without_its_data() {
    in_step(SET, "5. Set the castle nut", "5. Torque the nuts. Set the castle nut", "action-without-data");
    in_step(SET, "1. Set the fork", "1. Drill the fork. Set the fork", "action-without-data");
}
