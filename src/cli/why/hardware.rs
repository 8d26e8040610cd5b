//! Why an item of hardware is in the bags or not.

use super::WhyCase;
use super::condition::keeps_out;
use crate::cli::place::{aligned, place};
use crate::cli::used::uses;
use crate::model::Hardware;
use crate::model::schema::Thing;
use crate::resolve::in_words;

pub(super) fn why(case: &WhyCase, hardware: &Hardware) -> String {
    let (designation, name) = (&hardware.designation.value, &case.resolved.name);
    let at = place(case.sources, hardware.designation.span);
    let account = case.resolved.ledger.hardware.get(designation);
    let mut text = match account {
        None => format!("{designation} ({}) is not in {name}: no step there needs it.\n", hardware.name),
        Some(a) => format!("{designation} ({}) is in {name}: {} needed; spares are extra.\n", hardware.name, a.need),
    };
    text.push_str(&format!("It is listed at {at}.\n"));
    if hardware.one_use {
        text.push_str("It is never used again once taken off, so each fitting takes a new one.\n");
    }
    if let Some(account) = account {
        let mut rows: Vec<_> =
            account.taken.iter().map(|(id, n, q)| vec![q.to_string(), format!("step {n}"), id.to_string()]).collect();
        rows.push(vec![account.need.to_string(), "needed".to_owned()]);
        text.push_str(&format!("\nWhat the steps take from the bags:\n{}", aligned(&rows)));
    }
    let mut rows = Vec::new();
    for step in &case.manual.steps {
        for u in
            uses(case.manual, step).into_iter().filter(|u| u.thing == Thing::Hardware && u.name == designation.as_str())
        {
            let out = keeps_out(case, step, &u.only);
            let held = out.map_or_else(|| "in".to_owned(), |only| format!("out, only: {}", in_words(only.condition)));
            rows.push(vec![step.id.to_string(), u.how, place(case.sources, u.span), held]);
        }
    }
    if !rows.is_empty() {
        text.push_str(&format!("\nWhere it is written:\n{}", aligned(&rows)));
    }
    text
}
