//! How long a large manual takes on paper. Prints what it reached; nothing here fails.
//!
//! `cargo bench --bench pdf -- [STEPS]`: steps of a 6-row and a 4-row table, a safety message, four paragraphs of
//! 60 words and one of 50 photographs of 1600 by 1200 pixels each.

#[path = "../paged/specimen.rs"]
mod specimen;

use std::collections::BTreeMap;
use std::time::Instant;

use kitwright::document::*;
use kitwright::emit::pdf::{PdfInk, write};
use kitwright::figure::FigureFile;
use kitwright::layout::{Fonts, Style, lay_out};
use kitwright::units::FigureName;
use specimen::{block, parts_table, safety, t};

const WORDS: [&str; 24] = [
    "slide",
    "the",
    "bracket",
    "along",
    "tube",
    "until",
    "scribed",
    "line",
    "meets",
    "aft",
    "face",
    "and",
    "clamp",
    "it",
    "lightly",
    "alignment",
    "measurement",
    "between",
    "centre",
    "hole",
    "before",
    "drilling",
    "with",
    "reamer",
];

fn words(seed: &mut u64, count: usize) -> String {
    let mut out = String::new();
    for i in 0..count {
        *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        if i > 0 {
            out.push(' ');
        }
        out.push_str(WORDS[(*seed >> 33) as usize % WORDS.len()]);
    }
    out.push('.');
    out
}

fn manual(steps: usize) -> Document {
    let mut seed = 7;
    let mut document = specimen::document(Purpose::Manual);
    document.leaves.clear();
    for i in 0..steps {
        let mut leaf = specimen::step_leaf(&format!("{}.{}", i / 50 + 1, i % 50 + 1), &format!("s{i}"), None, None);
        leaf.parent = None;
        let head = leaf.blocks.swap_remove(0);
        let photograph = FigureName::new(format!("photo-{}.jpg", i % 50));
        leaf.blocks = vec![
            head,
            safety(SafetyWord::Warning, &words(&mut seed, 18)),
            block(BlockKind::Group(Group { role: "pull", title: t("Pull"), blocks: vec![parts_table(6)] })),
            block(BlockKind::Group(Group { role: "hardware", title: t("Hardware"), blocks: vec![parts_table(4)] })),
            specimen::figure(photograph.as_str()),
        ];
        for _ in 0..4 {
            leaf.blocks.push(block(BlockKind::Paragraph(t(&words(&mut seed, 60)))));
        }
        document.leaves.push(leaf);
    }
    document
}

fn peak_mib() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM:")).unwrap_or("");
    line.split_whitespace().nth(1).and_then(|n| n.parse::<u64>().ok()).unwrap_or(0) / 1024
}

fn main() {
    let steps = std::env::args().skip(1).find_map(|a| a.parse().ok()).unwrap_or(1000);
    let photographs: BTreeMap<FigureName, FigureFile> =
        (0..50).map(|i| specimen::jpeg(&format!("photo-{i}.jpg"), 1600, 1200)).map(|f| (f.name.clone(), f)).collect();
    let document = manual(steps);
    println!("{steps} steps; peak before {} MiB", peak_mib());
    let start = Instant::now();
    let fonts = Fonts::new(None);
    let laid = lay_out(&document, &photographs, &fonts, &Style::of(&document));
    let layout = start.elapsed();
    println!("after layout: peak {} MiB", peak_mib());
    let pdf = write(laid.clone(), &photographs, &fonts, PdfInk::Colour, None).expect("the bench's document is sound");
    let total = start.elapsed();
    println!(
        "colour: layout {layout:.2?}, with PDF {total:.2?}; {} pages, {} tags, {:.1} MB, peak {} MiB",
        laid.pages.len(),
        laid.tags.len(),
        pdf.len() as f64 / 1e6,
        peak_mib()
    );
    let start = Instant::now();
    let pdf = write(laid, &photographs, &fonts, PdfInk::Grey, None).expect("the bench's document is sound");
    println!("grey: PDF {:.2?}, {:.1} MB, peak {} MiB", start.elapsed(), pdf.len() as f64 / 1e6, peak_mib());
}
