//! Letters equal differences: for edits of every kind, the steps whose pages come out otherwise are the steps that get a new
//! letter, the steps that `impact` lists, and the steps with a bar, in each configuration.
//!
//! The other side of the comparison is what the emitter writes: the HTML of each step's page before and after, with its
//! pictures, less the numbers of steps, sections and figures. It knows nothing of imprints.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use kitwright::change::{Class, Impact, hex_digest};
use kitwright::compile::{self, Checked, Stage};
use kitwright::diag::Diagnostics;
use kitwright::document::{self, Bars, PrintScale, Purpose};
use kitwright::emit::html::{self, Templates};
use kitwright::source::{Collected, Files as _, Memory};
use kitwright::units::{Date, StepId};

use super::edits::{Case, cases, edit_first};
use super::{State, edit, imprint, release, small};

const CONFIGURATIONS: [&str; 3] = ["PLAIN", "TALL", "PLAIN+brake"];

/// The small manual with more kinds of things in it.
fn richer() -> Memory {
    let mut files = small();
    edit(
        &mut files,
        "manual.yaml",
        "configurations: [PLAIN, TALL]\n",
        "options:\n  brake: { title: Brake }\nconfigurations: [PLAIN, TALL, PLAIN+brake]\n",
    );
    let parts = String::from_utf8(files.read("parts.csv").expect("there")).expect("UTF-8");
    let (head, rows) = parts.split_once('\n').expect("a head");
    let rows: Vec<String> = rows.lines().map(|row| format!("{row},\n")).collect();
    files.insert(
        "parts.csv",
        format!(
            "{head},+brake\n{}{}",
            rows.concat(),
            "GT-108,Brace,,,6061-T6,TUBE-1,20,blank 22 in; uncut; no holes,1,1,A4,1,,builder,,,\n\
             GT-109,Brake block,,,Rubber,,,finished,0,0,A6,1,P4,maker,,,1\n\
             GT-110,Angle,,,5052-H32,SHEET-1,,finished,1,1,A6,1,P4,maker,,,\n"
        ),
    );
    edit(
        &mut files,
        "stock.csv",
        "PLY-1/2,",
        "TUBE-2,6061-T6,round tube,1,.065,144,\nSHEET-1,5052-H32,sheet,,.063,48,\nPLY-1/2,",
    );
    files.insert(
        "steps/frame/30-brace.md",
        "---\nstep: brace\ntitle: Saw the brace\nsection: frame\nafter: [handle]\nparts: [GT-108]\ncuts:\n\
         \x20 - { part: GT-108, end: A, cut: saddle, onto: GT-105, angle: 60, long-point: 12, only: PLAIN }\n\
         \x20 - { part: GT-108, end: A, cut: saddle, onto: GT-106, angle: 60, long-point: 12, only: TALL }\n\
         \x20 - { part: GT-108, end: B, cut: square, length: 20 }\n\
         tools: [hacksaw, file]\nhours: 0.5\n---\n\n1. Saw it.\n2. File the saddle as in [](step:handle).\n",
    );
    files.insert(
        "steps/frame/40-angle.md",
        "---\nstep: angle\ntitle: Bend the angle\nsection: frame\nparts: [GT-110]\nbends:\n\
         \x20 - { part: GT-110, legs: [2, 1], angle: 90, radius: 1/8 }\ntools: [clamps]\nhours: 0.25\n---\n\n\
         | Side | Length |\n|---|---|\n| long | 2 in |\n| short | 1 in |\n\nBend it over the edge.[^1]\n\n[^1]: Wood is best.\n",
    );
    files.insert(
        "steps/running-gear/30-brake.md",
        "---\nstep: brake\ntitle: Fit the brake\nsection: running-gear\nonly: brake\nafter: [wheels]\nparts: [GT-109]\nhours: 0.25\n---\n\n1. Push it on.\n",
    );
    files.insert("pages/safety.md", "---\npage: safety\n---\n\nWear gloves.\n");
    files
}

/// The same, released, with a kit of each configuration.
fn released() -> Memory {
    let mut files = richer();
    release(&mut files, "2026-01-05", "First issue");
    files.insert("kits.csv", "serial,configuration,release\n1,PLAIN,A\n2,TALL,A\n3,PLAIN+brake,A\n");
    files
}

/// The pages of the steps as the program writes them, by the id of the step, less the numbers that follow from the order.
fn pages(state: &State, configuration: &str) -> Option<BTreeMap<String, String>> {
    let resolved = state.resolved(configuration);
    let document = document::compose(&state.manual, &resolved, Purpose::Manual);
    let bench = document::bench(&state.manual, &resolved);
    let templates = Templates::new(&BTreeMap::new()).expect("those of the program");
    let out = Collected::new();
    // A link that leads nowhere, and what else no page is written with.
    html::write(&document, &bench, &state.manual.figures, &templates, &out, "").ok()?;
    let files = out.into_files();
    let mut pages = BTreeMap::new();
    for bytes in files.iter().filter(|(path, _)| path.ends_with(".html")).map(|(_, bytes)| bytes) {
        let text = String::from_utf8_lossy(bytes);
        let Some(id) = between(&text, "data-step=\"", "\"") else {
            continue;
        };
        let mut page = without_numbers(between(&text, "<article>", "</article>").expect("every page has one"));
        // A picture is what its file holds.
        for (path, bytes) in files.iter().filter(|(path, _)| !path.ends_with(".html")) {
            page = page.replace(&format!("\"{path}\""), &hex_digest(bytes));
        }
        pages.insert(id.replace("&#58;", ":"), page);
    }
    assert_eq!(pages.len(), resolved.steps.len(), "a page for each step");
    Some(pages)
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> Option<&'a str> {
    let rest = text.split_once(from)?.1;
    Some(rest.split_once(to)?.0)
}

/// Numbers of steps, sections and figures taken out, each where the templates write one: in an element of its own, as all
/// of a link, behind the word step or Figure, before the title of the section.
fn without_numbers(page: &str) -> String {
    let mut out = String::new();
    let mut rest = page;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, number) = rest.split_at(at);
        out.push_str(before);
        let end = number.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(number.len());
        let (number, after) = number.split_at(end);
        let is_step = number.split('.').count() == 2;
        let counted = out.ends_with("<span class=\"number\">")
            || out.ends_with("<p class=\"step-section\">")
            || is_step && (out.ends_with("Figure ") || out.ends_with("step ") && after.starts_with(' '))
            || is_step && after.starts_with("</a>") && out.ends_with("\">");
        if !counted {
            out.push_str(number);
        }
        rest = after;
    }
    out + rest
}

/// Edits after which a link leads nowhere, so that no page is written until the error is mended.
const UNWRITTEN: [&str; 1] = ["hardware less"];

type Steps = BTreeSet<String>;

/// The steps of a configuration that get the letter of the release that would be made now, whatever is found.
fn lettered(files: &Memory) -> BTreeMap<&'static str, Steps> {
    let checked = compile::check(files, &|_: Stage| ()).expect("memory can be listed");
    let Checked { sources, .. } = &checked;
    let checked = Checked { findings: Diagnostics::collect(Vec::new(), sources), ..checked };
    let date = Date::parse("2026-02-01").expect("a date");
    let frozen = match compile::freeze(&checked, files, date, Class::Information, "Second") {
        Ok(frozen) => frozen,
        Err(refused) if refused.headline.starts_with("nothing has changed") => {
            return BTreeMap::new();
        }
        Err(refused) => panic!("{refused:?}"),
    };
    let new = |name| {
        let letters = frozen.release.letters_of(name).expect("it is declared");
        letters.into_iter().filter(|(_, l)| l.as_str() == "B").map(|(id, _)| id.to_string()).collect()
    };
    CONFIGURATIONS.into_iter().map(|name| (name, new(name))).collect()
}

fn listed(impact: &Impact, configuration: &str) -> Steps {
    let documents = impact.documents.iter().filter(|d| d.configuration == configuration);
    documents.flat_map(|d| d.steps_of("manual")).map(ToString::to_string).collect()
}

#[test]
fn letters_equal_differences() {
    let files = released();
    let before = State::of(&files);
    let old: Vec<_> = CONFIGURATIONS.iter().map(|name| pages(&before, name).expect("they are sound")).collect();
    let cases = cases();
    let kinds: BTreeSet<&str> = cases.iter().map(|c| c.kind.as_str()).collect();
    assert!(kinds.len() >= 15 && cases.len() >= 40, "{} of {} kinds", cases.len(), kinds.len());
    let told: Vec<(usize, Vec<String>)> = cases
        .par_iter()
        .map(|case| {
            let mut after = files.clone();
            (case.work)(&mut after);
            held(case, &before, &old, &after)
        })
        .collect();
    let faults: Vec<String> = told.iter().flat_map(|(_, faults)| faults.clone()).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    // Most of the edits change pages, and some none: else little was held against little.
    let changing = told.iter().filter(|(n, _)| *n > 0).count();
    println!("{} edits of {} kinds, of which {changing} change the page of a step", cases.len(), kinds.len());
    assert!(changing * 2 > cases.len() && changing + 15 < cases.len(), "{changing} of {}", cases.len());
}

/// How many pages of steps differ by what the emitter writes, and what is told otherwise.
fn held(case: &Case, before: &State, old: &[BTreeMap<String, String>], files: &Memory) -> (usize, Vec<String>) {
    let (state, mut faults, mut all, mut written) = (State::of(files), Vec::new(), 0, 0);
    let letters = lettered(files);
    let (impact, _) = compile::impacts(files).unwrap_or_else(|r| panic!("{}: {r:?}", case.kind));
    let mut touched = BTreeSet::new();
    for (name, old) in CONFIGURATIONS.into_iter().zip(old) {
        let Some(new) = pages(&state, name) else { continue };
        written += 1;
        let differs: Steps =
            new.iter().filter(|(id, page)| old.get(*id) != Some(*page)).map(|(id, _)| id.clone()).collect();
        let gone = old.keys().filter(|id| !new.contains_key(*id));
        let with_gone: Steps = differs.iter().chain(gone).cloned().collect();
        all += with_gone.len();
        let mut hold = |what: &str, found: &Steps, right: &Steps| {
            if found != right {
                faults.push(format!("{}, {name}: {what} {found:?}, but {right:?} differ", case.kind));
            }
        };
        hold("a letter is given to", letters.get(name).unwrap_or(&Steps::new()), &differs);
        hold("impact lists", &listed(&impact, name), &with_gone);
        let (a, b) = (before.resolved(name), state.resolved(name));
        let bars = Bars::of(&imprint((before, &a)), &imprint((&state, &b)), &b, "A", "B");
        let barred = b.steps.iter().map(|s| &s.step.id.value).filter(|id| bars.marks(id));
        hold("a bar stands on", &barred.map(ToString::to_string).collect(), &differs);
        if !with_gone.is_empty() {
            touched.insert(name);
        }
    }
    // A kit is touched where a document of its configuration comes out otherwise or the shop works otherwise for it, and
    // all of those are named.
    let documents: BTreeSet<&str> = impact.documents.iter().map(|d| d.configuration.as_str()).collect();
    let kits: BTreeSet<&str> = impact.kits.iter().map(|k| k.configuration.as_str()).collect();
    let work = impact.work.iter().map(|w| w.configuration.as_str());
    let concerned: BTreeSet<&str> = documents.iter().copied().chain(work).collect();
    if !kits.is_subset(&concerned) || !touched.is_subset(&documents) {
        faults.push(format!("{}: kits of {kits:?}, documents of {documents:?}, pages of {touched:?}", case.kind));
    }
    // Few edits leave a manual that no pages are written of; the comparison must not live on them.
    if written == 0 && !UNWRITTEN.contains(&case.kind.as_str()) {
        faults.push(format!("{}: no pages are written", case.kind));
    }
    (all, faults)
}

/// What `impact` names is a file or a folder that the program makes, and every one of them is named where all change.
#[test]
fn impact_names_the_documents_that_are_made() {
    let mut files = released();
    let checked = compile::check(&files, &|_: Stage| ()).expect("listed");
    let out = Collected::new();
    compile::documents(&checked, &files, &["TALL".to_owned()], PrintScale::TRUE, &out, &|_: Stage| ())
        .expect("memory takes all");
    let made: BTreeSet<String> = out
        .into_files()
        .keys()
        .filter_map(|path| path.split('/').nth(1))
        .filter(|name| *name != "manual.pdf")
        .map(str::to_owned)
        .collect();
    edit(&mut files, "manual.yaml", "units: inch-fraction", "units: both");
    edit_first(&mut files, "parts.csv", "A1,1", "A9,2");
    edit_first(&mut files, "stock.csv", "PLATE-1/8,Steel,sheet,,1/8", "PLATE-1/8,Steel,sheet,,5/32");
    let (impact, _) = compile::impacts(&files).unwrap_or_else(|r| panic!("{r:?}"));
    let tall = impact.documents.iter().find(|d| d.configuration == "TALL").expect("it changes");
    let named: BTreeSet<String> = tall.made.iter().map(|d| d.name.clone()).collect();
    assert_eq!(named, made);
    let ids: Vec<&StepId> = tall.made.iter().flat_map(|d| &d.steps).collect();
    assert!(ids.iter().all(|id| { checked.resolved.iter().any(|r| r.name == "TALL" && r.step(id).is_some()) }));
}
