//! A rule in `levels` or `accept` whose findings can be neither lowered nor accepted.
//!
//! It matters because with such a finding no document is true: a number that is the name of nothing stays one,
//! whatever its level.
//!
//! Wrong: `levels: { unknown-part: off }`. Right: the number corrected.
//!
//! It can't be accepted.

use crate::check::rule;
use crate::check::{Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Manual;

pub const RULE: Rule = Rule {
    id: "unbending-rule",
    level: Level::Error,
    summary: "a rule in `levels` or `accept` that can be neither lowered nor accepted",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unbending_rule.rs"),
    run: Run::Settling,
};

pub fn find(manual: &Manual) -> Sink {
    let levels = manual.settings.levels.iter().map(|(id, level)| (id, level.span));
    let accepts = manual.accepts.iter().map(|accept| (&accept.rule.value, accept.rule.span));
    levels
        .chain(accepts)
        .filter(|(id, _)| rule(id).is_some_and(|r| r.bending == Leave::Refused))
        .map(|(id, span)| {
            RULE.found(format!("`{id}` can be neither lowered nor accepted"))
                .at(span, "this rule always applies")
                .help("take this out, and correct what the rule finds")
                .about(id)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn some_rules_stand() {
        assert_eq!(
            sound().add("manual.yaml", "levels: { unknown-part: off }\n").findings(),
            ["unbending-rule manual.yaml `unknown-part`"]
        );
        assert_eq!(
            sound().add("manual.yaml", "accept:\n  - { rule: order-circle, reason: because }\n").findings(),
            ["unbending-rule manual.yaml `order-circle`"]
        );
        assert_eq!(
            sound().add("manual.yaml", "levels: { unknown-key: off }\n").findings(),
            ["unbending-rule manual.yaml `unknown-key`"]
        );
    }
}
