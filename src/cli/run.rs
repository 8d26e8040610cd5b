//! The tasks, one function each.

use std::mem::ManuallyDrop;
use std::path::Path;

use super::Ending;
use super::command::{Command, Errors, Showing, Task, Voice, Wanted};
use super::failure::Failure;
use super::progress::Progress;
use super::release::Terms;
use super::staged::Staged;
use super::swap::Delisted;
use super::{fit, opposite, reference, release, rename, report, shipped, start, variant, verify, where_used, why};
use crate::change::{self, Standing, Subject};
use crate::check::{coverage, coverage_line, coverage_text};
use crate::compile::{self, Checked, NoticeWords, Stage};
use crate::diag::{Diagnostics, Format, did_you_mean, nearest};
use crate::document::PrintScale;
use crate::model::Manual;
use crate::source::{Disk, Files, LoadError, Snapshot};
use crate::units::Date;

/// Carries out a command.
///
/// # Errors
/// It could not be carried out, for a reason that is not in the manual.
pub(super) fn run(command: Command) -> Result<Ending, Failure> {
    let voice = command.voice;
    match command.task {
        Task::Check { folder, showing } => check(&folder, showing, voice),
        Task::Compile { folder, out, wanted, print_scale } => {
            make(&folder, &out, &wanted, voice, Making::Documents(print_scale))
        }
        Task::Stick { folder, out, wanted, print_scale } => {
            make(&folder, &out, &wanted, voice, Making::Sticks(print_scale))
        }
        Task::Verify { folder } => {
            let (text, ending) = verify::verify(&folder)?;
            report::print(&text)?;
            Ok(ending)
        }
        Task::Start { folder, beginning } => {
            let files = start::start(&folder, beginning)?;
            let name = folder.display().to_string();
            let typed = if name.contains(char::is_whitespace) { format!("\"{name}\"") } else { name.clone() };
            report::remark(&format!("{name}: {files} files; `kitwright compile {typed}` makes the documents"));
            Ok(Ending::Clean)
        }
        Task::Release { folder, terms } => release(&folder, &terms, voice),
        Task::Seal { folder, against, date } => seal(&folder, against.as_deref(), date),
        Task::CheckRelease { folder } => {
            let (standing, words) = release::standing(&open(&folder)?)?;
            let files = release::to_commit(&open(&folder)?)?;
            let list =
                if files.is_empty() { files } else { format!("\nfiles of the releases, to be committed:\n{files}") };
            report::print(&format!("{words}\n{list}"))?;
            Ok(if matches!(standing, Standing::Released(_)) { Ending::Clean } else { Ending::Faults })
        }
        Task::Compare { folder, from, to, out } => compare(&folder, [&from, &to], out.as_deref(), voice),
        Task::Impact { folder } => {
            let (impact, style) = compile::impacts(&open(&folder)?)?;
            shown(&match voice.format {
                Format::Json => change::impact_json(&impact, style),
                _ => change::impact_text(&impact, style),
            })
        }
        Task::Notice { folder, subject, said, out } => notice(&folder, subject, said.as_ref(), &out, voice),
        Task::Convert { folder, from, to, out } => convert(&folder, [&from, &to], &out),
        Task::ListRules => shown(&reference::rules()),
        Task::ExplainRule { name } => shown(&reference::rule(&name)?),
        Task::Keys { name } => shown(&reference::keys(name.as_deref())?),
        Task::Rename { folder, asked } => {
            ask(&folder, voice, |checked, manual| rename::rename(checked, manual, &folder, &asked))
        }
        Task::Variant { folder, asked } => ask(&folder, voice, |checked, manual| {
            variant::variant(checked, manual, &folder, &asked, &mut std::io::stdin().lock())
        }),
        Task::Shipped { folder, asked } => {
            let disk = open(&folder)?;
            match shipped::shipped(&disk, &folder, &asked)? {
                shipped::Answer::Told(text) => shown(&text),
                shipped::Answer::Refused(found, sources) => {
                    report::findings(&found, &sources, voice)?;
                    report::remark("nothing was written");
                    Ok(Ending::Faults)
                }
            }
        }
        Task::Why { folder, id, configuration } => {
            ask(&folder, voice, |checked, manual| why::why(checked, manual, &id, &configuration))
        }
        Task::Where { folder, name } => {
            ask(&folder, voice, |checked, manual| where_used::where_used(checked, manual, &name))
        }
        Task::Opposite { folder, step } => ask(&folder, voice, |_, manual| opposite::opposite(manual, &step)),
        Task::Fit { folder, fastener, stack, nut } => {
            let wanted = |units| fit::wanted(&fastener, &stack, nut.as_deref(), units);
            // Without a manual there is nothing that comes first.
            if !folder.join("manual.yaml").is_file() {
                return shown(&fit::fit(None, &wanted(None)?));
            }
            ask(&folder, voice, |_, manual| Ok(fit::fit(Some(manual), &wanted(Some(manual.settings.units))?)))
        }
        Task::Completions { shell } => shown(&reference::completions(shell)),
        Task::Man { command } => shown(&reference::man(command.as_deref())?),
    }
}

fn shown(text: &str) -> Result<Ending, Failure> {
    report::print(text)?;
    Ok(Ending::Clean)
}

/// Answers a question about a manual. Faults do not keep it from being answered where enough could be read.
fn ask(
    folder: &Path,
    voice: Voice,
    answer: impl FnOnce(&Checked, &Manual) -> Result<String, Failure>,
) -> Result<Ending, Failure> {
    let progress = Progress::new();
    let checked = read(&open(folder)?, folder, &progress)?;
    progress.end();
    let Some(manual) = &checked.manual else {
        report::findings(&checked.findings, &checked.sources, voice)?;
        return Ok(Ending::Faults);
    };
    let text = answer(&checked, manual)?;
    if checked.findings.has_errors() {
        report::remark("the manual has errors, so the answer may be incomplete; `kitwright check` lists them");
    }
    shown(&text)
}

fn check(folder: &Path, showing: Showing, voice: Voice) -> Result<Ending, Failure> {
    let progress = Progress::new();
    let checked = read(&open(folder)?, folder, &progress)?;
    progress.end();
    report::detail(&checked, voice);
    let examined = checked.manual.as_ref().map(|manual| coverage(manual, &checked.resolved));
    let found = match showing {
        Showing::Review => {
            let all = checked.findings.iter().chain(checked.questions.iter()).cloned().collect();
            Diagnostics::collect(all, &checked.sources)
        }
        Showing::Findings | Showing::Coverage => checked.findings.clone(),
    };
    match (examined, showing, voice.format) {
        (Some(examined), Showing::Coverage, _) => report::print(&coverage_text(&examined))?,
        (Some(examined), _, Format::Full) => {
            report::findings(&found, &checked.sources, voice)?;
            // That there are no errors says little without what was looked at.
            report::print(&format!("{}\n", coverage_line(&examined)))?;
        }
        _ => report::findings(&found, &checked.sources, voice)?,
    }
    Ok(ending(&checked))
}

/// What is made of the configurations.
#[derive(Clone, Copy)]
enum Making {
    /// Documents, with the scale that a printer was measured at.
    Documents(PrintScale),
    Sticks(PrintScale),
}

fn make(folder: &Path, out: &Path, wanted: &Wanted, voice: Voice, making: Making) -> Result<Ending, Failure> {
    let progress = Progress::new();
    let disk = open(folder)?;
    let kit = match wanted {
        Wanted::Kit(serial, _) => Some(compile::ForKit::find(&disk, *serial)?),
        _ => None,
    };
    let (checked, kit_name) = match &kit {
        Some(kit) => {
            let (checked, name) = kit.check(&disk, &|stage| progress.at(stage))?;
            (ManuallyDrop::new(checked), name)
        }
        None => (read(&disk, folder, &progress)?, String::new()),
    };
    let files: &dyn Files = kit.as_ref().map_or(&disk, |kit| kit.sources(&disk));
    report::detail(&checked, voice);
    // What was released can't be mended, and the kit is what it is.
    let letter = kit.as_ref().and_then(|kit| kit.letter.as_deref());
    let listed = letter.is_some() && matches!(wanted, Wanted::Kit(_, Errors::AreListed));
    let Some(manual) = checked.manual.as_ref().filter(|_| listed || !checked.findings.has_errors()) else {
        progress.end();
        report::findings(&checked.findings, &checked.sources, voice)?;
        if let Some(letter) = letter.filter(|_| checked.manual.is_some()) {
            report::remark(&format!(
                "these are the sources of release {letter}, which can't be changed any more; `--despite-errors` makes the manual of this kit all the same"
            ));
        }
        return Ok(Ending::Faults);
    };
    let declared = compile::declared_names(manual);
    let (names, delisted) = match wanted {
        Wanted::AllDeclared => (declared, Delisted::Remove),
        Wanted::Only(names) => (chosen(names, declared)?, Delisted::Keep),
        Wanted::Kit(..) => (vec![kit_name], Delisted::Keep),
    };
    if let Some(name) = names.iter().find(|name| holds(&out.join(name), folder)) {
        return Err(Failure::new(
            format!("{} is where the manual itself lies", out.join(name).display()),
            "name another folder with --out, or give the manual's folder a name that is none of a configuration",
        ));
    }
    let staged = Staged::open(out)?;
    let watch = |stage: Stage| progress.at(stage);
    let found = match making {
        Making::Documents(scale) => compile::documents(&checked, files, &names, scale, &staged, &watch),
        Making::Sticks(scale) => compile::sticks(&checked, files, &names, scale, &staged, &watch),
    }
    .map_err(|f| Failure::write(&out.join(&f.path), &f.error))?;
    progress.end();
    let all = checked.findings.iter().chain(found.iter()).cloned().collect();
    let all = Diagnostics::collect(all, &checked.sources);
    if !all.is_empty() || voice.format == Format::Json {
        report::findings(&all, &checked.sources, voice)?;
    }
    if found.has_errors() || all.has_errors() && !listed {
        return Ok(Ending::Faults);
    }
    let begin = match making {
        Making::Documents(_) => Path::new("manual/index.html"),
        Making::Sticks(_) => Path::new("stick/START-HERE.html"),
    };
    for (name, files) in staged.keep(delisted)? {
        let folder = out.join(name);
        report::remark(&format!("{}: {} files; open {}", folder.display(), files.len(), folder.join(begin).display()));
    }
    if all.has_errors() {
        report::remark("made despite the errors above; find out what each means for the builder before you send it");
    }
    Ok(if all.has_errors() { Ending::Faults } else { Ending::Clean })
}

/// Whether a folder is another one or lies above it.
fn holds(above: &Path, folder: &Path) -> bool {
    above.canonicalize().ok().zip(folder.canonicalize().ok()).is_some_and(|(above, folder)| folder.starts_with(above))
}

/// Made of bytes that are read once: those that are checked are those that are made into documents and those that are
/// frozen.
fn release(folder: &Path, terms: &Terms, voice: Voice) -> Result<Ending, Failure> {
    let progress = Progress::new();
    let disk = open(folder)?;
    let _lock = release::take(folder)?;
    for path in release::mend(&disk, folder)? {
        report::remark(&format!("{path}: put back from the sources"));
    }
    let files = Snapshot::of(&disk, &change::store_path("")).map_err(|e| unreadable(folder, &e))?;
    let checked = read(&files, folder, &progress)?;
    if checked.findings.has_errors() {
        progress.end();
        report::findings(&checked.findings, &checked.sources, voice)?;
        return Ok(Ending::Faults);
    }
    let date = terms.date.map_or_else(|| release::today(&disk, folder), Ok)?;
    let frozen = compile::freeze(&checked, &files, date, terms.class, &terms.summary)?;
    let proved = compile::prove(&frozen, &files, &|stage| progress.at(stage))?;
    progress.end();
    if proved.findings.has_errors() {
        report::findings(&proved.findings, &proved.sources, voice)?;
        return Ok(Ending::Faults);
    }
    report::remark(&release::write(&frozen, folder)?);
    Ok(Ending::Clean)
}

fn seal(folder: &Path, against: Option<&Path>, date: Option<Date>) -> Result<Ending, Failure> {
    let disk = open(folder)?;
    let against = against.map(open).transpose()?;
    let _lock = release::take(folder)?;
    for path in release::mend(&disk, folder)? {
        report::remark(&format!("{path}: put back from the sources"));
    }
    let made = release::seal(&disk, folder, against.as_ref(), date)?;
    for path in &made {
        report::remark(&format!("{path}: sealed"));
    }
    if made.is_empty() {
        report::remark("every release proves itself");
    }
    Ok(Ending::Clean)
}

fn compare(folder: &Path, [from, to]: [&str; 2], out: Option<&Path>, voice: Voice) -> Result<Ending, Failure> {
    let files = open(folder)?;
    let Some(out) = out else {
        let compared = compile::Compared::find_drawn(&files, from, to)?;
        said_otherwise(&compared);
        return told(&compared.change(), voice);
    };
    let compared = compile::Compared::find(&files, from, to)?;
    let change = compared.change();
    said_otherwise(&compared);
    told(&change, voice)?;
    let staged = Staged::open(out)?;
    let name = format!("{from}..{to}").replace(['/', ':'], "-");
    let found = compile::change_report(&compared, &change, &files, &name, &staged)
        .map_err(|f| Failure::write(&out.join(&f.path), &f.error))?;
    kept(staged, out, &found)
}

/// Says what this version makes otherwise of a release than the one that made it.
fn said_otherwise(compared: &compile::Compared) {
    compared.otherwise().for_each(|words| report::remark(words));
}

fn told(change: &change::Change, voice: Voice) -> Result<Ending, Failure> {
    shown(&match voice.format {
        Format::Json => change::json(change),
        _ => change::text(change),
    })
}

fn notice(
    folder: &Path,
    subject: Subject,
    said: Option<&NoticeWords>,
    out: &Path,
    voice: Voice,
) -> Result<Ending, Failure> {
    let files = open(folder)?;
    let name = subject.name().replace(' ', "-");
    let notices = match (&subject, said) {
        (Subject::Release(letter), _) => compile::release_notice(&files, letter),
        (_, Some(said)) => compile::item_notice(&files, subject, said),
        (_, None) => return Err(Failure::new("the notice has no class", "give --class and --summary")),
    }?;
    let sheet = compile::kits_sheet(&notices.notice);
    report::print(&match voice.format {
        Format::Json => release::sheet_json(&sheet),
        _ => release::sheet_text(&notices.notice),
    })?;
    let staged = Staged::open(out)?;
    let found = notices.write(&files, &name, &staged).map_err(|f| Failure::write(&out.join(&f.path), &f.error))?;
    kept(staged, out, &found)
}

fn convert(folder: &Path, [from, to]: [&str; 2], out: &Path) -> Result<Ending, Failure> {
    let files = open(folder)?;
    let compared = compile::Compared::find(&files, from, to)?;
    said_otherwise(&compared);
    let conversion = compile::converted(&compared);
    let staged = Staged::open(out)?;
    let name = conversion.resolved.name.clone();
    let found = compile::conversion_report(&compared, &conversion, &files, &name, &staged)
        .map_err(|f| Failure::write(&out.join(&f.path), &f.error))?;
    kept(staged, out, &found)
}

/// Keeps what was written, unless there were errors.
fn kept(staged: Staged, out: &Path, found: &Diagnostics) -> Result<Ending, Failure> {
    for d in found.iter() {
        report::remark(&format!("{}: {}: {}", d.level.word(), d.rule, d.headline));
    }
    if found.has_errors() {
        return Ok(Ending::Faults);
    }
    for (name, files) in staged.keep(Delisted::Keep)? {
        report::remark(&format!("{}: {} files", out.join(name).display(), files.len()));
    }
    Ok(Ending::Clean)
}

/// The configurations asked for, in the manual's order.
fn chosen(names: &[String], declared: Vec<String>) -> Result<Vec<String>, Failure> {
    if let Some(unknown) = names.iter().find(|n| !declared.contains(n)) {
        let help = match nearest(unknown, declared.iter().map(String::as_str)) {
            Some(near) => did_you_mean(near),
            None if declared.is_empty() => "declare it under `configurations` in manual.yaml".to_owned(),
            None => {
                format!("name one of: {}; or declare it under `configurations` in manual.yaml", declared.join(", "))
            }
        };
        return Err(Failure::new(format!("`{unknown}` is not a declared configuration"), help));
    }
    Ok(declared.into_iter().filter(|d| names.contains(d)).collect())
}

fn open(folder: &Path) -> Result<Disk, Failure> {
    Disk::open(folder).map_err(|error| match error {
        LoadError::Missing => Failure::new(
            format!("there is no folder {}", folder.display()),
            "name the manual's folder; `kitwright start FOLDER` writes a small manual to begin from",
        ),
        other => unreadable(folder, &other),
    })
}

/// Reads and checks. A folder without a manual is not a manual with faults.
///
/// The program ends with the task: the system takes a large manual's memory back at once, the program piece by piece.
fn read(files: &dyn Files, folder: &Path, progress: &Progress) -> Result<ManuallyDrop<Checked>, Failure> {
    let checked = compile::check(files, &|stage| progress.at(stage)).map_err(|e| unreadable(folder, &e))?;
    if let Some(none) = checked.findings.iter().find(|d| d.rule == "no-manual") {
        return Err(Failure::new(format!("there is no manual in {}", folder.display()), none.help.clone()));
    }
    Ok(ManuallyDrop::new(checked))
}

fn unreadable(folder: &Path, error: &LoadError) -> Failure {
    Failure::new(format!("{} can't be read: {error}", folder.display()), "name a folder that is there and may be read")
}

fn ending(checked: &Checked) -> Ending {
    if checked.findings.has_errors() { Ending::Faults } else { Ending::Clean }
}
