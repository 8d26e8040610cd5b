//! `shipped`: writes into the register what is otherwise in a kit.
//!
//! Owns: what was asked in the words of the bench (`2 AN4-15A: AN4-16A + AN960-416`). The kit is judged with the new rows before
//! anything is written. A register in a workbook is not written: the rows are shown, to be pasted.

use std::path::Path;

use super::failure::Failure;
use super::lasting;
use super::register::{Changed, FILE, RegisterRow, headed, lines, with_rows};
use super::slip::{of_slip, slip_text};
use crate::compile::{ForKit, Stage};
use crate::diag::{Diagnostics, did_you_mean, nearest};
use crate::model::DeviationKind;
use crate::source::{Files, LoadError, SourceMap};
use crate::units::Date;

/// What was asked.
#[derive(Clone, Debug)]
pub(super) struct ShippedAsked {
    pub serial: u32,
    /// `2 AN4-15A: AN4-16A + AN960-416`, `1 TB-1/4`; empty where a slip says it.
    pub what: String,
    /// A builder's query slip, which is shown and not written yet.
    pub slip: Option<(std::path::PathBuf, Writing)>,
    pub kind: DeviationKind,
    pub at: Vec<String>,
    pub approved: Option<String>,
    pub lot: Option<String>,
    pub date: Option<Date>,
    pub expected: Option<Date>,
    pub note: Option<String>,
}

/// Whether the rows of a slip are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Writing {
    Shown,
    Written,
}

/// What came of it.
pub(super) enum Answer {
    /// The rows were written, or are to be pasted; in plain text.
    Told(String),
    /// The kit can't be so: what was found, and nothing was written.
    Refused(Diagnostics, SourceMap),
}

/// Writes the rows.
///
/// # Errors
/// What was asked can't be read; there is no such kit or place; a file can't be written.
pub(super) fn shipped(files: &dyn Files, folder: &Path, asked: &ShippedAsked) -> Result<Answer, Failure> {
    let kit = ForKit::find(files, asked.serial)?;
    let rows = match &asked.slip {
        Some((path, _)) => of_slip(&slip_text(path)?, asked.serial, asked.expected)?,
        None => rows(asked, &places(&kit, files, &asked.at)?)?,
    };
    let shown = lines(&rows, ',');
    let text = match files.read(FILE) {
        Ok(bytes) => Some(String::from_utf8(bytes).map_err(|_| {
            Failure::new(
                format!("{FILE} is not UTF-8 text, so it is not changed"),
                format!("paste these rows into it:\n{shown}"),
            )
        })?),
        Err(LoadError::Missing) if kit.register_is_a_sheet() => {
            // With tabs between them they fall into the cells of a spreadsheet.
            return Ok(Answer::Told(format!(
                "the register is a sheet of a workbook, which is not written; paste these cells into it under their columns, \
                 and then `kitwright check` judges them\n{}",
                headed(&rows, '\t')
            )));
        }
        Err(LoadError::Missing) => None,
        Err(error) => return Err(Failure::new(format!("{FILE} can't be read: {error}"), "check that it may be read")),
    };
    let new = with_rows(text.as_deref().unwrap_or(""), &rows)?;
    // The kit as it would be.
    let trial = Changed { files, text: new.clone().into_bytes() };
    let (checked, _) = ForKit::find(&trial, asked.serial)?.check(&trial, &|_: Stage| {})?;
    let of_register = |d: &&crate::diag::Diagnostic| {
        d.span.is_some_and(|span| checked.sources.name(span.file) == FILE)
            || d.configurations.iter().any(|c| c.starts_with("kit-"))
    };
    let found: Vec<_> = checked.findings.iter().filter(of_register).cloned().collect();
    let found = Diagnostics::collect(found, &checked.sources);
    if found.has_errors() {
        return Ok(Answer::Refused(found, checked.sources));
    }
    if matches!(asked.slip, Some((_, Writing::Shown))) {
        return Ok(Answer::Told(format!(
            "the slip would put these rows into {FILE}:\n{shown}nothing was written; add --write to write them\n"
        )));
    }
    let path = folder.join(FILE);
    lasting::write_over(&path, new.as_bytes()).map_err(|error| Failure::write_in_place(&path, &error))?;
    let mut told = format!("written into {FILE}:\n{shown}");
    for d in found.iter() {
        told.push_str(&format!("{}: {}\n", d.level.word(), d.headline));
    }
    told.push_str(&format!("`kitwright compile --configuration kit-{:04}` makes its documents\n", asked.serial));
    Ok(Answer::Told(told))
}

/// The places as the register has them. A joint is found by its id alone where just one step of the kit has it.
fn places(kit: &ForKit, files: &dyn Files, asked: &[String]) -> Result<String, Failure> {
    if asked.is_empty() {
        return Ok(String::new());
    }
    let known = kit.places(files)?;
    let found = asked.iter().map(|at| place(kit.serial, &known, at)).collect::<Result<Vec<_>, _>>()?;
    Ok(found.join("; "))
}

fn place(serial: u32, places: &[(String, Option<String>)], at: &str) -> Result<String, Failure> {
    if places.iter().any(|(step, joint)| at == step || joint.as_ref().is_some_and(|j| at == format!("{step}/{j}"))) {
        return Ok(at.to_owned());
    }
    let found: Vec<String> = places
        .iter()
        .filter_map(|(step, joint)| Some((step, joint.as_ref().filter(|j| *j == at)?)))
        .map(|(step, joint)| format!("{step}/{joint}"))
        .collect();
    match &found[..] {
        [one] => Ok(one.clone()),
        [] => {
            let names = places.iter().flat_map(|(step, joint)| [Some(step.as_str()), joint.as_deref()]).flatten();
            let help = match nearest(at, names) {
                Some(near) => did_you_mean(near),
                None => "name a step of this kit, or a joint of one as `STEP/JOINT`".to_owned(),
            };
            Err(Failure::new(format!("there is no place `{at}` in kit {serial}"), help))
        }
        several => Err(Failure::new(
            format!("`{at}` is a joint of several steps: {}", several.join(", ")),
            "name the step too, as `STEP/JOINT`",
        )),
    }
}

/// The rows of what was asked.
fn rows(asked: &ShippedAsked, places: &str) -> Result<Vec<RegisterRow>, Failure> {
    let typed = asked.what.trim();
    let (item, with) = match typed.split_once(": ") {
        Some((item, with)) => (item, Some(with)),
        None => (typed, None),
    };
    let substituted = asked.kind == DeviationKind::Substituted;
    let help = "write for example `2 AN4-15A: AN4-16A + AN960-416` for a substitution, `1 TB-1/4` for the rest";
    if substituted != with.is_some() {
        let words = if substituted {
            "it is not said what was put in its place"
        } else {
            "nothing can be put in its place here"
        };
        return Err(Failure::new(format!("`{typed}`: {words}"), help));
    }
    let (count, item) = counted(item);
    let plain = RegisterRow {
        serial: asked.serial,
        item: item.to_owned(),
        what: Some(asked.kind),
        places: places.to_owned(),
        quantity: count,
        date: asked.date,
        ..RegisterRow::default()
    };
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    let mut first = RegisterRow {
        approved: text(&asked.approved),
        lot: text(&asked.lot),
        expected: asked.expected,
        note: text(&asked.note),
        ..plain.clone()
    };
    let Some(with) = with else { return Ok(vec![first]) };
    let mut pieces = with.split(" + ");
    first.with = pieces.next().unwrap_or("").trim().to_owned();
    if first.with.is_empty() || item.is_empty() {
        return Err(Failure::new(format!("`{typed}` can't be read"), help));
    }
    let mut all = vec![first];
    for more in pieces {
        let (own, name) = counted(more);
        // One with each, where no number is written.
        let quantity = Some(own.or(count).unwrap_or(1));
        all.push(RegisterRow {
            item: name.to_owned(),
            what: Some(DeviationKind::InAddition),
            quantity,
            ..plain.clone()
        });
    }
    Ok(all)
}

/// `2 AN4-15A` or `2 x AN4-15A` as a count and a name.
fn counted(text: &str) -> (Option<i64>, &str) {
    let text = text.trim();
    let Some((first, rest)) = text.split_once(' ') else { return (None, text) };
    match first.parse::<i64>() {
        Ok(n) => (Some(n), rest.trim().strip_prefix("x ").unwrap_or(rest).trim()),
        Err(_) => (None, text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(what: &str, kind: DeviationKind) -> ShippedAsked {
        let approved = Some("D-31, 2026-03-02".to_owned());
        ShippedAsked {
            serial: 147,
            what: what.to_owned(),
            slip: None,
            kind,
            at: Vec::new(),
            approved,
            lot: None,
            date: None,
            expected: None,
            note: None,
        }
    }

    fn told(what: &str, kind: DeviationKind) -> Vec<String> {
        let rows = rows(&asked(what, kind), "arm/bolt").unwrap_or_else(|f| panic!("{f}"));
        // The cells up to `approved`; the rest is empty.
        let all = lines(&rows, ',');
        all.lines().map(|l| l.strip_suffix(",,,,,").expect("nothing behind it").to_owned()).collect()
    }

    #[test]
    fn what_the_bench_says_becomes_rows() {
        let kind = DeviationKind::Substituted;
        assert_eq!(
            told("2 AN4-15A: AN4-16A + AN960-416", kind),
            [
                "147,AN4-15A,substituted,AN4-16A,arm/bolt,2,\"D-31, 2026-03-02\"",
                "147,AN960-416,sent in addition,,arm/bolt,2,"
            ]
        );
        assert_eq!(
            told("2 x AN4-15A: AN4-16A + 4 x AN960-416", kind)[1],
            "147,AN960-416,sent in addition,,arm/bolt,4,"
        );
        assert_eq!(
            told("1 TB-1/4", DeviationKind::BackOrder)[0],
            "147,TB-1/4,back order,,arm/bolt,1,\"D-31, 2026-03-02\""
        );
        for (what, kind) in [("AN4-15A", kind), ("2 AN4-15A: ", kind), ("1 TB: TC", DeviationKind::BackOrder)] {
            assert!(rows(&asked(what, kind), "").is_err(), "{what}");
        }
    }
}
