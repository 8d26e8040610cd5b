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

/// What the builder has to be told of an adhesive.
const NEEDED: [&str; 9] = [
    "preparation",
    "ratio",
    "ratio-by",
    "least-temperature",
    "pot-life",
    "cures",
    "shelf-life",
    "test-piece",
    "protection",
];

/// What is not written; what can't be read is another finding.
fn lacking(a: &Adhesive) -> Vec<&'static str> {
    // How a ratio is measured is asked where there is one in numbers.
    let ready = a.ratio.as_ref().is_none_or(|r| !r.contains(|c: char| c.is_ascii_digit()));
    NEEDED.into_iter().filter(|key| !(a.said.contains(key) || *key == "ratio-by" && ready)).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::glued;

    #[test]
    fn what_is_lacking_is_named() {
        let found = glued().edit("manual.yaml", "    pot-life: 30 min\n", "");
        assert!(found.only().headline.ends_with("pot-life"), "{:?}", found.findings());
        // What is written and can't be read is that finding alone.
        for (from, to) in [
            ("ratio-by: weight", "ratio-by: mass"),
            ("full: 7 d", "full: 30 d"),
            ("least-temperature: 15 C", "least-temperature: 25 C"),
        ] {
            assert_eq!(glued().edit("manual.yaml", from, to).findings().len(), 1, "{to}");
        }
        let found = glued().edit("manual.yaml", "adhesives:\n  epoxy:", "adhesives:\n  primer:");
        assert!(found.findings().contains(&"bond-incomplete steps/frame/10-keel.md `epoxy`".to_owned()));
    }

    #[test]
    fn the_adhesive_is_to_be_had_ready() {
        let found = glued().edit("steps/frame/10-keel.md", "consumables: [primer, epoxy]", "consumables: [primer]");
        assert_eq!(found.findings(), ["bond-incomplete steps/frame/10-keel.md `epoxy`"]);
    }
}
