//! What the typed words mean.

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::release::Terms;
use super::rename::Asked;
use super::typed::{FormatWord, Typed, TypedCommand};
use crate::change::{Date, Subject};
use crate::compile::NoticeWords;
use crate::diag::Format;
use crate::document::PrintScale;

/// How much is said beside the findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HowMuch {
    Usual,
    /// What was assumed and looked at, too.
    Everything,
}

/// How the run speaks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Voice {
    pub format: Format,
    pub detail: HowMuch,
}

/// What a check shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Showing {
    /// The findings, and a line of what was examined.
    Findings,
    /// What was examined, with the reasons of what was not judged.
    Coverage,
}

/// What errors do to a kit's manual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Errors {
    Stop,
    /// They are in a release, which can't be changed any more: they are listed, and the manual is made.
    AreListed,
}

impl From<bool> for Errors {
    fn from(despite: bool) -> Self {
        if despite { Self::AreListed } else { Self::Stop }
    }
}

/// Which of the declared configurations are made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    AllDeclared,
    /// These, by name; never empty.
    Only(Vec<String>),
    /// A kit of the register; whether errors in its release stop it.
    Kit(u32, Errors),
}

/// What is to be done.
#[derive(Debug)]
pub(super) enum Task {
    Start { folder: PathBuf },
    Check { folder: PathBuf, showing: Showing },
    Compile { folder: PathBuf, out: PathBuf, wanted: Wanted, print_scale: PrintScale },
    Stick { folder: PathBuf, out: PathBuf, wanted: Wanted },
    Verify { folder: PathBuf },
    Opposite { folder: PathBuf, step: String },
    Release { folder: PathBuf, terms: Terms },
    CheckRelease { folder: PathBuf },
    Seal { folder: PathBuf, against: Option<PathBuf>, date: Option<Date> },
    Compare { folder: PathBuf, from: String, to: String, out: Option<PathBuf> },
    Impact { folder: PathBuf },
    Convert { folder: PathBuf, from: String, to: String, out: PathBuf },
    Notice { folder: PathBuf, subject: Subject, said: Option<NoticeWords>, out: PathBuf },
    ListRules,
    ExplainRule { name: String },
    Keys { name: Option<String> },
    Rename { folder: PathBuf, asked: Asked },
    Why { folder: PathBuf, id: String, configuration: String },
    Where { folder: PathBuf, name: String },
    Fit { folder: PathBuf, fastener: String, stack: Vec<String>, nut: Option<String> },
    Completions { shell: clap_complete::Shell },
    Man { command: Option<String> },
}

/// A task and how to speak of it.
#[derive(Debug)]
pub(super) struct Command {
    pub task: Task,
    pub voice: Voice,
}

impl Command {
    /// Understands what was typed and sets the number of threads.
    ///
    /// # Errors
    /// Words that contradict one another or can't be carried out.
    pub fn from_typed(typed: Typed) -> Result<Self, Failure> {
        let shared = typed.shared;
        threads(shared.threads)?;
        let voice = Voice {
            format: match shared.format {
                FormatWord::Human => Format::Human,
                FormatWord::Short => Format::Short,
                FormatWord::Json => Format::Json,
            },
            detail: if shared.verbose { HowMuch::Everything } else { HowMuch::Usual },
        };
        let task = match typed.command {
            TypedCommand::Start(f) => Task::Start { folder: f.folder },
            TypedCommand::Check { folder, coverage } => {
                let showing = if coverage { Showing::Coverage } else { Showing::Findings };
                Task::Check { folder: folder.folder, showing }
            }
            TypedCommand::Compile { folder, out, configuration, kit, despite_errors, print_scale } => {
                apart(&folder.folder, &out)?;
                Task::Compile {
                    folder: folder.folder,
                    out,
                    wanted: wanted(configuration, kit, despite_errors.into()),
                    print_scale,
                }
            }
            TypedCommand::Release { folder, summary: Some(summary), class: Some(class), date, .. } => {
                Task::Release { folder: folder.folder, terms: Terms { date, class, summary } }
            }
            TypedCommand::Release { folder, seal: true, against, date, .. } => {
                Task::Seal { folder: folder.folder, against, date }
            }
            TypedCommand::Release { folder, .. } => Task::CheckRelease { folder: folder.folder },
            TypedCommand::Compare { from, to, out, folder } => {
                out.iter().try_for_each(|out| apart(&folder.folder, out))?;
                Task::Compare { folder: folder.folder, from, to, out }
            }
            TypedCommand::Stick { folder, out, configuration, kit, despite_errors } => {
                apart(&folder.folder, &out)?;
                Task::Stick { folder: folder.folder, out, wanted: wanted(configuration, kit, despite_errors.into()) }
            }
            TypedCommand::Verify { folder } => Task::Verify { folder },
            TypedCommand::Opposite { step, folder } => Task::Opposite { folder: folder.folder, step },
            TypedCommand::Impact(f) => Task::Impact { folder: f.folder },
            TypedCommand::Notice { release, lot, part, class, summary, built, out, folder } => {
                apart(&folder.folder, &out)?;
                let said = class.zip(summary).map(|(class, summary)| NoticeWords { class, summary, built });
                let subject = match (release, lot, part) {
                    (Some(letter), ..) => Subject::Release(letter),
                    (None, Some(lot), _) => Subject::Lot(lot),
                    (None, None, part) => Subject::Part(part.unwrap_or_default()),
                };
                Task::Notice { folder: folder.folder, subject, said, out }
            }
            TypedCommand::Convert { from, to, out, folder } => {
                apart(&folder.folder, &out)?;
                Task::Convert { folder: folder.folder, from, to, out }
            }
            TypedCommand::Rules { name: None } => Task::ListRules,
            TypedCommand::Rules { name: Some(name) } => Task::ExplainRule { name },
            TypedCommand::Keys { name } => Task::Keys { name },
            TypedCommand::Rename { old, new, kind, write, folder } => {
                Task::Rename { folder: folder.folder, asked: Asked { old, new, kind, write } }
            }
            TypedCommand::Why { id, configuration, folder } => Task::Why { folder: folder.folder, id, configuration },
            TypedCommand::Where { name, folder } => Task::Where { folder: folder.folder, name },
            TypedCommand::Fit { fastener, stack, nut, folder } => {
                Task::Fit { folder: folder.folder, fastener, stack, nut }
            }
            TypedCommand::Completions { shell } => Task::Completions { shell },
            TypedCommand::Man { command } => Task::Man { command },
        };
        Ok(Self { task, voice })
    }
}

fn wanted(names: Vec<String>, kit: Option<u32>, errors: Errors) -> Wanted {
    match kit {
        Some(serial) => Wanted::Kit(serial, errors),
        None if names.is_empty() => Wanted::AllDeclared,
        None => Wanted::Only(names),
    }
}

/// More threads than this are a slip of the finger.
const MOST_THREADS: usize = 512;

fn threads(number: Option<usize>) -> Result<(), Failure> {
    let Some(number) = number else { return Ok(()) };
    if !(1..=MOST_THREADS).contains(&number) {
        return Err(Failure::new(
            format!("{number} is not a number of threads"),
            format!("give a number from 1 to {MOST_THREADS}"),
        ));
    }
    rayon::ThreadPoolBuilder::new().num_threads(number).build_global().map_err(|e| {
        Failure::new(format!("{number} threads can't be started: {e}"), "give a smaller number with --threads")
    })
}

/// The output must not be read as a source of the next run, nor replace the sources.
fn apart(folder: &Path, out: &Path) -> Result<(), Failure> {
    let (Ok(folder), Some(inside)) = (folder.canonicalize(), nearest_existing(out)) else { return Ok(()) };
    if inside.starts_with(&folder) {
        return Err(Failure::new(
            format!("the output folder {} lies inside the manual's folder", out.display()),
            "name another folder with --out, for example one beside the manual's folder",
        ));
    }
    Ok(())
}

/// The path as the system knows it, as far down as it is there.
fn nearest_existing(path: &Path) -> Option<PathBuf> {
    let path = std::path::absolute(path).ok()?;
    path.ancestors().find_map(|p| p.canonicalize().ok())
}
