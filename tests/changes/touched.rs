//! What a change touches elsewhere: everything that rests on it, and nothing else.

use kitwright::change::{Documents, Impact, ImpactThing, Pair, impact};
use kitwright::compile;
use kitwright::resolve::{Resolved, declared, resolve};
use kitwright::source::{Files as _, Memory};
use serde_json::json;

use super::{State, edit, folder, release, side, small};
use crate::outside;

/// A frame in two variants: WIDE has another axle. The stays are made for both hands.
fn frame() -> Memory {
    let mut files = Memory::new();
    let mut put = |path: &str, text: &str| files.insert(path, text);
    put(
        "manual.yaml",
        "title: Frame\nvariants:\n  ONE: { title: One }\n  WIDE: { title: Wide, based-on: ONE }\nconfigurations: [ONE, WIDE]\n\
         hand-suffixes: { left: -L, right: -R }\nsections:\n  - { section: all, title: All }\nfastening: { deburr-with: file }\n\
         tools: { file: File }\n",
    );
    put(
        "parts.csv",
        "number,name,hand,opposite,stock,cut length,as supplied,ONE,WIDE,crate,bag,bin,blank length\n\
         F-1,Keel,,,T-1,40,cut; holes A,1,,1,,A1,\n\
         F-2,Axle,,,T-2,60,cut; holes A,1,0,1,,A1,\n\
         F-3,Wide axle,,,T-2,70,cut; holes A,0,1,1,,A1,\n\
         F-4,Axle sleeve,,,T-3,8,cut; holes A,0,1,2,P1,A2,\n\
         F-5-L,Stay,left,F-5-R,T-1,30,uncut; no holes,1,,1,,A1,32\n\
         F-5-R,Stay,right,F-5-L,T-1,30,uncut; no holes,1,,1,,A1,32\n\
         F-6,Gusset,,,S-1,,finished; holes A,2,,2,P2,A3,\n\
         F-7,Pad,,,S-1,,finished; no holes,1,,2,P3,A3,\n",
    );
    put(
        "stock.csv",
        "stock,material,shape,outside diameter,wall,bar length\nT-1,4130,round tube,1,.058,144\nT-2,4130,round tube,1.25,.058,144\n\
         T-3,4130,round tube,1.125,.058,144\nT-4,4130,round tube,1.375,.058,144\nS-1,4130,sheet,,.090,48\n",
    );
    put(
        "hardware.csv",
        "designation,name,kind,unit,bag,crate\nAN4-17A,Bolt,bolt,each,P9,2\nAN4-16A,Bolt,bolt,each,P9,2\nAN4-15A,Bolt,bolt,each,P9,2\nAN960-416,Washer,washer,each,P9,2\nMS21044N4,Nut,nut,each,P9,2\n",
    );
    let bolted = |fastener: &str, washers: u8, stack: &str| {
        format!(
            "  - {{ fastener: {fastener}, stack: [{stack}], under-nut: [{washers} x AN960-416], nut: MS21044N4, torque: 30..40 in-lb, torque-reason: Tubes. }}\n"
        )
    };
    put(
        "steps/all/10-axle.md",
        &format!(
            "---\nstep: axle\ntitle: Bolt the axle\nsection: all\nparts: [F-1, {{ part: F-2, only: ONE }}, {{ part: F-3, only: WIDE }}, 2 x F-6]\njoints:\n{}{}---\n\n1. Bolt it.\n",
            bolted(
                "AN4-17A",
                1,
                "F-6, { part: F-2, through: tube, only: ONE }, { part: F-3, through: tube, only: WIDE }, F-6"
            ),
            bolted("AN4-15A", 1, "F-6, { part: F-1, through: tube }, F-6"),
        ),
    );
    put(
        "steps/all/20-sleeve.md",
        &format!(
            "---\nstep: sleeve\ntitle: Fit the sleeve\nsection: all\nonly: WIDE\nafter: [axle]\nparts: [F-4, {{ part: F-3, do: use }}]\njoints:\n{}---\n\n1. Slide it in.\n",
            bolted("AN4-16A", 2, "{ part: F-3, through: tube }, { part: F-4, through: tube }"),
        ),
    );
    put(
        "steps/all/30-stay.md",
        "---\nstep: stay\ntitle: Saddle the left stay\nsection: all\nhand: left\nopposite: yes\nafter: [axle]\nparts: [F-5-L]\ncuts:\n\
         - { part: F-5-L, end: A, cut: saddle, onto: F-1, angle: 60, long-point: 12 }\n\
         - { part: F-5-L, end: B, cut: saddle, onto: F-3, angle: 60, long-point: 12, only: WIDE }\n\
         - { part: F-5-L, end: B, cut: saddle, onto: F-2, angle: 60, long-point: 12, only: ONE }\n---\n\n1. Saddle it.\n",
    );
    put(
        "steps/all/40-pad.md",
        "---\nstep: pad\ntitle: Glue the pad\nsection: all\nafter: [stay]\nparts: [F-7]\n---\n\n1. Glue it on.\n",
    );
    files
}

/// The impact of what `work` changes.
fn worked(files: &Memory, work: impl FnOnce(&mut Memory)) -> Impact {
    let mut files = files.clone();
    release(&mut files, "2026-01-05", "First issue");
    files.insert("kits.csv", "serial,configuration,release\n7,ONE,A\n8,WIDE,A\n9,WIDE,A\n");
    work(&mut files);
    compile::impacts(&files).unwrap_or_else(|r| panic!("{r:?}")).0
}

/// The steps that a document shows otherwise.
fn ids<'a>(documents: &'a Documents, document: &str) -> Vec<&'a str> {
    documents.steps_of(document).iter().map(|s| s.as_str()).collect()
}

fn words(impact: &Impact) -> Vec<String> {
    let word = |t: &ImpactThing| match t {
        ImpactThing::Part(n) => format!("part {n}"),
        ImpactThing::Step(id) => format!("step {id}"),
        ImpactThing::Joint(id, i) => format!("joint {id} {i}"),
        ImpactThing::Cut(id, i) => format!("cut {id} {i}"),
        ImpactThing::Hole(id, i) => format!("hole {id} {i}"),
        other => format!("{other:?}"),
    };
    impact.touched.iter().map(|t| word(&t.thing)).collect()
}

/// The tube of one variant is enlarged: its bolts, its sleeve, the saddles of both hands, where it lies, what it is sawn
/// from, and the kits of that variant. The other variant and everything else is left out.
#[test]
fn a_larger_tube_touches_what_rests_on_it_and_nothing_else() {
    let files = frame();
    let found = worked(&files, |f| edit(f, "parts.csv", "F-3,Wide axle,,,T-2", "F-3,Wide axle,,,T-4"));
    assert_eq!(words(&found), ["part F-4", "joint axle 0", "joint sleeve 0", "cut stay 1", "cut stay:right 1"]);
    assert!(found.touched.iter().all(|t| t.configurations == ["WIDE"]));
    let changed: Vec<_> = found.changes.iter().map(|c| (c.kind, c.name.as_str(), c.what.as_str())).collect();
    assert_eq!(changed, [("part", "F-3", "stock: T-2 becomes T-4")]);
    let [documents] = &found.documents[..] else { panic!("one configuration: {:?}", found.documents) };
    assert_eq!(documents.configuration, "WIDE");
    // The stacks, the sections and the saddles are drawn otherwise, though no step was written otherwise.
    assert_eq!(ids(documents, "manual"), ["axle", "sleeve", "stay", "stay:right"]);
    assert_eq!(ids(documents, "templates.pdf"), ["stay", "stay:right"]);
    let made: Vec<_> = documents.made.iter().map(|d| d.name.as_str()).collect();
    assert_eq!(made, ["manual", "shop-copy.pdf", "templates.pdf", "joints.csv"]);
    assert!(documents.moved.is_empty() && documents.settings.is_empty());
    let [work] = &found.work[..] else { panic!("one configuration: {:?}", found.work) };
    assert_eq!((work.configuration.as_str(), &work.bags[..]), ("WIDE", &[("1".to_owned(), String::new())][..]));
    assert_eq!(work.sawing.iter().map(|s| s.as_str()).collect::<Vec<_>>(), ["T-2", "T-4"]);
    assert_eq!(found.kits.iter().map(|k| k.serial).collect::<Vec<_>>(), [8, 9]);
    // The stack of the bolt was .090 + 1.25 + .090.
    let bolt = found
        .touched
        .iter()
        .find_map(|t| t.detail.as_ref().filter(|_| t.thing == ImpactThing::Joint("axle".into(), 0)))
        .expect("told in values");
    let stacks = [bolt.stack.0, bolt.stack.1].map(|l| l.map(|l| l.as_inches()));
    assert_eq!(stacks, [(143, 100), (311, 200)].map(|(n, d)| Some(kitwright::units::Rational::new(n, d))));
    assert_eq!(bolt.fits, Some(false));
}

#[test]
fn a_word_touches_one_step_in_every_configuration_that_has_it() {
    let files = frame();
    let found = worked(&files, |f| edit(f, "steps/all/20-sleeve.md", "1. Slide it in.", "1. Slide it well in."));
    assert!(found.touched.is_empty(), "{:?}", found.touched);
    let pages: Vec<_> = found.documents.iter().map(|d| (d.configuration.as_str(), ids(d, "manual"))).collect();
    assert_eq!(pages, [("WIDE", vec!["sleeve"])]);
    let found = worked(&files, |f| edit(f, "steps/all/40-pad.md", "1. Glue it on.", "1. Glue it well on."));
    assert_eq!(found.changes.len(), 1);
    assert_eq!(found.changes[0].configurations, ["ONE", "WIDE"]);
    assert!(found.documents.iter().all(|d| {
        d.made.iter().map(|m| m.name.as_str()).eq(["manual", "shop-copy.pdf"])
            && d.made.iter().all(|m| m.steps.len() == 1 && m.pages.is_empty())
    }));
    assert!(found.work.is_empty());
}

#[test]
fn shared_hardware_order_and_places_are_followed() {
    let files = frame();
    // A row of hardware is read by every joint that uses it.
    let found =
        worked(&files, |f| edit(f, "hardware.csv", "AN4-15A,Bolt,bolt,each,P9,2", "AN4-15A,Bolt,bolt,each,P8,2"));
    assert!(found.touched.is_empty());
    assert_eq!(found.work[0].bags, [("2".to_owned(), "P8".to_owned()), ("2".to_owned(), "P9".to_owned())]);
    assert_eq!(ids(&found.documents[0], "manual"), ["axle"]);
    assert_eq!(ids(&found.documents[0], "pick-lists.pdf"), ["axle"]);
    let found = worked(&files, |f| edit(f, "hardware.csv", "kind,unit,bag,crate\n", "kind,unit,bag,crate,height\n"));
    assert!(found.is_empty(), "an empty column says nothing");
    // Who waited for a step that is gone.
    let found = worked(&files, |f| {
        assert!(f.remove("steps/all/20-sleeve.md"));
        edit(f, "parts.csv", "F-4,Axle sleeve,,,T-3,8,cut; holes A,0,1,", "F-4,Axle sleeve,,,T-3,8,cut; holes A,0,0,");
        edit(f, "steps/all/40-pad.md", "after: [stay]", "after: [stay, axle]");
    });
    assert!(found.touched.is_empty(), "{:?}", found.touched);
    let found = worked(&files, |f| {
        assert!(f.remove("steps/all/40-pad.md"));
        edit(f, "parts.csv", "F-7,Pad,,,S-1,,finished; no holes,1,", "F-7,Pad,,,S-1,,finished; no holes,0,");
    });
    assert_eq!(found.documents.len(), 2);
    assert_eq!(found.work[0].bags, [("2".to_owned(), "P3".to_owned())]);
    // A part for one variant: the other one has it too and stays as it was.
    let found = worked(&files, |f| {
        edit(f, "parts.csv", "F-7,Pad,,,S-1,,finished; no holes,1,,", "F-7,Pad,,,S-1,,finished; no holes,1,2,")
    });
    let pad = &found.changes[0];
    assert_eq!(
        (pad.name.as_str(), &pad.configurations[..], &pad.unchanged[..]),
        ("F-7", &["WIDE".to_owned()][..], &["ONE".to_owned()][..])
    );
}

#[test]
fn what_is_the_same_touches_nothing() {
    let mut files = small();
    assert!(compile::impacts(&files).is_err(), "nothing was released yet");
    release(&mut files, "2026-01-05", "First issue");
    assert!(compile::impacts(&files).expect("it can be told").0.is_empty());
    edit(&mut files, "manual.yaml", "maker: ", "# A remark\nmaker: ");
    assert!(compile::impacts(&files).expect("it can be told").0.is_empty());
}

/// The tubes of the demonstration against networkx over the same sources.
#[test]
fn what_rests_on_a_tube_agrees_with_networkx() {
    let Some(python) = outside::python("what rests on a tube against networkx") else {
        return;
    };
    let (whole, mut files) = (folder("manual-src"), Memory::new());
    for entry in whole.list().expect("listed") {
        let kept = ["figures/", "pages/"].iter().all(|f| !entry.path.starts_with(f))
            && !matches!(entry.path.as_str(), "kits.csv" | "shipped.csv");
        if kept {
            files.insert(entry.path.clone(), whole.read(&entry.path).expect("read"));
        }
    }
    let before = State::of(&files);
    let list = String::from_utf8(files.read("parts.csv").expect("there")).expect("UTF-8");
    let tubes: Vec<&kitwright::model::Part> = before
        .manual
        .parts
        .values()
        .filter(|p| p.stock.as_ref().is_some_and(|s| s.value.as_str().starts_with("T-")))
        .collect();
    let mut cases = Vec::new();
    for part in &tubes {
        let (number, stock) = (part.number.as_str(), part.stock.as_ref().expect("it has one").value.as_str());
        let other =
            before.manual.stock.keys().find(|s| s.as_str().starts_with("T-") && s.as_str() != stock).expect("another");
        let row = list.lines().find(|l| l.starts_with(&format!("{number},"))).expect("a row");
        let mut changed = files.clone();
        changed.insert("parts.csv", list.replace(row, &row.replace(stock, other.as_str())));
        let after = State::of(&changed);
        for configuration in declared(&before.manual.settings) {
            let (a, b): (Resolved, Resolved) =
                (resolve(&before.manual, &configuration), resolve(&after.manual, &configuration));
            if a.ledger.parts.get(&part.number.value).is_none_or(|x| x.steps.is_empty()) {
                continue;
            }
            let found = impact("A", &[Pair::new(side((&before, &a)), side((&after, &b)))]);
            let asked = |w: &String| ["joint ", "cut ", "part "].iter().any(|kind| w.starts_with(kind));
            let touched: Vec<String> = words(&found).into_iter().filter(asked).collect();
            cases.push(json!({
                "part": number, "variant": configuration.variant.as_str(),
                "options": configuration.options.iter().map(|o| o.as_str()).collect::<Vec<_>>(), "touched": touched,
            }));
        }
    }
    assert!(cases.len() > 20, "{}", cases.len());
    let desk = tempfile::tempdir().expect("a folder");
    for entry in files.list().expect("listed") {
        let path = desk.path().join("manual").join(&entry.path);
        std::fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
        std::fs::write(path, files.read(&entry.path).expect("read")).expect("written");
    }
    let asked = desk.path().join("cases.json");
    std::fs::write(&asked, json!(cases).to_string()).expect("written");
    let printed = outside::run(outside::script(&python, "touched.py").arg(desk.path().join("manual")).arg(&asked));
    assert_eq!(printed.trim(), format!("{} parts agree", cases.len()));
}

/// What was set out by numbers is set out anew where they change: a row of holes and its strip as well as a cut.
#[test]
fn what_is_done_again_is_listed() {
    let mut files = frame();
    let row = "holes:\n  - { part: F-1, hole: lacing, count: 3, do: drill, drill: 1/4, from-end: B, first: 3, last: 31, line: 12 }\n  - { part: F-1, hole: lacing, do: deburr }\n";
    edit(
        &mut files,
        "steps/all/40-pad.md",
        "parts: [F-7]\n",
        &format!("parts: [F-7, {{ part: F-1, do: use }}]\ntools: [file]\n{row}"),
    );
    release(&mut files, "2026-01-05", "First issue");
    let redo = |files: &Memory| {
        let change = compile::compared(files, "A/ONE", "ONE").unwrap_or_else(|r| panic!("{r:?}"));
        change.redo.iter().map(|r| format!("{} {} {} {}", r.step, r.part, r.end, r.cut)).collect::<Vec<_>>()
    };
    assert_eq!(redo(&files), [""; 0]);
    edit(&mut files, "steps/all/40-pad.md", "last: 31", "last: 33");
    assert_eq!(redo(&files), ["pad F-1 B row of holes, and its strip"]);
    edit(&mut files, "steps/all/30-stay.md", "onto: F-1, angle: 60", "onto: F-1, angle: 55");
    assert_eq!(
        redo(&files),
        ["stay F-5-L A saddle onto F-1", "stay:right F-5-R A saddle onto F-1", "pad F-1 B row of holes, and its strip"]
    );
}

/// A text for older kits alone is edited: the kits that have it are named, by a configuration of their own, and the kits
/// that are built now are not.
#[test]
fn a_word_for_older_kits_names_the_older_kits() {
    let mut files = frame();
    edit(&mut files, "manual.yaml", "configurations: [ONE, WIDE]\n", "configurations: [ONE, WIDE]\nserial: 9\n");
    edit(
        &mut files,
        "steps/all/20-sleeve.md",
        "1. Slide it in.",
        "1. Slide it in.\n\n<!-- only: serial ..8 -->\nFile its edge first.\n<!-- end only -->",
    );
    let found = worked(&files, |f| edit(f, "steps/all/20-sleeve.md", "File its edge", "File its inner edge"));
    assert_eq!(found.documents.iter().map(|d| d.configuration.as_str()).collect::<Vec<_>>(), ["WIDE, serial 0 to 8"]);
    assert_eq!(found.kits.iter().map(|k| k.serial).collect::<Vec<_>>(), [8]);
    let found = worked(&files, |f| edit(f, "steps/all/20-sleeve.md", "Slide it in", "Slide it well in"));
    assert_eq!(
        found.documents.iter().map(|d| d.configuration.as_str()).collect::<Vec<_>>(),
        ["WIDE", "WIDE, serial 0 to 8"]
    );
    assert_eq!(found.kits.iter().map(|k| k.serial).collect::<Vec<_>>(), [8, 9]);
}

/// A part under a new number is the same part; a step that was cut in two is no new work.
#[test]
fn what_was_renumbered_split_or_moved_is_shown_as_such() {
    let files = frame();
    let found = worked(&files, |f| {
        for path in ["parts.csv", "steps/all/40-pad.md"] {
            edit(f, path, "F-7", "F-17");
        }
    });
    let notes: Vec<_> = found.changes.iter().map(|c| (c.kind, c.name.as_str(), c.what.as_str())).collect();
    assert_eq!(notes, [("part", "F-17", "renumbered, it was F-7"), ("step", "pad", "changed: parts")]);
    assert_eq!(ids(&found.documents[0], "manual"), ["pad"]);
    assert_eq!(found.work[0].bags, [("2".to_owned(), "P3".to_owned())]);

    let two = "1. Slide it in.\n2. Turn it until the holes meet.\n3. Put the bolt in.\n4. Put the nut on.\n";
    let mut files = frame();
    edit(&mut files, "steps/all/20-sleeve.md", "1. Slide it in.\n", two);
    let found = worked(&files, |f| {
        edit(f, "steps/all/20-sleeve.md", "3. Put the bolt in.\n4. Put the nut on.\n", "");
        f.insert(
            "steps/all/25-bolt.md",
            "---\nstep: bolt\ntitle: Bolt the sleeve\nsection: all\nonly: WIDE\nafter: [sleeve]\n---\n\n1. Put the bolt in.\n2. Put the nut on.\n",
        );
    });
    let notes: Vec<_> = found.changes.iter().map(|c| (c.kind, c.name.as_str(), c.what.as_str())).collect();
    assert_eq!(notes, [("step", "bolt", "split off from sleeve"), ("step", "sleeve", "changed: text")]);

    let found = worked(&frame(), |f| edit(f, "steps/all/40-pad.md", "after: [stay]", "after: [axle]\nhours: 1"));
    assert_eq!(found.documents[0].moved, [] as [kitwright::units::StepId; 0], "its page changes anyway");
}
