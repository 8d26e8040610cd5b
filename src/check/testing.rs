//! A small sound manual in memory, for the tests of rules: change it in one place and see what is found.

use crate::change;
use crate::diag::{Diagnostic, Diagnostics, Level};
use crate::model;
use crate::resolve;
use crate::source::{Memory, SourceMap};

/// A manual in memory.
#[derive(Clone, Debug)]
pub struct Case {
    files: Vec<(String, String)>,
    /// The file of release A, where there is one.
    released: Option<String>,
}

/// A manual without a finding.
pub fn sound() -> Case {
    let files = [
        ("manual.yaml", MANUAL),
        ("parts.csv", PARTS),
        ("hardware.csv", HARDWARE),
        ("stock.csv", STOCK),
        ("steps/frame/10-keel.md", KEEL),
        ("steps/frame/20-left.md", LEFT),
        ("steps/frame/21-right.md", RIGHT),
        ("steps/frame/30-plates.md", PLATES),
        ("steps/frame/40-paint.md", PAINT),
        ("steps/finish/10-cross.md", CROSS),
        ("steps/finish/20-brake.md", BRAKE),
        ("steps/finish/30-close.md", CLOSE),
        ("figures/bracket.svg", FIGURE),
        ("figures/brake.svg", FIGURE),
    ];
    Case { files: files.map(|(path, text)| (path.to_owned(), text.to_owned())).into(), released: None }
}

/// The same with a bond in the first step.
pub fn glued() -> Case {
    let bond = "bonds:\n  - { bond: left-rib, parts: [KW-101, KW-105], adhesive: epoxy }\nconsumables: [primer, epoxy]";
    sound()
        .edit("manual.yaml", "  primer: Primer\n", &format!("  primer: Primer\n  epoxy: Epoxy\n{ADHESIVE}"))
        .edit("steps/frame/10-keel.md", "consumables: [primer]", bond)
        .edit("steps/frame/10-keel.md", "2. Prime it", "2. Glue the rib.\n3. Prime it")
        .edit("steps/frame/20-left.md", "after: [keel]\n", "after: [keel]\ncured: [left-rib]\n")
}

/// The same with a wire in the step of the brake.
pub fn wired() -> Case {
    let wire = "wires:\n  - { wire: lamp, from: fuse box, to: brake lamp, colour: red, size: AWG 18, length: 60, \
                from-terminal: RT-1, to-terminal: RT-1, crimped-with: saw, current: 2 A, voltage: 12 V, fuse: 5 A }\n\
                tools: [saw]\nfigures:";
    sound()
        .edit("hardware.csv", "MS20470AD4-5,", "RT-1,Ring terminal,other,each\nMS20470AD4-5,")
        .edit("steps/finish/20-brake.md", "figures:", wire)
        .edit("steps/finish/20-brake.md", "1. Fit the lever.", "1. Crimp the terminals.\n2. Fit the lever.")
}

const ADHESIVE: &str = "\
adhesives:
  epoxy:
    preparation: Degrease and abrade.
    ratio: 100 to 45
    ratio-by: weight
    least-temperature: 15 C
    pot-life: 30 min
    cures:
      - { at: 15 C, handling: 24 h, full: 10 d }
      - { at: 20 C, handling: 12 h, full: 7 d }
    shelf-life: 12 months
    test-piece: Glue two offcuts and break them.
    protection: Gloves and glasses
";

impl Case {
    /// Replaces the first `from` of a file.
    #[track_caller]
    pub fn edit(mut self, path: &str, from: &str, to: &str) -> Self {
        let (_, text) = self.files.iter_mut().find(|(p, _)| p == path).expect("the file is there");
        assert!(text.contains(from), "`{from}` is not in {path}");
        *text = text.replacen(from, to, 1);
        self
    }

    /// Replaces every `from` of a file.
    #[track_caller]
    pub fn edit_all(mut self, path: &str, from: &str, to: &str) -> Self {
        let (_, text) = self.files.iter_mut().find(|(p, _)| p == path).expect("the file is there");
        assert!(text.contains(from), "`{from}` is not in {path}");
        *text = text.replace(from, to);
        self
    }

    /// Adds text to the end of a file, or a new file.
    pub fn add(mut self, path: &str, more: &str) -> Self {
        match self.files.iter_mut().find(|(p, _)| p == path) {
            Some((_, text)) => text.push_str(more),
            None => self.files.push((path.to_owned(), more.to_owned())),
        }
        self
    }

    #[track_caller]
    pub fn remove(mut self, path: &str) -> Self {
        let before = self.files.len();
        self.files.retain(|(p, _)| p != path);
        assert!(self.files.len() < before, "{path} is not there");
        self
    }

    /// Takes the line that starts with `start` out of a file.
    #[track_caller]
    pub fn without_line(mut self, path: &str, start: &str) -> Self {
        let (_, text) = self.files.iter_mut().find(|(p, _)| p == path).expect("the file is there");
        let kept: Vec<&str> = text.lines().filter(|l| !l.starts_with(start)).collect();
        assert!(kept.len() < text.lines().count(), "no line of {path} starts with `{start}`");
        *text = kept.join("\n") + "\n";
        self
    }

    /// Another case was released as A; `edit` may change the file of the release.
    pub fn since(mut self, other: &Self, edit: impl Fn(String) -> String) -> Self {
        let body = change::body(&change::normalise(&other.memory()).expect("a folder in memory can be listed"));
        let head = format!(
            "kitwright release\nschema {}\nletter A\ndate 2026-01-05\nclass information\nsummary First\nprogram 0\n\n",
            change::SCHEMA
        );
        let text = edit(head + &body);
        let earlier_form = text.contains("\nschema 1\n") || text.contains("\nschema 2\n");
        self.released = Some(if earlier_form { text } else { change::with_digest(text) });
        let carried =
            other.files.iter().filter(|(path, _)| path.starts_with("figures/") || path.starts_with("templates/"));
        for (_, text) in carried {
            let path = change::store_path(&change::hex_digest(text.as_bytes()));
            if !self.files.iter().any(|(p, _)| *p == path) {
                self.files.push((path, text.clone()));
            }
        }
        self
    }

    fn memory(&self) -> Memory {
        let mut memory = Memory::new();
        for (path, text) in &self.files {
            memory.insert(path.as_str(), text.as_bytes());
        }
        if let Some(release) = &self.released {
            memory.insert("releases/A.release", release.as_bytes());
        }
        memory
    }

    /// Everything that reading and checking find, and the texts.
    pub fn check(&self) -> (Vec<Diagnostic>, SourceMap) {
        let memory = self.memory();
        let read = model::read(&memory).expect("a folder in memory can be listed");
        let manual = read.manual.expect("there is a manual");
        let resolved: Vec<_> = resolve::configurations(&manual).iter().map(|c| resolve::resolve(&manual, c)).collect();
        let past = change::Past::read(&memory).expect("a folder in memory can be listed");
        let found = super::check_since(&manual, &resolved, &[], &past, &read.sources, read.faults);
        let sorted = Diagnostics::collect(found, &read.sources);
        (sorted.iter().cloned().collect(), read.sources)
    }

    /// What is otherwise in the kits of the register, as far as it is wrong: rule, file and the marked text.
    pub fn shipped(&self) -> Vec<String> {
        let read = model::read(&self.memory()).expect("a folder in memory can be listed");
        let manual = read.manual.expect("there is a manual");
        let mut found = Vec::new();
        for kit in &manual.kits {
            let plain =
                resolve::parse_configuration(&manual.settings, &kit.configuration.value).expect("a configuration");
            let deviations = manual.deviations_of(kit.serial.value).cloned().collect();
            let configuration = resolve::Configuration { serial: Some(kit.serial.value), deviations, ..plain };
            found.extend(super::kit_faults(&manual, &resolve::resolve(&manual, &configuration), &read.sources));
        }
        let sorted = Diagnostics::collect(found, &read.sources);
        let named = |d: &Diagnostic| {
            let span = d.span.expect("a place");
            format!("{} {} `{}`", d.rule, read.sources.name(span.file), read.sources.slice(span))
        };
        sorted.iter().map(named).collect()
    }

    /// What was examined.
    pub fn coverage(&self) -> Vec<super::Examined> {
        let read = model::read(&self.memory()).expect("a folder in memory can be listed");
        let manual = read.manual.expect("there is a manual");
        let resolved: Vec<_> = resolve::configurations(&manual).iter().map(|c| resolve::resolve(&manual, c)).collect();
        super::coverage(&manual, &resolved)
    }

    /// What is found, in order: rule, file and the marked text. Without the questions.
    pub fn findings(&self) -> Vec<String> {
        self.named(|level| level != Level::Question)
    }

    /// What a rule asks in a review.
    pub fn questions(&self, rule: &str) -> Vec<String> {
        let asked = self.named(|level| level == Level::Question);
        asked.into_iter().filter(|q| q.split(' ').next() == Some(rule)).collect()
    }

    fn named(&self, wanted: impl Fn(Level) -> bool) -> Vec<String> {
        let (found, sources) = self.check();
        found
            .iter()
            .filter(|d| wanted(d.level))
            .map(|d| match (d.span, &d.file) {
                (Some(span), _) => format!("{} {} `{}`", d.rule, sources.name(span.file), sources.slice(span)),
                (None, Some(file)) => format!("{} {file}", d.rule),
                (None, None) => d.rule.to_owned(),
            })
            .collect()
    }

    /// The one finding there is, besides questions.
    #[track_caller]
    pub fn only(&self) -> Diagnostic {
        let (found, _) = self.check();
        let mut found: Vec<_> = found.into_iter().filter(|d| d.level != Level::Question).collect();
        assert_eq!(found.len(), 1, "{:#?}", self.findings());
        found.remove(0)
    }
}

const MANUAL: &str = r#"title: Workbench trolley
maker: A maker
number: KW-100
variants:
  BASE: { title: Short trolley }
  LONG: { title: Long trolley, based-on: BASE, inherits-conditions: no }
options:
  brake: { title: Brake }
  rack: { title: Rack, excludes: [brake] }
configurations: [BASE, LONG+brake]
serial: 12
sections:
  - { section: frame, title: Frame }
  - { section: finish, title: Finish }
hand-suffixes: { left: -L, right: -R }
kerf: 1/16
fastening: { deburr-with: drill }
tools:
  drill: Hand drill
  saw: Hacksaw
consumables:
  primer: Primer
"#;

const PARTS: &str = "\
number,name,hand,opposite,stock,cut length,blank length,as supplied,BASE,LONG,brake,cut from
KW-101,Keel tube,,,T-1,40,42,uncut; no holes,1,,,
KW-103-L,Bracket,left,KW-103-R,S-1,,,pilot holes A,1,,,
KW-103-R,Bracket,right,KW-103-L,S-1,,,pilot holes A,1,,,
KW-104,Plate,,,S-2,,,finished; holes C,2,3,,
KW-105,Rail,,,T-1,20,,cut,1,,,
KW-200,Cross tube,,,T-1,30,30,uncut; no holes,1,,,
KW-201,Cross piece,,,T-1,12,,,,,,KW-200
KW-202,Short piece,,,T-1,8,,,,,,KW-200
KW-300,Brake lever,,,,,,finished,,,1,
";

const HARDWARE: &str = "\
designation,name,kind,unit
AN4-10A,Bolt,bolt,each
AN960-416,Washer,washer,each
AN365-428A,Nut,nut,each
AN380-2-2,Cotter pin,cotter pin,each
MS20470AD4-5,Rivet,solid rivet,lb
";

const STOCK: &str = "\
stock,material,shape,outside diameter,wall,bar length
T-1,4130,round tube,1,.058,144
S-1,6061-T6,sheet,,1/2,48
S-2,6061-T6,sheet,,.058,48
";

const KEEL: &str = "\
---
step: keel
title: Cut the keel
section: frame
makes: [keel-tube]
parts:
  - KW-101
  - KW-105
cuts:
  - { part: KW-101, end: A, cut: mitre, angle: 22.5, length: 40, trim: 2, long-point: 12 }
tools: [saw]
consumables: [primer]
safety:
  - caution: Cut ends are sharp. Wear gloves.
measure:
  - { measure: Length, target: 40, tolerance: 1/16 }
---

The [](part:KW-101) comes long. The [bracket](step:left-bracket) holds it.

1. Saw the end with the [](tool:saw).
2. Prime it with [](consumable:primer).
";

const LEFT: &str = "\
---
step: left-bracket
title: Fit the left bracket
section: frame
hand: left
after: [keel]
parts:
  - { assembly: keel-tube }
  - KW-103-L
holes:
  - { part: KW-103-L, hole: A, count: 2, do: open up, drill: 1/4 }
  - { part: KW-101, hole: left, count: 2, do: match-drill, from: KW-103-L, drill: 1/4, for: AN4-10A }
joints:
  - fastener: AN4-10A
    stack: [KW-103-L, { part: KW-101, through: wall }]
    under-nut: [AN960-416]
    nut: AN365-428A
    places: 2
figures:
  - figure: bracket.svg
    alt: The bracket on the keel
    callouts:
      - { callout: 1, at: [20, 30], part: KW-103-L }
      - { callout: 2, at: [70, 30], hardware: AN4-10A }
tools: [drill]
---

1. Drill the holes, as [](figure:bracket.svg) shows.

> **WARNING** Swarf cuts. Wear goggles.

2. Fit the bolts. Torque the nuts.
";

const RIGHT: &str = "\
---
step: right-bracket
title: Fit the right bracket
section: frame
hand: right
after: [left-bracket]
parts:
  - { assembly: keel-tube }
  - KW-103-R
holes:
  - { part: KW-103-R, hole: A, count: 2, do: open up, drill: 1/4 }
  - { part: KW-101, hole: right, count: 2, do: match-drill, from: KW-103-R, drill: 1/4, for: AN4-10A }
joints:
  - fastener: AN4-10A
    stack: [KW-103-R, { part: KW-101, through: wall }]
    under-nut: [AN960-416]
    nut: AN365-428A
    places: 2
tools: [drill]
---

1. Drill and bolt the bracket, and torque the nuts.
";

const PLATES: &str = "\
---
step: plates
title: Try the plates
section: frame
after: [right-bracket]
parts:
  - { part: KW-104, quantity: 2, do: trial fit }
  - { part: KW-104, quantity: 1, do: trial fit, only: LONG }
hardware:
  - { hardware: AN4-10A, quantity: 2, do: fit temporarily }
  - { hardware: AN380-2-2, quantity: 2 }
---

1. Hold the plates.
<!-- only: LONG and not rack -->
2. Hold the third plate.
<!-- end only -->
";

const PAINT: &str = "\
---
step: paint
title: Paint and rivet the plates
section: frame
after: [plates]
parts:
  - { part: KW-104, quantity: 2, do: remove }
  - { part: KW-104, quantity: 2, do: finish }
  - { part: KW-104, quantity: 2, do: refit }
hardware:
  - { hardware: AN4-10A, quantity: 2, do: remove }
  - { hardware: MS20470AD4-5, quantity: 0.05 lb }
consumables: [primer]
---

1. Paint the plates.
2. Rivet them.
";

const CROSS: &str = "\
---
step: cross
title: Cut the cross tubes
section: finish
parts:
  - { part: KW-200, becomes: [KW-201, 2 x KW-202] }
  - KW-201
tools: [saw]
---

1. Saw the tube.
";

const BRAKE: &str = "\
---
step: brake
title: Fit the brake
section: finish
only: brake
parts:
  - KW-300
  - { part: KW-105, do: use }
figures:
  - figure: brake.svg
    alt: The lever
    width: 3
---

1. Fit the lever.
";

const CLOSE: &str = "\
---
step: close
title: Close the frame
section: finish
after: [cross, brake]
parts:
  - 2 x KW-202
inspect:
  - { inspect: frame-box, look-for: No tools left inside }
closes: [frame-box]
sign-off: [builder]
---

1. Close the frame.
";

const FIGURE: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"300\" height=\"200\" viewBox=\"0 0 300 200\">\
<rect x=\"10\" y=\"10\" width=\"100\" height=\"50\"/></svg>\n";
