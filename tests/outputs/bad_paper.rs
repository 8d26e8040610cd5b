//! Content that no page was meant for, through the whole program: what is printed is complete and readable, or a finding
//! says why not.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::outside;

const SETTINGS: &str = "title: Trial\nmaker: Nobody\nnumber: T-1\nvariants:\n  ONE: { title: One }\nconfigurations: [ONE]\n\
    sections:\n  - { section: all, title: All }\n";

const PARTS: &str = "number,name,as supplied,ONE,bin,crate\n";

fn put(folder: &Path, path: &str, text: impl AsRef<[u8]>) {
    let path = folder.join(path);
    std::fs::create_dir_all(path.parent().expect("a parent")).expect("a folder can be made");
    std::fs::write(path, text).expect("it can be written");
}

fn step(folder: &Path, id: &str, keys: &str, body: &str) {
    let text = format!("---\nstep: {id}\ntitle: Trial of {id}\nsection: all\n{keys}---\n\n{body}\n");
    put(folder, &format!("steps/all/{id}.md"), text);
}

/// A drawing of a size with one line across.
fn drawing(width: u32, height: u32) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\"><path d=\"M0 0L{width} {height}\" \
         stroke=\"#000\" stroke-width=\"2\"/></svg>"
    )
}

const FIGURE: &str = "alt: A line., view: looking down, up: toward the reader, forward: top";

/// Compiles a folder; the output, what was said, and whether it ended well.
fn compiled(sources: &Path, name: &str) -> (PathBuf, String, bool) {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outputs").join(name);
    let _ = std::fs::remove_dir_all(&out);
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    let done =
        command.args(["compile", "--format", "lines", "--out"]).arg(&out).arg(sources).output().expect("it runs");
    let said = String::from_utf8_lossy(&done.stdout).into_owned() + &String::from_utf8_lossy(&done.stderr);
    assert!(done.status.code().is_some_and(|c| c < 2), "{said}");
    (out, said, done.status.success())
}

/// The text of a document by `pdfinfo -struct-text` (poppler): all that is no furniture, without white space and soft
/// hyphens.
fn text_of(pdf: &Path) -> String {
    let text = outside::run(Command::new("pdfinfo").arg("-struct-text").arg(pdf));
    let said = text.lines().filter_map(|line| line.trim_start().strip_prefix('"'));
    let said: String = said.map(|line| line.strip_suffix('"').unwrap_or(line)).collect();
    said.chars().filter(|c| !c.is_whitespace() && *c != '\u{ad}').collect()
}

#[test]
fn what_fits_no_page_is_complete_and_told() {
    let check = "content that fits no page";
    let Some(python) = outside::python(check) else { return };
    if outside::program("pdfinfo", check).is_none() {
        return;
    }
    let folder = tempfile::tempdir().expect("a folder can be made");
    let sources = folder.path();
    put(sources, "manual.yaml", SETTINGS);
    put(sources, "parts.csv", PARTS);
    put(sources, "figures/wide.svg", drawing(6000, 12));
    put(sources, "figures/high.svg", drawing(12, 6000));
    put(sources, "figures/many.svg", drawing(800, 600));

    step(sources, "a-word", "", &format!("1. Say {} once.", "lengthy".repeat(285)));
    let head: Vec<String> = (0..14).map(|i| format!("HEADING{i}OF")).collect();
    let rule = vec!["---"; 14].join("|");
    let row: Vec<String> = (0..14).map(|i| format!("KW-{i}00-COMPONENT")).collect();
    step(sources, "b-table", "", &format!("|{}|\n|{rule}|\n|{}|\n\n1. Read the table.", head.join("|"), row.join("|")));
    let cell: Vec<String> = (0..1500).map(|i| format!("w{i}w")).collect();
    step(
        sources,
        "c-cell",
        "",
        &format!("| One | Other |\n|---|---|\n| {} | short |\n\n1. Read the cell.", cell.join(" ")),
    );
    let shapes = format!("figures:\n  - {{ figure: wide.svg, {FIGURE} }}\n  - {{ figure: high.svg, {FIGURE} }}\n")
        .replace("., view", "\", view")
        .replace("alt: ", "alt: \"");
    step(sources, "d-shape", &shapes, "1. Look at both.");
    let mut callouts = String::from(
        "figures:\n  - figure: many.svg\n    alt: A line.\n    view: looking down\n    up: toward the reader\n    forward: top\n    callouts:\n",
    );
    for n in 0..300 {
        let _ = writeln!(
            callouts,
            "      - {{ callout: {}, at: [{}, {}], text: place {n} }}",
            n + 1,
            3 + n % 20 * 5,
            3 + n / 20 * 6
        );
    }
    step(sources, "e-callouts", &callouts, "1. Count them.");
    step(sources, "f-letter", "", "1. Turn the \u{1F6E9} over.");
    let message: Vec<String> = (0..1200).map(|i| format!("m{i}m")).collect();
    step(sources, "g-message", "", &format!("> **WARNING** {}.\n\n1. Read it.", message.join(" ")));

    let (out, said, well) = compiled(sources, "bad-paper");
    assert!(well, "{said}");
    for told in ["wide-table", "missing-character", "long-safety-message"] {
        assert_eq!(said.matches(told).count(), 1, "{told}: {said}");
    }
    assert!(said.contains("U+1F6E9") && said.contains("f-letter.md"), "{said}");

    for document in ["manual.pdf", "shop-copy.pdf"] {
        let text = text_of(&out.join("ONE").join(document));
        assert_eq!(text.matches("lengthy").count(), 285, "{document}: every letter of the word");
        let last = head.iter().chain(&row).chain(&cell).chain(&message).find(|w| !text.contains(w.as_str()));
        assert_eq!(last, None, "{document}: every word of the table, the cell and the message");
        for n in 0..300 {
            assert!(text.contains(&format!("place{n}")), "{document}: callout {n}");
        }
    }
    let sheets = out.join("sheets");
    std::fs::create_dir_all(&sheets).expect("a folder can be made");
    for kind in ["manual", "shop-copy", "pick-lists"] {
        std::fs::copy(out.join("ONE").join(format!("{kind}.pdf")), sheets.join(format!("{kind}.pdf"))).expect("a copy");
    }
    outside::run(outside::script(&python, "paged.py").arg(&sheets));

    // The author may set what is found on paper to another level, and accept it.
    put(
        sources,
        "manual.yaml",
        format!(
            "{SETTINGS}levels: {{ wide-table: error, missing-character: off }}\naccept:\n  - {{ rule: long-safety-message, about: g-message, reason: it is the law's own text }}\n"
        ),
    );
    let (_, said, well) = compiled(sources, "bad-paper-levels");
    assert!(
        !well
            && said.contains("wide-table")
            && !said.contains("missing-character")
            && !said.contains("long-safety-message"),
        "{said}"
    );
}

#[test]
fn a_manual_without_steps_is_still_a_document() {
    let folder = tempfile::tempdir().expect("a folder can be made");
    put(folder.path(), "manual.yaml", SETTINGS);
    put(folder.path(), "parts.csv", PARTS);
    let (out, said, well) = compiled(folder.path(), "bad-paper-empty");
    assert!(!said.contains("panicked"), "{said}");
    if well {
        let check = "a manual without steps";
        if outside::program("qpdf", check).is_some() {
            outside::run(Command::new("qpdf").arg("--check").arg(out.join("ONE/manual.pdf")));
        }
    } else {
        assert!(said.contains("error"), "a finding says why there are no documents: {said}");
    }
}

#[test]
fn a_broken_font_is_told_and_what_a_poor_one_lacks_comes_from_another() {
    let check = "fonts of the author's";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "fontTools", check).is_none() || outside::program("pdffonts", check).is_none() {
        return;
    }
    let folder = tempfile::tempdir().expect("a folder can be made");
    let sources = folder.path();
    put(sources, "manual.yaml", format!("{SETTINGS}fonts: {{ body: fonts/own.ttf }}\n"));
    put(sources, "parts.csv", PARTS);
    step(sources, "letters", "", "1. Bore \u{2300} 3/8 in through the xylograph.");
    let whole = dejavu::sans::regular();
    for broken in [&b"no font"[..], &whole[..20_000], b""] {
        put(sources, "fonts/own.ttf", broken);
        let (_, said, well) = compiled(sources, "bad-font");
        assert!(!well && said.contains("broken-font") && said.contains("manual.yaml"), "{said}");
    }
    // A font with the letters and digits of ASCII only, and one that has not even all of those, made by fontTools.
    put(sources, "whole.ttf", whole);
    let subset = |unicodes: &str| {
        outside::run(
            Command::new(&python)
                .args(["-m", "fontTools.subset", unicodes])
                .arg(format!("--output-file={}", sources.join("fonts/own.ttf").display()))
                .arg(sources.join("whole.ttf")),
        );
    };
    subset("--unicodes=U+0020-0065");
    let (_, said, well) = compiled(sources, "poor-font");
    assert!(!well && said.contains("broken-font") && said.contains("letter `f`"), "{said}");
    subset("--unicodes=U+0020-007E");
    std::fs::remove_file(sources.join("whole.ttf")).expect("it can be removed");
    let (out, said, well) = compiled(sources, "poor-font");
    assert!(well && !said.contains("missing-character"), "{said}");
    let text = text_of(&out.join("ONE/manual.pdf"));
    assert!(text.contains("Bore\u{2300}3/8inthroughthexylograph."), "every letter is there");
    let fonts = outside::run(Command::new("pdffonts").arg(out.join("ONE/manual.pdf")));
    assert!(fonts.lines().skip(2).count() >= 3, "the author's font and those that help out: {fonts}");
}
