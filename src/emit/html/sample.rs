//! A document that holds every kind of block and every kind of inline, for the tests of the pages.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::*;
use crate::figure::{FigureFile, FigureKind};
use crate::units::{Angle, FigureName, Hand, Length, Measure, Quantity, StepStart, UnitStyle};

pub fn text(text: &str) -> Inlines {
    vec![Inline::text(text)]
}

pub fn block(kind: BlockKind) -> Block {
    Block { kind, origin: Origin::default(), anchor: None }
}

pub fn paragraph(words: &str) -> Block {
    block(BlockKind::Paragraph(text(words)))
}

fn named(kind: BlockKind, anchor: Anchor) -> Block {
    Block { anchor: Some(anchor), ..block(kind) }
}

fn item(inlines: Inlines) -> ListItem {
    ListItem { tick: false, blocks: vec![block(BlockKind::Paragraph(inlines))] }
}

fn group(role: &'static str, title: &str, blocks: Vec<Block>) -> Block {
    block(BlockKind::Group(Group { role, title: text(title), blocks }))
}

fn safety(word: SafetyWord, words: &str) -> Block {
    block(BlockKind::Safety { word, blocks: vec![paragraph(words)] })
}

fn column(title: &str, align: CellAlign) -> Column {
    Column { title: text(title), align, width: Width::Fit, kind: ColumnKind::Plain }
}

fn names(title: &str) -> Column {
    Column { kind: ColumnKind::Name, ..column(title, CellAlign::Start) }
}

fn row(anchor: Option<Anchor>, cells: Vec<Inlines>) -> TableRow {
    let cells = cells.into_iter().map(|content| TableCell { content, span: 1 }).collect();
    TableRow { cells, anchor, origin: Origin::default() }
}

fn subheading(words: &str, over: u8) -> TableRow {
    TableRow { cells: vec![TableCell { content: text(words), span: over }], anchor: None, origin: Origin::default() }
}

pub fn leaf(role: LeafRole, name: &str, number: Option<&str>, title: &str, blocks: Vec<Block>) -> Leaf {
    Leaf {
        anchor: Anchor::new(if role == LeafRole::Step { "step" } else { "page" }, name),
        role,
        number: number.map(Arc::from),
        title: text(title),
        parent: None,
        blocks,
    }
}

fn below(parent: &str, leaf: Leaf) -> Leaf {
    Leaf { parent: Some(Anchor::new("page", parent)), ..leaf }
}

pub fn meta() -> Meta {
    Meta {
        title: "Sample land yacht".into(),
        subtitle: "Three wheels, one sail".into(),
        maker: "Example Kit Works".into(),
        number: "EX-100".into(),
        configuration: "SAND+brake".into(),
        variant_and_options: "SAND+brake".into(),
        kit: "".into(),
        configuration_title: "Sand yacht on wheels with hand brake".into(),
        release: "Revision C, 2026-03-02".into(),
        language: "en".into(),
        units: UnitStyle::Both,
        paper: Paper::Letter,
        step_start: StepStart::NewPage,
        duplex: false,
        hatching: true,
        accent: 0x2f6f73,
        font: None,
    }
}

pub fn document() -> Document {
    let leaves = vec![
        title(),
        leaf(LeafRole::Contents, "contents", None, "Contents", vec![contents()]),
        leaf(LeafRole::Text, "safety", None, "Safety and limits", safety_page()),
        section("frame", "1", "Main frame"),
        below("frame", step()),
        below("frame", plain_step()),
        section("steering", "2", "Steering"),
        leaf(LeafRole::Index, "parts", None, "Parts", vec![index()]),
        leaf(LeafRole::Results, "results", None, "Measured results", vec![measures()]),
        leaf(LeafRole::Card, "card", Some("1.1"), "Pick list", vec![pick_list()]),
    ];
    Document {
        purpose: Purpose::Manual,
        name: "Build manual".into(),
        meta: meta(),
        leaves,
        bars: crate::document::Bars::default(),
    }
}

fn title() -> Leaf {
    let field = |label: &str, value: &str| Field { label: text(label), value: text(value) };
    let fields = BlockKind::Fields(vec![
        field("For", "Sand yacht on wheels with hand brake"),
        field("Document", "EX-100"),
        field("Issue", "Revision C, 2026-03-02"),
        field("Maker", "Example Kit Works"),
    ]);
    let blocks =
        vec![paragraph("Three wheels, one sail. Read the safety page before you open a crate."), block(fields)];
    leaf(LeafRole::Title, "title", None, "Sample land yacht", blocks)
}

fn contents() -> Block {
    let entry = |level, number: Option<&str>, title: &str, to| ContentsEntry {
        level,
        number: number.map(Arc::from),
        title: text(title),
        to,
    };
    block(BlockKind::Contents(vec![
        entry(1, None, "Safety and limits", Anchor::new("page", "safety")),
        entry(1, Some("1"), "Main frame", Anchor::new("page", "frame")),
        entry(2, Some("1.1"), "Fit the mast foot", Anchor::new("step", "mast-foot")),
        entry(2, Some("1.2"), "Deburr the keel tube", Anchor::new("step", "Deburr")),
        entry(1, Some("2"), "Steering", Anchor::new("page", "steering")),
        entry(1, None, "Parts", Anchor::new("page", "parts")),
    ]))
}

fn safety_page() -> Vec<Block> {
    let mut linked = text("Write to ");
    linked.push(Inline::Outside { to: "mailto:shop@example.org".into(), content: text("the maker") });
    linked.push(Inline::text(" when something is unclear"));
    linked.push(Inline::FootnoteMark(1));
    linked.push(Inline::text(". "));
    linked.push(Inline::Outside { to: "javascript:alert(1)".into(), content: text("No link") });
    linked.push(Inline::text("."));
    vec![
        safety(
            SafetyWord::Danger,
            "A yacht on its side in wind rights itself without warning. Let the sheet go before you lift the hull.",
        ),
        safety(SafetyWord::Warning, "Aluminium chips cut. Wear goggles when you drill."),
        safety(SafetyWord::Caution, "The sheet edge is sharp. Wear gloves until it is deburred."),
        safety(SafetyWord::Notice, "Steel wool leaves rust in aluminium. Use the nylon pad."),
        safety(SafetyWord::Note, "Keep the offcuts: later steps use them."),
        block(BlockKind::Heading { level: 2, number: None, text: text("Who decides") }),
        block(BlockKind::Paragraph(linked)),
        block(BlockKind::Heading { level: 4, number: Some("A".into()), text: text("A deep heading") }),
        block(BlockKind::Quote(vec![paragraph("The drawing governs.")])),
        block(BlockKind::Preformatted("AN3-5A   4\nAN960-10 8  <each>".into())),
        block(BlockKind::Rule),
        block(BlockKind::Footnote { number: 1, blocks: vec![paragraph("Give the kit's serial number.")] }),
    ]
}

fn section(id: &str, number: &str, title: &str) -> Leaf {
    let mut blocks = vec![paragraph("The frame is built upright on two trestles.")];
    if id == "frame" {
        blocks.push(block(BlockKind::Contents(vec![ContentsEntry {
            level: 1,
            number: Some("1.1".into()),
            title: text("Fit the mast foot"),
            to: Anchor::new("step", "mast-foot"),
        }])));
    }
    leaf(LeafRole::Section, id, Some(number), title, blocks)
}

fn link(kind: &str, name: &str, words: &str) -> Inline {
    Inline::Link { to: Anchor::new(kind, name), content: text(words) }
}

fn pull() -> Table {
    Table {
        role: TableRole::Parts,
        caption: Vec::new(),
        columns: vec![
            column("", CellAlign::Start),
            names("Part"),
            column("Name", CellAlign::Start),
            column("Hand", CellAlign::Start),
            column("Quantity", CellAlign::End),
            column("Bag", CellAlign::Start),
            column("Crate", CellAlign::Start),
        ],
        rows: vec![
            subheading("Take from the crate", 7),
            row(
                Some(Anchor::new("pull", "KW-103-L")),
                vec![
                    vec![Inline::TickBox],
                    vec![link("part", "KW-103-L", "KW-103-L"), Inline::text(" "), Inline::Callout(1)],
                    text("Mast foot half"),
                    vec![Inline::Hand(Hand::Left)],
                    vec![Inline::Quantity(Quantity::each(1))],
                    text("B 4"),
                    text("1"),
                ],
            ),
            row(
                Some(Anchor::new("pull", "KW-103-R")),
                vec![
                    vec![Inline::TickBox],
                    vec![link("part", "KW-103-R", "KW-103-R"), Inline::text(" "), Inline::Callout(2)],
                    text("Mast foot half"),
                    vec![Inline::Hand(Hand::Right)],
                    vec![Inline::Quantity(Quantity::each(1))],
                    text("B 4"),
                    text("1"),
                ],
            ),
            subheading("Made in an earlier step", 7),
            row(
                None,
                vec![
                    vec![Inline::TickBox],
                    text("keel-frame"),
                    text("Keel frame"),
                    Vec::new(),
                    vec![Inline::Quantity(Quantity::each(1))],
                    Vec::new(),
                    Vec::new(),
                ],
            ),
        ],
    }
}

fn hardware() -> Table {
    Table {
        role: TableRole::Hardware,
        caption: text("Hardware for the two joints"),
        columns: vec![
            names("Designation"),
            column("In words", CellAlign::Start),
            column("Quantity", CellAlign::End),
            column("Bag", CellAlign::Start),
        ],
        rows: vec![
            row(
                Some(Anchor::new("pull", "AN4-15A")),
                vec![text("AN4-15A"), text("Bolt 1/4-28, undrilled shank"), text("2"), text("H 2")],
            ),
            row(None, vec![text("AN960-416"), text("Washer for a 1/4 bolt"), text("4"), text("H 2")]),
            row(None, vec![text("AN365-428A"), text("Self-locking nut 1/4-28"), text("2"), text("H 2")]),
        ],
    }
}

fn figure() -> Block {
    let callout = |number, at, words: &str, to: Option<&str>| Callout {
        number,
        at,
        text: text(words),
        to: to.map(|name| Anchor::new("pull", name)),
    };
    let figure = Figure {
        name: FigureName::new("mast foot.svg"),
        label: "Figure 1.1-1".into(),
        alt: "Two bent halves clamp the keel tube; two bolts go through both and the tube".into(),
        caption: text("Mast foot on the keel tube"),
        view: text("Looking aft. Up is the top of the page, forward is away from the reader."),
        crop: None,
        arrows: Vec::new(),
        callouts: vec![
            callout(1, (30.0, 42.0), "KW-103-L Mast foot half, left", Some("KW-103-L")),
            callout(2, (70.0, 42.0), "KW-103-R Mast foot half, right", Some("KW-103-R")),
            callout(3, (50.0, 78.0), "AN4-15A bolt", Some("AN4-15A")),
            callout(4, (50.0, 12.0), "Keep this edge flush", None),
            callout(3, (50.0, 90.0), "AN4-15A bolt", Some("AN4-15A")),
        ],
        width: Some(Length::inches(4, 1)),
    };
    named(BlockKind::Figure(figure), Anchor::new("figure", "mast-foot"))
}

fn step() -> Leaf {
    let head = StepHead {
        number: "1.1".into(),
        title: text("Fit the mast foot"),
        section: text("1 Main frame"),
        hand: Some(Hand::Left),
        effectivity: Some(text("Only with the hand brake")),
        facts: vec![
            Field { label: text("Makes"), value: text("Mast foot assembly") },
            Field { label: text("Time"), value: text("1.5 hours") },
            Field { label: text("Persons"), value: text("2") },
        ],
    };
    let actions = vec![
        item(vec![
            Inline::text("Lay "),
            Inline::strong("KW-103-L"),
            Inline::text(" on the keel tube, "),
            Inline::Length(Length::inches(383, 16)),
            Inline::text(" from the forward end."),
        ]),
        item(vec![
            Inline::text("Drill with "),
            Inline::Code("#30".into()),
            Inline::text(" at "),
            Inline::Angle(Angle::degrees(45, 2)),
            Inline::text(", see "),
            link("figure", "mast-foot", "Figure 1.1-1"),
            Inline::text(", callout "),
            Inline::Callout(3),
            Inline::text("."),
        ]),
        ListItem {
            tick: true,
            blocks: vec![
                paragraph("Set both bolts by hand."),
                block(BlockKind::List { ordered: None, items: vec![item(text("Head up")), item(text("Nut down"))] }),
            ],
        },
        item(vec![
            Inline::text("Gap: "),
            Inline::Measure(Measure::parse("1/32").expect("a length")),
            Inline::text(" at most"),
            Inline::LineBreak,
            Inline::Emphasis(text("Measure at both ends.")),
            Inline::PageOf(Anchor::new("step", "mast-foot")),
        ]),
    ];
    let blocks = vec![
        block(BlockKind::StepHead(head)),
        safety(SafetyWord::Warning, "A tube that slips off the trestle crushes feet. Strap it down before you let go."),
        group("pull", "Pull from the crate", vec![block(BlockKind::Table(pull()))]),
        group("hardware", "Hardware", vec![block(BlockKind::Table(hardware()))]),
        figure(),
        group(
            "do",
            "Do",
            vec![
                block(BlockKind::List { ordered: Some(1), items: actions }),
                block(BlockKind::Heading { level: 2, number: None, text: text("Afterwards") }),
                block(BlockKind::List { ordered: Some(5), items: vec![item(text("Wipe the tube."))] }),
            ],
        ),
        group("measure", "Measure", vec![measures()]),
        group(
            "sign-off",
            "Sign off",
            vec![
                block(BlockKind::SignOff { role: text("Builder") }),
                block(BlockKind::SignOff { role: text("Second person") }),
            ],
        ),
    ];
    Leaf { title: text("Fit the mast foot"), ..leaf(LeafRole::Step, "mast-foot", Some("1.1"), "", blocks) }
}

fn plain_step() -> Leaf {
    leaf(LeafRole::Step, "Deburr", Some("1.2"), "Deburr the keel tube", vec![paragraph("Deburr & wipe <both> ends.")])
}

fn index() -> Block {
    let parts = [("KW-103-L", "Mast foot half", Hand::Left), ("KW-103-R", "Mast foot half", Hand::Right)];
    let rows = parts.into_iter().map(|(number, name, hand)| {
        row(
            Some(Anchor::new("part", number)),
            vec![
                text(number),
                text(name),
                vec![Inline::Hand(hand)],
                vec![link("step", "mast-foot", "1.1 Fit the mast foot")],
            ],
        )
    });
    block(BlockKind::Table(Table {
        role: TableRole::Index,
        caption: text("Parts and the steps that use them"),
        columns: vec![
            names("Number"),
            column("Name", CellAlign::Start),
            column("Hand", CellAlign::Center),
            column("Steps", CellAlign::Start),
        ],
        rows: rows.collect(),
    }))
}

pub fn measures() -> Block {
    block(BlockKind::Table(Table {
        role: TableRole::Measures,
        caption: text("Measure and write down"),
        columns: vec![names("What"), column("Target", CellAlign::End), column("Measured", CellAlign::Start)],
        rows: vec![row(
            None,
            vec![
                text("Gap between foot and keel"),
                vec![Inline::Length(Length::inches(1, 32)), Inline::text(" ± "), Inline::Length(Length::inches(1, 64))],
                vec![Inline::Blank(65)],
            ],
        )],
    }))
}

fn pick_list() -> Block {
    let mut table = pull();
    table.role = TableRole::PickList;
    for row in &mut table.rows {
        row.anchor = None;
    }
    table.caption = text("By bag");
    block(BlockKind::Table(table))
}

pub fn figures() -> BTreeMap<FigureName, FigureFile> {
    let svg = concat!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 480 300" width="480" height="300">"#,
        r#"<g fill="none" stroke="black" stroke-width="3"><circle cx="240" cy="150" r="52"/><circle cx="240" cy="150" r="42"/>"#,
        r#"<path d="M60 40h130v58q0 104 50 104v40H60zM420 40H290v58q0 104-50 104v40h180z"/>"#,
        r#"<path stroke-width="1.5" stroke-dasharray="14 4 3 4" d="M240 10v280M150 222h180"/></g></svg>"#
    );
    let name = FigureName::new("mast foot.svg");
    let file =
        FigureFile { name: name.clone(), kind: FigureKind::Svg, width: 480, height: 300, bytes: svg.as_bytes().into() };
    BTreeMap::from([(name, file)])
}
