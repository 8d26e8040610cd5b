//! The keys of a step's front matter and of the items in it.

use super::Holds::*;
use super::cable_keys::{BONDS, CABLES, CURED, WIRES};
use super::joint_keys::{HOLES, JOINTS};
use super::manual_keys::ACCEPT;
use super::{Form, Holds, Key, Lateral, Thing, Use, key};

/// A step's front matter.
pub static STEP: Form =
    Form { what: "a step", keys: STEP_KEYS, short: None, needs: &[&["step"], &["title"], &["section"]] };

const STEP_KEYS: &[Key] = &[
    key("step", Name(Thing::Step, Use::Named), "the step's permanent id: lower case words joined by `-`")
        .shown("fit-mast-foot")
        .silent(),
    key("title", Words, "what the step does").shown("Fit the mast foot"),
    key("section", Name(Thing::Section, Use::InSection), "the id of its section"),
    key("only", Condition, "where the step applies").usual("everywhere").silent(),
    key("hand", Hand, "left or right").usual("none: the step may use parts of both hands"),
    key("opposite", YesNo, "yes: the step for the other hand is made from this one; its id is this one's with `:right` or `:left` behind it")
        .usual("no")
        .silent(),
    key("opposite-keep", Plain, "phrases that stay as they are in the opposite step").shown("[turn to the right]").silent(),
    key("opposite-swap", Plain, "phrases in which the side changes although it is not sure").shown("[clockwise]").silent(),
    key("after", Items(&AFTER), "ids of steps that come before; a step that is made for both hands stands for both").silent(),
    key("makes", Items(&MAKES), "the assembly that the step makes"),
    key("parts", Items(&PARTS), "parts to pull, as `NUMBER`, `2 x NUMBER`, or with keys"),
    key("hardware", Items(&HARDWARE), "hardware that is in no joint, as `4 x DESIGNATION`, or with keys"),
    key("joints", Items(&JOINTS), "fastened places; their hardware is derived"),
    key("cuts", Items(&CUTS), "cuts, with who makes them"),
    key("bends", Items(&BENDS), "tubes and sheets that are bent, each with all its bends"),
    key("flattened", Items(&FLATTENED), "tube ends that are pressed flat"),
    key("cables", Items(&CABLES), "cables that are made or led here; their hardware is derived"),
    key("bonds", Items(&BONDS), "what is glued here, and with what"),
    key("cured", Items(&CURED), "bonds that must have cured before this step begins"),
    key("wires", Items(&WIRES), "electric wires that are made or led here; their terminals are derived"),
    key("holes", Items(&HOLES), "holes, with who makes them and from what"),
    key("offsets", Items(&OFFSETS), "places measured from a datum of the manual"),
    key("one-jig", Group(&ONE_JIG), "one jig for both hands: the face that is up in it, and from where it is drilled"),
    key("tools", Items(&TOOLS), "ids of tools"),
    key("consumables", Items(&CONSUMABLES), "ids of consumables"),
    key("safety", Items(&SAFETY), "safety messages shown before the work, as `- warning: text`"),
    key("figures", Items(&FIGURES), "figures, with alternative text, view and callouts"),
    key("measure", Items(&MEASURE), "what to measure, with target and tolerance or limits"),
    key("inspect", Items(&INSPECT), "what is inspected before something is closed"),
    key("closes", Items(&CLOSES), "what this step closes for good"),
    key("sign-off", Words, "who signs: one or two roles").shown("[builder, second person]"),
    key("hours", Number, "hours for a builder").shown("1.5"),
    key("if-already-built", Items(&ALREADY_BUILT), "for kits in which the step is done already: what to inspect, undo and do again, by the release that changes it")
        .silent(),
    key("typing-errors", Name(Thing::Release, Use::Since), "the letter of the last release, where only typing errors in the text were corrected since then: no change bars")
        .silent(),
    key("accept", Items(&ACCEPT), "findings in this file that are accepted, with a reason").silent(),
];

pub(super) const ONLY: Key = key("only", Condition, "where the item applies").usual("wherever the step does").silent();
pub(super) const NOTE: Key = key("note", Words, "a remark shown with it");
pub(super) const IF_WRONG: Key =
    key("if-wrong", Words, "what to do when it goes wrong: the limit, the spare, where to stop, in one line")
        .shown("Under 39 7/8 in, stop and ask for another left tube.");
pub(super) const BY: Key = key("by", Word(&["builder", "maker"]), "who does it").usual("builder");

static AFTER: Form = Form {
    what: "an item of `after`",
    keys: &[key("step", Name(Thing::Step, Use::ComesBefore), "a step's id"), ONLY],
    short: Some(Name(Thing::Step, Use::ComesBefore)),
    needs: &[&["step"]],
};

static MAKES: Form = Form {
    what: "an item of `makes`",
    keys: &[key("assembly", Name(Thing::Assembly, Use::Made), "the assembly's id").shown("mast"), ONLY],
    short: Some(Name(Thing::Assembly, Use::Made)),
    needs: &[&["assembly"]],
};

static CLOSES: Form = Form {
    what: "an item of `closes`",
    keys: &[key("assembly", Name(Thing::Assembly, Use::Closed), "what is closed"), ONLY],
    short: Some(Name(Thing::Assembly, Use::Closed)),
    needs: &[&["assembly"]],
};

static PARTS: Form = Form {
    what: "an item of `parts`",
    keys: &[
        key("part", Name(Thing::Part, Use::Taken), "the part's number"),
        key(
            "assembly",
            Name(Thing::Assembly, Use::UsedUp),
            "an assembly that an earlier step made, in place of `part`",
        ),
        key("quantity", Count, "how many").usual("1"),
        key("do", Word(&["pull", "trial fit", "remove", "finish", "refit", "use"]), "what is done with it")
            .usual("pull"),
        key("becomes", Counted(Thing::Part, Use::CutOut), "the pieces it is cut into, as `NUMBER` or `2 x NUMBER`"),
        NOTE,
        ONLY,
    ],
    short: Some(Counted(Thing::Part, Use::Taken)),
    needs: &[&["part", "assembly"]],
};

pub(super) const HARDWARE_DONE: Holds = Word(&["fit", "fit temporarily", "remove", "refit"]);

static HARDWARE: Form = Form {
    what: "an item of `hardware`",
    keys: &[
        key("hardware", Name(Thing::Hardware, Use::Listed), "its designation"),
        key("quantity", Quantity, "how many, or an amount with its unit").usual("1"),
        key("do", HARDWARE_DONE, "what is done with it").usual("fit"),
        NOTE,
        ONLY,
    ],
    short: Some(Counted(Thing::Hardware, Use::Listed)),
    needs: &[&["hardware"]],
};

const TUBE_END: Holds = Word(&["A", "B", "both"]);

static CUTS: Form = Form {
    what: "an item of `cuts`",
    keys: &[
        key("part", Name(Thing::Part, Use::Cut), "the part that is cut"),
        key("end", TUBE_END, "which end"),
        key("cut", Word(&["square", "mitre", "saddle"]), "how the end is cut").usual("square"),
        key("angle", Angle, "degrees off square for a mitre, between the axes for a saddle"),
        key(
            "long-point",
            Clock,
            "clock position of the long point; of a saddle, of its obtuse side, to which the other tube runs",
        ),
        key(
            "onto",
            Name(Thing::Part, Use::Onto),
            "the part that a saddle fits, or whose mitre this one meets at a corner",
        ),
        key("offset", Offset, "how far the axes pass each other").usual("0"),
        key("length", Length, "finished length"),
        key("trim", Length, "trim allowance"),
        BY,
        IF_WRONG,
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["part"]],
};

static BENDS: Form = Form {
    what: "an item of `bends`",
    keys: &[
        key("part", Name(Thing::Part, Use::Bent), "the part that is bent"),
        key(
            "legs",
            Length,
            "the legs from end A on, each along the outside to the corner where the outside faces would meet",
        )
        .shown("[20, 18, 20]"),
        key("angle", Angle, "degrees that a bend turns through; one for all, or a list with one each"),
        key("radius", Length, "inside radius; one for all, or a list with one each"),
        key(
            "toward",
            Clock,
            "clock position towards which it bends, seen at end A; sheet bends up (12) or down (6); one for all, or one each",
        ),
        key("neutral", Number, "place of the neutral axis from the inside as a part of the thickness").shown("0.4475"),
        BY,
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["part"]],
};

static FLATTENED: Form = Form {
    what: "an item of `flattened`",
    keys: &[
        key("part", Name(Thing::Part, Use::Flattened), "the tube"),
        key("end", TUBE_END, "which end"),
        key("length", Length, "length of the flat"),
        key("transition", Length, "length from the round tube to the flat"),
        key("faces", Clock, "clock position that the flat faces, looking at this end"),
        BY,
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["part"], &["length"]],
};

static OFFSETS: Form = Form {
    what: "an item of `offsets`",
    keys: &[
        key("place", Words, "what is placed").shown("left rail"),
        key("from", Name(Thing::Datum, Use::SetOutFrom), "the id of a datum of manual.yaml"),
        key("left", Away(Lateral::Left), "how far to the left"),
        key("right", Away(Lateral::Right), "how far to the right"),
        key("forward", Away(Lateral::Neither), "how far forward"),
        key("aft", Away(Lateral::Neither), "how far aft"),
        key("up", Away(Lateral::Neither), "how far up"),
        key("down", Away(Lateral::Neither), "how far down"),
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["place"], &["from"], &["left", "right", "forward", "aft", "up", "down"]],
};

static ONE_JIG: Form = Form {
    what: "`one-jig`",
    keys: &[
        key("face-up", FaceUp, "the face of the part that is up").shown("outer face"),
        key("opposite-face-up", OtherFaceUp, "the face that is up for the other hand, where it is not plain")
            .shown("inner face"),
        key("drilled-from", Word(&["above", "below"]), "from which side it is drilled").usual("above"),
    ],
    short: None,
    needs: &[&["face-up"]],
};

static TOOLS: Form = Form {
    what: "an item of `tools`",
    keys: &[key("tool", Name(Thing::Tool, Use::Needed), "the tool's id"), NOTE, ONLY],
    short: Some(Name(Thing::Tool, Use::Needed)),
    needs: &[&["tool"]],
};

static CONSUMABLES: Form = Form {
    what: "an item of `consumables`",
    keys: &[key("consumable", Name(Thing::Consumable, Use::Needed), "its id"), NOTE, ONLY],
    short: Some(Name(Thing::Consumable, Use::Needed)),
    needs: &[&["consumable"]],
};

static SAFETY: Form = Form {
    what: "an item of `safety`",
    keys: &[
        key("danger", Words, "will cause death or serious injury").shown("Stand clear of the left cable."),
        key("warning", Words, "could cause death or serious injury").shown("Stand clear of the left cable."),
        key("caution", Words, "could cause minor or moderate injury").shown("Cut ends are sharp."),
        key("notice", Words, "damage or practice, not injury").shown("Do not scratch the tube."),
        key("note", Words, "help").shown("The left one is shorter."),
        ONLY,
    ],
    short: None,
    needs: &[&["danger", "warning", "caution", "notice", "note"]],
};

static FIGURES: Form = Form {
    what: "an item of `figures`",
    keys: &[
        key("figure", Name(Thing::Figure, Use::Shown), "file name in the folder of figures"),
        key("alt", Words, "what a person who can't see it must know").shown("The left rail on its saddle."),
        key("caption", Words, "the line below it").shown("The left rail"),
        key("view", Words, "the view direction").shown("looking aft"),
        key("up", Words, "where up is on the paper").shown("top"),
        key("forward", Words, "where forward is on the paper").shown("left"),
        key("width", Length, "printed width"),
        key(
            "opposite",
            NameOr(&["same"], Thing::Figure, Use::ShownOpposite),
            "what an opposite step shows: another file, or `same`",
        )
        .usual("a drawing is mirrored, a photograph shown as it is"),
        key("crop", Crop, "the part that is shown: left, top, width and height in percent"),
        key("callouts", Items(&CALLOUTS), "numbered marks"),
        key("arrows", Items(&ARROWS), "arrows over the picture"),
        ONLY,
    ],
    short: Some(Name(Thing::Figure, Use::Shown)),
    needs: &[&["figure"]],
};

static CALLOUTS: Form = Form {
    what: "an item of `callouts`",
    keys: &[
        key("callout", Number, "its number").shown("1"),
        key("at", Point, "percent of the whole picture's width and height from its top left"),
        key("part", Name(Thing::Part, Use::PointedAt), "the part it points at"),
        key("hardware", Name(Thing::Hardware, Use::PointedAt), "the hardware it points at"),
        key("assembly", Name(Thing::Assembly, Use::PointedAt), "the assembly it points at"),
        key("text", Words, "what it says, where it points at no part").shown("left rail"),
        ONLY,
    ],
    short: None,
    needs: &[&["callout"], &["part", "hardware", "assembly", "text"]],
};

static ARROWS: Form = Form {
    what: "an item of `arrows`",
    keys: &[
        key("from", Point, "where it begins, in percent of the whole picture"),
        key("to", Point, "where its head is, in percent of the whole picture").shown("[60, 62]"),
        ONLY,
    ],
    short: None,
    needs: &[&["from"], &["to"]],
};

static MEASURE: Form = Form {
    what: "an item of `measure`",
    keys: &[
        key("measure", Words, "what is measured").shown("Gap at the left rail"),
        key("target", Measure, "the value required"),
        key("tolerance", Measure, "how far off it may be, either way").shown("1/32 in"),
        key("min", Measure, "the least value"),
        key("max", Measure, "the largest value"),
        NOTE,
        ONLY,
    ],
    short: None,
    needs: &[&["measure"], &["target", "min", "max"]],
};

static INSPECT: Form = Form {
    what: "an item of `inspect`",
    keys: &[
        key("inspect", Name(Thing::Assembly, Use::Inspected), "what is inspected; a later step `closes` it")
            .shown("left-bay"),
        key("look-for", Words, "what must be so").shown("No cable rubs on the left rail."),
        ONLY,
    ],
    short: None,
    needs: &[&["inspect"], &["look-for"]],
};

static ALREADY_BUILT: Form = Form {
    what: "an item of `if-already-built`",
    keys: &[
        key("release", Name(Thing::Release, Use::Since), "the letter of the release that changes the step"),
        key("inspect", Words, "what to look at first").shown("Look for a scratch on the left rail."),
        key("undo", Words, "what to take off or apart").shown("Take the left lug off."),
        key("redo", Words, "what to do again").shown("Fit the left lug again."),
        key(
            "send",
            Counted(Thing::Item, Use::Sent),
            "what is needed on top of what the change adds, as `2 x AN380-2-2`",
        ),
        ONLY,
    ],
    short: None,
    needs: &[&["release"], &["inspect", "undo", "redo"]],
};
