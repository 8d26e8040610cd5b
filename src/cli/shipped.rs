//! `shipped`: writes into the register what is otherwise in a kit.
//!
//! Owns: what was asked in the words of the bench (`2 AN4-15A: AN4-16A + AN960-416`), and putting the rows into shipped.csv
//! with every other byte as it was. The kit is judged with the new rows before anything is written. A register in a workbook
//! is not written: the rows are shown, to be pasted.

use std::path::Path;

use super::failure::Failure;
use super::lasting;
use crate::compile::{ForKit, Stage};
use crate::diag::{Diagnostics, did_you_mean, nearest};
use crate::model::DeviationKind;
use crate::source::{Files, LoadError, Memory, SourceMap};
use crate::units::{Date, hidden};

/// The columns, in the order of a new register.
const COLUMNS: [&str; 12] =
    ["serial", "item", "what", "with", "where", "quantity", "approved", "lot", "release", "date", "expected", "note"];

/// What the builder's query slip calls the things that were missing or damaged.
const ON_SLIP: &str = "Short or damaged on arrival";
/// The largest slip that is read, in bytes, and the most lines of it that count.
const LARGEST_SLIP: usize = 65_536;
const MOST_ON_SLIP: usize = 500;

/// The rows that a builder's query slip asks for: what was missing or damaged on arrival is on back order from now on. Nothing
/// else of the slip is read.
///
/// # Errors
/// It is no slip, or of another kit; a line of it does not begin with a number.
fn of_slip(text: &str, asked: &ShippedAsked) -> Result<Vec<Row>, Failure> {
    let refused = |words: String, help: &str| Err(Failure::new(words, help));
    if text.len() > LARGEST_SLIP
        || text.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t') || hidden(c).is_some())
    {
        return refused(
            "this is no query slip".to_owned(),
            "ask the builder to save it again: Menu, Query slip, Save to a file",
        );
    }
    let kit = text.lines().find_map(|l| l.trim().strip_prefix("Kit:")).map(str::trim);
    if kit.and_then(|k| k.parse::<u32>().ok()) != Some(asked.serial) {
        let words = format!("the slip is of kit {}, not of kit {}", kit.unwrap_or("(none)"), asked.serial);
        return refused(words, "name the kit that the slip is of");
    }
    let mut lines = text.lines().skip_while(|l| !l.starts_with(ON_SLIP)).skip(1);
    let mut rows = Vec::new();
    while let Some(line) = lines.next().filter(|l| l.starts_with("  ")) {
        let Some((item, said)) = line.trim().split_once(": ") else { continue };
        let digits: String = said.trim().chars().take_while(char::is_ascii_digit).collect();
        let Some(count) = digits.parse::<i64>().ok().filter(|n| (1..=100_000).contains(n)) else {
            let words = format!("`{item}: {said}` does not begin with a number");
            return refused(words, "ask the builder how many, and write the number in front: `SK-118: 2 missing`");
        };
        let said: String = said.trim().chars().skip(digits.len()).collect();
        let note =
            format!("{} on arrival, by the builder's slip", if said.trim().is_empty() { "short" } else { said.trim() });
        let day = |value: Option<Date>| value.map_or_else(String::new, |d| d.to_string());
        let empty = String::new;
        rows.push([
            asked.serial.to_string(),
            item.trim().to_owned(),
            DeviationKind::BackOrder.word().to_owned(),
            empty(),
            empty(),
            count.to_string(),
            empty(),
            empty(),
            empty(),
            empty(),
            day(asked.expected),
            note,
        ]);
        if rows.len() > MOST_ON_SLIP {
            return refused(format!("the slip names more than {MOST_ON_SLIP} things"), "look at it with the builder");
        }
    }
    if rows.is_empty() {
        return refused(
            "the slip names nothing that was short or damaged".to_owned(),
            "what else it says is for you to read",
        );
    }
    Ok(rows)
}

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

/// A row, cell by cell under the columns.
type Row = [String; 12];

/// Writes the rows.
///
/// # Errors
/// What was asked can't be read; there is no such kit or place; a file can't be written.
pub(super) fn shipped(files: &dyn Files, folder: &Path, asked: &ShippedAsked) -> Result<Answer, Failure> {
    let kit = ForKit::find(files, asked.serial)?;
    let places = asked.at.iter().map(|at| place(&kit, files, at)).collect::<Result<Vec<_>, _>>()?;
    let rows = match &asked.slip {
        Some((path, _)) => of_slip(&slip_text(path)?, asked)?,
        None => rows(asked, &places.join("; "))?,
    };
    let shown: String = rows.iter().map(|row| line(row, ',') + "\n").collect();
    let text = match files.read(FILE) {
        Ok(bytes) => Some(String::from_utf8(bytes).map_err(|_| {
            Failure::new(
                format!("{FILE} is not UTF-8 text, so it is not changed"),
                format!("paste these rows into it:\n{shown}"),
            )
        })?),
        Err(LoadError::Missing) if kit.register_is_a_sheet() => {
            // With tabs between them they fall into the cells of a spreadsheet.
            let lines =
                std::iter::once(line(&COLUMNS.map(str::to_owned), '\t')).chain(rows.iter().map(|row| line(row, '\t')));
            let pasted: String = lines.map(|l| l + "\n").collect();
            return Ok(Answer::Told(format!(
                "the register is a sheet of a workbook, which is not written; paste these cells into it under their columns, \
                 and then `kitwright check` judges them\n{pasted}"
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

const FILE: &str = "shipped.csv";

/// # Errors
/// It can't be read, is no text, or is larger than any slip.
fn slip_text(path: &Path) -> Result<String, Failure> {
    let refused =
        |words: String| Failure::new(words, "name the file that the builder saved: Menu, Query slip, Save to a file");
    let size = std::fs::metadata(path).map_err(|e| refused(format!("{} can't be read: {e}", path.display())))?;
    if !size.is_file() || size.len() > LARGEST_SLIP as u64 {
        return Err(refused(format!("{} is no query slip", path.display())));
    }
    let bytes = std::fs::read(path).map_err(|e| refused(format!("{} can't be read: {e}", path.display())))?;
    String::from_utf8(bytes).map_err(|_| refused(format!("{} is no query slip: it is not UTF-8 text", path.display())))
}

/// A joint is found by its id alone where just one step of the kit has it.
fn place(kit: &ForKit, files: &dyn Files, at: &str) -> Result<String, Failure> {
    let places = kit.places(files)?;
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
            Err(Failure::new(format!("there is no place `{at}` in kit {}", kit.serial), help))
        }
        several => Err(Failure::new(
            format!("`{at}` is a joint of several steps: {}", several.join(", ")),
            "name the step too, as `STEP/JOINT`",
        )),
    }
}

/// The rows of what was asked.
fn rows(asked: &ShippedAsked, places: &str) -> Result<Vec<Row>, Failure> {
    let text = asked.what.trim();
    let (item, with) = match text.split_once(": ") {
        Some((item, with)) => (item, Some(with)),
        None => (text, None),
    };
    let substituted = asked.kind == DeviationKind::Substituted;
    let help = "write for example `2 AN4-15A: AN4-16A + AN960-416` for a substitution, `1 TB-1/4` for the rest";
    if substituted != with.is_some() {
        let words = if substituted {
            "it is not said what was put in its place"
        } else {
            "nothing can be put in its place here"
        };
        return Err(Failure::new(format!("`{text}`: {words}"), help));
    }
    let (count, item) = counted(item);
    let row = |item: &str, what: DeviationKind, with: &str, quantity: Option<i64>, first: bool| -> Row {
        let text = |value: &Option<String>| value.clone().unwrap_or_default();
        let day = |value: Option<Date>| value.map_or_else(String::new, |d| d.to_string());
        let only = |cell: String| if first { cell } else { String::new() };
        [
            asked.serial.to_string(),
            item.to_owned(),
            what.word().to_owned(),
            with.to_owned(),
            places.to_owned(),
            quantity.map_or_else(String::new, |n| n.to_string()),
            only(text(&asked.approved)),
            only(text(&asked.lot)),
            String::new(),
            day(asked.date),
            only(day(asked.expected)),
            only(text(&asked.note)),
        ]
    };
    let Some(with) = with else {
        return Ok(vec![row(item, asked.kind, "", count, true)]);
    };
    let mut pieces = with.split(" + ");
    let with = pieces.next().unwrap_or("").trim();
    if with.is_empty() || item.is_empty() {
        return Err(Failure::new(format!("`{text}` can't be read"), help));
    }
    let mut all = vec![row(item, DeviationKind::Substituted, with, count, true)];
    for more in pieces {
        let (own, name) = counted(more);
        // One with each, where no number is written.
        all.push(row(name, DeviationKind::InAddition, "", Some(own.or(count).unwrap_or(1)), false));
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

/// A line of a table.
fn line(row: &[String], separator: char) -> String {
    let cell = |text: &String| {
        if text.contains([separator, '"', '\n', '\r']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text.clone()
        }
    };
    row.iter().map(cell).collect::<Vec<_>>().join(&separator.to_string())
}

/// The table with the rows at its end. Columns that it lacks are added behind the others; all else stays as it is.
///
/// # Errors
/// It has a quotation that does not end, or no heading of the first column.
fn with_rows(text: &str, rows: &[Row]) -> Result<String, Failure> {
    if text.trim().is_empty() {
        let columns = COLUMNS.map(str::to_owned);
        let lines = std::iter::once(line(&columns, ',')).chain(rows.iter().map(|row| line(row, ',')));
        return Ok(lines.map(|l| l + "\n").collect());
    }
    let refused = || {
        Failure::new(
            format!("{FILE} can't be added to: its heading is not understood"),
            "the first line names the columns: serial, item, what and so on",
        )
    };
    let ends = record_ends(text).ok_or_else(refused)?;
    let head = &text[..ends[0]];
    let separator = [',', ';', '\t'].into_iter().max_by_key(|c| head.matches(*c).count()).unwrap_or(',');
    let names: Vec<String> = head
        .trim_start_matches('\u{feff}')
        .split(separator)
        .map(|name| name.trim().trim_matches('"').split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase())
        .collect();
    if !names.iter().any(|n| n == "serial") {
        return Err(refused());
    }
    let lacking: Vec<&str> = COLUMNS
        .into_iter()
        .enumerate()
        .filter(|(i, name)| rows.iter().any(|row| !row[*i].is_empty()) && !names.iter().any(|n| n == name))
        .map(|(_, name)| name)
        .collect();
    let mut out = String::new();
    let mut from = 0;
    for (i, end) in ends.iter().enumerate() {
        out.push_str(&text[from..*end]);
        let blank = text[from..*end].trim_matches(['\r', '\n']).is_empty();
        for name in lacking.iter().filter(|_| !blank) {
            out.push(separator);
            if i == 0 {
                out.push_str(name);
            }
        }
        from = *end;
    }
    out.push_str(&text[from..]);
    let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    if !out.ends_with('\n') {
        out.push_str(line_end);
    }
    for row in rows {
        let cell = |name: &str| COLUMNS.iter().position(|c| *c == name).map_or_else(String::new, |at| row[at].clone());
        let cells: Vec<String> = names.iter().map(String::as_str).chain(lacking.iter().copied()).map(cell).collect();
        out.push_str(&line(&cells, separator));
        out.push_str(line_end);
    }
    Ok(out)
}

/// Where each record ends, before its line end. None where a quotation does not end.
fn record_ends(text: &str) -> Option<Vec<usize>> {
    let bytes = text.as_bytes();
    let (mut ends, mut quoted, mut start) = (Vec::new(), false, 0);
    for (at, byte) in bytes.iter().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'\n' if !quoted => {
                ends.push(if at > start && bytes[at - 1] == b'\r' { at - 1 } else { at });
                start = at + 1;
            }
            _ => {}
        }
    }
    if start < bytes.len() {
        ends.push(bytes.len());
    }
    (!quoted).then_some(ends)
}

/// The folder with another register.
struct Changed<'a> {
    files: &'a dyn Files,
    text: Vec<u8>,
}

impl Files for Changed<'_> {
    fn list(&self) -> Result<Vec<crate::source::FileEntry>, LoadError> {
        let mut over = Memory::new();
        over.insert(FILE, self.text.as_slice());
        let mut all = self.files.list()?;
        all.retain(|e| e.path != FILE);
        all.extend(over.list()?);
        all.sort_by(|a, b| a.path.cmp(&b.path));
        Ok(all)
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, LoadError> {
        if path == FILE { Ok(self.text.clone()) } else { self.files.read(path) }
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
        rows.iter().map(|row| line(&row[..7], ',')).collect()
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

    #[test]
    fn a_slip_says_what_was_short() {
        let slip = |kit: &str, lines: &str| {
            format!(
                "Query to A maker\r\nManual: SK-100\r\nKit: {kit}\r\n{ON_SLIP} (number first, for example: 2 missing):\r\n{lines}\r\n\r\nWhat is asked:\r\n  SK-1: 9\r\n"
            )
        };
        let read = |text: &str| of_slip(text, &asked("", DeviationKind::BackOrder));
        let rows = read(&slip("147", "  SK-118: 2 bent\r\n  ISO 7089 6: 1")).unwrap_or_else(|f| panic!("{f}"));
        let told: Vec<String> = rows.iter().map(|row| line(row, ',')).collect();
        assert_eq!(
            told,
            [
                "147,SK-118,back order,,,2,,,,,,\"bent on arrival, by the builder's slip\"",
                "147,ISO 7089 6,back order,,,1,,,,,,\"short on arrival, by the builder's slip\""
            ]
        );
        for (kit, lines) in [
            ("148", "  SK-118: 2"),
            ("147", "  SK-118: some"),
            ("147", ""),
            ("147", "  SK-118: 2\u{202e}x"),
            ("147", "  SK-118: 9999999999999999999999"),
        ] {
            assert!(read(&slip(kit, lines)).is_err(), "{kit} {lines}");
        }
        let long = slip("147", &"  SK-118: 1\r\n".repeat(501));
        assert!(read(&long).is_err() && read(&"x".repeat(70_000)).is_err());
    }

    /// The csv crate reads the same cells back, the old ones where they were.
    #[test]
    fn a_register_keeps_every_other_byte() {
        let rows = rows(&asked("1 TB-1/4", DeviationKind::BackOrder), "").unwrap_or_else(|f| panic!("{f}"));
        for (old, separator) in [
            ("serial,item,what,note\r\n30,SK-118,lot,\"two\r\nlines, and \"\"more\"\"\"\r\n", b','),
            ("\u{feff}Serial;Item;What\n30;SK-118;lot", b';'),
            ("serial,item,what,quantity,approved\n\n30,SK-118,lot,,\n", b','),
        ] {
            let new = with_rows(old, &rows).unwrap_or_else(|f| panic!("{f}"));
            let read = |text: &str| -> Vec<Vec<String>> {
                let mut reader = csv::ReaderBuilder::new();
                reader.has_headers(false).flexible(true).delimiter(separator);
                let mut reader = reader.from_reader(text.as_bytes());
                reader.records().map(|r| r.expect("a record").iter().map(str::to_owned).collect()).collect()
            };
            let (before, after) = (read(old), read(&new));
            assert_eq!(after.len(), before.len() + 1, "{new}");
            assert!(after.iter().all(|r| r.len() == after[0].len()), "{new}");
            for (b, a) in before.iter().zip(&after) {
                assert_eq!(b[..], a[..b.len()], "{new}");
            }
            let at =
                |name: &str| after[0].iter().position(|n| n.trim_start_matches('\u{feff}').eq_ignore_ascii_case(name));
            let cell = |name: &str| &after.last().expect("the new row")[at(name).expect("the column")];
            assert_eq!(
                (cell("serial").as_str(), cell("quantity").as_str(), cell("approved").as_str()),
                ("147", "1", "D-31, 2026-03-02")
            );
        }
        assert!(with_rows("a,b\n\"1", &rows).is_err() && with_rows("a,b\n1,2\n", &rows).is_err());
    }
}
