//! Checks by outside programs: qpdf, poppler, mutool. Where one is not installed the test says what it leaves out.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::{specimens, words};

fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("paged");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// What a program prints; none where it is not installed.
fn run(program: &str, arguments: &[&str]) -> Option<(bool, String)> {
    match Command::new(program).args(arguments).output() {
        Ok(output) => {
            let text = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
            Some((output.status.success(), text))
        }
        Err(_) => {
            println!("left out: {program} is not installed");
            None
        }
    }
}

/// The words of each leaf's section by `pdfinfo -struct-text` (poppler).
fn struct_words(text: &str) -> Vec<Vec<String>> {
    let mut sections: Vec<String> = Vec::new();
    for line in text.lines() {
        let bare = line.trim_start();
        let indent = line.len() - bare.len();
        if indent == 2 && bare.starts_with("Sect") {
            sections.push(String::new());
            continue;
        }
        let Some(section) = sections.last_mut() else { continue };
        if let Some(said) = bare.strip_prefix('"') {
            section.push_str(said.strip_suffix('"').unwrap_or(said));
        } else if !bare.starts_with("Link") && !bare.starts_with("Object") && !bare.starts_with("Span") {
            section.push(' ');
        }
    }
    // A soft hyphen parts a word at a line end only.
    sections.iter().map(|s| s.replace('\u{ad}', "").split_whitespace().map(str::to_owned).collect()).collect()
}

#[test]
fn outside_programs_agree() {
    for (name, printed) in specimens() {
        let path = folder().join(format!("{name}.pdf"));
        std::fs::write(&path, &printed.pdf).unwrap();
        let path = path.to_str().unwrap();

        if let Some((ok, said)) = run("qpdf", &["--check", path]) {
            assert!(ok && !said.contains("WARNING"), "{name}: {said}");
        }
        if let Some((_, said)) = run("pdffonts", &[path]) {
            let fonts: Vec<&str> = said.lines().skip(2).collect();
            assert!(!fonts.is_empty());
            for font in fonts {
                assert!(
                    font.contains("yes yes yes") && font.contains('+'),
                    "{name}: embedded, subset, with text: {font}"
                );
            }
        }
        if let Some((_, said)) = run("pdfinfo", &["-struct-text", path]) {
            let read = struct_words(&said);
            assert_eq!(
                read.len(),
                printed.document.leaves.len() + 1,
                "{name}: a section a leaf, and the fonts' licence"
            );
            for (leaf, read) in printed.document.leaves.iter().zip(&read) {
                let mut meant = words::of_leaf(leaf, &printed.document, &printed.laid);
                // poppler reads structure without replacement text: the substitute's own sign stands there.
                meant.iter_mut().for_each(|w| *w = w.replace('漢', "\u{fffd}"));
                assert_eq!(read, &meant, "{name}: {}", leaf.anchor.as_str());
            }
        }
        if let Some((_, said)) = run("mutool", &["draw", "-s", "f", "-r", "50", "-o", "/dev/null", path]) {
            let colour = said.lines().filter(|l| l.contains("color")).count();
            assert_eq!(colour > 0, name.starts_with("manual"), "{name}: {said}");
        }
    }
}

#[test]
fn text_by_position_has_the_same_words() {
    // Without structure, too: a reader who copies text gets whole words, and mixed numbers keep their space.
    let (_, printed) = specimens().swap_remove(0);
    let path = folder().join("by-position.pdf");
    std::fs::write(&path, &printed.pdf).unwrap();
    let Some((_, said)) = run("pdftotext", &["-raw", path.to_str().unwrap(), "-"]) else { return };
    assert!(said.contains("23 15/16 in (608 mm)"), "{said}");
    assert!(said.contains("Drill 15/16 in (23.8 mm)"));
    let said = said.replace("\u{ad}\n", "");
    let mut read: Vec<String> = said.split_whitespace().map(str::to_owned).collect();
    read.sort();
    for leaf in &printed.document.leaves {
        for word in words::of_leaf(leaf, &printed.document, &printed.laid) {
            assert!(read.binary_search(&word).is_ok() || said.contains(&word), "{word}");
        }
    }
}
