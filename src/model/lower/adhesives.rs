//! `adhesives` of `manual.yaml`.

use indexmap::IndexMap;

use super::fields::Fields;
use crate::diag::{Diagnostic, Sink};
use crate::model::bond::{Adhesive, Cure, RatioBy};
use crate::units::{ConsumableId, Period, Temperature};

const PERIOD: &str = "write a number with min, h or d, for example `24 h`";
const TEMPERATURE: &str = "write a number with C or F, for example `20 C`";

pub(super) fn adhesives(f: &Fields, sink: &mut Sink) -> IndexMap<ConsumableId, Adhesive> {
    let mut all = IndexMap::new();
    for (name, node) in f.pairs("adhesives", sink) {
        let a = f.entry("adhesives", node, sink);
        let plain = |name, sink: &mut Sink| a.text(name, sink).map(|t| t.value);
        let period = |name, sink: &mut Sink| a.value(name, PERIOD, Period::parse, sink).map(|p| p.value);
        let adhesive = Adhesive {
            span: name.span,
            preparation: plain("preparation", sink),
            ratio: plain("ratio", sink),
            ratio_by: a.word("ratio-by", RatioBy::ALL, RatioBy::word, sink).map(|w| w.value),
            least: a.value("least-temperature", TEMPERATURE, Temperature::parse, sink).map(|t| t.value),
            pot_life: period("pot-life", sink),
            cures: cures(&a, sink),
            shelf_life: plain("shelf-life", sink),
            test_piece: plain("test-piece", sink),
            protection: plain("protection", sink),
            said: a.written().collect(),
        };
        too_cold(&adhesive, sink);
        all.insert(ConsumableId::new(&name.value), adhesive);
    }
    all
}

/// Times for a temperature below the one at which it cures at all.
fn too_cold(a: &Adhesive, sink: &mut Sink) {
    let Some(least) = &a.least else { return };
    if let Some(cure) = a.cures.iter().find(|cure| cure.at < *least) {
        sink.push(
            Diagnostic::error(
                "unreadable-value",
                format!("an adhesive has times at {} and does not cure below {least}", cure.at),
            )
            .at(a.span, "`least-temperature` and `cures` do not go together")
            .help("correct one of the two, or take those times out"),
        );
    }
}

/// From the coldest to the warmest; what is warmer must not take longer.
fn cures(f: &Fields, sink: &mut Sink) -> Vec<Cure> {
    let mut all: Vec<Cure> = Vec::new();
    for c in f.groups("cures", sink) {
        let at = c.required("at", "this item", "add `at:` and a temperature, for example `at: 20 C`", sink);
        let full = c.required("full", "this item", "add `full:` and how long it takes, for example `full: 7 d`", sink);
        let at = at.and_then(|t| super::fields::value(&t, TEMPERATURE, Temperature::parse, sink));
        let full = full.and_then(|t| super::fields::value(&t, PERIOD, Period::parse, sink));
        let handling = c.value("handling", PERIOD, Period::parse, sink);
        let (Some(at), Some(full)) = (at, full) else { continue };
        let longer = handling.as_ref().filter(|h| h.value > full);
        if let Some(handling) = longer {
            sink.push(
                Diagnostic::error("unreadable-value", "an adhesive takes longer to be handled than to cure fully")
                    .at(handling.span, "longer than `full`")
                    .help("correct one of the two"),
            );
        }
        all.push(Cure { at, handling: handling.filter(|h| h.value <= full).map(|h| h.value), full });
    }
    all.sort_by_key(|c| c.at);
    if let Some(pair) = all.windows(2).find(|pair| pair[1].full > pair[0].full) {
        sink.push(
            Diagnostic::error(
                "unreadable-value",
                format!("an adhesive takes longer at {} than at {}", pair[1].at, pair[0].at),
            )
            .at(f.span, "in `cures` of this adhesive")
            .help("correct the times: what is warmer cures faster"),
        );
        all.clear();
    }
    all
}
