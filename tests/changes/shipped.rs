//! A kit as it was shipped: what is otherwise in it is in every list and on every page, and is judged.

use kitwright::compile::{self, Checked, ForKit};
use kitwright::diag::Level;
use kitwright::document::{self, LiesIn, PrintScale, Purpose};
use kitwright::emit::csv::{pick_list_csv, sheet_csv};
use kitwright::model::Manual;
use kitwright::resolve::Resolved;
use kitwright::source::{Collected, Files as _, Memory};

use super::{folder, small};
use crate::outside;

const KITS: &str = "serial,configuration,release,date,status\n147,SAND+brake+hitch,,2026-03-02,shipped\n";
const HEAD: &str = "serial,item,what,with,where,quantity,approved,expected\n";
/// Two bolts of one joint, with two washers more under each nut; one turnbuckle is still to come.
const ROWS: &str = "147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,2,\"M. Orr, D-31, 2026-02-27\",\n\
                    147,AN960-416,sent in addition,,stays-bolt-up/stay-front-left,4,,\n\
                    147,TB-1/4,back order,,,1,,2026-04-10\n";

/// The demonstration with kit 147 and these rows about it.
fn with(rows: &str) -> Memory {
    let mut files = folder("manual-src");
    let list = String::from_utf8(files.read("hardware.csv").expect("there")).expect("UTF-8");
    if !list.contains("\nAN4-16A,") {
        files.insert(
            "hardware.csv",
            list.replacen("\nAN4-17A,", "\nAN4-16A,Bolt,bolt,each,H1,P2,2,,,,,,,,,,\nAN4-17A,", 1),
        );
    }
    files.insert("kits.csv", KITS);
    files.insert("shipped.csv", format!("{HEAD}{rows}"));
    files
}

fn checked(files: &Memory) -> (Checked, String) {
    let kit = ForKit::find(files, 147).unwrap_or_else(|r| panic!("{r:?}"));
    kit.check(files, &|_| ()).unwrap_or_else(|r| panic!("{r:?}"))
}

fn kit((checked, name): &(Checked, String)) -> (&Manual, &Resolved) {
    let resolved = checked.resolved.iter().find(|r| r.name == *name).expect("it was made");
    (checked.manual.as_ref().expect("a manual"), resolved)
}

/// The findings about the kit: rule and cell.
fn found(files: &Memory) -> Vec<String> {
    let (checked, _) = checked(files);
    let of_register = |d: &&kitwright::diag::Diagnostic| {
        d.level != Level::Hint && d.span.is_some_and(|s| checked.sources.name(s.file) == "shipped.csv")
            || d.configurations.iter().any(|c| c.starts_with("kit-"))
    };
    let told = |d: &kitwright::diag::Diagnostic| {
        format!("{} `{}`", d.rule, d.span.map_or("", |span| checked.sources.slice(span)))
    };
    checked.findings.iter().filter(of_register).map(told).collect()
}

fn text(document: &document::Document, anchor: &str) -> String {
    let leaf = document.leaves.iter().find(|l| l.anchor.as_str() == anchor).unwrap_or_else(|| panic!("{anchor}"));
    format!("{:?}", leaf.blocks)
}

#[test]
fn a_kit_is_made_of_what_is_in_its_box() {
    let files = with(ROWS);
    assert_eq!(found(&files), [""; 0]);
    let made = checked(&files);
    let (manual, resolved) = kit(&made);
    let stays = resolved.step(&"stays-bolt-up".into()).expect("the step");
    let joint =
        |id: &str| stays.step.joints.iter().find(|j| j.id.as_ref().is_some_and(|i| i.value == id)).expect("a joint");
    let front = joint("stay-front-left");
    assert_eq!(front.fastener.as_str(), "AN4-16A");
    assert_eq!(front.under_nut.iter().map(|(_, n)| n).sum::<i64>(), 3);
    assert_eq!(
        resolved.shipped.in_place_of(&stays.step.id.value, "AN4-16A").map(|(of, n)| (of, n.to_integer())),
        Some(("AN4-15A", 2))
    );
    let count = |item: &str| resolved.counts[item];
    let plain = kitwright::resolve::resolve(manual, &resolved.configuration.without_deviations());
    let others = plain.counts.get("AN4-16A").map_or(0, |c| c.needed.value.to_integer());
    assert_eq!(count("AN4-16A").needed.value.to_integer(), others + 2);
    assert_eq!(count("TB-1/4").owed.to_integer(), 1);
    let plain = kitwright::resolve::resolve(manual, &resolved.configuration.without_deviations());
    assert_eq!(
        count("AN4-15A").needed.value,
        plain.counts["AN4-15A"].needed.value - kitwright::units::Rational::from_integer(2)
    );
    assert_eq!(
        count("AN960-416").needed.value,
        plain.counts["AN960-416"].needed.value + kitwright::units::Rational::from_integer(4)
    );
    // The last of the turnbuckles is the one that is not there.
    let last = plain.ledger.hardware[&"TB-1/4".into()].taken.last().expect("it is taken").0.clone();
    assert_eq!(resolved.waits.keys().collect::<Vec<_>>(), [&last]);
    for purpose in [Purpose::Manual, Purpose::ShopCopy] {
        let document = document::compose(manual, resolved, purpose);
        let page = text(&document, "step-stays-bolt-up");
        assert!(page.contains("AN4-16A") && page.contains("in place of AN4-15A"), "{page}");
        let waiting = text(&document, document::Anchor::new("step", last.as_str()).as_str());
        assert!(waiting.contains("Do not begin this step") && waiting.contains("2026-04-10"), "{waiting}");
        assert!(text(&document, "contents").contains("waits for a back order"));
        let receiving = text(&document, "receiving");
        assert!(receiving.contains("on back order, expected 2026-04-10") && receiving.contains("in place of AN4-15A"));
    }
    let joints = document::joint_sheet(manual, resolved);
    let of_front = joints.rows.iter().find(|row| row.iter().any(|c| c == "stay-front-left")).expect("its row");
    assert!(of_front.iter().any(|c| c == "AN4-16A") && !of_front.iter().any(|c| c == "AN4-15A"), "{of_front:?}");
}

/// Published: AN4-16A has a grip of 1.313 in, AN4-15A of 1.188 in (AN bolt table); AN960-416 is .063 in thick. With no washer
/// more the nut runs onto the shank.
#[test]
fn each_joint_that_is_touched_is_judged_again() {
    // In thousandths: the stack of SK-115, SK-111-L and SK-118, and what washers of .063 make of it. The shank must end among
    // the washers: behind the stack, before the nut.
    let (stack, grip) = (90 + 1_000 + 90, 1_313);
    let holds = |washers: i64| grip >= stack && grip <= stack + 63 * washers;
    assert!(!holds(1) && !holds(2) && holds(3));
    let one = |with_: &str, more: &str| {
        found(&with(&format!(
            "147,AN4-15A,substituted,{with_},stays-bolt-up/stay-front-left,2,\"M. Orr, D-31, 2026-02-27\",\n{more}"
        )))
    };
    assert_eq!(one("AN4-16A", ""), ["bolt-does-not-fit `AN4-16A`"]);
    assert_eq!(one("AN4-17A", ""), ["bolt-does-not-fit `AN4-17A`"]);
    assert_eq!(one("CS-1/8", ""), ["substitute-unsuited `CS-1/8`"]);
    let far = found(&with("147,AN4-15A,substituted,CS-1/8,,9999,\"M. Orr, D-31, 2026-02-27\",\n"));
    assert_eq!(far, ["substitute-unsuited `CS-1/8`"], "never without a word");
    assert_eq!(
        found(&with("147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,2,,\n")),
        ["substitution-not-approved `AN4-16A`"]
    );
}

/// Each at its cell, in `check` too.
#[test]
fn wrong_rows_are_found_at_their_cells() {
    let sound = "147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,2,\"M. Orr, D-31, 2026-02-27\",";
    for (row, expected) in [
        ("147,AN4-15A,substituted,AN4-16A,,9,\"D-31, 2026-02-27\",", "shipped-count `9`"),
        ("147,AN4-15A,substituted,AN4-16A,,9999,\"D-31, 2026-02-27\",", "shipped-count `9999`"),
        ("147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,1,\"D-31, 2026-02-27\",", "shipped-count `1`"),
        ("147,AN4-15B,substituted,AN4-16A,,2,\"D-31, 2026-02-27\",", "shipped-unknown `AN4-15B`"),
        ("147,AN4-15A,substituted,AN4-61A,,2,\"D-31, 2026-02-27\",", "shipped-unknown `AN4-61A`"),
        (
            "147,AN4-15A,substituted,SK-118,stays-bolt-up/stay-front-left,2,\"D-31, 2026-02-27\",",
            "substitute-unsuited `SK-118`",
        ),
        (
            "147,AN4-15A,substituted,AN960-416,stays-bolt-up/stay-front-left,2,\"D-31, 2026-02-27\",",
            "substitute-unsuited `AN960-416`",
        ),
        (
            "147,AN4-15A,substituted,,stays-bolt-up/stay-front-left,2,\"D-31, 2026-02-27\",",
            "missing-value `substituted`",
        ),
        ("147,AN4-15A,substituted,AN4-16A,stays-bolt-pu,2,\"D-31, 2026-02-27\",", "shipped-place `stays-bolt-pu`"),
        (
            "147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-frnt,2,\"D-31, 2026-02-27\",",
            "shipped-place `stay-frnt`",
        ),
        ("147,AN4-15A,substituted,AN4-16A,keel-join,2,\"D-31, 2026-02-27\",", "shipped-place `keel-join`"),
        (
            "147,AN4-15A,substituted,AN4-16A,stays-bolt-up/a/b,2,\"D-31, 2026-02-27\",",
            "unreadable-value `stays-bolt-up/a/b`",
        ),
        ("147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,2,,", "substitution-not-approved `AN4-16A`"),
        (
            "147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,two,\"D-31, 2026-02-27\",",
            "unreadable-value `two`",
        ),
        ("147,AN4-15A,substituted,AN4-16A,stays-bolt-up/stay-front-left,-2,\"D-31, 2026-02-27\",", "bad-count `-2`"),
        (
            "147,AN4-15A,replaced,AN4-16A,stays-bolt-up/stay-front-left,2,\"D-31, 2026-02-27\",",
            "unknown-word `replaced`",
        ),
        ("147,TB-1/4,back order,,,99,,2026-04-10", "shipped-count `99`"),
        ("147,TB-1/4,back order,,,1,,10.4.2026", "unreadable-value `10.4.2026`"),
        ("147,TB-1/4,back order,,,1,,2026-02-30", "unreadable-value `2026-02-30`"),
        ("147,TB-1/4,back order,AN4-15A,,1,,2026-04-10", "unreadable-value `AN4-15A`"),
        (
            "147,TB-1/4,back order,,,1,,2026-04-10\n147,TB-1/4,sent later,,,1,,\n147,TB-1/4,sent later,,,1,,",
            "shipped-count `1`",
        ),
        ("147,SK-118,lot,,,1,,", "missing-value `lot`"),
        ("147,SK-118,sent in addition,,,,,", "missing-value `sent in addition`"),
        ("148,SK-118,sent in addition,,,1,,", "shipped-unknown `148`"),
    ] {
        let files = with(&format!("{row}\n"));
        let checked = compile::check(&files, &|_| ()).expect("listed");
        let told: Vec<String> = checked
            .findings
            .iter()
            .filter(|d| d.span.is_some_and(|s| checked.sources.name(s.file) == "shipped.csv"))
            .map(|d| format!("{} `{}`", d.rule, d.span.map_or("", |span| checked.sources.slice(span))))
            .collect();
        assert_eq!(told, [expected], "{row}");
    }
    let files = with(sound);
    let checked = compile::check(&files, &|_| ()).expect("listed");
    assert!(!checked.findings.has_errors());
    let mut files = with("");
    files.insert("kits.csv", "serial,configuration,release,date\n147,SAND+brake+hitch,,02.03.2026\n");
    let checked = compile::check(&files, &|_| ()).expect("listed");
    assert!(checked.findings.iter().any(|d| d.rule == "unreadable-value" && d.level == Level::Error));
}

/// What the shop reads names bins, what the builder reads names none.
#[test]
fn no_paper_of_the_stick_names_a_bin() {
    let files = with(ROWS);
    let made = checked(&files);
    let (manual, resolved) = kit(&made);
    let out = Collected::new();
    let (checked, name) = &made;
    compile::sticks(checked, &files, std::slice::from_ref(name), PrintScale::TRUE, &out, &|_| ())
        .expect("memory takes all");
    let written = out.into_files();
    let of_stick = |file: &str| {
        let (_, bytes) = written.iter().find(|(path, _)| path.ends_with(file)).unwrap_or_else(|| panic!("{file}"));
        String::from_utf8_lossy(bytes).into_owned()
    };
    let bins = |csv: &str| -> Vec<String> {
        let mut reader = csv::Reader::from_reader(csv.trim_start_matches('\u{feff}').as_bytes());
        let at = reader.headers().expect("a head row").iter().position(|h| h == "bin").expect("the column");
        reader.records().map(|r| r.expect("a row")[at].to_owned()).filter(|b| !b.is_empty()).collect()
    };
    for file in ["pick-lists.csv", "receiving-list.csv"] {
        assert_eq!(bins(&of_stick(file)), [""; 0], "{file}");
    }
    assert!(!bins(&String::from_utf8_lossy(&pick_list_csv(&document::pick_rows(manual, resolved)))).is_empty());
    let bags = document::Edition { lies_in: LiesIn::Bags, ..document::Edition::default() };
    let lists = format!("{:?}", document::pick_lists_edition(manual, resolved, &bags).leaves);
    assert!(lists.contains("bag P2") && !lists.contains("Bin H1"));
    let data = of_stick("data.js");
    assert!(
        data.contains("\"kit\":\"147\"") && data.contains("\"configuration\":\"SAND+brake+hitch\""),
        "{}",
        &data[..400]
    );
}

/// needed + spares - on back order + sent in addition = in the box, summed again by Python for every kit of the register.
#[test]
fn lists_of_every_kit_agree_with_counter() {
    let Some(python) = outside::python("the boxes of kits against collections.Counter") else { return };
    let dir = tempfile::tempdir().expect("a folder");
    let mut files = with("");
    files.insert("kits.csv", "serial,configuration\n948,ICE+claw\n949,DUO+brake+hitch\n");
    files.insert(
        "shipped.csv",
        format!("{HEAD}948,SK-118,back order,,,4,,\n948,AN960-416,sent in addition,,,12,,\n949,AN4-15A,back order,,,3,,\n949,AN4-15A,sent later,,,1,,\n"),
    );
    let mut kits: Vec<(u32, Memory)> = vec![(948, files.clone()), (949, files)];
    // And all of the demonstration, each at its release.
    let all = super::frozen::demonstration();
    let register = kitwright::model::read(&all).expect("listed").manual.expect("a manual").kits;
    kits.extend(register.iter().map(|kit| (kit.serial.value, all.clone())));
    for (serial, files) in &kits {
        let kit = ForKit::find(files, *serial).unwrap_or_else(|r| panic!("{r:?}"));
        let (manual, resolved) = kit.resolved(files).unwrap_or_else(|r| panic!("{r:?}"));
        let folder = dir.path().join(&resolved.name);
        std::fs::create_dir(&folder).expect("a folder");
        let write = |file: &str, bytes: Vec<u8>| std::fs::write(folder.join(file), bytes).expect("it can be written");
        write("receiving-list.csv", sheet_csv(&document::box_sheet(&manual, &resolved, LiesIn::Bins)));
        write("pick-lists.csv", pick_list_csv(&document::pick_rows(&manual, &resolved)));
    }
    let said = outside::run(outside::script(&python, "box.py").arg(dir.path()));
    assert!(said.starts_with(&format!("{} kits", register.len() + 2)), "{said}");
}

/// A register that can't be read in full makes no documents.
#[test]
fn a_row_that_cannot_be_read_stops_the_kit() {
    let mut files = small();
    files.insert("kits.csv", "serial,configuration\n7,PLAIN\n");
    files.insert("shipped.csv", "serial,item,what,quantity\n7,GT-104,back ordre,1\n");
    let kit = ForKit::find(&files, 7).unwrap_or_else(|r| panic!("{r:?}"));
    let (checked, _) = kit.check(&files, &|_| ()).unwrap_or_else(|r| panic!("{r:?}"));
    assert!(checked.findings.has_errors());
}
