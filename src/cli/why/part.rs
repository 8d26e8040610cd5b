//! Why a part is in the crate or not: the cells that add up, and the steps that take it.

use super::WhyCase;
use super::condition::keeps_out;
use crate::cli::place::{aligned, place};
use crate::cli::used::uses;
use crate::model::Part;
use crate::model::schema::Thing;
use crate::resolve::in_words;

pub(super) fn why(case: &WhyCase, part: &Part) -> String {
    let (number, name) = (&part.number.value, &case.resolved.name);
    let listed = case.resolved.listed.get(number).map_or(0, |l| l.count);
    let at = place(case.sources, part.number.span);
    let mut text = match (&part.cut_from, listed) {
        (Some(from), _) => {
            format!("Part {number} ({}) is a piece that a step cuts out of {}.\n", part.name, from.value)
        }
        (None, 0) => format!("Part {number} ({}) is not in {name}.\n", part.name),
        (None, n) => format!("Part {number} ({}) is in {name}: {n} in the crate.\n", part.name),
    };
    text.push_str(&format!("It is listed at {at}.\n"));
    if part.cut_from.is_none() {
        text.push_str(&cells(case, part, listed));
    }
    text.push_str(&steps(case, part));
    text.push_str(&absent(case, part));
    text
}

/// The variant's cell or the one it is inherited from, the options' cells, and the sum.
fn cells(case: &WhyCase, part: &Part, listed: i64) -> String {
    let line = case.manual.settings.lineage(&case.facts.configuration.variant);
    let mut rows = Vec::new();
    for (i, variant) in line.iter().enumerate() {
        match part.variants.get(*variant) {
            Some(cell) => {
                rows.push(vec![cell.count.to_string(), format!("column {variant}"), place(case.sources, cell.span)]);
                break;
            }
            None => {
                let next = line.get(i + 1);
                let why = next.map_or_else(
                    || "and it is based on nothing".to_owned(),
                    |v| format!("so {v} counts, on which it is based"),
                );
                rows.push(vec!["blank".to_owned(), format!("column {variant}"), why]);
            }
        }
    }
    for option in &case.facts.configuration.options {
        if let Some(cell) = part.options.get(option) {
            rows.push(vec![format!("{:+}", cell.count), format!("column {option}"), place(case.sources, cell.span)]);
        }
    }
    rows.push(vec![listed.to_string(), "in the crate".to_owned()]);
    format!("\nHow many the parts list says:\n{}", right(rows))
}

/// The steps that take it, and what is left.
fn steps(case: &WhyCase, part: &Part) -> String {
    let number = &part.number.value;
    let Some(account) = case.resolved.ledger.parts.get(number) else {
        return "\nNo step takes one.\n".to_owned();
    };
    let mut rows: Vec<_> = account
        .pulled
        .iter()
        .map(|p| {
            vec![p.count.to_string(), format!("step {}", p.number), p.step.to_string(), place(case.sources, p.span)]
        })
        .collect();
    if rows.is_empty() {
        rows.push(vec!["0".to_owned(), "no step takes one".to_owned()]);
    }
    rows.push(vec![account.taken().to_string(), "taken".to_owned()]);
    let mut text = format!("\nHow many the steps take:\n{}", right(rows));
    let have = if account.piece { "cut" } else { "listed" };
    text.push_str(&match account.listed - account.taken() {
        0 => format!("That is as many as are {have}.\n"),
        n if n > 0 => format!("{n} more are {have} than the steps take.\n"),
        n => format!("{} too few are {have}.\n", -n),
    });
    let others: Vec<_> = account.steps.iter().filter(|s| account.pulled.iter().all(|p| p.step != **s)).collect();
    if !others.is_empty() {
        let named: Vec<_> = others
            .iter()
            .filter_map(|id| case.resolved.step(id))
            .map(|s| format!("{} {}", s.number, s.step.id.value))
            .collect();
        text.push_str(&format!("Also worked on in: {}.\n", named.join(", ")));
    }
    text
}

/// Uses that do not hold in this configuration, with the condition that keeps them out.
fn absent(case: &WhyCase, part: &Part) -> String {
    let number = part.number.value.as_str();
    let mut rows = Vec::new();
    for step in &case.manual.steps {
        for u in uses(case.manual, step).into_iter().filter(|u| u.thing == Thing::Part && u.name == number) {
            if let Some(only) = keeps_out(case, step, &u.only) {
                let words = format!("only: {}", in_words(only.condition));
                rows.push(vec![step.id.to_string(), u.how, place(case.sources, u.span), words]);
            }
        }
    }
    if rows.is_empty() { String::new() } else { format!("\nUses that do not apply here:\n{}", aligned(&rows)) }
}

/// Aligns rows whose first cell is a number, which stands to the right.
fn right(mut rows: Vec<Vec<String>>) -> String {
    let wide = rows.iter().map(|r| r[0].len()).max().unwrap_or(0);
    for row in &mut rows {
        row[0] = format!("{:>wide$}", row[0]);
    }
    aligned(&rows)
}
