//! Photographs as cameras and presses write them.

use std::path::Path;
use std::process::Command;

use super::compile;
use crate::outside;

const STEP: &str = "\
---
step: look-at-it
title: Look at it
section: running-gear
figures:
  - { figure: turned.jpg, alt: Four fields of colour, view: looking down, up: toward the reader, forward: top }
  - { figure: press.jpg, alt: The same fields in ink, view: looking down, up: toward the reader, forward: top }
---

1. Hold the board up to the picture.
";

#[test]
fn a_photograph_is_upright_and_says_nothing_of_its_camera() {
    let check = "a turned photograph with notes, and one of a press";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "PIL", check).is_none() {
        return;
    }
    let sources = Path::new(env!("CARGO_TARGET_TMPDIR")).join("outputs/photographs-sources");
    let _ = std::fs::remove_dir_all(&sources);
    let kitwright = env!("CARGO_BIN_EXE_kitwright");
    outside::run(Command::new(kitwright).arg("start").arg(&sources));
    let figures = sources.join("figures");
    outside::run(outside::script(&python, "pictures.py").arg("make").arg(&figures));
    std::fs::write(sources.join("steps/running-gear/90-look.md"), STEP).expect("a step can be written");
    let out = compile(&sources, "photographs");
    outside::run(outside::script(&python, "pictures.py").arg("look").arg(&out));
}
