//! What a compile writes, as programs outside the project read it.
//!
//! The demonstration manual is compiled once for all checks; the cases of `tests/cases` are compiled too.

mod bad_paper;
mod paged;
mod pictures;
mod small;
mod trailer;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use crate::outside;

/// Compiles a manual's folder into a folder of the build, and returns that.
fn compile(manual: &Path, name: &str) -> PathBuf {
    compile_with(manual, name, &[])
}

/// The same with further arguments.
fn compile_with(manual: &Path, name: &str, more: &[&str]) -> PathBuf {
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outputs").join(name);
    let _ = std::fs::remove_dir_all(&out);
    std::fs::create_dir_all(&out).expect("a folder of the build can be made");
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    outside::run(command.args(["compile", "--format", "lines"]).args(more).arg("--out").arg(&out).arg(manual));
    out
}

fn demonstration() -> &'static Path {
    static OUT: OnceLock<PathBuf> = OnceLock::new();
    OUT.get_or_init(|| compile(&outside::project().join("manual-src"), "demonstration"))
}

fn rudder() -> &'static Path {
    static OUT: OnceLock<PathBuf> = OnceLock::new();
    OUT.get_or_init(|| compile(&outside::project().join("tests/cases/rudder"), "rudder"))
}

#[test]
fn the_pdf_says_what_the_html_says() {
    let check = "the words of each step in PDF and HTML";
    let (Some(python), Some(_)) = (outside::python(check), outside::program("pdftotext", check)) else { return };
    for out in [demonstration(), rudder()] {
        outside::run(outside::script(&python, "words.py").arg(out));
    }
}

/// The work is near the top of a step's page on a phone and on a laptop, and on the page of the title or the next on paper.
#[test]
fn the_work_is_near() {
    let check = "how far the work of a step is from its title, by PDFium and in a browser";
    let (Some(python), Some(_)) = (outside::python(check), outside::node_modules(check)) else { return };
    let (Some(node), Some(browser)) =
        (outside::program("node", check), outside::program("chromium-headless-shell", check))
    else {
        return;
    };
    let folder = demonstration().join("SAND+brake+hitch");
    outside::run(outside::script(&python, "openings.py").arg(&folder).args(["204", "230"]));
    outside::run(outside::script(&node, "reach.cjs").arg(folder.join("manual")).arg(browser));
}

#[test]
fn paged_documents_are_sound_grey_where_they_must_be_and_of_the_right_size() {
    let check = "qpdf, mutool and pdfplumber on every paged document";
    let Some(python) = outside::python(check) else { return };
    if ["qpdf", "mutool", "pdffonts"].iter().any(|p| outside::program(p, check).is_none()) {
        return;
    }
    for (out, paper) in [(demonstration(), "letter"), (rudder(), "a4")] {
        outside::run(outside::script(&python, "paper.py").arg(out).arg(paper));
    }
}

#[test]
fn pages_load_nothing_from_elsewhere_and_lists_run_no_formula() {
    let Some(python) = outside::python("what pages load, and cells as a spreadsheet takes them") else { return };
    for out in [demonstration(), rudder()] {
        outside::run(outside::script(&python, "quiet.py").arg(out));
        outside::run(outside::script(&python, "cells.py").arg(out));
    }
}

#[test]
fn every_page_and_style_sheet_is_valid() {
    let check = "the Nu HTML checker on every page";
    let Some(modules) = outside::node_modules(check) else { return };
    let Some(shell) = outside::program("java", check).and(outside::program("sh", check)) else { return };
    let jar = modules.join("vnu-jar/build/dist/vnu.jar");
    outside::run(outside::script(&shell, "markup.sh").arg(&jar).args([demonstration(), rudder()]));
}

/// One configuration of each manual: the others have the same kinds of page.
#[test]
fn pages_can_be_used_by_key_and_read_by_everyone() {
    let check = "axe, links, keys and requests in a browser";
    let (Some(_), Some(node)) = (outside::node_modules(check), outside::program("node", check)) else { return };
    let Some(browser) = outside::program("chromium-headless-shell", check) else { return };
    for out in [demonstration(), rudder()] {
        let folders = std::fs::read_dir(out).expect("the output can be listed");
        let mut folders: Vec<_> =
            folders.map(|f| f.expect("an entry").path().join("manual")).filter(|p| p.is_dir()).collect();
        folders.sort();
        outside::run(outside::script(&node, "pages.cjs").arg(&folders[0]).arg(&browser));
    }
}

#[test]
fn templates_measure_true() {
    let Some(python) = outside::python("templates measured in the PDF") else { return };
    outside::run(outside::script(&python, "templates.py").arg(demonstration()));
    // A4 and millimetres, sleeves and strips that take several sheets, and a printer that is off.
    let wide = outside::project().join("tests/cases/tubes");
    outside::run(outside::script(&python, "templates.py").arg(compile(&wide, "tubes")));
    let scaled = compile_with(&wide, "tubes-scaled", &["--print-scale", "98.7x99.1"]);
    outside::run(outside::script(&python, "templates.py").arg(scaled).arg("98.7x99.1"));
}

#[test]
fn saddles_of_the_templates_close_in_a_solid_modeller() {
    let check = "saddles read from the templates, in a solid modeller";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "manifold3d.pyi", check).is_none() {
        return;
    }
    outside::run(outside::script(&python, "solids.py").arg(demonstration()));
}
