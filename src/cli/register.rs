//! Rows of the register of deviations, and putting them into the text of shipped.csv with every other byte as it was.

use super::failure::Failure;
use crate::model::DeviationKind;
use crate::source::{FileEntry, Files, LoadError};
use crate::units::Date;

/// The file.
pub(super) const FILE: &str = "shipped.csv";

/// The columns, in the order of a new register.
const COLUMNS: [&str; 12] =
    ["serial", "item", "what", "with", "where", "quantity", "approved", "lot", "release", "date", "expected", "note"];

/// What a new row says; what is empty stands for nothing.
#[derive(Clone, Debug, Default)]
pub(super) struct RegisterRow {
    pub serial: u32,
    pub item: String,
    pub what: Option<DeviationKind>,
    pub with: String,
    pub places: String,
    pub quantity: Option<i64>,
    pub approved: String,
    pub lot: String,
    pub date: Option<Date>,
    pub expected: Option<Date>,
    pub note: String,
}

impl RegisterRow {
    /// Cell by cell under the columns.
    fn cells(&self) -> [String; 12] {
        let day = |value: Option<Date>| value.map_or_else(String::new, |day| day.to_string());
        [
            self.serial.to_string(),
            self.item.clone(),
            self.what.map_or_else(String::new, |w| w.word().to_owned()),
            self.with.clone(),
            self.places.clone(),
            self.quantity.map_or_else(String::new, |n| n.to_string()),
            self.approved.clone(),
            self.lot.clone(),
            String::new(),
            day(self.date),
            day(self.expected),
            self.note.clone(),
        ]
    }
}

/// The rows as lines of a table.
pub(super) fn lines(rows: &[RegisterRow], separator: char) -> String {
    rows.iter().map(|row| line(&row.cells(), separator) + "\n").collect()
}

/// The same under a line of headings.
pub(super) fn headed(rows: &[RegisterRow], separator: char) -> String {
    line(&COLUMNS.map(str::to_owned), separator) + "\n" + &lines(rows, separator)
}

/// A line of a table.
pub(super) fn line(row: &[String], separator: char) -> String {
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
pub(super) fn with_rows(text: &str, rows: &[RegisterRow]) -> Result<String, Failure> {
    if text.trim().is_empty() {
        return Ok(headed(rows, ','));
    }
    let rows: Vec<_> = rows.iter().map(RegisterRow::cells).collect();
    let refused = || {
        Failure::new(
            format!("{FILE} can't be added to: its heading is not understood"),
            "the first line names the columns: serial, item, what and so on",
        )
    };
    let ends = record_ends(text).ok_or_else(refused)?;
    let head = &text[..ends[0]];
    let separator = separator_of(head);
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
    for row in &rows {
        let cell = |name: &str| COLUMNS.iter().position(|c| *c == name).map_or_else(String::new, |at| row[at].clone());
        let cells: Vec<String> = names.iter().map(String::as_str).chain(lacking.iter().copied()).map(cell).collect();
        out.push_str(&line(&cells, separator));
        out.push_str(line_end);
    }
    Ok(out)
}

/// What divides the cells, by a line of headings.
pub(super) fn separator_of(head: &str) -> char {
    [',', ';', '\t'].into_iter().max_by_key(|c| head.matches(*c).count()).unwrap_or(',')
}

/// Where each record ends, before its line end. None where a quotation does not end.
pub(super) fn record_ends(text: &str) -> Option<Vec<usize>> {
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
pub(super) struct Changed<'a> {
    pub files: &'a dyn Files,
    pub text: Vec<u8>,
}

impl Files for Changed<'_> {
    fn list(&self) -> Result<Vec<FileEntry>, LoadError> {
        let mut all = self.files.list()?;
        all.retain(|e| e.path != FILE);
        all.push(FileEntry { path: FILE.to_owned(), size: self.text.len() as u64 });
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

    /// The csv crate reads the same cells back, the old ones where they were.
    #[test]
    fn a_register_keeps_every_other_byte() {
        let rows = [RegisterRow {
            serial: 147,
            item: "TB-1/4".to_owned(),
            what: Some(DeviationKind::BackOrder),
            quantity: Some(1),
            approved: "D-31, 2026-03-02".to_owned(),
            ..RegisterRow::default()
        }];
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
