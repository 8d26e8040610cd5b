//! `kits.csv`: the kits that were shipped, and `shipped.csv`: what is otherwise in one of them.

use super::fields::value;
use super::parts::{missing, unknown_word};
use super::settings::serial;
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink};
use crate::model::manual::{Deviation, DeviationKind, Kit, KitPlace};
use crate::model::schema::{KIT_ROWS, SHIPPED_ROWS, part_of};
use crate::source::Spanned;
use crate::syntax::SourceTable;
use crate::units::{Date, StepId, UnreadableNumber};

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
            date: c.filled(row, "date").and_then(|d| date(d, sink)),
            status: c.filled(row, "status").cloned(),
            answered: answered(&c.text(row, "answered")),
        });
    }
    (kits, personal)
}

/// A day, as ISO 8601 writes it.
fn date(cell: &Spanned<String>, sink: &mut Sink) -> Option<Spanned<Date>> {
    let parse = |text: &str| {
        Date::parse(text.trim()).ok_or_else(|| UnreadableNumber(format!("`{}` is not a date", text.trim())))
    };
    let day = value(cell, "write year, month and day, for example `2026-03-02`", parse, sink)?;
    Some(Spanned::new(day, cell.span))
}

/// `join-keel/lug-bolt; fit-mast`. None where one of them can't be read: the row is not used then.
fn places(cell: &Spanned<String>, sink: &mut Sink) -> Option<Vec<KitPlace>> {
    let mut places: Vec<KitPlace> = Vec::new();
    let before = sink.len();
    for piece in cell.value.split(';').filter(|p| !p.trim().is_empty()) {
        let (step, joint) = match piece.split_once('/') {
            Some((step, joint)) => (step, Some(joint)),
            None => (piece, None),
        };
        let spanned = |text: &str| Spanned::new(text.trim().to_owned(), part_of(&cell.value, cell.span, text));
        let (step, joint) = (spanned(step), joint.map(spanned));
        if step.value.is_empty() || joint.as_ref().is_some_and(|j| j.value.is_empty() || j.value.contains('/')) {
            sink.push(
                Diagnostic::error("unreadable-value", format!("`{}` is not a place in a kit", piece.trim()))
                    .at(part_of(&cell.value, cell.span, piece), "can't be read")
                    .help("write a step's id, or `STEP/JOINT` for one of its joints, and `;` between two places"),
            );
            continue;
        }
        let place = KitPlace { step: step.map(StepId::new), joint };
        if places.contains(&place) {
            sink.push(
                Diagnostic::error("duplicate-number", format!("the place `{}` is there twice", piece.trim()))
                    .at(part_of(&cell.value, cell.span, piece), "the second one, which is not used")
                    .help("delete one of the two"),
            );
            continue;
        }
        places.push(place);
    }
    (sink.len() == before).then_some(places)
}

/// What a row of each kind must say, and what says nothing in it. A row that is not understood is not used.
fn says_enough(d: &Deviation, what: &Spanned<String>, sink: &mut Sink) -> bool {
    let mut lacks = |column: &str, why: &str| {
        sink.push(
            Diagnostic::error("missing-value", format!("the row of kit {} has no {column}", d.serial.value))
                .at(what.span, format!("the {column} is missing in this row"))
                .help(format!("{why}, or delete the row"))
                .about(d.serial.value),
        );
        false
    };
    let kind = d.kind;
    let enough = match kind {
        DeviationKind::Substituted if d.with.is_none() => lacks("with", "say in `with` what was put in its place"),
        DeviationKind::Lot if d.lot.is_none() => lacks("lot", "write the number of the lot"),
        DeviationKind::InAddition if d.quantity.is_none() => lacks("quantity", "say how many were sent"),
        _ => true,
    };
    let mut stray = |column: &str, span: crate::source::Span| {
        sink.push(
            Diagnostic::error(
                "unreadable-value",
                format!("`{column}` says nothing in a row of kind `{}`", kind.word()),
            )
            .at(span, "not used")
            .help("empty the cell, or correct the column `what`")
            .about(d.serial.value),
        );
    };
    let takes_with = matches!(kind, DeviationKind::Substituted | DeviationKind::SentLater);
    if let Some(with) = d.with.as_ref().filter(|_| !takes_with) {
        stray("with", with.span);
    }
    if let Some(approved) = d.approved.as_ref().filter(|_| kind != DeviationKind::Substituted) {
        stray("approved", approved.span);
    }
    if let Some(expected) = d.expected.as_ref().filter(|_| kind != DeviationKind::BackOrder) {
        stray("expected", expected.span);
    }
    if let Some(place) = d.places.first().filter(|_| matches!(kind, DeviationKind::Lot | DeviationKind::SentLater)) {
        stray("where", place.step.span);
    }
    enough
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
        let Some(places) = c.filled(row, "where").map_or(Some(Vec::new()), |cell| places(cell, sink)) else { continue };
        let deviation = Deviation {
            serial: Spanned::new(serial, number.span),
            item: item.clone(),
            kind,
            with: c.filled(row, "with").cloned(),
            places,
            quantity: c
                .filled(row, "quantity")
                .and_then(|q| super::fields::count(q, sink).map(|n| Spanned::new(n, q.span))),
            approved: c.filled(row, "approved").cloned(),
            lot: c.filled(row, "lot").cloned(),
            release: c.filled(row, "release").cloned(),
            date: c.filled(row, "date").and_then(|d| date(d, sink)),
            expected: c.filled(row, "expected").and_then(|d| date(d, sink)),
            note: c.text(row, "note"),
            span: row.span,
        };
        if says_enough(&deviation, what, sink) {
            deviations.push(deviation);
        }
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
