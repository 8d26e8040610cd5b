//! Releases and changes: what is frozen can be read back and rendered, and a change adds up.

mod adds_up;
mod damaged;
mod edits;
mod frozen;
mod kits;
mod letters;
mod marked;
mod released;
mod shipped;
mod touched;

use std::path::Path;

use kitwright::change::{Change, Class, Side, SourceLine, compare, hex_digest, normalise};
use kitwright::compile::{self, Frozen};
use kitwright::document::{Imprint, Purpose};
use kitwright::model::{Manual, read};
use kitwright::resolve::{Resolved, parse_configuration, resolve};
use kitwright::source::{Disk, Files as _, Memory, SourceMap};
use kitwright::units::{Date, FigureName};

use crate::outside;

/// The files of a folder of the project, in memory.
fn folder(path: &str) -> Memory {
    let disk = Disk::open(&outside::project().join(Path::new(path))).expect("the folder is there");
    let mut files = Memory::new();
    for entry in disk.list().expect("it can be listed") {
        if !entry.path.starts_with("releases/") {
            files.insert(entry.path.clone(), disk.read(&entry.path).expect("it can be read"));
        }
    }
    files
}

/// The small manual that `kitwright start` writes.
fn small() -> Memory {
    folder("templates/start")
}

/// Replaces the one place where `old` stands.
fn edit(files: &mut Memory, path: &str, old: &str, new: &str) {
    let text = String::from_utf8(files.read(path).expect("it is there")).expect("UTF-8");
    assert_eq!(text.matches(old).count(), 1, "`{old}` in {path}");
    files.insert(path, text.replace(old, new));
}

fn freeze(files: &Memory, date: &str, summary: &str) -> Result<Frozen, kitwright::diag::Refusal> {
    let checked = compile::check(files, &|_| ()).expect("memory can be listed");
    let errors: Vec<_> = checked.findings.iter().filter(|d| d.level == kitwright::diag::Level::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    compile::freeze(&checked, files, Date::parse(date).expect("a date"), Class::Information, summary)
}

/// Freezes and puts the release among the files.
fn release(files: &mut Memory, date: &str, summary: &str) -> Frozen {
    let frozen = freeze(files, date, summary).unwrap_or_else(|r| panic!("{r:?}"));
    for (path, bytes) in &frozen.store {
        files.insert(path.clone(), bytes.clone());
    }
    files.insert(frozen.path.clone(), frozen.release.text());
    frozen
}

/// A state of a manual.
struct State {
    manual: Manual,
    sources: SourceMap,
    lines: Vec<SourceLine>,
}

impl State {
    fn of(files: &Memory) -> Self {
        let read = read(files).expect("memory can be listed");
        let manual = read.manual.expect("there is a manual");
        Self { manual, sources: read.sources, lines: normalise(files).expect("memory can be listed") }
    }

    fn resolved(&self, configuration: &str) -> Resolved {
        resolve(&self.manual, &parse_configuration(&self.manual.settings, configuration).expect("it is allowed"))
    }
}

fn side<'a>((state, resolved): (&'a State, &'a Resolved)) -> Side<'a> {
    Side { name: "", manual: &state.manual, sources: &state.sources, resolved, lines: &state.lines }
}

/// What is printed on the manual's pages.
fn imprint((state, resolved): (&State, &Resolved)) -> Imprint {
    let picture = |name: &FigureName| state.manual.figures.get(name).map_or_else(String::new, |f| hex_digest(&f.bytes));
    Imprint::of(&state.manual, resolved, Purpose::Manual, &picture)
}

fn change(from: (&State, &Resolved), to: (&State, &Resolved)) -> Change {
    compare(&side(from), &side(to))
}
