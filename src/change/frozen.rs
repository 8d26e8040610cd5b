//! The digest of a configuration that a release carries: of its steps in their order and of what they need, by numbers and
//! quantities alone.
//!
//! The definition is frozen: it rests on nothing that a later version of the program may tell otherwise, so that a
//! difference means that the program makes something else of the same sources. What the sources are is in the digest of
//! the release.

use super::compare::Side;
use super::digest::hex_digest;

/// One line each: `step ID` in order, then `part NUMBER QUANTITY` and `hardware NAME QUANTITY` in the order of their names.
pub fn frozen_digest(side: &Side) -> String {
    let resolved = side.resolved;
    let mut text = String::new();
    let mut line = |kind: &str, name: &str, quantity: &str| text.push_str(&format!("{kind} {name} {quantity}\n"));
    for step in &resolved.steps {
        line("step", step.step.id.value.as_str(), "");
    }
    for (number, listed) in &resolved.listed {
        line("part", &number.to_string(), &listed.count.to_string());
    }
    for (name, account) in &resolved.ledger.hardware {
        line("hardware", &name.to_string(), &account.need.to_string());
    }
    hex_digest(text.as_bytes())
}
