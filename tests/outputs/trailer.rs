//! The metric case: a trailer of aluminium tube and wood. Nothing is found in it under general metric practice, and what is
//! printed of it is metric.

use super::{compile, outside};

use kitwright::compile::check;
use kitwright::source::{Disk, Files as _, Memory};

fn trailer() -> Memory {
    let disk = Disk::open(&outside::project().join("tests/cases/trailer")).expect("it is there");
    let mut files = Memory::new();
    for entry in disk.list().expect("it can be listed") {
        files.insert(entry.path.clone(), disk.read(&entry.path).expect("it can be read"));
    }
    files
}

fn found(files: &Memory) -> Vec<String> {
    let checked = check(files, &|_| ()).expect("memory can be listed");
    checked.findings.iter().map(|d| format!("{} {}", d.rule, d.headline)).collect()
}

/// Replaces the `old` that stands in `path` once.
fn edited(path: &str, old: &str, new: &str) -> Memory {
    let mut files = trailer();
    let text = String::from_utf8(files.read(path).expect("the file is there")).expect("UTF-8");
    assert_eq!(text.matches(old).count(), 1, "{old:?} in {path}");
    files.insert(path, text.replacen(old, new, 1));
    files
}

#[test]
fn the_metric_case_is_clean_and_needs_no_reasons() {
    assert_eq!(found(&trailer()), [""; 0]);
    let files = trailer();
    for entry in files.list().expect("listed") {
        let text = String::from_utf8(files.read(&entry.path).expect("read")).expect("UTF-8");
        assert!(!text.contains("torque-reason"), "{}", entry.path);
    }
    // Without its trade the usual limits hold, and they are those of inch aircraft practice.
    let inch = found(&edited("manual.yaml", "trade: metric-general\n", ""));
    assert!(inch.iter().any(|f| f.starts_with("bolt-does-not-fit")), "{inch:?}");
    assert!(inch.iter().any(|f| f.starts_with("torque-unlike-table")), "{inch:?}");
}

#[test]
fn its_mistakes_are_found() {
    let deck = "steps/fittings/40-deck.md";
    for (path, old, new, rule) in [
        ("manual.yaml", "torque: 8..10 N m dry", "torque: 80..100 N m dry", "torque-too-high"),
        (
            "steps/fittings/20-coupling.md",
            "sign-off: [builder, second person]",
            "sign-off: [builder]",
            "critical-joint",
        ),
        ("steps/fittings/10-leg.md", "bore: 8.6 mm", "bore: 7.6 mm", "hole-too-small"),
        (deck, "    locked-by: thread locker\n", "", "nut-does-not-suit"),
        (
            deck,
            "{ part: TR-108, countersunk: yes }",
            "{ part: TR-108, countersunk: yes, thickness: 2 mm }",
            "countersink-unsuited",
        ),
        ("steps/fittings/30-battens.md", "  - { part: TR-105, quantity: 2, do: finish }\n", "", "finish-not-applied"),
        ("steps/frame/10-rail.md", "kind: through-tube", "kind: trough-tube", "unknown-joint-kind"),
        ("steps/fittings/30-battens.md", "cured: [blocks]\n", "", "bond-not-cured"),
        ("steps/electric/20-lamp.md", "fuse: 5 A", "fuse: 25 A", "wire-not-protected"),
        ("steps/electric/10-brake.md", "    sheath-length: 1700 mm\n", "", "cable-incomplete"),
        ("steps/frame/20-cross.md", "fastener: ISO 4014 M8x60", "fastener: ISO 4014 M8x70", "hole-without-fastener"),
    ] {
        let found = found(&edited(path, old, new));
        assert!(found.iter().any(|f| f.starts_with(rule)), "{rule}: {found:?}");
    }
}

/// A step that waits for a bond goes by what was written down where it was glued, in a browser.
#[test]
fn a_step_waits_for_what_another_has_glued() {
    let check = "a bond in the record";
    let (Some(_), Some(node)) = (outside::node_modules(check), outside::program("node", check)) else { return };
    let Some(browser) = outside::program("chromium-headless-shell", check) else { return };
    let pages = compile(&outside::project().join("tests/cases/trailer"), "trailer-glued").join("PLAIN/manual");
    let steps = ["step-blocks.html", "step-battens.html", "7"];
    let said = outside::run(outside::script(&node, "glued.cjs").arg(pages).args(steps).arg(browser));
    assert_eq!(said.trim(), "not before 2026-12-08 14:30");
}

/// No inch is in what is printed of it, on pages and in tables.
#[test]
fn what_is_printed_is_metric() {
    let out = compile(&outside::project().join("tests/cases/trailer"), "trailer");
    let mut seen = 0;
    for entry in walkdir::WalkDir::new(&out) {
        let entry = entry.expect("the output can be read");
        let name = entry.file_name().to_string_lossy().into_owned();
        if !(name.ends_with(".html") || name.ends_with(".csv")) {
            continue;
        }
        let text = std::fs::read_to_string(entry.path()).expect("text");
        for inch in ["in-lb", "\u{a0}in)", "\u{2009}in<", "\u{a0}in<", "\u{2033}"] {
            assert!(!text.contains(inch), "{name}: {inch:?} in ...{}", around(&text, inch));
        }
        // Behind a word it is no unit: "the pin is in, ...".
        for (at, _) in text.match_indices(" in, ") {
            assert!(
                !text[..at].ends_with(|c: char| c.is_ascii_digit()),
                "{name}: ...{}",
                around(&text[..at + 5], " in, ")
            );
        }
        seen += 1;
    }
    assert!(seen > 5, "{seen} files");
}

fn around<'a>(text: &'a str, what: &str) -> &'a str {
    let at = text.find(what).unwrap_or(0);
    let from = text.char_indices().map(|c| c.0).rfind(|i| *i + 80 <= at).unwrap_or(0);
    &text[from..at]
}
