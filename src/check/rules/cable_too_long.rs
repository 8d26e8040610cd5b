//! A cable that can't be cut from what is supplied: pin to pin with what goes round its thimbles, it needs more than the
//! part has, or nothing is left of it.
//!
//! It matters because a cable that comes out short is thrown away.
//!
//! Wrong: 60 in from pin to pin with two loops of 4 1/2, out of 60 in. Right: a longer `blank length` of the part.
//!
//! To accept: `accept: [{ rule: cable-too-long, about: ID, reason: ... }]` in the step.

use crate::check::fastened::decimal_words;
use crate::check::{Context, Leave, Rule, Run, written_cables};
use crate::diag::{Level, Sink};
use crate::resolve::Resolved;
use crate::units::Length;

pub const RULE: Rule = Rule {
    id: "cable-too-long",
    level: Level::Error,
    summary: "a cable that needs more than is supplied, or of which nothing is left",
    source: "geometry: pin to pin, less what reaches to the thimbles, with a loop at each end",
    bending: Leave::Allowed,
    file: include_str!("cable_too_long.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for cable in written_cables(ctx.manual, resolved) {
        let Some(needed) = cable.cut_length() else { continue };
        let at = cable.use_.length.map_or(cable.use_.cable.span, |l| l.span);
        let supplied = cable.part.and_then(|p| p.blank_length.or(p.cut_length));
        let found = if needed <= Length::ZERO {
            RULE.found(format!("nothing is left of the cable {}: its fittings are longer than it", cable.id))
                .at(at, "too short from pin to pin")
        } else if let Some(supplied) = supplied.filter(|l| needed > l.value) {
            let [needed, has] = [needed, supplied.value].map(|l| decimal_words(ctx, l.to_f64()));
            RULE.found(format!("the cable {} is cut to {needed}, and {has} are supplied", cable.id))
                .at(at, "with its loops longer than what is supplied")
                .note(supplied.span, "supplied")
        } else {
            continue;
        };
        sink.push(
            found
                .help("correct the length, the loops or what is supplied")
                .about(cable.id)
                .about(&cable.step.step.id.value),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_loops_are_cut_with_it() {
        let found = |length: &str| {
            let end = "{ thimble: AN960-416, loop: 2 }";
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-200, length: {length}, end-a: {end}, end-b: {end} }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            case.findings().into_iter().filter(|f| f.starts_with("cable-too-long")).collect::<Vec<_>>()
        };
        // 30 in are supplied.
        assert_eq!(found("26"), [""; 0]);
        assert_eq!(found("27"), ["cable-too-long steps/frame/10-keel.md `27`"]);
        assert_eq!(found("-9"), ["cable-too-long steps/frame/10-keel.md `-9`"]);
    }
}
