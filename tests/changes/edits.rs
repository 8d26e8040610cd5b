//! Edits of every kind that an author may do to the manual of `letters`.

use kitwright::model::schema::{Holds, Key, STEP, TABLES, Thing, Use};
use kitwright::source::{Files as _, Memory};

/// Something that an author may do.
pub struct Case {
    pub kind: String,
    pub work: Box<dyn Fn(&mut Memory) + Sync + Send>,
}

fn case(kind: impl Into<String>, work: impl Fn(&mut Memory) + Sync + Send + 'static) -> Case {
    Case { kind: kind.into(), work: Box::new(work) }
}

/// Another value for each column of each table of the manual, in its first row: columns come from the schema, so that a
/// new one is tried on its first day.
fn cells() -> Vec<Case> {
    let mut all = Vec::new();
    let of_the_manual = TABLES.iter().filter(|t| !matches!(t.name, "kits" | "shipped"));
    for table in of_the_manual {
        for column in table.columns {
            let named = matches!(column.holds, Holds::Name(_, Use::Named));
            if !named {
                let name = format!("{}.csv", table.name);
                all.push(case(format!("{name} {}", column.name), move |files| put_cell(files, &name, column)));
            }
        }
    }
    all
}

/// Writes another value into the first row that has one, else into the first one; the column is added where it lacks.
fn put_cell(files: &mut Memory, name: &str, column: &Key) {
    let text = files.read(name).expect("the table is there");
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(&text[..]);
    let mut head: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
    let mut rows: Vec<Vec<String>> =
        reader.records().map(|r| r.expect("a row").iter().map(str::to_owned).collect()).collect();
    let at = head.iter().position(|h| h == column.name).unwrap_or_else(|| {
        head.push(column.name.to_owned());
        head.len() - 1
    });
    rows.iter_mut().for_each(|row| row.resize(head.len(), String::new()));
    let row = rows.iter().position(|row| !row[at].is_empty()).unwrap_or(0);
    let old = rows[row][at].clone();
    rows[row][at] = match column.holds {
        Holds::Name(Thing::Stock, _) => if old == "PLATE-1/8" { "SHEET-1" } else { "PLATE-1/8" }.to_owned(),
        Holds::Name(Thing::Part, _) => "GT-107".to_owned(),
        Holds::Name(Thing::Hardware, _) => "ISO 7089 12".to_owned(),
        Holds::Word(words) => words.iter().find(|w| **w != old).expect("more than one").to_string(),
        Holds::Words | Holds::Plain => format!("{old} more").trim().to_owned(),
        _ if old == column.example() => "5".to_owned(),
        _ => column.example().trim_matches('"').to_owned(),
    };
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&head).expect("memory takes all");
    rows.iter().for_each(|row| writer.write_record(row).expect("memory takes all"));
    files.insert(name, writer.into_inner().expect("memory takes all"));
}

/// Each plain key of a step that the step for the wheels lacks, with the example of the schema.
fn keys() -> Vec<Case> {
    let there = ["step", "title", "section", "sign-off"];
    let plain = STEP.keys.iter().filter(|k| !there.contains(&k.name) && !k.example().is_empty());
    let mut all = Vec::new();
    for key in plain {
        let line = match key.holds {
            Holds::Items(_) | Holds::Group(_) | Holds::Entries(..) => continue,
            _ => format!("{}: {}\n", key.name, key.example()),
        };
        all.push(case(format!("step key {}", key.name), move |files| {
            let path = "steps/running-gear/20-wheels.md";
            let text = String::from_utf8(files.read(path).expect("there")).expect("UTF-8");
            let kept: Vec<&str> =
                text.lines().filter(|l| !l.starts_with(&line[..line.find(':').unwrap_or(0) + 1])).collect();
            let text = kept.join("\n") + "\n";
            files.insert(path, text.replacen("section: running-gear\n", &format!("section: running-gear\n{line}"), 1));
        }));
    }
    all
}

const HANDLE: &str = "steps/frame/10-handle.md";
const BOARD: &str = "steps/frame/20-board.md";
const BRACE: &str = "steps/frame/30-brace.md";
const ANGLE: &str = "steps/frame/40-angle.md";
const AXLE: &str = "steps/running-gear/10-axle.md";
const WHEELS: &str = "steps/running-gear/20-wheels.md";
const BRAKE: &str = "steps/running-gear/30-brake.md";

/// One place of one file, and what is written in its stead: kind, file, before, after.
const PLACES: &[(&str, &str, &str, &str)] = &[
    ("a word of a list", HANDLE, "1. Mark end B of the tube.", "1. Mark end B of the long tube."),
    ("a line of a list more", HANDLE, "2. Saw square", "2. Look twice.\n2. Saw square"),
    ("a line of a list less", AXLE, "3. Screw both clamps on, but not tight yet.\n", ""),
    (
        "lines in another order",
        WHEELS,
        "1. Grease the axle ends.\n2. On each end, put on a washer, a wheel and a second washer.\n",
        "1. On each end, put on a washer, a wheel and a second washer.\n2. Grease the axle ends.\n",
    ),
    ("a text for one variant", HANDLE, "The tall handle bends more", "The tall handle bends much more"),
    ("a condition on a text", HANDLE, "<!-- only: TALL -->", "<!-- only: PLAIN -->"),
    (
        "a condition more on a text",
        BOARD,
        "1. Stand the handle",
        "<!-- only: TALL -->\nMind the height.\n<!-- end only -->\n\n1. Stand the handle",
    ),
    ("emphasis", BOARD, "3. Tighten the nuts in turn.", "3. Tighten the nuts **in turn**."),
    ("white space in a text", BOARD, "3. Tighten the nuts in turn.", "3.  Tighten the nuts\n   in turn."),
    ("a cell of a table in a text", ANGLE, "| short | 1 in |", "| short | 1.5 in |"),
    ("a heading of a table in a text", ANGLE, "| Side | Length |", "| Side | How long |"),
    ("a row of a table in a text", ANGLE, "| long | 2 in |\n", ""),
    ("a footnote", ANGLE, "Wood is best.", "Hard wood is best."),
    ("a code block", ANGLE, "Bend it over", "```\nup\n```\n\nBend it over"),
    ("a quotation", ANGLE, "Bend it over", "> As it was said.\n\nBend it over"),
    ("a heading in a text", ANGLE, "Bend it over", "## The bend\n\nBend it over"),
    ("a safety message in a text", ANGLE, "Bend it over", "> **CAUTION** The edge is sharp.\n\nBend it over"),
    ("the words of a link", HANDLE, "[left bracket](part:GT-102-L)", "[near bracket](part:GT-102-L)"),
    ("where a link leads", HANDLE, "[left bracket](part:GT-102-L)", "[left bracket](part:GT-102-R)"),
    ("a link to another step", BRACE, "[](step:handle)", "[](step:board)"),
    ("a title that others refer to", HANDLE, "title: Cut the handle and fit its brackets", "title: Cut the handle"),
    ("a title", WHEELS, "title: Put the wheels on", "title: Put both wheels on"),
    ("the section of a step", ANGLE, "section: frame", "section: running-gear"),
    ("a condition on a step", BRAKE, "only: brake", "only: brake or TALL"),
    ("a step for one variant", ANGLE, "section: frame\n", "section: frame\nonly: TALL\n"),
    ("a condition lifted", BRAKE, "only: brake\n", ""),
    ("the order", ANGLE, "section: frame\n", "section: frame\nafter: [brace]\n"),
    ("the order before all", HANDLE, "section: frame\n", "section: frame\nafter: [angle]\n"),
    ("what is made", BOARD, "makes: [frame]", "makes: [corner]"),
    ("a quantity of a part", WHEELS, "2 x GT-107", "3 x GT-107"),
    ("a note at a part", AXLE, "  - GT-103\n", "  - { part: GT-103, note: clean }\n"),
    ("what is done with a part", AXLE, "  - GT-103\n", "  - { part: GT-103, do: trial fit }\n"),
    ("a part more", BOARD, "  - GT-101\n", "  - GT-101\n  - GT-107\n"),
    ("a part less", AXLE, "  - GT-103\n", ""),
    ("a part for one variant", AXLE, "  - GT-103\n", "  - { part: GT-103, only: TALL }\n"),
    ("a quantity of hardware", WHEELS, "4 x ISO 7089 12", "6 x ISO 7089 12"),
    ("hardware more", WHEELS, "  - 4 x ISO 7089 12\n", "  - 4 x ISO 7089 12\n  - 2 x ISO 7089 6\n"),
    ("hardware less", WHEELS, "  - 2 x ISO 1234 3.2x25\n", ""),
    ("places of a joint", AXLE, "places: 4", "places: 6"),
    ("the fastener of a joint", AXLE, "fastener: ISO 4017 M6x30", "fastener: ISO 4017 M6x45"),
    ("a torque", AXLE, "torque: 20..25 in-lb", "torque: 20..26 in-lb"),
    ("a torque in other words", AXLE, "torque: 20..25 in-lb", "torque: 20 .. 25 in-lb"),
    (
        "the reason of a torque",
        AXLE,
        "Until the washer begins to sink into the wood.",
        "Until the washer sinks into the wood.",
    ),
    ("a stack", AXLE, "stack: [GT-101, GT-104]", "stack: [GT-101, GT-104, GT-104]"),
    ("a washer", AXLE, "under-nut: [ISO 7089 6]", "under-nut: [2 x ISO 7089 6]"),
    ("the length of a cut", BRACE, "cut: square, length: 20 }", "cut: square, length: 20 1/8 }"),
    ("a length in other words", BRACE, "cut: square, length: 20 }", "cut: square, length: 20.0 in }"),
    ("the angle of a saddle", BRACE, "onto: GT-105, angle: 60,", "onto: GT-105, angle: 55,"),
    (
        "where a saddle is longest",
        BRACE,
        "onto: GT-106, angle: 60, long-point: 12",
        "onto: GT-106, angle: 60, long-point: 3",
    ),
    ("who makes a cut", BRACE, "cut: square, length: 20 }", "cut: square, length: 20, by: maker }"),
    ("an angle of a bend", ANGLE, "angle: 90", "angle: 80"),
    ("the radius of a bend", ANGLE, "radius: 1/8", "radius: 3/16"),
    (
        "a drill",
        HANDLE,
        "from: GT-102-L, drill: 6.5 mm, for: ISO 4017 M6x45, only: PLAIN }",
        "from: GT-102-L, drill: 6.6 mm, for: ISO 4017 M6x45, only: PLAIN }",
    ),
    ("a tool more", WHEELS, "tools: [tape, pliers]", "tools: [tape, pliers, marker]"),
    ("a tool in other words", WHEELS, "tools: [tape, pliers]", "tools:\n  - tape\n  - pliers"),
    ("a consumable less", WHEELS, "consumables: [grease]\n", ""),
    ("a safety message", WHEELS, "A wheel that comes off throws the load.", "A wheel that comes off throws its load."),
    ("a signal word", WHEELS, "  - warning: A wheel", "  - caution: A wheel"),
    ("the caption of a figure", AXLE, "caption: Axle and clamps from behind", "caption: Axle and clamps"),
    ("the alternative text of a figure", AXLE, "alt: Seen from behind, the axle", "alt: From behind, the axle"),
    ("the view of a figure", AXLE, "view: looking forward", "view: looking aft"),
    ("the width of a figure", AXLE, "width: 4 in", "width: 3 in"),
    ("the place of a callout", AXLE, "at: [50, 25]", "at: [50, 27]"),
    ("the target of a callout", AXLE, "at: [24, 52], part: GT-104", "at: [24, 52], part: GT-103"),
    ("a callout less", AXLE, "      - { callout: 3, at: [24, 52], part: GT-104 }\n", ""),
    ("a crop", AXLE, "    width: 4 in\n", "    width: 4 in\n    crop: [0, 0, 100, 80]\n"),
    ("a measure", WHEELS, "max: 1/16", "max: 3/32"),
    ("a tolerance", BOARD, "tolerance: 1 deg", "tolerance: 2 deg"),
    ("who signs", WHEELS, "sign-off: [builder]", "sign-off: [builder, helper]"),
    (
        "an inspection",
        WHEELS,
        "sign-off: [builder]",
        "inspect:\n  - { inspect: chassis, look-for: all nuts tight }\nsign-off: [builder]",
    ),
    ("the hours", WHEELS, "hours: 0.25", "hours: 0.5"),
    ("hours in other words", WHEELS, "hours: 0.25", "hours: 1/4"),
    ("a remark in a step", WHEELS, "hours: 0.25", "hours: 0.25 # a guess"),
    (
        "what older kits do",
        WHEELS,
        "hours: 0.25",
        "hours: 0.25\nif-already-built:\n  - { release: B, inspect: the pins }",
    ),
    (
        "an accepted finding",
        WHEELS,
        "hours: 0.25",
        "hours: 0.25\naccept:\n  - { rule: sentence-length, reason: Short enough. }",
    ),
    ("the title of a tool", "manual.yaml", "pliers: Pliers", "pliers: Flat pliers"),
    ("a tool that nobody names", "manual.yaml", "  pliers: Pliers", "  pliers: Pliers\n  saw: Saw"),
    ("the title of a consumable", "manual.yaml", "grease: Waterproof grease", "grease: Sea grease"),
    ("the title of a section", "manual.yaml", "title: Running gear", "title: Wheels and axle"),
    ("the opening of a section", "manual.yaml", "Everything else hangs on it.", "All else hangs on it."),
    ("how lengths are shown", "manual.yaml", "units: inch-fraction", "units: both"),
    ("the kerf", "manual.yaml", "kerf: 1/16", "kerf: 1/8"),
    ("the maker", "manual.yaml", "maker: Your workshop", "maker: My workshop"),
    ("the title of a variant", "manual.yaml", "title: Garden trolley with a tall handle", "title: Tall trolley"),
    ("the signal words", "manual.yaml", "kerf: 1/16", "kerf: 1/16\nsignal-words: aviation"),
    ("a limit of joints", "manual.yaml", "deburr-with: deburrer", "deburr-with: deburrer, most-washers: 2"),
    ("a setting in other words", "manual.yaml", "maker: Your workshop", "maker: \"Your workshop\""),
    ("a page around the steps", "pages/safety.md", "Wear gloves.", "Wear gloves and goggles."),
    // The part is redesigned under the same number, and nobody touches a step.
    (
        "a part of another stock",
        "parts.csv",
        "GT-105,Handle tube,,,6061-T6,TUBE-1,32",
        "GT-105,Handle tube,,,6061-T6,TUBE-2,32",
    ),
    ("a part of another length", "parts.csv", "TUBE-1,20,blank 22 in", "TUBE-1,20 1/4,blank 22 in"),
    ("a thicker sheet", "stock.csv", "SHEET-1,5052-H32,sheet,,.063", "SHEET-1,5052-H32,sheet,,.080"),
    ("a larger tube", "stock.csv", "TUBE-1,6061-T6,round tube,1,.058", "TUBE-1,6061-T6,round tube,1 1/8,.058"),
    ("a bin", "parts.csv", "1,0,A4,1,,builder", "1,0,A9,1,,builder"),
    (
        "a quantity of a variant",
        "parts.csv",
        "GT-107,Wheel,,,Steel and rubber,,,finished,2,,",
        "GT-107,Wheel,,,Steel and rubber,,,finished,2,3,",
    ),
];

pub fn cases() -> Vec<Case> {
    let mut all: Vec<Case> = PLACES
        .iter()
        .map(|&(kind, path, old, new)| case(kind, move |files: &mut Memory| edit_first(files, path, old, new)))
        .collect();
    all.push(case("another picture", |files| {
        edit_first(files, "figures/axle.svg", "</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>")
    }));
    all.push(case("a picture under another name", |files| {
        let bytes = files.read("figures/axle.svg").expect("there");
        files.insert("figures/behind.svg", bytes);
        files.remove("figures/axle.svg");
        let text = String::from_utf8(files.read(AXLE).expect("there")).expect("UTF-8");
        files.insert(AXLE, text.replace("axle.svg", "behind.svg"));
    }));
    all.push(case("a step more", |files| {
        files.insert("steps/frame/15-look.md", "---\nstep: look\ntitle: Look at it\nsection: frame\n---\n\n1. Look.\n");
    }));
    all.push(case("a step less", |files| assert!(files.remove(ANGLE))));
    all.push(case("a step in another file", |files| {
        let bytes = files.read(ANGLE).expect("there");
        files.remove(ANGLE);
        files.insert("steps/frame/05-angle.md", bytes);
    }));
    all.push(case("a step of another name", |files| edit_first(files, ANGLE, "step: angle", "step: bend")));
    all.push(case("a part of another number", |files| {
        for entry in files.clone().list().expect("listed") {
            if entry.path.ends_with(".md") || entry.path.ends_with(".csv") && !entry.path.starts_with("releases/") {
                let text = String::from_utf8(files.read(&entry.path).expect("there")).expect("UTF-8");
                files.insert(entry.path, text.replace("GT-107", "GT-207"));
            }
        }
    }));
    all.push(case("a page more", |files| files.insert("pages/terms.md", "---\npage: terms\n---\n\nA brace braces.\n")));
    all.push(case("a template of the manual's own", |files| {
        files.insert("templates/style.css", "h1 { color: #123456 }")
    }));
    all.push(case("a kit more", |files| {
        files.insert("kits.csv", "serial,configuration,release\n1,PLAIN,A\n9,TALL,A\n")
    }));
    all.push(case("nothing", |_| ()));
    all.extend(cells());
    all.extend(keys());
    all
}

/// Replaces the first place where `old` stands.
pub fn edit_first(files: &mut Memory, path: &str, old: &str, new: &str) {
    let text = String::from_utf8(files.read(path).expect("it is there")).expect("UTF-8");
    assert!(text.contains(old), "`{old}` in {path}");
    files.insert(path, text.replacen(old, new, 1));
}
