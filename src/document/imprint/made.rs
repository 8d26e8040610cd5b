//! The imprints of every document that is made of a configuration.

use super::{Imprint, LeafChange, Pictures};
use crate::change::digest;
use crate::document::compose::{
    box_sheet, cable_rows, hole_rows, joint_rows, pick_lists, pick_rows, receiving_list, templates, wire_rows,
};
use crate::document::edition::{Edition, LiesIn};
use crate::document::leaf::{Document, Purpose};
use crate::document::pick_row::PickRow;
use crate::document::sheet::{CsvSheet, StepName};
use crate::drawing::PrintScale;
use crate::model::Manual;
use crate::resolve::Resolved;

/// All documents of a configuration. One that is not made is not among them.
#[derive(Clone, Debug, Default)]
pub struct MadeImprints {
    /// The name of each, and what is printed on it.
    documents: Vec<(&'static str, Imprint)>,
    /// The name of each sheet, and the digest of what is in it.
    sheets: Vec<(&'static str, [u8; 32])>,
}

/// A document that comes out otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TouchedDocument {
    /// The name of its file or folder.
    pub name: &'static str,
    /// Empty where it is a sheet.
    pub change: LeafChange,
}

impl MadeImprints {
    /// The build manual's name among them.
    pub const MANUAL: &'static str = "manual";

    pub fn of(manual: &Manual, resolved: &Resolved, pictures: Pictures) -> Self {
        let edition = Edition::default();
        let mut made = Self::default();
        for (name, purpose) in [(Self::MANUAL, Purpose::Manual), ("shop-copy.pdf", Purpose::ShopCopy)] {
            made.documents.push((name, Imprint::of(manual, resolved, purpose, pictures)));
        }
        let mut document = |name, document: Option<Document>| {
            made.documents.extend(document.map(|d| (name, Imprint::of_document(&d, resolved, pictures))));
        };
        document("pick-lists.pdf", Some(pick_lists(manual, resolved)));
        document("receiving-list.pdf", receiving_list(manual, resolved, &edition));
        document("templates.pdf", templates(manual, resolved, PrintScale::TRUE));
        let picks: Vec<PickRow> =
            pick_rows(manual, resolved).into_iter().map(|row| PickRow { number: String::new(), ..row }).collect();
        made.sheets.push(("pick-lists.csv", digest(format!("{picks:?}").as_bytes())));
        let mut sheet = |name, sheet: CsvSheet| made.sheets.push((name, digest(format!("{sheet:?}").as_bytes())));
        sheet("receiving-list.csv", box_sheet(manual, resolved, LiesIn::Bins));
        sheet("joints.csv", joint_rows(manual, resolved, StepName::Id));
        sheet("holes.csv", hole_rows(manual, resolved, StepName::Id));
        let cables = cable_rows(manual, resolved, StepName::Id);
        if !cables.rows.is_empty() {
            sheet("cables.csv", cables);
        }
        let wires = wire_rows(manual, resolved, StepName::Id);
        if !wires.rows.is_empty() {
            sheet("wires.csv", wires);
        }
        made
    }

    /// The documents that come out otherwise, in the order in which they are made.
    pub fn compare(&self, after: &Self) -> Vec<TouchedDocument> {
        let mut touched = Vec::new();
        let nothing = Imprint::default();
        for (name, imprint) in &after.documents {
            let before = self.documents.iter().find(|(n, _)| n == name).map_or(&nothing, |(_, imprint)| imprint);
            let change = before.compare(imprint);
            if !change.is_empty() {
                touched.push(TouchedDocument { name, change });
            }
        }
        let sheets = after.sheets.iter().filter(|sheet| !self.sheets.contains(sheet));
        touched.extend(sheets.map(|(name, _)| TouchedDocument { name, change: LeafChange::default() }));
        touched
    }
}
