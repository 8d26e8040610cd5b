//! Lettering of a drawing that is too small to read as it is printed, and that can't be made large enough.
//!
//! It matters because a dimension that is guessed is built.
//!
//! In print the letters of a drawing are made larger where they come out smaller than 7.5 points (8 in the shop copy), up to 1.7
//! times: more would run into the lines beside them. The size is that of the printed figure: as wide as the step asks for, else
//! as wide as the text, and then as small as it may be made to fill a page well. Letters that are drawn as paths are not seen.
//!
//! Wrong: letters of 10 in a drawing 1600 units wide, on a page 5 in wide: 2.3 points. Right: letters of 26 and more.
//!
//! To accept: `accept: [{ rule: small-lettering, about: bracket.svg, reason: ... }]` in the step's file.

use crate::check::fastened::decimal_words;
use crate::check::placed::least_printed;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::figure::{LEAST_LETTERS_GREY, MOST_LARGER};

pub const RULE: Rule = Rule {
    id: "small-lettering",
    level: Level::Warning,
    summary: "lettering of a drawing too small as printed",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("small_lettering.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let least = LEAST_LETTERS_GREY;
    for printed in least_printed(ctx.manual) {
        let name = &printed.figure.value;
        let Some(smallest) = ctx.smallest_letters(name) else { continue };
        let size = smallest * printed.whole * MOST_LARGER;
        if size >= least - 0.05 {
            continue;
        }
        let times = (least / size * 10.0).ceil() / 10.0;
        let d = RULE
            .found(format!("letters of {name} are {size:.1} points high as printed, made larger as far as they can be"))
            .at(
                printed.figure.span,
                format!("printed {} wide; {least} points are needed", decimal_words(ctx, printed.shown / 72.0)),
            )
            .help(format!("letter it {times:.1} times as large, or print the figure larger"));
        sink.push(d.about(name).about(printed.step));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn letters_that_are_too_small() {
        let letters = |size: &str| {
            let text = format!("<text x=\"150\" y=\"150\" font-size=\"{size}\">24</text></svg>");
            sound().edit("figures/bracket.svg", "</svg>", &text)
        };
        assert_eq!(letters("0.5").findings(), ["small-lettering steps/frame/20-left.md `bracket.svg`"]);
        let help = letters("0.5").only().help;
        let times = help.split_whitespace().find(|w| w.starts_with(|c: char| c.is_ascii_digit())).unwrap();
        let better = 0.5 * times.parse::<f64>().unwrap();
        assert_eq!(letters(&better.to_string()).findings(), [""; 0], "{help}");
    }
}
