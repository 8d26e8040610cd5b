//! A name planted under each key and column that may hold one: it must be found, a misspelling of it reported once, its
//! condition seen, the other hand's name shown by the opposite step, and a change of it noticed.
//!
//! The list comes from the schema, so that a new key is in the test on its first day.

mod base;

use base::{FIGURE, ROWS, SETTINGS};

use super::where_used::where_used;
use super::why::why;
use crate::change::{body, normalise};
use crate::compile::{Checked, check, impacts};
use crate::diag::Diagnostic;
use crate::model::schema::{Form, Holds, Key, MANUAL, STEP, TABLES, Thing, Use};
use crate::source::{Memory, Place};

/// A place of a manual where a name may stand.
struct Spot {
    /// The keys that lead to it: `cables end-a thimble`.
    path: String,
    thing: Thing,
    how: Use,
    /// Under a key that says nothing to the builder.
    silent: bool,
    plant: Plant,
}

impl Spot {
    /// The step's own id: under another one it would be another step.
    fn own_id(&self) -> bool {
        self.how == Use::Named && self.thing == Thing::Step
    }

    /// Whether a change here changes something that is printed. What is named for the first time is printed where it is
    /// used; which configurations may be ordered, which findings count, and what a kit was shipped with are no part of a
    /// document of the release.
    fn is_printed(&self) -> bool {
        let settings = matches!(self.plant, Plant::Settings(_) | Plant::Table(..));
        let register = matches!(self.plant, Plant::Table(i, _) if matches!(TABLES[i].name, "kits" | "shipped"));
        let named = settings && self.how == Use::Named;
        let allowed = matches!(self.how, Use::BasedOn | Use::Excluded | Use::Required | Use::Grouped);
        let findings = matches!(self.how, Use::Levelled | Use::Accepted);
        !(self.silent || register || named || allowed || findings || self.thing == Thing::Release)
    }
}

enum Plant {
    /// Keys around it, the outermost first; of the last the item on one line where `short`.
    Step(Vec<(&'static Key, bool)>),
    Settings(Vec<(&'static Key, bool)>),
    Table(usize, &'static Key),
}

/// Every key that may hold a name, of a step, of manual.yaml and of the tables.
fn spots() -> Vec<Spot> {
    let mut all = Vec::new();
    below(&STEP, &mut Vec::new(), &mut all, &Plant::Step);
    below(&MANUAL, &mut Vec::new(), &mut all, &Plant::Settings);
    for (i, table) in TABLES.iter().enumerate() {
        for column in table.columns {
            if let Some((thing, how)) = held(column.holds) {
                let path = format!("{}.csv {}", table.name, column.name);
                all.push(Spot { path, thing, how, silent: false, plant: Plant::Table(i, column) });
            }
        }
    }
    all
}

fn below(
    form: &'static Form,
    around: &mut Vec<(&'static Key, bool)>,
    all: &mut Vec<Spot>,
    plant: &dyn Fn(Vec<(&'static Key, bool)>) -> Plant,
) {
    for key in form.keys {
        let mut add = |around: &[(&'static Key, bool)], holds, short| {
            let Some((thing, how)) = held(holds) else { return };
            let mut keys = around.to_vec();
            keys.push((key, short));
            let path = keys.iter().map(|(k, _)| k.name).collect::<Vec<_>>().join(" ")
                + if short { " (on one line)" } else { "" };
            let silent = keys.iter().any(|(k, _)| k.silent);
            all.push(Spot { path, thing, how, silent, plant: plant(keys) });
        };
        match key.holds {
            Holds::Items(inner) => {
                if let Some(short) = inner.short {
                    add(around, short, true);
                }
                around.push((key, false));
                below(inner, around, all, plant);
                around.pop();
            }
            Holds::Entries(&names, held) => {
                add(around, names, false);
                if let Some(inner) = held.inner() {
                    around.push((key, false));
                    below(inner, around, all, plant);
                    around.pop();
                }
            }
            Holds::Group(inner) => {
                around.push((key, false));
                below(inner, around, all, plant);
                around.pop();
            }
            holds => add(around, holds, false),
        }
    }
}

fn held(holds: Holds) -> Option<(Thing, Use)> {
    match holds {
        Holds::Name(thing, how) | Holds::Counted(thing, how) | Holds::NameOr(_, thing, how) => Some((thing, how)),
        Holds::Configuration(how) => Some((Thing::Variant, how)),
        _ => None,
    }
}

/// The name that is planted, another of its kind, and what the opposite step says in its place.
fn names(thing: Thing) -> (&'static str, &'static str, &'static str) {
    match thing {
        Thing::Part | Thing::Item => ("QZ-777-L", "QZ-888-L", "QZ-777-R"),
        Thing::Hardware => ("XQZ-777", "XQZ-888", "XQZ-777"),
        Thing::Stock => ("tube-qz", "tube-xy", "tube-qz"),
        Thing::Step => ("before-qz", "before-xy", "before-qz:right"),
        Thing::Section => ("middle-qz", "middle-xy", "middle-qz"),
        Thing::Figure => ("qz.svg", "xy.svg", "qz--opposite.svg"),
        Thing::Tool => ("tool-qz", "tool-xy", "tool-qz"),
        Thing::Consumable => ("paste-qz", "paste-xy", "paste-qz"),
        Thing::Assembly => ("left-bay", "left-arm", "right-bay"),
        Thing::Datum => ("left-line", "left-edge", "right-line"),
        Thing::JointKind => ("kind-qz", "kind-xy", "kind-qz"),
        Thing::Joint => ("left-qz-bolt", "left-xy-bolt", "right-qz-bolt"),
        Thing::Hole => ("left qz", "left xy", "right qz"),
        Thing::Cable => ("left-qz-stay", "left-xy-stay", "right-qz-stay"),
        Thing::Bond => ("left-qz-rib", "left-xy-rib", "right-qz-rib"),
        Thing::Wire => ("left-qz-lamp", "left-xy-lamp", "right-qz-lamp"),
        Thing::Variant | Thing::Condition => ("VARQZ", "VARXY", "VARQZ"),
        Thing::Option => ("optqz", "optxy", "optqz"),
        Thing::Rule => ("sentence-length", "late-safety", "sentence-length"),
        Thing::Release => ("A", "A", "A"),
    }
}

/// A manual with one of everything, `held` under a spot.
fn planted(spot: Option<&Spot>, name: &str, only: bool) -> Memory {
    let mut files = Memory::new();
    let mut settings = String::new();
    let mut extra = String::new();
    let mut top = "";
    if let Some(Spot { plant: Plant::Settings(keys), thing, .. }) = spot {
        top = keys[0].0.name;
        extra = setting(keys, name, *thing);
    }
    for (key, base) in SETTINGS {
        let more = match *key {
            key if key == top => std::mem::take(&mut extra),
            // What a variant shows is printed where it is built.
            "configurations" if spot.is_some_and(|s| top == "variants" && s.how == Use::Shown) => "extra".to_owned(),
            _ => String::new(),
        };
        match base.chars().next() {
            Some('{') => {
                settings.push_str(&format!("{key}: {{ {}{} }}\n", base[1..base.len() - 1].trim(), joined(base, &more)))
            }
            Some('[') => {
                settings.push_str(&format!("{key}: [ {}{} ]\n", base[1..base.len() - 1].trim(), joined(base, &more)))
            }
            _ => settings.push_str(&format!("{key}: {}\n", if more.is_empty() { (*base).to_owned() } else { more })),
        }
    }
    files.insert("manual.yaml", settings);
    for (i, table) in TABLES.iter().enumerate() {
        let (head, base, row) = ROWS[i];
        let mut text = format!("{head}\n{base}");
        if let Some(Spot { plant: Plant::Table(at, column), .. }) = spot
            && *at == i
        {
            let cells = head.split(',').zip(row.split(','));
            let cells: Vec<&str> = cells.map(|(h, c)| if h == column.name { name } else { c }).collect();
            text.push_str(&cells.join(","));
            text.push('\n');
        }
        files.insert(format!("{}.csv", table.name), text);
    }
    for (file, fill) in [("qz.svg", "#333"), ("xy.svg", "#444"), ("other.svg", "#555")] {
        files.insert(format!("figures/{file}"), FIGURE.replace("#333", fill));
    }
    for step in ["qz", "xy"] {
        let text = format!(
            "---\nstep: before-{step}\ntitle: Before the left {step}\nsection: frame\nhand: left\nopposite: yes\nmakes: [left-{}]\nbonds: [{{ bond: left-{step}-rib, parts: [KW-100], adhesive: paste-qz }}]\n---\n\n1. Work.\n",
            if step == "qz" { "bay" } else { "arm" }
        );
        files.insert(format!("steps/1-{step}.md"), text);
    }
    let mut front = vec![
        ("step", "planted".to_owned()),
        ("title", "Plant the left one".to_owned()),
        ("section", "frame".to_owned()),
        ("hand", "left".to_owned()),
        ("opposite", "yes".to_owned()),
    ];
    if let Some(Spot { plant: Plant::Step(keys), .. }) = spot {
        let (top, short) = keys[0];
        let value = match keys.len() {
            1 if short => format!("[{name}]"),
            1 => name.to_owned(),
            _ => format!("[{}]", item(top, &keys[1..], name, only)),
        };
        let value = if matches!(top.holds, Holds::Group(_)) { value[1..value.len() - 1].to_owned() } else { value };
        front.retain(|(key, _)| *key != top.name);
        front.push((top.name, value));
    }
    if let Some(Spot { plant: Plant::Table(1, _), .. }) = spot {
        front.push(("hardware", "[KW-901]".to_owned()));
    }
    let front: String = front.iter().map(|(key, value)| format!("{key}: {value}\n")).collect();
    files.insert("steps/2-planted.md", format!("---\n{front}---\n\n1. Work.\n"));
    files
}

fn joined(base: &str, more: &str) -> String {
    if more.is_empty() || base.len() == 2 { more.to_owned() } else { format!(", {more}") }
}

/// What stands in a list or a group: the keys that are needed, the planted one, a condition.
fn item(list: &'static Key, keys: &[(&'static Key, bool)], name: &str, only: bool) -> String {
    let Some(form) = list.holds.inner() else { return name.to_owned() };
    let (key, short) = keys[0];
    let value = match keys.len() {
        1 if short => format!("[{name}]"),
        1 => name.to_owned(),
        _ if matches!(key.holds, Holds::Group(_)) => item(key, &keys[1..], name, false),
        _ => format!("[{}]", item(key, &keys[1..], name, false)),
    };
    let mut written: Vec<(&str, String)> = Vec::new();
    for needs in form.needs {
        if !needs.contains(&key.name) {
            let need = form.key(needs[0]).expect("a key that is needed is one of the form's");
            let example = match need.holds {
                Holds::Name(thing, _) => other_name(thing),
                _ => need.example(),
            };
            written.push((need.name, example.to_owned()));
        }
    }
    written.push((key.name, value));
    if only && form.key("only").is_some() {
        written.push(("only", "LONG".to_owned()));
    }
    let written: Vec<String> = written.iter().map(|(key, value)| format!("{key}: {value}")).collect();
    format!("{{ {} }}", written.join(", "))
}

/// A name for the keys that are needed beside the planted one.
fn other_name(thing: Thing) -> &'static str {
    match thing {
        Thing::Part | Thing::Item => "KW-100",
        Thing::Hardware => "AN4-10A",
        Thing::Figure => "other.svg",
        Thing::Datum => "keel-line",
        Thing::Assembly => "left-spar",
        Thing::Cable => "left-stay",
        Thing::Release => "A",
        Thing::Section => "more",
        other => names(other).1,
    }
}

/// An entry or item of a setting with the planted name.
fn setting(keys: &[(&'static Key, bool)], name: &str, thing: Thing) -> String {
    let (top, short) = keys[0];
    match (top.holds, keys.len()) {
        (Holds::Entries(_, Holds::Group(_)), 2) => format!("extra: {}", item(top, &keys[1..], name, false)),
        (Holds::Entries(_, Holds::Group(form)), 1) if !short && form.needs.is_empty() => {
            format!("{name}: {{ {}: {} }}", form.keys[0].name, form.keys[0].example())
        }
        (Holds::Entries(..), _) => {
            let value = if thing == Thing::Rule { "hint" } else { "Words" };
            format!("{name}: {value}")
        }
        (Holds::Group(_), _) => item(top, &keys[1..], name, false).trim_matches(['{', '}', ' ']).to_owned(),
        (Holds::Items(_), _) if short => name.to_owned(),
        (Holds::Items(_), _) => item(top, &keys[1..], name, false),
        _ => name.to_owned(),
    }
}

/// The manual with an earlier state as its release A.
fn since(mut files: Memory, earlier: &Memory) -> Memory {
    let head = format!(
        "kitwright release\nschema 2\nletter A\ndate 2026-01-05\nclass information\nsummary First\n\n{}",
        body(&normalise(earlier).expect("a folder in memory can be listed"))
    );
    files.insert("releases/A.release", head);
    files
}

fn read(files: &Memory) -> Checked {
    check(files, &|_| ()).expect("a folder in memory can be listed")
}

/// The places of a finding or of a name, as `where` prints them.
fn place_of(checked: &Checked, name: &str, spot: &Spot) -> Option<String> {
    let file = match &spot.plant {
        Plant::Step(_) => "steps/2-planted.md".to_owned(),
        Plant::Settings(_) => "manual.yaml".to_owned(),
        Plant::Table(i, _) => format!("{}.csv", TABLES[*i].name),
    };
    let id = checked.sources.files().find(|f| checked.sources.name(*f) == file)?;
    let text = checked.sources.text(id);
    let line = text.lines().enumerate().filter(|(_, l)| l.contains(name)).last()?.0 + 1;
    Some(match &spot.plant {
        Plant::Table(_, column) => format!("{file}, row {line}, column {}", column.name),
        _ => format!("{file}:{line}"),
    })
}

fn said(d: &Diagnostic) -> (String, String) {
    (d.rule.to_owned(), d.headline.clone())
}

/// One letter of a name changed, so that it is the name of nothing.
fn misspelt(name: &str) -> String {
    let at = name.find(['q', 'Q', 'b', 'l', 's', 'V']).unwrap_or(0);
    let mut wrong = name.to_owned();
    wrong.replace_range(at..=at, "w");
    wrong
}

#[test]
fn where_finds_each() {
    let mut faults = Vec::new();
    for spot in spots() {
        let (name, ..) = names(spot.thing);
        if spot.own_id() {
            continue;
        }
        let files = since(planted(Some(&spot), name, false), &planted(None, "", false));
        let checked = read(&files);
        let Some(manual) = &checked.manual else {
            faults.push(format!(
                "{}: no manual: {:?}",
                spot.path,
                checked.findings.iter().map(said).collect::<Vec<_>>()
            ));
            continue;
        };
        let place = place_of(&checked, name, &spot).unwrap_or_default();
        match where_used(&checked, manual, name) {
            Ok(text) if text.contains(&place) => {}
            Ok(text) => faults.push(format!("{}: {place} is not in:\n{text}", spot.path)),
            Err(error) => faults.push(format!("{}: {error:?}", spot.path)),
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn a_misspelling_is_reported_once_with_the_nearest_name() {
    let mut faults = Vec::new();
    // Names that are given where they stand are held against each other by rules of their own.
    for spot in spots().iter().filter(|s| s.how.must_be_known() || matches!(s.how, Use::Shipped | Use::PutInPlace)) {
        if matches!(spot.thing, Thing::Release) {
            continue;
        }
        let (name, ..) = names(spot.thing);
        let wrong = misspelt(name);
        let release = planted(None, "", false);
        let sound = read(&since(planted(Some(spot), name, false), &release));
        let checked = read(&since(planted(Some(spot), &wrong, false), &release));
        let known: Vec<_> = sound.findings.iter().map(said).collect();
        // What the sound manual says of the right name is not counted.
        let before = |d: &Diagnostic| known.contains(&(d.rule.to_owned(), d.headline.replace(&wrong, name)));
        let new: Vec<&Diagnostic> = checked.findings.iter().filter(|d| !before(d)).collect();
        let about: Vec<&&Diagnostic> = new.iter().filter(|d| d.headline.contains(&wrong)).collect();
        let at = |d: &Diagnostic| {
            d.span.map(|span| match checked.sources.place(span) {
                Place::Text { line, .. } => format!("{}:{line}", checked.sources.name(span.file)),
                Place::Cell { row, column } => {
                    format!("{}, row {row}, column {column}", checked.sources.name(span.file))
                }
            })
        };
        let place = place_of(&checked, &wrong, spot);
        let good = match about[..] {
            [d] => at(d) == place && d.help.contains(&format!("`{name}`")),
            _ => false,
        };
        if !good {
            let found: Vec<_> = new.iter().map(|d| (at(d), said(d), d.help.clone())).collect();
            faults.push(format!("{}: `{wrong}` at {place:?}: {found:#?}", spot.path));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn why_sees_each_condition() {
    let mut faults = Vec::new();
    for spot in spots() {
        let Plant::Step(keys) = &spot.plant else { continue };
        if keys.len() < 2 || !matches!(keys[0].0.holds, Holds::Items(form) if form.key("only").is_some()) {
            continue;
        }
        let (name, ..) = names(spot.thing);
        let checked = read(&since(planted(Some(&spot), name, true), &planted(None, "", false)));
        let Some(manual) = &checked.manual else { continue };
        let place = place_of(&checked, name, &spot).unwrap_or_default();
        match why(&checked, manual, &place, "SHORT") {
            Ok(text) if text.contains("is not in SHORT") && text.contains("LONG") => {}
            Ok(text) => faults.push(format!("{}: {place}: {text}", spot.path)),
            Err(error) => faults.push(format!("{}: {error:?}", spot.path)),
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_opposite_step_says_the_opposite() {
    let mut faults = Vec::new();
    for spot in spots() {
        if !matches!(spot.plant, Plant::Step(_)) || spot.own_id() {
            continue;
        }
        let (name, _, opposite) = names(spot.thing);
        // A figure for the opposite step takes the place of the written one.
        let opposite = if spot.how == Use::ShownOpposite { name } else { opposite };
        let checked = read(&planted(Some(&spot), name, false));
        let Some(manual) = &checked.manual else { continue };
        let Some(made) = manual.steps.iter().find(|s| s.id.value.as_str() == "planted:right") else {
            faults.push(format!("{}: no opposite step", spot.path));
            continue;
        };
        let used = super::used::uses(manual, made);
        if !used.iter().any(|u| u.name == opposite) {
            faults.push(format!(
                "{}: `{opposite}` is not among {:?}",
                spot.path,
                used.iter().map(|u| u.name).collect::<Vec<_>>()
            ));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn impact_sees_a_change() {
    let mut faults = Vec::new();
    for spot in spots() {
        if !spot.is_printed() {
            continue;
        }
        let (name, other, _) = names(spot.thing);
        let before = planted(Some(&spot), other, false);
        let files = since(planted(Some(&spot), name, false), &before);
        match impacts(&files) {
            Ok((impact, _)) if !impact.is_empty() => {}
            Ok(_) => faults.push(format!("{}: nothing differs", spot.path)),
            Err(error) => faults.push(format!("{}: {error:?}", spot.path)),
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}
