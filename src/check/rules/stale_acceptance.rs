//! An acceptance in `accept` that no finding matches.
//!
//! It matters because an acceptance that outlives its cause hides the next finding of its kind.
//!
//! It is looked at when nothing else is wrong: behind an error other findings are held back.
//!
//! Wrong: `accept: [{ rule: unused-part, about: KW-113, reason: ... }]`, while a step takes KW-113. Right: no such
//! acceptance.

use crate::check::rule;
use crate::check::{Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Accept;

pub const RULE: Rule = Rule {
    id: "stale-acceptance",
    level: Level::Warning,
    summary: "an acceptance that matches no finding",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("stale_acceptance.rs"),
    run: Run::Settling,
};

/// `unused` are the acceptances that matched nothing.
pub fn find<'a>(unused: impl Iterator<Item = &'a Accept>) -> Sink {
    unused
        .filter(|accept| may_be_accepted(&accept.rule.value))
        .map(|accept| {
            let rule = &accept.rule.value;
            let about = accept.about.as_ref().map_or(String::new(), |about| format!(" about {}", about.value));
            RULE.found(format!("there is no finding `{rule}`{about} to accept"))
                .at(accept.about.as_ref().map_or(accept.rule.span, |about| about.span), "accepts nothing")
                .help("take the acceptance out, or correct what it is about")
                .about(rule)
        })
        .collect()
}

/// Other acceptances are findings of other rules; what is found on paper is not known here.
fn may_be_accepted(id: &str) -> bool {
    let found_here = |rule: &Rule| rule.bending == Leave::Allowed && !matches!(rule.run, Run::OnPaper);
    rule(id).is_some_and(found_here)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_accepts_nothing_is_told() {
        assert_eq!(
            sound()
                .add("manual.yaml", "accept:\n  - { rule: unused-part, about: KW-101, reason: because }\n")
                .findings(),
            ["stale-acceptance manual.yaml `KW-101`"]
        );
        assert_eq!(
            sound()
                .edit(
                    "steps/finish/30-close.md",
                    "sign-off: [builder]",
                    "accept:\n  - { rule: sentence-length, reason: because }"
                )
                .findings(),
            ["stale-acceptance steps/finish/30-close.md `sentence-length`"]
        );
    }
}
