//! An impact as text for a terminal and as JSON for a program.

use serde_json::{Value, json as object};

use super::graph::{ImpactThing, Reach};
use super::impact::{Documents, Impact, JointImpact, KitTouched, MadeDocument, Noted, ShopWork, Touched};
use crate::units::{StepId, UnitStyle, plain};

/// The impact in plain text. Lengths are shown in `style`.
pub fn impact_text(impact: &Impact, style: UnitStyle) -> String {
    let mut out = format!("the sources as they are against release {}\n", impact.since);
    if impact.is_empty() {
        out.push_str("\nnothing differs\n");
        return out;
    }
    for (title, names) in [("new configurations", &impact.new), ("configurations no longer made", &impact.gone)] {
        if !names.is_empty() {
            out.push_str(&format!("\n{title}: {}\n", names.join(", ")));
        }
    }
    section(&mut out, "changed", impact.changes.iter().map(noted_lines));
    section(&mut out, "touched by that, and to be looked at", impact.touched.iter().map(|t| touched_lines(t, style)));
    section(&mut out, "documents that change", impact.documents.iter().map(documents_lines));
    section(&mut out, "to do again in the shop", impact.work.iter().map(work_lines));
    section(&mut out, "kits of these configurations", impact.kits.iter().map(|k| vec![kit_line(k)]));
    out
}

fn section(out: &mut String, title: &str, items: impl ExactSizeIterator<Item = Vec<String>>) {
    if items.len() == 0 {
        return;
    }
    out.push_str(&format!("\n{title}: {}\n", items.len()));
    for lines in items {
        for (i, line) in lines.iter().enumerate() {
            out.push_str(&format!("{}{line}\n", if i == 0 { "  " } else { "      " }));
        }
    }
}

fn titled(name: &str, title: &str) -> String {
    if title.is_empty() { name.to_owned() } else { format!("{name} {title}") }
}

fn noted_lines(note: &Noted) -> Vec<String> {
    let mut lines = vec![format!("{} {}: {}", note.kind, titled(&note.name, &note.title), note.what)];
    lines.push(format!("in {}", note.configurations.join(", ")));
    if !note.unchanged.is_empty() {
        lines.push(format!("stays as it was in {}", note.unchanged.join(", ")));
    }
    lines
}

fn touched_lines(t: &Touched, style: UnitStyle) -> Vec<String> {
    let mut lines = vec![titled(&thing_words(&t.thing), &t.title)];
    lines.extend(t.reasons.iter().map(reach_words));
    lines.extend(t.detail.as_ref().map(|d| detail_words(d, style)));
    lines.push(format!("in {}", t.configurations.join(", ")));
    lines
}

/// `part SK-103`, `step keel-join, joint 2`.
fn thing_words(thing: &ImpactThing) -> String {
    match thing {
        ImpactThing::Stock(id) => format!("stock {id}"),
        ImpactThing::Part(n) => format!("part {n}"),
        ImpactThing::Hardware(d) => format!("hardware {d}"),
        ImpactThing::Step(id) => format!("step {id}"),
        ImpactThing::Joint(id, i) => format!("step {id}, joint {}:", i + 1),
        ImpactThing::Cut(id, i) => format!("step {id}, cut {}:", i + 1),
        ImpactThing::Hole(id, i) => format!("step {id}, hole {}:", i + 1),
        ImpactThing::Bend(id, i) => format!("step {id}, bend {}:", i + 1),
        ImpactThing::Flattened(id, i) => format!("step {id}, flattened end {}:", i + 1),
        ImpactThing::Cable(id, i) => format!("step {id}, cable {}:", i + 1),
        ImpactThing::Bag { crate_, bag } => bag_words(crate_, bag),
        ImpactThing::Sawing(id) => format!("what is sawn from {id}"),
    }
}

fn bag_words(crate_: &str, bag: &str) -> String {
    match (crate_.is_empty(), bag.is_empty()) {
        (_, true) => format!("crate {crate_}"),
        (true, false) => format!("bag {bag}"),
        (false, false) => format!("crate {crate_}, bag {bag}"),
    }
}

fn reach_words(reach: &Reach) -> String {
    let from = thing_words(&reach.from);
    let from = from.trim_end_matches(':');
    match (reach.why, &reach.from) {
        ("is clamped in it", _) => format!("{from} is clamped in it"),
        ("is used in it", _) => format!("{from} is used in it"),
        ("is cut there", _) => format!("{from} is cut there"),
        ("is bent there", _) => format!("{from} is bent there"),
        ("is pressed flat there", _) => format!("{from} is pressed flat there"),
        ("is made up there", _) => format!("{from} is made up there"),
        ("is drilled there", _) => format!("{from} is drilled there"),
        ("passes through it", _) => format!("{from} passes through it"),
        ("is the hole of it", _) => format!("{from} is the hole of it"),
        ("its holes are taken over", _) => format!("the holes of {from} are taken over"),
        ("fits round it", _) => format!("it fits round {from}"),
        ("slides into or over it", _) => format!("it slides into or over {from}"),
        ("is its opposite" | "is the opposite step", _) => format!("it is the opposite of {from}"),
        ("comes after it", _) => format!("it comes after {from}"),
        (why, _) => format!("it {} ({from})", why.trim_start_matches("it ")),
    }
}

fn detail_words(d: &JointImpact, style: UnitStyle) -> String {
    let length =
        |l: Option<crate::units::Length>| l.map_or_else(|| "not known".to_owned(), |l| plain(&l.pieces(style)));
    let stack = if d.stack.0 == d.stack.1 {
        format!("stack {}", length(d.stack.1))
    } else {
        format!("stack {} becomes {}", length(d.stack.0), length(d.stack.1))
    };
    let fits = match d.fits {
        Some(true) => "; the bolt still fits",
        Some(false) => "; the bolt does not fit",
        None => "",
    };
    format!("{} x {}: {stack}{fits}", d.places, d.fastener)
}

fn documents_lines(d: &Documents) -> Vec<String> {
    let mut lines = vec![d.configuration.clone()];
    lines.extend(d.made.iter().map(document_line));
    lines.extend(said("steps in another place", step_names(&d.moved).join(", ")));
    lines.extend(said("the head or the look of every page, by settings", d.settings.join(", ")));
    lines
}

/// `manual: steps axle, sleeve; pages Parts list`
fn document_line(d: &MadeDocument) -> String {
    let named = |word: &str, names: Vec<String>| match names.len() {
        0 => None,
        1 => Some(format!("{word} {}", names[0])),
        _ => Some(format!("{word}s {}", names.join(", "))),
    };
    let pieces: Vec<String> =
        [named("step", step_names(&d.steps)), named("page", d.pages.clone())].into_iter().flatten().collect();
    if pieces.is_empty() { d.name.clone() } else { format!("{}: {}", d.name, pieces.join("; ")) }
}

fn step_names(ids: &[StepId]) -> Vec<String> {
    ids.iter().map(ToString::to_string).collect()
}

fn said(title: &str, words: String) -> Option<String> {
    (!words.is_empty()).then(|| format!("{title}: {words}"))
}

fn work_lines(w: &ShopWork) -> Vec<String> {
    let bags = w.bags.iter().map(|(c, b)| bag_words(c, b)).collect::<Vec<_>>().join("; ");
    let stock = w.sawing.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let mut lines = vec![w.configuration.clone()];
    lines.extend(said("to pack again", bags));
    lines.extend(said("to saw again, stock", stock));
    lines
}

fn kit_line(k: &KitTouched) -> String {
    let release = k.release.as_ref().map_or_else(|| "no release noted".to_owned(), |r| format!("release {r}"));
    let status = k.status.as_ref().map_or_else(String::new, |s| format!(", {s}"));
    format!("kit {}: {}, {release}{status}", k.serial, k.configuration)
}

/// The impact as one JSON object on a line.
pub fn impact_json(impact: &Impact, style: UnitStyle) -> String {
    let value = object!({
        "since": impact.since,
        "new_configurations": impact.new,
        "gone_configurations": impact.gone,
        "changes": impact.changes.iter().map(|n| object!({
            "kind": n.kind, "name": n.name, "title": n.title, "what": n.what,
            "configurations": n.configurations, "unchanged": n.unchanged,
        })).collect::<Vec<_>>(),
        "touched": impact.touched.iter().map(|t| touched_value(t, style)).collect::<Vec<_>>(),
        "documents": impact.documents.iter().map(|d| object!({
            "configuration": d.configuration,
            "made": d.made.iter().map(|m| object!({
                "name": m.name, "steps": step_names(&m.steps), "pages": m.pages,
            })).collect::<Vec<_>>(),
            "moved": step_names(&d.moved), "settings": d.settings,
        })).collect::<Vec<_>>(),
        "work": impact.work.iter().map(|w| object!({
            "configuration": w.configuration,
            "bags": w.bags.iter().map(|(c, b)| object!({"crate": c, "bag": b})).collect::<Vec<_>>(),
            "sawing": w.sawing.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "kits": impact.kits.iter().map(|k| object!({
            "serial": k.serial, "configuration": k.configuration, "release": k.release, "status": k.status,
        })).collect::<Vec<_>>(),
    });
    format!("{value}\n")
}

fn touched_value(t: &Touched, style: UnitStyle) -> Value {
    object!({
        "thing": thing_words(&t.thing).trim_end_matches(':'),
        "title": t.title,
        "reasons": t.reasons.iter().map(reach_words).collect::<Vec<_>>(),
        "detail": t.detail.as_ref().map(|d| detail_words(d, style)),
        "fits": t.detail.as_ref().and_then(|d| d.fits),
        "configurations": t.configurations,
    })
}
