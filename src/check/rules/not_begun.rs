//! A manual of which no step takes a part yet: what no step uses and which sections have no steps, in one line.
//!
//! It matters because a young manual has nothing but such findings, and they hide what is wrong.
//!
//! From the first step on that takes a part, each is told by itself: `unused-part`, `unused-hardware`, `unused-figure`,
//! `empty-section`.
//!
//! Wrong: nothing; it is where each manual begins. Right: a step with `parts:`.
//!
//! To switch it off: `levels: { not-begun: off }` in manual.yaml.

use crate::check::{Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Manual;

pub const RULE: Rule = Rule {
    id: "not-begun",
    level: Level::Hint,
    summary: "no step takes a part yet: what is unused, in one line",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("not_begun.rs"),
    run: Run::Settling,
};

/// What is told in one line, and how it is counted there.
const TOLD: [(&str, &str, &str); 4] = [
    ("unused-part", "part", "parts"),
    ("unused-hardware", "item of hardware", "items of hardware"),
    ("unused-figure", "figure", "figures"),
    ("empty-section", "section without steps", "sections without steps"),
];

/// Puts what is unused into one finding, where no step takes a part.
pub(in crate::check) fn gather(manual: &Manual, found: Sink) -> Sink {
    if manual.steps.iter().any(|s| !s.parts.is_empty()) {
        return found;
    }
    let (told, mut rest): (Vec<Diagnostic>, Vec<Diagnostic>) =
        found.into_iter().partition(|d| TOLD.iter().any(|(rule, ..)| *rule == d.rule));
    if told.len() < 2 {
        rest.extend(told);
        return rest;
    }
    let counted: Vec<String> = TOLD
        .iter()
        .filter_map(|(rule, one, many)| match told.iter().filter(|d| d.rule == *rule).count() {
            0 => None,
            1 => Some(format!("1 {one}")),
            n => Some(format!("{n} {many}")),
        })
        .collect();
    rest.push(
        RULE.found(format!("no step takes a part yet; unused: {}", counted.join(", ")))
            .in_file("manual.yaml")
            .help("write the first step with `parts:`; from then on each is told by itself"),
    );
    rest
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_young_manual_has_one_line() {
        let mut case = sound();
        for path in [
            "steps/frame/10-keel.md",
            "steps/frame/20-left.md",
            "steps/frame/21-right.md",
            "steps/frame/30-plates.md",
            "steps/frame/40-paint.md",
            "steps/finish/10-cross.md",
            "steps/finish/20-brake.md",
            "steps/finish/30-close.md",
        ] {
            case = case.remove(path);
        }
        let young = case.add(
            "steps/frame/10-first.md",
            "---\nstep: first\ntitle: Look at the crate\nsection: frame\n---\n\n1. Open the crate.\n",
        );
        let found = young.only();
        assert_eq!(found.rule, "not-begun");
        assert!(found.headline.contains("parts") && found.headline.contains("1 section without steps"), "{found:?}");
    }
}
