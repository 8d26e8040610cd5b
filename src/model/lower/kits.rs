//! `kits.csv`: the kits that were shipped.

use super::fields::{Key, key};
use super::parts::missing;
use super::settings::serial;
use super::tables::Columns;
use crate::diag::{Diagnostic, Sink};
use crate::model::manual::Kit;
use crate::source::Spanned;
use crate::syntax::Table;

/// The columns of the kit register.
pub const KIT_COLUMNS: &[Key] = &[
    key("serial", "the kit's serial number"),
    key("configuration", "as `VARIANT+option+option`"),
    key("release", "the letter of the release that was shipped"),
    key("date", "when it was shipped"),
    key("status", "a word of the maker's"),
];

pub(super) fn kits(table: &Table, sink: &mut Sink) -> Vec<Kit> {
    let c = Columns::new(table, KIT_COLUMNS, &[], &["serial", "configuration"], sink);
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
        });
    }
    kits
}
