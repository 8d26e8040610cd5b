//! `variant`: a new variant based on another, and the places that decide what of the other it has.
//!
//! Owns: what of the sources is changed for it, the file of answers, asking for them in the terminal. Must not know: which
//! places those are; `resolve` says it.

mod edits;
mod worklist;

use std::collections::BTreeMap;
use std::io::{BufRead, Write};
use std::path::Path;

use self::edits::Edits;
use self::worklist::{Entry, PlaceKey, Worklist, entries};
use super::failure::Failure;
use super::place::aligned;
use crate::compile::Checked;
use crate::diag::{did_you_mean, nearest};
use crate::model::{Manual, Settings, USABLE_NAME, VariantDef, is_usable_name};
use crate::resolve::{PlacedCondition, conditions, undecided, widened};
use crate::source::{SourceMap, Spanned};
use crate::units::VariantName;

/// What was asked.
#[derive(Clone, Debug)]
pub(super) struct VariantAsked {
    pub name: String,
    pub based_on: Option<String>,
    pub title: Option<String>,
    /// The answer for all places at once.
    pub inherits: Option<bool>,
    /// Ask for each place in the terminal.
    pub ask: bool,
    /// Write the answers into the sources.
    pub write: bool,
}

/// Lists the places, and does what was asked; in plain text. Questions are read from `answers`.
///
/// # Errors
/// There is no such variant and nothing to base it on, it is based on another, an answer can't be read, a file can't be
/// written.
pub(super) fn variant(
    checked: &Checked,
    manual: &Manual,
    folder: &Path,
    asked: &VariantAsked,
    answers: &mut dyn BufRead,
) -> Result<String, Failure> {
    let name = VariantName::new(&asked.name);
    let mut edits = Edits::new(&checked.sources, folder);
    let mut settings = manual.settings.clone();
    let mut said = String::new();
    let known = settings.variants.contains_key(&name);
    if known {
        standing(&settings, &name, asked)?;
    } else {
        said.push_str(&begin(manual, &mut edits, &mut settings, asked)?);
    }
    let def = settings.variants[&name].clone();
    let Some(base) = def.based_on.as_ref().map(|b| b.value.clone()) else {
        return Ok(format!("{said}{name} is based on no other variant: each condition means it where it names it\n"));
    };
    let list = Worklist::new(folder, &name, &base);
    if let Some(inherits) = asked.inherits {
        edits.answer_for_all(manual, &name, inherits)?;
        edits.write()?;
        list.remove()?;
        let word = if inherits { "yes" } else { "no" };
        said.push_str(&format!("{name}: inherits-conditions: {word} is written in manual.yaml\n"));
        return Ok(said);
    }
    let places = undecided(&settings, conditions(manual), &name);
    if places.is_empty() {
        edits.write()?;
        said.push_str(&match &def.inherits_conditions {
            Some(inherits) => format!(
                "{name} is based on {base} and says whether it inherits its conditions: {}\n",
                if inherits.value { "yes" } else { "no" }
            ),
            None => format!("no condition names {base} and not {name}: there is nothing to decide\n"),
        });
        return Ok(said);
    }
    let mut given = list.read()?;
    let entries: Vec<Entry> = entries(&checked.sources, &places);
    if asked.ask {
        ask(&checked.sources, &places, &entries, &mut given, answers, &name, &base)?;
    }
    if !asked.write {
        edits.write()?;
        list.write(&entries, &given)?;
        said.push_str(&listed(&entries, &given, &name, &base, &list));
        return Ok(said);
    }
    let (mut like, mut unlike, mut open) = (0, 0, Vec::new());
    let mut by_hand = Vec::new();
    for (placed, entry) in places.iter().zip(&entries) {
        match given.get(&entry.key) {
            None => open.push(entry.clone()),
            Some(false) => unlike += 1,
            Some(true) => {
                like += 1;
                if !edits.replace(widened(&settings, placed.condition, &name)) {
                    by_hand.push(vec![entry.place.clone(), format!("name {name} there beside {base}")]);
                }
            }
        }
    }
    let all_said = open.is_empty() && by_hand.is_empty();
    if all_said {
        edits.answer_for_all(manual, &name, false)?;
    }
    edits.write()?;
    said.push_str(&format!("{name} is like {base} in {like} places, which name it now, and not in {unlike}\n"));
    if !by_hand.is_empty() {
        said.push_str(&format!("These are for you to change:\n{}", aligned(&by_hand)));
    }
    if all_said {
        list.remove()?;
        said.push_str(&format!(
            "every place is decided: inherits-conditions: no is written in manual.yaml, so that from here on a condition means {name} where it names it\n"
        ));
    } else {
        list.write(&open, &given)?;
        said.push_str(&format!("{} places are left, in {}\n", open.len(), list.name()));
    }
    said.push_str("`kitwright check` says what else depends on it\n");
    Ok(said)
}

/// # Errors
/// The variant is there, and what was asked does not go with what it is.
fn standing(settings: &Settings, name: &VariantName, asked: &VariantAsked) -> Result<(), Failure> {
    let based_on = settings.variants[name].based_on.as_ref().map(|b| b.value.as_str());
    match (&asked.based_on, based_on) {
        (Some(wanted), based_on) if based_on != Some(wanted.as_str()) => Err(Failure::new(
            match based_on {
                Some(based_on) => format!("{name} is based on {based_on}"),
                None => format!("{name} is based on no other variant"),
            },
            "correct `based-on` in manual.yaml first",
        )),
        _ if asked.title.is_some() => {
            Err(Failure::new(format!("{name} has a title already"), "correct it in manual.yaml"))
        }
        _ => Ok(()),
    }
}

/// Writes a new variant into the settings and the parts list.
fn begin(manual: &Manual, edits: &mut Edits, settings: &mut Settings, asked: &VariantAsked) -> Result<String, Failure> {
    let name = &asked.name;
    let Some(base) = &asked.based_on else {
        let near = nearest(name, settings.variants.keys().map(VariantName::as_str));
        return Err(Failure::new(
            format!("there is no variant {name}"),
            near.map_or_else(|| "name the one it is based on: --based-on NAME".to_owned(), did_you_mean),
        ));
    };
    let Some(parent) = settings.variants.get(&VariantName::new(base)) else {
        let near = nearest(base, settings.variants.keys().map(VariantName::as_str));
        return Err(Failure::new(
            format!("there is no variant {base} to base it on"),
            near.map_or_else(|| "name a variant of this manual".to_owned(), did_you_mean),
        ));
    };
    if settings.options.keys().any(|o| o.as_str() == name) {
        return Err(Failure::new(
            format!("`{name}` is an option of this manual"),
            "give the variant a name of its own",
        ));
    }
    // Words of a condition that would be read as something else.
    if !is_usable_name(name) || ["from", "to"].contains(&name.as_str()) {
        return Err(Failure::new(format!("`{name}` can't name a variant"), format!("{USABLE_NAME}, from, to")));
    }
    let parent = parent.name.value.clone();
    edits.add_variant(manual, name, asked.title.as_deref(), parent.as_str())?;
    let columns: Vec<&str> = settings.variants.keys().map(VariantName::as_str).collect();
    let column = edits.add_column(manual, &columns, name);
    let span = settings.variants[&parent].name.span;
    let def = VariantDef {
        name: Spanned::new(VariantName::new(name), span),
        title: asked.title.clone().unwrap_or_else(|| name.clone()),
        based_on: Some(Spanned::new(parent.clone(), span)),
        inherits_conditions: None,
        supported_only: false,
        figure: None,
        alt: None,
    };
    settings.variants.insert(VariantName::new(name), def);
    let column = if column {
        format!("and a column of the parts list, where a blank cell takes the quantity of {parent}")
    } else {
        format!("; add a column headed {name} to the parts list where its quantities differ from those of {parent}")
    };
    Ok(format!("{name}, based on {parent}: a variant in manual.yaml {column}\n"))
}

fn listed(
    entries: &[Entry],
    given: &BTreeMap<PlaceKey, bool>,
    name: &VariantName,
    base: &VariantName,
    list: &Worklist,
) -> String {
    let rows: Vec<Vec<String>> = entries
        .iter()
        .map(|e| {
            let answer = given.get(&e.key).map_or("?", |yes| if *yes { "yes" } else { "no" });
            vec![answer.to_owned(), e.place.clone(), format!("only: {}", e.only), e.what.clone()]
        })
        .collect();
    let open = entries.iter().filter(|e| !given.contains_key(&e.key)).count();
    format!(
        "{} conditions name {base} and not {name}. Is {name} like {base} there?\n{}{open} of them are open. Answer yes or no in {}, or in the terminal with --ask; --write then names {name} where the answer is yes.\n--inherits yes or --inherits no answers for all of them at once.\n",
        entries.len(),
        aligned(&rows),
        list.name()
    )
}

/// Asks for every place that has no answer yet.
fn ask(
    sources: &SourceMap,
    places: &[PlacedCondition],
    entries: &[Entry],
    given: &mut BTreeMap<PlaceKey, bool>,
    answers: &mut dyn BufRead,
    name: &VariantName,
    base: &VariantName,
) -> Result<(), Failure> {
    let told = |e: std::io::Error| {
        Failure::new(format!("an answer can't be read: {e}"), "answer in the file in place of the terminal")
    };
    let open: Vec<usize> = (0..entries.len()).filter(|&i| !given.contains_key(&entries[i].key)).collect();
    let mut out = std::io::stdout();
    for (n, &i) in open.iter().enumerate() {
        let (entry, line) = (&entries[i], sources.line_column(places[i].span).0);
        let text = sources.text(places[i].span.file);
        let around = text.lines().enumerate().skip(line.saturating_sub(3)).take(6);
        let shown: String =
            around.map(|(at, l)| format!("  {} {l}\n", if at + 1 == line { ">" } else { " " })).collect();
        loop {
            let question = format!(
                "\n{} of {}: {}, only: {}\n{shown}Is {name} like {base} here? yes, no or stop: ",
                n + 1,
                open.len(),
                entry.place,
                entry.only
            );
            out.write_all(question.as_bytes()).and_then(|()| out.flush()).map_err(told)?;
            let mut line = String::new();
            let read = answers.read_line(&mut line).map_err(told)?;
            match line.trim().to_lowercase().as_str() {
                "yes" | "y" => {
                    given.insert(entry.key.clone(), true);
                }
                "no" | "n" => {
                    given.insert(entry.key.clone(), false);
                }
                "stop" => return Ok(()),
                _ if read == 0 => return Ok(()),
                _ => continue,
            }
            break;
        }
    }
    Ok(())
}
