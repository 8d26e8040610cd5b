//! Ties actions to items: by links, by names, and where there is just one candidate.

use super::clause::Clause;
use super::deed::{Deed, deeds, deeds_of, fits, is_drilled, is_rivet, linked_items};
use super::{Action, KnownBy, Tie};
use crate::model::{Manual, OwnLink, Step};
use crate::source::Span;
use crate::trade::Drill;

/// A clause that does something.
struct Candidate<'a> {
    action: usize,
    clause: &'a Clause,
    /// The sizes of bits that its action names.
    bits: Vec<Drill>,
}

impl Candidate<'_> {
    fn opens_up(&self) -> bool {
        self.clause.first() == "open"
    }

    /// Whether it drills an item to its size: an action that names a smaller bit only, or says that it drills pilot holes,
    /// makes a pilot.
    fn finishes(&self, step: &Step, item: usize) -> bool {
        let hole = &step.holes[item];
        let sizes = || hole.drill.iter().chain(&hole.reamer).map(|d| d.value.size().value);
        let smaller = |bit: &Drill| sizes().all(|size| bit.size().value < size);
        let pilot = self.clause.has("pilot") && !self.opens_up() && self.bits.is_empty();
        !pilot && (self.bits.is_empty() || !self.bits.iter().all(smaller))
    }
}

pub(super) fn tie(manual: &Manual, step: &Step, actions: &mut [Action], english: bool) {
    let mut ties: Vec<(usize, Tie)> = links(step, actions);
    if english {
        for deed in Deed::ALL {
            let found = by_words(manual, step, deed, actions, &ties);
            ties.extend(found);
        }
    }
    ties.sort();
    ties.dedup_by_key(|(action, tie)| (*action, tie.deed, tie.item));
    for (action, tie) in ties {
        actions[action].ties.push(tie);
    }
}

/// What the author's links tie. Of a joint a link means that it is fitted, tightened, or both: what the clause of the link and
/// the action say; where they say neither, that it is fitted, and tightened where no action of the step tightens.
fn links(step: &Step, actions: &[Action]) -> Vec<(usize, Tie)> {
    let tightened = actions.iter().flat_map(|a| deeds(&a.clauses)).any(|(_, deed)| deed == Deed::Tighten);
    let mut ties = Vec::new();
    for (at, action) in actions.iter().enumerate() {
        let done: Vec<Deed> = deeds(&action.clauses).map(|(_, deed)| deed).collect();
        for clause in &action.clauses {
            for (scheme, name) in &clause.references {
                let Some(link) = OwnLink::from_word(scheme) else { continue };
                let joint = link == OwnLink::Joint;
                let meant = |deed: &Deed| match deed {
                    Deed::Fit if joint => done.contains(deed) || fits(clause) || !done.contains(&Deed::Tighten),
                    Deed::Tighten if joint => done.contains(deed) || !tightened,
                    _ => true,
                };
                for &deed in deeds_of(link).iter().filter(|deed| meant(deed)) {
                    let items = linked_items(step, deed, &name.value);
                    ties.extend(
                        items.into_iter().map(|item| (at, Tie { deed, item, known_by: KnownBy::Link(name.span) })),
                    );
                }
            }
        }
    }
    ties
}

/// What the words of the actions tell of one deed. What an author has linked is settled.
fn by_words(manual: &Manual, step: &Step, deed: Deed, actions: &[Action], ties: &[(usize, Tie)]) -> Vec<(usize, Tie)> {
    let settled = |item: usize| ties.iter().any(|(_, t)| t.deed == deed && t.item == item);
    let open: Vec<usize> =
        (0..deed.count(step)).filter(|&item| !settled(item) && is_done_so(manual, step, deed, item)).collect();
    if deed == Deed::Fit {
        // A text that rivets does not speak of the bolts.
        let (rivets, bolts): (Vec<usize>, Vec<usize>) =
            open.into_iter().partition(|&item| is_rivet(manual, &step.joints[item].fastener.value));
        let speaks_of_rivets = |c: &Candidate| c.clause.has_any(&["rivet", "rivets"]);
        let (of_rivets, of_bolts): (Vec<_>, Vec<_>) =
            candidates(deed, actions, ties).into_iter().partition(speaks_of_rivets);
        let mut found = settle(manual, step, deed, &rivets, &of_rivets);
        found.extend(settle(manual, step, deed, &bolts, &of_bolts));
        return found;
    }
    settle(manual, step, deed, &open, &candidates(deed, actions, ties))
}

/// Whether the deed is one that the item knows: a hole that is only deburred is not drilled, a rivet is not tightened.
fn is_done_so(manual: &Manual, step: &Step, deed: Deed, item: usize) -> bool {
    use crate::model::{By, HardwareAction};
    match deed {
        Deed::Drill => step.holes[item].by == By::Builder && is_drilled(step.holes[item].action),
        Deed::Cut => step.cuts[item].by == By::Builder,
        Deed::Tighten => {
            let joint = &step.joints[item];
            joint.action != HardwareAction::Remove && !is_rivet(manual, &joint.fastener.value)
        }
        Deed::Fit => step.joints[item].action != HardwareAction::Remove,
        _ => true,
    }
}

/// The clauses that do this. One whose action the author has linked for this deed does what is linked and no more.
fn candidates<'a>(deed: Deed, actions: &'a [Action], ties: &[(usize, Tie)]) -> Vec<Candidate<'a>> {
    let linked = |action: usize| ties.iter().any(|(at, t)| *at == action && t.deed == deed);
    let mut out = Vec::new();
    for (action, a) in actions.iter().enumerate().filter(|(at, _)| !linked(*at)) {
        let found = deeds(&a.clauses).filter(|(_, d)| *d == deed);
        out.extend(found.map(|(clause, _)| Candidate { action, clause, bits: a.bits.clone() }));
    }
    out
}

/// One candidate does all that is open. Of several each does what it names; what none names falls to the only one that names
/// nothing. Where several name nothing and all that is open is done alike, each of them does some of it: what they have in
/// common is known, and not which.
fn settle(manual: &Manual, step: &Step, deed: Deed, open: &[usize], all: &[Candidate]) -> Vec<(usize, Tie)> {
    let tie = |c: &Candidate, item, known_by| (c.action, Tie { deed, item, known_by });
    if deed == Deed::Measure {
        return open.iter().filter_map(|&item| measured_by(step, item, all)).collect();
    }
    if let [only] = all {
        return open.iter().map(|&item| tie(only, item, KnownBy::Only(only.clause.span))).collect();
    }
    let mut found = Vec::new();
    let mut left = Vec::new();
    let mut names = vec![false; all.len()];
    let finishes = |c: &Candidate, item: usize| deed != Deed::Drill || c.finishes(step, item);
    for &item in open {
        let naming: Vec<(usize, Span)> = all
            .iter()
            .enumerate()
            .filter(|(_, c)| finishes(c, item))
            .filter_map(|(i, c)| Some((i, named_at(manual, step, deed, item, c.clause)?)))
            .collect();
        naming.iter().for_each(|(i, _)| names[*i] = true);
        match naming.first() {
            Some(&(i, span)) => found.push(tie(&all[i], item, KnownBy::Name(span))),
            None => left.push(item),
        }
    }
    let free = all.iter().zip(&names).filter(|(c, named)| !**named && left.iter().all(|&item| finishes(c, item)));
    let free: Vec<&Candidate> = free.map(|(c, _)| c).collect();
    // What is meant most closely comes first: where holes are opened up, what was drilled before was their pilot; who fits
    // `the bolts` fits for good, who fits `a bolt` perhaps on trial; who saddles makes the saddles.
    let closest = |c: &&Candidate| match deed {
        Deed::Drill => c.opens_up(),
        Deed::Fit => is_whole(c.clause),
        Deed::Cut => left.iter().all(|&item| c.clause.first() == step.cuts[item].kind.word()),
        _ => true,
    };
    let close: Vec<&Candidate> = free.iter().copied().filter(closest).collect();
    let takes = if close.is_empty() { free } else { close };
    match takes.as_slice() {
        [one] => found.extend(left.iter().map(|&item| tie(one, item, KnownBy::Only(one.clause.span)))),
        several if !left.is_empty() && alike(step, deed, &left) => {
            for c in several {
                found.extend(left.iter().map(|&item| tie(c, item, KnownBy::Alike(c.clause.span))));
            }
        }
        _ => {}
    }
    found
}

/// The clause that has most words in common with a measure; none where two have as many, or none has one.
fn measured_by(step: &Step, item: usize, all: &[Candidate]) -> Option<(usize, Tie)> {
    let in_common = |c: &Candidate| common_words(c.clause, &step.measures[item].what.value);
    let most = all.iter().map(in_common).max().filter(|n| *n > 0)?;
    let mut best = all.iter().filter(|c| in_common(c) == most);
    let one = best.next().filter(|_| best.next().is_none())?;
    Some((one.action, Tie { deed: Deed::Measure, item, known_by: KnownBy::Name(one.clause.span) }))
}

/// Whether a clause speaks of the fasteners of the step as known ones: `the bolts`, `both bolts`, not `a bolt`.
fn is_whole(clause: &Clause) -> bool {
    let object = clause.object();
    let a = object.iter().any(|w| matches!(w.as_str(), "a" | "an" | "one"));
    !a && !object.is_empty()
}

/// Whether the items are worked alike, so that it does not matter which of them an action begins with.
fn alike(step: &Step, deed: Deed, items: &[usize]) -> bool {
    fn same<K: PartialEq>(items: &[usize], key: impl Fn(usize) -> K) -> bool {
        items.iter().all(|&i| key(i) == key(items[0]))
    }
    match deed {
        Deed::Drill => same(items, |i| {
            let hole = &step.holes[i];
            (hole.drill.map(|d| d.value), hole.reamer.map(|d| d.value))
        }),
        Deed::Tighten => same(items, |i| {
            let joint = &step.joints[i];
            (joint.torque.as_ref().map(|t| t.value), &joint.fastener.value, joint.nut.as_ref().map(|n| &n.value))
        }),
        Deed::Fit => same(items, |i| step.joints[i].with_fastener().map(|d| &d.value).collect::<Vec<_>>()),
        Deed::Cut => same(items, |i| (step.cuts[i].kind, step.cuts[i].angle.map(|a| a.value))),
        // Presses and tail are the same at both ends, or each end says its own.
        Deed::Close => true,
        _ => items.len() <= 1,
    }
}

/// Where a clause names an item: a reference to the part or the hardware, the hole's own name, or the size of its drill.
fn named_at(manual: &Manual, step: &Step, deed: Deed, item: usize, clause: &Clause) -> Option<Span> {
    let refers = |scheme: &str, name: &str| {
        clause.references.iter().find(|(s, n)| s == scheme && n.value == name).map(|(_, n)| n.span)
    };
    match deed {
        Deed::Fit | Deed::Tighten => {
            let joint = &step.joints[item];
            let hardware = joint.with_fastener().find_map(|d| refers("hardware", d.value.as_str()));
            hardware.or_else(|| (deed == Deed::Tighten).then(|| nut_named(manual, step, item, clause)).flatten())
        }
        Deed::Drill => {
            let hole = &step.holes[item];
            let by_size = || {
                let size = hole.drill.as_ref().or(hole.reamer.as_ref())?.value.to_string();
                says_size(clause, &size).then_some(clause.span)
            };
            let by_hole = || {
                let name = hole.hole.as_ref()?.value.to_lowercase();
                let words: Vec<&str> = name.split_whitespace().collect();
                let object = clause.object();
                (!words.is_empty() && words.iter().all(|w| w.len() > 1 && object.iter().any(|o| o == w)))
                    .then_some(clause.span)
            };
            refers("part", hole.part.value.as_str()).or_else(by_size).or_else(by_hole)
        }
        Deed::Cut if says_end(step, item, clause) => Some(clause.span),
        Deed::Cut => refers("part", step.cuts[item].part.value.as_str()),
        Deed::Bend => refers("part", step.bends[item].part.value.as_str()),
        Deed::Flatten => refers("part", step.flattened[item].part.value.as_str()),
        Deed::Close | Deed::Glue | Deed::Crimp | Deed::Measure => None,
    }
}

/// `castle nut` where the joint has one and not all have.
fn nut_named(manual: &Manual, step: &Step, item: usize, clause: &Clause) -> Option<Span> {
    use crate::model::HardwareKind;
    let castle = |i: usize| {
        let nut = step.joints[i].nut.as_ref()?;
        Some(manual.hardware.get(&nut.value)?.kind == HardwareKind::CastleNut)
    };
    let all = (0..step.joints.len()).filter(|&i| castle(i) == Some(true)).count();
    let some = all > 0 && all < step.joints.len();
    let said = clause.has("castle") || clause.has("slot");
    (some && said && castle(item) == Some(true)).then_some(clause.span)
}

/// `cut end B`, where the cut is at that end and not all cuts of the step are.
fn says_end(step: &Step, item: usize, clause: &Clause) -> bool {
    let end = |i: usize| step.cuts[i].end.as_ref().map(|e| e.value.word().to_lowercase());
    let told = |i: usize| end(i).is_some_and(|e| clause.words.windows(2).any(|w| w[0] == "end" && w[1] == e));
    told(item) && !(0..step.cuts.len()).all(told)
}

/// Whether a clause says a size: `no 30`, `1/4`, `3.2 mm`.
fn says_size(clause: &Clause, size: &str) -> bool {
    let size: Vec<String> =
        size.to_lowercase().split_whitespace().map(|w| w.trim_end_matches('.').to_owned()).collect();
    let drilling = clause.has_any(&["bit", "bits", "drill", "reamer", "size"]);
    // The unit may be left out behind a fraction.
    let bare = if size.last().is_some_and(|unit| unit == "in") { &size[..size.len() - 1] } else { &size[..] };
    drilling && !bare.is_empty() && clause.words.windows(bare.len()).any(|w| w == bare)
}

/// How many of the words that count in a measure stand in a clause.
fn common_words(clause: &Clause, what: &str) -> usize {
    let lower = what.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| w.len() > 3);
    words.filter(|w| clause.words.iter().any(|c| c == w)).count()
}
