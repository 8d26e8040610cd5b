//! A condition and the truth of each of its parts.

use super::WhyCase;
use crate::cli::place::{aligned, place};
use crate::model::Step;
use crate::model::schema::Under;
use crate::resolve::{Verdict, explain, holds};

/// The condition with its place, then its parts set in below it, each with `yes` or `no`.
pub(super) fn tree(case: &WhyCase, only: Under) -> String {
    let verdict = explain(only.condition, &case.facts);
    let mut rows = Vec::new();
    push(&verdict, 0, &mut rows);
    rows[0].push(place(case.sources, only.span));
    aligned(&rows)
}

fn push(verdict: &Verdict, depth: usize, rows: &mut Vec<Vec<String>>) {
    let words = format!("{}{}", "  ".repeat(depth), verdict.words);
    rows.push(vec![words, if verdict.holds { "yes" } else { "no" }.to_owned()]);
    for part in &verdict.parts {
        push(part, depth + 1, rows);
    }
}

/// Whether a condition holds.
pub(super) fn met(case: &WhyCase, only: Under) -> bool {
    holds(only.condition, &case.facts)
}

/// The first of the conditions around a use that keeps it out.
pub(super) fn keeps_out<'a>(case: &WhyCase, step: &'a Step, inside: &[Under<'a>]) -> Option<Under<'a>> {
    step.only.as_ref().map(Under::from).into_iter().chain(inside.iter().copied()).find(|only| !met(case, *only))
}
