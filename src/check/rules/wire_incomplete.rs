//! A wire of which too little is said to make it, or that loses too much on its way.
//!
//! It matters because a terminal without its tool comes off, a wire without a colour is taken for its neighbour, and a lamp
//! or a pump at the end of a thin wire does not get what it needs.
//!
//! What is lost is worked out at 20 °C for the whole way, there and back unless the frame leads back, and held against the
//! designer's `drop`, else against the table by the voltage of the circuit.
//!
//! Wrong: terminals, and no `crimped-with`; 40 ft of AWG 18 at 5 A and 12 V. Right: the crimping tool, among the tools of the
//! step; AWG 10.
//!
//! To accept: `accept: [{ rule: wire-incomplete, about: left-lamp, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{Step, Wire};
use crate::trade::{Cited, Source, allowed_drop};
use crate::units::{Rational, decimal_text};

pub const RULE: Rule = Rule {
    id: "wire-incomplete",
    level: Level::Warning,
    summary: "a wire without its tool, terminals or colour, or that loses too much on its way",
    source: "FAA AC 43.13-1B, 11-66 and table 11-6; IEC 60228",
    bending: Leave::Allowed,
    file: include_str!("wire_incomplete.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        for wire in &step.wires {
            let found = unmade(ctx, step, wire).into_iter().chain(lossy(wire));
            sink.extend(found.map(|d| d.about(&wire.wire.value).about(&step.id.value)));
        }
    }
    sink
}

/// What is missing to make it, in one finding.
fn unmade(ctx: &Context, step: &Step, wire: &Wire) -> Option<Diagnostic> {
    let mut lacks = Vec::new();
    if wire.colour.is_none() {
        lacks.push("`colour`".to_owned());
    }
    let names = ["`from-terminal`", "`to-terminal`"];
    lacks.extend(names.iter().zip(&wire.terminals).filter(|(_, t)| t.is_none()).map(|(name, _)| (*name).to_owned()));
    match &wire.crimped_with {
        None if wire.terminals.iter().any(Option::is_some) => lacks.push("`crimped-with`".to_owned()),
        // A name of nothing is a finding of its own.
        Some(tool) if !ctx.manual.settings.tools.contains_key(&tool.value) => {}
        Some(tool) if !step.tools.iter().any(|t| t.value.value == tool.value) => {
            lacks.push(format!("`{}` among the tools of the step", tool.value));
        }
        _ => {}
    }
    (!lacks.is_empty()).then(|| {
        RULE.found(format!("the wire {} lacks {}", wire.wire.value, lacks.join(", ")))
            .at(wire.wire.span, "too little to make it by")
            .help("write what is missing; an end that is soldered or clamped under a screw is said in the `note`, and accepted")
    })
}

fn lossy(wire: &Wire) -> Option<Diagnostic> {
    let limit = match &wire.drop {
        Some(drop) => Cited::new(drop.value.value, Source::CommonPractice),
        None => allowed_drop(wire.voltage.as_ref()?.value.value)?,
    };
    let lost = wire.lost().filter(|lost| lost.value > limit.value)?;
    let volts = |v: Rational| format!("{} V", decimal_text(v, 2));
    let whose = if wire.drop.is_some() { "the designer's limit" } else { limit.source.words() };
    Some(
        RULE.found(format!(
            "the wire {} loses {} on its way, and {} is the most",
            wire.wire.value,
            volts(lost.value),
            volts(limit.value)
        ))
        .at(wire.size.span, format!("too thin for the current and the length ({whose})"))
        .help("take a larger wire or a shorter way"),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::testing::wired;

    const STEP: &str = "steps/finish/20-brake.md";

    #[test]
    fn a_terminal_needs_its_tool() {
        let found = wired().edit(STEP, "tools: [saw]", "tools: [drill]");
        assert!(found.only().headline.ends_with("`saw` among the tools of the step"), "{:?}", found.findings());
        let unknown = wired().edit(STEP, "crimped-with: saw", "crimped-with: sawe");
        assert_eq!(unknown.findings(), [format!("unknown-tool {STEP} `sawe`")]);
        let found = wired().edit(STEP, ", crimped-with: saw", "");
        assert!(found.only().headline.ends_with("lacks `crimped-with`"), "{:?}", found.findings());
    }

    /// FAA AC 43.13-1B, table 11-9: 6.23 ohms in 1,000 ft of No. 18; 2 A there and back through 40 ft are 0.997 V, and table
    /// 11-6 allows 0.5 V of 14.
    #[test]
    fn a_long_thin_wire_loses_too_much() {
        let found = wired().edit(STEP, "length: 60", "length: 40 ft");
        assert_eq!(found.findings(), [format!("wire-incomplete {STEP} `AWG 18`")]);
        assert!(found.only().headline.contains("loses 1 V"), "{}", found.only().headline);
        let frame = wired().edit(STEP, "length: 60", "length: 40 ft, back-through: frame, drop: 0.5 V");
        assert_eq!(frame.findings(), [""; 0]);
    }
}
