//! A cable that no step finishes, or that is made twice: cable of which nothing is made, an end that nothing closes, an
//! end closed twice, a cable worked on that no step defines, or defined in two.
//!
//! It matters because an open end holds nothing, and a cable that is made twice is missing somewhere else.
//!
//! Wrong: `cable: shroud` in the steps of both hands. Right: `cable: left-shroud` in a step with `opposite: yes`; the other
//! is then `right-shroud`.
//!
//! To accept: `accept: [{ rule: cable-unfinished, about: ID, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run, written_cable_faults};
use crate::diag::{Level, Sink};
use crate::model::StockShape;
use crate::plan::CableFaultKind;
use crate::resolve::Resolved;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "cable-unfinished",
    level: Level::Error,
    summary: "a cable with an end that no step closes, or that is made twice or never",
    source: "geometry: a cable has two ends",
    bending: Leave::Allowed,
    file: include_str!("cable_unfinished.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let cables = resolved.steps.iter().flat_map(|s| &s.step.cables);
    let made: Vec<&PartNumber> = cables.filter_map(|c| Some(&c.part.as_ref()?.value)).collect();
    for (s, item) in resolved.steps.iter().flat_map(|s| s.step.parts.iter().map(move |p| (s, p))) {
        let Some(part) = ctx.manual.parts.get(&item.part.value) else { continue };
        let stock = part.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value));
        let raw =
            stock.is_some_and(|s| s.shape == StockShape::Cable) && !part.supplied.finished && !part.supplied.assembled;
        let first = resolved.ledger.parts.get(&item.part.value).and_then(|a| a.steps.first()) == Some(&s.step.id.value);
        let held_back = ctx.excuses.steps_unread || ctx.excuses.parts.contains(&item.part.value);
        if !raw || !first || held_back || made.contains(&&item.part.value) || !item.becomes.is_empty() {
            continue;
        }
        sink.push(
            RULE.found(format!("{} is cable, and no step makes a cable of it", item.part.value))
                .at(item.part.span, "taken here, and never closed at its ends")
                .help("add it to the `cables` of the step, or write `finished` into the column as supplied")
                .about(&item.part.value)
                .about(&s.step.id.value),
        );
    }
    for fault in written_cable_faults(resolved) {
        let cable = fault.cable;
        let (headline, label, help) = match fault.kind {
            CableFaultKind::NeverClosed { end } => (
                format!("no step closes end {end} of the cable {cable}"),
                "an open end",
                "add `end-a` or `end-b` where the end is closed",
            ),
            CableFaultKind::ClosedTwice { end } => (
                format!("end {end} of the cable {cable} is closed twice"),
                "closed here again",
                "take one of the two out",
            ),
            CableFaultKind::NotDefined => (
                format!("no step says what the cable {cable} is"),
                "not defined",
                "write `part`, `construction` and `length` where the cable is first worked on",
            ),
            CableFaultKind::DefinedTwice => (
                format!("the cable {cable} is defined twice"),
                "defined here again",
                "write `length` once; a cable of each hand has a side word in its id, for example `left-shroud`",
            ),
            _ => continue,
        };
        sink.push(RULE.found(headline).at(fault.at, label).help(help).about(cable).about(&fault.step.step.id.value));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn both_ends_are_closed_once() {
        let found = |keys: &str| {
            let cable = format!("cables:\n  - {{ cable: stay, part: KW-300, {keys} }}\ntools: [saw]");
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &cable);
            case.findings().into_iter().filter(|f| f.starts_with("cable-unfinished")).collect::<Vec<_>>()
        };
        let end = "{ thimble: AN960-416, loop: 2 }";
        assert_eq!(found(&format!("length: 20, end-a: {end}, end-b: {end}")), [""; 0]);
        assert_eq!(found(&format!("length: 20, end-a: {end}")), ["cable-unfinished steps/frame/10-keel.md `stay`"]);
        assert_eq!(found(&format!("end-a: {end}")), ["cable-unfinished steps/frame/10-keel.md `stay`"]);
    }
}
