//! What the typed words mean.

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::release::Terms;
use super::rename::Asked;
use super::shipped;
use super::start::Beginning;
use super::typed::{FormatWord, MANUAL, PaperWord, TradeWord, Typed, TypedCommand, UnitsWord};
use super::variant::VariantAsked;
use crate::change::Subject;
use crate::compile::NoticeWords;
use crate::diag::Format;
use crate::document::PrintScale;
use crate::resolve::kit_serial;
use crate::units::{Date, Paper, UnitStyle, character_code, hidden};

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
    /// The same with the questions.
    Review,
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
    Start { folder: PathBuf, beginning: Beginning },
    Check { folder: PathBuf, showing: Showing },
    Compile { folder: PathBuf, out: PathBuf, wanted: Wanted, print_scale: PrintScale },
    Stick { folder: PathBuf, out: PathBuf, wanted: Wanted, print_scale: PrintScale },
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
    Variant { folder: PathBuf, asked: VariantAsked },
    Shipped { folder: PathBuf, asked: shipped::ShippedAsked },
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
                FormatWord::Full => Format::Full,
                FormatWord::Lines => Format::Lines,
                FormatWord::Json => Format::Json,
            },
            detail: if shared.verbose { HowMuch::Everything } else { HowMuch::Usual },
        };
        let task = match typed.command {
            TypedCommand::Start { folder, units, paper, trade } => {
                let metric = units == UnitsWord::Mm;
                let paper = paper.unwrap_or(if metric { PaperWord::A4 } else { PaperWord::Letter });
                let trade = trade.or(metric.then_some(TradeWord::MetricGeneral));
                let beginning = Beginning {
                    units: if metric { UnitStyle::Millimetre } else { UnitStyle::InchFraction },
                    paper: if paper == PaperWord::A4 { Paper::A4 } else { Paper::Letter },
                    trade: trade.map(TradeWord::word),
                };
                Task::Start { folder: folder.path(), beginning }
            }
            TypedCommand::Check { folder, coverage, review } => {
                let showing = match (coverage, review) {
                    (true, _) => Showing::Coverage,
                    (_, true) => Showing::Review,
                    _ => Showing::Findings,
                };
                Task::Check { folder: folder.path(), showing }
            }
            TypedCommand::Compile { folder, out, configuration, kit, despite_errors, print_scale } => {
                let folder = apart(folder.path(), &out)?;
                let wanted = wanted(configuration, kit, despite_errors)?;
                Task::Compile { folder, out, wanted, print_scale }
            }
            TypedCommand::Release { folder, summary: Some(summary), class: Some(class), date, .. } => {
                let summary = said("--summary", summary)?;
                Task::Release { folder: folder.path(), terms: Terms { date, class, summary } }
            }
            TypedCommand::Release { folder, seal: true, against, date, .. } => {
                Task::Seal { folder: folder.path(), against, date }
            }
            TypedCommand::Release { folder, .. } => Task::CheckRelease { folder: folder.path() },
            TypedCommand::Compare { from, to, out, folder } => {
                let mut folder = folder.path();
                if let Some(out) = &out {
                    folder = apart(folder, out)?;
                }
                Task::Compare { folder, from, to, out }
            }
            TypedCommand::Stick { folder, out, configuration, kit, despite_errors, print_scale } => {
                let folder = apart(folder.path(), &out)?;
                Task::Stick { folder, out, wanted: wanted(configuration, kit, despite_errors)?, print_scale }
            }
            TypedCommand::Verify { folder } => Task::Verify { folder },
            TypedCommand::Opposite { step, folder } => Task::Opposite { folder: folder.path(), step },
            TypedCommand::Impact(f) => Task::Impact { folder: f.path() },
            TypedCommand::Notice { release, lot, part, class, summary, built, out, last, folder } => {
                // A lot or a part stands in the place of a release; then the one word is the folder.
                let (release, last) = match (release, last) {
                    (Some(word), None) if lot.is_some() || part.is_some() => (None, Some(PathBuf::from(word))),
                    (Some(letter), Some(_)) if lot.is_some() || part.is_some() => {
                        return Err(Failure::new(
                            format!("a notice is about one thing, and release {letter} is named with a lot or a part"),
                            "leave one of them out",
                        ));
                    }
                    words => words,
                };
                let folder = apart(folder.or(last).unwrap_or_else(|| MANUAL.into()), &out)?;
                let summary = summary.map(|text| said("--summary", text)).transpose()?;
                let built = built.map(|text| said("--built", text)).transpose()?;
                let said = class.zip(summary).map(|(class, summary)| NoticeWords { class, summary, built });
                let subject = match (release, lot, part) {
                    (Some(letter), ..) => Subject::Release(letter),
                    (None, Some(lot), _) => Subject::Lot(lot),
                    (None, None, part) => Subject::Part(part.unwrap_or_default()),
                };
                Task::Notice { folder, subject, said, out }
            }
            TypedCommand::Convert { from, to, out, folder } => {
                let folder = apart(folder.path(), &out)?;
                Task::Convert { folder, from, to, out }
            }
            TypedCommand::Rules { name: None } => Task::ListRules,
            TypedCommand::Rules { name: Some(name) } => Task::ExplainRule { name },
            TypedCommand::Keys { name } => Task::Keys { name },
            TypedCommand::Rename { old, new, kind, write, folder } => {
                Task::Rename { folder: folder.path(), asked: Asked { old, new, kind, write } }
            }
            TypedCommand::Variant { name, based_on, title, inherits, ask, write, folder } => {
                let title = title.map(|text| said("--title", text)).transpose()?;
                Task::Variant {
                    folder: folder.path(),
                    asked: VariantAsked { name, based_on, title, inherits, ask, write },
                }
            }
            TypedCommand::Shipped { kit, what, slip, write, how, at, approved, lot, date, expected, note, folder } => {
                let serial = kit_serial(&kit).unwrap_or(&kit).parse().map_err(|_| {
                    Failure::new(
                        format!("`{kit}` is no serial number"),
                        "write the kit's number, for example 147 or kit-0147",
                    )
                })?;
                let kind = how.kind();
                let writing = if write { shipped::Writing::Written } else { shipped::Writing::Shown };
                let (slip, what) = (slip.map(|path| (path, writing)), what.unwrap_or_default());
                let mut folder = folder.path();
                // Behind a slip the last word is the folder.
                let what = if slip.is_some() && !what.is_empty() {
                    folder = what.into();
                    String::new()
                } else {
                    what
                };
                let asked = shipped::ShippedAsked { serial, what, slip, kind, at, approved, lot, date, expected, note };
                Task::Shipped { folder, asked }
            }
            TypedCommand::Why { id, configuration, folder } => Task::Why { folder: folder.path(), id, configuration },
            TypedCommand::Where { name, folder } => Task::Where { folder: folder.path(), name },
            TypedCommand::Fit { fastener, mut stack, nut, folder } => {
                let last = stack.pop_if(|word| Path::new(word).is_dir()).map(PathBuf::from);
                Task::Fit { folder: folder.or(last).unwrap_or_else(|| MANUAL.into()), fastener, stack, nut }
            }
            TypedCommand::Completions { shell } => Task::Completions { shell },
            TypedCommand::Man { command } => Task::Man { command },
        };
        Ok(Self { task, voice })
    }
}

/// A kit stands among the configurations under its name, `kit-0147`, and is made alone: its sources are those of its release.
fn wanted(names: Vec<String>, kit: Option<u32>, despite_errors: bool) -> Result<Wanted, Failure> {
    let kit = match (kit, names.iter().find_map(|name| Some((name, kit_serial(name)?)))) {
        (None, Some((name, _))) if names.len() > 1 => {
            return Err(Failure::new(
                format!("{name} is named with other configurations"),
                "make a kit in a run of its own",
            ));
        }
        (None, Some((name, serial))) => {
            let unread = |_| Failure::new(format!("`{name}` is no kit"), "name it by its serial number, as kit-0147");
            Some(serial.parse().map_err(unread)?)
        }
        (kit, _) => kit,
    };
    match kit {
        Some(serial) => Ok(Wanted::Kit(serial, despite_errors.into())),
        None if despite_errors => Err(Failure::new(
            "--despite-errors is for kits whose release can't be changed any more",
            "name the kit, for example --configuration kit-0147",
        )),
        None if names.is_empty() => Ok(Wanted::AllDeclared),
        None => Ok(Wanted::Only(names)),
    }
}

/// The longest line that is typed for documents, in characters.
const LONGEST_SAID: usize = 500;

/// A line that is typed and goes into documents: as seen, or it is refused like such a text of the sources.
fn said(option: &str, text: String) -> Result<String, Failure> {
    // Whether blank, tab or line end: what divides words becomes a blank.
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let refused = |what: String, help: &str| Err(Failure::new(format!("the text of {option} {what}"), help));
    if let Some((c, what)) = text.chars().find_map(|c| Some((c, hidden(c)?))) {
        return refused(format!("holds {}, {what}", character_code(c)), "write the text again by hand");
    }
    match text.chars().count() {
        0 => refused("is empty".to_owned(), "say it in a line"),
        n if n > LONGEST_SAID => {
            refused(format!("has {n} characters, more than {LONGEST_SAID}"), "say it in a line, and the rest in a step")
        }
        _ => Ok(text),
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
fn apart(folder: PathBuf, out: &Path) -> Result<PathBuf, Failure> {
    let (Ok(whole), Some(inside)) = (folder.canonicalize(), nearest_existing(out)) else { return Ok(folder) };
    if inside.starts_with(&whole) {
        return Err(Failure::new(
            format!("the output folder {} lies inside the manual's folder", out.display()),
            "name another folder with --out, for example one beside the manual's folder",
        ));
    }
    Ok(folder)
}

/// The path as the system knows it, as far down as it is there.
fn nearest_existing(path: &Path) -> Option<PathBuf> {
    let path = std::path::absolute(path).ok()?;
    path.ancestors().find_map(|p| p.canonicalize().ok())
}
