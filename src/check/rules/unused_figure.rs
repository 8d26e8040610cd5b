//! A picture in the folder of figures that no step shows.
//!
//! It matters because a picture that was drawn is usually meant to be seen, and because every picture makes the stick
//! larger.
//!
//! Wrong: `figures/old-bracket.svg` and no step with it. Right: a step that shows it, or no file.
//!
//! To accept: `accept: [{ rule: unused-figure, about: old-bracket.svg, reason: ... }]` in manual.yaml.

use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unused-figure",
    level: Level::Warning,
    summary: "a picture that no step shows",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unused_figure.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for name in ctx.manual.figures.keys() {
        let held_back = ctx.excuses.steps_unread || ctx.excuses.figures.contains(name);
        if held_back || !ctx.names.mentions(Kind::Figure, name.as_str()).is_empty() {
            continue;
        }
        sink.push(
            RULE.found(format!("no step shows {name}"))
                .in_file(format!("figures/{name}"))
                .help("add it to the `figures` of a step, or delete the file")
                .about(name),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_picture_without_a_step() {
        assert_eq!(
            sound()
                .add("figures/old.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"/>")
                .findings(),
            ["unused-figure figures/old.svg"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "brake.svg", "brakes.svg").findings(),
            ["unknown-figure steps/finish/20-brake.md `brakes.svg`"]
        );
    }
}
