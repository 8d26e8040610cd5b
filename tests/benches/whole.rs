//! How long it takes, and how much memory: `cargo bench --bench whole -- [STEPS]`, 1,000 steps where none is named.
//!
//! Prints the best of several runs of each stage, and the most memory that was held (VmHWM of proc(5), Linux only).

mod synthetic;

use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use kitwright::compile::{check, declared_names, documents};
use kitwright::document::{PrintScale, Purpose, compose, pick_lists};
use kitwright::emit::html::{self, Templates};
use kitwright::emit::pdf::{self, PdfInk};
use kitwright::layout::{Fonts, Style, lay_out};
use kitwright::source::{Collected, Memory, Output, Shelf};

use synthetic::Size;

fn main() {
    let steps = std::env::args().skip(1).find_map(|a| a.parse().ok()).unwrap_or(1_000);
    let made = Instant::now();
    let files = synthetic::manual(Size { steps, photographs: 50, pixels: (1600, 1200) });
    println!("{steps} steps, made in {}", shown(made.elapsed()));
    let found = check(&files, &|_| ()).expect("memory can be listed");
    for d in found.findings.iter().take(5) {
        println!("{}: {}", d.level.word(), d.headline);
    }
    assert_eq!(found.findings.len(), 0, "the measured manual has findings");
    let manual = found.manual.as_ref().expect("there is a manual");
    let resolved = &found.resolved[0];
    let figures = &manual.figures;
    let templates = Templates::built_in();
    let fonts = Fonts::new(None);

    measure("check (read, resolve, rules)", || check(&files, &|_| ()).expect("it can be listed").findings.len());
    measure("compose the manual", || compose(manual, resolved, Purpose::Manual).leaves.len());
    let document = compose(manual, resolved, Purpose::Manual);
    let bench = kitwright::document::bench(manual, resolved);
    let pages = |shelf| {
        let out = Shelved { files: Collected::new(), shelf };
        html::write(&document, &bench, figures, &templates, &out, "").expect("it can be written");
        out.files.into_files().len()
    };
    measure("HTML, the first time", || pages(None));
    let shelf = Kept::default();
    pages(Some(&shelf));
    measure("HTML, its photographs kept", || pages(Some(&shelf)));
    drop((document, bench));
    type Make<'a> = &'a dyn Fn() -> kitwright::document::Document;
    let papers: [(&str, Make, PdfInk); 3] = [
        ("PDF in colour", &|| compose(manual, resolved, Purpose::Manual), PdfInk::Colour),
        ("PDF of the shop copy", &|| compose(manual, resolved, Purpose::ShopCopy), PdfInk::Grey),
        ("PDF of the pick lists", &|| pick_lists(manual, resolved), PdfInk::Grey),
    ];
    for (name, make, ink) in papers {
        let document = make();
        measure(name, || {
            let laid = lay_out(&document, figures, &fonts, &Style::of(&document));
            pdf::write(laid, figures, &fonts, ink, None).expect("it can be written").len()
        });
    }
    drop(found);
    measure("everything for one configuration", || everything(&files));
}

/// What a run finds kept of the one before.
#[derive(Default)]
struct Kept(Mutex<BTreeMap<String, Vec<u8>>>);

impl Shelf for Kept {
    fn get(&self, key: &str) -> Option<Vec<u8>> {
        self.0.lock().expect("no one fails").get(key).cloned()
    }

    fn put(&self, key: &str, bytes: &[u8]) {
        self.0.lock().expect("no one fails").insert(key.to_owned(), bytes.to_vec());
    }
}

struct Shelved<'a> {
    files: Collected,
    shelf: Option<&'a Kept>,
}

impl Output for Shelved<'_> {
    fn write(&self, path: &str, bytes: &[u8]) -> std::io::Result<()> {
        self.files.write(path, bytes)
    }

    fn shelf(&self) -> Option<&dyn Shelf> {
        self.shelf.map(|kept| kept as &dyn Shelf)
    }
}

fn everything(files: &Memory) -> usize {
    let checked = check(files, &|_| ()).expect("it can be listed");
    let names = declared_names(checked.manual.as_ref().expect("there is a manual"));
    let out = Collected::new();
    documents(&checked, files, &names, PrintScale::TRUE, &out, &|_| ()).expect("it can be written");
    out.into_files().values().map(Vec::len).sum()
}

/// The best of some runs, at least two and until three seconds have passed.
fn measure(what: &str, run: impl Fn() -> usize) {
    forget_peak();
    let begin = Instant::now();
    let (mut best, mut runs) = (Duration::MAX, 0);
    while runs < 2 || (begin.elapsed() < Duration::from_secs(3) && runs < 20) {
        let start = Instant::now();
        black_box(run());
        best = best.min(start.elapsed());
        runs += 1;
    }
    let peak = peak().map_or_else(|| "not known".to_owned(), |kb| format!("{} MB", kb >> 10));
    println!("{what:<36} {:>10}   peak {peak:>8}   best of {runs}", shown(best));
}

fn shown(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1e3)
}

/// Sets the peak back to what is held now (proc(5), /proc/pid/clear_refs), where that is allowed.
fn forget_peak() {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}

/// The most memory held at once since the last `forget_peak`, in kB.
fn peak() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    status.lines().find_map(|l| l.strip_prefix("VmHWM:"))?.split_whitespace().next()?.parse().ok()
}
