//! The keys of a step's front matter and of the items in it, with what each is for.

use super::fields::{Key, key};

/// The keys of a step's front matter.
pub const STEP_KEYS: &[Key] = &[
    key("step", "the step's permanent id: lower case words joined by `-`"),
    key("title", "what the step does"),
    key("section", "the id of its section"),
    key("only", "where the step holds"),
    key("hand", "left or right; a step without it may use parts of both hands"),
    key(
        "opposite",
        "yes: the step for the other hand is made from this one; its id is this one's with `:right` or `:left` behind it",
    ),
    key("opposite-keep", "phrases that stay as they are in the opposite step, for example `turn to the right`"),
    key("opposite-swap", "phrases in which the side changes although it is not sure, for example `clockwise`"),
    key("after", "ids of steps that come before; a step that is made for both hands stands for both"),
    key("makes", "the assembly that the step makes"),
    key("parts", "parts to pull, as `NUMBER`, `2 x NUMBER`, or with keys"),
    key("hardware", "hardware that is in no joint, as `4 x DESIGNATION`, or with keys"),
    key("joints", "fastened places; their hardware is derived"),
    key("cuts", "cuts, with who makes them"),
    key("bends", "tubes and sheets that are bent, each with all its bends"),
    key("flattened", "tube ends that are pressed flat"),
    key("cables", "cables that are made or led here; their hardware is derived"),
    key("holes", "holes, with who makes them and from what"),
    key("offsets", "places measured from a datum of the manual"),
    key("one-jig", "one jig for both hands: the face that is up in it, and from where it is drilled"),
    key("tools", "ids of tools"),
    key("consumables", "ids of consumables"),
    key("safety", "safety messages shown before the work, as `- warning: text`"),
    key("figures", "figures, with alternative text, view and callouts"),
    key("measure", "what to measure, with target and tolerance or limits"),
    key("inspect", "what is inspected before something is closed"),
    key("closes", "what this step closes for good"),
    key("sign-off", "who signs: one or two roles"),
    key("hours", "hours for a builder"),
    key(
        "if-already-built",
        "for kits in which the step is done already: what to inspect, undo and do again, by the release that changes it",
    ),
    key(
        "typing-errors",
        "the letter of the last release, where only typing errors in the text were mended since then: no change bars",
    ),
    key("accept", "findings in this file that are accepted, with a reason"),
];

/// The keys of the items of each list, by the list's key.
pub const STEP_ITEM_KEYS: &[(&str, &[Key])] = &[
    ("after", AFTER),
    ("makes", MAKES),
    ("parts", PARTS),
    ("hardware", HARDWARE),
    ("joints", JOINTS),
    ("stack", STACK),
    ("cuts", CUTS),
    ("bends", BENDS),
    ("flattened", FLATTENED),
    ("cables", CABLES),
    ("end-a, end-b", CABLE_END),
    ("run", RUN),
    ("holes", HOLES),
    ("offsets", OFFSETS),
    ("one-jig", ONE_JIG),
    ("tools", TOOLS),
    ("consumables", CONSUMABLES),
    ("safety", SAFETY),
    ("figures", FIGURES),
    ("callouts", CALLOUTS),
    ("arrows", ARROWS),
    ("measure", MEASURE),
    ("inspect", INSPECT),
    ("closes", CLOSES),
    ("if-already-built", ALREADY_BUILT),
];

pub(super) const ONLY: Key = key("only", "where the item holds");
pub(super) const NOTE: Key = key("note", "a remark shown with it");
pub(super) const AFTER: &[Key] = &[key("step", "a step's id"), ONLY];
pub(super) const MAKES: &[Key] = &[key("assembly", "the assembly's id"), ONLY];
pub(super) const CLOSES: &[Key] = &[key("assembly", "what is closed"), ONLY];
pub(super) const PARTS: &[Key] = &[
    key("part", "the part's number"),
    key("assembly", "an assembly that an earlier step made, in place of `part`"),
    key("quantity", "how many; one where it is not written"),
    key("do", "pull, trial fit, remove, finish, refit or use"),
    key("becomes", "the pieces it is cut into, as `NUMBER` or `2 x NUMBER`"),
    NOTE,
    ONLY,
];
pub(super) const HARDWARE: &[Key] = &[
    key("hardware", "its designation"),
    key("quantity", "how many, or an amount with its unit"),
    key("do", "fit, fit temporarily, remove or refit"),
    NOTE,
    ONLY,
];
pub(super) const JOINTS: &[Key] = &[
    key("joint", "an id"),
    key("fastener", "the designation of the bolt, screw, rivet or pin"),
    key("stack", "the parts it clamps, from the head"),
    key("under-head", "washers under the head"),
    key("under-nut", "washers under the nut"),
    key("nut", "the nut"),
    key("pin", "the cotter pin"),
    key("places", "how many places; one where it is not written"),
    key("turns", "yes where the joint is a pivot"),
    key("carries", "shear, tension or both"),
    key("closed-behind", "yes where there is no room behind"),
    key("locked-by", "what else locks a nut: a check nut, a lock washer, safety wire"),
    key("hot", "yes where it gets hotter than 250 °F"),
    key("edge", "least distance from the middle of a hole to an edge"),
    key("pitch", "least distance from the middle of a hole to that of the next"),
    key("torque", "the designer's value, as `30..40 in-lb` or `4 N m`"),
    key("torque-reason", "why the designer's value differs from the table, or where no table holds"),
    key("do", "fit, fit temporarily, remove or refit"),
    NOTE,
    ONLY,
];
pub(super) const STACK: &[Key] = &[
    key("part", "the part's number"),
    key("through", "thickness, wall (one wall), tube (both walls), bushed tube, or length (along a spacer)"),
    key("thickness", "how thick it is at the bolt, where the parts list does not tell it"),
    NOTE,
    ONLY,
];
pub(super) const CUTS: &[Key] = &[
    key("part", "the part that is cut"),
    key("end", "A, B or both"),
    key("cut", "square, mitre or saddle"),
    key("angle", "degrees off square for a mitre, between the axes for a saddle"),
    key(
        "long-point",
        "clock position of the long point; of a saddle, of its obtuse side, to which the other tube runs",
    ),
    key("onto", "the part that a saddle fits, or whose mitre this one meets at a corner"),
    key("offset", "how far the axes pass each other"),
    key("length", "finished length"),
    key("trim", "trim allowance"),
    key("by", "builder or maker"),
    NOTE,
    ONLY,
];
pub(super) const BENDS: &[Key] = &[
    key("part", "the part that is bent"),
    key(
        "legs",
        "the legs from end A on, each along the outside to the corner where the outside faces would meet: `[20, 18, 20]`",
    ),
    key("angle", "degrees that a bend turns through; one for all, or a list with one each"),
    key("radius", "inside radius; one for all, or a list with one each"),
    key(
        "toward",
        "clock position towards which it bends, seen at end A; sheet bends up (12) or down (6); one for all, or one each",
    ),
    key("neutral", "place of the neutral axis from the inside as a part of the thickness, for example `0.4475`"),
    key("by", "builder or maker"),
    NOTE,
    ONLY,
];
pub(super) const FLATTENED: &[Key] = &[
    key("part", "the tube"),
    key("end", "A, B or both"),
    key("length", "length of the flat"),
    key("transition", "length from the round tube to the flat"),
    key("faces", "clock position that the flat faces, looking at this end"),
    key("by", "builder or maker"),
    NOTE,
    ONLY,
];
pub(super) const CABLES: &[Key] = &[
    key("cable", "its id, the same in every step that works on it"),
    key("part", "the part it is made of"),
    key("construction", "strands and wires, for example `7x19`"),
    key("length", "finished length from pin to pin; written in one step alone"),
    key("label", "what is written on it"),
    key("run", "pulleys and fairleads in their order from end A"),
    key("proof-load", "the designer's load for the proof; else the table's 60 % is shown"),
    key("end-a", "end A, where this step closes it"),
    key("thread", "yes where this step leads it through the whole run, or the guides by name"),
    key("end-b", "end B, where this step closes it; it comes after `thread`"),
    NOTE,
    ONLY,
];
pub(super) const CABLE_END: &[Key] = &[
    key("thimble", "the thimble"),
    key("sleeve", "the sleeve"),
    key("sleeves", "how many sleeves; one where it is not written"),
    key("crimps", "how often each sleeve is pressed"),
    key("loop", "cable beyond the bearing point of the thimble: round it, through the sleeve, and the tail"),
    key("tail", "what stands out of the pressed sleeve"),
    key("reach", "from the pin to the bearing point of the thimble; none where the pin goes through the thimble"),
    key("turnbuckle", "the turnbuckle, or its barrel"),
    key("turnbuckle-ends", "the two ends of a barrel, that of the cable first"),
    key("thread", "left or right: the thread of the turnbuckle's end towards the cable"),
    key("safety", "how the turnbuckle is kept from turning"),
    key("fittings", "pins and whatever else goes into the end, as `DESIGNATION` or `2 x DESIGNATION`"),
];
pub(super) const RUN: &[Key] = &[
    key("fairlead", "a fairlead, by part number or designation"),
    key("pulley", "a pulley, by part number or designation"),
    key("at", "where it is"),
    ONLY,
];
pub(super) const OFFSETS: &[Key] = &[
    key("place", "what is placed"),
    key("from", "the id of a datum of manual.yaml"),
    key("left", "how far to the left"),
    key("right", "how far to the right"),
    key("forward", "how far forward"),
    key("aft", "how far aft"),
    key("up", "how far up"),
    key("down", "how far down"),
    NOTE,
    ONLY,
];
pub(super) const ONE_JIG: &[Key] = &[
    key("face-up", "the face of the part that is up, for example `outer face`"),
    key("opposite-face-up", "the face that is up for the other hand, where it is not plain"),
    key("drilled-from", "above or below; above where it is not written"),
];
pub(super) const HOLES: &[Key] = &[
    key("part", "the part that is drilled"),
    key("hole", "the hole's name"),
    key("count", "how many; one where it is not written"),
    key("do", "drill, match-drill, open up, ream, deburr or prime"),
    key("from", "the part that a match-drilled hole is taken from"),
    key("drill", "the drill: \"#30\", F, 1/4, 6.5 mm; of a hole that is reamed, the drill before it"),
    key("reamer", "the reamer that brings it to its size"),
    key("for", "the designation that the hole is for"),
    key("from-end", "of a row of holes, the end that all are measured from, A or B; A where it is not written"),
    key("first", "of a row that is equally spaced, the place of the first hole"),
    key("last", "the place of the last hole, measured from the same end"),
    key("stations", "the places of the holes of a row, each measured from the same end, as `[1/2, 2 1/4, 4]`"),
    key("line", "the line of a tube that the row is on, as a clock position looking at that end"),
    key("by", "builder or maker"),
    NOTE,
    ONLY,
];
pub(super) const TOOLS: &[Key] = &[key("tool", "the tool's id"), NOTE, ONLY];
pub(super) const CONSUMABLES: &[Key] = &[key("consumable", "its id"), NOTE, ONLY];
pub(super) const SAFETY: &[Key] = &[
    key("danger", "will cause death or serious injury"),
    key("warning", "could cause death or serious injury"),
    key("caution", "could cause minor or moderate injury"),
    key("notice", "damage or practice, not injury"),
    key("note", "help"),
    ONLY,
];
pub(super) const FIGURES: &[Key] = &[
    key("figure", "file name in the folder of figures"),
    key("alt", "what a person who can't see it must know"),
    key("caption", "the line below it"),
    key("view", "the view direction, for example `looking aft`"),
    key("up", "where up is on the paper"),
    key("forward", "where forward is on the paper"),
    key("width", "printed width"),
    key("opposite", "what an opposite step shows: another file, or `same`; else a drawing is mirrored"),
    key("crop", "the part that is shown: left, top, width and height in percent, as `[10, 20, 50, 60]`"),
    key("callouts", "numbered marks"),
    key("arrows", "arrows over the picture"),
    ONLY,
];
pub(super) const CALLOUTS: &[Key] = &[
    key("callout", "its number"),
    key("at", "percent of the whole picture's width and height from its top left, as `[40, 62]`"),
    key("part", "the part it points at"),
    key("hardware", "the hardware it points at"),
    key("assembly", "the assembly it points at"),
    key("text", "what it says, where it points at no part"),
    ONLY,
];
pub(super) const ARROWS: &[Key] = &[
    key("from", "where it begins, in percent of the whole picture, as `[40, 62]`"),
    key("to", "where its head is, in percent of the whole picture"),
    ONLY,
];
pub(super) const MEASURE: &[Key] = &[
    key("measure", "what is measured"),
    key("target", "the value wanted"),
    key("tolerance", "how far off it may be, either way"),
    key("min", "the least value"),
    key("max", "the largest value"),
    NOTE,
    ONLY,
];
pub(super) const INSPECT: &[Key] =
    &[key("inspect", "what is inspected; a later step `closes` it"), key("look-for", "what must be so"), ONLY];
pub(super) const ALREADY_BUILT: &[Key] = &[
    key("release", "the letter of the release that changes the step"),
    key("inspect", "what to look at first"),
    key("undo", "what to take off or apart"),
    key("redo", "what to do again"),
    key("send", "what is needed on top of what the change adds, as `2 x AN380-2-2`"),
    ONLY,
];
