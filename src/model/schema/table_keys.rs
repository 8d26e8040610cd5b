//! The columns of the tables.

use super::Holds::*;
use super::{Key, Thing, Use, key};

/// A table of the manual.
#[derive(Debug)]
pub struct TableForm {
    /// Its name: of `parts.csv`, or of the sheet of a workbook.
    pub name: &'static str,
    pub columns: &'static [Key],
    /// Columns that must be there.
    pub needs: &'static [&'static str],
    /// In the reference, behind the name of the file.
    pub more: &'static str,
    /// Whether there may be a column for each variant and option.
    pub counts: bool,
}

/// All tables.
pub static TABLES: [&TableForm; 6] = [&PART_ROWS, &HARDWARE_ROWS, &STOCK_ROWS, &HOLE_ROWS, &KIT_ROWS, &SHIPPED_ROWS];

/// The parts list; besides these columns one for each variant and option.
pub static PART_ROWS: TableForm = TableForm {
    name: "parts",
    more: ", and one column for each variant and option",
    counts: true,
    needs: &["number", "name"],
    columns: &[
        key("number", Name(Thing::Part, Use::Named), "the part's number"),
        key("name", Words, "what it is").shown("left rail"),
        key("hand", Hand, "left or right"),
        key("opposite", Name(Thing::Part, Use::OppositeOf), "the number of the same part for the other hand"),
        key("material", Plain, "what it is made of").shown("6061-T6"),
        key("stock", Name(Thing::Stock, Use::MadeOf), "the line of stock.csv that it is cut from"),
        key("cut length", Length, "finished length"),
        key("as supplied", Supplied, "its state in the crate: cut; uncut; blank 48 in; pilot holes A, B; holes C; finished; assembled"),
        key("blank length", Length, "the length in which it is supplied"),
        key("bin", Plain, "where the shop keeps it").shown("R3"),
        key("crate", Plain, "the crate it ships in").shown("1"),
        key("bag", Plain, "the bag the builder finds it in").shown("F2"),
        key("area", Plain, "the area of the craft").shown("frame"),
        key("finish", Plain, "paint, anodizing, plating").shown("primer and paint"),
        key("weight", Weight, "its weight"),
        key("made by", Word(&["maker", "builder", "bought"]), "who makes it").usual("maker"),
        key("cut from", Name(Thing::Part, Use::CutFrom), "the part that this piece is cut out of"),
        key("replaced by", Name(Thing::Part, Use::ReplacedBy), "the number of the part that is supplied in its place, where this one is no longer made"),
        key("interchangeable", Plain, "`both ways since B` or `new for old since B`, where the part differs from what release B shipped under this number")
            .shown("both ways since B"),
        key("when removed", Word(&["keep", "return", "scrap"]), "what becomes of it when a conversion takes it off").usual("keep"),
        key("called", Plain, "a name that steps may use in place of the number, for the parts that do the same in different variants: exactly one in each variant and for each hand, by their quantities in the columns of the variants")
            .shown("left rail"),
        key("note", Words, "a remark, shown wherever the part is looked for").shown("Handle with care."),
    ],
};

/// The kinds of hardware.
pub(super) static KINDS: [&str; 25] = [
    "bolt",
    "screw",
    "plain nut",
    "castle nut",
    "check nut",
    "elastic nut",
    "all-metal nut",
    "nut",
    "washer",
    "solid rivet",
    "blind rivet",
    "clevis pin",
    "cotter pin",
    "eyebolt",
    "turnbuckle",
    "cable",
    "cable fitting",
    "sleeve",
    "thimble",
    "clamp",
    "bearing",
    "hook",
    "spring",
    "tape",
    "other",
];

/// The hardware list.
pub static HARDWARE_ROWS: TableForm = TableForm {
    name: "hardware",
    more: "",
    counts: false,
    needs: &["designation"],
    columns: &[
        key("designation", Name(Thing::Hardware, Use::Named), "the standard designation, or the maker's own"),
        key("name", Words, "what it is").shown("bolt"),
        key(
            "kind",
            Word(&KINDS),
            "screw: threaded to its head; elastic nut: self-locking with an insert; nut alone where a standard designation says which",
        )
        .usual("other"),
        key("unit", Word(&["each", "ft", "lb"]), "what is counted").usual("each"),
        key("bin", Plain, "where the shop keeps it").shown("H4"),
        key("bag", Plain, "the bag the builder finds it in").shown("F2"),
        key("crate", Plain, "the crate it ships in").shown("1"),
        key("thread", Plain, "the thread").shown("10-32"),
        key("diameter", Length, "shank or wire diameter"),
        key("length", Length, "length"),
        key("grip", Length, "grip; of a blind rivet the largest"),
        key("least grip", Length, "the smallest grip of a blind rivet"),
        key("thickness", Length, "of a washer"),
        key("height", Length, "of a nut; like any measure here with `(from memory)` behind it where nothing was looked up: then it warns and never fails a build"),
        key("hole", Drill, "the drill for its hole"),
        key("reamer", Drill, "the reamer for its hole, where it is reamed"),
        key("material", Plain, "what it is made of").shown("steel"),
        key("class", Plain, "property class of metric hardware, as it is marked: 8.8, 8, A4-70").shown("8.8"),
        key("strength", Measure, "the load that it bears without giving, as its maker says it, in place of that of its class")
            .shown("9000 N"),
        key("one use", YesNo, "yes where it is never used again once taken off").usual("no; of a cotter pin yes"),
        key("replaced by", Name(Thing::Hardware, Use::ReplacedBy), "the designation of what is supplied in its place, where this one is no longer bought"),
        key("note", Words, "a remark").shown("Keep dry."),
    ],
};

/// The stock list.
pub static STOCK_ROWS: TableForm = TableForm {
    name: "stock",
    more: "",
    counts: false,
    needs: &["stock"],
    columns: &[
        key("stock", Name(Thing::Stock, Use::Named), "its id"),
        key("material", Plain, "what it is made of").shown("6061-T6"),
        key(
            "shape",
            Word(&["round tube", "square tube", "bar", "angle", "sheet", "cable", "fabric", "other"]),
            "its shape",
        )
        .usual("other"),
        key("outside diameter", Length, "of a tube or bar"),
        key("wall", Length, "of a tube; of a sheet its thickness"),
        key("bar length", Length, "as bought").shown("12 ft"),
        key("cost", Plain, "for one bar").shown("84.00"),
        key("note", Plain, "a remark").shown("Order in spring."),
    ],
};

/// The list of holes.
pub static HOLE_ROWS: TableForm = TableForm {
    name: "holes",
    more: ", where parts come with holes or holes have a place",
    counts: false,
    needs: &["part", "hole"],
    columns: &[
        key(
            "part",
            Name(Thing::Part, Use::Drilled),
            "the part's number; where its opposite has no rows of its own they apply to both",
        ),
        key(
            "hole",
            Name(Thing::Hole, Use::HoleName),
            "the hole's name, as in the column as supplied of parts.csv and in the steps",
        )
        .shown("lug"),
        key("count", Count, "how many holes of one piece this row stands for").usual("1"),
        key("size", Drill, "how large they come, as a drill; empty for holes that a step drills"),
        key("along", Length, "from end A of a tube, or from the left edge, to the middle of the first"),
        key("across", Length, "from the lower edge to their middle; on a tube around its outside from the datum line"),
        key("pitch", Length, "from the middle of a hole of the row to that of the next"),
        key("edge", Length, "least distance from the middle of any of them to an edge of the part"),
        key("note", Words, "a remark").shown("Drill upright."),
    ],
};

/// The kit register.
pub static KIT_ROWS: TableForm = TableForm {
    name: "kits",
    more: "",
    counts: false,
    needs: &["serial", "configuration"],
    columns: &[
        key("serial", Number, "the kit's serial number").shown("104"),
        key("configuration", Configuration(Use::Registered), "what was shipped, as `VARIANT+option+option`"),
        key("release", Name(Thing::Release, Use::Since), "the letter of the release that was shipped"),
        key("date", Date, "when it was shipped"),
        key("status", Plain, "a word of the maker's").shown("building"),
        key("answered", Plain, "notices that the builder has answered").shown("B 2026-03-01; lot 4711"),
    ],
};

/// The list of what was shipped otherwise.
pub static SHIPPED_ROWS: TableForm = TableForm {
    name: "shipped",
    more: "",
    counts: false,
    needs: &["serial", "item", "what"],
    columns: &[
        key("serial", Number, "the kit's serial number").shown("104"),
        key("item", Name(Thing::Item, Use::Shipped), "the part number or designation that it is about"),
        key(
            "what",
            Word(&["substituted", "lot", "back order", "sent later", "sent in addition"]),
            "what differs in the kit",
        ),
        key("with", Name(Thing::Item, Use::PutInPlace), "the part number or designation that was put in its place"),
        key("where", Plain, "the joints, each as `STEP/JOINT`, or the steps that it is about, joined by `;`")
            .shown("join-keel/lug-bolt")
            .usual("everywhere in the kit"),
        key("quantity", Count, "how many").usual("all of them"),
        key(
            "approved",
            Plain,
            "of a substitution, who allowed it, the reference and the date; without them it does not count",
        )
        .shown("M. Orr, D-31, 2026-03-02"),
        key("lot", Plain, "the number of the lot it came from").shown("4711"),
        key("release", Name(Thing::Release, Use::Since), "the letter of the release under which it was sent"),
        key("date", Date, "when it was sent"),
        key("expected", Date, "when what is on back order is expected to follow"),
        key("note", Words, "a remark for the builder").shown("The maker agrees."),
    ],
};
