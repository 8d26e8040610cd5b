//! The reference of all rules, made from the rules themselves.

use super::{Leave, RULES, Rule, Run};
use crate::diag::Level;

/// A rule's page as Markdown: its name, level and origin, and the head of its source file. `level` is that of the
/// heading, from 1.
pub fn page(rule: &Rule, level: usize) -> String {
    let bending = match (rule.bending, rule.run) {
        (Leave::Allowed, Run::Reading) if rule.level == Level::Error => {
            "where it is a warning it may be set in `levels` and accepted"
        }
        (Leave::Allowed, _) => "may be set in `levels` and accepted",
        (Leave::Refused, _) => "can be neither lowered nor accepted",
    };
    let (marks, id, word) = ("#".repeat(level), rule.id, rule.level.word());
    format!("{marks} {id}\n\nLevel: {word}; {bending}. Source: {}.\n\n{}\n", rule.source, rule.page())
}

/// A line a rule.
pub fn table() -> String {
    let mut text = String::from("| rule | level | what it finds |\n|---|---|---|\n");
    for rule in RULES {
        text.push_str(&format!("| `{}` | {} | {} |\n", rule.id, rule.level.word(), rule.summary));
    }
    text
}

/// All rules: the table, then each rule's page.
pub fn reference() -> String {
    let mut text = table();
    for rule in RULES {
        text.push('\n');
        text.push_str(&page(rule, 3));
    }
    text
}
