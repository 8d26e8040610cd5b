//! The keys of what a step leads and glues: cables, wires, bonds.

use super::Holds::*;
use super::step_keys::{IF_WRONG, NOTE, ONLY};
use super::{Form, Holds, Thing, Use, key};

pub(super) static CABLES: Form = Form {
    what: "an item of `cables`",
    keys: &[
        key("cable", Name(Thing::Cable, Use::Named), "its id, the same in every step that works on it")
            .shown("left-stay"),
        key("part", Name(Thing::Part, Use::CableOf), "the part it is made of"),
        key("construction", Plain, "strands and wires").shown("7x19"),
        key("length", Length, "finished length from pin to pin; written in one step alone"),
        key("label", Words, "what is written on it").shown("LEFT"),
        key("kind", Word(&["rope", "bowden"]), "a wire rope alone, or an inner wire in a sheath").usual("rope"),
        key("for", Word(&["steering", "brakes", "rig", "other"]), "what the cable works on").usual("other"),
        key("sheath", Name(Thing::Item, Use::Sheath), "of a bowden cable, what its sheath is made of"),
        key("sheath-length", Length, "the length to cut the sheath to, without its ferrules"),
        key("run", Items(&RUN), "pulleys and fairleads in their order from end A"),
        key("proof-load", Measure, "the designer's load for the proof").shown("600 lb").usual("60 % by the table"),
        key("end-a", Group(&CABLE_END), "end A, where this step closes it"),
        key(
            "thread",
            NameOr(&["yes", "no", "true", "false"], Thing::Item, Use::Guide),
            "yes where this step leads it through the whole run, or the guides by name",
        ),
        key("end-b", Group(&CABLE_END), "end B, where this step closes it; it comes after `thread`"),
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["cable"]],
};

const IN_END: Holds = Name(Thing::Hardware, Use::CableEnd);

static CABLE_END: Form = Form {
    what: "the end of a cable",
    keys: &[
        key("thimble", IN_END, "the thimble"),
        key("sleeve", IN_END, "the sleeve"),
        key("sleeves", Count, "how many sleeves").usual("1"),
        key("crimps", Count, "how often each sleeve is pressed").shown("3"),
        key(
            "loop",
            Length,
            "cable beyond the bearing point of the thimble: round it, through the sleeve, and the tail",
        ),
        key("tail", Length, "what stands out of the pressed sleeve"),
        key("reach", Length, "from the pin to the bearing point of the thimble")
            .usual("none: the pin goes through the thimble"),
        key("turnbuckle", IN_END, "the turnbuckle, or its barrel"),
        key("turnbuckle-ends", IN_END, "the two ends of a barrel, that of the cable first"),
        key("thread", Word(&["left", "right"]), "the thread of the turnbuckle's end towards the cable"),
        key("wraps", Count, "turns of safety wire round each shank of the turnbuckle").shown("4"),
        key("nipple", IN_END, "of a bowden cable, the nipple on its inner wire"),
        key("ferrule", IN_END, "of a bowden cable, the ferrule on its sheath"),
        key("maker-value", Measure, "the load that the maker of the end gives for it").shown("2000 lb"),
        key(
            "pin-through",
            Name(Thing::Part, Use::Clamped),
            "the parts that the pin of this end passes, beside the cable's own fitting",
        )
        .shown("[KW-120, KW-121]"),
        key("safety", Words, "how the turnbuckle is kept from turning").shown("Safety wire, double"),
        key(
            "fittings",
            Counted(Thing::Hardware, Use::CableEnd),
            "pins and whatever else goes into the end, as `DESIGNATION` or `2 x DESIGNATION`",
        ),
    ],
    short: None,
    needs: &[],
};

pub(super) static BONDS: Form = Form {
    what: "an item of `bonds`",
    keys: &[
        key("bond", Name(Thing::Bond, Use::Named), "its id").shown("left-rib"),
        key("parts", Name(Thing::Part, Use::Glued), "the parts that it joins").shown("[KW-103-L, KW-110]"),
        key(
            "adhesive",
            Name(Thing::Consumable, Use::GluedWith),
            "the consumable, with its data under `adhesives` in manual.yaml",
        ),
        key("amount", Plain, "how much is mixed for it").shown("40 g"),
        key("clamped", Words, "how the pieces are held while it cures").shown("Four clamps"),
        IF_WRONG,
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["bond"], &["parts"], &["adhesive"]],
};

pub(super) static CURED: Form = Form {
    what: "an item of `cured`",
    keys: &[
        key("bond", Name(Thing::Bond, Use::Cured), "the bond's id"),
        key("to", Word(&["handling", "full"]), "how far: firm enough to be handled, or to its full strength")
            .usual("full"),
        ONLY,
    ],
    short: Some(Name(Thing::Bond, Use::Cured)),
    needs: &[&["bond"]],
};

pub(super) static WIRES: Form = Form {
    what: "an item of `wires`",
    keys: &[
        key("wire", Name(Thing::Wire, Use::Named), "its id, written on both ends").shown("left-lamp"),
        key("from", Words, "where it begins").shown("fuse box"),
        key("to", Words, "where it ends").shown("left lamp"),
        key("colour", Words, "the colour of its insulation").shown("red"),
        key("size", WireSize, "the size of its conductor"),
        key("length", Length, "the length to cut it to"),
        key("hardware", Name(Thing::Hardware, Use::WireOf), "the wire on the roll, counted by its length"),
        key("from-terminal", Name(Thing::Hardware, Use::WireEnd), "the terminal where it begins"),
        key("to-terminal", Name(Thing::Hardware, Use::WireEnd), "the terminal where it ends"),
        key("crimped-with", Name(Thing::Tool, Use::CrimpedWith), "the tool that crimps its terminals"),
        key("current", Measure, "the current that it carries").shown("5 A"),
        key("voltage", Measure, "the voltage of its circuit").shown("12 V"),
        key("fuse", Measure, "the fuse that protects it").shown("7.5 A"),
        key("breaker", Measure, "the circuit breaker that protects it").shown("7.5 A"),
        key("drop", Measure, "the designer's limit of the voltage that is lost").shown("0.5 V").usual("the table's"),
        key(
            "back-through",
            Word(&["wire", "frame"]),
            "how the current goes back: through a wire as long, or through the frame",
        )
        .usual("wire"),
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["wire"], &["from"], &["to"], &["size"], &["length"]],
};

static RUN: Form = Form {
    what: "an item of `run`",
    keys: &[
        key("fairlead", Name(Thing::Item, Use::Guide), "a fairlead, by part number or designation"),
        key("pulley", Name(Thing::Item, Use::Guide), "a pulley, by part number or designation"),
        key("at", Words, "where it is").shown("left rail"),
        ONLY,
    ],
    short: None,
    needs: &[&["fairlead", "pulley"]],
};
