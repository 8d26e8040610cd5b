//! A bent piece whose length laid out flat is not the length that the parts list gives, or is longer than its blank.
//!
//! It matters because the piece is cut before it is bent: a blank that is short can't be stretched.
//!
//! Wrong: `cut length` 58 for a hoop of legs 20, 18 and 20 about 3 1/2 in: the corners are cut off, and 52.57 in is enough.
//! Right: the developed length, within 1/32 in. A `blank length` may be longer.
//!
//! To accept: `accept: [{ rule: bend-length-differs, about: PART, reason: ... }]` in the step.

use crate::check::fastened::decimal_words;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::plan::bent_piece;

pub const RULE: Rule = Rule {
    id: "bend-length-differs",
    level: Level::Error,
    summary: "a bent piece whose developed length is not that of the parts list",
    source: "geometry: legs less setbacks, with the length of each bend along its neutral axis",
    bending: Leave::Allowed,
    file: include_str!("bend_length_differs.rs"),
    run: Run::Manual(run),
};

/// What a list may be rounded by, inches.
const NEAR: f64 = 1.0 / 32.0 + 1e-9;

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for piece in step.bends.iter().filter_map(|b| bent_piece(ctx.manual, b).ok()) {
            let words = |inches| decimal_words(ctx, inches);
            let flat = piece.flat.length;
            let cut = piece.part.cut_length.filter(|l| (l.value.to_f64() - flat).abs() > NEAR);
            let blank = piece.part.blank_length.filter(|l| l.value.to_f64() < flat - NEAR);
            let Some(listed) = blank.or(cut) else { continue };
            let number = &piece.part.number.value;
            let flat = words(flat);
            let headline = if blank.is_some() {
                format!("{number} needs {flat} before bending, and its blank has {}", words(listed.value.to_f64()))
            } else {
                format!(
                    "{number} is {flat} long before bending, and the parts list says {}",
                    words(listed.value.to_f64())
                )
            };
            let note = piece.work.legs.first().map_or(piece.work.part.span, |l| l.span);
            sink.push(
                RULE.found(headline)
                    .at(listed.span, "not the developed length")
                    .note(note, "the legs")
                    .help(format!("write {flat}, or correct the legs, the angle or the radius"))
                    .about(number)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// By hand: 19 + 22.7175 less twice 3 1/2, with a quarter circle of 3 in, is 39.43 in.
    #[test]
    fn the_list_gives_the_developed_length() {
        let found = |legs: &str| {
            let bends = format!(
                "bends:\n  - {{ part: KW-101, legs: {legs}, angle: 90, radius: 2 1/2, by: maker }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &bends);
            case.findings().into_iter().filter(|f| f.starts_with("bend-length")).collect::<Vec<_>>()
        };
        assert_eq!(found("[19, 23.2876]"), [""; 0]);
        assert_eq!(found("[19, 24]"), ["bend-length-differs parts.csv `40`"]);
        assert_eq!(found("[22, 24]"), ["bend-length-differs parts.csv `42`"]);
    }
}
