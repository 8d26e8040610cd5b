//! A bond of which the builder is not told enough: an adhesive of which manual.yaml says nothing, or not all that is needed
//! to mix it, to know when it has cured, and to be protected; an adhesive that is not among the consumables of the step.
//!
//! It matters because a bond can't be looked at afterwards: it is as good as its preparation, its mix and its time.
//!
//! Needed under `adhesives` are `preparation`, `ratio` with `ratio-by`, `least-temperature`, `pot-life`, `cures`,
//! `shelf-life`, `test-piece` and `protection`. An adhesive of one part says `ratio: ready to use`, which needs no `ratio-by`.
//!
//! Wrong: `adhesive: epoxy`, and no `cures` for it. Right: `cures: [{ at: 20 C, handling: 12 h, full: 7 d }]`.
//!
//! To accept: `accept: [{ rule: bond-incomplete, about: epoxy, reason: ... }]` in manual.yaml or in the step.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Adhesive;

pub const RULE: Rule = Rule {
    id: "bond-incomplete",
    level: Level::Warning,
    summary: "a bond of which the builder is not told how to make it or when it has cured",
    source: "common practice: the data sheet of the adhesive's maker",
    bending: Leave::Allowed,
    file: include_str!("bond_incomplete.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let settings = &ctx.manual.settings;
    let mut told = BTreeSet::new();
    for step in ctx.manual.written_steps() {
        for bond in &step.bonds {
            let id = &bond.adhesive.value;
            // A name of nothing is a finding of its own.
            if !settings.consumables.contains_key(id) {
                continue;
            }
            if !step.consumables.iter().any(|c| c.value.value == *id) {
                sink.push(
                    RULE.found(format!("step `{}` glues with {id}, which is not among its consumables", step.id.value))
                        .at(bond.adhesive.span, "not to be had ready")
                        .help(format!("add `{id}` to the `consumables` of the step"))
                        .about(id)
                        .about(&step.id.value),
                );
            }
            let adhesive = settings.adhesives.get(id);
            let lacks = adhesive.map_or_else(|| vec!["anything"], lacking);
            if lacks.is_empty() || !told.insert(id.clone()) {
                continue;
            }
            let (headline, span) = match adhesive {
                None => (format!("manual.yaml does not say how {id} is used"), bond.adhesive.span),
                Some(a) => (format!("manual.yaml does not say all of the adhesive {id}: {}", lacks.join(", ")), a.span),
            };
            sink.push(
                RULE.found(headline)
                    .at(span, "too little to make the bond by")
                    .help(format!(
                        "take it from the data sheet of its maker and write it under `adhesives: {{ {id}: ... }}`; \
                         `kitwright keys adhesives` shows the keys"
                    ))
                    .about(id),
            );
        }
    }
    sink
}

fn lacking(a: &Adhesive) -> Vec<&'static str> {
    let ready = a.ratio.as_ref().is_some_and(|r| !r.contains(|c: char| c.is_ascii_digit()));
    let there = [
        ("preparation", a.preparation.is_some()),
        ("ratio", a.ratio.is_some()),
        ("ratio-by", a.ratio_by.is_some() || a.ratio.is_none() || ready),
        ("least-temperature", a.least.is_some()),
        ("pot-life", a.pot_life.is_some()),
        ("cures", !a.cures.is_empty()),
        ("shelf-life", a.shelf_life.is_some()),
        ("test-piece", a.test_piece.is_some()),
        ("protection", a.protection.is_some()),
    ];
    there.into_iter().filter(|(_, there)| !there).map(|(name, _)| name).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::glued;

    #[test]
    fn what_is_lacking_is_named() {
        let found = glued().edit("manual.yaml", "    pot-life: 30 min\n", "");
        assert!(found.only().headline.ends_with("pot-life"), "{:?}", found.findings());
        let found = glued().edit("manual.yaml", "adhesives:\n  epoxy:", "adhesives:\n  primer:");
        assert!(found.findings().contains(&"bond-incomplete steps/frame/10-keel.md `epoxy`".to_owned()));
    }

    #[test]
    fn the_adhesive_is_to_be_had_ready() {
        let found = glued().edit("steps/frame/10-keel.md", "consumables: [primer, epoxy]", "consumables: [primer]");
        assert_eq!(found.findings(), ["bond-incomplete steps/frame/10-keel.md `epoxy`"]);
    }
}
