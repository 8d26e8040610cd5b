//! A document with every kind of block and inline, for an invented kit.

use std::sync::Arc;

use kitwright::document::*;
use kitwright::figure::{FigureFile, FigureKind};
use kitwright::units::{Angle, Hand, Length, Measure, Quantity, StepId, StepStart, UnitStyle};

pub fn t(text: &str) -> Inlines {
    vec![Inline::text(text)]
}

pub fn block(kind: BlockKind) -> Block {
    Block { kind, origin: Origin::default(), anchor: None }
}

pub fn p(text: &str) -> Block {
    block(BlockKind::Paragraph(t(text)))
}

pub fn meta() -> Meta {
    Meta {
        title: "Sandpiper land yacht".into(),
        subtitle: "A three-wheeler for hard sand".into(),
        maker: "Fenmarsh Kits".into(),
        number: "SP-100".into(),
        configuration: "SAND+brake".into(),
        variant_and_options: "SAND+brake".into(),
        kit: "".into(),
        configuration_title: "Sand yacht on wheels, with hand brake".into(),
        release: "Release C".into(),
        language: "en".into(),
        units: UnitStyle::Both,
        paper: Paper::Letter,
        step_start: StepStart::NewPage,
        duplex: false,
        hatching: true,
        accent: 0x2F_6F_73,
        font: None,
    }
}

pub fn column(title: &str, align: CellAlign, width: Width, names_row: bool) -> Column {
    let kind = if names_row { ColumnKind::Name } else { ColumnKind::Plain };
    Column { title: t(title), align, width, kind }
}

pub fn row(cells: Vec<Inlines>) -> TableRow {
    TableRow {
        cells: cells.into_iter().map(|content| TableCell { content, span: 1 }).collect(),
        anchor: None,
        origin: Origin::default(),
    }
}

pub fn parts_table(rows: usize) -> Block {
    let names =
        ["Mast foot", "Keel tube", "Axle bracket", "Cross tube, main", "Backing plate for the mast foot", "Bush"];
    block(BlockKind::Table(Table {
        role: TableRole::Parts,
        caption: vec![],
        columns: vec![
            column("Number", CellAlign::Start, Width::Fit, true),
            column("Name", CellAlign::Start, Width::Share(2), false),
            column("Qty", CellAlign::End, Width::Fit, false),
            column("Hand", CellAlign::Start, Width::Fit, false),
            column("Bag", CellAlign::Start, Width::Fit, false),
            column("Crate", CellAlign::Start, Width::Fit, false),
        ],
        rows: (0..rows)
            .map(|i| {
                let hand = if i % 3 == 0 {
                    vec![Inline::Hand(if i % 2 == 0 { Hand::Left } else { Hand::Right })]
                } else {
                    vec![]
                };
                row(vec![
                    vec![Inline::TickBox, Inline::Code(format!("SP-{}{}", 101 + i, ["-L", "", "-R"][i % 3]).into())],
                    t(names[i % names.len()]),
                    vec![Inline::Quantity(Quantity::each(1 + (i as i64 % 12)))],
                    hand,
                    t(&format!("B{}", i % 7 + 1)),
                    t("1"),
                ])
            })
            .collect(),
    }))
}

/// Long words in a narrow column: they are parted by hyphens.
pub fn narrow_table() -> Block {
    let words = "Unavoidable misalignment of neighbouring components necessitates disassembly, reexamination and \
        subsequent readjustment; particularly, communication between assistants prevents misinterpretation.";
    block(BlockKind::Table(Table {
        role: TableRole::Plain,
        caption: vec![],
        columns: ["What", "Why", "When", "Who"]
            .map(|title| column(title, CellAlign::Start, Width::Share(1), title == "What"))
            .to_vec(),
        rows: vec![
            row(vec![t(words), t("Every part has its place."), t(words), t(words)]),
            row(vec![t("Rinsing"), t("Salt"), t("After each trip"), t("Anyone")]),
            row(vec![t("Greasing"), t("Wear"), t("Each month"), t("Builder")]),
        ],
    }))
}

pub fn safety(word: SafetyWord, text: &str) -> Block {
    block(BlockKind::Safety { word, blocks: vec![p(text)] })
}

pub fn figure(name: &str) -> Block {
    block(BlockKind::Figure(Figure {
        name: name.into(),
        label: "Figure 2.1-1".into(),
        alt: "The mast foot stands on the keel tube, held by two bolts through a backing plate.".into(),
        caption: t("Mast foot on the keel tube"),
        view: t("Looking aft; top is up, forward is away from the reader."),
        crop: None,
        arrows: Vec::new(),
        callouts: vec![
            Callout { number: 1, at: (22.0, 30.0), text: t("SP-101-L Mast foot"), to: None },
            Callout { number: 2, at: (70.0, 20.0), text: t("AN4-15A bolt, drilled shank no"), to: None },
            Callout {
                number: 3,
                at: (80.0, 80.0),
                text: t("Keep this edge flush with the face of the tube all along its length"),
                to: None,
            },
            Callout { number: 12, at: (45.0, 65.0), text: t("AN960-416 washer"), to: None },
        ],
        width: None,
    }))
}

fn tied(text: &str, kind: Inline) -> Inlines {
    vec![Inline::text(text), kind, Inline::text(".")]
}

pub fn step_leaf(number: &str, id: &str, hand: Option<Hand>, figure_name: Option<&str>) -> Leaf {
    let long = "Slide the mast foot on to the keel tube from the front until the scribed line meets the aft face, then clamp it \
        with the two wooden blocks so that nothing can creep while you drill. Check the alignment against the centre-line once more \
        before you go on; a misalignment here is carried into everything that follows, particularly the rigging measurements.";
    let mut blocks = vec![
        block(BlockKind::StepHead(StepHead {
            number: number.into(),
            title: t("Fit the mast foot to the keel tube"),
            section: t("2 Main frame"),
            hand,
            effectivity: hand.map(|_| t("Only with the hand brake")),
            facts: vec![
                Field { label: t("Makes"), value: t("mast-foot assembly") },
                Field { label: t("Time"), value: t("1.5 h") },
            ],
        })),
        safety(
            SafetyWord::Warning,
            "A released gas strut strikes. It can break fingers. Tie the boom down before you pull the pin.",
        ),
        block(BlockKind::Group(Group { role: "pull", title: t("Pull from the crate"), blocks: vec![parts_table(6)] })),
        block(BlockKind::Group(Group {
            role: "cuts",
            title: t("Cuts"),
            blocks: vec![block(BlockKind::Table(Table {
                role: TableRole::Cuts,
                caption: t("Angles are degrees off square"),
                columns: vec![
                    column("Part", CellAlign::Start, Width::Fit, true),
                    column("Length", CellAlign::End, Width::Fit, false),
                    column("End A", CellAlign::End, Width::Fit, false),
                    column("By", CellAlign::Start, Width::Share(1), false),
                ],
                rows: vec![
                    row(vec![
                        t("SP-110"),
                        vec![Inline::Length(Length::inches(383, 16))],
                        vec![Inline::Angle(Angle::degrees(45, 2))],
                        t("builder"),
                    ]),
                    row(vec![
                        t("SP-111"),
                        vec![Inline::Length(Length::inches(1, 2))],
                        vec![Inline::Angle(Angle::degrees(0, 1))],
                        t("maker, as supplied"),
                    ]),
                ],
            }))],
        })),
    ];
    if let Some(name) = figure_name {
        blocks.push(figure(name));
    }
    blocks.push(block(BlockKind::Group(Group {
        role: "do",
        title: t("Do"),
        blocks: vec![
            block(BlockKind::List {
                ordered: Some(1),
                items: vec![
                    ListItem { tick: true, blocks: vec![p(long)] },
                    ListItem {
                        tick: true,
                        blocks: vec![block(BlockKind::Paragraph(vec![
                            Inline::text("Drill "),
                            Inline::Length(Length::inches(15, 16)),
                            Inline::text(" from the edge at "),
                            Inline::Callout(2),
                            Inline::text(" with the "),
                            Inline::strong("No. 30"),
                            Inline::text(" bit, "),
                            Inline::Emphasis(t("dry")),
                            Inline::text(", as in "),
                            Inline::Link { to: Anchor::new("step", "keel"), content: t("step 2.2 Keel tube") },
                            Inline::text(" (page "),
                            Inline::PageOf(Anchor::new("step", "keel")),
                            Inline::text(")."),
                            Inline::FootnoteMark(1),
                        ]))],
                    },
                    ListItem {
                        tick: true,
                        blocks: vec![
                            safety(
                                SafetyWord::Caution,
                                "Drill chips are hot and sharp. They can cut skin. Wear gloves and glasses.",
                            ),
                            p("Open the holes up."),
                        ],
                    },
                    ListItem {
                        tick: true,
                        blocks: vec![block(BlockKind::Paragraph(tied(
                            "Set the gap to ",
                            Inline::Measure(Measure::parse("1/32").unwrap()),
                        )))],
                    },
                ],
            }),
            block(BlockKind::Footnote { number: 1, blocks: vec![p("Counted from the aft face.")] }),
        ],
    })));
    blocks.push(block(BlockKind::Group(Group {
        role: "measure",
        title: t("Measure"),
        blocks: vec![block(BlockKind::Fields(vec![
            Field {
                label: t("Gap"),
                value: vec![
                    Inline::Measure(Measure::parse("1/32").unwrap()),
                    Inline::text(" ± "),
                    Inline::Measure(Measure::parse("1/64").unwrap()),
                    Inline::text("  "),
                    Inline::Blank(80),
                ],
            },
            Field {
                label: t("Shroud tension"),
                value: vec![Inline::Measure(Measure::parse("120 lb").unwrap()), Inline::text("  "), Inline::Blank(80)],
            },
        ]))],
    })));
    blocks.push(block(BlockKind::Group(Group {
        role: "sign-off",
        title: t("Sign off"),
        blocks: vec![
            block(BlockKind::SignOff { role: t("Builder") }),
            block(BlockKind::SignOff { role: t("Second person") }),
        ],
    })));
    for b in &mut blocks {
        b.origin = Origin { step: Some(StepId::new(id)), field: "text", item: 0 };
    }
    Leaf {
        anchor: Anchor::new("step", id),
        role: LeafRole::Step,
        number: Some(number.into()),
        title: t("Fit the mast foot to the keel tube"),
        parent: Some(Anchor::new("section", "frame")),
        blocks,
    }
}

pub fn leaf(kind: &str, name: &str, role: LeafRole, title: &str, blocks: Vec<Block>) -> Leaf {
    Leaf { anchor: Anchor::new(kind, name), role, number: None, title: t(title), parent: None, blocks }
}

pub fn document(purpose: Purpose) -> Document {
    let meta = meta();
    let title = leaf(
        "page",
        "title",
        LeafRole::Title,
        "Sandpiper land yacht",
        vec![
            p("Sand yacht on wheels, with hand brake"),
            block(BlockKind::Fields(vec![
                Field { label: t("Document"), value: t("SP-100, build manual") },
                Field { label: t("Release"), value: t("C of 4 May") },
                Field { label: t("Maker"), value: t("Fenmarsh Kits") },
            ])),
        ],
    );
    let entries = [
        ("section", "frame", 1, Some("2"), "Main frame"),
        ("step", "foot", 2, Some("2.1"), "Fit the mast foot to the keel tube"),
        ("step", "keel", 2, Some("2.2"), "Fit the mast foot to the keel tube"),
        ("page", "safety", 1, None, "Safety"),
    ];
    let contents = leaf(
        "page",
        "contents",
        LeafRole::Contents,
        "Contents",
        vec![block(BlockKind::Contents(
            entries
                .iter()
                .map(|(kind, name, level, number, title)| ContentsEntry {
                    level: *level,
                    number: number.map(Into::into),
                    title: t(title),
                    to: Anchor::new(kind, name),
                })
                .collect(),
        ))],
    );
    let words = leaf(
        "page",
        "safety",
        LeafRole::Text,
        "Safety",
        vec![
            block(BlockKind::Heading { level: 2, number: None, text: t("Words used") }),
            p("Every message stands before the action it guards."),
            safety(
                SafetyWord::Danger,
                "The mast touches power lines. You will be killed. Look up before you raise it.",
            ),
            safety(SafetyWord::Warning, "A released gas strut strikes. Tie the boom down before you pull the pin."),
            safety(SafetyWord::Caution, "Edges are sharp. Wear gloves."),
            safety(SafetyWord::Notice, "Salt water eats mild steel. Rinse with fresh water."),
            safety(SafetyWord::Note, "Two people are quicker than one."),
            narrow_table(),
            block(BlockKind::Heading { level: 3, number: Some("1.2".into()), text: t("Signs") }),
            block(BlockKind::Quote(vec![p(
                "A set-off remark that stands apart from the running text and goes on long enough to need a second line in this column.",
            )])),
            block(BlockKind::Preformatted("as it is typed\n    indented line\nlast".into())),
            block(BlockKind::Rule),
            block(BlockKind::List {
                ordered: None,
                items: vec![
                    ListItem {
                        tick: false,
                        blocks: vec![
                            p("first point"),
                            block(BlockKind::List {
                                ordered: Some(1),
                                items: vec![ListItem { tick: false, blocks: vec![p("inner")] }],
                            }),
                        ],
                    },
                    ListItem { tick: false, blocks: vec![p("second point with signs ⌀ ☐ → 漢")] },
                ],
            }),
        ],
    );
    let mut section = leaf(
        "section",
        "frame",
        LeafRole::Section,
        "Main frame",
        vec![p("The frame carries everything. Keep it flat and true."), p("Steps in this section follow one another.")],
    );
    section.number = Some("2".into());
    let index = leaf("page", "parts", LeafRole::Index, "Parts", vec![parts_table(60)]);
    let mut leaves = vec![
        title,
        contents,
        words,
        section,
        step_leaf("2.1", "foot", Some(Hand::Left), Some("foot.svg")),
        step_leaf("2.2", "keel", Some(Hand::Right), Some("photo.jpg")),
        index,
    ];
    if purpose == Purpose::PickLists {
        leaves = (0..6)
            .map(|i| {
                let mut card =
                    leaf("card", &format!("c{i}"), LeafRole::Card, "Fit the mast foot", vec![parts_table(5)]);
                card.number = Some(format!("2.{i}").into());
                card
            })
            .collect();
    }
    let name: Arc<str> = match purpose {
        Purpose::Manual => "Build manual",
        Purpose::ShopCopy => "Shop copy",
        Purpose::PickLists => "Pick lists",
        Purpose::Receiving => "Receiving list",
        Purpose::Templates => "Templates",
        Purpose::Report => "Report",
    }
    .into();
    Document { purpose, name, meta, leaves, bars: kitwright::document::Bars::default() }
}

pub fn jpeg(name: &str, width: u32, height: u32) -> FigureFile {
    let mut pixels = Vec::with_capacity((width * height * 3) as usize);
    for y in 0..height {
        for x in 0..width {
            let wave = ((x as f64 / 37.0).sin() * 40.0 + (y as f64 / 23.0).cos() * 40.0 + 120.0) as u8;
            pixels.extend([wave, (x * 255 / width) as u8, (y * 255 / height) as u8]);
        }
    }
    let mut bytes = Vec::new();
    jpeg_encoder::Encoder::new(&mut bytes, 85)
        .encode(&pixels, width as u16, height as u16, jpeg_encoder::ColorType::Rgb)
        .unwrap();
    FigureFile { name: name.into(), kind: FigureKind::Jpeg, width, height, bytes: bytes.into() }
}
