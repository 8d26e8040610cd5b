//! Findings that arise because a condition leaves something out of some configurations: they say so first, and one
//! condition is one finding.

use std::collections::{BTreeMap, BTreeSet};

use super::Context;
use super::rules::{alternative_missing, quantity_mismatch};
use crate::diag::{Diagnostic, Sink};
use crate::model::schema::{Named, Thing, Use, names_in_step, thing_of};
use crate::model::{Manual, Step};
use crate::resolve::{Resolved, in_words};
use crate::source::Span;
use crate::syntax::Condition;
use crate::units::PartNumber;

/// Something that stands under conditions.
struct Conditional<'a> {
    thing: Thing,
    name: &'a str,
    how: Use,
    step: &'a Step,
    /// The list of the front matter that it stands in, and the number of the item there.
    item: (&'static str, usize),
    only: Vec<(&'a Condition, Span)>,
}

/// The condition that leaves something out.
struct LeftOut<'a> {
    name: &'a str,
    condition: &'a Condition,
    span: Span,
}

/// Adds to each finding of some configurations the condition that leaves out what it is about, and keeps of those that one
/// condition explains the first.
pub(super) fn explain(ctx: &Context, all: Sink) -> Sink {
    let some = |d: &Diagnostic| !d.configurations.is_empty();
    if !all.iter().any(some) {
        return all;
    }
    let under = Index::new(conditional(ctx.manual));
    let mut first: BTreeMap<(Span, Vec<String>), (usize, usize)> = BTreeMap::new();
    let mut kept = Sink::new();
    for d in all {
        let Some(out) = left_out(ctx, &under, &d) else {
            kept.push(d);
            continue;
        };
        let key = (out.span, d.configurations.iter().cloned().collect());
        match first.get_mut(&key) {
            Some((at, more)) => {
                *more += 1;
                // What is graver is told in place of what is less grave.
                if kept[*at].level > d.level {
                    kept[*at] = explained(d, &out);
                }
            }
            None => {
                first.insert(key, (kept.len(), 0));
                kept.push(explained(d, &out));
            }
        }
    }
    for &(at, more) in first.values().filter(|(_, more)| *more > 0) {
        let findings = if more == 1 { "finding follows" } else { "findings follow" };
        kept[at].help.push_str(&format!("; {more} more {findings} from it"));
    }
    // What is left out for want of an alternative is told by what follows from it.
    let told: BTreeSet<Span> = first.keys().map(|(span, _)| *span).collect();
    kept.retain(|d| d.rule != alternative_missing::RULE.id || d.span.is_none_or(|span| !told.contains(&span)));
    kept
}

/// What stands under conditions, by its own name and by that of its step.
struct Index<'a> {
    all: Vec<Conditional<'a>>,
    by_name: BTreeMap<&'a str, Vec<usize>>,
}

impl<'a> Index<'a> {
    fn new(all: Vec<Conditional<'a>>) -> Self {
        let mut by_name: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (at, one) in all.iter().enumerate() {
            by_name.entry(one.name).or_default().push(at);
            by_name.entry(one.step.id.value.as_str()).or_default().push(at);
        }
        Self { all, by_name }
    }

    fn of(&self, name: &str) -> impl Iterator<Item = &Conditional<'a>> {
        self.by_name.get(name).into_iter().flatten().map(|at| &self.all[*at])
    }
}

/// Every part, item of hardware and assembly in the front matter of a step that stands under a condition.
fn conditional(manual: &Manual) -> Vec<Conditional<'_>> {
    let mut all = Vec::new();
    for step in &manual.steps {
        names_in_step(step, &mut |named: Named, within| {
            let Some(leaf) = within.leaf.filter(|_| !within.only.is_empty()) else { return };
            let thing = thing_of(manual, &named);
            if matches!(thing, Thing::Part | Thing::Hardware | Thing::Assembly) {
                let only = within.only.iter().map(|u| (u.condition, u.span)).collect();
                all.push(Conditional {
                    thing,
                    name: named.name,
                    how: named.how,
                    step,
                    item: (leaf.list, leaf.item),
                    only,
                });
            }
        });
    }
    all
}

/// The condition that leaves out, in every configuration of a finding, something that it is about, and that applies in
/// another configuration.
fn left_out<'a>(ctx: &Context, under: &Index<'a>, d: &Diagnostic) -> Option<LeftOut<'a>> {
    let own: Vec<&Resolved> = ctx.resolved.iter().filter(|r| d.configurations.contains(&r.name)).collect();
    if own.is_empty() || own.len() < d.configurations.len() || own.len() == ctx.resolved.len() {
        return None;
    }
    let leaves_out =
        |c: &Condition| own.iter().all(|r| !ctx.applies(c, r)) && ctx.resolved.iter().any(|r| ctx.applies(c, r));
    let quantity = d.rule == quantity_mismatch::RULE.id;
    if quantity && !quantity_mismatch::says_left_over(d) {
        return None;
    }
    // Where something else stands in its place here, nothing is missing.
    let replaced = |c: &Conditional| {
        let stands =
            |o: &&Conditional| o.only.iter().all(|(condition, _)| own.iter().all(|r| ctx.applies(condition, r)));
        let same_place = |o: &&Conditional| {
            o.item == c.item && o.step.id.value == c.step.id.value && o.name != c.name && o.thing == c.thing
        };
        under.of(c.step.id.value.as_str()).filter(same_place).any(|o| stands(&o))
    };
    let about = |c: &&Conditional| match c.thing {
        // A part that is left over: it is taken where the condition stands.
        _ if quantity => c.how == Use::Taken && d.about.iter().any(|a| a == c.name),
        _ if beside(c, d) => !replaced(c),
        // What no step takes or makes here: that is what is missing.
        Thing::Part => {
            let taken = |r: &Resolved| r.ledger.parts.get(&PartNumber::new(c.name)).is_some_and(|a| a.taken() > 0);
            c.how == Use::Taken && d.about.iter().any(|a| a == c.name) && !own.iter().any(|r| taken(r))
        }
        Thing::Assembly => {
            let made =
                |r: &Resolved| r.steps.iter().flat_map(|s| &s.step.makes).any(|m| m.value.value.as_str() == c.name);
            c.how == Use::Made && d.about.iter().any(|a| a == c.name) && !own.iter().any(|r| made(r))
        }
        _ => false,
    };
    d.about.iter().flat_map(|name| under.of(name)).filter(about).find_map(|c| {
        let (condition, span) = c.only.iter().find(|(condition, _)| leaves_out(condition))?;
        Some(LeftOut { name: c.name, condition, span: *span })
    })
}

/// Whether something stands in the joint that a finding is about.
fn beside(c: &Conditional, d: &Diagnostic) -> bool {
    let ("joints", item) = c.item else { return false };
    let in_step = d.about.iter().any(|a| *a == c.step.id.value.as_str());
    in_step && c.step.joints.iter().any(|j| j.index == item && d.span.is_some_and(|s| within(s, j.span)))
}

fn within(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}

fn explained(d: Diagnostic, out: &LeftOut) -> Diagnostic {
    let words = in_words(out.condition);
    let variants: Vec<&str> = {
        let mut all: Vec<&str> = d.configurations.iter().filter_map(|c| c.split('+').next()).collect();
        all.dedup();
        all
    };
    let who = variants.join(" and ");
    let headline = format!("`only: {words}` leaves {} out of {who}: {}", out.name, d.headline);
    let wider = variants.join(" or ");
    let help = format!(
        "if {who} has {}, write `only: {words} or {wider}` there; if not, correct what speaks of it here",
        out.name
    );
    let span = out.span;
    Diagnostic { headline, help, ..d }.note(span, "left out here")
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    /// Each variant has its own member in the place; the bolt of one is too short for it, and nothing is left out.
    #[test]
    fn what_stands_in_the_place_of_another_is_not_left_out() {
        let said = |second: &str| {
            let case = sound().edit(
                STEP,
                "stack: [KW-103-L, { part: KW-101, through: wall }]",
                &format!("stack: [KW-103-L, {{ part: KW-101, through: wall, only: BASE }}{second}]"),
            );
            let (found, _) = case.check();
            let about: Vec<_> = found.iter().filter(|d| d.rule == "bolt-does-not-fit").cloned().collect();
            about.iter().map(|d| d.headline.clone()).collect::<Vec<_>>()
        };
        let dropped = said("");
        assert!(dropped.iter().all(|h| h.starts_with("`only: BASE` leaves KW-101 out of LONG: ")), "{dropped:?}");
        let replaced = said(", { part: KW-200, through: tube, only: LONG }");
        assert!(!replaced.is_empty() && replaced.iter().all(|h| !h.contains("leaves")), "{replaced:?}");
    }
}
