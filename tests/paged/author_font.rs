//! The author's own font: fonts that happen to be installed stand in for it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use kitwright::document::{LeafRole, Purpose};
use kitwright::emit::pdf::{PdfInk, write};
use kitwright::layout::{Fonts, Style, lay_out};

use super::specimen::{document, leaf, p};

fn installed(folder: &Path, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    let mut paths: Vec<PathBuf> = entries.flatten().map(|e| e.path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            installed(&path, found);
        } else if path.extension().is_some_and(|e| e == "ttf" || e == "otf") {
            found.push(path);
        }
    }
}

#[test]
fn installed_fonts_are_taken_or_refused_with_a_reason() {
    let mut fonts = Vec::new();
    installed(Path::new("/usr/share/fonts"), &mut fonts);
    if fonts.is_empty() {
        println!("left out: no fonts are installed");
    }
    let text = "Slide the bracket along, 12 ways: office, waffle.";
    let mut document = document(Purpose::Manual);
    document.leaves = vec![leaf("page", "x", LeafRole::Text, "Trial", vec![p(text)])];
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("fonts");
    std::fs::create_dir_all(&folder).unwrap();
    let step = (fonts.len() / 12).max(1);
    for path in fonts.iter().step_by(step) {
        let bytes = std::fs::read(path).unwrap();
        let fonts = Fonts::new(Some(&bytes));
        let laid = lay_out(&document, &BTreeMap::new(), &fonts, &Style::of(&document));
        let pdf = write(laid.clone(), &BTreeMap::new(), &fonts, PdfInk::Colour, None).unwrap();
        let out = folder.join(path.file_stem().unwrap()).with_extension("pdf");
        std::fs::write(&out, pdf).unwrap();
        if let Ok(said) = Command::new("pdftotext").args(["-raw", out.to_str().unwrap(), "-"]).output() {
            let said = String::from_utf8_lossy(&said.stdout).into_owned();
            assert!(said.contains(text), "{}: {said}", path.display());
        }
        println!("{}: {:?}", path.display(), laid.problems);
    }
}
