//! CSV. Workbooks stand in `workbook`.

use super::desk::Desk;

#[test]
fn a_ragged_row() {
    let desk = Desk::new();
    desk.edit("parts.csv", "0104,Plate,0.4 lb,1\n", "0104,Plate,0.4 lb,1,7,8\n");
    desk.refused(&["parts.csv row 2, E: error: ragged-row"], "");
}

#[test]
fn a_missing_column() {
    let desk = Desk::new();
    desk.edit("parts.csv", "number,name,", "number,remark,");
    desk.refused(&["parts.csv row 1, number: error: missing-column", "parts.csv row 1, remark: hint: unknown-column"], "add a column headed `name`");
}

#[test]
fn a_misspelt_column() {
    let desk = Desk::new();
    desk.edit("parts.csv", "number,name,", "number,nam,");
    desk.refused(&["parts.csv row 1, nam: error: misspelt-column"], "write `name`");
}

#[test]
fn a_number_that_stands_twice() {
    let desk = Desk::new();
    desk.edit("parts.csv", "T-2,Rail,,2\n", "T-2,Rail,,2\nT-2,Rail,,2\n");
    desk.refused(&["parts.csv row 4, number: error: duplicate-number"], "delete one of the two rows");
}

#[test]
fn an_unknown_unit() {
    let desk = Desk::new();
    desk.edit("parts.csv", "0.4 lb", "0.4 stone");
    desk.refused(&["parts.csv row 2, weight: error: unreadable-value"], "0.4 stone");
}

#[test]
fn a_negative_and_a_fractional_count() {
    for (count, rule) in [("-1", "bad-count"), ("1.5", "unreadable-value")] {
        let desk = Desk::new();
        desk.edit("parts.csv", "T-2,Rail,,2\n", &format!("T-2,Rail,,{count}\n"));
        desk.refused(&[&format!("parts.csv row 3, ONE: error: {rule}")], count);
    }
}

#[test]
fn a_table_as_spreadsheet_programs_write_it() {
    let utf_16 = |text: &str| -> Vec<u8> { [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect() };
    let table = |separator: &str| "number;name;weight;ONE\r\n0104;Plate é;0.4 lb;1\r\nT-2;Rail;;2\r\n".replace(';', separator);
    let windows_1252 = |text: &str| -> Vec<u8> { text.chars().map(|c| if c == 'é' { 0xe9 } else { c as u8 }).collect() };
    for bytes in [
        table(",").into_bytes(),
        table(";").into_bytes(),
        table("\t").into_bytes(),
        format!("\u{feff}{}", table(";")).into_bytes(),
        utf_16(&table("\t")),
        windows_1252(&table(";")),
    ] {
        let desk = Desk::new();
        desk.put("parts.csv", bytes);
        desk.compiles(&[]);
    }
}
