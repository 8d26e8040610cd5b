//! `where`: every use of a part, hardware, tool, consumable, figure or assembly.

use std::collections::{BTreeMap, BTreeSet};

use super::failure::Failure;
use super::place::{aligned, place};
use super::uses::{Kind, Use, uses, uses_in_text};
use crate::compile::Checked;
use crate::diag::nearest;
use crate::model::Manual;
use crate::resolve::{Resolved, declared, resolve};
use crate::source::{SourceMap, Span};
use crate::units::{ConsumableId, Designation, FigureName, PartNumber, StockId, ToolId};

/// Lists the uses, in plain text.
///
/// # Errors
/// Nothing is called that.
pub(super) fn where_used(checked: &Checked, manual: &Manual, name: &str) -> Result<String, Failure> {
    let known = known(manual);
    let kinds: Vec<Kind> = known.iter().filter(|(n, _)| *n == name).map(|(_, k)| *k).collect();
    if kinds.is_empty() {
        let help = match nearest(name, known.iter().map(|(n, _)| *n)) {
            Some(near) => format!("write `{near}`, if that is what was meant"),
            None => "name a part number, a designation, the id of a tool, a consumable, an assembly or a step, or a figure's file".to_owned(),
        };
        return Err(Failure::new(format!("nothing in the manual is called `{name}`"), help));
    }
    let resolved: Vec<Resolved> = declared(&manual.settings).iter().map(|c| resolve(manual, c)).collect();
    let text: Vec<String> =
        kinds.into_iter().map(|kind| uses_of(manual, &checked.sources, &resolved, kind, name)).collect();
    Ok(text.join("\n"))
}

/// Everything that is listed or used, with its kind.
fn known(manual: &Manual) -> BTreeSet<(&str, Kind)> {
    let mut known = BTreeSet::new();
    known.extend(manual.parts.keys().map(|n| (n.as_str(), Kind::Part)));
    known.extend(manual.hardware.keys().map(|n| (n.as_str(), Kind::Hardware)));
    known.extend(manual.settings.tools.keys().map(|n| (n.as_str(), Kind::Tool)));
    known.extend(manual.settings.consumables.keys().map(|n| (n.as_str(), Kind::Consumable)));
    known.extend(manual.figures.keys().map(|n| (n.as_str(), Kind::Figure)));
    known.extend(manual.stock.keys().map(|n| (n.as_str(), Kind::Stock)));
    for step in &manual.steps {
        known.insert((step.id.value.as_str(), Kind::Step));
        known.extend(uses(step).into_iter().map(|u| (u.name, u.kind)));
    }
    known
}

fn uses_of(manual: &Manual, sources: &SourceMap, resolved: &[Resolved], kind: Kind, name: &str) -> String {
    let of = |u: &Use| u.kind == kind && u.name == name;
    // Where each use of each configuration stands, by its place.
    let numbers: Vec<BTreeMap<Span, String>> = resolved
        .iter()
        .map(|r| {
            let in_step = |s: &crate::resolve::ResolvedStep| {
                uses(&s.step).into_iter().filter(of).map(|u| (u.span, s.number.to_string())).collect::<Vec<_>>()
            };
            r.steps.iter().flat_map(in_step).collect()
        })
        .collect();
    let mut rows = Vec::new();
    for step in &manual.steps {
        for u in uses(step).into_iter().filter(of) {
            let mut row = vec![step.id.to_string()];
            row.extend(numbers.iter().map(|n| n.get(&u.span).cloned().unwrap_or_else(|| "-".to_owned())));
            row.extend([place(sources, u.span), u.how]);
            rows.push(row);
        }
    }
    let count = rows.len();
    if count > 0 {
        let mut head = vec!["step".to_owned()];
        head.extend(resolved.iter().map(|r| r.name.clone()));
        head.extend(["place".to_owned(), "how".to_owned()]);
        rows.insert(0, head);
    }
    let title = title(manual, kind, name).map_or_else(String::new, |t| format!(" ({t})"));
    let uses = match count {
        0 => "no step uses it".to_owned(),
        1 => "1 use in the steps".to_owned(),
        n => format!("{n} uses in the steps"),
    };
    let mut text = format!("{} {name}{title}: {uses}\n", capital(kind.word()));
    text.push_str(&aligned(&rows));
    let tables = in_tables(manual, sources, kind, name);
    let pages = in_pages(manual, sources, kind, name);
    if !tables.is_empty() {
        text.push_str(&format!("In the tables and settings:\n{}", aligned(&tables)));
    }
    if !pages.is_empty() {
        text.push_str(&format!("On pages around the steps:\n{}", aligned(&pages)));
    }
    text
}

/// What it is called beside its name.
fn title<'a>(manual: &'a Manual, kind: Kind, name: &str) -> Option<&'a str> {
    match kind {
        Kind::Part => manual.parts.get(&PartNumber::new(name)).map(|p| p.name.as_str()),
        Kind::Hardware => manual.hardware.get(&Designation::new(name)).map(|h| h.name.as_str()),
        Kind::Tool => manual.settings.tools.get(&ToolId::new(name)).map(|t| t.value.as_str()),
        Kind::Consumable => manual.settings.consumables.get(&ConsumableId::new(name)).map(|c| c.value.as_str()),
        Kind::Stock => manual.stock.get(&StockId::new(name)).map(|s| s.material.as_str()),
        Kind::Step => manual.steps.iter().find(|s| s.id.value.as_str() == name).map(|s| s.title.value.as_str()),
        Kind::Figure | Kind::Assembly => None,
    }
    .filter(|title| !title.is_empty())
}

fn in_tables(manual: &Manual, sources: &SourceMap, kind: Kind, name: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    let mut add = |span: Span, how: String| rows.push(vec![place(sources, span), how]);
    match kind {
        Kind::Part => {
            if let Some(part) = manual.parts.get(&PartNumber::new(name)) {
                add(part.number.span, "listed".to_owned());
            }
            for part in manual.parts.values() {
                for other in part.opposite.iter().filter(|o| o.as_str() == name) {
                    add(other.span, format!("opposite of {}", part.number.value));
                }
                for from in part.cut_from.iter().filter(|f| f.as_str() == name) {
                    add(from.span, format!("{} is cut from it", part.number.value));
                }
            }
        }
        Kind::Hardware => {
            if let Some(hardware) = manual.hardware.get(&Designation::new(name)) {
                add(hardware.designation.span, "listed".to_owned());
            }
        }
        Kind::Stock => {
            if let Some(stock) = manual.stock.get(&StockId::new(name)) {
                add(stock.id.span, "listed".to_owned());
            }
            for part in manual.parts.values() {
                for stock in part.stock.iter().filter(|s| s.as_str() == name) {
                    add(stock.span, format!("{} is made of it", part.number.value));
                }
            }
        }
        Kind::Tool => {
            if let Some(tool) = manual.settings.tools.get(&ToolId::new(name)) {
                add(tool.span, "listed".to_owned());
            }
        }
        Kind::Consumable => {
            if let Some(consumable) = manual.settings.consumables.get(&ConsumableId::new(name)) {
                add(consumable.span, "listed".to_owned());
            }
        }
        Kind::Figure => {
            if manual.figures.contains_key(&FigureName::new(name)) {
                rows.push(vec![format!("figures/{name}"), "the file".to_owned()]);
            }
        }
        Kind::Step => {
            if let Some(step) = manual.steps.iter().find(|s| s.id.value.as_str() == name) {
                add(step.id.span, "written".to_owned());
            }
        }
        Kind::Assembly => {}
    }
    rows
}

fn in_pages(manual: &Manual, sources: &SourceMap, kind: Kind, name: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for page in &manual.pages {
        for u in uses_in_text(&page.body).into_iter().filter(|u| u.kind == kind && u.name == name) {
            rows.push(vec![place(sources, u.span), u.how]);
        }
    }
    rows
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
