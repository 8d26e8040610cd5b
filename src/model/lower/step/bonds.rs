//! Bonds and wires of a step file.

use super::joints::distance;
use super::needs_keys;
use crate::diag::{Diagnostic, Sink};
use crate::model::bond::{Bond, CureState, Cured};
use crate::model::lower::fields::{Fields, value};
use crate::model::lower::items::named;
use crate::model::step::StepItem;
use crate::model::wire::{WayBack, Wire};
use crate::source::Spanned;
use crate::trade::WireSize;
use crate::units::{ConsumableId, Designation, Measure, MeasureUnit, PartNumber, ToolId, UnreadableNumber};

pub(super) fn bonds(f: &Fields, sink: &mut Sink) -> Vec<StepItem<Bond>> {
    super::items(f, "bonds", sink, needs_keys, bond)
}

fn bond(f: &Fields, sink: &mut Sink) -> Option<Bond> {
    let bond = named(f, "bond", sink);
    let adhesive = f.required("adhesive", "this bond", "add `adhesive:` and the id of a consumable", sink);
    let parts: Vec<_> = f.texts("parts", sink).into_iter().map(|t| t.map(PartNumber::new)).collect();
    if parts.is_empty() {
        sink.push(
            Diagnostic::error("missing-key", "this bond does not say what it joins")
                .at(f.head(), "`parts` is missing here")
                .help("add `parts:` and the numbers of the parts, for example `parts: [KW-103-L, KW-110]`"),
        );
    }
    let plain = |name, sink: &mut Sink| f.text(name, sink).map(|t| t.value);
    Some(Bond {
        bond: bond?,
        parts,
        adhesive: adhesive?.map(ConsumableId::new),
        amount: plain("amount", sink),
        clamped: plain("clamped", sink),
        if_wrong: plain("if-wrong", sink),
    })
}

pub(super) fn cured(f: &Fields, sink: &mut Sink) -> Vec<StepItem<Cured>> {
    let short = |bond, _: &mut Sink| Some(Cured { bond, to: CureState::Full });
    super::items(f, "cured", sink, short, |f, sink| {
        let to = f.word("to", CureState::ALL, CureState::word, sink).map_or(CureState::Full, |w| w.value);
        Some(Cured { bond: named(f, "bond", sink)?, to })
    })
}

pub(super) fn wires(f: &Fields, sink: &mut Sink) -> Vec<StepItem<Wire>> {
    super::items(f, "wires", sink, needs_keys, wire)
}

fn wire(f: &Fields, sink: &mut Sink) -> Option<Wire> {
    let needed = |name: &str, what: &str, sink: &mut Sink| {
        f.required(name, "this wire", &format!("add `{name}:` and {what}"), sink)
    };
    let wire = needed("wire", "its id, which is written on both ends", sink);
    let from = needed("from", "where it begins", sink);
    let to = needed("to", "where it ends", sink);
    let size = needed("size", "its size, for example `AWG 18` or `1.5 mm2`", sink)
        .and_then(|t| Some(Spanned::new(value(&t, WIRE_SIZE, WireSize::parse, sink)?, t.span)));
    let length = needed("length", "the length to cut it to", sink).and_then(|_| distance(f, "length", sink));
    let hardware = |name, sink: &mut Sink| f.text(name, sink).map(|t| t.map(Designation::new));
    let terminals = [hardware("from-terminal", sink), hardware("to-terminal", sink)];
    let [current, voltage, fuse, breaker, drop] = [
        ("current", MeasureUnit::Ampere),
        ("voltage", MeasureUnit::Volt),
        ("fuse", MeasureUnit::Ampere),
        ("breaker", MeasureUnit::Ampere),
        ("drop", MeasureUnit::Volt),
    ]
    .map(|(name, unit)| electric(f, name, unit, sink));
    Some(Wire {
        colour: f.text("colour", sink).map(|t| t.value),
        hardware: hardware("hardware", sink),
        terminals,
        crimped_with: f.text("crimped-with", sink).map(|t| t.map(ToolId::new)),
        current,
        voltage,
        fuse,
        breaker,
        protected: ["fuse", "breaker"].iter().any(|name| f.get(name).is_some()),
        drop,
        back: f.word("back-through", WayBack::ALL, WayBack::word, sink).map_or(WayBack::Wire, |w| w.value),
        wire: wire?,
        from: from?,
        to: to?,
        size: size?,
        length: length?,
    })
}

const WIRE_SIZE: &str = "write it as `AWG 18` or `1.5 mm2`";

/// A value above zero in volts or amperes.
fn electric(f: &Fields, name: &str, unit: MeasureUnit, sink: &mut Sink) -> Option<Spanned<Measure>> {
    let word = unit.word();
    let read = |text: &str| {
        let measure = Measure::parse(text)?;
        let good = measure.unit == unit && *measure.value.numer() > 0;
        good.then_some(measure)
            .ok_or_else(|| UnreadableNumber(format!("`{}` is not a value above zero in {word}", text.trim())))
    };
    f.value(name, &format!("write a number and {word}, for example `{name}: 5 {word}`"), read, sink)
}
