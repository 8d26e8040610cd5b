//! The file in which the answers about a variant's places are given, and how a place is told there.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::cli::failure::Failure;
use crate::cli::lasting;
use crate::cli::place::place;
use crate::cli::register::line;
use crate::diag::{Level, Sink};
use crate::resolve::{PlacedCondition, in_words};
use crate::source::SourceMap;
use crate::syntax::parse_csv;
use crate::units::VariantName;

/// A place as the file of answers has it.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    /// `steps/seat/10-sling.md:31`
    pub place: String,
    /// What stands under the condition.
    pub what: String,
    pub only: String,
    /// What it is found by when the lines have moved: file, what, condition, and which of several that are the same.
    pub key: PlaceKey,
}

pub(super) type PlaceKey = (String, String, String, usize);

pub(super) fn entries(sources: &SourceMap, places: &[PlacedCondition]) -> Vec<Entry> {
    let mut same: BTreeMap<(String, String, String), usize> = BTreeMap::new();
    let mut list = Vec::new();
    for placed in places {
        let file = sources.name(placed.span.file).to_owned();
        let (what, only) = (what(sources, placed), in_words(placed.condition));
        let nth = same.entry((file.clone(), what.clone(), only.clone())).or_default();
        *nth += 1;
        let key = (file, what.clone(), only.clone(), *nth);
        list.push(Entry { place: place(sources, placed.span), what, only, key });
    }
    list
}

/// How much of a line is shown.
const SHOWN: usize = 90;

/// What stands under a condition, as the author would know it: the line of an item, the first words of a text.
fn what(sources: &SourceMap, placed: &PlacedCondition) -> String {
    let text = sources.text(placed.span.file);
    let (line, _) = sources.line_column(placed.span);
    let lines: Vec<&str> = text.lines().collect();
    let own = lines.get(line - 1).map_or("", |l| l.trim());
    let shown = match placed.of {
        "step" => placed.step.map_or_else(String::new, |s| format!("the whole step: {}", s.title.value)),
        "page" => "the whole page".to_owned(),
        "text" => {
            lines[line.min(lines.len())..].iter().map(|l| l.trim()).find(|l| !l.is_empty()).unwrap_or("").to_owned()
        }
        // An item over several lines begins with a dash above its condition.
        _ if own.starts_with("only:") => {
            let above = lines[..line - 1].iter().rev().map(|l| l.trim());
            above.take(20).find(|l| l.starts_with("- ")).unwrap_or(own).to_owned()
        }
        _ => own.to_owned(),
    };
    match shown.char_indices().nth(SHOWN) {
        Some((at, _)) => format!("{} ...", &shown[..at]),
        None => shown,
    }
}

/// The file in which the answers are given.
pub(super) struct Worklist {
    path: PathBuf,
    base: String,
}

impl Worklist {
    pub(super) fn new(folder: &Path, name: &VariantName, base: &VariantName) -> Self {
        Self { path: folder.join(format!("variant-{name}.csv")), base: base.to_string() }
    }

    pub(super) fn name(&self) -> String {
        self.path.file_name().unwrap_or_default().to_string_lossy().into_owned()
    }

    /// The answers in it; none where it is not there.
    ///
    /// # Errors
    /// It can't be read, or an answer in it is neither yes nor no.
    pub(super) fn read(&self) -> Result<BTreeMap<PlaceKey, bool>, Failure> {
        let mut given = BTreeMap::new();
        let bytes = match std::fs::read(&self.path) {
            Ok(bytes) => bytes,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(given),
            Err(e) => {
                return Err(Failure::new(
                    format!("{} can't be read: {e}", self.name()),
                    "close it elsewhere, or delete it",
                ));
            }
        };
        let (mut sources, mut faults) = (SourceMap::new(), Sink::new());
        let table = parse_csv(&self.name(), &bytes, &mut sources, &mut faults);
        let Some(table) = table.filter(|_| faults.iter().all(|d| d.level != Level::Error)) else {
            let said = faults.first().map_or("it is empty", |d| d.headline.as_str());
            return Err(Failure::new(format!("{} can't be read: {said}", self.name()), "delete it; it is made again"));
        };
        let mut same: BTreeMap<(String, String, String), usize> = BTreeMap::new();
        for (row, record) in table.rows.iter().enumerate() {
            let cell = |at: usize| record.cells.get(at).map_or("", |c| c.value.trim()).to_owned();
            let (answer, place, only, what) = (cell(0).to_lowercase(), cell(1), cell(2), cell(3));
            let file = place.rsplit_once(':').map_or(place.as_str(), |(file, _)| file).to_owned();
            let nth = same.entry((file.clone(), what.clone(), only.clone())).or_default();
            *nth += 1;
            let key = (file, what, only, *nth);
            match answer.as_str() {
                "" | "?" => {}
                "yes" | "y" | "x" => drop(given.insert(key, true)),
                "no" | "n" => drop(given.insert(key, false)),
                _ => {
                    return Err(Failure::new(
                        format!("{}, row {}: `{answer}` is no answer", self.name(), row + 2),
                        format!(
                            "write yes where it is like {}, no where it is not, or leave the cell blank",
                            self.base
                        ),
                    ));
                }
            }
        }
        Ok(given)
    }

    pub(super) fn write(&self, entries: &[Entry], given: &BTreeMap<PlaceKey, bool>) -> Result<(), Failure> {
        let mut text = line(&[format!("like {}", self.base), "place".into(), "only".into(), "what".into()], ',') + "\n";
        for e in entries {
            let answer = given.get(&e.key).map_or("", |yes| if *yes { "yes" } else { "no" });
            text.push_str(&line(&[answer.to_owned(), e.place.clone(), e.only.clone(), e.what.clone()], ','));
            text.push('\n');
        }
        lasting::write_over(&self.path, text.as_bytes()).map_err(|e| Failure::write_in_place(&self.path, &e))
    }

    pub(super) fn remove(&self) -> Result<(), Failure> {
        match std::fs::remove_file(&self.path) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => Err(Failure::write_in_place(&self.path, &e)),
            _ => Ok(()),
        }
    }
}
