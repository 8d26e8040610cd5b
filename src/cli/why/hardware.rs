//! Why an item of hardware is in the bags or not.

use super::WhyCase;
use super::condition::keeps_out;
use crate::cli::place::{aligned, place};
use crate::cli::used::uses;
use crate::model::Hardware;
use crate::model::schema::Thing;
use crate::resolve::{BoxCount, in_words};
use crate::units::Quantity;

/// `, 1 spare, 2 on back order: 19 in the box`
fn in_the_box(count: &BoxCount) -> String {
    let of = |value| Quantity { value, ..count.needed };
    let parts = [(count.spares, "spare"), (count.owed, "on back order"), (count.in_addition, "in addition")];
    let more: Vec<String> =
        parts.into_iter().filter(|(n, _)| *n.numer() != 0).map(|(n, what)| format!(", {} {what}", of(n))).collect();
    if more.is_empty() {
        "; no spares".to_owned()
    } else {
        format!("{}: {} in the box", more.concat(), count.in_the_box())
    }
}

pub(super) fn why(case: &WhyCase, hardware: &Hardware) -> String {
    let (designation, name) = (&hardware.designation.value, &case.resolved.name);
    let at = place(case.sources, hardware.designation.span);
    let account = case.resolved.ledger.hardware.get(designation);
    let mut text = match account {
        None => format!("{designation} ({}) is not in {name}: no step there needs it.\n", hardware.name),
        Some(a) => {
            let sum = case.resolved.counts.get(designation.as_str()).map_or_else(String::new, in_the_box);
            format!("{designation} ({}) is in {name}: {} needed{sum}.\n", hardware.name, a.need)
        }
    };
    for (of, n) in case.resolved.shipped.stands_for(designation.as_str()) {
        text.push_str(&format!("{n} of it stand for {of} in this kit.\n"));
    }
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
