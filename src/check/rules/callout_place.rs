//! A callout that has no place in its figure, or one outside it.
//!
//! It matters because a number that points at nothing, or stands on the margin, sends the builder to the wrong part.
//!
//! The place is given in percent of the figure's width and height, from its top left.
//!
//! Wrong: `at: [120, 40]`. Right: `at: [92, 40]`.
//!
//! It can't be accepted.

use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "callout-place",
    level: Level::Error,
    summary: "a callout without a place or outside its figure",
    source: "common practice",
    bending: Bending::Refused,
    file: include_str!("callout_place.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for (figure, callout) in step.figures.iter().flat_map(|f| f.callouts.iter().map(move |c| (f, c))) {
            let (number, name) = (callout.number.value, &figure.figure.value);
            let d = match &callout.at {
                None => RULE
                    .found(format!("callout {number} of {name} has no place"))
                    .at(callout.number.span, "`at` is missing")
                    .help("add `at:` with percent of the width and of the height from the top left, for example `at: [40, 62]`"),
                Some(at) if !inside(at.value.0) || !inside(at.value.1) => RULE
                    .found(format!("callout {number} of {name} lies outside the figure"))
                    .at(at.span, "not between 0 and 100")
                    .help("write percent of the width and of the height from the top left, each from 0 to 100"),
                Some(_) => continue,
            };
            sink.push(d.about(name).about(&step.id.value).about(number));
        }
    }
    sink
}

fn inside(percent: f64) -> bool {
    (0.0..=100.0).contains(&percent)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_callout_points_into_its_figure() {
        assert_eq!(sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [120, 30]").findings(), ["callout-place steps/frame/20-left.md `[120, 30]`"]);
        assert_eq!(sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [20, -1]").findings(), ["callout-place steps/frame/20-left.md `[20, -1]`"]);
        assert_eq!(sound().edit("steps/frame/20-left.md", "at: [20, 30], ", "").findings(), ["callout-place steps/frame/20-left.md `1`"]);
        assert_eq!(sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [0, 100]").findings(), [""; 0]);
    }
}
