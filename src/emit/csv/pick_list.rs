//! The pick list as a table.

use super::table::Csv;
use crate::document::PickRow;
use crate::units::Hand;

/// The pick list as a CSV file: a row for each thing that a step takes, under a head row.
pub fn pick_list_csv(rows: &[PickRow]) -> Vec<u8> {
    let columns = [
        "step",
        "number",
        "kind",
        "item",
        "designation",
        "quantity",
        "hand",
        "bin",
        "bag",
        "crate",
        "goes with",
        "on back order",
        "in place of",
    ];
    let mut table = Csv::new(columns);
    for row in rows {
        let PickRow { step, number, kind, item, designation, hand, bin, bag, crate_, .. } = row;
        let quantity = row.quantity.to_string();
        let owed = if *row.owed.value.numer() > 0 { row.owed.to_string() } else { String::new() };
        let hand = hand.map_or("", Hand::word);
        let with: Vec<String> = row.goes_with.iter().map(|(fastener, n)| format!("{n} for {fastener}")).collect();
        let with = with.join(", ");
        let stands_for: Vec<String> = row.in_place_of.iter().map(|(of, n)| format!("{n} x {of}")).collect();
        let stands_for = stands_for.join(", ");
        table.row([
            step,
            number,
            kind.word(),
            item,
            designation,
            quantity.as_str(),
            hand,
            bin,
            bag,
            crate_,
            with.as_str(),
            owed.as_str(),
            stands_for.as_str(),
        ]);
    }
    table.into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::PickKind;
    use crate::units::Quantity;

    #[test]
    fn has_a_cell_for_every_column() {
        let row = PickRow {
            step: "mast-foot".into(),
            number: "3.12".into(),
            kind: PickKind::Hardware,
            item: "Rivet, 1/8 in".into(),
            designation: "MS20470AD4-5".into(),
            quantity: Quantity::parse("0.05 lb").expect("a quantity"),
            owed: Quantity::parse("0.02 lb").expect("a quantity"),
            in_place_of: vec![("MS20470AD4-4".into(), crate::units::Rational::new(1, 50))],
            hand: Some(Hand::Left),
            bin: "=H3".into(),
            bag: "B7".into(),
            crate_: "2".into(),
            goes_with: vec![("AN4-17A".into(), 6), ("AN4-15A".into(), 4)],
        };
        let bytes = pick_list_csv(&[row]);
        // Read back by the csv crate behind the byte order mark.
        let mut reader = csv::Reader::from_reader(&bytes[3..]);
        let head = reader.headers().expect("a head row").clone();
        let first = reader.records().next().expect("one row").expect("as long as the head row");
        let cells: Vec<(&str, &str)> = head.iter().zip(first.iter()).collect();
        assert_eq!(
            cells,
            [
                ("step", "mast-foot"),
                ("number", "3.12"),
                ("kind", "hardware"),
                ("item", "Rivet, 1/8 in"),
                ("designation", "MS20470AD4-5"),
                ("quantity", "0.05 lb"),
                ("hand", "left"),
                ("bin", "'=H3"),
                ("bag", "B7"),
                ("crate", "2"),
                ("goes with", "6 for AN4-17A, 4 for AN4-15A"),
                ("on back order", "0.02 lb"),
                ("in place of", "1/50 x MS20470AD4-4"),
            ]
        );
    }
}
