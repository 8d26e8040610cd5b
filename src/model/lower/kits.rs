//! `kits.csv`: the kits that were shipped, and `shipped.csv`: what is otherwise in one of them.

use super::parts::{missing, unknown_word};
use super::settings::serial;
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink};
use crate::model::manual::{Deviation, DeviationKind, Kit};
use crate::model::schema::{KIT_ROWS, SHIPPED_ROWS};
use crate::source::Spanned;
use crate::syntax::SourceTable;

/// Words of headings that name a person or where to find one. The register needs none of that.
const PERSONAL: [&str; 22] = [
    "name",
    "first name",
    "last name",
    "surname",
    "family name",
    "customer",
    "owner",
    "builder",
    "buyer",
    "contact",
    "address",
    "street",
    "city",
    "town",
    "zip",
    "postcode",
    "postal code",
    "country",
    "email",
    "e-mail",
    "phone",
    "telephone",
];

/// Headings that look like personal data.
fn personal(table: &SourceTable) -> Vec<Spanned<String>> {
    let looks = |heading: &str| {
        let normal = super::tables::normal(heading);
        let words: Vec<&str> = normal.split(|c: char| !c.is_alphanumeric() && c != '-').collect();
        PERSONAL.contains(&normal.as_str()) || words.iter().any(|w| PERSONAL.contains(w))
    };
    table.columns.iter().filter(|c| looks(&c.value)).cloned().collect()
}

/// `B 2026-03-01; lot 4711` as `B`, `lot 4711`; a date in another form counts as one too.
fn answered(text: &str) -> Vec<String> {
    let is_date = |w: &str| {
        let parts: Vec<&str> = w.split(['-', '.', '/']).collect();
        parts.len() == 3 && parts.iter().all(|p| matches!(p.len(), 1 | 2 | 4) && p.bytes().all(|b| b.is_ascii_digit()))
    };
    let bare = |item: &str| item.split_whitespace().filter(|w| !is_date(w)).collect::<Vec<_>>().join(" ");
    text.split(';').map(bare).filter(|i| !i.is_empty()).collect()
}

pub(super) fn kits(table: &SourceTable, sink: &mut Sink) -> (Vec<Kit>, Vec<Spanned<String>>) {
    let personal = personal(table);
    let extra: Vec<String> = personal.iter().map(|p| p.value.clone()).collect();
    let c = Columns::new(table, &KIT_ROWS, &extra, sink);
    let mut kits: Vec<Kit> = Vec::new();
    for row in c.rows() {
        let Some(cell) = c.filled(row, "serial") else {
            missing(row, "serial", sink);
            continue;
        };
        let Some(number) = serial(cell, sink) else { continue };
        let Some(configuration) = c.filled(row, "configuration") else {
            missing(row, "configuration", sink);
            continue;
        };
        if let Some(first) = kits.iter().find(|k| k.serial.value == number) {
            sink.push(
                Diagnostic::error("duplicate-number", format!("kit {number} is there twice"))
                    .at(cell.span, "the second one, which is not used")
                    .note(first.serial.span, "the first one")
                    .help("delete one of the two rows")
                    .about(number),
            );
            continue;
        }
        kits.push(Kit {
            serial: Spanned::new(number, cell.span),
            configuration: configuration.clone(),
            release: c.filled(row, "release").cloned(),
            date: c.filled(row, "date").cloned(),
            status: c.filled(row, "status").cloned(),
            answered: answered(&c.text(row, "answered")),
        });
    }
    (kits, personal)
}

pub(super) fn shipped(table: &SourceTable, sink: &mut Sink) -> (Vec<Deviation>, Vec<Spanned<String>>) {
    let personal = personal(table);
    let extra: Vec<String> = personal.iter().map(|p| p.value.clone()).collect();
    let c = Columns::new(table, &SHIPPED_ROWS, &extra, sink);
    let mut deviations = Vec::new();
    for row in c.rows() {
        let [Some(number), Some(item), Some(what)] = ["serial", "item", "what"].map(|name| {
            let cell = c.filled(row, name);
            if cell.is_none() {
                missing(row, name, sink);
            }
            cell
        }) else {
            continue;
        };
        let Some(serial) = serial(number, sink) else { continue };
        let Some(kind) = DeviationKind::from_word(&what.value) else {
            let words: Vec<_> = DeviationKind::ALL.iter().map(|k| k.word()).collect();
            unknown_word(what, "what", &words, sink);
            continue;
        };
        deviations.push(Deviation {
            serial: Spanned::new(serial, number.span),
            item: item.clone(),
            kind,
            with: c.filled(row, "with").cloned(),
            quantity: c
                .filled(row, "quantity")
                .and_then(|q| super::fields::count(q, sink).map(|n| Spanned::new(n, q.span))),
            lot: c.filled(row, "lot").cloned(),
            release: c.filled(row, "release").cloned(),
            date: c.filled(row, "date").cloned(),
            note: c.text(row, "note"),
            span: row.span,
        });
    }
    (deviations, personal)
}

#[cfg(test)]
mod tests {
    use super::answered;

    #[test]
    fn what_was_answered_stands_without_its_date() {
        for text in ["B 2026-03-01; lot 4711", "B 1.3.2026;lot 4711 03/01/2026", "B; lot 4711 01.03.26"] {
            assert_eq!(answered(text), ["B", "lot 4711"], "{text}");
        }
        assert_eq!(answered("lot 1-2-3456-7"), ["lot 1-2-3456-7"]);
    }
}
