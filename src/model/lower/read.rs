//! Reading a folder into a manual: which files there are, side by side, then lowering in order.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::fields::{self, Fields};
use super::strays::{self, Strayed};
use super::{holes, kits, parts, settings, step};
use crate::diag::{Diagnostic, Level, Note, Sink, did_you_mean, nearest};
use crate::figure::{FigureFile, probe};
use crate::model::Roles;
use crate::model::manual::{Accept, Manual, Page, PageKind};
use crate::model::schema::{PAGE, TABLES};
use crate::source::{FileId, Files, LoadError, Place, SourceMap};
use crate::syntax::{SourceTable, StepFile, parse_csv, parse_step_file, parse_workbook, parse_yaml, utf8_or_report};
use crate::units::{FigureName, UnitStyle, natural_cmp};

/// What was read: the manual where there was one, the texts, and what was assumed of tables.
pub struct Read {
    pub manual: Option<Manual>,
    pub sources: SourceMap,
    pub faults: Sink,
    /// A line for each table, for `--verbose`: encoding and separator.
    pub assumed: Vec<String>,
}

/// Reads the manual in `files`.
///
/// # Errors
/// The folder can't be listed. Everything else is a diagnostic.
pub fn read(files: &dyn Files) -> Result<Read, LoadError> {
    read_after(files, SourceMap::new())
}

/// The same; its texts are added to those that were read before, so that a place in any of them can be named.
///
/// # Errors
/// As of [`read`].
pub fn read_after(files: &dyn Files, mut sources: SourceMap) -> Result<Read, LoadError> {
    let entries = files.list()?;
    let mut faults = Sink::new();
    let mut assumed = Vec::new();
    let mut paths: Vec<String> = entries.into_iter().map(|e| e.path).filter(|p| !strays::is_by_the_way(p)).collect();
    paths.sort_by(|a, b| natural_cmp(a, b));
    if !paths.iter().any(|p| p == "manual.yaml") {
        faults.push(no_manual(&paths));
        return Ok(Read { manual: None, sources, faults, assumed });
    }
    let Some(file) = text(files, "manual.yaml", &mut sources, &mut faults) else {
        return Ok(Read { manual: None, sources, faults, assumed });
    };
    let Some(tree) = parse_yaml(file, sources.text(file), 0, &mut faults) else {
        return Ok(Read { manual: None, sources, faults, assumed });
    };
    let (settings, mut accepts) = settings::settings(&tree, &mut faults);

    let tables = tables(files, &paths, &mut sources, &mut faults);
    for table in tables.values() {
        assumed.push(format!("{}: {}", sources.name(table.file), table.assumed));
    }
    let part_list = tables.get("parts").map(|t| parts::parts(t, &settings, &mut faults)).unwrap_or_default();
    let hardware = tables.get("hardware").map(|t| parts::hardware(t, &mut faults)).unwrap_or_default();
    let stock = tables.get("stock").map(|t| parts::stock(t, &mut faults)).unwrap_or_default();
    let holes = tables.get("holes").map(|t| holes::holes(t, &mut faults)).unwrap_or_default();
    let (kits, mut personal) = tables.get("kits").map(|t| kits::kits(t, &mut faults)).unwrap_or_default();
    let (deviations, more) = tables.get("shipped").map(|t| kits::shipped(t, &mut faults)).unwrap_or_default();
    personal.extend(more);
    if !tables.contains_key("parts") {
        faults.push(Diagnostic::error("missing-file", "there is no parts list").in_file("parts.csv").help(
            "add parts.csv, or a sheet `parts` of a workbook, with at least the columns number, name and one for each \
                     variant",
        ));
    }
    let strayed = strays::find(files, &paths, &mut faults);

    let mut roles = Roles::of(&part_list, &settings);
    let mut steps = Vec::new();
    let mut written = markdown(files, &paths, "steps/", &mut sources, &mut faults);
    for (_, file) in &mut written {
        file.front = file.front.take().map(|front| roles.put_in(front, &mut faults));
    }
    let lowered: Vec<_> = written
        .into_par_iter()
        .map(|(path, file)| {
            let mut sink = Sink::new();
            (step::step(file, &path, &mut sink), sink)
        })
        .collect();
    for (step, sink) in lowered {
        faults.extend(sink);
        if let Some((step, more)) = step {
            steps.push(step);
            accepts.extend(more);
        }
    }
    duplicate_ids(&mut steps, &mut faults);
    let pages = markdown(files, &paths, "pages/", &mut sources, &mut faults)
        .into_iter()
        .filter_map(|(_, file)| page(file, &mut accepts, &mut faults))
        .collect();
    let (figures, broken_figures) = figures(files, &paths, &mut sources, &mut faults);
    // Without its lists and its lengths nothing more can be said of a manual.
    ragged_alone(&sources, &mut faults);
    let unknown = without_units(&settings, &mut faults);
    if unknown || strayed == Strayed::Lists || !tables.contains_key("parts") {
        return Ok(Read { manual: None, sources, faults, assumed });
    }
    let mut manual = Manual {
        settings,
        roles,
        parts: part_list,
        hardware,
        stock,
        holes,
        steps,
        pages,
        kits,
        deviations,
        personal,
        figures,
        broken_figures,
        accepts,
        paths,
        front: std::sync::Arc::new(tree),
        tables: tables.into_iter().map(|(name, table)| (name, std::sync::Arc::new(table))).collect(),
    };
    crate::model::opposite::expand(&mut manual, &mut faults);
    let Manual { settings, hardware, steps, .. } = &mut manual;
    settings.joint_kinds.list(hardware.keys());
    steps.iter_mut().for_each(|step| settings.joint_kinds.fill(step));
    Ok(Read { manual: Some(manual), sources, faults, assumed })
}

fn no_manual(paths: &[String]) -> Diagnostic {
    let meant = |p: &&String| {
        let lower = p.to_lowercase();
        ["manual.yaml", "manual.yml", "manual.yaml.txt", "manual.yml.txt", "manual.txt"].contains(&lower.as_str())
    };
    let help = if paths.is_empty() {
        "the folder is empty; `kitwright start FOLDER` writes a small manual to begin from".to_owned()
    } else if let Some(found) = paths.iter().find(meant) {
        format!("rename `{found}` to `manual.yaml`")
    } else if let Some(found) = paths.iter().find(|p| p.ends_with("/manual.yaml")) {
        format!("there is one in `{}`; name that folder", found.trim_end_matches("/manual.yaml"))
    } else {
        "name the folder that holds manual.yaml; `kitwright start FOLDER` writes a small manual to begin from"
            .to_owned()
    };
    Diagnostic::error("no-manual", "there is no manual in this folder").in_file("manual.yaml").help(help)
}

/// In a row with more cells than headings every value may stand under another's heading: that is the finding, and what else was
/// found in the row follows from it.
fn ragged_alone(sources: &SourceMap, faults: &mut Sink) {
    let row = |d: &Diagnostic| match (d.span, d.span.map(|span| sources.place(span))) {
        (Some(span), Some(Place::Cell { row, .. })) => Some((span.file, row)),
        _ => None,
    };
    let ragged: BTreeSet<_> =
        faults.iter().filter(|d| d.rule == RAGGED && d.level == Level::Error).filter_map(row).collect();
    faults.retain(|d| d.rule == RAGGED || row(d).is_none_or(|row| !ragged.contains(&row)));
}

/// The rule of rows that do not have as many cells as the heading.
const RAGGED: &str = "ragged-row";

/// Takes the notes on values without a unit out of `faults`. In a manual in millimetres they become one finding: what is meant
/// is not known, so nothing else can be said of it.
fn without_units(settings: &crate::model::Settings, faults: &mut Sink) -> bool {
    let noted: Vec<Diagnostic> = faults.extract_if(.., |d| d.rule == fields::NO_UNIT).collect();
    let Some((first, more)) = noted.split_first().filter(|_| settings.units == UnitStyle::Millimetre) else {
        return false;
    };
    let headline = match more.len() {
        0 => format!("`{}` has no unit, in a manual whose units are mm", first.headline),
        1 => format!("`{}` and one more value have no unit, in a manual whose units are mm", first.headline),
        n => format!("`{}` and {n} more values have no unit, in a manual whose units are mm", first.headline),
    };
    let mut found = Diagnostic::error(fields::NO_UNIT, headline).help(format!(
        "write `{} mm`, or the unit that is meant; in a table the heading can say it for its column: `cut length (mm)`",
        first.headline
    ));
    found.span = first.span;
    found.label.clone_from(&first.label);
    found.notes = more.iter().take(8).filter_map(|d| Some(Note { span: d.span?, label: d.label.clone() })).collect();
    faults.push(found);
    true
}

/// Reads a file that must be UTF-8 and adds it to the sources.
fn text(files: &dyn Files, path: &str, sources: &mut SourceMap, faults: &mut Sink) -> Option<FileId> {
    let bytes = bytes(files, path, faults)?;
    let text = utf8_or_report(path, &bytes, faults)?;
    Some(sources.add(path, text))
}

fn bytes(files: &dyn Files, path: &str, faults: &mut Sink) -> Option<Vec<u8>> {
    files.read(path).map_err(|error| faults.push(unreadable(path, &error))).ok()
}

pub(super) fn unreadable(path: &str, error: &LoadError) -> Diagnostic {
    let (rule, help) = match error {
        LoadError::Outside => {
            ("outside-folder", "copy the file into the manual's folder; links out of it are not followed")
        }
        LoadError::TooLarge { .. } => ("file-too-large", "make the file smaller"),
        LoadError::NotAFile => ("unreadable-file", "put the file itself in its place"),
        LoadError::Missing | LoadError::System(_) => {
            ("unreadable-file", "check that the file is there and may be read")
        }
    };
    Diagnostic::error(rule, format!("{path} can't be read: {error}")).in_file(path).help(help)
}

/// The names of the tables.
pub(super) fn table_names() -> impl Iterator<Item = &'static str> {
    TABLES.iter().map(|t| t.name)
}

/// The tables by name: each from its CSV file, or from a sheet of the one workbook in the folder.
fn tables(
    files: &dyn Files,
    paths: &[String],
    sources: &mut SourceMap,
    faults: &mut Sink,
) -> BTreeMap<&'static str, SourceTable> {
    let mut tables = BTreeMap::new();
    for name in table_names() {
        let path = format!("{name}.csv");
        if paths.contains(&path)
            && let Some(bytes) = bytes(files, &path, faults)
            && let Some(table) = parse_csv(&path, &bytes, sources, faults)
        {
            tables.insert(name, table);
        }
    }
    let workbooks: Vec<_> = paths.iter().filter(|p| !p.contains('/') && p.to_lowercase().ends_with(".xlsx")).collect();
    if let [_, second, ..] = workbooks[..] {
        faults.push(
            Diagnostic::error("two-workbooks", "there is more than one workbook in the folder")
                .in_file(second.as_str())
                .help("keep one workbook with the sheets parts, hardware, stock, holes, kits and shipped"),
        );
    }
    let Some(path) = workbooks.first() else { return tables };
    let Some(bytes) = bytes(files, path, faults) else { return tables };
    for (sheet, table) in parse_workbook(path, &bytes, sources, faults) {
        let Some(name) = table_names().find(|n| n.eq_ignore_ascii_case(sheet.trim())) else { continue };
        if let Some(first) = tables.get(name) {
            faults.push(
                Diagnostic::error("table-twice", format!("the table {name} is there twice"))
                    .in_file(format!("{path}, sheet {sheet}"))
                    .help(format!("keep either {} or the sheet", sources.name(first.file))),
            );
            continue;
        }
        tables.insert(name, table);
    }
    tables
}

/// The Markdown files below a folder, parsed side by side, in natural path order.
fn markdown(
    files: &dyn Files,
    paths: &[String],
    folder: &str,
    sources: &mut SourceMap,
    faults: &mut Sink,
) -> Vec<(String, StepFile)> {
    let wanted: Vec<&String> =
        paths.iter().filter(|p| p.starts_with(folder) && p.to_lowercase().ends_with(".md")).collect();
    let read: Vec<_> = wanted
        .par_iter()
        .map(|path| {
            let mut sink = Sink::new();
            let text = bytes(files, path, &mut sink).and_then(|b| utf8_or_report(path, &b, &mut sink));
            (text, sink)
        })
        .collect();
    let mut ids = Vec::new();
    for (path, (text, sink)) in wanted.into_iter().zip(read) {
        faults.extend(sink);
        if let Some(text) = text {
            ids.push((path.clone(), sources.add(path.as_str(), text)));
        }
    }
    let sources = &*sources;
    let parsed: Vec<_> = ids
        .into_par_iter()
        .map(|(path, id)| {
            let mut sink = Sink::new();
            (path, parse_step_file(id, sources, &mut sink), sink)
        })
        .collect();
    parsed
        .into_iter()
        .map(|(path, file, sink)| {
            faults.extend(sink);
            (path, file)
        })
        .collect()
}

/// Two steps with one id: the second is left out, so that one cause stays one finding.
fn duplicate_ids(steps: &mut Vec<crate::model::Step>, faults: &mut Sink) {
    let mut seen = BTreeMap::new();
    steps.retain(|step| {
        let first = *seen.entry(step.id.value.clone()).or_insert(step.id.span);
        if first == step.id.span {
            return true;
        }
        faults.push(
            Diagnostic::error("duplicate-id", format!("step `{}` is there twice", step.id.value))
                .at(step.id.span, "the second one, which is not used")
                .note(first, "the first one")
                .help("give each step an id of its own")
                .about(&step.id.value),
        );
        false
    });
}

fn page(file: StepFile, accepts: &mut Vec<Accept>, faults: &mut Sink) -> Option<Page> {
    let front = file.front.as_ref()?;
    let f = Fields::new(front, &PAGE, faults);
    accepts.extend(settings::accepts(&f, Some(file.file), faults));
    let all: Vec<_> = PageKind::ALL.iter().map(|k| k.word()).collect();
    let help = format!("add `page:` and one of: {}", all.join(", "));
    let word = f.required("page", "this page", &help, faults)?;
    let Some(kind) = PageKind::ALL.into_iter().find(|k| k.word() == word.value) else {
        let near = nearest(&word.value, all.iter().copied());
        faults.push(
            Diagnostic::error("unknown-word", format!("`{}` is no page", word.value))
                .at(word.span, "not one of the words")
                .help(near.map_or(help, did_you_mean)),
        );
        return None;
    };
    let title = f.text("title", faults).map(|t| t.value);
    let only = f.only(faults);
    Some(Page { kind, title, only, body: file.body, span: word.span, front: std::sync::Arc::new(front.clone()) })
}

/// The pictures, probed side by side. A picture that can't be carried is reported once, here.
fn figures(
    files: &dyn Files,
    paths: &[String],
    sources: &mut SourceMap,
    faults: &mut Sink,
) -> (BTreeMap<FigureName, FigureFile>, BTreeSet<FigureName>) {
    let wanted: Vec<(&String, FigureName)> = paths
        .iter()
        .filter_map(|p| Some((p, p.strip_prefix("figures/")?)))
        .filter(|(_, name)| {
            let name = name.to_lowercase();
            [".svg", ".png", ".jpg", ".jpeg"].iter().any(|end| name.ends_with(end))
        })
        .map(|(path, name)| (path, FigureName::new(name)))
        .collect();
    let probed: Vec<_> = wanted
        .par_iter()
        .map(|(path, name)| match files.read(path) {
            Ok(bytes) => {
                let bytes: std::sync::Arc<[u8]> = bytes.into();
                probe(name, bytes.clone()).map_err(|fault| Ok((fault, bytes)))
            }
            Err(error) => Err(Err(error)),
        })
        .collect();
    let (mut figures, mut broken) = (BTreeMap::new(), BTreeSet::new());
    for ((path, name), result) in wanted.into_iter().zip(probed) {
        match result {
            Ok(figure) => {
                figures.insert(name, figure);
            }
            Err(fault) => {
                broken.insert(name);
                faults.push(match fault {
                    Ok((fault, bytes)) => {
                        let d = Diagnostic::error("broken-figure", format!("{path}: {}", fault.headline))
                            .in_file(path.as_str())
                            .help(fault.help);
                        match (fault.range, std::str::from_utf8(&bytes)) {
                            (Some(range), Ok(text)) => {
                                let file = sources.add(path.as_str(), text);
                                d.at(crate::source::Span::new(file, range), "here")
                            }
                            _ => d,
                        }
                    }
                    Err(error) => unreadable(path, &error),
                });
            }
        }
    }
    (figures, broken)
}
