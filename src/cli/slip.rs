//! A builder's query slip, read for what was short or damaged on arrival. It is an untrusted file: nothing else of it is read, it
//! has limits, and it has no say in where anything is written.

use std::path::Path;

use super::failure::Failure;
use super::register::RegisterRow;
use crate::model::DeviationKind;
use crate::units::{Date, hidden};

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
pub(super) fn of_slip(text: &str, serial: u32, expected: Option<Date>) -> Result<Vec<RegisterRow>, Failure> {
    let refused = |words: String, help: &str| Err(Failure::new(words, help));
    if text.len() > LARGEST_SLIP || text.chars().any(|c| hidden(c).is_some()) {
        return refused(
            "this is no query slip".to_owned(),
            "ask the builder to save it again: Menu, Query slip, Save to a file",
        );
    }
    let kit = text.lines().find_map(|l| l.trim().strip_prefix("Kit:")).map(str::trim);
    if kit.and_then(|k| k.parse::<u32>().ok()) != Some(serial) {
        let words = format!("the slip is of kit {}, not of kit {}", kit.unwrap_or("(none)"), serial);
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
        rows.push(RegisterRow {
            serial,
            item: item.trim().to_owned(),
            what: Some(DeviationKind::BackOrder),
            quantity: Some(count),
            expected,
            note,
            ..RegisterRow::default()
        });
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

/// # Errors
/// It can't be read, is no text, or is larger than any slip.
pub(super) fn slip_text(path: &Path) -> Result<String, Failure> {
    let refused =
        |words: String| Failure::new(words, "name the file that the builder saved: Menu, Query slip, Save to a file");
    let size = std::fs::metadata(path).map_err(|e| refused(format!("{} can't be read: {e}", path.display())))?;
    if !size.is_file() || size.len() > LARGEST_SLIP as u64 {
        return Err(refused(format!("{} is no query slip", path.display())));
    }
    let bytes = std::fs::read(path).map_err(|e| refused(format!("{} can't be read: {e}", path.display())))?;
    String::from_utf8(bytes).map_err(|_| refused(format!("{} is no query slip: it is not UTF-8 text", path.display())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::register::lines;

    #[test]
    fn a_slip_says_what_was_short() {
        let slip = |kit: &str, lines: &str| {
            format!(
                "Query to A maker\r\nManual: SK-100\r\nKit: {kit}\r\n{ON_SLIP} (number first, for example: 2 missing):\r\n{lines}\r\n\r\nWhat is asked:\r\n  SK-1: 9\r\n"
            )
        };
        let read = |text: &str| of_slip(text, 147, None);
        let rows = read(&slip("147", "  SK-118: 2 bent\r\n  ISO 7089 6: 1")).unwrap_or_else(|f| panic!("{f}"));
        assert_eq!(
            lines(&rows, ','),
            "147,SK-118,back order,,,2,,,,,,\"bent on arrival, by the builder's slip\"\n\
             147,ISO 7089 6,back order,,,1,,,,,,\"short on arrival, by the builder's slip\"\n"
        );
        for (kit, said) in [
            ("148", "  SK-118: 2"),
            ("147", "  SK-118: some"),
            ("147", ""),
            ("147", "  SK-118: 2\u{202e}x"),
            ("147", "  SK-118: 9999999999999999999999"),
        ] {
            assert!(read(&slip(kit, said)).is_err(), "{kit} {said}");
        }
        let long = slip("147", &"  SK-118: 1\r\n".repeat(501));
        assert!(read(&long).is_err() && read(&"x".repeat(70_000)).is_err());
    }
}
