//! A change as text for a terminal and as JSON for a program.

use serde_json::{Value, json as object};

use super::compare::{Change, ItemChange, Quantities, StepMark};
use super::list_rows::ListRow;
use super::renamed::Renumbered;
use super::review::{Counterpart, Review, StepStanding};
use super::words::Edit;

/// The change in plain text.
pub fn text(change: &Change) -> String {
    let mut out = format!("from {} to {}\n", change.from, change.to);
    list(&mut out, "deviations of the kit as shipped, counted below", change.shipped.iter().cloned());
    if change.is_empty() {
        out.push_str("\nnothing differs\n");
        return out;
    }
    // Else they stand section by section below.
    if change.review.is_none() {
        list(&mut out, "steps added", change.added.iter().map(step_line));
        list(&mut out, "steps removed", change.removed.iter().map(step_line));
    }
    list(&mut out, "steps moved to another place", change.moved.iter().map(step_line));
    list(
        &mut out,
        "perhaps the same step under a new id",
        change.renamed.iter().map(|r| format!("{} is now {}: {} % alike", r.from.id, r.to.id, r.alike)),
    );
    list(
        &mut out,
        "steps split off from others",
        change.split.iter().map(|s| format!("{} from {}", step_line(&s.to), step_line(&s.from))),
    );
    if let Some(review) = &change.review {
        sections(&mut out, review, change);
    } else if !change.changed.is_empty() {
        out.push_str(&format!("\nsteps changed: {}\n", change.changed.len()));
        for step in &change.changed {
            out.push_str(&format!("  {}\n", step_line(&step.step)));
            for item in &step.items {
                out.push_str(&format!("    {}\n", item_line(item)));
            }
        }
    }
    for (page, items) in &change.pages {
        list(&mut out, &format!("page {page}"), items.iter().map(item_line));
    }
    list(&mut out, "parts renumbered", change.renumbered.iter().map(renumbered_line));
    list(&mut out, "parts", change.parts.iter().map(quantity_line));
    list(&mut out, "hardware", change.hardware.iter().map(quantity_line));
    list(&mut out, "parts with a new description", change.part_rows.iter().map(row_line));
    list(&mut out, "hardware with a new description", change.hardware_rows.iter().map(row_line));
    list(&mut out, "stock with a new description", change.stock_rows.iter().map(row_line));
    list(
        &mut out,
        "cuts and templates to do again",
        change.redo.iter().map(|r| {
            let end = if r.end.is_empty() { String::new() } else { format!(" end {}", r.end) };
            format!("{}{end}: {} ({})", r.part, r.cut, r.step)
        }),
    );
    list(&mut out, "tools needed in addition", change.tools_added.iter().cloned());
    list(&mut out, "tools no longer needed", change.tools_removed.iter().cloned());
    if let Some((before, after)) = &change.hours {
        let words = |h| crate::units::Quantity { value: h, unit: crate::units::Unit::Each }.to_string();
        list(&mut out, "hours", std::iter::once(format!("{} becomes {}", words(*before), words(*after))));
    }
    list(&mut out, "settings", change.settings.iter().map(item_line));
    out
}

/// What two configurations of the same sources do in other ways, section by section.
fn sections(out: &mut String, review: &Review, change: &Change) {
    let counterpart = |c: &Counterpart| {
        let steps = if c.steps == 1 { "step" } else { "steps" };
        let title = if c.title.is_empty() { String::new() } else { format!(" {}", c.title) };
        format!("{}{title} in the place of {}, in {} {steps}", c.to, c.from, c.steps)
    };
    list(out, "parts in the place of others", review.counterparts.iter().map(counterpart));
    for section in &review.sections {
        let of = |standing: fn(&StepStanding) -> bool| {
            section.steps.iter().filter(move |s| standing(&s.standing)).collect::<Vec<_>>()
        };
        out.push_str(&format!("\n{}\n", section.title));
        for (title, steps) in [
            (format!("only in {}", change.from), of(|s| matches!(s, StepStanding::OnlyInSource))),
            (format!("only in {}", change.to), of(|s| matches!(s, StepStanding::OnlyInTarget))),
            ("differs".to_owned(), of(|s| matches!(s, StepStanding::Differs(_)))),
        ] {
            for step in steps {
                out.push_str(&format!("  {title}: {}\n", step_line(&step.step)));
                step.why.iter().for_each(|why| out.push_str(&format!("    because of {why}\n")));
                if let StepStanding::Differs(items) = &step.standing {
                    items.iter().for_each(|item| out.push_str(&format!("    {}\n", item_line(item))));
                }
            }
        }
        for step in &section.steps {
            if let Some(parts) = step.standing.other_parts() {
                out.push_str(&format!("  the same work with {parts}: {}\n", step_line(&step.step)));
            }
        }
        if section.same > 0 {
            let steps = if section.same == 1 { "step is" } else { "steps are" };
            out.push_str(&format!("  {} {steps} the same\n", section.same));
        }
    }
}

fn list(out: &mut String, title: &str, lines: impl ExactSizeIterator<Item = String>) {
    if lines.len() > 0 {
        out.push_str(&format!("\n{title}: {}\n", lines.len()));
        lines.for_each(|l| out.push_str(&format!("  {l}\n")));
    }
}

fn step_line(step: &StepMark) -> String {
    format!("{}  {} ({})", step.number, step.title, step.id)
}

/// `hardware AN4-16A: quantity 4 becomes quantity 5`; of longer texts what differs, before and after, with some words around.
fn item_line(item: &ItemChange) -> String {
    let name = if item.name.is_empty() { item.field.clone() } else { format!("{} {}", item.field, item.name) };
    match (&item.before, &item.after) {
        (None, Some(_)) if item.field == "picture" => format!("added: {name}"),
        (Some(_), None) if item.field == "picture" => format!("removed: {name}"),
        (None, Some(after)) if after.is_empty() => format!("added: {name}"),
        (None, Some(after)) => format!("added: {name}: {after}"),
        (Some(before), None) if before.is_empty() => format!("removed: {name}"),
        (Some(before), None) => format!("removed: {name}: {before}"),
        (Some(before), Some(after)) if item.field == "picture" => {
            format!("changed: {name}: replaced ({before} becomes {after})")
        }
        (Some(before), Some(after)) if before.len() + after.len() <= SHORT => {
            format!("changed: {name}: {before} becomes {after}")
        }
        _ => {
            let (was, now) = excerpts(&item.words());
            format!("changed: {name}\n      was: {was}\n      now: {now}")
        }
    }
}

/// Two texts of together no more bytes stand on one line.
const SHORT: usize = 80;

/// How many words that stay are shown before and behind what differs.
const AROUND: usize = 4;

/// What differs, before and after, from the first word that does to the last.
fn excerpts(words: &[Edit<String>]) -> (String, String) {
    let differs = |e: &Edit<String>| !matches!(e, Edit::Same(_));
    let from = words.iter().position(differs).unwrap_or(0).saturating_sub(AROUND);
    let to = words.iter().rposition(differs).map_or(words.len(), |at| (at + 1 + AROUND).min(words.len()));
    let side = |keep: fn(&Edit<String>) -> bool| {
        let shown = words[from..to].iter().filter(|e| keep(e)).map(|e| match e {
            Edit::Same(w) | Edit::Removed(w) | Edit::Added(w) => w.as_str(),
        });
        let cut = |at: bool| at.then_some("…");
        let all: Vec<&str> = cut(from > 0).into_iter().chain(shown).chain(cut(to < words.len())).collect();
        all.join(" ")
    };
    (side(|e| !matches!(e, Edit::Added(_))), side(|e| !matches!(e, Edit::Removed(_))))
}

fn renumbered_line(r: &Renumbered) -> String {
    let title = if r.title.is_empty() { String::new() } else { format!(" {}", r.title) };
    format!("{} is now {}{title}", r.from, r.to)
}

fn quantity_line(q: &Quantities) -> String {
    let words = |q: Option<crate::units::Quantity>| q.map_or_else(|| "none".to_owned(), |q| q.to_string());
    let title = if q.title.is_empty() { String::new() } else { format!(" {}", q.title) };
    format!("{}{title}: {} becomes {}", q.name, words(q.before), words(q.after))
}

fn row_line(row: &ListRow) -> String {
    format!("{}: {}", row.name, row_words(row))
}

/// `cut length: 20 becomes 21; bag: (blank) becomes P1`
pub(super) fn row_words(row: &ListRow) -> String {
    let blank = |t: &str| if t.is_empty() { "(blank)".to_owned() } else { t.to_owned() };
    let cells: Vec<_> = row.cells.iter().map(|(c, a, b)| format!("{c}: {} becomes {}", blank(a), blank(b))).collect();
    cells.join("; ")
}

/// The change as one JSON object on a line.
pub fn json(change: &Change) -> String {
    let steps = |list: &[StepMark]| list.iter().map(step_value).collect::<Vec<_>>();
    let quantities = |list: &[Quantities]| {
        let text = |q: Option<crate::units::Quantity>| q.map(|q| q.to_string());
        let one = |q: &Quantities| object!({"name": q.name, "title": q.title, "before": text(q.before), "after": text(q.after)});
        list.iter().map(one).collect::<Vec<_>>()
    };
    let rows = |list: &[ListRow]| {
        let cell = |(column, before, after): &(String, String, String)| object!({"column": column, "before": before, "after": after});
        let one = |r: &ListRow| object!({"name": r.name, "cells": r.cells.iter().map(cell).collect::<Vec<_>>()});
        list.iter().map(one).collect::<Vec<_>>()
    };
    let hours =
        |h: crate::units::Rational| crate::units::Quantity { value: h, unit: crate::units::Unit::Each }.to_string();
    let value = object!({
        "from": change.from,
        "to": change.to,
        "steps_added": steps(&change.added),
        "steps_removed": steps(&change.removed),
        "steps_moved": steps(&change.moved),
        "steps_changed": change.changed.iter().map(|c| {
            object!({"step": step_value(&c.step), "items": c.items.iter().map(item_value).collect::<Vec<_>>()})
        }).collect::<Vec<_>>(),
        "perhaps_renamed": change.renamed.iter().map(|r| {
            object!({"from": r.from.id.as_str(), "to": r.to.id.as_str(), "alike": r.alike})
        }).collect::<Vec<_>>(),
        "steps_split": change.split.iter().map(|s| object!({"from": s.from.id.as_str(), "to": s.to.id.as_str()})).collect::<Vec<_>>(),
        "renumbered": change.renumbered.iter().map(|r| object!({"from": r.from, "to": r.to})).collect::<Vec<_>>(),
        "pages": change.pages.iter().map(|(page, items)| {
            object!({"page": page, "items": items.iter().map(item_value).collect::<Vec<_>>()})
        }).collect::<Vec<_>>(),
        "parts": quantities(&change.parts),
        "hardware": quantities(&change.hardware),
        "part_rows": rows(&change.part_rows),
        "hardware_rows": rows(&change.hardware_rows),
        "stock_rows": rows(&change.stock_rows),
        "redo": change.redo.iter().map(|r| {
            object!({"step": r.step.as_str(), "part": r.part.as_str(), "end": r.end, "cut": r.cut})
        }).collect::<Vec<_>>(),
        "tools_added": change.tools_added,
        "tools_removed": change.tools_removed,
        "hours": change.hours.map(|(a, b)| object!({"before": hours(a), "after": hours(b)})),
        "settings": change.settings.iter().map(item_value).collect::<Vec<_>>(),
        "shipped": change.shipped,
    });
    format!("{value}\n")
}

fn step_value(step: &StepMark) -> Value {
    object!({"id": step.id.as_str(), "title": step.title, "number": step.number})
}

fn item_value(item: &ItemChange) -> Value {
    object!({"field": item.field, "name": item.name, "before": item.before, "after": item.after})
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(before: &str, after: &str) -> ItemChange {
        ItemChange {
            field: "text".to_owned(),
            name: String::new(),
            before: Some(before.to_owned()),
            after: Some(after.to_owned()),
            index: None,
            near: None,
        }
    }

    #[test]
    fn a_short_text_stands_on_one_line_and_of_a_long_one_what_differs() {
        assert_eq!(item_line(&item("quantity 4", "quantity 5")), "changed: text: quantity 4 becomes quantity 5");
        let (head, tail) =
            ("Put the bolt through the clamp and then", "the tube until its head lies flat on the washer.");
        let (was, now) = (format!("{head} through {tail}"), format!("{head} not into {tail}"));
        assert_eq!(
            item_line(&item(&was, &now)),
            "changed: text\n      was: … the clamp and then through the tube until its …\n      now: … the clamp and \
             then not into the tube until its …"
        );
    }
}
