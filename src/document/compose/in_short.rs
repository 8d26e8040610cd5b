//! What a step takes, in one line: for whoever has fetched it already, or fetches it by heart.

use super::DocumentComposer;
use super::fastening::places_of;
use crate::document::LiesIn;
use crate::document::inline::{Inline, Inlines};
use crate::model::HardwareAction;
use crate::resolve::ResolvedStep;
use crate::units::natural_cmp;

/// The most numbers of parts that a line names; of more it says how many there are.
const MOST_NAMED: usize = 4;

/// `Pull SK-101, SK-102, SK-103; hardware from bags F1, F2; 6 tools`.
pub(super) fn pull(c: &DocumentComposer, s: &ResolvedStep) -> Inlines {
    let step = &s.step;
    let mut said = Vec::new();
    let parts: Vec<String> = step
        .parts
        .iter()
        .map(|p| if p.quantity == 1 { p.part.value.to_string() } else { format!("{} × {}", p.quantity, p.part.value) })
        .collect();
    let mut distinct = parts.clone();
    distinct.dedup();
    match distinct.len() {
        0 => {}
        1..=MOST_NAMED => said.push(distinct.join(", ")),
        many => said.push(format!("{many} kinds of parts")),
    }
    if !step.assemblies.is_empty() {
        let names: Vec<String> = step.assemblies.iter().map(|a| super::spoken(a.assembly.value.as_str())).collect();
        said.push(names.join(", "));
    }
    let hardware = s.hardware.iter().filter(|h| h.action != HardwareAction::Remove).count();
    if hardware > 0 {
        let kinds =
            if hardware == 1 { "1 kind of hardware".to_owned() } else { format!("{hardware} kinds of hardware") };
        let places = places_of(c, s);
        let word = match (c.place(), places.len()) {
            (_, 0) => "",
            (LiesIn::Bags, 1) => " from bag ",
            (LiesIn::Bags, _) => " from bags ",
            (LiesIn::Bins, 1) => " from bin ",
            (LiesIn::Bins, _) => " from bins ",
        };
        said.push(format!("{kinds}{word}{}", places.join(", ")));
    }
    match step.tools.len() {
        0 => {}
        1 => said.push("1 tool".to_owned()),
        many => said.push(format!("{many} tools")),
    }
    if said.is_empty() && step.consumables.is_empty() {
        return Inlines::new();
    }
    if said.is_empty() {
        said.push("consumables".to_owned());
    }
    vec![Inline::strong("Have ready:"), Inline::text(format!(" {}", said.join("; ")))]
}

/// Names in their natural order, each once.
pub(super) fn in_order(mut names: Vec<String>) -> Vec<String> {
    names.sort_by(|a, b| natural_cmp(a, b));
    names.dedup();
    names
}
