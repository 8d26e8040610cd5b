//! A joint whose holes are too near an edge or to each other: `edge:` or `pitch:` of the joint is less than the rule
//! asks for in diameters of the fastener.
//!
//! It matters because the sheet tears out between the hole and its edge, or from hole to hole.
//!
//! Two diameters to the edge, two and a half for flush heads, three from hole to hole; settable under `fastening` in
//! manual.yaml. Only joints that state the distance are looked at.
//!
//! Wrong: `edge: 3/8` for a 1/4 in bolt. Right: `edge: 1/2`.
//!
//! To accept: `accept: [{ rule: fastener-spacing, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::{Form, RivetHead, Spacing};
use crate::units::decimal_text;

pub const RULE: Rule = Rule {
    id: "fastener-spacing",
    level: Level::Error,
    summary: "holes too near an edge or to each other",
    source: "FAA AC 43.13-1B ch. 4: 2 D to the edge, 2.5 D flush, 3 D pitch; settable",
    bending: Bending::Allowed,
    file: include_str!("fastener_spacing.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let spacing = &ctx.manual.settings.fastening.spacing;
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(diameter) = seen.reading.fastener.as_ref().and_then(|f| f.diameter) else { continue };
        let flush = matches!(
            seen.reading.form(),
            Some(Form::SolidRivet(RivetHead::Flush100 | RivetHead::Flush120) | Form::BlindRivet(RivetHead::Flush100 | RivetHead::Flush120))
        );
        let edge = if flush { spacing.flush_edge } else { spacing.edge };
        for (name, given, diameters) in [("edge", &seen.joint.edge, edge), ("pitch", &seen.joint.pitch, spacing.pitch)] {
            let Some(given) = given else { continue };
            let least = Spacing::least(diameters, diameter.value);
            if given.value >= least.value {
                continue;
            }
            let times = decimal_text(diameters.value, 2);
            let d = RULE
                .found(format!("{}: {name} distance {} is less than {times} diameters", called(seen), words(ctx, given.value)))
                .at(given.span, format!("{times} × {} is {}", words(ctx, diameter.value), words(ctx, least.value)))
                .help(format!("keep at least {} ({}), or take a thinner fastener", words(ctx, least.value), least.source.words()))
                .about(name);
            sink.push(about_joint(no_stronger_than(d, least.source.min(diameter.source)), seen));
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// FAA AC 43.13-1B ch. 4: two diameters to the edge, three from hole to hole: 1/2 and 3/4 in for a 1/4 in bolt.
    #[test]
    fn distances_are_in_diameters() {
        let with = |line: &str| sound().edit("steps/frame/20-left.md", "    places: 2\n", &format!("    places: 2\n    {line}\n"));
        assert_eq!(with("edge: 1/2\n    pitch: 3/4").findings(), [""; 0]);
        assert_eq!(with("edge: 3/8").findings(), ["fastener-spacing steps/frame/20-left.md `3/8`"]);
        assert_eq!(with("pitch: 1/2").findings(), ["fastener-spacing steps/frame/20-left.md `1/2`"]);
        let wide = with("edge: 1/2").edit("manual.yaml", "fastening: {", "fastening: { edge: 3,");
        assert_eq!(wide.findings(), ["fastener-spacing steps/frame/20-left.md `1/2`"]);
    }
}
