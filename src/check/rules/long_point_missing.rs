//! A mitre or a saddle that the builder cuts and that does not say where around the tube its long point is.
//!
//! It matters because the template is then laid with its long point on the datum line, and with the datum line on top of
//! the tube that is often a quarter turn wrong.
//!
//! Wrong: `{ part: KW-111, end: A, cut: saddle, onto: KW-100, angle: 60 }`. Right: the same with `long-point: 3`, the clock
//! position looking at that end, the datum line being 12. Of a saddle at 90 degrees it is the line that points along the
//! axis of the tube it fits.
//!
//! To accept: `accept: [{ rule: long-point-missing, about: KW-111, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{By, CutKind};

pub const RULE: Rule = Rule {
    id: "long-point-missing",
    level: Level::Warning,
    summary: "a mitre or saddle that does not say where its long point is",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("long_point_missing.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (step, cut) in ctx.cuts() {
        if cut.by != By::Builder || cut.kind == CutKind::Square || cut.long_point.is_some() {
            continue;
        }
        sink.push(
            RULE.found(format!("the {} on {} does not say where its long point is", cut.kind.word(), cut.part.value))
                .at(cut.part.span, "`long-point` missing")
                .help("write `long-point:` and the clock position looking at that end; the datum line is 12")
                .about(&cut.part.value)
                .about(&step.id.value),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_cut_says_how_it_is_turned() {
        let without = sound().edit("steps/frame/10-keel.md", ", long-point: 12", "");
        assert_eq!(without.findings(), ["long-point-missing steps/frame/10-keel.md `KW-101`"]);
        assert_eq!(
            without.edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5", "cut: square").findings(),
            [""; 0]
        );
    }
}
