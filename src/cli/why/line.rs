//! Why a line of a file is in or out: every condition that it stands under.

use super::WhyCase;
use super::condition::{met, tree};
use crate::cli::failure::Failure;
use crate::cli::used::{Conditioned, conditions, text_conditions};
use crate::diag::{did_you_mean, nearest};
use crate::model::schema::Under;
use crate::model::{Part, Step};
use crate::source::{FileId, Place};

/// # Errors
/// There is no such file, or no such line in it.
pub(super) fn why(case: &WhyCase, path: &str, line: usize) -> Result<String, Failure> {
    let sources = case.sources;
    let Some(file) = sources.files().find(|f| sources.name(*f) == path) else {
        let names: Vec<_> = sources.files().map(|f| sources.name(f)).collect();
        let help = match nearest(path, names.iter().copied()) {
            Some(near) => did_you_mean(near),
            None => "write the path as it stands in the manual's folder".to_owned(),
        };
        return Err(Failure::new(format!("there is no file {path} in the manual"), help));
    };
    if let Some(part) = case.manual.parts.values().find(|p| p.span.file == file && row(case, p) == Some(line)) {
        return Ok(super::part::why(case, part));
    }
    let row = |h: &&crate::model::Hardware| match sources.place(h.span) {
        Place::Cell { row, .. } if h.span.file == file => row as usize == line,
        _ => false,
    };
    if let Some(hardware) = case.manual.hardware.values().find(row) {
        return Ok(super::hardware::why(case, hardware));
    }
    let count = sources.text(file).lines().count();
    if line == 0 || line > count {
        return Err(Failure::new(format!("{path} has no line {line}"), format!("give a line from 1 to {count}")));
    }
    let step = case.manual.steps.iter().find(|s| s.file == file);
    let page = case.manual.pages.iter().find(|p| p.span.file == file);
    let all: Vec<Conditioned> = match (step, page) {
        (Some(step), _) => conditions(step),
        (None, Some(page)) => text_conditions(&page.body),
        (None, None) => Vec::new(),
    };
    let mut above: Vec<(&str, Under)> = Vec::new();
    above.extend(step.and_then(|s| s.only.as_ref()).map(|c| ("the step", c.into())));
    above.extend(page.and_then(|p| p.only.as_ref()).map(|c| ("the page", c.into())));
    above.extend(all.iter().filter(|c| covers(case, c, file, line)).map(|c| (c.what.as_str(), c.only)));
    Ok(said(case, path, line, step, &above))
}

fn said(case: &WhyCase, path: &str, line: usize, step: Option<&Step>, above: &[(&str, Under)]) -> String {
    let name = &case.resolved.name;
    let placed = step.is_none_or(|s| case.resolved.step(&s.id.value).is_some());
    let held = above.iter().all(|(_, c)| met(case, *c));
    let number = step.and_then(|s| case.resolved.step(&s.id.value)).map(|s| format!(", in step {}", s.number));
    let mut text = if held && placed {
        format!("{path}, line {line} is in {name}{}.\n", number.unwrap_or_default())
    } else {
        format!("{path}, line {line} is not in {name}.\n")
    };
    if above.is_empty() {
        text.push_str("It stands under no condition.\n");
    }
    for (what, only) in above {
        text.push_str(&format!("\nThe condition of {what}:\n{}", tree(case, *only)));
    }
    text
}

/// Whether an item or a stretch of text takes in a line.
fn covers(case: &WhyCase, c: &Conditioned, file: FileId, line: usize) -> bool {
    if c.span.file != file {
        return false;
    }
    let (first, _) = case.sources.line_column(c.span);
    let text = case.sources.slice(c.span).trim_end();
    (first..=first + text.matches('\n').count()).contains(&line)
}

fn row(case: &WhyCase, part: &Part) -> Option<usize> {
    match case.sources.place(part.span) {
        Place::Cell { row, .. } => Some(row as usize),
        Place::Text { .. } => None,
    }
}
