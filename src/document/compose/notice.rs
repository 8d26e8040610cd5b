//! A notice to the builder of one kit: what changes, what to do, what is sent, the pages, and a slip to send back.

use super::change_report::items;
use super::tables::{cell, column, naming, quantity_column, text_cell};
use super::{DocumentComposer, block, field, heading, leaf, meta_edition, paragraph, step, unlinked};
use crate::change::{BuiltText, Class, KitNotice, Notice, NoticeStep, Sent, StepFate, Subject};
use crate::document::block::{Block, BlockKind, Field, ListItem, Origin};
use crate::document::inline::{Inline, Inlines};
use crate::document::leaf::{Document, Leaf, LeafRole, Purpose};
use crate::document::table::{CellAlign, Table, TableRole, TableRow, Width};
use crate::document::{Bars, Edition};
use crate::model::Manual;
use crate::resolve::Resolved;

/// The notice for a kit; `resolved` is the kit's configuration as its pages are to be from now on.
pub fn notice_document(manual: &Manual, resolved: &Resolved, notice: &Notice, kit: &KitNotice, bars: Bars) -> Document {
    let c = DocumentComposer::new(manual, resolved, Purpose::Manual);
    let name = title_words(&notice.subject);
    let mut leaves =
        vec![title(&c, notice, kit, &name), leaf("what-to-do", LeafRole::Text, "What to do", to_do(notice, kit))];
    if !kit.send.is_empty() {
        leaves.push(leaf("sent", LeafRole::Text, "What we send you", sent(&kit.send)));
    }
    let shown = |s: &NoticeStep| matches!(s.fate, StepFate::New | StepFate::Changed);
    for s in kit.steps.iter().filter(|s| shown(s)).filter_map(|s| resolved.step(&s.id)) {
        leaves.push(step::step(&c, s));
    }
    leaves.push(leaf("slip", LeafRole::Text, "Slip to send back", slip(notice, kit, &name)));
    unlinked::unlink(&mut leaves);
    let state = match &notice.date {
        Some(date) => format!("{name}, {date}"),
        None => name.clone(),
    };
    let edition = Edition { state: state.into(), ..Edition::default() };
    Document {
        purpose: Purpose::Report,
        name: name.into(),
        meta: meta_edition(manual, resolved, &edition),
        leaves,
        bars,
    }
}

fn title_words(subject: &Subject) -> String {
    match subject {
        Subject::Release(letter) => format!("Notice of release {letter}"),
        Subject::Lot(lot) => format!("Notice about lot {lot}"),
        Subject::Part(part) => format!("Notice about part {part}"),
    }
}

fn class_words(class: Class) -> &'static str {
    match class {
        Class::Mandatory => "Mandatory: to be done",
        Class::Recommended => "Recommended: the maker advises it",
        Class::Information => "For information: nothing has to be done",
    }
}

fn title(c: &DocumentComposer, notice: &Notice, kit: &KitNotice, name: &str) -> Leaf {
    let s = &c.manual.settings;
    let mut fields = vec![
        field("Kit", vec![Inline::strong(kit.serial.to_string())]),
        field("Built as", vec![Inline::text(&c.resolved.title)]),
        field(
            "Shipped with",
            vec![Inline::text(
                kit.release
                    .as_ref()
                    .map_or_else(|| "a release that the register does not name".to_owned(), |r| format!("release {r}")),
            )],
        ),
        field("Class", vec![Inline::strong(class_words(notice.class))]),
        field("What changes", vec![Inline::text(&notice.summary)]),
    ];
    if let Some(date) = &notice.date {
        fields.push(field("Date", vec![Inline::text(date)]));
    }
    if !s.maker.is_empty() {
        fields.push(field("Maker", vec![Inline::text(&s.maker)]));
    }
    let mut said = vec![paragraph(
        "This notice says what the change means for your kit. Whether the craft may go on in use until it is done is for its designer and the authority to decide, not for this notice.",
    )];
    if notice.class == Class::Mandatory {
        said.push(paragraph("Send the slip on the last page back when it is done."));
    }
    let blocks = std::iter::once(block(BlockKind::Fields(fields))).chain(said).collect();
    Leaf { title: vec![Inline::text(name)], ..leaf("title", LeafRole::Title, "", blocks) }
}

fn to_do(notice: &Notice, kit: &KitNotice) -> Vec<Block> {
    if !matches!(notice.subject, Subject::Release(_)) {
        return item_to_do(notice, kit);
    }
    let mut blocks = Vec::new();
    for step in &kit.steps {
        blocks.push(heading(2, &format!("{} {}", step.number, step.title)));
        match step.fate {
            StepFate::New => blocks.push(paragraph("This step is new.")),
            StepFate::Dropped => blocks.push(paragraph("This step is dropped. Take its pages out of your manual.")),
            StepFate::Changed if step.items.is_empty() => blocks.push(paragraph(
                "Its page says something else, because of a change in another step or in the lists. The new page has a bar beside it.",
            )),
            StepFate::Changed => blocks.push(items(&step.items)),
            StepFate::Handles => {}
        }
        if step.fate == StepFate::Dropped {
            blocks.push(paragraph(
                "If you have done it already, leave it as it is unless another step of this notice says otherwise.",
            ));
            continue;
        }
        blocks.push(heading(3, "If you have not done this step yet"));
        blocks.push(paragraph(
            "Put the pages of this notice into your manual in the place of the old ones, and do the step as they say.",
        ));
        blocks.push(heading(3, "If you have done it already"));
        blocks.extend(built(notice, &step.built));
    }
    if !kit.pages.is_empty() {
        blocks.push(heading(2, "Other pages"));
        blocks.push(paragraph(format!("These pages of the manual change too: {}.", kit.pages.join(", "))));
    }
    if blocks.is_empty() {
        blocks.push(paragraph("No step of your manual changes."));
    }
    blocks
}

/// What to do about a lot or a part, once for all the steps that handle it.
fn item_to_do(notice: &Notice, kit: &KitNotice) -> Vec<Block> {
    let columns = vec![naming("Step", Width::Fit), column("Title", CellAlign::Start, Width::Share(1))];
    let rows = kit.steps.iter().map(|s| TableRow {
        cells: vec![text_cell(&s.number), text_cell(&s.title)],
        anchor: None,
        origin: Origin::default(),
    });
    let table = Table { role: TableRole::Plain, caption: Vec::new(), columns, rows: rows.collect() };
    let mut blocks = vec![
        paragraph(format!("These steps of your manual handle {}.", notice.subject.name())),
        block(BlockKind::Table(table)),
        heading(2, "If you have done none of them yet"),
        paragraph(
            "Do not use what came with the kit. Put it aside, wait for what we send, then go on as your manual says.",
        ),
        heading(2, "If you have done one of them already"),
    ];
    blocks.extend(built(notice, kit.steps.first().map_or(&[][..], |s| &s.built)));
    blocks
}

/// What the author says to who has done the step, else that nothing is asked.
fn built(notice: &Notice, texts: &[BuiltText]) -> Vec<Block> {
    let line = |word: &str, text: &Option<String>| {
        text.as_ref().map(|text| ListItem {
            tick: true,
            blocks: vec![block(BlockKind::Paragraph(vec![Inline::strong(format!("{word}: ")), Inline::text(text)]))],
        })
    };
    let lines = |t: &BuiltText| [line("Inspect", &t.inspect), line("Undo", &t.undo), line("Do again", &t.redo)];
    let list: Vec<ListItem> = texts.iter().flat_map(lines).flatten().collect();
    if list.is_empty() {
        let said = match notice.class {
            Class::Information => "Nothing has to be done.",
            _ => {
                "The maker gives no work for this step where it is done. Compare it with the new pages, and ask the maker where yours differs."
            }
        };
        return vec![paragraph(said)];
    }
    vec![block(BlockKind::List { ordered: None, items: list })]
}

fn sent(list: &[Sent]) -> Vec<Block> {
    let columns = vec![
        column("", CellAlign::Center, Width::Fit),
        naming("Number", Width::Fit),
        column("Item", CellAlign::Start, Width::Share(3)),
        quantity_column(),
        column("Why", CellAlign::Start, Width::Share(2)),
    ];
    let rows = list.iter().map(|s| TableRow {
        cells: vec![
            cell(vec![Inline::TickBox]),
            text_cell(&s.item),
            text_cell(&s.title),
            cell(vec![Inline::Quantity(s.quantity)]),
            text_cell(&s.why),
        ],
        anchor: None,
        origin: Origin::default(),
    });
    let table = Table { role: TableRole::Plain, caption: Vec::new(), columns, rows: rows.collect() };
    vec![
        paragraph("Tick what has arrived. Tell the maker of what is short before you begin."),
        block(BlockKind::Table(table)),
    ]
}

fn slip(notice: &Notice, kit: &KitNotice, name: &str) -> Vec<Block> {
    let blank = |label: &str, width: u32| -> Field { field(label, vec![Inline::Blank(width)]) };
    let fields = vec![
        field("Kit", vec![Inline::strong(kit.serial.to_string())]),
        field("Notice", vec![Inline::text(name), Inline::text(format!(", {}", notice.class.word()))]),
    ];
    let tick = |text: Inlines| ListItem { tick: true, blocks: vec![block(BlockKind::Paragraph(text))] };
    let text = |words: String| tick(vec![Inline::text(words)]);
    let mut ticks = Vec::new();
    if matches!(notice.subject, Subject::Release(_)) {
        ticks.push(text("The new pages are in the manual, the old ones are out.".to_owned()));
        for step in kit.steps.iter().filter(|s| s.fate != StepFate::Dropped) {
            ticks.push(text(format!(
                "{} {}: not done before; it is or will be done by the new page.",
                step.number, step.title
            )));
            ticks.push(text(format!(
                "{} {}: was done before; the work of this notice is done.",
                step.number, step.title
            )));
        }
    } else {
        ticks.push(text("None of the steps was done before; what came with the kit is put aside.".to_owned()));
        ticks.push(text("Steps were done before; the work of this notice is done.".to_owned()));
    }
    vec![
        block(BlockKind::Fields(fields)),
        block(BlockKind::List { ordered: None, items: ticks }),
        block(BlockKind::Fields(vec![blank("Found", 260), blank("", 260), blank("Date", 90), blank("Signed", 160)])),
        paragraph("Fill in, sign and send this page to the maker. The register notes that the notice is answered."),
    ]
}
