//! What was examined: of each kind of work how much was judged by tables and rules, how much by values from memory, and how
//! much not at all, and why. A summary beside the findings; it finds nothing itself.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use crate::joint::{HoleLedger, Items, SeenJoint, Tightening, seen, thread_state};
use crate::model::{HardwareAction, Joint, Manual, PartAction};
use crate::plan::{TubeFault, TubeWork, cables};
use crate::resolve::Resolved;
use crate::trade::fit::{Fit, Shank};
use crate::trade::{ItemForm, Source, ceiling, hole_for};

/// One kind of work.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Examined {
    /// In the plural: `joints`.
    pub what: &'static str,
    /// Judged by published tables, rules of the trade or the maker's own values.
    pub by_tables: usize,
    pub from_memory: usize,
    /// Not judged, by the reason; the most frequent first.
    pub not_judged: Vec<(String, usize)>,
}

impl Examined {
    fn of(what: &'static str, verdicts: impl IntoIterator<Item = Verdict>) -> Self {
        let mut all = Self { what, ..Self::default() };
        let mut why: BTreeMap<String, usize> = BTreeMap::new();
        for verdict in verdicts {
            match verdict {
                Ok(source) if source.may_fail() => all.by_tables += 1,
                Ok(_) => all.from_memory += 1,
                Err(reason) => *why.entry(reason).or_default() += 1,
            }
        }
        all.not_judged = why.into_iter().collect();
        all.not_judged.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        all
    }

    pub fn unjudged(&self) -> usize {
        self.not_judged.iter().map(|(_, n)| n).sum()
    }

    pub fn total(&self) -> usize {
        self.by_tables + self.from_memory + self.unjudged()
    }
}

/// What one thing was judged by, or why it was not.
type Verdict = Result<Source, String>;

/// What is examined in a manual, each place once however many configurations have it.
pub fn coverage(manual: &Manual, resolved: &[Resolved]) -> Vec<Examined> {
    let items = Items::new(manual);
    let joints = seen(manual, &items, resolved);
    let put = |j: &&SeenJoint| j.joint.action != HardwareAction::Remove;
    let torques = joints.iter().filter(put).filter_map(|j| torque(manual, j));
    vec![
        Examined::of("joints", joints.iter().filter(put).map(|j| fit(manual, &items, j))),
        Examined::of("torques", torques),
        Examined::of("holes", holes(manual, &items, resolved)),
        Examined::of("cables", of_cables(manual, resolved)),
        Examined::of("bonds", bonds(manual)),
        Examined::of("wires", wires(manual)),
        Examined::of("cuts", cuts(manual, resolved)),
        Examined::of("finishes", finishes(manual, resolved)),
    ]
}

fn because(reason: &str) -> Verdict {
    Err(reason.to_owned())
}

fn listed(manual: &Manual, joint: &Joint) -> bool {
    joint.with_fastener().all(|h| manual.hardware.contains_key(&h.value))
}

/// Whether the length of a fastener is held against its stack.
fn fit(manual: &Manual, items: &Items, seen: &SeenJoint) -> Verdict {
    let (joint, reading) = (seen.joint, &seen.reading);
    if !listed(manual, joint) {
        return because("hardware that is not in the list");
    }
    let Some(fastener) = reading.fastener.as_deref() else { return because("it is not known what the fastener is") };
    if fastener.form.into_wood() {
        return because("a screw into wood");
    }
    let Some(thickness) = reading.thickness else { return because("thickness of the stack not known") };
    let weakest = |source: Source| Ok(source.min(thickness.source));
    match fastener.form {
        ItemForm::SolidRivet(_) => {
            return fastener.length.map_or_else(|| because("length of the rivet not known"), |l| weakest(l.source));
        }
        ItemForm::BlindRivet(_) => {
            return fastener.grip_range.map_or_else(|| because("grip of the rivet not known"), |g| weakest(g.source));
        }
        ItemForm::ClevisPin => {
            return fastener.grip.map_or_else(|| because("grip of the pin not known"), |g| weakest(g.source));
        }
        form if !form.drawn() => return because("no bolt, rivet or pin"),
        _ => {}
    }
    if Shank::of(fastener).is_none() {
        return because("lengths of this series not in the table");
    }
    if let Some(threaded) = reading.threaded {
        return weakest(threaded.deep.source.min(threaded.least.source));
    }
    if joint.nut.is_none() {
        return because("its thread goes into a part");
    }
    if reading.washers.is_none() {
        let unknown = |d| items.get(d).and_then(|i| i.thickness).is_none();
        let washer = joint.under_head.iter().chain(&joint.under_nut).find(|w| unknown(&w.0.value));
        return because(if washer.is_some() { "thickness of a washer not known" } else { "washers not known" });
    }
    match &reading.fit {
        Some(Ok(fit)) if fit.margins.past_nut.is_none() => because("height of the nut not known"),
        Some(Ok(fit)) => Ok(source(fit)),
        _ => because("measures that can't be"),
    }
}

/// The weakest of what the verdict on a bolt rests on.
fn source(fit: &Fit) -> Source {
    let margins = [fit.margins.hole, fit.margins.nut, fit.margins.past_nut];
    margins.into_iter().flatten().map(|m| m.source).min().unwrap_or(Source::FromMemory)
}

/// Whether a torque is the table's or under a ceiling. `None` where nothing is drawn tight.
fn torque(manual: &Manual, seen: &SeenJoint) -> Option<Verdict> {
    let fastener = seen.reading.fastener.as_deref()?;
    Some(match &seen.reading.tightening {
        Tightening::None => return None,
        Tightening::Table(table) => Ok(table.source),
        Tightening::Required(why) => Err(format!("no value: {}", why.words())),
        Tightening::Designer { .. } => match ceiling(
            fastener,
            seen.reading.nut.as_deref(),
            &manual.settings.fastening.friction,
            thread_state(seen.joint),
        ) {
            Some(limit) if limit.value.assumed => because("property class not written"),
            Some(limit) => Ok(limit.source),
            None => because("no limit known for this thread"),
        },
    })
}

/// Holes that are worked on, and what their sizes are held against.
fn holes(manual: &Manual, items: &Items, resolved: &[Resolved]) -> Vec<Verdict> {
    let ledgers: Vec<_> = resolved.par_iter().map(|r| HoleLedger::new(manual, items, r)).collect();
    let mut all: BTreeMap<(&str, &str), Verdict> = BTreeMap::new();
    for record in ledgers.iter().flat_map(|l| l.holes.values()).filter(|r| !r.work.is_empty()) {
        let verdict = match (record.largest(), record.for_.map(|f| items.get(f))) {
            (None, _) => because("size not told"),
            (_, None) => because("not said what goes through"),
            (_, Some(None)) => because("it is not known what goes through"),
            (_, Some(Some(fastener))) => {
                hole_for(fastener).map_or_else(|| because("no hole known for the fastener"), |hole| Ok(hole.source))
            }
        };
        all.entry((record.part.as_str(), record.name)).or_insert(verdict);
    }
    all.into_values().collect()
}

fn of_cables(manual: &Manual, resolved: &[Resolved]) -> Vec<Verdict> {
    let mut all: BTreeMap<String, Verdict> = BTreeMap::new();
    for cable in resolved.iter().flat_map(|r| cables(manual, r)) {
        let verdict = cable
            .strength
            .map_or_else(|| because("construction, size or metal not in the table"), |strength| Ok(strength.source));
        all.entry(cable.id.to_owned()).or_insert(verdict);
    }
    all.into_values().collect()
}

/// Bonds as written, and whether it is known how long each cures.
fn bonds(manual: &Manual) -> Vec<Verdict> {
    let written = manual.written_steps();
    let known = |id| manual.settings.adhesives.get(id).is_some_and(|a| !a.cures.is_empty());
    let verdict = |known| if known { Ok(Source::CommonPractice) } else { because("how long it cures not told") };
    written.flat_map(|s| &s.bonds).map(|bond| verdict(known(&bond.adhesive.value))).collect()
}

/// Wires as written: what protects each and what is lost in it.
fn wires(manual: &Manual) -> Vec<Verdict> {
    let written = manual.written_steps();
    written
        .flat_map(|s| &s.wires)
        .map(|wire| {
            if wire.fuse.is_none() && wire.breaker.is_none() {
                return because("what protects it not told");
            }
            if wire.current.is_none() {
                return because("current not told");
            }
            wire.size.value.bears().map_or_else(|| because("no current known for this size"), |bears| Ok(bears.source))
        })
        .collect()
}

/// Cuts whose geometry is worked out.
fn cuts(manual: &Manual, resolved: &[Resolved]) -> Vec<Verdict> {
    let mut all = BTreeMap::new();
    for r in resolved {
        let work = TubeWork::new(manual, r);
        for s in &r.steps {
            for cut in &s.step.cuts {
                all.entry((s.step.id.value.as_str(), cut.span)).or_insert_with(|| match work.piece(&cut.part.value) {
                    Err(TubeFault::Unknown) => because("stock, length or angle not told"),
                    _ => Ok(Source::Computed("geometry of the tube")),
                });
            }
        }
    }
    all.into_values().collect()
}

/// Finishes that the parts list names, and whether a step applies them or the part comes with them.
fn finishes(manual: &Manual, resolved: &[Resolved]) -> Vec<Verdict> {
    let applied: BTreeSet<_> = resolved
        .iter()
        .flat_map(|r| &r.steps)
        .flat_map(|s| &s.step.parts)
        .filter(|p| p.action == PartAction::Finish)
        .map(|p| &p.part.value)
        .collect();
    let used = |number| resolved.iter().any(|r| r.ledger.parts.get(number).is_some_and(|a| !a.steps.is_empty()));
    let parts = manual.parts.iter().filter(|(number, p)| !p.finish.trim().is_empty() && used(number));
    parts
        .map(|(number, part)| {
            if part.supplied.finished || part.supplied.assembled || applied.contains(number) {
                Ok(Source::CommonPractice)
            } else {
                because("no step applies it")
            }
        })
        .collect()
}

/// One line: `examined 212 joints (12 not judged), 40 torques, ...`.
pub fn coverage_line(all: &[Examined]) -> String {
    let parts: Vec<String> = all
        .iter()
        .filter(|e| e.total() > 0)
        .map(|e| {
            let mut notes = Vec::new();
            if e.from_memory > 0 {
                notes.push(format!("{} from memory", e.from_memory));
            }
            if e.unjudged() > 0 {
                notes.push(format!("{} not judged", e.unjudged()));
            }
            let notes = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join(", ")) };
            format!("{} {}{notes}", e.total(), e.what)
        })
        .collect();
    if parts.is_empty() {
        "examined: no joints, holes, cables or cuts yet".to_owned()
    } else {
        format!("examined {}", parts.join(", "))
    }
}

/// The whole summary, a line for each kind of work and one for each reason.
pub fn coverage_text(all: &[Examined]) -> String {
    let mut text = String::new();
    for e in all.iter().filter(|e| e.total() > 0) {
        text.push_str(&format!(
            "{}: of {}, {} judged by tables and rules, {} by values from memory, {} not judged\n",
            e.what,
            e.total(),
            e.by_tables,
            e.from_memory,
            e.unjudged()
        ));
        for (why, n) in &e.not_judged {
            text.push_str(&format!("    {n} not judged: {why}\n"));
        }
    }
    if text.is_empty() {
        text.push_str(&coverage_line(all));
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{Case, sound};

    fn of(case: &Case, what: &str) -> (usize, usize, usize) {
        let all = case.coverage();
        let e = all.iter().find(|e| e.what == what).expect(what);
        (e.by_tables, e.from_memory, e.unjudged())
    }

    /// The sound manual has a joint on each side. The height of its nuts is from memory, and that AN365 has the torque of
    /// the nuts that the table names.
    #[test]
    fn what_was_judged_is_counted() {
        let case = sound();
        assert_eq!(of(&case, "joints"), (0, 2, 0));
        assert_eq!(of(&case, "torques"), (0, 2, 0));
        let line = coverage_line(&case.coverage());
        assert!(line.starts_with("examined 2 joints (2 from memory), 2 torques (2 from memory)"), "{line}");
    }

    #[test]
    fn what_was_not_judged_has_its_reason() {
        let case = sound().edit("stock.csv", "6061-T6,sheet,,1/2", "6061-T6,sheet,,");
        let text = coverage_text(&case.coverage());
        assert!(text.contains("2 not judged: thickness of the stack not known"), "{text}");
        let case = sound().edit("steps/frame/20-left.md", "fastener: AN4-10A", "fastener: AN4-99A");
        assert_eq!(of(&case, "joints").2, 1);
    }
}
