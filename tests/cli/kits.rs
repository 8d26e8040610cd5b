//! `impact`, `notice`, `convert`, and manuals for one kit: what is written and what is said.

use super::Desk;

const FIRST: [&str; 7] = ["release", "--summary", "First issue", "--class", "information", "--date", "2026-01-05"];
const KITS: &str =
    "serial,configuration,release,date,status\n7,PLAIN,A,2026-01-10,shipped\n8,TALL,A,2026-01-20,shipped\n";

fn released() -> Desk {
    let desk = Desk::with_manual();
    desk.run(&FIRST).ends(0);
    desk.write("manual-src/kits.csv", KITS);
    desk.write(
        "manual-src/shipped.csv",
        "serial,item,what,quantity,lot,note\n8,GT-104,lot,2,L-12,Look at the edges.\n",
    );
    desk
}

#[test]
fn an_impact_is_told_as_text_and_as_json() {
    let desk = Desk::with_manual();
    assert!(desk.run(&["impact"]).ends(2).err.contains("nothing was released yet"));
    let desk = released();
    assert!(desk.run(&["impact"]).ends(0).out.contains("nothing differs"));
    desk.edit(
        "manual-src/parts.csv",
        "GT-106,Tall handle tube,,,6061-T6,TUBE-1,38",
        "GT-106,Tall handle tube,,,6061-T6,TUBE-1,39",
    );
    let text = desk.run(&["impact"]).ends(0).out;
    assert!(text.contains("part GT-106: cut length: 38 becomes 39\n      in TALL\n"), "{text}");
    assert!(text.contains("kit 8: TALL, release A, shipped") && !text.contains("kit 7"), "{text}");
    let json: serde_json::Value =
        serde_json::from_str(&desk.run(&["impact", "--format", "json"]).ends(0).out).expect("JSON");
    assert_eq!(json["since"], "A");
    // The length that the step cuts to is written in the step: what is printed stays as it was, and the shop saws anew.
    assert_eq!(json["documents"].as_array().map(Vec::len), Some(0));
    assert_eq!(json["work"].as_array().map(Vec::len), Some(1));
    let found = desk.run(&["check"]).ends(1).out;
    assert!(found.contains("number-not-changed"), "{found}");
}

/// A list saved again by a spreadsheet with a decimal comma says what it said.
#[test]
fn another_spelling_of_a_list_is_no_change() {
    let desk = released();
    let stock = desk.read("manual-src/stock.csv");
    assert!(stock.contains("28.00"), "{stock}");
    desk.write("manual-src/stock.csv", &stock.replace(',', ";").replace("28.00", "28,00"));
    let text = desk.run(&["impact"]).ends(0).out;
    assert!(text.contains("nothing differs"), "{text}");
}

/// A configuration is told by what it means, not by how the register spells it.
#[test]
fn a_kit_counts_however_its_configuration_is_spelt() {
    let desk = Desk::with_manual();
    desk.edit(
        "manual-src/manual.yaml",
        "configurations: [",
        "options:\n  bell: { title: Bell }\n  lamp: { title: Lamp }\nconfigurations: [",
    );
    desk.run(&FIRST).ends(0);
    desk.write(
        "manual-src/kits.csv",
        "serial,configuration,release,date,status\n9,TALL + lamp + bell,A,2026-01-20,shipped\n",
    );
    desk.edit(
        "manual-src/steps/frame/10-handle.md",
        "1. Mark end B of the tube.",
        "1. Mark end B of the tube with a pen.",
    );
    let text = desk.run(&["impact"]).ends(0).out;
    assert!(text.contains("kit 9: TALL+bell+lamp, release A, shipped"), "{text}");
}

#[test]
fn a_notice_writes_lists_and_documents() {
    let desk = released();
    let said = ["notice", "--lot", "L-12", "--class", "recommended", "--summary", "Sharp edges"];
    let run = desk.run(&said).ends(0);
    assert!(
        run.out.contains("kit 8 (TALL, A): yes") && run.out.contains("kit 7 (PLAIN, A): no: it does not have it"),
        "{}",
        run.out
    );
    let files = desk.files("out/notices/lot-L-12");
    assert_eq!(
        files.keys().map(String::as_str).collect::<Vec<_>>(),
        [".kitwright", "kit-0008.pdf", "kits.csv", "to-send.csv"]
    );
    assert!(desk.read("out/notices/lot-L-12/to-send.csv").contains("8,GT-104,Axle clamp,2,A2,lot L-12"));
    desk.run(&["notice", "--lot", "L-12"]).ends(2);
    desk.run(&["notice"]).ends(2);
    let refused = desk.run(&["notice", "--part", "GT-104", "--class", "mandatory", "--summary", "x"]).ends(2);
    assert!(refused.err.contains("does not say what to do where it is built in already"), "{}", refused.err);
    assert!(desk.run(&["notice", "A"]).ends(2).err.contains("release A is the first one"));
}

#[test]
fn a_conversion_is_a_folder_of_its_own() {
    let desk = released();
    desk.run(&["convert", "kit-7", "TALL"]).ends(0);
    let files = desk.files("out/conversions/kit-0007-to-TALL");
    for name in ["conversion.pdf", "conversion/index.html", "pick-lists.pdf", "pick-lists.csv"] {
        assert!(files.contains_key(name), "{name}: {:?}", files.keys().collect::<Vec<_>>());
    }
    let list = desk.read("out/conversions/kit-0007-to-TALL/pick-lists.csv");
    assert!(list.contains("GT-106") && !list.contains("GT-105"), "{list}");
    assert!(desk.run(&["convert", "PLAIN", "TOLL"]).ends(2).err.contains("`TOLL` is no configuration"));
}

#[test]
fn a_manual_for_one_kit_shows_what_is_otherwise_in_it() {
    let desk = released();
    desk.run(&["compile", "--configuration", "kit-0008"]).ends(0);
    let pages = desk.files("out/kit-0008/manual");
    let told: Vec<_> = pages
        .iter()
        .filter(|(path, bytes)| {
            path.starts_with("step-") && String::from_utf8_lossy(bytes).contains("In this kit only")
        })
        .map(|(path, _)| path.as_str())
        .collect();
    assert_eq!(told, ["step-axle.html"]);
    assert!(desk.read("out/kit-0008/manual/index.html").contains("Release A, 2026-01-05"));
    assert!(desk.run(&["compile", "--configuration", "kit-9"]).ends(2).err.contains("there is no kit 9"));
    let two = desk.run(&["compile", "--configuration", "kit-0008", "--configuration", "TALL"]).ends(2);
    assert!(two.err.contains("make a kit in a run of its own"), "{}", two.err);
    // The older spelling.
    desk.run(&["compile", "--kit", "8", "--configuration", "TALL"]).ends(2);
    assert!(desk.run(&["compile", "--kit", "9"]).ends(2).err.contains("there is no kit 9"));
}

#[test]
fn a_comparison_can_be_written_as_pages_and_on_paper() {
    let desk = released();
    desk.edit("manual-src/steps/frame/10-handle.md", "title: ", "title: Now ");
    desk.run(&["compare", "A/TALL", "TALL", "--out", "out/changes"]).ends(0);
    let files = desk.files("out/changes/A-TALL..TALL");
    assert!(
        files.contains_key("changes.pdf") && files.contains_key("changes/index.html"),
        "{:?}",
        files.keys().collect::<Vec<_>>()
    );
    assert!(desk.read("out/changes/A-TALL..TALL/changes/steps.html").contains("Now"));
}

/// A release that a later program finds an error in can't be mended; the kit is what it is.
#[test]
fn a_kit_whose_release_has_errors_is_made_when_that_is_asked_for() {
    let desk = released();
    let made = ["compile", "--configuration", "kit-0008"];
    desk.run(&made).ends(0);
    let release = desk.read("manual-src/releases/A.release");
    assert!(release.contains("\"2 x GT-104\""), "{release}");
    // As a program would have made it that did not know the rule: whole, with its own digest.
    let (sources, _) = release.trim_end().rsplit_once('\n').expect("the last line is the digest");
    let otherwise = sources.replace("\"2 x GT-104\"", "\"3 x GT-104\"") + "\n";
    desk.write("manual-src/releases/A.release", &kitwright::change::with_digest(otherwise));
    std::fs::remove_dir_all(desk.path("out/kit-0008")).expect("made before");
    let run = desk.run(&made).ends(1);
    assert!(
        run.out.contains("quantity-mismatch") && run.err.contains("`--despite-errors`"),
        "{}\n{}",
        run.out,
        run.err
    );
    assert!(!desk.path("out/kit-0008").exists());
    let run = desk.run(&["compile", "--configuration", "kit-0008", "--despite-errors"]).ends(1);
    assert!(
        run.out.contains("quantity-mismatch") && run.err.contains("made despite the errors"),
        "{}\n{}",
        run.out,
        run.err
    );
    assert!(desk.path("out/kit-0008/manual.pdf").is_file());
    desk.run(&["compile", "--despite-errors"]).ends(2);
}

/// Rows are judged before they are written, and every other byte of the register stays.
#[test]
fn a_deviation_is_written_into_the_register() {
    let desk = released();
    let before = desk.read("manual-src/shipped.csv");
    let run = |words: &[&str]| desk.run(&[&["shipped"], words].concat());
    let refused =
        run(&["8", "4 ISO 7040 M6: ISO 7089 12", "--at", "axle", "--approved", "M. Orr, D-2, 2026-02-01"]).ends(1);
    assert!(
        refused.out.contains("substitute-unsuited") && refused.err.contains("nothing was written"),
        "{}",
        refused.out
    );
    assert!(run(&["8", "4 ISO 4017 M6x30", "--at", "axle"]).ends(2).err.contains("what was put in its place"));
    assert!(run(&["11", "1 GT-104", "--back-order"]).ends(2).err.contains("no kit 11"));
    assert!(run(&["8", "1 GT-104", "--back-order", "--at", "axel"]).ends(2).err.contains("did you mean `axle`"));
    assert!(run(&["8", "99 GT-104", "--back-order"]).ends(1).out.contains("shipped-count"));
    assert_eq!(desk.read("manual-src/shipped.csv"), before, "nothing was written");
    run(&["kit-0008", "1 GT-104", "--back-order", "--expected", "2026-04-10"]).ends(0);
    let after = desk.read("manual-src/shipped.csv");
    let expected = "serial,item,what,quantity,lot,note,expected\n8,GT-104,lot,2,L-12,Look at the edges.,\n8,GT-104,back order,1,,,2026-04-10\n";
    assert_eq!(after, expected);
    let listed = desk.run(&["compile", "--configuration", "kit-0008"]).ends(0);
    assert!(!listed.err.is_empty());
    let rows = desk.read("out/kit-0008/receiving-list.csv");
    assert!(rows.lines().any(|l| l.starts_with("GT-104,") && l.contains("2026-04-10")), "{rows}");
}

/// What the builder found short comes back as a slip; it is shown before it is written, and nothing else of it is read.
#[test]
fn a_slip_is_shown_and_then_written() {
    let desk = released();
    let before = desk.read("manual-src/shipped.csv");
    let heading = "Short or damaged on arrival (number first, for example: 2 missing):";
    let slip = format!(
        "Query to A maker\r\nManual: GT-100, Release A\r\nConfiguration: TALL\r\nKit: 8\r\n{heading}\r\n  GT-104: 1 bent\r\n\r\nWhat is asked:\r\n  GT-103: 9\r\n"
    );
    desk.write("slip.txt", &slip);
    let shown = desk.run(&["shipped", "8", "--slip", "slip.txt"]).ends(0).out;
    assert!(
        shown.contains("8,GT-104,back order") && shown.contains("nothing was written") && !shown.contains("GT-103"),
        "{shown}"
    );
    assert_eq!(desk.read("manual-src/shipped.csv"), before);
    desk.run(&["shipped", "8", "--slip", "slip.txt", "--write"]).ends(0);
    assert!(
        desk.read("manual-src/shipped.csv")
            .ends_with("8,GT-104,back order,1,,\"bent on arrival, by the builder's slip\"\n")
    );
    desk.write("other.txt", &slip.replace("Kit: 8", "Kit: 7"));
    assert!(desk.run(&["shipped", "8", "--slip", "other.txt"]).ends(2).err.contains("the slip is of kit 7"));
    desk.write("wrong.txt", &slip.replace("GT-104: 1", "GT-999: 1"));
    assert!(desk.run(&["shipped", "8", "--slip", "wrong.txt", "--write"]).ends(1).out.contains("GT-999"));
}

/// A workbook is not written: its cells are shown with tabs between them, to be pasted.
#[test]
fn a_register_in_a_workbook_is_shown_what_to_paste() {
    let desk = released();
    std::fs::remove_file(desk.path("manual-src/shipped.csv")).expect("it was there");
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet().set_name("shipped").expect("a name");
    for (at, name) in ["serial", "item", "what", "quantity", "lot"].into_iter().enumerate() {
        sheet.write(0, u16::try_from(at).expect("few"), name).expect("a cell");
    }
    book.save(desk.path("manual-src/register.xlsx")).expect("it can be written");
    let before = std::fs::read(desk.path("manual-src/register.xlsx")).expect("it is there");
    let told = desk.run(&["shipped", "8", "1 GT-104", "--back-order", "--expected", "2026-04-10"]).ends(0).out;
    assert!(told.contains("8\tGT-104\tback order\t\t\t1\t\t\t\t\t2026-04-10\t\n"), "{told}");
    assert_eq!(std::fs::read(desk.path("manual-src/register.xlsx")).expect("it is there"), before);
    assert!(!desk.path("manual-src/shipped.csv").exists());
}
