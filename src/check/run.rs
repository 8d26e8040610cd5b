//! Running the rules.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::further::{Further, further};
use super::placed::estimate;
use super::{Context, FigureOnPaper, RULES, Rule, Run, dropped, settle, undecided};
use crate::change::Past;
use crate::diag::{Diagnostic, Sink, merge};
use crate::model::{Manual, Opposite};
use crate::resolve::Resolved;
use crate::source::SourceMap;

/// The rule with this id.
pub fn rule(id: &str) -> Option<&'static Rule> {
    RULES.binary_search_by(|r| r.id.cmp(id)).ok().map(|i| &RULES[i])
}

/// Everything that is wrong with a manual, one finding a cause, with the manual's levels and acceptances applied.
///
/// `resolved` are all configurations that are to be checked: with fewer of them an acceptance may look as if it
/// matched nothing. `placed` are the pictures as printed; where there are none, they are estimated. `faults` are the
/// findings of reading; they come back with the others.
pub fn check(manual: &Manual, resolved: &[Resolved], placed: &[FigureOnPaper], faults: Sink) -> Sink {
    check_since(manual, resolved, placed, &Past::default(), &SourceMap::new(), faults)
}

/// The same of a manual of which something was released before: what `past` holds against the sources as they are.
pub fn check_since(
    manual: &Manual,
    resolved: &[Resolved],
    placed: &[FigureOnPaper],
    past: &Past,
    sources: &SourceMap,
    faults: Sink,
) -> Sink {
    let estimated = if placed.is_empty() { estimate(manual) } else { Vec::new() };
    let placed = if placed.is_empty() { &estimated } else { placed };
    let mut all = found(manual, resolved, placed, past, sources, faults);
    undecided::hold_back(manual, resolved, &mut all, |manual, resolved| {
        found(manual, resolved, placed, past, sources, Sink::new())
    });
    for d in &mut all {
        // What holds in every configuration is a matter of the sources.
        if !resolved.is_empty() && resolved.iter().all(|r| d.configurations.contains(&r.name)) {
            d.configurations.clear();
        }
    }
    settle::settle(manual, all)
}

/// What the rules find, one finding a cause, before levels and acceptances.
fn found(
    manual: &Manual,
    resolved: &[Resolved],
    placed: &[FigureOnPaper],
    past: &Past,
    sources: &SourceMap,
    faults: Sink,
) -> Sink {
    let further = further(manual, sources);
    let ctx = Context::new(manual, resolved, &further, placed, past, sources, &faults);
    let jobs: Vec<Job> = RULES.iter().flat_map(|rule| jobs(rule, &ctx)).collect();
    let found: Vec<Sink> = jobs.par_iter().map(|job| job.run(&ctx)).collect();
    let mut all = faults;
    all.extend(found.into_iter().flatten());
    let mut all = merge(all);
    once_for_both_hands(manual, &mut all);
    dropped::explain(&ctx, all)
}

/// A step that is made for the other hand stands at the same place as the one it is made from: what is found of both is
/// told of the one that was written.
fn once_for_both_hands(manual: &Manual, all: &mut Sink) {
    let made: BTreeSet<&str> =
        manual.steps.iter().filter(|s| matches!(s.opposite, Opposite::Of(_))).map(|s| s.id.value.as_str()).collect();
    let of_made = |d: &Diagnostic| d.about.iter().any(|a| made.contains(a.as_str()));
    let written: BTreeSet<_> = all.iter().filter(|d| !of_made(d)).filter_map(|d| Some((d.rule, d.span?))).collect();
    all.retain(|d| !of_made(d) || d.span.is_none_or(|span| !written.contains(&(d.rule, span))));
}

/// A rule and what it is to look at.
enum Job<'a> {
    Manual(fn(&Context) -> Sink),
    Configuration(fn(&Context, &Resolved) -> Sink, &'a Resolved),
    Further(fn(&Context, &Resolved) -> Sink, &'a Further),
    Placed(fn(&Context, &FigureOnPaper) -> Sink),
}

fn jobs<'a>(rule: &Rule, ctx: &Context<'a>) -> Vec<Job<'a>> {
    match rule.run {
        Run::Manual(run) => vec![Job::Manual(run)],
        Run::Configuration(run) => {
            let further = ctx.further.iter().map(|f| Job::Further(run, f));
            ctx.resolved.iter().map(|r| Job::Configuration(run, r)).chain(further).collect()
        }
        Run::Placed(run) => vec![Job::Placed(run)],
        Run::Reading | Run::OnPaper | Run::Settling => Vec::new(),
    }
}

impl Job<'_> {
    fn run(&self, ctx: &Context) -> Sink {
        match self {
            Self::Manual(run) => run(ctx),
            Self::Configuration(run, r) => run(ctx, r).into_iter().map(|d| d.in_configuration(&r.name)).collect(),
            Self::Further(run, f) => {
                let counts = |d: &Diagnostic| match (&f.files, d.span) {
                    (Some(files), Some(span)) => files.contains(&span.file),
                    (files, _) => files.is_none(),
                };
                run(ctx, &f.resolved).into_iter().filter(counts).map(|d| d.in_configuration(&f.resolved.name)).collect()
            }
            Self::Placed(run) => ctx.placed.iter().flat_map(|figure| run(ctx, figure)).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_file_is_in_the_table_by_id() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check/rules");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .expect("the folder of rules is there")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .filter_map(|name| name.strip_suffix(".rs").filter(|n| *n != "mod").map(|n| n.replace('_', "-")))
            .collect();
        files.sort();
        let ids: Vec<_> = RULES.iter().map(|r| r.id).collect();
        assert_eq!(files, ids);
    }

    #[test]
    fn every_rule_has_a_page() {
        for rule in RULES {
            let page = rule.page();
            let paragraphs = page.split("\n\n").count();
            assert!(paragraphs >= 3, "{} explains too little", rule.id);
            assert!(page.contains("It matters"), "{} does not say why", rule.id);
            assert!(!rule.summary.ends_with('.') && !rule.source.is_empty(), "{}", rule.id);
            assert!(rule.source != "from memory" || rule.level != crate::diag::Level::Error, "{}", rule.id);
        }
    }
}
