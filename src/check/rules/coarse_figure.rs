//! A picture of pixels that has fewer than 150 of them an inch at its printed width.
//!
//! It matters because a photograph that looks sharp on a screen shows its squares on paper, and the hole that it
//! points at is gone.
//!
//! Wrong: a picture 600 pixels across, printed 6 1/2 in wide. Right: a picture of 1000 pixels or more, or `width: 4
//! in`.
//!
//! To accept: `accept: [{ rule: coarse-figure, about: bracket.png, reason: ... }]` in the step's file.

use crate::check::{Context, FigureOnPaper, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "coarse-figure",
    level: Level::Warning,
    summary: "a picture of fewer than 150 pixels an inch as printed",
    source: "common practice: 150 pixels an inch is the least for print",
    bending: Leave::Allowed,
    file: include_str!("coarse_figure.rs"),
    run: Run::Placed(run),
};

/// Pixels an inch that print needs at least.
const LEAST: f64 = 150.0;

fn run(_: &Context, figure: &FigureOnPaper) -> Sink {
    find(figure)
}

fn find(figure: &FigureOnPaper) -> Sink {
    let fine = f64::from(figure.pixels) / figure.width;
    if figure.width <= 0.0 || fine >= LEAST {
        return Sink::new();
    }
    // Rounded down to a tenth, so that a picture of this width passes.
    let widest = (f64::from(figure.pixels) / LEAST * 10.0).floor() / 10.0;
    let d = RULE
        .found(format!("{} has {:.0} pixels an inch as printed", figure.name, fine.floor()))
        .at(figure.span, format!("{} pixels on {:.1} in", figure.pixels, figure.width))
        .help(format!(
            "take a picture of at least {:.0} pixels across, or print it with `width: {widest} in`",
            figure.width * LEAST
        ));
    vec![d.about(&figure.name).about(&figure.step)]
}

#[cfg(test)]
mod tests {
    use crate::check::FigureOnPaper;
    use crate::source::{FileId, Span};
    use crate::units::{FigureName, StepId};

    fn placed(pixels: u32, width: f64) -> FigureOnPaper {
        let span = Span { file: FileId(0), start: 0, end: 1 };
        FigureOnPaper { name: FigureName::new("a.png"), step: StepId::new("a"), span, width, pixels }
    }

    fn found(figure: &FigureOnPaper) -> Vec<String> {
        super::find(figure).iter().map(|d| d.headline.clone()).collect()
    }

    #[test]
    fn pixels_on_paper() {
        assert_eq!(found(&placed(600, 6.5)), ["a.png has 92 pixels an inch as printed"]);
        assert_eq!(found(&placed(600, 4.0)), [""; 0]);
        assert_eq!(found(&placed(599, 4.0)), ["a.png has 149 pixels an inch as printed"]);
    }
}
