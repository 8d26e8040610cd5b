//! CSV. Workbooks stand in `workbook`.

use super::desk::{Desk, STEP_PATH};

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
    desk.refused(
        &["parts.csv row 1, number: error: missing-column", "parts.csv row 1, remark: hint: unknown-column"],
        "add a column headed `name`",
    );
}

#[test]
fn a_misspelt_column() {
    let desk = Desk::new();
    desk.edit("parts.csv", "number,name,", "number,nam,");
    desk.refused(&["parts.csv row 1, nam: error: misspelt-column"], "did you mean `name`?");
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
    let utf_16 = |text: &str| -> Vec<u8> {
        [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect()
    };
    let table =
        |separator: &str| "number;name;weight;ONE\r\n0104;Plate é;0.4 lb;1\r\nT-2;Rail;;2\r\n".replace(';', separator);
    let windows_1252 =
        |text: &str| -> Vec<u8> { text.chars().map(|c| if c == 'é' { 0xe9 } else { c as u8 }).collect() };
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

/// What a spreadsheet with a decimal comma writes, with a title above the headings and the units in them.
#[test]
fn a_table_from_a_country_of_decimal_commas() {
    let desk = |number: &str, length: &str| {
        let desk = Desk::new();
        desk.edit("manual.yaml", "title: Trolley\n", "title: Trolley\nunits: mm\n");
        let head = "Parts of the trolley;;;;\r\n;;;;\r\nnumber;name;cut length (mm);Weight [kg];ONE\r\n";
        let rows = format!("{number};Plate;{length};0,42;1\r\nT-2;Rail;1.282,5;;2,0\r\n;;;;\r\n");
        desk.put("parts.csv", format!("{head}{rows}"));
        desk
    };
    desk("0104", "282,5").compiles(&[]);
    // Which of two readings is meant is not guessed, and a date is told as one.
    desk("0104", "1,600")
        .refused(&["parts.csv row 4, cut length (mm): error: unreadable-value"], "`1600` if it parts thousands");
    desk("0104", "1.600").refused(&["parts.csv row 4, cut length (mm): error: two-readings"], "may be 1600 or 1.6");
    desk("0104", "3/8")
        .refused(&["parts.csv row 4, cut length (mm): error: two-readings"], "is a fraction under a heading in mm");
    desk("0104", "08. Mrz")
        .refused(&["parts.csv row 4, cut length (mm): error: unreadable-value"], "a spreadsheet has made a date of it");
    desk("01. Apr", "282,5")
        .refused_with("parts.csv row 4, number: warning: number-as-value", "looks like a date that a spreadsheet made");
}

/// In a manual in millimetres a bare number is no inch; elsewhere it is.
#[test]
fn a_bare_number_in_a_manual_in_millimetres() {
    let desk = |units: &str, length: &str, target: &str| {
        let desk = Desk::new();
        desk.edit("manual.yaml", "title: Trolley\n", &format!("title: Trolley\nunits: {units}\n"));
        desk.put(
            "parts.csv",
            format!("number,name,weight,cut length,ONE\n0104,Plate,0.4 lb,{length},1\nT-2,Rail,,1/2,2\n"),
        );
        desk.edit(
            STEP_PATH,
            "tools: [spanner]\n",
            &format!("tools: [spanner]\nmeasure:\n  - {{ measure: Gap, target: {target}, tolerance: 0 }}\n"),
        );
        desk
    };
    desk("inch-fraction", "1200", "2").compiles(&[]);
    desk("mm", "1200 mm", "2 mm").compiles(&[]);
    desk("mm", "1200", "2")
        .refused(&["parts.csv row 2, cut length: error: value-without-unit"], "`1200` and one more value have no unit");
    desk("mm", "1200 mm", "2")
        .refused(&["steps/frame/10-rail.md:9: error: value-without-unit"], "write `2 mm`, or the unit that is meant");
}

#[test]
fn a_column_of_counts_under_a_wrong_name() {
    let desk = Desk::new();
    desk.edit(
        "manual.yaml",
        "  ONE: { title: One }\n",
        "  ONE: { title: One }\n  LONG: { title: Long, based-on: ONE }\n",
    );
    desk.edit(
        "parts.csv",
        "number,name,weight,ONE\n0104,Plate,0.4 lb,1\nT-2,Rail,,2\n",
        "number,name,weight,ONE,Second model\n0104,Plate,0.4 lb,1,1\nT-2,Rail,,2,2\n",
    );
    desk.compiles(&["parts.csv row 1, Second model: warning: unknown-column"]);
}
