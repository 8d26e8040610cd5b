//! Releases that were damaged: none is read as good, by no reader, and what is said names the file.

use kitwright::change::{History, Release, Seal, hex_digest, seal_path, store_faults};
use kitwright::compile;
use kitwright::source::{Files as _, Memory};
use kitwright::units::Date;

use super::{edit, release, small};

/// A manual with releases A to C, in a picture of which B differs.
fn released() -> Memory {
    let mut files = small();
    release(&mut files, "2026-01-05", "First issue");
    edit(&mut files, "steps/frame/10-handle.md", "title: ", "title: Now ");
    edit(&mut files, "figures/axle.svg", "</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>");
    release(&mut files, "2026-02-05", "A title and a figure");
    edit(&mut files, "steps/frame/10-handle.md", "title: Now ", "title: Later ");
    release(&mut files, "2026-03-05", "A title");
    files
}

/// A generator of numbers that look like chance (Vigna, splitmix64).
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % end.max(1) as u64) as usize
    }
}

/// The same bytes with something that happens to files: what it is, and what becomes of them; none where it changes
/// nothing.
fn damaged(bytes: &[u8], kind: usize, chance: &mut Chance) -> Option<Vec<u8>> {
    let mut out = bytes.to_vec();
    let at = chance.below(bytes.len());
    let to = (at + 1 + chance.below(512)).min(bytes.len());
    let lines: Vec<&[u8]> = bytes.split_inclusive(|b| *b == b'\n').collect();
    let line = chance.below(lines.len());
    match kind % 12 {
        0 => out[at] ^= 1 << chance.below(8),
        1 => out.truncate(at),
        2 => out[at..to].fill(0),
        3 => drop(out.drain(at..to)),
        4 => drop(out.splice(at..at, bytes[at..to].to_vec())),
        5 => out = [&lines[..line], &lines[line + 1..]].concat().concat(),
        6 => out = [&lines[..=line], &lines[line..]].concat().concat(),
        7 => {
            let digits: Vec<usize> = (0..bytes.len()).filter(|i| bytes[*i].is_ascii_digit()).collect();
            let digit = digits[chance.below(digits.len())];
            out[digit] = b'0' + (out[digit] - b'0' + 1 + chance.below(9) as u8) % 10;
        }
        8 => out = [&lines[..line], &lines[line + 1..], &lines[line..=line]].concat().concat(),
        9 => out.extend_from_slice(lines[line]),
        10 => out.clear(),
        // The last line is the digest; without it nothing is proven.
        _ => out.truncate(bytes.len() - lines[lines.len() - 1].len()),
    }
    (out != bytes).then_some(out)
}

#[test]
fn no_damaged_release_is_read_as_good() {
    let good = released();
    let (history, faults) = History::read(&good).expect("listed");
    assert!(faults.is_empty() && history.unproven().next().is_none());
    let mut chance = Chance(1);
    let mut count = 0;
    for kind in 0..480 {
        let letter = ["A", "B", "C"][chance.below(3)];
        let path = format!("releases/{letter}.release");
        let bytes = good.read(&path).expect("there");
        let Some(bad) = damaged(&bytes, kind, &mut chance) else { continue };
        let mut files = good.clone();
        files.insert(path.as_str(), bad);
        count += 1;
        let (history, faults) = History::read(&files).expect("listed");
        assert!(history.get(letter).is_none(), "kind {kind}: {path} is read as good");
        assert!(faults.iter().any(|f| f.rule == "broken-release" && f.file.as_deref() == Some(&path)), "kind {kind}");
        assert!(faults.iter().all(|f| f.help.contains("what can be trusted: releases ")), "kind {kind}: {faults:?}");
        assert!(History::heads(&files).expect("listed").get(letter).is_none(), "kind {kind}");
        let one = History::heads_where(&files, &|l| l.as_str() == letter).expect("listed");
        assert!(one.get(letter).is_none() && one.fault(letter).is_some(), "kind {kind}");
        let refused = compile::compared(&files, &format!("{letter}/PLAIN"), "PLAIN").expect_err("it is damaged");
        assert!(refused.headline.contains(&path), "kind {kind}: {refused:?}");
    }
    assert!(count >= 400, "{count} damaged releases");
    println!("{count} damaged releases");
}

#[test]
fn every_reader_refuses_a_damaged_release() {
    let mut files = released();
    files.insert("kits.csv", "serial,configuration,release\n7,PLAIN,C\n");
    edit(&mut files, "releases/C.release", "\"Later ", "\"Better ");
    let headline = |refused: kitwright::diag::Refusal| refused.headline;
    for said in [
        compile::impacts(&files).err().map(headline),
        compile::compared(&files, "kit:7", "PLAIN").err().map(headline),
        compile::release_notice(&files, "C").err().map(headline),
        compile::ForKit::find(&files, 7).err().map(headline),
        compile::seals(&files, None, Date::parse("2026-04-01").expect("a date")).err().map(headline),
    ] {
        assert!(
            said.as_ref().is_some_and(|s| s.contains("releases/C.release can't be read: it was changed")),
            "{said:?}"
        );
    }
    let checked = compile::check(&files, &|_| ()).expect("listed");
    assert!(checked.findings.iter().any(|d| d.rule == "broken-release"));
}

#[test]
fn a_release_that_is_gone_or_another_one_is_missed_by_later_ones() {
    let good = released();
    let mut files = good.clone();
    files.remove("releases/A.release");
    let (_, faults) = History::read(&files).expect("listed");
    assert!(faults[0].headline.contains("releases/A.release is gone"), "{faults:?}");
    // Another release of the letter, whole in itself.
    let mut other = small();
    edit(&mut other, "manual.yaml", "maker: ", "maker: Another ");
    let frozen = release(&mut other, "2026-01-05", "First issue");
    let mut files = good;
    files.insert("releases/A.release", frozen.release.text());
    let (history, faults) = History::read(&files).expect("listed");
    assert!(
        faults[0].headline.contains("releases/A.release is another one than release B was made after"),
        "{faults:?}"
    );
    assert!(history.get("A").is_none() && history.get("B").is_some());
}

#[test]
fn damage_in_the_store_is_found_and_mended_where_the_source_has_the_bytes() {
    let good = released();
    let old = hex_digest(&small().read("figures/axle.svg").expect("there"));
    let new = hex_digest(&good.read("figures/axle.svg").expect("there"));
    let mut chance = Chance(2);
    for (digest, mends) in [(&old, false), (&new, true)] {
        let path = format!("releases/files/{digest}");
        let bytes = good.read(&path).expect("there");
        for kind in 0..24 {
            let mut files = good.clone();
            match damaged(&bytes, kind, &mut chance) {
                Some(bad) => files.insert(path.as_str(), bad),
                None => drop(files.remove(&path)),
            }
            let (history, faults) = History::read(&files).expect("listed");
            assert!(faults.is_empty());
            let found = store_faults(&history, &files);
            assert_eq!((found.len(), found[0].rule), (1, "broken-release"));
            assert_eq!(found[0].help.contains("puts it back"), mends, "{found:?}");
            let mended = kitwright::change::mended(&history, &files);
            assert_eq!(
                mended.iter().map(|(p, b)| (p.as_str(), &b[..])).collect::<Vec<_>>(),
                if mends { vec![(path.as_str(), &bytes[..])] } else { Vec::new() }
            );
            let checked = compile::check(&files, &|_| ()).expect("listed");
            assert!(checked.findings.has_errors());
        }
    }
}

/// Releases A and B in the form of schema 2, as they were read before.
fn of_an_earlier_form() -> Memory {
    let mut files = released();
    files.remove("releases/C.release");
    for letter in ["A", "B"] {
        let path = format!("releases/{letter}.release");
        let text = String::from_utf8(files.read(&path).expect("there")).expect("UTF-8");
        let keep = |l: &&str| !["program ", "earlier ", "digest "].iter().any(|b| l.starts_with(b));
        let lines: Vec<&str> = text.lines().filter(keep).collect();
        files.insert(path, (lines.join("\n") + "\n").replacen("schema 3", "schema 2", 1));
    }
    files
}

#[test]
fn a_seal_proves_a_release_of_an_earlier_form_from_then_on() {
    let mut files = of_an_earlier_form();
    let unproven = |files: &Memory| -> Vec<String> {
        History::read(files).expect("listed").0.unproven().map(ToString::to_string).collect()
    };
    assert_eq!(unproven(&files), ["A", "B"]);
    let date = Date::parse("2026-04-01").expect("a date");
    let copy = files.clone();
    let seals = compile::seals(&files, Some(&copy), date).expect("they agree");
    assert_eq!(seals.iter().map(|s| s.0.as_str()).collect::<Vec<_>>(), ["releases/A.seal", "releases/B.seal"]);
    assert_eq!(Seal::read(&seals[0].1).expect("a seal").date, date);
    for (path, text) in seals {
        files.insert(path, text);
    }
    assert!(unproven(&files).is_empty());
    assert!(compile::seals(&files, None, date).expect("nothing is left").is_empty());
    let mut chance = Chance(3);
    for path in ["releases/A.release", "releases/B.release", &seal_path("A"), &seal_path("B")] {
        let bytes = files.read(path).expect("there");
        for kind in 0..48 {
            let Some(bad) = damaged(&bytes, kind, &mut chance) else { continue };
            let mut files = files.clone();
            files.insert(path, bad);
            let (_, faults) = History::read(&files).expect("listed");
            assert!(!faults.is_empty(), "{path}, kind {kind}");
        }
    }
    // A later release proves those before it as well.
    let mut later = of_an_earlier_form();
    release(&mut later, "2026-04-02", "Later");
    assert!(unproven(&later).is_empty());
    edit(&mut later, "releases/A.release", "maker = \"", "maker = \"The ");
    assert_eq!(History::read(&later).expect("listed").1.len(), 1);
}

#[test]
fn what_contradicts_a_release_keeps_it_from_being_sealed() {
    let date = Date::parse("2026-04-01").expect("a date");
    let good = of_an_earlier_form();
    let refused = |files: &Memory, copy: Option<&Memory>| {
        let copy = copy.map(|c| c as &dyn kitwright::source::Files);
        compile::seals(files, copy, date).expect_err("it is contradicted").headline
    };
    // A value that is otherwise in the copy.
    let mut files = good.clone();
    edit(&mut files, "releases/A.release", "maker = \"", "maker = \"The ");
    assert!(refused(&files, Some(&good)).contains("the copy has another one"));
    // A picture that is gone from the store, and its source has changed.
    let old = hex_digest(&small().read("figures/axle.svg").expect("there"));
    let mut files = good.clone();
    files.remove(&format!("releases/files/{old}"));
    assert!(refused(&files, None).contains("is gone: figures/axle.svg of release A"));
    assert!(refused(&good, Some(&files)).contains("the copy lacks the bytes of figures/axle.svg"));
    // A copy without the release.
    let mut copy = good.clone();
    copy.remove("releases/A.release");
    assert!(refused(&good, Some(&copy)).contains("the copy has no releases/A.release"));
    // A line that would not be written so.
    let mut files = good.clone();
    edit(&mut files, "releases/B.release", "manual.yaml maker = \"", "manual.yaml maker =  \"");
    assert!(refused(&files, None).contains("not as they are written"));
    // Dates that turn round.
    let mut files = good.clone();
    edit(&mut files, "releases/B.release", "date 2026-02-05", "date 2025-02-05");
    assert!(refused(&files, None).contains("earlier date than release A"));
    assert!(Release::read(&String::from_utf8(good.read("releases/A.release").expect("there")).expect("UTF-8")).is_ok());
}
