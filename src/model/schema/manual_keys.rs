//! The keys of `manual.yaml`, and of the pages of text.

use super::Holds::*;
use super::table_keys::KINDS;
use super::{Form, Holds, Key, Thing, Use, key};

/// `manual.yaml`.
pub static MANUAL: Form =
    Form { what: "manual.yaml", keys: MANUAL_KEYS, short: None, needs: &[&["title"], &["variants"], &["sections"]] };

static KIND: Holds = Word(&KINDS);

pub const TOOLS_KEY: &str = "tools";
pub const CONSUMABLES_KEY: &str = "consumables";

const MANUAL_KEYS: &[Key] = &[
    key("title", Words, "the product line").shown("Land yacht"),
    key("subtitle", Words, "a line below the title").shown("Build manual"),
    key("maker", Words, "who makes the kit").shown("Example Kits"),
    key("number", Plain, "the document number").shown("EK-1"),
    key("language", Plain, "the language of the manual").shown("en").usual("en"),
    key(
        "variants",
        Entries(&Name(Thing::Variant, Use::Named), &VARIANT_GROUP),
        "the models; the order is the order shown",
    ),
    key(
        "options",
        Entries(&Name(Thing::Option, Use::Named), &OPTION_GROUP_KEYS),
        "what a kit may carry besides its variant",
    ),
    key("option-groups", Items(&OPTION_GROUP), "groups of options"),
    key("configurations", Configuration(Use::Configured), "the configurations that are built")
        .usual("each variant alone"),
    key("serial", Number, "the current serial number, for `serial 100..149` where no kit is named").shown("104"),
    key("sections", Items(&SECTION), "the sections in build order"),
    key("units", Word(&["inch-fraction", "inch-decimal", "mm", "both"]), "how lengths are shown")
        .usual("inch-fraction"),
    key("paper", Word(&["letter", "a4"]), "the paper of all documents").usual("letter"),
    key("paper-thickness", Length, "of the paper that templates are printed on").shown("0.1 mm").usual("0.1 mm"),
    key("step-start", Word(&["where-it-fits", "new-page"]), "where steps start on paper").usual("where-it-fits"),
    key("duplex", YesNo, "whether paper is printed on both sides: the margin is wider at the fold, and a step of several pages begins on a left page").usual("no"),
    key("hatching", YesNo, "whether colours that a grey print can't tell apart become hatches and dashes").usual("yes"),
    key("hand-suffixes", Group(&HAND_SUFFIXES), "how part numbers of each hand end"),
    key("side-words", Entries(&Plain, &Plain), "pairs of side words beside left and right, port and starboard")
        .shown("{ babord: tribord }"),
    key("opposite-keep", Plain, "phrases that stay as they are in every opposite step").shown("[turn to the right]"),
    key("everyday-words", Entries(&Plain, &Plain), "words of this manual, and with commas between them what people also call it: the search of the pages takes either for the other, beside the words that are built in")
        .shown("{ dolly: \"bogie, carriage\" }"),
    key("fastening", Group(&FASTENING), "limits for joints and holes, and what a step deburrs, primes and seals with"),
    key("trade", Word(&["aircraft-inch", "metric-general"]), "the trade whose usual limits joints are held against; `fastening` sets each alone, and hardware with a published rule keeps it")
        .usual("the limits of inch aircraft practice"),
    key("friction", Group(&FRICTION), "lowest and highest friction of metric screws, for the most torque that they bear"),
    key(
        "joint-kinds",
        Entries(&Name(Thing::JointKind, Use::Named), &JOINT_KIND_GROUP),
        "kinds of joint by name: what each has in common; a joint names one with `kind`",
    )
    .shown("{ pivot: { under-nut: [AN960], nut: AN310, pin: AN380, turns: yes } }"),
    key("kerf", Length, "the saw's width").shown("1/16").usual("0"),
    key("datums", Entries(&Name(Thing::Datum, Use::Named), &Words), "what offsets are measured from, by id")
        .shown("{ keel-line: Centre line of the keel }"),
    key("bending", Group(&BENDING), "place of the neutral axis from the inside of a bend, as a part of the thickness"),
    key("telescoping", Group(&TELESCOPING), "limits of the clearance of tubes that slide"),
    key(
        "finish-thickness",
        Entries(&Plain, &Length),
        "thickness on each surface by finish, as the parts list names it",
    )
    .shown("{ primer and paint: .003 }"),
    key("spares", Entries(&KIND, &Spare), "spares by kind of hardware, a share of what the whole kit needs, rounded up; `nut` stands for every kind of nut")
        .shown("{ bolt: \"5 %, at least 2\", washer: 10 % }"),
    key("spares-bag", Plain, "the bag in which the spares lie").shown("S"),
    key("signal-words", Word(&["ansi", "aviation"]), "ansi (CAUTION is injury) or aviation (CAUTION is damage)")
        .usual("ansi"),
    key(TOOLS_KEY, Entries(&Name(Thing::Tool, Use::Named), &Words), "tools by id")
        .shown("{ drill-30: \"Drill bit, No. 30\" }"),
    key(CONSUMABLES_KEY, Entries(&Name(Thing::Consumable, Use::Named), &Words), "consumables by id")
        .shown("{ grease: Grease }"),
    key(
        "adhesives",
        Entries(&Name(Thing::Consumable, Use::Described), &ADHESIVE_GROUP),
        "what the maker of an adhesive says of it, under the id of the consumable",
    ),
    key("colours", Group(&COLOURS), "the one colour of the documents"),
    key("fonts", Group(&FONTS), "a typeface of the maker's own"),
    key("stick-size", Number, "how large the folder of a stick may be, in MB").shown("1000").usual("1000"),
    key(
        "levels",
        Entries(&Name(Thing::Rule, Use::Levelled), &Word(&["error", "warning", "hint", "question", "off"])),
        "levels of rules by id",
    )
    .shown("{ sentence-length: off }"),
    key("accept", Items(&ACCEPT), "findings that are accepted"),
];

static JOINT_KIND_GROUP: Holds = Group(&JOINT_KIND);
static ADHESIVE_GROUP: Holds = Group(&ADHESIVE);

static ADHESIVE: Form = Form {
    what: "an adhesive",
    keys: &[
        key("preparation", Words, "what is done to the faces before").shown("Degrease and abrade with 120 grit"),
        key("ratio", Plain, "resin to hardener").shown("100 to 45"),
        key("ratio-by", Word(&["weight", "volume"]), "how the ratio is measured"),
        key("least-temperature", Temperature, "below this it does not cure").shown("15 C"),
        key("pot-life", Period, "how long it can be worked after it is mixed").shown("30 min"),
        key("cures", Items(&CURES), "how long it cures, by temperature"),
        key("shelf-life", Plain, "how long it keeps").shown("12 months"),
        key("test-piece", Words, "what is glued besides and broken, to see that it has cured")
            .shown("Break two glued offcuts when the time is up"),
        key("protection", Words, "what protects the builder").shown("Gloves and glasses"),
    ],
    short: None,
    needs: &[],
};

static CURES: Form = Form {
    what: "an item of `cures`",
    keys: &[
        key("at", Temperature, "the temperature at which these times hold, and above it"),
        key("handling", Period, "until it may be handled, with no load on it").shown("12 h"),
        key("full", Period, "until it has its full strength").shown("7 d"),
    ],
    short: None,
    needs: &[&["at"], &["full"]],
};

static VARIANT_GROUP: Holds = Group(&VARIANT);
static OPTION_GROUP_KEYS: Holds = Group(&OPTION);

static VARIANT: Form = Form {
    what: "a variant",
    keys: &[
        key("title", Words, "the variant in words").shown("Beach model").usual("its name"),
        key(
            "based-on",
            Name(Thing::Variant, Use::BasedOn),
            "the variant whose quantities it takes over where its own are blank",
        ),
        key(
            "inherits-conditions",
            YesNo,
            "whether a condition that names the variant it is based on means this one too; `kitwright variant NAME` lists the places",
        )
        .usual("no; while it is not said, such places are a hint"),
        key("supported-only", YesNo, "yes for a variant that is no longer sold").usual("no"),
        key("figure", Name(Thing::Figure, Use::Shown), "a picture of it for the title page: a file name in the folder of figures"),
        key("alt", Words, "that picture in words, for people who can't see it"),
    ],
    short: None,
    needs: &[],
};

static OPTION: Form = Form {
    what: "an option",
    keys: &[
        key("title", Words, "the option in words").shown("Brake").usual("its name"),
        key("only", Condition, "the variants that may carry it").usual("all"),
        key("excludes", Name(Thing::Option, Use::Excluded), "options that can't go with it"),
        key("requires", Name(Thing::Option, Use::Required), "options that it needs"),
    ],
    short: None,
    needs: &[],
};

static OPTION_GROUP: Form = Form {
    what: "an option group",
    keys: &[
        key("title", Words, "the group in words").shown("Seats"),
        key("one-of", Name(Thing::Option, Use::Grouped), "exactly one of these"),
        key("at-most-one-of", Name(Thing::Option, Use::Grouped), "none or one of these"),
    ],
    short: None,
    needs: &[&["one-of", "at-most-one-of"]],
};

static SECTION: Form = Form {
    what: "a section",
    keys: &[
        key("section", Name(Thing::Section, Use::Named), "its id"),
        key("title", Words, "its title").shown("Frame").usual("its id"),
        key("intro", Words, "a sentence or two").shown("The frame is built upside down."),
        key(
            "hands",
            Word(&["together", "apart"]),
            "together: each step beside its opposite; apart: one hand after the other",
        )
        .usual("together"),
    ],
    short: None,
    needs: &[&["section"]],
};

static HAND_SUFFIXES: Form = Form {
    what: "`hand-suffixes`",
    keys: &[
        key("left", Plain, "the ending of a left part").shown("-L"),
        key("right", Plain, "the ending of a right part").shown("-R"),
    ],
    short: None,
    needs: &[&["left"], &["right"]],
};

/// A kind of joint. Nuts, washers and pins are named by their series; the sizes follow the bolt.
pub static JOINT_KIND: Form = Form {
    what: "a kind of joint",
    keys: &[
        key("under-head", Plain, "washers under the head: a series, as `AN960` or `2 x AN960`, or a designation")
            .shown("[AN960]"),
        key("under-nut", Plain, "washers under the nut, written the same way").shown("3 x AN960"),
        key("nut", Plain, "the nut: a series, whose size follows the bolt, or a designation").shown("AN310"),
        key("pin", Plain, "the cotter pin, by its series or designation").shown("AN380"),
        key("turns", YesNo, "yes where such a joint is a pivot").usual("no"),
        key(
            "clamps",
            Word(&["spacer", "inner race"]),
            "what head and nut clamp where the parts turn round it: then bolt and nut stand still",
        )
        .usual("nothing: in a joint that turns, bolt or nut turn with it"),
        key("critical", YesNo, "yes for steering, brakes, rig and whatever lives hang on").usual("no"),
        key("carries", Word(&["shear", "tension", "both"]), "what such a joint carries"),
        key("locked-by", Words, "what else locks a nut: a check nut, a lock washer, safety wire").shown("check nut"),
        key("into", Word(&["tapped hole", "threaded insert"]), "what the thread goes into in place of a nut"),
        key("torque", Torque, "the designer's value; `dry` or `greased` may stand behind it").shown("20..30 in-lb dry"),
        key("condition", Word(&["dry", "greased"]), "the state of the threads that the torque is for").usual("dry"),
        key("drag-included", YesNo, "yes where the designer's value includes the drag of a self-locking nut")
            .usual("no"),
        key("torque-reason", Words, "why the designer's value differs from the table, or where no table applies")
            .shown("The wall dents first."),
    ],
    short: None,
    needs: &[],
};

/// Lowest and highest friction, by the state of the threads.
pub static FRICTION: Form = Form {
    what: "`friction`",
    keys: &[
        key("dry", Plain, "lowest and highest of plated steel as supplied").shown("0.14..0.24").usual("0.14..0.24"),
        key("greased", Plain, "the same, greased").shown("0.08..0.16").usual("0.08..0.16"),
        key("stainless", Plain, "of stainless steel on stainless steel, dry").shown("0.14..0.35").usual("0.14..0.35"),
    ],
    short: None,
    needs: &[],
};

/// The limits that joints and holes are held against.
pub static FASTENING: Form = Form {
    what: "`fastening`",
    keys: &[
        key("threads-past-nut", Number, "least threads past the nut").shown("1").usual("1"),
        key("most-threads-past-nut", Number, "most threads past the nut").shown("3").usual("3"),
        key("most-washers", Number, "most washers under head and nut together").shown("3").usual("3"),
        key("thread-in-hole", Length, "how far a thread may reach into the hole").shown("1/32").usual("0"),
        key("edge", Number, "least distance from hole to edge, in diameters").shown("2").usual("2"),
        key("flush-edge", Number, "the same for flush heads, in diameters").shown("2.5").usual("2.5"),
        key("pitch", Number, "least distance from hole to hole, in diameters").shown("3").usual("3"),
        key("rows", Number, "least distance between the holes of two rows, in diameters").shown("2.5").usual("2.5"),
        key(
            "deburr-with",
            Name(Thing::Tool, Use::DeburrsWith),
            "a tool: a step that names it deburrs the holes it drills",
        ),
        key(
            "prime-with",
            Name(Thing::Consumable, Use::PrimesWith),
            "a consumable: a step that names it primes the holes it drills; then every hole is to be primed",
        ),
        key("seal-with", Name(Thing::Consumable, Use::SealsWith), "consumables that keep unlike metals apart")
            .usual("those with `seal`, `primer`, `jointing` or `barrier` in their titles"),
    ],
    short: None,
    needs: &[],
};

static BENDING: Form = Form {
    what: "`bending`",
    keys: &[
        key("sheet", Number, "for sheet").shown("0.4475").usual("0.4475"),
        key("tube", Number, "for tube, as a part of its diameter").shown("0.5").usual("0.5"),
    ],
    short: None,
    needs: &[],
};

static TELESCOPING: Form = Form {
    what: "`telescoping`",
    keys: &[
        key("tight", Length, "less clearance than this is tight").shown(".005").usual(".005 in"),
        key("loose", Length, "more clearance than this is loose").shown(".020").usual(".020 in"),
    ],
    short: None,
    needs: &[],
};

static COLOURS: Form = Form {
    what: "`colours`",
    keys: &[key("accent", Colour, "the colour").usual("\"#1f5f6b\"")],
    short: None,
    needs: &[],
};

static FONTS: Form = Form {
    what: "`fonts`",
    keys: &[key("body", File, "path of a font file for text").shown("fonts/own.ttf")],
    short: None,
    needs: &[],
};

/// An acceptance, in `manual.yaml` or in the file of a step or a page.
pub static ACCEPT: Form = Form {
    what: "an acceptance",
    keys: &[
        key("rule", Name(Thing::Rule, Use::Accepted), "the rule's id, as the finding shows it"),
        key("about", Plain, "the thing that the finding is about").shown("KW-102").usual("anything"),
        key("reason", Plain, "why it is right as it is").shown("Measured on the first kit."),
    ],
    short: None,
    needs: &[&["rule"], &["reason"]],
};

/// The front matter of a page of text.
pub static PAGE: Form = Form {
    what: "a page",
    keys: &[
        key(
            "page",
            Word(&[
                "how-to-use",
                "safety",
                "standards",
                "terms",
                "builder",
                "workplace",
                "final-inspection",
                "tests",
                "further",
            ]),
            "which page the text is for",
        ),
        key("title", Words, "a title in place of the usual one").shown("Before you begin"),
        key("only", Condition, "where the page applies").usual("everywhere"),
        key("accept", Items(&ACCEPT), "findings in this file that are accepted, with a reason"),
    ],
    short: None,
    needs: &[&["page"]],
};
