//! A line of a drawing that is thinner than 0.25 points (0.09 mm) as it is printed.
//!
//! It matters because an office printer drops such a line or prints it broken, and with it the edge or the dimension
//! that it shows.
//!
//! The width is that of the printed figure: as wide as the step asks for, else as wide as the text, and then as small
//! as it may be made to fill a page well.
//!
//! Wrong: lines of 0.3 in a drawing 1600 units wide, on a page 5 in wide: 0.07 points. Right: lines of 1.2 and more.
//!
//! To accept: `accept: [{ rule: hairline, about: bracket.svg, reason: ... }]` in the step's file.

use crate::check::fastened::decimal_words;
use crate::check::placed::least_printed;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "hairline",
    level: Level::Warning,
    summary: "a line of a drawing thinner than 0.25 points as printed",
    source: "common practice: printers of 600 dots an inch hold 0.25 points",
    bending: Leave::Allowed,
    file: include_str!("hairline.rs"),
    run: Run::Manual(run),
};

/// In points.
const LEAST: f64 = 0.25;

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for printed in least_printed(ctx.manual) {
        let name = &printed.figure.value;
        let Some(thinnest) = ctx.thinnest(name) else { continue };
        let width = thinnest * printed.whole;
        if width >= LEAST - 0.005 {
            continue;
        }
        let units = LEAST / printed.whole * f64::from(printed.file.width.max(1));
        let d = RULE
            .found(format!("a line of {name} is {width:.2} points wide as printed"))
            .at(
                printed.figure.span,
                format!("printed {} wide; {LEAST} points are needed", decimal_words(ctx, printed.shown / 72.0)),
            )
            .help(format!(
                "draw it {:.1} units wide or wider (1/96 in), or print the figure larger",
                (units * 10.0).ceil() / 10.0
            ));
        sink.push(d.about(name).about(printed.step));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn lines_that_are_too_thin() {
        let line = |width: &str| {
            let line = format!("<path d=\"M10 9H90\" stroke=\"#000\" stroke-width=\"{width}\" fill=\"none\"/></svg>");
            sound().edit("figures/bracket.svg", "</svg>", &line)
        };
        assert_eq!(line("0.02").findings(), ["hairline steps/frame/20-left.md `bracket.svg`"]);
        let help = line("0.02").only().help;
        let better = help.split_whitespace().find(|w| w.starts_with(|c: char| c.is_ascii_digit())).unwrap().to_owned();
        assert_eq!(line(&better).findings(), [""; 0], "{help}");
    }
}
