//! A small manual with what the demonstration has not: A4 paper, a ruled inch, names that look like formulas.

use std::path::Path;

use super::compile;
use crate::outside;

/// 4 by 2 inches in user units of 1/96 inch, with a line of 1 inch across and one down.
const RULED: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="384" height="192" viewBox="0 0 384 192">
<path d="M48 48H144" stroke="#000000" stroke-width="1" fill="none"/>
<path d="M240 48V144" stroke="#000000" stroke-width="1" fill="none"/>
</svg>"##;

fn write(folder: &Path) {
    let put = |path: &str, text: &str| {
        let path = folder.join(path);
        std::fs::create_dir_all(path.parent().expect("a parent")).expect("a folder can be made");
        std::fs::write(path, text).expect("it can be written");
    };
    put(
        "manual.yaml",
        "title: Ruled\nmaker: Nobody\nnumber: R-1\npaper: a4\nvariants:\n  ONE: { title: One }\nconfigurations: [ONE]\n\
         sections:\n  - { section: all, title: All }\n",
    );
    put(
        "parts.csv",
        "number,name,as supplied,ONE,bin,crate\n\
         =A1,\"=HYPERLINK(\"\"x\"\")\",finished,1,+B1,@C\n\
         R-2,\" =1+1\",finished,1,-3,-x\n",
    );
    put("figures/ruled.svg", RULED);
    put(
        "steps/all/10-rule.md",
        "---\nstep: rule\ntitle: Lay the parts out\nsection: all\nparts: [\"=A1\", R-2]\nfigures:\n  - figure: ruled.svg\n    \
         alt: Two lines of one inch.\n    caption: Rule\n    view: looking down\n    width: 4 in\n---\n\n1. Lay them out.\n",
    );
}

#[test]
fn a_ruled_inch_measures_an_inch_on_paper_of_the_right_size() {
    let check = "a ruled inch by pdfplumber";
    let Some(python) = outside::python(check) else { return };
    let sources = tempfile::tempdir().expect("a folder can be made");
    write(sources.path());
    let out = compile(sources.path(), "ruled");
    for document in ["manual.pdf", "shop-copy.pdf"] {
        outside::run(outside::script(&python, "inch.py").arg(out.join("ONE").join(document)));
    }
    outside::run(outside::script(&python, "paper.py").arg(&out).arg("a4"));
    // Names that a spreadsheet would run are text: a number, two names, and where they are kept. The bin -3 is a number.
    let printed = outside::run(outside::script(&python, "cells.py").arg(&out));
    assert!(printed.contains("1 lists, 6 cells made text"), "{printed}");
}
