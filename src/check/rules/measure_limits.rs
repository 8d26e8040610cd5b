//! A measure without target or limits; a tolerance without a target, below zero, as large as the target or in another unit; a
//! least value above the largest; a target outside the limits.
//!
//! It matters because the builder writes a number into the blank and can't tell whether it is right.
//!
//! Wrong: `{ measure: Gap, tolerance: 1/64 }`. Right: `{ measure: Gap, target: 1/32, tolerance: 1/64 }`, or `max:
//! 1/16`.
//!
//! To accept a value that is only recorded: `accept: [{ rule: measure-limits, about: step-id, reason: ... }]` in the
//! step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::MeasureUse;
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "measure-limits",
    level: Level::Error,
    summary: "a measure without a value to compare it with, or with limits that contradict",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("measure_limits.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in &ctx.manual.steps {
        for measure in &step.measures {
            if let Some((span, headline, label, help)) = fault(measure) {
                let headline = format!("{headline}: {}", measure.what.value);
                sink.push(
                    RULE.found(headline).at(span, label).help(help).about(&step.id.value).about(&measure.what.value),
                );
            }
        }
    }
    sink
}

type LimitFault = (Span, &'static str, &'static str, &'static str);

/// The first thing that is wrong with a measure.
fn fault(m: &MeasureUse) -> Option<LimitFault> {
    let values = [m.target, m.min, m.max, m.tolerance];
    let mut written = values.into_iter().flatten();
    let Some(first) = written.next() else {
        let help = "add `target` with `tolerance`, or `min` and `max`";
        return Some((
            m.what.span,
            "a measure has neither target nor limits",
            "nothing to compare the value with",
            help,
        ));
    };
    if let Some(other) = written.find(|v| v.value.unit != first.value.unit) {
        return Some((other.span, "a measure mixes units", "another unit", "write all its values in one unit"));
    }
    if let (Some(tolerance), None) = (m.tolerance, m.target) {
        let help = "add `target`, or write `min` and `max` in place of the tolerance";
        return Some((tolerance.span, "a tolerance has no target", "a tolerance of nothing", help));
    }
    let zero = crate::units::Rational::from_integer(0);
    if let Some(tolerance) = m.tolerance.filter(|t| t.value.value < zero) {
        return Some((
            tolerance.span,
            "a tolerance is below zero",
            "below zero",
            "write how far off the value may be, either way",
        ));
    }
    if let (Some(tolerance), Some(target)) = (m.tolerance, m.target)
        && target.value.value > zero
        && tolerance.value.value >= target.value.value
    {
        let help = "correct one of the two; with this tolerance nothing would do as well";
        return Some((tolerance.span, "a tolerance is as large as its target", "not below the target", help));
    }
    if let (Some(min), Some(max)) = (m.min, m.max)
        && min.value.value > max.value.value
    {
        return Some((min.span, "the least value is above the largest", "above `max`", "exchange the two"));
    }
    let target = m.target?;
    let below = m.min.is_some_and(|min| target.value.value < min.value.value);
    let above = m.max.is_some_and(|max| target.value.value > max.value.value);
    (below || above).then_some((
        target.span,
        "the target is outside the limits",
        "not between `min` and `max`",
        "correct one of the three",
    ))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_value_needs_limits() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", ", target: 40, tolerance: 1/16", "").findings(),
            ["measure-limits steps/frame/10-keel.md `Length`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "tolerance: 1/16", "tolerance: 1 lb").findings(),
            ["measure-limits steps/frame/10-keel.md `1 lb`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "tolerance: 1/16", "tolerance: 40").findings(),
            ["measure-limits steps/frame/10-keel.md `40`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "target: 40, ", "").findings(),
            ["measure-limits steps/frame/10-keel.md `1/16`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "target: 40, tolerance: 1/16", "min: 3, max: 2").findings(),
            ["measure-limits steps/frame/10-keel.md `3`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "target: 40, tolerance: 1/16", "target: 40, max: 39").findings(),
            ["measure-limits steps/frame/10-keel.md `40`"]
        );
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "target: 40, tolerance: 1/16", "max: 41").findings(),
            [""; 0]
        );
    }
}
