//! How long the HTML of a large manual takes: 1,000 steps, each with a parts table of six rows, a hardware table
//! of four, a safety message, four paragraphs of 60 words and a photograph. Run with `cargo bench --bench html`.

use std::collections::BTreeMap;
use std::sync::Arc;

use kitwright::document::*;
use kitwright::emit::html::{Templates, write};
use kitwright::figure::{FigureFile, FigureKind};
use kitwright::source::Collected;
use kitwright::units::{FigureName, Hand, Length, Quantity, StepStart, UnitStyle};

const SECTIONS: usize = 10;
const STEPS_A_SECTION: usize = 100;
const PHOTOGRAPHS: usize = 50;

fn main() {
    divan::main();
}

#[divan::bench(sample_count = 10, args = [1, 2])]
fn thousand_steps(bencher: divan::Bencher<'_, '_>, threads: usize) {
    let (document, figures, templates) = (document(), figures(), Templates::built_in());
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    bencher.bench_local(|| {
        let out = Collected::new();
        pool.install(|| write(&document, &kitwright::document::Bench::default(), &figures, &templates, &out, ""))
            .expect("a sound document");
        out
    });
}

fn text(words: impl AsRef<str>) -> Inlines {
    vec![Inline::text(words)]
}

fn block(kind: BlockKind) -> Block {
    Block { kind, origin: Origin::default(), anchor: None }
}

fn leaf(
    anchor: Anchor,
    role: LeafRole,
    number: Option<String>,
    title: String,
    parent: Option<Anchor>,
    blocks: Vec<Block>,
) -> Leaf {
    Leaf { anchor, role, number: number.map(Arc::from), title: text(title), parent, blocks }
}

fn document() -> Document {
    let title = leaf(Anchor::new("page", "title"), LeafRole::Title, None, "Large manual".into(), None, Vec::new());
    let mut leaves = vec![title];
    for section in 1..=SECTIONS {
        let anchor = Anchor::new("section", &section.to_string());
        let number = Some(section.to_string());
        leaves.push(leaf(anchor.clone(), LeafRole::Section, number, format!("Section {section}"), None, Vec::new()));
        for step in 1..=STEPS_A_SECTION {
            let number = format!("{section}.{step}");
            let blocks = step_blocks(&number, (section * STEPS_A_SECTION + step) % PHOTOGRAPHS);
            let title = format!("Fit part {step}");
            let at = Anchor::new("step", &number);
            leaves.push(leaf(at, LeafRole::Step, Some(number), title, Some(anchor.clone()), blocks));
        }
    }
    let meta = Meta {
        title: "Large manual".into(),
        subtitle: "".into(),
        maker: "Example Kit Works".into(),
        number: "EX-1".into(),
        configuration: "A".into(),
        variant_and_options: "A".into(),
        kit: "".into(),
        configuration_title: "Everything".into(),
        release: "Revision A".into(),
        language: "en".into(),
        units: UnitStyle::Both,
        paper: Paper::Letter,
        step_start: StepStart::NewPage,
        duplex: false,
        hatching: true,
        accent: 0x2f6f73,
        font: None,
    };
    Document {
        purpose: Purpose::Manual,
        name: "Build manual".into(),
        meta,
        leaves,
        bars: kitwright::document::Bars::default(),
    }
}

fn step_blocks(number: &str, photograph: usize) -> Vec<Block> {
    let words = "Hold the part against the tube and turn it until the two lines meet at ".repeat(4);
    let head = StepHead {
        number: number.into(),
        title: text("Fit the part"),
        section: text("Section"),
        hand: Some(Hand::Left),
        effectivity: None,
        facts: vec![Field { label: text("Time"), value: text("1.5 hours") }],
    };
    let mut blocks = vec![
        block(BlockKind::StepHead(head)),
        block(BlockKind::Safety {
            word: SafetyWord::Caution,
            blocks: vec![block(BlockKind::Paragraph(text("The edge is sharp. Wear gloves.")))],
        }),
        group("pull", table(TableRole::Parts, number, 6)),
        group("hardware", table(TableRole::Hardware, number, 4)),
    ];
    for _ in 0..4 {
        blocks.push(block(BlockKind::Paragraph(vec![Inline::text(&words), Inline::Length(Length::inches(383, 16))])));
    }
    blocks.push(block(BlockKind::Figure(Figure {
        name: photograph_name(photograph),
        label: format!("Figure {number}-1").into(),
        alt: "The part in its place".into(),
        caption: text("The part in its place"),
        view: text("Looking aft"),
        crop: None,
        arrows: Vec::new(),
        callouts: vec![Callout {
            number: 1,
            at: (50.0, 50.0),
            text: text("The part"),
            to: Some(Anchor::new("parts", &format!("{number}-0"))),
        }],
        width: None,
    })));
    blocks
}

fn group(role: &'static str, table: Table) -> Block {
    block(BlockKind::Group(Group { role, title: text("Pull"), blocks: vec![block(BlockKind::Table(table))] }))
}

fn table(role: TableRole, step: &str, rows: usize) -> Table {
    let column = |title: &str, names_row| Column {
        title: text(title),
        align: CellAlign::Start,
        width: Width::Fit,
        kind: if names_row { ColumnKind::Name } else { ColumnKind::Plain },
    };
    let row = |row: usize| TableRow {
        cells: vec![
            TableCell { content: text(format!("EX-{row}-L")), span: 1 },
            TableCell { content: text("Side plate of the frame"), span: 1 },
            TableCell { content: vec![Inline::Hand(Hand::Left)], span: 1 },
            TableCell { content: vec![Inline::Quantity(Quantity::each(2))], span: 1 },
            TableCell { content: text("B 4"), span: 1 },
        ],
        anchor: Some(Anchor::new(role.word(), &format!("{step}-{row}"))),
        origin: Origin::default(),
    };
    Table {
        role,
        caption: Vec::new(),
        columns: vec![
            column("Part", true),
            column("Name", false),
            column("Hand", false),
            column("Quantity", false),
            column("Bag", false),
        ],
        rows: (0..rows).map(row).collect(),
    }
}

fn photograph_name(number: usize) -> FigureName {
    FigureName::new(format!("photo-{number}.jpg"))
}

fn figures() -> BTreeMap<FigureName, FigureFile> {
    let bytes: Arc<[u8]> = vec![0; 300_000].into();
    (0..PHOTOGRAPHS)
        .map(|number| {
            let name = photograph_name(number);
            let file = FigureFile {
                name: name.clone(),
                kind: FigureKind::Jpeg,
                width: 1600,
                height: 1200,
                bytes: bytes.clone(),
            };
            (name, file)
        })
        .collect()
}
