//! What a release holds, and what it refuses.

use kitwright::change::{
    History, Release, SCHEMA, Standing, Unreadable, body, hex_digest, normalise, restore, with_digest,
};
use kitwright::compile;
use kitwright::document::PrintScale;
use kitwright::source::{Collected, Files as _, Memory};

use super::{edit, folder, freeze, release, small};
use crate::outside;

/// The documents of the last declared configuration.
fn rendered(files: &Memory) -> std::collections::BTreeMap<String, Vec<u8>> {
    let checked = compile::check(files, &|_| ()).expect("memory can be listed");
    assert!(!checked.findings.has_errors(), "{:?}", checked.findings.iter().next());
    let names = compile::declared_names(checked.manual.as_ref().expect("a manual"));
    let out = Collected::new();
    let found = compile::documents(&checked, files, &names[names.len() - 1..], PrintScale::TRUE, &out, &|_| ())
        .expect("memory takes all");
    assert!(!found.has_errors());
    out.into_files()
}

#[test]
fn a_release_read_back_and_rendered_gives_the_same_bytes() {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    let (history, faults) = History::read(&files).expect("memory can be listed");
    assert!(faults.is_empty());
    let last = history.last().expect("one was made");
    let mut again = restore(&last.lines().expect("it can be read"), &files).files;
    again.insert("releases/A.release", last.text());
    for (digest, path) in last.stored() {
        again.insert(format!("releases/files/{digest}"), files.read(&path).expect("it is there"));
    }
    let (one, other) = (rendered(&files), rendered(&again));
    assert!(!one.is_empty());
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (path, bytes) in &one {
        assert!(other[path] == *bytes, "{path} differs");
    }
    let pages: Vec<_> = one.iter().filter(|(p, _)| p.ends_with(".html")).collect();
    assert!(!pages.is_empty() && pages.iter().all(|(_, b)| String::from_utf8_lossy(b).contains(&last.title())));
}

#[test]
fn the_demonstration_can_be_read_back() {
    let files = folder("manual-src");
    let lines = normalise(&files).expect("memory can be listed");
    let restored = restore(&lines, &files);
    assert!(restored.missing.is_empty());
    assert_eq!(normalise(&restored.files).expect("memory can be listed"), lines);
    assert!(lines.is_sorted_by(|a, b| (&a.file, &a.key) <= (&b.file, &b.key)));
}

#[test]
fn comments_and_the_way_of_writing_do_not_count() {
    let files = small();
    let mut other = files.clone();
    edit(&mut other, "steps/running-gear/10-axle.md", "section: running-gear\n", "section:   'running-gear' # here\n");
    let text = String::from_utf8(files.read("parts.csv").expect("it is there")).expect("UTF-8");
    other.insert("parts.csv", format!("\u{FEFF}{}", text.replace('\n', "\r\n")));
    assert!(body(&normalise(&files).expect("listed")) == body(&normalise(&other).expect("listed")));
    edit(&mut other, "manual.yaml", "maker: ", "maker: New ");
    assert!(body(&normalise(&files).expect("listed")) != body(&normalise(&other).expect("listed")));
}

#[test]
fn the_same_sources_make_the_same_release_and_no_second_one() {
    let mut files = small();
    let one = freeze(&files, "2026-01-05", "First issue").expect("it can be made").release.text();
    assert_eq!(one, freeze(&files, "2026-01-05", "First issue").expect("it can be made").release.text());
    release(&mut files, "2026-01-05", "First issue");
    let refused = freeze(&files, "2026-02-01", "Nothing new").expect_err("nothing has changed");
    assert_eq!(refused.headline, "nothing has changed since release A");
    edit(&mut files, "manual.yaml", "maker: ", "maker: New ");
    let refused = freeze(&files, "2026-01-04", "Too early").expect_err("the date is before release A");
    assert!(refused.headline.starts_with("2026-01-04 is before release A"), "{refused:?}");
    assert_eq!(release(&mut files, "2026-02-01", "Second").release.letter.as_str(), "B");
}

#[test]
fn pictures_of_old_releases_are_kept_by_what_is_in_them() {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    let old = files.read("figures/axle.svg").expect("it is there");
    let text = String::from_utf8(old.clone()).expect("UTF-8");
    files.insert("figures/axle.svg", text.replacen("</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>", 1));
    let (history, _) = History::read(&files).expect("listed");
    assert!(matches!(history.standing(&files).expect("listed"), Standing::Working(_)));
    let lines = history.last().expect("one").lines().expect("read");
    assert_eq!(restore(&lines, &files).files.read("figures/axle.svg").expect("kept"), old);
    assert!(files.remove(&format!("releases/files/{}", hex_digest(&old))));
    assert_eq!(restore(&lines, &files).missing, ["figures/axle.svg"]);
}

/// One file for each schema there ever was.
#[test]
fn every_schema_can_be_read() {
    for schema in 1..=SCHEMA {
        let path = outside::project().join(format!("tests/changes/schema-{schema}.release"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        assert!(text.starts_with(&format!("kitwright release\nschema {schema}\nletter A\n")));
        let release = Release::read(&text).unwrap_or_else(|e| panic!("schema {schema}: {e}"));
        let restored = restore(&release.lines().expect("read"), &small());
        let read = kitwright::model::read(&restored.files).expect("listed");
        assert!(read.faults.is_empty(), "schema {schema}: {:?}", read.faults.first());
        let manual = read.manual.expect("a manual");
        assert_eq!((manual.steps.len(), manual.parts.len() > 5), (4, true), "schema {schema}");
    }
    let newer = format!("kitwright release\nschema {}\nletter A\n\n", SCHEMA + 1);
    assert_eq!(Release::read(&newer), Err(Unreadable::Newer(SCHEMA + 1)));
}

/// What can't be read is named by its line even where the digest is right: such a file was made by something else.
#[test]
fn a_release_of_another_form_is_an_error_at_its_line() {
    let mut files = small();
    let text = release(&mut files, "2026-01-05", "First issue").release.text();
    let (before, _) = text.rsplit_once("digest ").expect("the last line is the digest");
    assert_eq!(with_digest(before.to_owned()), text);
    for (old, new, words) in [
        ("kitwright release", "kitwright", "line 1"),
        ("schema 3", "schema three", "line 2"),
        ("schema 3", "schema 2", "line 2: its form carries no digest, but it has one"),
        ("letter A", "letter I", "line 3"),
        ("date 2026-01-05", "date 2026-02-30", "line 4"),
        ("class information", "class grave", "line 5"),
        ("summary First issue", "summary First  issue", "line 6: it is not as the program writes it"),
        ("manual.yaml maker = ", "manual.yaml maker ", "this is no line of the sources"),
    ] {
        let damaged = with_digest(before.replacen(old, new, 1));
        assert_ne!(damaged, text);
        let error = Release::read(&damaged).expect_err(old).to_string();
        assert!(error.contains(words), "{error}");
        files.insert("releases/A.release", damaged);
        assert_eq!(History::read(&files).expect("listed").1[0].rule, "broken-release");
    }
    let windows = text.replace('\n', "\r\n");
    assert_eq!(Release::read(&windows), Release::read(&text), "version control may give every line the other end");
    assert_eq!(Release::read(&windows.replacen("\r\n", "\n", 1)), Err(Unreadable::CutShort));
    files.insert("releases/A.release", "");
    files.insert("releases/B.release", text);
    assert_eq!(History::read(&files).expect("listed").1.len(), 2, "a file must have the name of its letter");
}

#[test]
fn a_kit_of_a_release_that_does_not_exist_is_an_error() {
    let mut files = small();
    files.insert("kits.csv", "serial,configuration,release\n7,PLAIN,A\n8,TALL,C\n9,TALL,\n");
    let rules = |files: &Memory| -> Vec<(String, Vec<String>)> {
        let checked = compile::check(files, &|_| ()).expect("listed");
        checked
            .findings
            .iter()
            .filter(|d| d.rule == "unknown-release")
            .map(|d| (d.rule.to_owned(), d.about.clone()))
            .collect()
    };
    assert_eq!(rules(&files).len(), 2, "nothing was released yet");
    files.remove("kits.csv");
    release(&mut files, "2026-01-05", "First issue");
    files.insert("kits.csv", "serial,configuration,release\n7,PLAIN,A\n8,TALL,C\n9,TALL,\n");
    assert_eq!(rules(&files), [("unknown-release".to_owned(), vec!["C".to_owned()])]);
}

#[test]
fn configurations_of_releases_and_kits_are_found_by_name() {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    files.insert("kits.csv", "serial,configuration,release\n7,PLAIN,A\n9,TALL,\n");
    edit(&mut files, "steps/frame/10-handle.md", "title: ", "title: Now ");
    let change = |from, to| compile::compared(&files, from, to);
    for (from, to, changed) in [
        ("A/PLAIN", "PLAIN", 1),
        ("PLAIN", "A/PLAIN", 1),
        ("kit-0007", "working/kit-0007", 1),
        ("kit-7", "A/PLAIN", 0),
        // The older spelling.
        ("kit:7", "A/PLAIN", 0),
        ("working/PLAIN", "PLAIN", 0),
    ] {
        let change = change(from, to).unwrap_or_else(|r| panic!("{from} {to}: {r:?}"));
        assert_eq!(change.changed.len(), changed, "{from} {to}");
        assert_eq!(change.is_empty(), changed == 0, "{from} {to}: {change:?}");
    }
    for (from, words) in [
        ("B/PLAIN", "there is no release B"),
        ("PLANE", "`PLANE` is no configuration: there is no variant `PLANE`"),
        ("A/PLANE", "`PLANE` is no configuration in release A"),
        ("kit-8", "there is no kit 8 in the kit register"),
        ("kit-9", "the register does not say which release kit 9 was shipped with"),
        ("kit:x", "`x` is no serial number"),
        ("kit-x", "`kit-x` is no configuration"),
    ] {
        let refused = change(from, "PLAIN").expect_err(from);
        assert!(refused.headline.starts_with(words), "{refused:?}");
    }
}
