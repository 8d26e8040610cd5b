//! `where`: every use of a part, hardware, tool, consumable, figure or assembly.

use std::collections::{BTreeMap, BTreeSet};

use super::failure::Failure;
use super::place::{aligned, place};
use super::used::uses;
use crate::compile::Checked;
use crate::diag::{did_you_mean, nearest};
use crate::model::Manual;
use crate::model::schema::{Thing, Use, mentions, names_in_page, names_in_settings, names_in_tables, thing_of};
use crate::resolve::{Facts, Resolved, declared, holds, resolve};
use crate::source::{SourceMap, Span};
use crate::units::{ConsumableId, Designation, FigureName, PartNumber, StepId, StockId, ToolId};

/// Lists the uses, in plain text.
///
/// # Errors
/// Nothing is called that.
pub(super) fn where_used(checked: &Checked, manual: &Manual, name: &str) -> Result<String, Failure> {
    let known = known(manual);
    let kinds: Vec<Thing> = known.iter().filter(|(n, _)| *n == name).map(|(_, k)| *k).collect();
    if kinds.is_empty() {
        let help = match nearest(name, known.iter().map(|(n, _)| *n)) {
            Some(near) => did_you_mean(near),
            None => "name a part number, a designation, the id of a tool, a consumable, an assembly or a step, or a figure's file".to_owned(),
        };
        return Err(Failure::new(format!("nothing in the manual is called `{name}`"), help));
    }
    let resolved: Vec<Resolved> = declared(&manual.settings).iter().map(|c| resolve(manual, c)).collect();
    let text: Vec<String> =
        kinds.into_iter().map(|kind| uses_of(manual, &checked.sources, &resolved, kind, name)).collect();
    Ok(text.join("\n"))
}

/// Every name of a thing, with what it is the name of.
fn known(manual: &Manual) -> BTreeSet<(&str, Thing)> {
    let mut known: BTreeSet<(&str, Thing)> = mentions(manual)
        .into_iter()
        .filter(|m| {
            // Rules and releases get their names elsewhere.
            let named = !m.how.must_be_known() && !matches!(m.how, Use::Shipped | Use::PutInPlace);
            named || matches!(m.thing, Thing::Rule | Thing::Release)
        })
        .map(|m| (m.name, m.thing))
        .collect();
    known.extend(manual.figures.keys().map(|n| (n.as_str(), Thing::Figure)));
    known.extend(manual.steps.iter().map(|s| (s.id.value.as_str(), Thing::Step)));
    known
}

fn uses_of(manual: &Manual, sources: &SourceMap, resolved: &[Resolved], thing: Thing, name: &str) -> String {
    // Where each use of each configuration stands, by its step and place: a made step has the places of the written one.
    let numbers: Vec<BTreeMap<(StepId, Span), String>> = resolved
        .iter()
        .map(|r| {
            let facts = Facts { settings: &manual.settings, configuration: &r.configuration };
            let in_step = |s: &crate::resolve::ResolvedStep| {
                let used = uses(manual, &s.step).into_iter().filter(|u| u.thing.may_name(thing) && u.name == name);
                let here = used.filter(|u| u.only.iter().all(|only| holds(only.condition, &facts)));
                here.map(|u| ((s.step.id.value.clone(), u.span), s.number.to_string())).collect::<Vec<_>>()
            };
            r.steps.iter().flat_map(in_step).collect()
        })
        .collect();
    let mut rows = Vec::new();
    for step in &manual.steps {
        // The step's own id is no use of it.
        let used = uses(manual, step).into_iter().filter(|u| u.thing.may_name(thing) && u.name == name);
        for u in used.filter(|u| !(thing == Thing::Step && u.span == step.id.span)) {
            let mut row = vec![step.id.to_string()];
            row.extend(
                numbers
                    .iter()
                    .map(|n| n.get(&(step.id.value.clone(), u.span)).cloned().unwrap_or_else(|| "-".to_owned())),
            );
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
    let title = title(manual, thing, name).map_or_else(String::new, |t| format!(" ({t})"));
    let uses = match count {
        0 => "no step uses it".to_owned(),
        1 => "1 use in the steps".to_owned(),
        n => format!("{n} uses in the steps"),
    };
    let mut text = format!("{} {name}{title}: {uses}\n", capital(thing.word()));
    text.push_str(&aligned(&rows));
    let around = around(manual, sources, thing, name);
    if !around.is_empty() {
        text.push_str(&format!("In the tables and settings:\n{}", aligned(&around)));
    }
    let mut pages = Vec::new();
    for page in &manual.pages {
        names_in_page(page, &mut |named| {
            if thing_of(manual, &named).may_name(thing) && named.name == name {
                pages.push(vec![place(sources, named.span), "named in the text".to_owned()]);
            }
        });
    }
    if !pages.is_empty() {
        text.push_str(&format!("On pages around the steps:\n{}", aligned(&pages)));
    }
    text
}

/// What it is called beside its name.
fn title<'a>(manual: &'a Manual, thing: Thing, name: &str) -> Option<&'a str> {
    let settings = &manual.settings;
    match thing {
        Thing::Part => manual.parts.get(&PartNumber::new(name)).map(|p| p.name.as_str()),
        Thing::Hardware => manual.hardware.get(&Designation::new(name)).map(|h| h.name.as_str()),
        Thing::Tool => settings.tools.get(&ToolId::new(name)).map(|t| t.value.as_str()),
        Thing::Consumable => settings.consumables.get(&ConsumableId::new(name)).map(|c| c.value.as_str()),
        Thing::Stock => manual.stock.get(&StockId::new(name)).map(|s| s.material.as_str()),
        Thing::Step => manual.steps.iter().find(|s| s.id.value.as_str() == name).map(|s| s.title.value.as_str()),
        Thing::Datum => settings.datums.get(name).map(|d| d.value.as_str()),
        Thing::Variant => settings.variants.values().find(|v| v.name.value.as_str() == name).map(|v| v.title.as_str()),
        Thing::Option => settings.options.values().find(|o| o.name.value.as_str() == name).map(|o| o.title.as_str()),
        Thing::Section => settings.sections.iter().find(|s| s.id.as_str() == name).map(|s| s.title.as_str()),
        _ => None,
    }
    .filter(|title| !title.is_empty())
}

/// Where the tables and the settings name it, and where its own id or file is.
fn around(manual: &Manual, sources: &SourceMap, thing: Thing, name: &str) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    names_in_tables(manual, &mut |row, named| {
        if thing_of(manual, &named).may_name(thing) && named.name == name {
            let how = match named.how {
                Use::Named => "listed".to_owned(),
                Use::OppositeOf => format!("opposite of {row}"),
                Use::CutFrom => format!("{row} is cut from it"),
                Use::MadeOf => format!("{row} is made of it"),
                Use::ReplacedBy => format!("supplied in the place of {row}"),
                Use::Drilled => "its holes".to_owned(),
                Use::Registered => format!("kit {row}"),
                Use::Shipped | Use::PutInPlace | Use::Since => format!("{}, kit {row}", named.how.note()),
                other => other.note().to_owned(),
            };
            rows.push(vec![place(sources, named.span), how]);
        }
    });
    names_in_settings(manual, &mut |named| {
        if thing_of(manual, &named).may_name(thing) && named.name == name {
            let how = if named.how == Use::Named { "listed" } else { named.how.note() };
            rows.push(vec![place(sources, named.span), how.to_owned()]);
        }
    });
    match thing {
        Thing::Figure if manual.figures.contains_key(&FigureName::new(name)) => {
            rows.push(vec![format!("figures/{name}"), "the file".to_owned()]);
        }
        Thing::Step => {
            let written = manual.steps.iter().filter(|s| s.id.value.as_str() == name);
            rows.extend(written.map(|s| vec![place(sources, s.id.span), "written".to_owned()]));
        }
        _ => {}
    }
    rows
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
