//! The paged documents of real manuals, on both papers, as other programs see them.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use super::{compile, demonstration, rudder};
use crate::outside;
use kitwright::figure::{contrast, lightness, luminance};

/// The paged documents of one configuration of a compile, copied to a folder of their own: `manual-NAME.pdf`.
fn gather(out: &Path, name: &str, into: &Path) {
    let mut folders: Vec<PathBuf> =
        std::fs::read_dir(out).expect("the output can be listed").map(|f| f.expect("an entry").path()).collect();
    folders.retain(|f| f.join("manual.pdf").is_file());
    folders.sort();
    for kind in ["manual", "shop-copy", "pick-lists"] {
        let to = into.join(format!("{kind}-{name}.pdf"));
        std::fs::copy(folders[0].join(format!("{kind}.pdf")), to).expect("a document can be copied");
    }
}

fn copy_folder(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("a folder can be made");
    for entry in std::fs::read_dir(from).expect("a folder can be listed") {
        let (from, to) = {
            let e = entry.expect("an entry");
            (e.path(), to.join(e.file_name()))
        };
        if from.is_dir() {
            copy_folder(&from, &to)
        } else {
            std::fs::copy(&from, &to).map(|_| ()).expect("a file can be copied")
        }
    }
}

/// A manual's sources on A4.
fn on_a4(manual: &Path, name: &str) -> PathBuf {
    let sources = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outputs").join(format!("{name}-sources"));
    let _ = std::fs::remove_dir_all(&sources);
    copy_folder(manual, &sources);
    let settings = sources.join("manual.yaml");
    let text = std::fs::read_to_string(&settings).expect("the settings can be read");
    let plain: Vec<&str> = text.lines().filter(|line| !line.starts_with("paper:")).collect();
    std::fs::write(&settings, format!("{}\npaper: a4\n", plain.join("\n"))).expect("the settings can be written");
    compile(&sources, name)
}

#[test]
fn pages_are_clean_tagged_and_refer_rightly() {
    let check = "text, ink, links, hyphens and tags of the paged documents";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "outloud", check).is_none() || outside::program("pdftotext", check).is_none() {
        return;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outputs/sheets");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder of the build can be made");
    gather(demonstration(), "demonstration", &folder);
    gather(rudder(), "rudder", &folder);
    let a4 = on_a4(&outside::project().join("tests/cases/rudder"), "rudder-a4");
    gather(&a4, "rudder-a4", &folder);
    outside::run(outside::script(&python, "paper.py").arg(&a4).arg("a4"));
    outside::run(outside::script(&python, "paged.py").arg(&folder).arg("--controls"));
}

#[test]
fn luminance_lightness_and_contrast_are_those_of_another_library() {
    let check = "luminance, lightness and contrast of colours";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "coloraide", check).is_none() {
        return;
    }
    let mut child = outside::script(&python, "luminance.py")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the script runs");
    let mut input = child.stdin.take().expect("an input");
    for step in 0..400_u32 {
        // Spread over the cube: a multiple of a number prime to its size.
        let colour = step.wrapping_mul(9_973_171) & 0xFF_FF_FF;
        let other = step.wrapping_mul(3_774_739) & 0xFF_FF_FF;
        let (luminance, lightness) = (luminance(colour), lightness(colour));
        let contrast = contrast(colour, other);
        writeln!(input, "#{colour:06x} {luminance} {lightness} #{other:06x} {contrast}").expect("the script reads");
    }
    drop(input);
    let output = child.wait_with_output().expect("the script ends");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
}
