//! A callout or an arrow that has no place in its figure, or one outside what is shown of it.
//!
//! It matters because a number that points at nothing, or stands on the margin, sends the builder to the wrong part.
//!
//! The place is given in percent of the whole picture's width and height, from its top left, also where the figure
//! shows only a part of it. An arrow needs two places that differ.
//!
//! Wrong: `at: [120, 40]`. Right: `at: [92, 40]`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::figure::Crop;

pub const RULE: Rule = Rule {
    id: "callout-place",
    level: Level::Error,
    summary: "a callout or an arrow without a place or outside its figure",
    source: "common practice",
    bending: Leave::Refused,
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
                Some(at) if !figure.crop.is_none_or(|crop| crop.value.shows(at.value)) => RULE
                    .found(format!("callout {number} of {name} lies outside what is shown"))
                    .at(at.span, "cropped away")
                    .help("show more of the picture with `crop:`, or take the callout out"),
                Some(_) => continue,
            };
            sink.push(d.about(name).about(&step.id.value).about(number));
        }
        for (figure, arrow) in step.figures.iter().flat_map(|f| f.arrows.iter().map(move |a| (f, a))) {
            let name = &figure.figure.value;
            let crop = figure.crop.map_or(Crop::WHOLE, |c| c.value);
            let lost = [arrow.from, arrow.to].into_iter().find(|end| !crop.shows(end.value));
            let d = match lost {
                Some(end) => RULE
                    .found(format!("an arrow of {name} reaches outside what is shown"))
                    .at(end.span, "outside the figure, or cropped away")
                    .help("write percent of the width and of the height of the whole picture, inside the part that `crop:` shows"),
                None if arrow.from.value == arrow.to.value => RULE
                    .found(format!("an arrow of {name} has no direction"))
                    .at(arrow.to.span, "ends where it begins")
                    .help("write in `to:` where the arrow's head is, and in `from:` where it begins"),
                None => continue,
            };
            sink.push(d.about(name).about(&step.id.value).about(arrow.index));
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
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [120, 30]").findings(),
            ["callout-place steps/frame/20-left.md `[120, 30]`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [20, -1]").findings(),
            ["callout-place steps/frame/20-left.md `[20, -1]`"]
        );
        assert_eq!(
            sound().edit("steps/frame/20-left.md", "at: [20, 30], ", "").findings(),
            ["callout-place steps/frame/20-left.md `1`"]
        );
        assert_eq!(sound().edit("steps/frame/20-left.md", "at: [20, 30]", "at: [0, 100]").findings(), [""; 0]);
    }

    #[test]
    fn what_is_cropped_away_can_not_be_pointed_at() {
        let with = |keys: &str| {
            let figure = "callouts:";
            sound().edit("steps/frame/20-left.md", figure, &format!("{keys}\n    {figure}")).findings()
        };
        assert_eq!(with("crop: [10, 20, 70, 50]"), [""; 0]);
        assert_eq!(with("crop: [30, 20, 60, 50]"), ["callout-place steps/frame/20-left.md `[20, 30]`"]);
        assert_eq!(with("arrows: [{ from: [10, 10], to: [90, 10] }]"), [""; 0]);
        assert_eq!(
            with("arrows: [{ from: [10, 10], to: [101, 10] }]"),
            ["callout-place steps/frame/20-left.md `[101, 10]`"]
        );
        assert_eq!(
            with("arrows: [{ from: [10, 10], to: [10, 10] }]"),
            ["callout-place steps/frame/20-left.md `[10, 10]`"]
        );
        assert_eq!(with("crop: [10, 20, 95, 50]"), ["unreadable-value steps/frame/20-left.md `[10, 20, 95, 50]`"]);
        assert_eq!(with("arrows: [{ to: [10, 10] }]"), ["missing-key steps/frame/20-left.md `{ to: [10, 10] }`"]);
    }
}
