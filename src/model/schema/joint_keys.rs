//! The keys of joints, of what they clamp, and of holes.

use super::Holds::*;
use super::step_keys::{BY, HARDWARE_DONE, IF_WRONG, NOTE, ONLY};
use super::{Form, Thing, Use, key};

pub(super) static JOINTS: Form = Form {
    what: "an item of `joints`",
    keys: &[
        key("joint", Name(Thing::Joint, Use::Named), "an id").shown("lug-bolt"),
        key("fastener", Name(Thing::Hardware, Use::Fastener), "the designation of the bolt, screw, rivet or pin"),
        key("kind", Name(Thing::JointKind, Use::OfKind), "a kind of joint of manual.yaml: what the joint does not say itself is taken from it"),
        key("stack", Items(&STACK), "the parts it clamps, from the head"),
        key("under-head", Counted(Thing::Hardware, Use::UnderHead), "washers under the head"),
        key("under-nut", Counted(Thing::Hardware, Use::UnderNut), "washers under the nut"),
        key("nut", Name(Thing::Hardware, Use::Nut), "the nut"),
        key("pin", Name(Thing::Hardware, Use::Pin), "the cotter pin"),
        key("places", Count, "how many places").usual("1"),
        key("turns", YesNo, "yes where the joint is a pivot").usual("no"),
        key("clamps", Word(&["spacer", "inner race"]), "what head and nut clamp where the parts turn round it: then bolt and nut stand still")
            .usual("nothing: in a joint that turns, bolt or nut turn with it"),
        key("into", Word(&["tapped hole", "threaded insert"]), "what the thread goes into in place of a nut: the last member of the stack has it"),
        key("critical", YesNo, "yes for steering, brakes, rig and whatever lives hang on: no value from memory, a second person, a paint mark, a look after the first use")
            .usual("no"),
        key("carries", Word(&["shear", "tension", "both"]), "what the joint carries"),
        key("closed-behind", YesNo, "yes where there is no room behind").usual("no"),
        key("locked-by", Words, "what else locks a nut: a check nut, a lock washer, safety wire").shown("check nut"),
        key("hot", YesNo, "yes where it gets hotter than 250 °F").usual("no"),
        key("edge", Length, "least distance from the middle of a hole to an edge"),
        key("pitch", Length, "least distance from the middle of a hole to that of the next"),
        key("torque", Torque, "the designer's value; `dry` or `greased` may stand behind it")
            .usual("the table's, where one applies"),
        key("condition", Word(&["dry", "greased"]), "the state of the threads that the torque is for").usual("dry"),
        key("drag-included", YesNo, "yes where the designer's value includes the drag of a self-locking nut")
            .usual("no"),
        key("torque-reason", Words, "why the designer's value differs from the table, or where no table applies")
            .shown("The wall dents first."),
        key("do", HARDWARE_DONE, "what is done with it").usual("fit"),
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["fastener"]],
};

static STACK: Form = Form {
    what: "an item of `stack`",
    keys: &[
        key("part", Name(Thing::Part, Use::Clamped), "the part's number"),
        key(
            "through",
            Word(&["thickness", "wall", "tube", "bushed tube", "length"]),
            "how the fastener passes it: its thickness, one wall, both walls of a tube, a bushed tube, along a spacer",
        )
        .usual("thickness"),
        key("thickness", Length, "how thick it is at the bolt, where the parts list does not tell it"),
        key("tolerance", Length, "how much thinner or thicker it may come").shown("1/64"),
        key("bore", Length, "the hole that it has of itself: the bore of a spacer or a bearing").shown("1/4"),
        key("countersunk", YesNo, "yes where it is countersunk for the head").usual("no"),
        NOTE,
        ONLY,
    ],
    short: Some(Name(Thing::Part, Use::Clamped)),
    needs: &[&["part"]],
};

pub(super) static HOLES: Form = Form {
    what: "an item of `holes`",
    keys: &[
        key("part", Name(Thing::Part, Use::Drilled), "the part that is drilled"),
        key("hole", Name(Thing::Hole, Use::HoleName), "the hole's name").shown("lug"),
        key("count", Count, "how many").usual("1"),
        key("do", Word(&["drill", "match-drill", "open up", "ream", "deburr", "prime"]), "what is done to it")
            .usual("drill"),
        key("from", Name(Thing::Part, Use::DrilledFrom), "the part that a match-drilled hole is taken from"),
        key("drill", Drill, "the drill; of a hole that is reamed, the drill before it"),
        key("reamer", Drill, "the reamer that brings it to its size").shown("1/4"),
        key("for", Name(Thing::Hardware, Use::HoleFor), "the designation that the hole is for"),
        key("from-end", Word(&["A", "B"]), "of a row of holes, the end that all are measured from").usual("A"),
        key("first", Length, "of a row that is equally spaced, the place of the first hole"),
        key("last", Length, "the place of the last hole, measured from the same end"),
        key("stations", Length, "the places of the holes of a row, each measured from the same end")
            .shown("[1/2, 2 1/4, 4]"),
        key("line", Clock, "the line of a tube that the row is on, as a clock position looking at that end"),
        key(
            "touch-up",
            Name(Thing::Consumable, Use::TouchesUp),
            "what its bare edge is touched up with, where it goes through a finish",
        ),
        BY,
        IF_WRONG,
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["part"]],
};
