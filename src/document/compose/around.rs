//! What stands around the steps: title, revisions, how to use, safety and limits, the author's pages, contents.
//! The order is that of the contents of a kit's assembly instructions (ASTM F2563-16, as paraphrased).

use super::text::plain_blocks;
use super::{DocumentComposer, block, field, heading, indexes, leaf, paragraph};
use crate::document::block::{Block, BlockKind, ContentsEntry, Figure};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Leaf, LeafRole, Purpose};
use crate::document::table::{TableCell, TableRow};
use crate::document::{Edition, LiesIn};
use crate::model::{PageKind, SignalWords};
use crate::trade::SafetyWord;
use crate::units::Hand;

/// The title page: what this is, for which kit, and where its word ends.
pub(super) fn title(c: &DocumentComposer, edition: &Edition) -> Leaf {
    let s = &c.manual.settings;
    let mut fields = vec![
        field("This is", vec![Inline::strong(super::name(c.purpose))]),
        field("For", vec![Inline::text(&c.resolved.title)]),
    ];
    let configuration = &c.resolved.configuration;
    if let Some(serial) = configuration.serial {
        fields.push(field("Kit", vec![Inline::strong(serial.to_string())]));
    }
    fields.push(field("Configuration", vec![Inline::strong(configuration.plain_name(s))]));
    if !s.maker.is_empty() {
        fields.push(field("Maker", vec![Inline::text(&s.maker)]));
    }
    if !s.number.is_empty() {
        fields.push(field("Document", vec![Inline::text(&s.number)]));
    }
    fields.push(field("State", vec![Inline::text(&edition.state)]));
    fields.push(field("Steps", vec![Inline::text(c.resolved.steps.len().to_string())]));
    let hours: crate::units::Rational =
        c.resolved.steps.iter().filter_map(|x| x.step.hours.as_ref()).map(|h| h.value).sum();
    if *hours.numer() != 0 {
        let roughly = if c.resolved.steps.iter().all(|s| s.step.hours.is_some()) { "about" } else { "at least" };
        fields.push(field("Time", vec![Inline::text(format!("{roughly} {}", super::step::hours_words(hours)))]));
    }
    let limits = paragraph(
        "Use this manual only for the configuration named here. Check it against the label on the crate before you begin.",
    );
    let mut blocks = vec![block(BlockKind::Fields(fields)), limits];
    blocks.extend(cover(c));
    Leaf { title: vec![Inline::text(&s.title)], ..leaf("title", LeafRole::Title, "", blocks) }
}

/// The picture of the variant.
fn cover(c: &DocumentComposer) -> Option<Block> {
    let variant = c.manual.settings.variants.get(&c.resolved.configuration.variant)?;
    let figure = variant.figure.as_ref()?;
    Some(block(BlockKind::Figure(Figure {
        name: figure.value.clone(),
        label: variant.title.as_str().into(),
        alt: variant.alt.as_ref().map_or("", |alt| alt.value.as_str()).into(),
        caption: Inlines::new(),
        view: Inlines::new(),
        crop: None,
        callouts: Vec::new(),
        arrows: Vec::new(),
        width: None,
    })))
}

/// From how to use to the workplace, with the contents in their place.
pub(super) fn before(c: &DocumentComposer) -> Vec<Leaf> {
    let mut how = how_to_use(c);
    how.extend(page_blocks(c, PageKind::HowToUse));
    let mut safety = safety_blocks(c);
    safety.extend(page_blocks(c, PageKind::Safety));
    let mut leaves = vec![
        page(c, PageKind::HowToUse, "How to use this manual", how),
        leaf("contents", LeafRole::Contents, "Contents", vec![paragraph("")]),
        page(c, PageKind::Safety, "Safety and limits", safety),
    ];
    for (kind, title) in [
        (PageKind::Standards, "Standards"),
        (PageKind::Terms, "Terms"),
        (PageKind::Builder, "What the builder must know"),
    ] {
        leaves.push(page(c, kind, title, page_blocks(c, kind)));
    }
    let mut workplace = page_blocks(c, PageKind::Workplace);
    workplace.extend(indexes::equipment(c));
    leaves.push(page(c, PageKind::Workplace, "Workplace, tools and consumables", workplace));
    leaves
}

/// From the final inspection to further requirements.
pub(super) fn after(c: &DocumentComposer) -> Vec<Leaf> {
    [
        (PageKind::FinalInspection, "Final inspection"),
        (PageKind::Tests, "Test procedures"),
        (PageKind::Further, "Further requirements"),
    ]
    .into_iter()
    .map(|(kind, title)| page(c, kind, title, page_blocks(c, kind)))
    .collect()
}

fn page_blocks(c: &DocumentComposer, kind: PageKind) -> Vec<Block> {
    c.resolved.pages.iter().filter(|p| p.kind == kind).flat_map(|p| plain_blocks(c, &p.body, p.kind.word())).collect()
}

/// A page's leaf; the author's title takes the place of the usual one.
fn page(c: &DocumentComposer, kind: PageKind, title: &str, blocks: Vec<Block>) -> Leaf {
    let own = c.resolved.pages.iter().filter(|p| p.kind == kind).find_map(|p| p.title.as_deref());
    leaf(kind.word(), LeafRole::Text, own.unwrap_or(title), blocks)
}

fn how_to_use(c: &DocumentComposer) -> Vec<Block> {
    let place = match (c.purpose, c.place()) {
        (Purpose::Manual, _) => "Each step begins with what to pull, and names the bag and the crate where it lies.",
        (_, LiesIn::Bags) => {
            "Each step begins with what to pull, and names the bag and the crate where it lies. Tick each box as you go."
        }
        (_, LiesIn::Bins) => {
            "Each step begins with what to pull, and names the bin where it lies. Tick each box as you go."
        }
    };
    let hands: Inlines = vec![
        Inline::text("Left and right are as seen by someone facing forward. Parts for one side are marked "),
        Inline::Hand(Hand::Left),
        Inline::text(" or "),
        Inline::Hand(Hand::Right),
        Inline::text(". Check the mark before you drill."),
    ];
    let item = |content: Inlines| crate::document::block::ListItem {
        tick: false,
        blocks: vec![block(BlockKind::Paragraph(content))],
    };
    let text = |t: &str| item(vec![Inline::text(t)]);
    let list = vec![
        text("Do the steps in the order of their numbers. A step may need what an earlier one made."),
        text("Read a step to its end before you begin it. Safety messages stand before the work they guard."),
        text(place),
        item(hands),
        text(
            "An angle off square is measured from a square cut. An angle between the axes is measured between the centre lines of two tubes.",
        ),
        text("Numbers in the figures are explained below or beside each figure."),
        text("Write measured values into the blanks, and again into the results sheet at the end."),
    ];
    vec![block(BlockKind::List { ordered: None, items: list })]
}

fn safety_blocks(c: &DocumentComposer) -> Vec<Block> {
    let aviation = c.manual.settings.signal_words == SignalWords::Aviation;
    let meaning = |word| match (word, aviation) {
        (SafetyWord::Danger, _) => "Will cause death or serious injury if it is not avoided.",
        (SafetyWord::Warning, false) => "Could cause death or serious injury if it is not avoided.",
        (SafetyWord::Warning, true) => "Could cause injury or death if it is not followed.",
        (SafetyWord::Caution, false) => "Could cause minor or moderate injury if it is not avoided.",
        (SafetyWord::Caution, true) => "Could cause damage to the craft or its parts if it is not followed.",
        (SafetyWord::Notice, _) => "Damage or good practice; nobody is hurt.",
        (SafetyWord::Note, _) => "A help or an explanation.",
    };
    let words: &[SafetyWord] = if aviation {
        &[SafetyWord::Warning, SafetyWord::Caution, SafetyWord::Note]
    } else {
        &[SafetyWord::Danger, SafetyWord::Warning, SafetyWord::Caution, SafetyWord::Notice]
    };
    let convention = if aviation {
        "Signal words in this manual are used as in aviation maintenance manuals: CAUTION means damage to equipment."
    } else {
        "Signal words in this manual have the meaning of ANSI Z535.6: CAUTION means injury, NOTICE means damage."
    };
    let mut blocks = vec![paragraph(convention)];
    blocks.extend(words.iter().map(|&word| {
        let text = block(BlockKind::Paragraph(vec![Inline::text(meaning(word))]));
        block(BlockKind::Safety { word, blocks: vec![text] })
    }));
    blocks.push(heading(2, "Limits of this manual"));
    let mut limits = vec![
        "Values taken from a table are those of a published table for general use. The designer's drawing and the designer's value govern.",
        "Local rules and the law decide what may be built, tested and used. Where they ask for licensed practice or an inspection by a licensed person, this manual does not take its place.",
        "If a part, a quantity or an instruction seems wrong, stop and ask the maker. Do not guess and do not substitute.",
    ];
    let from_memory = |text: &Inline| matches!(text, Inline::Text(words) if words.contains("from memory"));
    if c.resolved.ledger.hardware.keys().any(|designation| c.hardware_words(designation).iter().any(from_memory)) {
        limits.insert(1, "A value \u{201c}from memory\u{201d}, or with * behind it, was not looked up in its standard. Measure the item before you rely on the value.");
    }
    let items = limits
        .into_iter()
        .map(|t| crate::document::block::ListItem { tick: false, blocks: vec![paragraph(t)] })
        .collect();
    blocks.push(block(BlockKind::List { ordered: None, items }));
    blocks
}

/// The contents of all leaves but the title and the contents themselves.
pub(super) fn contents(c: &DocumentComposer, leaves: &[Leaf]) -> Vec<Block> {
    let waits: Vec<_> = c.resolved.waits.keys().map(super::step_anchor).collect();
    let entries = leaves
        .iter()
        .filter(|l| !matches!(l.role, LeafRole::Title | LeafRole::Contents))
        .map(|l| ContentsEntry {
            level: if l.role == LeafRole::Step { 2 } else { 1 },
            number: l.number.clone(),
            title: if waits.contains(&l.anchor) { waiting(&l.title) } else { l.title.clone() },
            to: l.anchor.clone(),
        })
        .collect();
    vec![block(BlockKind::Contents(entries))]
}

/// The title of a step in a list, where the step waits for something.
pub(super) fn waiting(title: &[Inline]) -> Inlines {
    let mut words = title.to_vec();
    words.push(Inline::strong(" (waits for a back order)"));
    words
}

/// A row with one cell over all columns.
pub(super) fn subheading(text: Inlines, columns: usize) -> TableRow {
    TableRow {
        cells: vec![TableCell { content: text, span: columns as u8 }],
        anchor: None,
        origin: crate::document::block::Origin::default(),
    }
}
