//! A length in the words of a step that is nearly one of the lengths that the step says elsewhere.
//!
//! It matters because a measure that was changed in one place and not in the other is built in either way.
//!
//! It looks at lengths in the text and in the words of the front matter, captions among them, and compares them with every
//! length in the front matter, the places of the holes that the step makes and the lengths of the pieces that it uses. What is
//! equal to one of them is in order; what is near to none may well be of something else. Near is a quarter inch or less, and no
//! more than an eighth of the length. What `if-wrong` says is a limit, which is near by nature.
//!
//! Wrong: `Mark it 10 9/16 in left of the pivot.` where the hole lies at 10 1/2 in. Right: the number that is meant, or a link
//! that prints it, `[](length:NAME)`.
//!
//! To accept: `accept: [{ rule: nearly-a-length, about: step-id, reason: ... }]` in the step's file.

use std::collections::BTreeSet;

use crate::action::{TypedKind, TypedValue, typed_in, typed_values};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Manual;
use crate::model::schema::{Holds, STEP, walk};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::Span;
use crate::units::{Length, Measure, MeasureUnit, PartNumber, Rational, UnitStyle, plain};

pub const RULE: Rule = Rule {
    id: "nearly-a-length",
    level: Level::Hint,
    summary: "a length in words that is nearly one of the step's own",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("nearly_a_length.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let units = ctx.manual.settings.units;
    let mut sink = Sink::new();
    for s in ctx.written(r) {
        let typed = typed_lengths(s);
        if typed.is_empty() {
            continue;
        }
        let known = known_lengths(ctx.manual, s);
        for (length, span) in &typed {
            if known.iter().any(|(other, _)| other == length) {
                continue;
            }
            // Of what is known, the nearest.
            let near = known.iter().filter(|(other, _)| is_near(*length, *other));
            let Some((other, at)) = near.min_by_key(|(other, _)| apart(*length, *other)) else { continue };
            let said = |length: &Length| plain(&length.pieces(shown(units)));
            sink.push(
                RULE.found(format!(
                    "a length in the words of step `{}` is nearly one that it says elsewhere",
                    s.step.id.value
                ))
                .at(*span, format!("{} here", said(length)))
                .note(*at, format!("{} here", said(other)))
                .help("write the same number at both places, or print it with `[](length:NAME)`; where both are right, accept this")
                .about(&s.step.id.value),
            );
        }
    }
    sink
}

/// A length once, not in both units.
fn shown(units: UnitStyle) -> UnitStyle {
    if units == UnitStyle::Both { UnitStyle::InchFraction } else { units }
}

fn apart(a: Length, b: Length) -> Rational {
    let (a, b) = (a.as_inches(), b.as_inches());
    if a > b { a - b } else { b - a }
}

fn is_near(typed: Length, known: Length) -> bool {
    let (apart, of) = (apart(typed, known), known.as_inches());
    apart <= Rational::new(1, 4) && apart * Rational::from_integer(8) <= of
}

/// The lengths in the words of a step.
fn typed_lengths(s: &ResolvedStep) -> Vec<(Length, Span)> {
    let mut all = typed_values(&s.step.body);
    walk(&s.step.front, &STEP, &mut |leaf| {
        if matches!(leaf.holds, Holds::Words) && leaf.key.name != "if-wrong" {
            all.extend(typed_in(leaf.text, leaf.span));
        }
    });
    let length = |typed: TypedValue| match typed.kind {
        TypedKind::Length(length) => Some((length, typed.span)),
        TypedKind::Torque(..) | TypedKind::Drill(_) => None,
    };
    all.into_iter().filter_map(length).collect()
}

/// The lengths that a step says as data, or that are known of what it works on.
fn known_lengths(manual: &Manual, s: &ResolvedStep) -> Vec<(Length, Span)> {
    let mut known = Vec::new();
    walk(&s.step.front, &STEP, &mut |leaf| {
        let length = match leaf.holds {
            Holds::Length | Holds::Away(_) | Holds::Offset | Holds::Drill => leading_length(leaf.text),
            Holds::Measure => Measure::parse(leaf.text).ok().and_then(measured),
            _ => None,
        };
        known.extend(length.map(|length| (length, leaf.span)));
    });
    let worked: BTreeSet<&PartNumber> = s.step.holes.iter().map(|hole| &hole.part.value).collect();
    for hole in worked.into_iter().filter_map(|part| manual.holes.get(part)).flatten() {
        known.extend([hole.along, hole.across, hole.pitch, hole.edge].into_iter().flatten().map(|l| (l.value, l.span)));
    }
    for item in &s.step.parts {
        let part = manual.parts.get(&item.part.value);
        known.extend(part.and_then(|p| p.cut_length.as_ref()).map(|length| (length.value, length.span)));
    }
    known
}

fn measured(measure: Measure) -> Option<Length> {
    (measure.unit == MeasureUnit::Length).then(|| Length::from_inches(measure.value))
}

/// The length that a value begins with: of `1 in left` one inch.
fn leading_length(text: &str) -> Option<Length> {
    let text = text.trim_start_matches(['-', '+']);
    let ends = text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at).chain([text.len()]);
    ends.collect::<Vec<_>>().into_iter().rev().find_map(|end| Length::parse(&text[..end]).ok())
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_length_is_that_of_the_data_or_is_told() {
        let found = |says: &str| {
            let old = "1. Saw the end with the [](tool:saw).";
            sound().edit("steps/frame/10-keel.md", old, &format!("{old} {says}")).findings()
        };
        let told = |words: &str| [format!("nearly-a-length steps/frame/10-keel.md `{words}`")];
        assert_eq!(found("It is 40 in long."), [""; 0]);
        assert_eq!(found("It is 40 1/8 in long."), told("40 1/8 in"));
        assert_eq!(found("It is 39.75 in long."), told("39.75 in"));
        // Of something else.
        assert_eq!(found("It is 20 in long."), [""; 0]);
        assert_eq!(found("Hold it 1/8 in from the vice."), [""; 0]);
    }
}
