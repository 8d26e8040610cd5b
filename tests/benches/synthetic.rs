//! Large manuals that nobody wrote, for measuring: as many steps as asked for, each with a parts table of six rows, a
//! hardware table of four, a safety message, four paragraphs of 60 words and one of the photographs.
//!
//! The same size gives the same bytes. The manual is free of findings, so that a compile goes all the way.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use kitwright::source::Memory;

/// How large a manual is.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    pub steps: usize,
    /// Different photographs; the steps take them in turn.
    pub photographs: usize,
    /// Pixels across and down.
    pub pixels: (u16, u16),
}

const SECTIONS: usize = 10;
const PARTS: usize = 300;
/// Bolts whose dashes stand in the published tables, with nuts and washers.
const BOLTS: [&str; 20] = [
    "AN3-3A", "AN3-4A", "AN3-5A", "AN3-6A", "AN3-7A", "AN3-10A", "AN3-11A", "AN3-12A", "AN3-13A", "AN3-14A", "AN4-3A",
    "AN4-4A", "AN4-5A", "AN4-6A", "AN4-7A", "AN4-10A", "AN4-11A", "AN4-12A", "AN4-13A", "AN4-14A",
];
const OTHERS: [(&str, &str); 4] =
    [("AN960-10", "washer"), ("AN960-416", "washer"), ("MS21044N3", "nut"), ("MS21044N4", "nut")];
const SENTENCES: [&str; 8] = [
    "Hold the bracket against the mark and drill the first hole through both walls slowly.",
    "Wipe the chips off, look at the edge, and take the burr off by hand.",
    "Set the square on the tube again and check the line that you drew before.",
    "Turn the frame over with a second person and rest it on the padded trestles.",
    "Put a washer under each nut and draw all of them up by turns evenly.",
    "Mark every fastener with paint when it is tight so that you see it later.",
    "Slide the sleeve over the joint until the witness mark shows at its outer end.",
    "Measure the gap on both sides and write the larger one into the results sheet.",
];

/// The manual. Roughly 4 kB of text a step, and the photographs.
pub fn manual(size: Size) -> Memory {
    let mut files = Memory::new();
    files.insert("manual.yaml", settings());
    let mut taken: BTreeMap<usize, usize> = BTreeMap::new();
    for i in 0..size.steps {
        let section = i * SECTIONS / size.steps.max(1);
        files.insert(format!("steps/{section:02}/{i:05}.md"), step(i, section, size, &mut taken));
    }
    let mut parts = "number,name,material,as supplied,ONE,bin,crate,bag,made by\n".to_owned();
    for (part, count) in &taken {
        let bin = format!("{}{}", (b'A' + (part % 20) as u8) as char, part / 20 + 1);
        let _ = writeln!(
            parts,
            "{},Bracket {part},6061-T6,finished,{count},{bin},{},{},maker",
            number(*part),
            part % 4 + 1,
            part % 32 + 1
        );
    }
    files.insert("parts.csv", parts);
    files.insert("hardware.csv", hardware());
    for n in 0..size.photographs {
        files.insert(format!("figures/{}", photograph_name(n)), photograph(n, size.pixels));
    }
    files
}

fn settings() -> String {
    let mut text = "title: Measured kit\nmaker: Nobody\nnumber: ME-1\nvariants:\n  ONE: { title: One variant }\n\
        configurations: [ONE]\nsections:\n"
        .to_owned();
    for i in 0..SECTIONS {
        let _ = writeln!(text, "  - {{ section: section-{i}, title: Section {i} }}");
    }
    text.push_str("tools:\n  drill-30: Drill bit, No. 30\n  square: Square\n");
    text
}

fn number(part: usize) -> String {
    format!("ME-{part:04}")
}

fn photograph_name(n: usize) -> String {
    format!("photograph-{n:02}.jpg")
}

fn hardware() -> String {
    let mut rows = "designation,name,kind,unit,bin,bag\n".to_owned();
    for (i, bolt) in BOLTS.iter().enumerate() {
        let _ = writeln!(rows, "{bolt},Bolt,bolt,each,H{},{}", i + 1, i + 40);
    }
    for (i, (name, kind)) in OTHERS.iter().enumerate() {
        let _ = writeln!(rows, "{name},Small hardware,{kind},each,H{},{}", i + 30, i + 60);
    }
    rows
}

fn step(i: usize, section: usize, size: Size, taken: &mut BTreeMap<usize, usize>) -> String {
    let mut text = format!("---\nstep: step-{i:05}\ntitle: Fit bracket group {i}\nsection: section-{section}\n");
    if i > 0 && (i - 1) * SECTIONS / size.steps == section {
        let _ = writeln!(text, "after: [step-{:05}]", i - 1);
    }
    text.push_str("parts:\n");
    for k in 0..6 {
        let (part, count) = ((i * 6 + k) % PARTS, k % 3 + 1);
        *taken.entry(part).or_default() += count;
        let _ = writeln!(text, "  - {count} x {}", number(part));
    }
    text.push_str("hardware:\n");
    for name in [BOLTS[i % 10], BOLTS[10 + i % 10], OTHERS[i % 2].0, OTHERS[2 + i % 2].0] {
        let _ = writeln!(text, "  - {} x {name}", i % 4 + 1);
    }
    text.push_str("tools: [drill-30, square]\nsafety:\n  - caution: Edges of cut sheet are sharp. Wear gloves until they are filed.\n");
    if size.photographs > 0 {
        let _ = write!(
            text,
            "figures:\n  - figure: {0}\n    alt: Bracket {1} on its tube, with the square set against it.\n    \
             caption: Bracket {1} and square\n    view: looking aft\n    width: 4 in\n",
            photograph_name(i % size.photographs),
            i % size.photographs + 1
        );
    }
    text.push_str("hours: 0.5\n---\n");
    for p in 0..4 {
        let sentences: Vec<&str> = (0..4).map(|s| SENTENCES[(i + p * 3 + s) % SENTENCES.len()]).collect();
        let _ = write!(text, "\n{}\n", sentences.join(" "));
    }
    text
}

/// A picture as a camera makes it: soft light, some edges, and noise.
fn photograph(n: usize, (width, height): (u16, u16)) -> Vec<u8> {
    let (w, h) = (usize::from(width), usize::from(height));
    let mut pixels = Vec::with_capacity(w * h * 3);
    let mut noise = 0x2545_f491_u32.wrapping_add(n as u32 * 7919);
    for y in 0..h {
        for x in 0..w {
            noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let grain = (noise >> 27) as i32 - 16;
            let light = (x * 96 / w + y * 64 / h) as i32;
            let tube = if (x + y / 2 + n * 37) % 400 < 60 { 70 } else { 0 };
            let edge = if (y + n * 53) % 300 < 4 { -50 } else { 0 };
            for tint in [40, 32, 20 + (n % 20) as i32] {
                pixels.push((light + tube + edge + tint + grain).clamp(0, 255) as u8);
            }
        }
    }
    let mut bytes = Vec::new();
    jpeg_encoder::Encoder::new(&mut bytes, 85)
        .encode(&pixels, width, height, jpeg_encoder::ColorType::Rgb)
        .expect("a picture of plain pixels can be encoded");
    bytes
}
