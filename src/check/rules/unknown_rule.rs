//! A rule in `levels` or `accept` that does not exist.
//!
//! It matters because a level that is set for nothing is thought to be set.
//!
//! Wrong: `levels: { unused-figures: off }`. Right: `levels: { unused-figure: off }`. `kitwright rules` lists the
//! names.

use crate::check::{Leave, Rule, Run};
use crate::check::{RULES, rule};
use crate::diag::{Level, Sink};
use crate::diag::{did_you_mean, nearest};
use crate::model::Manual;

pub const RULE: Rule = Rule {
    id: "unknown-rule",
    level: Level::Warning,
    summary: "a rule in `levels` or `accept` that does not exist",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unknown_rule.rs"),
    run: Run::Settling,
};

pub fn find(manual: &Manual) -> Sink {
    let levels = manual.settings.levels.iter().map(|(id, level)| (id, level.span));
    let accepts = manual.accepts.iter().map(|accept| (&accept.rule.value, accept.rule.span));
    let unknown = levels.chain(accepts).filter(|(id, _)| rule(id).is_none());
    unknown
        .map(|(id, span)| {
            let help = match nearest(id, RULES.iter().map(|r| r.id)) {
                Some(near) => did_you_mean(near),
                None => "`kitwright rules` lists the rules".to_owned(),
            };
            RULE.found(format!("there is no rule `{id}`")).at(span, "not the name of a rule").help(help).about(id)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn names_of_rules() {
        assert_eq!(
            sound().add("manual.yaml", "levels: { unused-figures: off }\n").findings(),
            ["unknown-rule manual.yaml `unused-figures`"]
        );
        assert_eq!(
            sound().add("manual.yaml", "accept:\n  - { rule: unused-prat, reason: because }\n").findings(),
            ["unknown-rule manual.yaml `unused-prat`"]
        );
        assert_eq!(
            sound().add("manual.yaml", "levels: { unused-figure: off, sentence-length: hint }\n").findings(),
            [""; 0]
        );
    }
}
