//! Joints and holes of a step file.

use super::by;
use crate::diag::{Diagnostic, Sink};
use crate::model::lower::fields::{Fields, QUOTED_DRILL, count};
use crate::model::lower::items::{counted, items, named};
use crate::model::step::*;
use crate::source::Spanned;
use crate::trade::Drill;
use crate::units::{ConsumableId, Designation, Length, Measure, MeasureUnit, PartNumber, UnreadableNumber};

pub(super) fn joint(f: &Fields, sink: &mut Sink) -> Option<Joint> {
    let fastener = named(f, "fastener", sink)?.map(Designation::new);
    let designation = |name, sink: &mut Sink| f.text(name, sink).map(|t| t.map(Designation::new));
    let washers = |name, sink: &mut Sink| -> Vec<_> {
        f.texts(name, sink)
            .iter()
            .filter_map(|t| counted(t, sink))
            .map(|(name, n, _)| (name.map(Designation::new), n))
            .collect()
    };
    let (torque, condition) = tightened(f, sink);
    let said = |name: &'static str, sink: &mut Sink| f.yes_no(name, sink);
    let [turns, critical, drag] = ["turns", "critical", "drag-included"].map(|name| (name, said(name, sink)));
    Some(Joint {
        id: f.text("joint", sink),
        stack: items(f, "stack", sink, whole_member, member),
        under_head: washers("under-head", sink),
        under_nut: washers("under-nut", sink),
        nut: designation("nut", sink),
        pin: designation("pin", sink),
        places: f.count("places", fastener.span, sink).0,
        turns: turns.1.is_some_and(|y| y.value),
        closed_behind: f.yes_no("closed-behind", sink).filter(|y| y.value).map(|y| y.span),
        locked_by: f.text("locked-by", sink),
        hot: f.yes_no("hot", sink).is_some_and(|y| y.value),
        edge: distance(f, "edge", sink),
        pitch: distance(f, "pitch", sink),
        carries: f.word("carries", Carries::ALL, Carries::word, sink),
        torque,
        torque_reason: f.text("torque-reason", sink).map(|t| t.value),
        action: f.word("do", HardwareAction::ALL, HardwareAction::word, sink).map_or(HardwareAction::Fit, |a| a.value),
        kind: f.text("kind", sink),
        critical: critical.1.filter(|y| y.value).map(|y| y.span),
        condition,
        drag_included: drag.1.is_some_and(|y| y.value),
        into: f.word("into", ThreadedInto::ALL, ThreadedInto::word, sink),
        clamps: f.word("clamps", ClampsStill::ALL, ClampsStill::word, sink),
        said: [turns, critical, drag].iter().filter(|s| s.1.is_some()).map(|s| s.0).collect(),
        fastener,
    })
}

/// The designer's torque, and the state of the threads that it is for: said behind it or under its own key.
pub(in crate::model::lower) fn tightened(
    f: &Fields,
    sink: &mut Sink,
) -> (Option<Spanned<TorqueRange>>, Option<Spanned<ThreadCondition>>) {
    let form = "write it as `30..40 in-lb`, `35 in-lb` or `4 N m`, with `dry` or `greased` behind it where that counts";
    let read = f.value("torque", form, torque_with_condition, sink);
    let behind = read.and_then(|r| Some(Spanned::new(r.value.1?, r.span)));
    let condition = f.word("condition", ThreadCondition::ALL, ThreadCondition::word, sink);
    if let (Some(behind), Some(own)) = (&behind, &condition)
        && behind.value != own.value
    {
        sink.push(
            Diagnostic::error("two-readings", "a torque is said to be for dry and for greased threads")
                .at(own.span, "here it is the other one")
                .note(behind.span, "and here")
                .help("say it once, behind the torque or under `condition`"),
        );
    }
    (read.map(|r| Spanned::new(r.value.0, r.span)), condition.or(behind))
}

fn torque_with_condition(text: &str) -> Result<(TorqueRange, Option<ThreadCondition>), UnreadableNumber> {
    let text = text.trim();
    let behind = text
        .rsplit_once(char::is_whitespace)
        .and_then(|(value, word)| Some((value, ThreadCondition::from_word(word)?)));
    match behind {
        Some((value, condition)) => Ok((torque(value)?, Some(condition))),
        None => Ok((torque(text)?, None)),
    }
}

fn whole_member(text: Spanned<String>, _: &mut Sink) -> Option<StackMember> {
    let part = text.map(PartNumber::new);
    let through = Through::Thickness;
    Some(StackMember { part, through, thickness: None, tolerance: None, bore: None, countersunk: None })
}

fn member(f: &Fields, sink: &mut Sink) -> Option<StackMember> {
    let part = named(f, "part", sink)?.map(PartNumber::new);
    let through = f.word("through", Through::ALL, Through::word, sink).map_or(Through::Thickness, |t| t.value);
    Some(StackMember {
        part,
        through,
        thickness: distance(f, "thickness", sink),
        tolerance: distance(f, "tolerance", sink),
        bore: distance(f, "bore", sink),
        countersunk: f.yes_no("countersunk", sink).filter(|y| y.value).map(|y| y.span),
    })
}

/// A length above zero.
pub(super) fn distance(f: &Fields, name: &str, sink: &mut Sink) -> Option<Spanned<Length>> {
    let length = f.length(name, sink)?;
    if length.value > Length::ZERO {
        return Some(length);
    }
    sink.push(
        Diagnostic::error("unreadable-value", format!("`{name}` is not above zero"))
            .at(length.span, "not above zero")
            .help("write a length above zero, or leave the key out"),
    );
    None
}

/// Reads `30..40 in-lb`, `30 to 40 in-lb`, `30–40 in-lb`, `35 in-lb`, `4..5 N m`.
fn torque(text: &str) -> Result<TorqueRange, UnreadableNumber> {
    let unreadable = || UnreadableNumber(format!("`{}` is not a torque", text.trim()));
    let (least, most) = text
        .split_once("..")
        .or_else(|| text.split_once(" to "))
        .or_else(|| text.split_once('–'))
        .map_or((None, text), |(a, b)| (Some(a), b));
    let most = Measure::parse(most.trim()).map_err(|_| unreadable())?;
    let torque = matches!(most.unit, MeasureUnit::InchPound | MeasureUnit::NewtonMetre);
    let least = match least {
        None => most,
        // The unit stands once, behind the second number.
        Some(least) => Measure { value: Length::parse(least.trim()).map_err(|_| unreadable())?.as_inches(), ..most },
    };
    let positive = *least.value.numer() > 0 && least.value <= most.value;
    if torque && positive { Ok(TorqueRange { least, most }) } else { Err(unreadable()) }
}

pub(super) fn hole(f: &Fields, sink: &mut Sink) -> Option<Hole> {
    let part = named(f, "part", sink)?.map(PartNumber::new);
    Some(Hole {
        hole: f.text("hole", sink),
        count: f.text("count", sink).and_then(|t| count(&t, sink)).unwrap_or(1),
        action: f.word("do", HoleAction::ALL, HoleAction::word, sink).map_or(HoleAction::Drill, |a| a.value),
        from: f.text("from", sink).map(|t| t.map(PartNumber::new)),
        drill: f.value("drill", QUOTED_DRILL, Drill::parse, sink),
        reamer: f.value("reamer", QUOTED_DRILL, Drill::parse, sink),
        for_: f.text("for", sink).map(|t| t.map(Designation::new)),
        row: super::tubes::hole_row(f, sink),
        by: by(f, sink),
        if_wrong: f.text("if-wrong", sink).map(|t| t.value),
        touch_up: f.text("touch-up", sink).map(|t| t.map(ConsumableId::new)),
        part,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_torque_is_a_value_or_a_range() {
        let read = |text| torque(text).map(|t| (*t.least.value.numer(), *t.most.value.numer(), t.most.unit));
        assert_eq!(read("30..40 in-lb"), Ok((30, 40, MeasureUnit::InchPound)));
        assert_eq!(read("30 to 40 in-lb"), Ok((30, 40, MeasureUnit::InchPound)));
        assert_eq!(read("35 in-lb"), Ok((35, 35, MeasureUnit::InchPound)));
        assert_eq!(read("4..5 N m"), Ok((4, 5, MeasureUnit::NewtonMetre)));
        for text in ["", "30", "40..30 in-lb", "0..5 in-lb", "30 mm", "30 in-lb..40 in-lb", "tight"] {
            assert!(torque(text).is_err(), "{text}");
        }
    }
}
