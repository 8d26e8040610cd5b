//! Two configurations found by name and compared: of a release, of the working copy, of a kit.

use super::for_kit::whole;
use super::imprints::{PagesPrinted, PictureDigests};
use super::pictures::{PicturesRead, WithoutPhotographs, is_kept};
use crate::change::{
    Change, History, Release, Side, SourceLine, at_hand, compare, complete, deviations, frozen_digest, in_words,
    normalise, restore_where,
};
use crate::diag::{Refusal, did_you_mean, nearest};
use crate::model::{self, Deviation, Manual};
use crate::resolve::{Configuration, Resolved, declared, kit_serial, meant_configuration, resolve};
use crate::source::{Files, SourceMap};

/// Sources of one state: a release, or the working copy.
pub(super) struct State {
    /// The letter; none for the working copy.
    letter: Option<String>,
    pub manual: Manual,
    pub sources: SourceMap,
    pub lines: Vec<SourceLine>,
    /// What is in its pictures.
    pub pictures: PictureDigests,
    /// What this program makes otherwise of a release than the one that made it, in words.
    pub otherwise: Vec<String>,
}

impl State {
    /// The letter; `working` for the working copy.
    pub fn letter(&self) -> &str {
        self.letter.as_deref().unwrap_or(WORKING)
    }

    /// What is printed on the pages of a configuration of it.
    pub fn pages(&self, resolved: &Resolved) -> PagesPrinted {
        self.pictures.pages(&self.manual, resolved)
    }

    pub fn side<'a>(&'a self, resolved: &'a Resolved) -> Side<'a> {
        Side { name: self.letter(), manual: &self.manual, sources: &self.sources, resolved, lines: &self.lines }
    }
}

/// The sources as they are.
pub(super) fn working_state(files: &dyn Files, pictures: PicturesRead) -> Result<State, Refusal> {
    let lines = normalise(files)?;
    match pictures {
        PicturesRead::All => state(files, None, lines),
        PicturesRead::Drawings => state(&WithoutPhotographs(files), None, lines),
    }
}

/// What was asked for: `B/ICE`, `ICE`, `working/ICE`, `kit-0147`, `B/kit-0147`, `working/kit-0147`.
struct Asked<'a> {
    /// The state where it is given.
    state: Option<&'a str>,
    /// A configuration's name, or a kit's serial.
    what: Result<&'a str, u32>,
}

const WORKING: &str = "working";

impl<'a> Asked<'a> {
    fn parse(text: &'a str) -> Result<Self, Refusal> {
        let (state, what) = match text.split_once('/') {
            Some((state, what)) => (Some(state), what),
            None => (None, text),
        };
        let what = match kit_serial(what) {
            None => Ok(what),
            Some(serial) => Err(serial.parse().map_err(|_| {
                Refusal::new(format!("`{serial}` is no serial number"), "write the kit's number, for example kit-0147")
            })?),
        };
        Ok(Self { state, what })
    }

    /// The name to show: that of the configuration with all its options, where less of it was written.
    fn shown(&self, found: &Resolved) -> String {
        let name = match self.what {
            Ok(_) => found.name.clone(),
            Err(serial) => format!("kit-{serial:04}"),
        };
        match self.state {
            Some(state) => format!("{state}/{name}"),
            None => name,
        }
    }
}

/// The change between the two configurations that are named.
///
/// # Errors
/// There is no such release, configuration or kit; a release can't be read.
pub fn compared(files: &dyn Files, from: &str, to: &str) -> Result<Change, Refusal> {
    Ok(Compared::find_drawn(files, from, to)?.change())
}

/// Two configurations that were found by their names.
pub struct Compared {
    states: Vec<State>,
    /// The name to show, the place in `states`, the configuration.
    sides: [(String, usize, Resolved); 2],
    /// What is otherwise in the kits among them, in words.
    shipped: Vec<String>,
}

impl Compared {
    /// # Errors
    /// There is no such release, configuration or kit; a release can't be read.
    pub fn find(files: &dyn Files, from: &str, to: &str) -> Result<Self, Refusal> {
        Self::find_with(files, from, to, PicturesRead::All)
    }

    /// Without photographs: a comparison goes by their digests.
    ///
    /// # Errors
    /// As [`Self::find`].
    pub fn find_drawn(files: &dyn Files, from: &str, to: &str) -> Result<Self, Refusal> {
        Self::find_with(files, from, to, PicturesRead::Drawings)
    }

    fn find_with(files: &dyn Files, from: &str, to: &str, pictures: PicturesRead) -> Result<Self, Refusal> {
        let asked = [Asked::parse(from)?, Asked::parse(to)?];
        // The register is that of the working copy, whatever is compared.
        let needs_working = asked.iter().any(|a| a.what.is_err() || a.state.is_none_or(|s| s == WORKING));
        let mut states: Vec<State> = if needs_working { vec![working_state(files, pictures)?] } else { Vec::new() };
        let mut wanted = Vec::new();
        for a in &asked {
            let kit = a.what.err().map(|serial| kit(&states[0].manual, serial)).transpose()?;
            let letter = match (a.state, &kit) {
                (Some(WORKING), _) | (None, None) => None,
                (Some(letter), _) => Some(letter.to_owned()),
                (None, Some(kit)) => Some(kit.letter.clone().ok_or_else(|| {
                    Refusal::new(
                        format!("the register does not say which release kit {} was shipped with", kit.serial),
                        format!("write the letter into kits.csv, or compare working/kit-{:04}", kit.serial),
                    )
                })?),
            };
            if let Some(letter) = &letter
                && !states.iter().any(|s| s.letter.as_ref() == Some(letter))
            {
                let mut history = History::heads_where(files, &|l| l.as_str() == letter)?;
                if history.get(letter).is_none() && history.fault(letter).is_none() {
                    // All of them, to say which there are.
                    history = History::heads(files)?;
                }
                states.push(released_state(files, &history, letter, pictures)?);
            }
            wanted.push((letter, kit));
        }
        // A kit under a release or the sources of one's choice is not as it was shipped.
        let rows: Vec<Vec<Deviation>> = wanted
            .iter()
            .zip(&asked)
            .map(|((_, kit), asked)| match (kit, asked.state) {
                (Some(kit), None) => kit.deviations.clone(),
                _ => Vec::new(),
            })
            .collect();
        let place = |states: &[State], i: usize| {
            let letter: &Option<String> = &wanted[i].0;
            states.iter().position(|s| s.letter == *letter).expect("every state that is asked for was read")
        };
        if rows.iter().any(|rows| !rows.is_empty()) {
            let today = states[0].manual.clone();
            for (i, rows) in rows.iter().enumerate() {
                let at = place(&states, i);
                complete(&mut states[at].manual, &today, rows);
            }
        }
        let side = |i: usize| -> Result<(usize, Resolved, Vec<String>), Refusal> {
            let (letter, kit) = &wanted[i];
            let at = place(&states, i);
            let name = match (&asked[i].what, kit) {
                (Ok(name), _) => *name,
                (Err(_), Some(kit)) => kit.configuration.as_str(),
                (Err(_), None) => "",
            };
            let configuration = configuration(&states[at].manual, name, letter.as_deref())?;
            let serial = kit.as_ref().map(|k| k.serial);
            let plain = Configuration { serial, ..configuration };
            let manual = &states[at].manual;
            let found = resolve(manual, &plain);
            if rows[i].is_empty() {
                return Ok((at, found, Vec::new()));
            }
            let said = in_words(&rows[i], &found).into_iter();
            let said = said.map(|words| format!("kit {}: {words}", serial.unwrap_or_default())).collect();
            let mut found = resolve(manual, &Configuration { deviations: rows[i].clone(), ..plain });
            at_hand(manual, &mut found);
            Ok((at, found, said))
        };
        let (a, b) = (side(0)?, side(1)?);
        let names = (asked[0].shown(&a.1), asked[1].shown(&b.1));
        let shipped = a.2.into_iter().chain(b.2).collect();
        Ok(Self { states, sides: [(names.0, a.0, a.1), (names.1, b.0, b.1)], shipped })
    }

    /// The state of a side: 0 is what is compared from, 1 what is compared to.
    pub(super) fn state(&self, side: usize) -> &State {
        &self.states[self.sides[side].1]
    }

    pub(super) fn resolved(&self, side: usize) -> &Resolved {
        &self.sides[side].2
    }

    pub(super) fn side(&self, side: usize) -> Side<'_> {
        let (name, _, resolved) = &self.sides[side];
        Side { name, ..self.state(side).side(resolved) }
    }

    /// What this program makes otherwise of the releases among them than the ones that made them, in words.
    pub fn otherwise(&self) -> impl Iterator<Item = &String> {
        self.states.iter().flat_map(|state| &state.otherwise)
    }

    /// What is otherwise in the kits among them, in words.
    pub(super) fn shipped(&self) -> &[String] {
        &self.shipped
    }

    /// What the second has that the first has not, and the other way round.
    pub fn change(&self) -> Change {
        Change { shipped: self.shipped.clone(), ..compare(&self.side(0), &self.side(1)) }
    }
}

/// A kit as the register has it.
struct KitRow {
    serial: u32,
    configuration: String,
    letter: Option<String>,
    /// What is otherwise in it.
    deviations: Vec<Deviation>,
}

fn kit(manual: &Manual, serial: u32) -> Result<KitRow, Refusal> {
    let kit = manual.kits.iter().find(|k| k.serial.value == serial).ok_or_else(|| {
        Refusal::new(format!("there is no kit {serial} in the kit register"), "look up its serial number in kits.csv")
    })?;
    let letter = kit.release.as_ref().map(|r| r.value.clone());
    let deviations = deviations(manual, kit);
    Ok(KitRow { serial, configuration: kit.configuration.value.clone(), letter, deviations })
}

/// The findings of files that are there and can't be read.
const NOT_READ: [&str; 3] = ["unreadable-file", "outside-folder", "file-too-large"];

fn state(files: &dyn Files, letter: Option<&str>, lines: Vec<SourceLine>) -> Result<State, Refusal> {
    let read = model::read(files)?;
    // What can't be read would be missing, and everything that goes with it would be shown as changed.
    if let Some(fault) = read.faults.iter().find(|d| NOT_READ.contains(&d.rule)) {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let what = letter.map_or_else(|| "the working copy".to_owned(), |l| format!("release {l}"));
    let manual = read.manual.ok_or_else(|| {
        Refusal::new(format!("{what} has no readable manual.yaml"), "correct what `kitwright check` lists")
    })?;
    let pictures = PictureDigests::of(&manual, &lines);
    let letter = letter.map(str::to_owned);
    Ok(State { letter, manual, sources: read.sources, lines, pictures, otherwise: Vec::new() })
}

/// The sources of a release.
///
/// # Errors
/// There is no such release; it can't be read.
pub(super) fn released_state(
    files: &dyn Files,
    history: &History,
    letter: &str,
    pictures: PicturesRead,
) -> Result<State, Refusal> {
    if let Some(fault) = history.fault(letter) {
        return Err(Refusal::new(fault.headline.clone(), fault.help.clone()));
    }
    let release = history.get(letter).ok_or_else(|| {
        let letters: Vec<_> = history.releases().map(|r| r.letter.to_string()).collect();
        let help = if letters.is_empty() {
            "nothing was released yet; `kitwright release` makes the first one".to_owned()
        } else {
            format!("the releases are {}; `working/` stands for the sources as they are", letters.join(", "))
        };
        Refusal::new(format!("there is no release {letter}"), help)
    })?;
    let lines = release.lines().map_err(|e| {
        Refusal::new(format!("release {letter} can't be read: {e}"), "take its file back from version control")
    })?;
    let restored = restore_where(&lines, files, &|path| is_kept(path, pictures));
    whole(letter, &restored.missing)?;
    let mut state = state(&restored.files, Some(letter), lines)?;
    state.otherwise = otherwise(release, &state);
    Ok(state)
}

/// What this program makes otherwise of a release than the one that made it, in words.
fn otherwise(release: &Release, state: &State) -> Vec<String> {
    if !release.proves_itself() {
        return Vec::new();
    }
    let settings = &state.manual.settings;
    let differs = declared(settings).into_iter().filter_map(|configuration| {
        let name = configuration.name(settings);
        let resolved = resolve(&state.manual, &configuration);
        let same = release.configurations.get(&name) == Some(&frozen_digest(&state.side(&resolved)));
        (!same).then_some(name)
    });
    let names: Vec<String> = differs.collect();
    if names.is_empty() {
        return Vec::new();
    }
    let (letter, program, this) = (&release.letter, &release.program, env!("CARGO_PKG_VERSION"));
    vec![format!(
        "release {letter} is whole, but this version ({this}) makes other steps or quantities of it than the one that made it ({program}): {}",
        names.join(", ")
    )]
}

fn configuration(manual: &Manual, name: &str, letter: Option<&str>) -> Result<Configuration, Refusal> {
    meant_configuration(&manual.settings, name).map_err(|refusal| {
        let names: Vec<_> = declared(&manual.settings).iter().map(|c| c.name(&manual.settings)).collect();
        let at = letter.map_or_else(String::new, |l| format!(" in release {l}"));
        let help = match nearest(name, names.iter().map(String::as_str)) {
            Some(near) => did_you_mean(near),
            None => format!("name a variant and its options, for example {}", names.join(", ")),
        };
        Refusal::new(format!("`{name}` is no configuration{at}: {refusal}"), help)
    })
}
