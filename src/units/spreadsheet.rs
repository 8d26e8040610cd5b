//! What comes out of spreadsheets and other countries' habits: numbers, dates, units in headings, and how they were meant.

/// How a text that is no value of the kind `form` (`write inches as …`) asks for may be put right, where that can be told.
pub fn misread(text: &str, form: &str) -> Option<String> {
    let text = text.trim();
    if spreadsheet_date(text) {
        return Some(format!(
            "a spreadsheet has made a date of it: format the cells as text, then write the entry again; {form}"
        ));
    }
    if shortened(text) {
        return Some(format!(
            "a spreadsheet has shortened it: format the cells as text, then write the entry again; {form}"
        ));
    }
    let number = Marked::split(text)?;
    let plain = |n: &str| format!("{n}{}", number.unit_behind());
    let whole = plain(&number.without_marks());
    match number.marks[..] {
        [',' | '.'] if number.in_thousands() && !number.text.starts_with('0') => {
            let pointed = number.text.replace(',', ".");
            let pointed = plain(pointed.trim_end_matches('0').trim_end_matches('.'));
            Some(format!("write `{pointed}` if its mark is a decimal one, `{whole}` if it parts thousands"))
        }
        [','] => Some(format!("write it with a decimal point: `{}`", plain(&number.text.replace(',', ".")))),
        _ if number.in_thousands() => Some(format!("write thousands without a mark: `{whole}`")),
        _ => None,
    }
}

/// A number with marks between its digits, and the unit behind it.
struct Marked<'a> {
    text: &'a str,
    unit: &'a str,
    marks: Vec<char>,
}

impl<'a> Marked<'a> {
    /// None where no mark stands between digits.
    fn split(text: &'a str) -> Option<Self> {
        let end = text.find(|c: char| !(c.is_ascii_digit() || is_mark(c))).unwrap_or(text.len());
        let number = text[..end].trim_end();
        let marks: Vec<char> = number.chars().filter(|c| is_mark(*c)).collect();
        let digits = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        let sound = digits(number.chars().next()) && digits(number.chars().next_back()) && !marks.is_empty();
        sound.then(|| Self { text: number, unit: text[end..].trim(), marks })
    }

    /// Whether every group of digits behind a mark has three.
    fn in_thousands(&self) -> bool {
        let mut groups = self.text.split(is_mark);
        groups.next().is_some_and(|first| (1..=3).contains(&first.len())) && groups.all(|g| g.len() == 3)
    }

    fn without_marks(&self) -> String {
        self.text.chars().filter(char::is_ascii_digit).collect()
    }

    fn unit_behind(&self) -> String {
        if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) }
    }
}

fn is_mark(c: char) -> bool {
    matches!(c, ',' | '.' | ' ' | '\'' | '\u{2019}' | '\u{A0}' | '\u{202F}')
}

/// A number with a decimal comma that can be nothing else, written with a point: `282,5 mm`, `0,125`, `1.282,5`. A comma before
/// three digits may part thousands, and is left as it is.
pub fn with_point(text: &str) -> Option<String> {
    const UNITS: [&str; 13] = ["", "mm", "cm", "m", "in", "ft", "\"", "kg", "g", "lb", "oz", "%", "°"];
    let (sign, rest) = match text.strip_prefix(['-', '+', '\u{2212}']) {
        Some(rest) => (&text[..text.len() - rest.len()], rest),
        None => ("", text),
    };
    let (whole, behind) = rest.split_once(',')?;
    let end = behind.find(|c: char| !c.is_ascii_digit()).unwrap_or(behind.len());
    let (decimals, unit) = (&behind[..end], behind[end..].trim());
    let plain = !whole.is_empty() && whole.bytes().all(|b| b.is_ascii_digit());
    let thousands = Marked::split(whole).is_some_and(|m| m.in_thousands() && m.marks.iter().all(|c| *c != ','));
    let sure = plain && (decimals.len() != 3 || whole == "0") || thousands;
    if !sure || decimals.is_empty() || !UNITS.contains(&unit) {
        return None;
    }
    let whole: String = whole.chars().filter(char::is_ascii_digit).collect();
    let space = if unit.is_empty() { "" } else { " " };
    Some(format!("{sign}{whole}.{decimals}{space}{unit}"))
}

/// A cell as it is read: a decimal comma is a point, a no-break space a space.
pub fn cell_text(text: &str) -> String {
    with_point(text).unwrap_or_else(|| text.replace('\u{A0}', " "))
}

/// The unit behind a heading in its form for comparing: `cut length (mm)`, `weight [kg]`, `wall in mm`.
pub fn heading_unit(heading: &str) -> Option<(&str, &'static str)> {
    const UNITS: [&str; 8] = ["mm", "cm", "m", "in", "kg", "g", "lb", "oz"];
    let (name, unit) = match heading.strip_suffix([')', ']']) {
        Some(open) => open.rsplit_once(['(', '['])?,
        None => heading.rsplit_once(" in ")?,
    };
    let unit = UNITS.into_iter().find(|u| *u == unit.trim())?;
    Some((name.trim_end_matches([' ', ',']), unit))
}

/// A bare number with the unit of its heading; what is behind it stays: `5 (from memory)`.
pub fn with_unit(text: String, unit: &str) -> String {
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '-' | '+' | '\u{2212}');
    let end = text.find(|c| !number(c)).unwrap_or(text.len());
    let (value, behind) = (text[..end].trim_end(), &text[end..]);
    match (value.is_empty(), behind.chars().next()) {
        (false, None) => format!("{value} {unit}"),
        (false, Some('(')) => format!("{value} {unit} {behind}"),
        _ => text,
    }
}

/// A number whose point may part thousands where decimals are written with a comma: `1.600 mm`. Gives both readings.
pub fn thousands_or_decimals(text: &str) -> Option<(String, String)> {
    let number = Marked::split(text)?;
    if number.marks != ['.'] || !number.in_thousands() || number.text.starts_with('0') {
        return None;
    }
    let unit = number.unit_behind();
    let decimal = number.text.trim_end_matches('0').trim_end_matches('.');
    Some((format!("{}{unit}", number.without_marks()), format!("{decimal}{unit}")))
}

/// Whether a text is what a spreadsheet makes of an entry that it takes for a date: `2026-03-08`, `08.03.2026`, `08. Mrz`, `8-Mar`.
pub fn spreadsheet_date(text: &str) -> bool {
    // The first three letters of the months in English, German, French, Spanish and Dutch.
    const MONTHS: [&str; 29] = [
        "jan", "feb", "mar", "mär", "mrz", "apr", "may", "mai", "mei", "jun", "jul", "aug", "sep", "oct", "okt", "nov",
        "dec", "dez", "janv", "févr", "mars", "avr", "juin", "juil", "août", "sept", "déc", "ene", "dic",
    ];
    let parts: Vec<String> =
        text.split(['-', '.', '/', ' ']).filter(|p| !p.is_empty()).map(str::to_lowercase).collect();
    let digits = |p: &String| p.bytes().all(|b| b.is_ascii_digit());
    let day = |p: &String| digits(p) && p.len() <= 2;
    let year = |p: &String| digits(p) && p.len() == 4 && (p.starts_with("19") || p.starts_with("20"));
    let month = |p: &String| MONTHS.contains(&p.as_str());
    match &parts[..] {
        [a, b] => day(a) && month(b) || month(a) && (day(b) || year(b)),
        [a, b, c] => {
            year(a) && day(b) && day(c) || day(a) && day(b) && year(c) || day(a) && month(b) && (day(c) || year(c))
        }
        _ => false,
    }
}

/// Whether a spreadsheet has shortened a long number: `1.1E+05`, `1,10E+05`.
pub fn shortened(text: &str) -> bool {
    let Some((number, power)) = text.trim().split_once(['E', 'e']) else { return false };
    let signed = power.strip_prefix(['+', '-']).is_some_and(|p| !p.is_empty() && p.bytes().all(|b| b.is_ascii_digit()));
    signed && !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b','))
}

/// Whether a text is a bare number other than nothing, without a unit: `1200`, `.058`. A fraction is inches by nature.
pub fn bare(text: &str) -> bool {
    let number = text.split('(').next().unwrap_or("").trim().trim_start_matches(['-', '+', '\u{2212}']);
    number.bytes().all(|b| b.is_ascii_digit() || b == b'.') && number.bytes().any(|b| (b'1'..=b'9').contains(&b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_decimal_comma_that_can_be_nothing_else_becomes_a_point() {
        for (text, plain) in [
            ("282,5", "282.5"),
            ("282,5 mm", "282.5 mm"),
            ("6,5mm", "6.5 mm"),
            ("0,125", "0.125"),
            ("-0,8 mm", "-0.8 mm"),
            ("1.282,5", "1282.5"),
            ("1 282,500 kg", "1282.500 kg"),
            ("2,0", "2.0"),
        ] {
            assert_eq!(with_point(text).as_deref(), Some(plain), "{text}");
        }
        for text in ["1,600", "1,600 mm", "A, B", "3,2x8", ",5", "5,", "1,2,3", "holes 1,2", "282.5", "Rohr 25x1,5", ""]
        {
            assert_eq!(with_point(text), None, "{text}");
        }
    }

    #[test]
    fn what_was_meant_is_said() {
        let help = |text| misread(text, "write it as `608 mm`");
        assert_eq!(help("282,5 mm").unwrap(), "write it with a decimal point: `282.5 mm`");
        assert_eq!(
            help("1,600 mm").unwrap(),
            "write `1.6 mm` if its mark is a decimal one, `1600 mm` if it parts thousands"
        );
        assert_eq!(help("1 600 mm").unwrap(), "write thousands without a mark: `1600 mm`");
        assert_eq!(help("1'600").unwrap(), "write thousands without a mark: `1600`");
        for date in
            ["2026-03-08", "08.03.2026", "03/08/2026", "08. Mrz", "08.Mrz", "8-Mar", "Mar-08", "Mar 2026", "8. Okt 26"]
        {
            assert!(help(date).unwrap().starts_with("a spreadsheet has made a date of it"), "{date}");
        }
        assert!(help("1,10E+05").unwrap().starts_with("a spreadsheet has shortened it"));
        for text in ["abc", "12 furlong", "1/0", "10-12-24", "AN3-6A", "KW-103", "E+5", "", "1 2 3"] {
            assert_eq!(help(text), None, "{text}");
        }
    }

    #[test]
    fn a_heading_gives_the_unit_of_bare_numbers() {
        for (heading, read) in [
            ("cut length (mm)", Some(("cut length", "mm"))),
            ("weight [kg]", Some(("weight", "kg"))),
            ("wall in mm", Some(("wall", "mm"))),
            ("length(in)", Some(("length", "in"))),
            ("length", None),
            ("length (rough)", None),
            ("made in house", None),
        ] {
            assert_eq!(heading_unit(heading), read, "{heading}");
        }
        for (cell, read) in [
            ("1200", "1200 mm"),
            (".058", ".058 mm"),
            ("5 (from memory)", "5 mm (from memory)"),
            ("3/8 in", "3/8 in"),
            ("#30", "#30"),
            ("", ""),
        ] {
            assert_eq!(with_unit(cell.to_owned(), "mm"), read);
        }
    }

    #[test]
    fn a_point_before_three_digits_has_two_readings() {
        assert_eq!(thousands_or_decimals("1.600 mm"), Some(("1600 mm".into(), "1.6 mm".into())));
        assert_eq!(thousands_or_decimals("1.250 g"), Some(("1250 g".into(), "1.25 g".into())));
        for text in ["0.125", "1.25 mm", "1600 mm", ".058", "1.2500"] {
            assert_eq!(thousands_or_decimals(text), None, "{text}");
        }
    }

    #[test]
    fn a_bare_number_has_no_unit() {
        for text in ["1200", ".058", "-3", "25.4", "5 (from memory)"] {
            assert!(bare(text), "{text}");
        }
        for text in ["0", "0.0", "1/2", "23 15/16", "5 mm", "#30", "F", "12 ft 3 in", ""] {
            assert!(!bare(text), "{text}");
        }
    }

    proptest::proptest! {
        /// Any text is looked at without a fault, and a point stands where a comma did.
        #[test]
        fn any_text_is_looked_at(text in "\\PC{0,12}") {
            let _ = (misread(&text, ""), thousands_or_decimals(&text), bare(&text), shortened(&text));
            if let Some(plain) = with_point(&text) {
                proptest::prop_assert!(!plain.contains(',') && with_point(&plain).is_none());
            }
        }
    }
}
