//! Kits in the field: their manuals, notices to their builders, conversions.

use std::collections::BTreeMap;

use kitwright::change::{Class, Concern, Conversion, History, Side, Subject, conversion};
use kitwright::compile::{self, Compared, ForKit, NoticeWords};
use kitwright::document::{BlockKind, Edition, Purpose, compose_edition};
use kitwright::resolve::{Configuration, Resolved, parse_configuration, resolve};
use kitwright::source::{Collected, Memory};
use kitwright::units::Date;

use super::{State, edit, folder, release, small};
use crate::random::dice::tries;
use crate::random::manual::{Circles, manual};

/// Three kits of the small manual, shipped with A; the second with other screws, the third not registered with a release.
fn fleet() -> Memory {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    files.insert("kits.csv", "serial,configuration,release,date,status,answered\n7,PLAIN,A,2026-01-10,shipped,\n8,TALL,A,2026-01-20,shipped,\n9,TALL,,,ordered,\n");
    files.insert(
        "shipped.csv",
        "serial,item,what,with,quantity,lot,release,date,note\n8,GT-104,lot,,2,L-12,A,2026-01-20,\n8,ISO 7089 12,back order,,,,A,2026-02-01,Look for them in the second parcel.\n",
    );
    files
}

fn released_b(files: &mut Memory, class: Class) -> Result<(), kitwright::diag::Refusal> {
    let checked = compile::check(files, &|_| ()).expect("listed");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().next());
    let frozen =
        compile::freeze(&checked, files, Date::parse("2026-03-01").expect("a date"), class, "One washer more")?;
    for (path, bytes) in &frozen.store {
        files.insert(path.clone(), bytes.clone());
    }
    files.insert(frozen.path.clone(), frozen.release.text());
    Ok(())
}

/// One more washer under each nut of the axle, in the joint of the step `axle`.
fn one_washer_more(files: &mut Memory) {
    edit(files, "steps/running-gear/10-axle.md", "    under-nut: [ISO 7089 6]\n", "    under-nut: [2 x ISO 7089 6]\n");
}

#[test]
fn a_notice_names_kits_steps_and_what_to_send() {
    let mut files = fleet();
    one_washer_more(&mut files);
    released_b(&mut files, Class::Recommended).expect("it can be released");
    let notices = compile::release_notice(&files, "B").unwrap_or_else(|r| panic!("{r:?}"));
    let told: Vec<_> = notices.notice.kits.iter().map(|k| (k.serial, k.concern.word())).collect();
    assert_eq!(told, [(7, "yes"), (8, "yes"), (9, "not known")]);
    let kit = &notices.notice.kits[0];
    assert_eq!(kit.steps.iter().map(|s| s.id.as_str()).collect::<Vec<_>>(), ["axle"]);
    let send: Vec<_> = kit.send.iter().map(|s| (s.item.as_str(), s.quantity.to_string())).collect();
    assert_eq!(send, [("ISO 7089 6", "4".to_owned())]);
    // Who has answered is not asked again; who was shipped with it is not concerned.
    let text = "serial,configuration,release,answered\n7,PLAIN,A,A 2026-01-11; B 2026-03-09\n8,TALL,B,\n";
    files.insert("kits.csv", text);
    let notices = compile::release_notice(&files, "B").expect("it can be told");
    let told: Vec<_> = notices.notice.kits.iter().map(|k| &k.concern).collect();
    assert_eq!(told, [&Concern::Answered, &Concern::No("it was shipped with release B".to_owned())]);
    assert!(compile::release_notice(&files, "A").err().expect("refused").headline.contains("is the first one"));
    assert!(compile::release_notice(&files, "D").err().expect("refused").headline.contains("there is no release D"));
}

#[test]
fn a_notice_is_a_list_for_the_maker_and_a_document_for_each_builder() {
    let mut files = fleet();
    one_washer_more(&mut files);
    released_b(&mut files, Class::Recommended).expect("it can be released");
    let notices = compile::release_notice(&files, "B").expect("it can be told");
    let out = Collected::new();
    let found = notices.write(&files, "B", &out).expect("memory takes all");
    assert!(!found.has_errors(), "{:?}", found.iter().next());
    let written = out.into_files();
    assert_eq!(
        written.keys().map(String::as_str).collect::<Vec<_>>(),
        ["B/kit-0007.pdf", "B/kit-0008.pdf", "B/kit-0009.pdf", "B/kits.csv", "B/to-send.csv"]
    );
    let again = Collected::new();
    notices.write(&files, "B", &again).expect("memory takes all");
    assert!(again.into_files() == written, "the same sources, the same bytes");
}

#[test]
fn a_mandatory_change_says_what_to_do_where_it_is_built() {
    let mut files = fleet();
    one_washer_more(&mut files);
    let refused = released_b(&mut files, Class::Mandatory).expect_err("the step says nothing");
    assert!(refused.headline.contains("is mandatory") && refused.headline.ends_with("axle"), "{refused:?}");
    let text = "hours: 0.5\nif-already-built:\n  - { release: B, inspect: Look for cracked wood., undo: Take the nuts off., redo: Add the washer and torque., send: [4 x ISO 7040 M6] }\n";
    edit(&mut files, "steps/running-gear/10-axle.md", "hours: 0.5\n", text);
    released_b(&mut files, Class::Mandatory).expect("it says it now");
    let notices = compile::release_notice(&files, "B").expect("it can be told");
    let kit = &notices.notice.kits[0];
    assert_eq!(kit.steps[0].built[0].undo.as_deref(), Some("Take the nuts off."));
    let send: Vec<_> = kit.send.iter().map(|s| (s.item.as_str(), s.quantity.to_string())).collect();
    assert_eq!(send, [("ISO 7089 6", "4".to_owned()), ("ISO 7040 M6", "4".to_owned())]);
    let said = NoticeWords { class: Class::Mandatory, summary: "Cracked".to_owned(), built: None };
    assert!(compile::item_notice(&files, Subject::Lot("L-12".to_owned()), &said).is_err());
}

#[test]
fn a_lot_and_a_part_find_the_kits_that_have_them() {
    let mut files = fleet();
    let said = NoticeWords { class: Class::Recommended, summary: "Cracked".to_owned(), built: None };
    let concerned = |files: &Memory, subject| -> Vec<u32> {
        let notices = compile::item_notice(files, subject, &said).unwrap_or_else(|r| panic!("{r:?}"));
        notices.notice.kits.iter().filter(|k| k.concern == Concern::Yes).map(|k| k.serial).collect()
    };
    assert_eq!(concerned(&files, Subject::Lot("L-12".to_owned())), [8]);
    assert_eq!(concerned(&files, Subject::Part("GT-106".to_owned())), [8, 9]);
    assert_eq!(concerned(&files, Subject::Part("ISO 7040 M6".to_owned())), [7, 8, 9]);
    assert!(compile::item_notice(&files, Subject::Lot("L-13".to_owned()), &said).is_err());
    // Put in the place of another, and put out by another.
    files.insert("shipped.csv", "serial,item,what,with\n7,GT-105,substituted,GT-106\n8,GT-106,substituted,GT-105\n");
    assert_eq!(concerned(&files, Subject::Part("GT-106".to_owned())), [7, 9]);
    let notices = compile::item_notice(&files, Subject::Part("GT-106".to_owned()), &said).expect("it can be told");
    let steps: Vec<_> = notices.notice.kits[0].steps.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(steps, ["handle"], "at the step that names the part it stands for");
}

#[test]
fn spares_of_a_part_that_is_no_longer_made_are_what_took_its_place() {
    let mut files = fleet();
    let list = String::from_utf8(kitwright::source::Files::read(&files, "parts.csv").expect("there")).expect("UTF-8");
    let list = list.replacen(",note\n", ",note,replaced by\n", 1);
    let list = list.lines().map(|l| match l {
        head if head.ends_with("replaced by") => format!("{head}\n"),
        row if row.starts_with("GT-106,") => format!("{row},GT-108\n"),
        row => format!("{row},\n"),
    });
    let more = "GT-108,Tall handle tube Mk 2,,,6061-T6,TUBE-1,38,blank 40 in; uncut; no holes,,,A4,1,,builder,,,GT-109\n\
                GT-109,Tall handle tube Mk 3,,,6061-T6,TUBE-1,38,blank 40 in; uncut; no holes,,,A9,1,,builder,,,\n";
    files.insert("parts.csv", list.collect::<String>() + more);
    let checked = compile::check(&files, &|_| ()).expect("listed");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().collect::<Vec<_>>());
    let said = NoticeWords { class: Class::Recommended, summary: "Bent".to_owned(), built: None };
    let notices = compile::item_notice(&files, Subject::Part("GT-106".to_owned()), &said).expect("it can be told");
    let sent = &notices.notice.kits[1].send[0];
    assert_eq!((sent.item.as_str(), sent.bin.as_str()), ("GT-109", "A9"));
    let manual = checked.manual.as_ref().expect("a manual");
    let tall = checked.resolved.iter().find(|r| r.name == "TALL").expect("it is declared");
    let rows = kitwright::document::pick_rows(manual, tall);
    let row = rows.iter().find(|r| r.step == "handle" && r.bin == "A9").expect("pulled from the bin of the new one");
    assert_eq!((row.designation.as_str(), row.item.as_str()), ("GT-109", "Tall handle tube Mk 3, in place of GT-106"));
}

#[test]
fn a_manual_for_one_kit_is_that_of_its_release_with_what_is_otherwise_in_it() {
    let mut files = fleet();
    one_washer_more(&mut files);
    released_b(&mut files, Class::Recommended).expect("it can be released");
    let kit = ForKit::find(&files, 8).unwrap_or_else(|r| panic!("{r:?}"));
    let (checked, name) = kit.check(&files, &|_| ()).unwrap_or_else(|r| panic!("{r:?}"));
    assert_eq!(name, "kit-0008");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().next());
    let manual = checked.manual.as_ref().expect("a manual");
    let resolved = checked.resolved.iter().find(|r| r.name == name).expect("it was made");
    let axle = resolved.step(&"axle".into()).expect("it has the step");
    assert_eq!(axle.step.joints[0].under_nut[0].1, 1, "as release A has it");
    let document = compose_edition(manual, resolved, Purpose::Manual, &Edition::default());
    let only_here: Vec<_> = document
        .leaves
        .iter()
        .filter(|l| l.blocks.iter().any(|b| matches!(&b.kind, BlockKind::Group(g) if matches!(g.role, "kit" | "owed"))))
        .map(|l| l.anchor.as_str())
        .collect();
    assert_eq!(only_here, ["step-axle", "step-wheels"]);
    assert!(document.leaves.iter().any(|l| l.anchor.as_str() == "this-kit"));
    let out = Collected::new();
    let found = compile::documents(
        &checked,
        kit.sources(&files),
        &[name],
        kitwright::document::PrintScale::TRUE,
        &out,
        &|_| (),
    )
    .expect("memory takes all");
    assert!(!found.has_errors());
    let pages = out.into_files();
    let start = String::from_utf8_lossy(&pages["kit-0008/manual/index.html"]).into_owned();
    assert!(start.contains("Release A, 2026-01-05"), "{start}");
    assert!(ForKit::find(&files, 11).is_err());
}

/// A kit is compared as it was shipped: with what stands in for a thing, without what is still owed.
#[test]
fn a_kit_is_compared_as_it_was_shipped() {
    let mut files = fleet();
    let counted = |files: &Memory, from: &str, to: &str| {
        let change = compile::compared(files, from, to).unwrap_or_else(|r| panic!("{r:?}"));
        let words = |q: Option<kitwright::units::Quantity>| q.map_or_else(|| "none".to_owned(), |q| q.to_string());
        let rows = change.parts.iter().chain(&change.hardware);
        (
            rows.map(|q| format!("{}: {} to {}", q.name, words(q.before), words(q.after))).collect::<Vec<_>>(),
            change.shipped,
        )
    };
    // Two of a lot are two as any other; the washers are all owed.
    let (rows, shipped) = counted(&files, "kit-8", "working/kit-8");
    let need = State::of(&files).resolved("TALL").ledger.hardware[&"ISO 7089 12".into()].need;
    assert_eq!(rows, [format!("ISO 7089 12: none to {need}")]);
    assert_eq!(
        shipped,
        ["kit 8: 2 x GT-104 from lot L-12".to_owned(), format!("kit 8: {} x ISO 7089 12 on back order", need.value)]
    );
    // Under a release of one's choice it is not as it was shipped.
    assert_eq!(counted(&files, "A/kit-8", "working/kit-8"), (Vec::new(), Vec::new()));
    let head = "serial,item,what,with,quantity,lot,release,date,note,approved\n";
    let list =
        String::from_utf8(kitwright::source::Files::read(&files, "hardware.csv").expect("there")).expect("UTF-8");
    files.insert("hardware.csv", list + "ISO 7093 12,Large washer,washer,each,H2,P3,1,,12 mm,,,,\n");
    let all = need.value.to_integer();
    for (rows, expected) in [
        // Sent since: nothing is owed any more, whether the row of the back order stays or not.
        ("8,ISO 7089 12,back order,,,,A,,\n8,ISO 7089 12,sent later,,,,A,,\n".to_owned(), vec![]),
        ("8,ISO 7089 12,sent later,,,,A,,\n".to_owned(), vec![]),
        (
            "8,ISO 7089 12,back order,,2,,A,,\n8,ISO 7089 12,sent later,,1,,A,,\n".to_owned(),
            vec![format!("ISO 7089 12: {} to {all}", all - 1)],
        ),
        // Sent under a later release: in addition.
        ("8,ISO 7089 12,sent later,,3,,B,,\n".to_owned(), vec![format!("ISO 7089 12: {} to {all}", all + 3)]),
        (
            "8,ISO 7089 12,substituted,ISO 7093 12,,,A,,,\"M. Orr, D-2, 2026-01-19\"\n".to_owned(),
            vec![format!("ISO 7089 12: none to {all}")],
        ),
    ] {
        files.insert("shipped.csv", format!("{head}{rows}"));
        let found: Vec<_> =
            counted(&files, "kit-8", "working/kit-8").0.into_iter().filter(|r| !r.starts_with("ISO 7093")).collect();
        assert_eq!(found, expected, "{rows}");
    }
    let substitute = counted(&files, "kit-8", "working/kit-8").0;
    // A release knows nothing of what came to the lists later: it is read from those of today.
    assert!(substitute.contains(&format!("ISO 7093 12: {all} to none")), "{substitute:?}");
}

/// What was there, less what comes off, with what is sent, is what the target has: by part number.
fn adds_up(from: &Resolved, to: &Resolved, c: &Conversion, what: &str) {
    let counts = |r: &Resolved| -> BTreeMap<String, i64> {
        let parts = r.ledger.parts.iter().filter(|(_, a)| !a.piece && a.taken() != 0);
        parts.map(|(n, a)| (n.to_string(), a.taken())).collect()
    };
    let mut sum = counts(from);
    for off in &c.off {
        *sum.entry(off.item.name.clone()).or_default() -= off.item.quantity.value.numer();
    }
    for (number, listed) in &c.resolved.listed {
        *sum.entry(number.to_string()).or_default() += listed.count;
    }
    sum.retain(|_, n| *n != 0);
    assert_eq!(sum, counts(to), "{what}");
    for (number, account) in &c.resolved.ledger.parts {
        assert_eq!(account.listed, account.taken(), "{what}: {number}");
        for pull in &account.pulled {
            let step = c.resolved.step(&pull.step).unwrap_or_else(|| panic!("{what}: {} is not done", pull.step));
            assert_eq!(step.number, pull.number);
        }
    }
}

fn convert(state: &State, from: &str, to: &str) -> (Resolved, Resolved, Conversion) {
    let of = |name: &str| parse_configuration(&state.manual.settings, name).expect("it is allowed");
    let (a, plain) = (resolve(&state.manual, &of(from)), resolve(&state.manual, &of(to)));
    let converted = resolve(&state.manual, &Configuration { from: Some(of(from).variant), ..of(to) });
    let side =
        |name, resolved| Side { name, manual: &state.manual, sources: &state.sources, resolved, lines: &state.lines };
    let c = conversion(&side("a", &a), &side("b", &converted), &plain);
    (a, converted, c)
}

#[test]
fn conversions_of_random_manuals_add_up() {
    for start in 0..tries(80) {
        let state = State::of(&manual(11_000 + start, Circles::None));
        for (from, to) in
            [("ALFA", "BRAVO+brake"), ("ALFA+brake+tow", "BRAVO+tow"), ("BRAVO+tow", "ALFA"), ("ALFA", "ALFA")]
        {
            let (a, b, c) = convert(&state, from, to);
            adds_up(&a, &b, &c, &format!("manual {start}, {from} to {to}"));
            if from == to {
                assert!(c.resolved.steps.is_empty() && c.off.is_empty() && c.hardware_off.is_empty());
            }
        }
    }
}

#[test]
fn conversions_of_the_demonstration_add_up() {
    let state = State::of(&folder("manual-src"));
    let names = ["SAND+brake", "SAND+brake+hitch", "ICE+claw", "DUO+brake+hitch"];
    for from in names {
        for to in names {
            let (a, b, c) = convert(&state, from, to);
            adds_up(&a, &b, &c, &format!("{from} to {to}"));
        }
    }
}

#[test]
fn steps_of_a_conversion_hold_in_nothing_else() {
    let mut files = small();
    let step = "---\nstep: strip-handle\ntitle: Take the old handle off\nsection: frame\nonly: from PLAIN to TALL\nhardware:\n  - 2 x ISO 7089 12\n---\n\n1. Drill the old holes over.\n";
    files.insert("steps/frame/05-strip.md", step);
    let checked = compile::check(&files, &|_| ()).expect("listed");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().collect::<Vec<_>>());
    assert!(checked.resolved.iter().all(|r| r.step(&"strip-handle".into()).is_none()));
    let compared = Compared::find(&files, "PLAIN", "TALL").unwrap_or_else(|r| panic!("{r:?}"));
    let c = compile::converted(&compared);
    let done: Vec<_> = c.resolved.steps.iter().map(|s| (s.number.to_string(), s.step.id.as_str())).collect();
    assert_eq!(done, [("1.1".to_owned(), "strip-handle"), ("1.2".to_owned(), "handle")]);
    assert_eq!(c.own.iter().map(|s| s.as_str()).collect::<Vec<_>>(), ["strip-handle"]);
    let off: Vec<_> = c.off.iter().map(|o| o.item.name.as_str()).collect();
    assert_eq!(off, ["GT-105"]);
    assert!(c.resolved.ledger.hardware.contains_key(&"ISO 7089 12".into()), "what its own step takes is sent");
    assert!(c.resolved.ledger.hardware.contains_key(&"ISO 7040 M6".into()), "what is taken apart gets new nuts");
    let back = compile::converted(&Compared::find(&files, "TALL", "PLAIN").expect("found"));
    assert!(back.own.is_empty());
    let out = Collected::new();
    let found = compile::conversion_report(&compared, &c, &files, "PLAIN-to-TALL", &out).expect("memory takes all");
    assert!(!found.has_errors(), "{:?}", found.iter().next());
    let written = out.into_files();
    for path in ["conversion.pdf", "conversion/index.html", "pick-lists.csv", "pick-lists.pdf"] {
        assert!(
            written.contains_key(&format!("PLAIN-to-TALL/{path}")),
            "{path}: {:?}",
            written.keys().collect::<Vec<_>>()
        );
    }
}

/// The letters that the last release records are those that come of going through all releases.
#[test]
fn recorded_letters_are_those_of_all_releases() {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    edit(&mut files, "steps/frame/10-handle.md", "title: ", "title: Now ");
    release(&mut files, "2026-02-05", "Titles");
    one_washer_more(&mut files);
    release(&mut files, "2026-03-05", "Washers");
    let (history, _) = History::read(&files).expect("listed");
    let recorded = history.last().expect("one").letters_of("TALL").expect("it is recorded");
    let words: Vec<_> = recorded.iter().map(|(s, l)| format!("{s} {l}")).collect();
    assert_eq!(words, ["axle C", "board A", "handle B", "wheels A"]);
    // The same files without the record.
    let mut old = files.clone();
    for letter in ["A", "B", "C"] {
        let path = format!("releases/{letter}.release");
        let text = String::from_utf8(kitwright::source::Files::read(&files, &path).expect("there")).expect("UTF-8");
        let text: String = text
            .lines()
            .filter(|l| !["changed ", "program ", "earlier ", "digest "].iter().any(|b| l.starts_with(b)))
            .map(|l| format!("{}\n", l.replace("schema 3", "schema 1")))
            .collect();
        old.insert(path, text);
    }
    let pages = |files: &Memory| {
        let checked = compile::check(files, &|_| ()).expect("listed");
        let out = Collected::new();
        compile::documents(&checked, files, &["TALL".to_owned()], kitwright::document::PrintScale::TRUE, &out, &|_| ())
            .expect("memory takes all");
        let page = out.into_files().remove("TALL/manual/effective-steps.html").expect("there is a list");
        // The digest of the release file stands on every page.
        String::from_utf8(page)
            .expect("UTF-8")
            .replace(&History::read(files).expect("listed").0.last().expect("one").short_digest(), "")
    };
    assert_eq!(pages(&files), pages(&old));
}

/// The demonstration: three releases, eight kits, two of them with something otherwise.
#[test]
fn the_demonstration_has_a_history() {
    let disk = kitwright::source::Disk::open(&crate::outside::project().join("manual-src")).expect("it is there");
    let (history, faults) = History::read(&disk).expect("listed");
    assert!(faults.is_empty());
    assert_eq!(history.releases().map(|r| r.letter.to_string()).collect::<Vec<_>>(), ["A", "B", "C", "D"]);
    let concerned = |letter: &str| -> Vec<(u32, &'static str)> {
        let notices = compile::release_notice(&disk, letter).unwrap_or_else(|r| panic!("{r:?}"));
        notices.notice.kits.iter().map(|k| (k.serial, k.concern.word())).filter(|k| k.1 != "no").collect()
    };
    assert_eq!(concerned("B"), [(28, "answered"), (29, "yes"), (35, "not known")]);
    assert_eq!(concerned("C"), [(30, "yes"), (32, "answered")]);
    let manual = kitwright::model::read(&disk).expect("listed").manual.expect("a manual");
    assert_eq!((manual.kits.len(), manual.deviations.len()), (9, 5));
    // Spares of the plate that is no longer made are the one that took its place.
    let said = NoticeWords { class: Class::Recommended, summary: "Bent".to_owned(), built: None };
    let notices =
        compile::item_notice(&disk, Subject::Part("SK-840".to_owned()), &said).unwrap_or_else(|r| panic!("{r:?}"));
    let sent: Vec<_> =
        notices.notice.kits.iter().flat_map(|k| k.send.iter().map(|s| (k.serial, s.item.as_str()))).collect();
    assert_eq!(sent, [(29, "SK-841")]);
}
