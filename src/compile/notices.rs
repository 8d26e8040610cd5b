//! Notices to the builders of kits in the field: which kits, which steps, what to send.

use std::collections::BTreeMap;

use super::compared::{State, released_state, working_state};
use super::documents::WriteFailure;
use super::pictures::PicturesRead;
use super::reports::{Press, put};
use crate::change::{
    BuiltText, Change, Class, Concern, History, KitNotice, Letter, Notice, NoticeStep, Sent, StepFate, Subject,
    compare, complete, deviations,
};
use crate::diag::Diagnostics;
use crate::diag::Refusal;
use crate::document::{Bars, CsvSheet, Imprint, LeafChange, notice_document};
use crate::emit::csv::sheet_csv;
use crate::model::{Kit, Manual, Step, hardware_now, part_now};
use crate::resolve::{Configuration, Resolved, ResolvedStep, parse_configuration, resolve};
use crate::source::{Files, Output};
use crate::units::{Designation, PartNumber, Quantity};

/// What the maker says of a lot or a part; a release says it itself.
#[derive(Clone, Debug)]
pub struct NoticeWords {
    pub class: Class,
    pub summary: String,
    /// For who has built it in already.
    pub built: Option<String>,
}

/// A notice with what its documents are made of.
pub struct Notices {
    pub notice: Notice,
    states: BTreeMap<Option<String>, State>,
    /// For each kit that it concerns: the state its pages are of, its configuration there, the bars.
    pages: BTreeMap<u32, (Option<String>, Resolved, Bars)>,
}

/// States read when they are asked for.
struct States<'a> {
    files: &'a dyn Files,
    history: &'a History,
    read: BTreeMap<Option<String>, State>,
}

impl States<'_> {
    fn get(&mut self, letter: Option<&str>) -> Result<&State, Refusal> {
        let key = letter.map(str::to_owned);
        if !self.read.contains_key(&key) {
            let mut state = match letter {
                Some(letter) => released_state(self.files, self.history, letter, PicturesRead::All)?,
                None => working_state(self.files, PicturesRead::All)?,
            };
            if let Some(working) = self.read.get(&None) {
                complete(&mut state.manual, &working.manual, &working.manual.deviations);
            }
            self.read.insert(key.clone(), state);
        }
        Ok(&self.read[&key])
    }
}

/// The releases, all of them whole: with one left out a notice would tell another change.
fn whole_history(files: &dyn Files) -> Result<History, Refusal> {
    let history = History::heads(files)?;
    if let Some(fault) = history.faults().next() {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    Ok(history)
}

fn kit_configuration(manual: &Manual, kit: &Kit) -> Option<Configuration> {
    let configuration = parse_configuration(&manual.settings, &kit.configuration.value).ok()?;
    Some(Configuration { serial: Some(kit.serial.value), ..configuration })
}

/// A kit with what is otherwise in it, for its builder to read.
fn shown(manual: &Manual, plain: &Resolved, today: &Manual, kit: &Kit) -> Resolved {
    let rows = deviations(today, kit);
    if rows.is_empty() {
        return plain.clone();
    }
    resolve(manual, &Configuration { deviations: rows, ..plain.configuration.clone() })
}

/// The notice of a release to every kit of the register.
///
/// # Errors
/// There is no such release, or none before it; it is mandatory and a step says nothing to who has done it already.
pub fn release_notice(files: &dyn Files, letter: &str) -> Result<Notices, Refusal> {
    let history = whole_history(files)?;
    let release = history.get(letter).cloned().ok_or_else(|| {
        let letters: Vec<_> = history.releases().map(|r| r.letter.to_string()).collect();
        Refusal::new(format!("there is no release {letter}"), format!("the releases are {}", letters.join(", ")))
    })?;
    let before = history.releases().take_while(|r| r.letter < release.letter).last().map(|r| r.letter.to_string());
    let before = before.ok_or_else(|| {
        Refusal::new(
            format!("release {letter} is the first one"),
            "a notice tells what a later release changes in kits that were shipped before",
        )
    })?;
    let mut states = States { files, history: &history, read: BTreeMap::new() };
    let kits = states.get(None)?.manual.kits.clone();
    states.get(Some(&before))?;
    states.get(Some(letter))?;
    let (old, new, working) =
        (&states.read[&Some(before.clone())], &states.read[&Some(letter.to_owned())], &states.read[&None]);
    let mut pages = BTreeMap::new();
    let mut silent: Vec<String> = Vec::new();
    let mut list = Vec::new();
    for kit in &kits {
        let mut notice = blank(kit);
        let shipped = kit.release.as_ref().map(|r| r.value.as_str());
        let later = shipped.and_then(Letter::parse).is_some_and(|l| l >= release.letter);
        let sides = kit_configuration(&old.manual, kit).zip(kit_configuration(&new.manual, kit));
        notice.concern = match (later, sides) {
            (true, _) => Concern::No(format!("it was shipped with release {}", shipped.unwrap_or_default())),
            (false, None) => Concern::Unknown(format!(
                "{} is not a configuration of releases {before} and {letter}",
                notice.configuration
            )),
            (false, Some((a, b))) => {
                let (a, b) = (resolve(&old.manual, &a), resolve(&new.manual, &b));
                let change = compare(&old.side(&a), &new.side(&b));
                let printed = (old.pictures.manual(&old.manual, &a), new.pictures.manual(&new.manual, &b));
                let leaves = printed.0.compare(&printed.1);
                notice.steps = steps(&leaves, &change, &a, &b, letter);
                notice.pages.clone_from(&leaves.pages);
                if notice.steps.is_empty()
                    && notice.pages.is_empty()
                    && change.parts.is_empty()
                    && change.hardware.is_empty()
                {
                    Concern::No("nothing changes in its configuration".to_owned())
                } else {
                    notice.send = to_send(&change, &working.manual, &b, letter, &before);
                    let bars = Bars::of(&printed.0, &printed.1, &b, &before, letter);
                    for id in silent_of(&leaves, &bars, &b, letter) {
                        if !silent.contains(&id) {
                            silent.push(id);
                        }
                    }
                    let shown = shown(&new.manual, &b, &working.manual, kit);
                    pages.insert(notice.serial, (Some(letter.to_owned()), shown, bars));
                    if kit.answered.iter().any(|x| *x == release.letter.as_str()) {
                        Concern::Answered
                    } else if shipped.is_none() {
                        Concern::Unknown("the register does not say with which release it was shipped".to_owned())
                    } else {
                        Concern::Yes
                    }
                }
            }
        };
        list.push(notice);
    }
    if release.class == Class::Mandatory && !silent.is_empty() {
        return Err(without_text(letter, &silent));
    }
    let notice = Notice {
        subject: Subject::Release(release.letter.to_string()),
        class: release.class,
        date: Some(release.date.to_string()),
        summary: release.summary.clone(),
        kits: list,
    };
    Ok(Notices { notice, states: states.read, pages })
}

/// A mandatory change says nothing to who has built it already.
pub(super) fn without_text(letter: &str, steps: &[String]) -> Refusal {
    Refusal::new(
        format!(
            "release {letter} is mandatory and does not say what to do where these steps are done already: {}",
            steps.join(", ")
        ),
        format!("add `if-already-built` with `release: {letter}` and `inspect`, `undo` or `redo` to each of them"),
    )
}

/// The changed steps of a mandatory release to be made that say nothing to who has done them already.
pub(super) fn silent_steps(
    old: &Imprint,
    new: &Imprint,
    resolved: &Resolved,
    letter: &str,
    before: &str,
) -> Vec<String> {
    silent_of(&old.compare(new), &Bars::of(old, new, resolved, before, letter), resolved, letter)
}

/// Where only typing errors were mended, which leaves no bar, there is nothing to say.
fn silent_of(leaves: &LeafChange, bars: &Bars, resolved: &Resolved, letter: &str) -> Vec<String> {
    let says = |step: &Step| step.already_built.iter().any(|text| text.release.value == letter);
    let steps = resolved.steps.iter().map(|s| &s.step);
    let silent = steps.filter(|s| leaves.touches(&s.id.value) && bars.marks(&s.id.value) && !says(s));
    silent.map(|s| s.id.value.to_string()).collect()
}

fn blank(kit: &Kit) -> KitNotice {
    KitNotice {
        serial: kit.serial.value,
        configuration: kit.configuration.value.clone(),
        release: kit.release.as_ref().map(|r| r.value.clone()),
        status: kit.status.as_ref().map(|s| s.value.clone()),
        concern: Concern::Yes,
        steps: Vec::new(),
        pages: Vec::new(),
        send: Vec::new(),
    }
}

/// Which steps are new, changed or dropped is told from their pages; why, from the sources.
fn steps(leaves: &LeafChange, change: &Change, before: &Resolved, after: &Resolved, letter: &str) -> Vec<NoticeStep> {
    let built = |step: &Step| -> Vec<BuiltText> {
        let texts = step.already_built.iter().filter(|a| a.release.value == letter);
        texts.map(|a| BuiltText { inspect: a.inspect.clone(), undo: a.undo.clone(), redo: a.redo.clone() }).collect()
    };
    let mut list = Vec::new();
    for s in &after.steps {
        let id = &s.step.id.value;
        let (fate, items) = match (leaves.changed.contains(id), leaves.added.contains(id)) {
            (true, _) => (StepFate::Changed, change.reasons(s)),
            (_, true) => (StepFate::New, Vec::new()),
            _ => continue,
        };
        list.push(noted(s, fate, items, built(&s.step)));
    }
    let gone = before.steps.iter().filter(|s| leaves.removed.contains(&s.step.id.value));
    list.extend(gone.map(|s| noted(s, StepFate::Dropped, Vec::new(), Vec::new())));
    list
}

fn noted(s: &ResolvedStep, fate: StepFate, items: Vec<crate::change::ItemChange>, built: Vec<BuiltText>) -> NoticeStep {
    NoticeStep {
        id: s.step.id.value.clone(),
        number: s.number.to_string(),
        title: s.step.title.value.clone(),
        fate,
        items,
        built,
    }
}

/// Columns of the parts list that make another thing of a part.
const OTHER_PART: [&str; 6] = ["stock", "material", "cut length", "blank length", "as supplied", "hand"];

fn to_send(change: &Change, today: &Manual, after: &Resolved, letter: &str, before: &str) -> Vec<Sent> {
    let mut list = Vec::new();
    for (q, is_part) in change.parts.iter().map(|q| (q, true)).chain(change.hardware.iter().map(|q| (q, false))) {
        let (Some(after), before) = (q.after, q.before) else { continue };
        let had = before.filter(|b| b.unit == after.unit).map_or(crate::units::Rational::from_integer(0), |b| b.value);
        if after.value > had {
            let quantity = Quantity { value: after.value - had, unit: after.unit };
            list.push(sent(today, &q.name, is_part, quantity, "added"));
        }
    }
    for row in &change.part_rows {
        let number = PartNumber::new(&row.name);
        let fits = today
            .parts
            .get(&number)
            .and_then(|p| p.interchangeable.as_ref())
            .is_some_and(|i| i.value.since == before)
            || row.cells.iter().any(|(c, _, now)| c == "interchangeable" && now.ends_with(&format!("since {before}")));
        let other = row.cells.iter().any(|(c, ..)| OTHER_PART.contains(&c.as_str()));
        if let (true, false, Some(listed)) = (other, fits, after.listed.get(&number)) {
            let already = change.parts.iter().any(|q| q.name == row.name);
            if !already {
                list.push(sent(today, &row.name, true, Quantity::each(listed.count), "it is another part now"));
            }
        }
    }
    for s in &after.steps {
        for text in s.step.already_built.iter().filter(|a| a.release.value == letter) {
            for (item, quantity) in &text.send {
                let is_part = today.is_part(&item.value);
                let why = format!("for those who have done step {}", s.number);
                list.push(sent(today, &item.value, is_part, *quantity, &why));
            }
        }
    }
    list
}

/// What is supplied today in the place of a thing.
fn sent(today: &Manual, name: &str, is_part: bool, quantity: Quantity, why: &str) -> Sent {
    let (number, designation) = (PartNumber::new(name), Designation::new(name));
    let now = if is_part {
        part_now(today, &number).map(|n| n.as_str())
    } else {
        hardware_now(today, &designation).map(|d| d.as_str())
    };
    let item = now.unwrap_or(name);
    let part = today.parts.get(&PartNumber::new(item)).filter(|_| is_part);
    let hardware = today.hardware.get(&Designation::new(item)).filter(|_| !is_part);
    let title = part.map(|p| &p.name).or(hardware.map(|h| &h.name));
    let bin = part.map(|p| &p.bin).or(hardware.map(|h| &h.bin));
    let why = if now.is_some() { format!("{why}; in place of {name}") } else { why.to_owned() };
    Sent {
        item: item.to_owned(),
        title: title.cloned().unwrap_or_default(),
        quantity,
        bin: bin.cloned().unwrap_or_default(),
        why,
    }
}

/// The notice about a lot or a part to every kit of the register.
///
/// # Errors
/// No kit has it; it is mandatory and nothing is said to who has built it in already.
pub fn item_notice(files: &dyn Files, subject: Subject, said: &NoticeWords) -> Result<Notices, Refusal> {
    if said.class == Class::Mandatory && said.built.is_none() {
        return Err(Refusal::new(
            "the notice is mandatory and does not say what to do where it is built in already",
            "say it with --built, for example --built \"Take the bolts out and put the new ones in\"",
        ));
    }
    let history = whole_history(files)?;
    let mut states = States { files, history: &history, read: BTreeMap::new() };
    let kits = states.get(None)?.manual.kits.clone();
    let mut pages = BTreeMap::new();
    let mut list = Vec::new();
    for kit in &kits {
        let letter = kit.release.as_ref().map(|r| r.value.clone());
        states.get(letter.as_deref())?;
        let (state, today) = (&states.read[&letter], &states.read[&None].manual);
        let mut notice = blank(kit);
        let Some(configuration) = kit_configuration(&state.manual, kit) else {
            notice.concern =
                Concern::Unknown(format!("{} is not a configuration of its release", notice.configuration));
            list.push(notice);
            continue;
        };
        let resolved = resolve(&state.manual, &configuration);
        let items = built_in(&subject, today, kit.serial.value, &resolved);
        for (item, place, quantity) in &items {
            let is_part = state.manual.is_part(item) || today.is_part(item);
            for s in resolved.steps.iter().filter(|s| s.handles(place)) {
                if !notice.steps.iter().any(|n| n.id == s.step.id.value) {
                    let text = BuiltText { redo: said.built.clone(), ..BuiltText::default() };
                    notice.steps.push(noted(
                        s,
                        StepFate::Handles,
                        Vec::new(),
                        said.built.iter().map(|_| text.clone()).collect(),
                    ));
                }
            }
            notice.send.push(sent(today, item, is_part, *quantity, &subject.name()));
        }
        notice.concern = if items.is_empty() {
            Concern::No("it does not have it".to_owned())
        } else if kit.answered.contains(&subject.name()) {
            Concern::Answered
        } else {
            Concern::Yes
        };
        if !items.is_empty() {
            pages.insert(notice.serial, (letter, shown(&state.manual, &resolved, today, kit), Bars::default()));
        }
        list.push(notice);
    }
    if pages.is_empty() {
        return Err(Refusal::new(
            format!("no kit of the register has {}", subject.name()),
            "look it up in shipped.csv, parts.csv and hardware.csv",
        ));
    }
    let notice = Notice { subject, class: said.class, date: None, summary: said.summary.clone(), kits: list };
    Ok(Notices { notice, states: states.read, pages })
}

/// What of a lot or a part is in a kit: the thing itself, the thing that the steps name in its place, how many.
fn built_in(subject: &Subject, today: &Manual, serial: u32, resolved: &Resolved) -> Vec<(String, String, Quantity)> {
    let total = |item: &str| resolved.total(item);
    let rows = || today.deviations_of(serial);
    let mut found = Vec::new();
    match subject {
        Subject::Release(_) => {}
        Subject::Lot(lot) => {
            for d in rows().filter(|d| d.lot.as_ref().is_some_and(|l| l.value == *lot)) {
                let count = d.quantity.as_ref().map(|q| Quantity::each(q.value)).or_else(|| total(&d.item.value));
                found.push((d.given().to_owned(), d.item.value.clone(), count.unwrap_or(Quantity::each(1))));
            }
        }
        Subject::Part(name) => {
            let mut own = total(name);
            for d in rows().filter(|d| d.with.is_some()) {
                let count = d.quantity.as_ref().map(|q| Quantity::each(q.value)).or_else(|| total(&d.item.value));
                let count = count.unwrap_or(Quantity::each(1));
                if d.item.value == *name {
                    own = own.filter(|q| q.value > count.value).map(|q| Quantity { value: q.value - count.value, ..q });
                } else if d.with.as_ref().is_some_and(|w| w.value == *name) {
                    found.push((name.clone(), d.item.value.clone(), count));
                }
            }
            found.extend(own.map(|q| (name.clone(), name.clone(), q)));
        }
    }
    found
}

impl Notices {
    /// Writes the list for the maker and a document for each kit that it concerns, below `folder`/. Returns what was found
    /// on the way.
    ///
    /// # Errors
    /// The output refuses a file.
    pub fn write(&self, files: &dyn Files, folder: &str, out: &dyn Output) -> Result<Diagnostics, WriteFailure> {
        put(out, format!("{folder}/kits.csv"), &sheet_csv(&kits_sheet(&self.notice)))?;
        put(out, format!("{folder}/to-send.csv"), &sheet_csv(&send_sheet(&self.notice)))?;
        let mut found = Vec::new();
        for kit in self.notice.kits.iter().filter(|k| matches!(k.concern, Concern::Yes | Concern::Unknown(_))) {
            let Some((letter, resolved, bars)) = self.pages.get(&kit.serial) else { continue };
            let state = &self.states[letter];
            let mut press = match Press::new(state, resolved, files) {
                Ok(press) => press,
                Err(more) => return Ok(Diagnostics::collect(more, &state.sources)),
            };
            let document = notice_document(&state.manual, resolved, &self.notice, kit, bars.clone());
            press.paper(&document, &format!("{folder}/{}", resolved.name), out)?;
            found.extend(press.found);
        }
        Ok(Diagnostics::collect(found, &self.states[&None].sources))
    }
}

const KITS: &[&str] = &[
    "serial",
    "configuration",
    "shipped with",
    "status",
    "notice",
    "class",
    "concerns it",
    "why not",
    "steps",
    "pages",
    "to send",
];

/// A row for each kit of the register.
pub fn kits_sheet(notice: &Notice) -> CsvSheet {
    let rows = notice.kits.iter().map(|k| {
        let steps: Vec<_> = k.steps.iter().map(|s| format!("{} {} ({})", s.number, s.id, s.fate.word())).collect();
        let send: Vec<_> = k.send.iter().map(|s| format!("{} x {}", s.quantity, s.item)).collect();
        vec![
            k.serial.to_string(),
            k.configuration.clone(),
            k.release.clone().unwrap_or_default(),
            k.status.clone().unwrap_or_default(),
            notice.subject.name(),
            notice.class.word().to_owned(),
            k.concern.word().to_owned(),
            k.concern.reason().to_owned(),
            steps.join("; "),
            k.pages.join("; "),
            send.join("; "),
        ]
    });
    CsvSheet { columns: KITS, rows: rows.collect() }
}

const SEND: &[&str] = &["serial", "item", "what it is", "quantity", "bin", "why"];

/// A row for each thing to send to each kit that has not answered.
fn send_sheet(notice: &Notice) -> CsvSheet {
    let open = notice.kits.iter().filter(|k| matches!(k.concern, Concern::Yes | Concern::Unknown(_)));
    let rows = open.flat_map(|k| {
        k.send.iter().map(|s| {
            vec![
                k.serial.to_string(),
                s.item.clone(),
                s.title.clone(),
                s.quantity.to_string(),
                s.bin.clone(),
                s.why.clone(),
            ]
        })
    });
    CsvSheet { columns: SEND, rows: rows.collect() }
}
