//! The pick list as a table.

use super::table::Csv;

/// A row of a pick list: one thing that a step takes. Everything as it is to be shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PickRow {
    /// The step's permanent id.
    pub step: String,
    /// The step's number in this configuration, `3.12`.
    pub number: String,
    /// `part` or `hardware`.
    pub kind: String,
    /// The name.
    pub item: String,
    /// Part number or designation.
    pub designation: String,
    pub quantity: String,
    /// `left`, `right` or empty.
    pub hand: String,
    pub bin: String,
    pub bag: String,
    /// `crate` in the file; the word is taken in Rust.
    pub in_crate: String,
}

/// The pick list as a CSV file.
pub fn pick_list_csv(rows: &[PickRow]) -> Vec<u8> {
    let columns = ["step", "number", "kind", "item", "designation", "quantity", "hand", "bin", "bag", "crate"];
    let mut table = Csv::new(columns);
    for row in rows {
        let PickRow { step, number, kind, item, designation, quantity, hand, bin, bag, in_crate } = row;
        let cells = [step, number, kind, item, designation, quantity, hand, bin, bag, in_crate];
        table.row(cells.map(String::as_str));
    }
    table.into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn has_a_cell_for_every_column() {
        let row = PickRow {
            step: "mast-foot".into(),
            number: "3.12".into(),
            kind: "hardware".into(),
            item: "Bolt, 3/16 in".into(),
            designation: "AN3-5A".into(),
            quantity: "4".into(),
            bag: "B7".into(),
            ..PickRow::default()
        };
        let bytes = pick_list_csv(&[row]);
        let mut reader = csv::Reader::from_reader(&bytes[3..]);
        let head = reader.headers().expect("a head row").clone();
        let first = reader.records().next().expect("one row").expect("as long as the head row");
        let cells: Vec<(&str, &str)> = head.iter().zip(first.iter()).collect();
        assert_eq!(cells[3], ("item", "Bolt, 3/16 in"));
        assert_eq!(cells[8], ("bag", "B7"));
        assert_eq!(cells.len(), 10);
    }
}
