//! A change adds up: quantities, steps, words; against Python's difflib and collections.Counter too.

use std::collections::{BTreeMap, BTreeSet};

use kitwright::change::{Change, Edit, edits};
use kitwright::resolve::Resolved;
use serde_json::json;

use super::{State, change, edit, folder};
use crate::outside;
use crate::random::dice::tries;
use crate::random::manual::{Circles, manual};

const CONFIGURATIONS: [&str; 4] = ["ALFA", "BRAVO+brake", "ALFA+brake+tow", "BRAVO+tow"];

fn counts(r: &Resolved) -> BTreeMap<String, i64> {
    r.listed.iter().map(|(n, l)| (n.to_string(), l.count)).collect()
}

fn differences(c: &Change) -> BTreeMap<String, i64> {
    let each = |q: Option<kitwright::units::Quantity>| q.map_or(0, |q| *q.value.numer());
    c.parts.iter().map(|q| (q.name.clone(), each(q.after) - each(q.before))).collect()
}

fn ids(r: &Resolved) -> BTreeSet<String> {
    r.steps.iter().map(|s| s.step.id.value.to_string()).collect()
}

fn step_sets(c: &Change) -> [BTreeSet<String>; 2] {
    [&c.added, &c.removed].map(|list| list.iter().map(|s| s.id.to_string()).collect())
}

fn sum(a: &BTreeMap<String, i64>, b: &BTreeMap<String, i64>) -> BTreeMap<String, i64> {
    let mut sum = a.clone();
    for (name, n) in b {
        *sum.entry(name.clone()).or_default() += n;
    }
    sum.retain(|_, n| *n != 0);
    sum
}

#[test]
fn changes_of_random_manuals_add_up() {
    for start in 0..tries(60) {
        let states: Vec<State> = (0..3).map(|i| State::of(&manual(7000 + start * 3 + i, Circles::None))).collect();
        let made: Vec<Resolved> =
            states.iter().enumerate().map(|(i, s)| s.resolved(CONFIGURATIONS[(start as usize + i) % 4])).collect();
        let at = |i: usize| (&states[i], &made[i]);
        let [ab, bc, ac] = [(0, 1), (1, 2), (0, 2)].map(|(i, j)| change(at(i), at(j)));
        // What was there and the change make what is there.
        assert_eq!(sum(&counts(&made[0]), &differences(&ab)), counts(&made[1]), "manual {start}");
        let [added, removed] = step_sets(&ab);
        let after: BTreeSet<String> = ids(&made[0]).difference(&removed).cloned().chain(added).collect();
        assert_eq!(after, ids(&made[1]), "manual {start}");
        // Two changes one after the other are the change from the first to the last.
        assert_eq!(sum(&differences(&ab), &differences(&bc)), differences(&ac), "manual {start}");
        assert_eq!(step_sets(&ac)[0], ids(&made[2]).difference(&ids(&made[0])).cloned().collect());
        // The way back is the change turned round.
        let ba = change(at(1), at(0));
        let [added, removed] = step_sets(&ba);
        assert_eq!([removed, added], step_sets(&ab), "manual {start}");
        assert_eq!(ba.changed.len(), ab.changed.len(), "manual {start}");
        // Nothing differs from itself.
        assert!(change(at(0), at(0)).is_empty());
        let again = State::of(&manual(7000 + start * 3, Circles::None));
        let same = again.resolved(CONFIGURATIONS[start as usize % 4]);
        assert!(change(at(0), (&again, &same)).is_empty(), "manual {start}");
    }
}

#[test]
fn one_word_is_one_changed_step_wherever_that_step_is() {
    let files = folder("manual-src");
    let mut other = files.clone();
    edit(&mut other, "steps/steering/80-claw.md", "title: ", "title: Now ");
    let (old, new) = (State::of(&files), State::of(&other));
    let mut with = 0;
    for configuration in kitwright::resolve::configurations(&old.manual) {
        let name = configuration.name(&old.manual.settings);
        let (a, b) = (old.resolved(&name), new.resolved(&name));
        let c = change((&old, &a), (&new, &b));
        let there = a.steps.iter().any(|s| s.step.id.value.as_str() == "claw");
        with += usize::from(there);
        let changed: Vec<_> = c.changed.iter().map(|s| (s.step.id.as_str(), s.items.len())).collect();
        assert_eq!(changed, if there { vec![("claw", 1)] } else { vec![] }, "{name}");
        let rest = Change { changed: Vec::new(), ..c };
        assert!(rest.is_empty(), "{name}: {rest:?}");
    }
    assert!(with >= 2);
}

#[test]
fn a_new_id_is_offered_as_the_old_step() {
    let files = folder("manual-src");
    let mut other = files.clone();
    edit(&mut other, "steps/rig/40-cleat.md", "step: cleat\n", "step: cleat-mount\n");
    let (old, new) = (State::of(&files), State::of(&other));
    let (a, b) = (old.resolved("ICE+claw"), new.resolved("ICE+claw"));
    let c = change((&old, &a), (&new, &b));
    let renamed: Vec<_> = c.renamed.iter().map(|r| (r.from.id.as_str(), r.to.id.as_str(), r.alike)).collect();
    assert_eq!(renamed, [("cleat", "cleat-mount", 100)]);
    assert!(c.changed.is_empty() && c.moved.is_empty());
}

#[test]
fn another_picture_under_the_same_name_is_a_change() {
    let files = folder("manual-src");
    let mut other = files.clone();
    edit(&mut other, "figures/cable-end.svg", "</svg>", "<path d=\"M0 0H9\" stroke=\"#000\"/></svg>");
    let (old, new) = (State::of(&files), State::of(&other));
    let (a, b) = (old.resolved("ICE+claw"), new.resolved("ICE+claw"));
    let c = change((&old, &a), (&new, &b));
    assert!(!c.changed.is_empty());
    assert!(c.changed.iter().flat_map(|s| &s.items).all(|i| i.field == "picture" && i.name.starts_with("cable-end")));
}

#[test]
fn words_and_quantities_agree_with_difflib_and_counter() {
    let Some(python) = outside::python("changes against difflib and collections.Counter") else { return };
    let mut words = Vec::new();
    let mut quantities = Vec::new();
    for start in 0..tries(80) {
        let states = [0, 1].map(|i| State::of(&manual(9000 + start * 2 + i, Circles::None)));
        let made = [states[0].resolved("ALFA+brake+tow"), states[1].resolved("BRAVO+tow")];
        let c = change((&states[0], &made[0]), (&states[1], &made[1]));
        quantities.push(json!({ "from": counts(&made[0]), "to": counts(&made[1]), "change": differences(&c) }));
    }
    let demo = State::of(&folder("manual-src"));
    let [sand, ice] = ["SAND+brake", "ICE+claw"].map(|name| demo.resolved(name));
    let c = change((&demo, &sand), (&demo, &ice));
    for item in c.changed.iter().flat_map(|s| &s.items).chain(c.pages.iter().flat_map(|p| &p.1)) {
        let (Some(before), Some(after)) = (&item.before, &item.after) else { continue };
        words.push((before.clone(), after.clone()));
    }
    // Every text of the manual against the next one: much of them alike, much not.
    let texts: Vec<String> = sand.steps.iter().map(|s| format!("{} {}", s.step.title.value, s.step.id.value)).collect();
    words.extend(texts.windows(2).map(|pair| (pair[0].replace('-', " "), pair[1].replace('-', " "))));
    assert!(words.len() > 30);
    let scripts: Vec<_> = words
        .iter()
        .map(|(a, b)| {
            let (a, b): (Vec<&str>, Vec<&str>) = (a.split_whitespace().collect(), b.split_whitespace().collect());
            let script: Vec<_> = edits(&a, &b)
                .into_iter()
                .map(|e| match e {
                    Edit::Same(w) => json!([" ", w]),
                    Edit::Removed(w) => json!(["-", w]),
                    Edit::Added(w) => json!(["+", w]),
                })
                .collect();
            json!({ "from": a, "to": b, "script": script })
        })
        .collect();
    let file = tempfile::NamedTempFile::new().expect("a file");
    let all = json!({ "words": scripts, "quantities": quantities });
    std::fs::write(file.path(), all.to_string()).expect("written");
    let printed = outside::run(outside::script(&python, "changes.py").arg(file.path()));
    assert_eq!(printed.trim(), format!("{} texts and {} lists agree", words.len(), tries(80)));
}

/// A step with `opposite: yes` stands for two; a change in it is told of both, with the parts of each hand.
#[test]
fn a_change_of_a_step_for_both_hands_names_the_parts_of_each() {
    let mut files = kitwright::source::Memory::new();
    files.insert(
        "manual.yaml",
        "title: Pair\nvariants:\n  ONE: { title: One }\nhand-suffixes: { left: -L, right: -R }\nconfigurations: [ONE]\n\
         sections:\n  - { section: all, title: All }\n",
    );
    files.insert(
        "parts.csv",
        "number,name,hand,opposite,ONE\nX-1-L,Tang,left,X-1-R,1\nX-1-R,Tang,right,X-1-L,1\nX-2-L,Pad,left,X-2-R,1\nX-2-R,Pad,right,X-2-L,1\n",
    );
    let head = "---\nstep: tang\ntitle: Fit the left tang\nsection: all\nhand: left\nopposite: yes\n";
    files.insert("steps/all/10-tang.md", format!("{head}parts: [X-1-L]\n---\n\n1. Fit it.\n"));
    let mut other = files.clone();
    other.insert("steps/all/10-tang.md", format!("{head}parts: [X-1-L, 2 x X-2-L]\n---\n\n1. Fit it.\n"));
    let (old, new) = (State::of(&files), State::of(&other));
    let (a, b) = (old.resolved("ONE"), new.resolved("ONE"));
    let c = change((&old, &a), (&new, &b));
    let told: Vec<_> = c
        .changed
        .iter()
        .flat_map(|s| s.items.iter().map(|i| (s.step.id.as_str(), i.name.as_str(), i.after.as_deref())))
        .collect();
    assert_eq!(told, [("tang", "X-2-L", Some("quantity 2")), ("tang:right", "X-2-R", Some("quantity 2"))]);
}
