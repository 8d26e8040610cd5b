//! A wire that its fuse or circuit breaker does not protect: too large a one for its size, one that is smaller than the
//! current, or none at all.
//!
//! It matters because a wire that is shorted burns before a fuse that is too large does.
//!
//! A size in square millimetres is judged as the next smaller size in AWG: IEC 60228 gives its resistance alone. Which
//! current a wire bears all the time depends on the wires beside it; what it bears in a full bundle at 70 °C is a warning.
//!
//! Wrong: `size: AWG 18`, `fuse: 15 A`. Right: `fuse: 10 A`, or `size: AWG 14`.
//!
//! To accept: `accept: [{ rule: wire-not-protected, about: left-lamp, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Wire;
use crate::trade::{Protector, WireSize};
use crate::units::{Rational, decimal_text};

pub const RULE: Rule = Rule {
    id: "wire-not-protected",
    level: Level::Error,
    summary: "a wire that its fuse or circuit breaker does not protect",
    source: "FAA AC 43.13-1B, tables 11-3 and 11-9",
    bending: Leave::Allowed,
    file: include_str!("wire_not_protected.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for wire in &step.wires {
            sink.extend(faults(wire).into_iter().map(|d| d.about(&wire.wire.value).about(&step.id.value)));
        }
    }
    sink
}

fn faults(wire: &Wire) -> Vec<Diagnostic> {
    let id = &wire.wire.value;
    let size = wire.size.value;
    let protectors = [(Protector::Fuse, &wire.fuse), (Protector::Breaker, &wire.breaker)];
    let mut all = Vec::new();
    for (kind, rated) in protectors.iter().filter_map(|(kind, rated)| Some((*kind, rated.as_ref()?))) {
        if let Some(most) = size.largest(kind).filter(|most| rated.value.value > most.value) {
            all.push(
                RULE.found(format!(
                    "the {} of the wire {id} is {}, and {} is the most for {size}",
                    kind.word(),
                    amps(rated.value.value),
                    amps(most.value)
                ))
                .at(rated.span, format!("more than {} protects{}", most.source.words(), judged(size)))
                .note(wire.size.span, "the size of the wire")
                .help(format!(
                    "take a {} of at most {}, or a larger wire",
                    kind.word(),
                    amps(most.value)
                )),
            );
        }
        if let Some(current) = wire.current.as_ref().filter(|c| c.value.value > rated.value.value) {
            all.push(
                RULE.found(format!(
                    "the wire {id} carries {}, and its {} is {}",
                    amps(current.value.value),
                    kind.word(),
                    amps(rated.value.value)
                ))
                .at(current.span, "it opens at once")
                .help("correct one of the two; a larger one may need a larger wire"),
            );
        }
    }
    if !wire.protected {
        all.push(warning(
            RULE.found(format!("nothing protects the wire {id}"))
                .at(wire.wire.span, "no fuse and no circuit breaker is written")
                .help("add `fuse:` or `breaker:`; where one protects several wires, write it at each of them"),
        ));
    }
    if let (Some(current), Some(bears)) = (&wire.current, size.bears())
        && current.value.value > bears.value
        && !all.iter().any(|d| d.level == Level::Error)
    {
        all.push(warning(
            RULE.found(format!(
                "the wire {id} carries {}, and {size} bears {} in a full bundle",
                amps(current.value.value),
                amps(bears.value)
            ))
            .at(current.span, format!("more than {}, table 11-9{}", bears.source.words(), judged(size)))
            .help(
                "take a larger wire, or accept this with the reason why it runs cooler than in a full bundle at 70 °C",
            ),
        ));
    }
    all
}

fn warning(d: Diagnostic) -> Diagnostic {
    Diagnostic { level: Level::Warning, ..d }
}

/// What a metric size was judged as.
fn judged(size: WireSize) -> String {
    match size.judged_as() {
        Some(other) if other != size => format!(", which has {other} for it"),
        _ => String::new(),
    }
}

fn amps(value: Rational) -> String {
    format!("{} A", decimal_text(value, 2))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::wired;
    use crate::diag::Level;

    const STEP: &str = "steps/finish/20-brake.md";

    /// FAA AC 43.13-1B, table 11-3: No. 18 takes a fuse of 10 A.
    #[test]
    fn the_fuse_protects_the_wire() {
        assert_eq!(wired().findings(), [""; 0]);
        let found = wired().edit(STEP, "fuse: 5 A", "fuse: 15 A");
        assert_eq!(found.findings(), [format!("wire-not-protected {STEP} `15 A`")]);
        assert!(found.only().headline.contains("10 A is the most for AWG 18"));
        let metric = wired().edit(STEP, "size: AWG 18", "size: 1 mm2").edit(STEP, "fuse: 5 A", "fuse: 15 A");
        assert_eq!(metric.findings(), [format!("wire-not-protected {STEP} `15 A`")]);
    }

    #[test]
    fn the_fuse_carries_the_current() {
        let found = wired().edit(STEP, "current: 2 A", "current: 5.5 A");
        assert_eq!(found.findings(), [format!("wire-not-protected {STEP} `5.5 A`")]);
    }

    #[test]
    fn a_wire_without_a_fuse_is_a_warning() {
        let found = wired().edit(STEP, ", fuse: 5 A", "");
        assert_eq!(found.only().level, Level::Warning);
    }

    /// What can't be read is one finding, at its value.
    #[test]
    fn a_value_without_its_unit_is_one_finding() {
        for (from, to) in [("fuse: 5 A", "fuse: 5 V"), ("current: 2 A", "current: 2"), ("length: 60", "length: 0")] {
            let value = to.split_once(": ").map_or(to, |(_, value)| value);
            assert_eq!(wired().edit(STEP, from, to).findings(), [format!("unreadable-value {STEP} `{value}`")]);
        }
    }
}
