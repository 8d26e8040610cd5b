//! A mitre or a saddle without an angle or without its end, or a saddle that does not say onto which part it fits.
//!
//! It matters because there is nothing to cut to: no angle, no template; and a cut at the wrong end costs the tube.
//!
//! Wrong: `{ part: KW-111, end: B, cut: saddle }`. Right: `{ part: KW-111, end: B, cut: saddle, onto: KW-100, angle:
//! 60 }`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::CutKind;

pub const RULE: Rule = Rule {
    id: "cut-incomplete",
    level: Level::Error,
    summary: "a mitre without its angle or end, a saddle without the part it fits",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("cut_incomplete.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (step, cut) in ctx.cuts() {
        let missing = match cut.kind {
            CutKind::Saddle if cut.onto.is_none() && cut.angle.is_none() => "`onto` and `angle`",
            CutKind::Saddle if cut.onto.is_none() => "`onto`",
            CutKind::Mitre | CutKind::Saddle if cut.angle.is_none() => "`angle`",
            CutKind::Mitre | CutKind::Saddle if cut.end.is_none() => "`end`",
            _ => continue,
        };
        let help = match cut.kind {
            _ if missing == "`end`" => "write `end: A`, `end: B` or `end: both`",
            CutKind::Saddle => "write `onto:` and the part it fits, and `angle:` between the two axes in degrees",
            _ => "write `angle:` in degrees off square",
        };
        sink.push(
            RULE.found(format!("the {} on {} has no {missing}", cut.kind.word(), cut.part.value))
                .at(cut.part.span, format!("{missing} missing"))
                .help(help)
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
    fn a_cut_says_its_angle() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5,", "cut: mitre,").findings(),
            ["cut-incomplete steps/frame/10-keel.md `KW-101`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5,", "cut: saddle, angle: 60,").findings(),
            ["cut-incomplete steps/frame/10-keel.md `KW-101`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "cut: mitre, angle: 22.5,", "cut: square,").findings(),
            [""; 0]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "end: A, cut: mitre", "cut: mitre").findings(),
            ["cut-incomplete steps/frame/10-keel.md `KW-101`"]
        );
    }
}
