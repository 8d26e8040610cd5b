//! A kit as it was shipped: what the register says is otherwise in it, put in its place before anything is booked.
//!
//! Owns: substitutions, what was sent in addition to a joint, and what is wrong with a row once the kit is known. Must not
//! know: whether a substitute suits the joint it goes into, which is judged like any joint.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Resolved;
use super::count::kind;
use super::effectivity::Facts;
use super::needs::needs;
use super::tree::decide_tree;
use crate::diag::nearest;
use crate::model::schema::{Holds, STEP, Thing, walk};
use crate::model::{
    Deviation, DeviationKind, HardwareAction, HardwareKind, Joint, KitPlace, Manual, PartAction, Step, StepItem,
};
use crate::source::{Span, Spanned};
use crate::syntax::markdown::{MdBlock, MdInline, MdInlineKind};
use crate::syntax::{Node, NodeKind};
use crate::trade;
use crate::units::{Designation, PartNumber, Quantity, Rational, StepId};

/// What is otherwise in a kit.
#[derive(Clone, Debug, Default)]
pub struct AsShipped {
    /// By step and by what is there: what it stands for, and how many do.
    in_place_of: BTreeMap<(StepId, String), (String, Rational)>,
    /// Of parts: how many more or fewer than the parts list says.
    pub(super) parts: BTreeMap<PartNumber, i64>,
    pub faults: Vec<ShippedFault>,
}

impl AsShipped {
    /// What an item of a step stands for in this kit; none where it is what the manual says.
    pub fn in_place_of(&self, step: &StepId, item: &str) -> Option<(&str, Rational)> {
        self.in_place_of.get(&(step.clone(), item.to_owned())).map(|(of, n)| (of.as_str(), *n))
    }

    /// What an item stands for anywhere in this kit, and how many do.
    pub fn stands_for(&self, item: &str) -> BTreeMap<&str, Rational> {
        let mut all: BTreeMap<&str, Rational> = BTreeMap::new();
        for (of, n) in self.in_place_of.iter().filter(|((_, there), _)| there == item).map(|(_, of)| of) {
            *all.entry(of.as_str()).or_default() += n;
        }
        all
    }
}

/// Something wrong with a row of the register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShippedFault {
    pub kind: ShippedFaultKind,
    pub serial: u32,
    /// The cell.
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShippedFaultKind {
    /// Nobody is named who allowed it: it does not count.
    NotApproved { item: String, with: String },
    /// What is put in the place of something is another kind of thing, in words.
    OtherThing { item: String, with: String, why: String },
    /// There is no such step or joint in this kit, with the nearest name.
    NoSuchPlace { place: String, near: Option<String> },
    /// The item is not at that place.
    NotAtPlace { item: String, place: String },
    /// More than the kit holds.
    TooMany { item: String, asked: Rational, there: Quantity },
    /// The places take another number than the row says.
    DoesNotAddUp { item: String, asked: Rational, there: Rational },
    /// Some of them, and it is not said where.
    NotSaidWhere { item: String, asked: Rational, there: Quantity },
    /// What was sent in addition to a joint is no washer, or does not go round.
    NotForJoint { item: String, why: String },
    /// More was sent later than was on back order.
    SentTwice { item: String, sent: Rational, owed: Rational },
}

/// A place that a row is about: a step, perhaps one of its joints, and how many of the item it takes.
struct Place {
    step: usize,
    /// Its number in the list of joints as written.
    joint: Option<usize>,
    takes: Rational,
}

/// Puts the rows in their places. `plain` is the kit as its release says it.
pub(super) fn put_in_place(
    manual: &Manual,
    plain: &Resolved,
    rows: &[Deviation],
    steps: &mut [Step],
    facts: &Facts,
) -> AsShipped {
    let mut kit = AsShipped::default();
    for row in rows {
        let found = match row.kind {
            DeviationKind::Substituted => substitute(manual, plain, row, steps, facts, &mut kit),
            DeviationKind::InAddition if !row.places.is_empty() => add_to_joints(manual, row, steps),
            _ => places(manual, row, steps).map(drop),
        };
        if let Err((kind, span)) = found {
            kit.faults.push(ShippedFault { kind, serial: row.serial.value, span });
        }
    }
    kit
}

/// What is wrong, and where it is written.
type Refused = (ShippedFaultKind, Span);

fn substitute(
    manual: &Manual,
    plain: &Resolved,
    row: &Deviation,
    steps: &mut [Step],
    facts: &Facts,
    kit: &mut AsShipped,
) -> Result<(), Refused> {
    let Some(with) = &row.with else { return Ok(()) };
    let item = row.item.value.clone();
    let (is_part, of_part) = (manual.is_part(&item), manual.is_part(&with.value));
    // What is in neither list is another finding.
    if !manual.is_listed(&item) || !manual.is_listed(&with.value) {
        return Ok(());
    }
    if row.approval().is_none() {
        let kind = ShippedFaultKind::NotApproved { item, with: with.value.clone() };
        return Err((kind, row.approved.as_ref().map_or(with.span, |a| a.span)));
    }
    if let Some(why) = other_thing(manual, (&item, is_part), (&with.value, of_part)) {
        return Err((ShippedFaultKind::OtherThing { item, with: with.value.clone(), why }, with.span));
    }
    let at = places(manual, row, steps)?;
    let there = plain.total(&item).unwrap_or(Quantity::each(0));
    let asked = row.quantity.as_ref().map(|q| (Rational::from_integer(q.value), q.span));
    let taken: Rational = at.iter().map(|p| p.takes).sum();
    if let Some((asked, span)) = asked {
        if asked > there.value {
            return Err((ShippedFaultKind::TooMany { item, asked, there }, span));
        }
        if row.places.is_empty() && asked != there.value {
            return Err((ShippedFaultKind::NotSaidWhere { item, asked, there }, span));
        }
        if !row.places.is_empty() && asked != taken && !is_part {
            return Err((ShippedFaultKind::DoesNotAddUp { item, asked, there: taken }, span));
        }
    } else if at.is_empty() {
        let place = plain.name.clone();
        return Err((ShippedFaultKind::NotAtPlace { item, place }, row.item.span));
    }
    if is_part {
        let n = asked.map_or(there.value, |(asked, _)| asked).to_integer();
        *kit.parts.entry(PartNumber::new(&item)).or_default() -= n;
        *kit.parts.entry(PartNumber::new(&with.value)).or_default() += n;
    }
    let mut by_step: BTreeMap<usize, (Vec<Option<usize>>, Rational)> = BTreeMap::new();
    for place in &at {
        let (joints, takes) = by_step.entry(place.step).or_default();
        joints.push(place.joint);
        *takes += place.takes;
    }
    for (at, (joints, takes)) in by_step {
        let step = &mut steps[at];
        let all = joints.contains(&None);
        let joints: Vec<usize> = joints.into_iter().flatten().collect();
        exchange(step, if all { None } else { Some(&joints) }, &item, with, facts);
        // Its holes, its text and its captions follow where none of the item is left in the step.
        if !all && in_step(manual, step, &item, is_part).is_none() {
            exchange(step, None, &item, with, facts);
        }
        kit.in_place_of.insert((step.id.value.clone(), with.value.clone()), (item.clone(), takes));
    }
    Ok(())
}

/// A washer more in joints: it goes under the nut.
fn add_to_joints(manual: &Manual, row: &Deviation, steps: &mut [Step]) -> Result<(), Refused> {
    let item = row.item.value.clone();
    let refused =
        |why: &str| Err((ShippedFaultKind::NotForJoint { item: item.clone(), why: why.to_owned() }, row.item.span));
    if alike(manual, &item) != Some(HardwareKind::Washer) {
        return refused("only a washer can be added to a joint");
    }
    let mut joints = Vec::new();
    for place in &row.places {
        let (step, joint) = find(place, steps)?;
        let Some(joint) = joint else { return refused("name a joint of the step, as `STEP/JOINT`") };
        joints.push((step, joint));
    }
    let round: i64 = joints.iter().map(|(step, joint)| joint_at(&steps[*step], *joint).map_or(0, |j| j.places)).sum();
    let Some(quantity) = row.quantity.as_ref() else { return Ok(()) };
    if round == 0 || quantity.value % round != 0 {
        let kind = ShippedFaultKind::DoesNotAddUp {
            item: item.clone(),
            asked: Rational::from_integer(quantity.value),
            there: Rational::from_integer(round),
        };
        return Err((kind, quantity.span));
    }
    let each = quantity.value / round;
    for (step, joint) in joints {
        if let Some(joint) = steps[step].joints.iter_mut().find(|j| j.index == joint) {
            let under_nut = &mut joint.value.under_nut;
            match under_nut.iter_mut().find(|(d, _)| d.as_str() == item) {
                Some((_, n)) => *n += each,
                None => under_nut.push((Spanned::new(Designation::new(&item), row.item.span), each)),
            }
        }
    }
    Ok(())
}

/// The places of a row; where it names none, every place of the kit that takes the item.
fn places(manual: &Manual, row: &Deviation, steps: &[Step]) -> Result<Vec<Place>, Refused> {
    let item = row.item.value.as_str();
    let part = manual.is_part(item);
    if row.places.is_empty() {
        let takes =
            |(step, s): (usize, &Step)| Some(Place { step, joint: None, takes: in_step(manual, s, item, part)? });
        return Ok(steps.iter().enumerate().filter_map(takes).collect());
    }
    let mut found = Vec::new();
    for place in &row.places {
        let (step, joint) = find(place, steps)?;
        let takes = match joint {
            Some(at) => joint_at(&steps[step], at).and_then(|j| in_joint(j, item)),
            None => in_step(manual, &steps[step], item, part),
        };
        let Some(takes) = takes else {
            let span = place.joint.as_ref().map_or(place.step.span, |joint| joint.span);
            return Err((ShippedFaultKind::NotAtPlace { item: item.to_owned(), place: place.to_string() }, span));
        };
        found.push(Place { step, joint, takes });
    }
    Ok(found)
}

/// The step of a place, and the number of the joint in its list as written.
fn find(place: &KitPlace, steps: &[Step]) -> Result<(usize, Option<usize>), Refused> {
    let Some(at) = steps.iter().position(|s| s.id.value == place.step.value) else {
        let near = nearest(place.step.as_str(), steps.iter().map(|s| s.id.as_str())).map(str::to_owned);
        let kind = ShippedFaultKind::NoSuchPlace { place: place.step.value.to_string(), near };
        return Err((kind, place.step.span));
    };
    let Some(joint) = &place.joint else { return Ok((at, None)) };
    let ids = || steps[at].joints.iter().filter_map(|j| j.id.as_ref());
    match steps[at].joints.iter().find(|j| j.id.as_ref() == Some(joint)) {
        Some(found) => Ok((at, Some(found.index))),
        None => {
            let near =
                nearest(&joint.value, ids().map(|id| id.value.as_str())).map(|n| format!("{}/{n}", place.step.value));
            let kind = ShippedFaultKind::NoSuchPlace { place: place.to_string(), near };
            Err((kind, joint.span))
        }
    }
}

fn joint_at(step: &Step, index: usize) -> Option<&StepItem<Joint>> {
    step.joints.iter().find(|j| j.index == index)
}

/// How many of an item a joint takes; none where it has none of it.
fn in_joint(joint: &Joint, item: &str) -> Option<Rational> {
    let washers = joint.under_head.iter().chain(&joint.under_nut).map(|(d, n)| (d, *n));
    let others = [&joint.fastener].into_iter().chain(&joint.nut).chain(&joint.pin).map(|d| (d, 1));
    let each: i64 = washers.chain(others).filter(|(d, _)| d.as_str() == item).map(|(_, n)| n).sum();
    (each > 0).then(|| Rational::from_integer(each * joint.places))
}

/// How many of an item a step takes; none where it does not name it.
fn in_step(manual: &Manual, step: &Step, item: &str, part: bool) -> Option<Rational> {
    if part {
        let fresh = |a: PartAction| matches!(a, PartAction::Pull | PartAction::TrialFit | PartAction::Finish);
        let named = step.parts.iter().any(|p| p.part.as_str() == item)
            || step.joints.iter().any(|j| j.stack.iter().any(|m| m.part.as_str() == item));
        let taken = step.parts.iter().filter(|p| p.part.as_str() == item && fresh(p.action)).map(|p| p.quantity);
        return named.then(|| Rational::from_integer(taken.sum()));
    }
    let (needs, _) = needs(step, |d| manual.hardware.get(d).map(|h| h.unit));
    let mut of_it = needs.iter().filter(|n| n.designation.as_str() == item).peekable();
    of_it.peek()?;
    let fresh = |a: HardwareAction| matches!(a, HardwareAction::Fit | HardwareAction::FitTemporarily);
    Some(of_it.filter(|n| fresh(n.action)).map(|n| n.quantity.value).sum())
}

/// The kind of an item, where things of several kinds can stand for each other the first of them.
fn alike(manual: &Manual, item: &str) -> Option<HardwareKind> {
    let kind = kind(manual.hardware.get(&Designation::new(item))?);
    Some(match kind {
        HardwareKind::Screw | HardwareKind::Eyebolt => HardwareKind::Bolt,
        nut if nut.is_nut() => HardwareKind::Nut,
        other => other,
    })
}

/// Why one can't stand for the other, in words; none where it may.
fn other_thing(manual: &Manual, item: (&str, bool), with: (&str, bool)) -> Option<String> {
    match (item.1, with.1) {
        (true, false) => return Some("one is a part, the other is hardware".to_owned()),
        (false, true) => return Some("one is hardware, the other is a part".to_owned()),
        (true, true) => {
            let hand = |name: &str| manual.parts.get(&PartNumber::new(name)).and_then(|p| p.hand);
            let differ = hand(item.0) != hand(with.0);
            return differ.then(|| "it is for the other hand".to_owned());
        }
        (false, false) => {}
    }
    let (row, other) =
        (manual.hardware.get(&Designation::new(item.0))?, manual.hardware.get(&Designation::new(with.0))?);
    if row.unit != other.unit {
        return Some(format!("one is counted by {}, the other by {}", row.unit.name(), other.unit.name()));
    }
    if alike(manual, item.0) != alike(manual, with.0) {
        return Some("it is another kind of thing".to_owned());
    }
    let diameter = |name: &str| {
        let decoded = trade::decode(name).and_then(|d| d.diameter).map(|d| d.value);
        decoded.or_else(|| manual.hardware.get(&Designation::new(name))?.diameter.as_ref().map(|d| d.value))
    };
    let (a, b) = diameter(item.0).zip(diameter(with.0))?;
    (a != b).then(|| "it is of another diameter".to_owned())
}

/// Puts one name in the place of another: in these joints, or in the whole step with its text. What stands there has the
/// place of the row, so that a finding leads to it.
fn exchange(step: &mut Step, joints: Option<&[usize]>, item: &str, with: &Spanned<String>, facts: &Facts) {
    let Some(mut tree) = decide_tree(&step.front, facts) else { return };
    let mut named: BTreeMap<Span, bool> = BTreeMap::new();
    walk(&tree, &STEP, &mut |leaf| {
        if joints.is_some_and(|joints| leaf.list != "joints" || !joints.contains(&leaf.item)) {
            return;
        }
        let is_it = |n: &crate::model::schema::Named| {
            matches!(n.thing, Thing::Part | Thing::Hardware | Thing::Item) && n.name == item
        };
        if leaf.names().iter().any(is_it) {
            named.insert(leaf.span, true);
        } else if joints.is_none() && matches!(leaf.holds, Holds::Words) && leaf.text.contains(item) {
            named.insert(leaf.span, false);
        }
    });
    renamed(&mut tree, &named, item, with);
    let mut body = step.body.clone();
    if joints.is_none() {
        body.iter_mut().for_each(|block| renamed_block(block, item, &with.value));
    }
    let front = Arc::new(tree.clone());
    *step = step.read_again(tree, body);
    step.front = front;
    facts.settings.joint_kinds.fill(step);
    // What a joint has from its kind stands in no tree.
    let chosen = |j: &StepItem<Joint>| joints.is_none_or(|joints| joints.contains(&j.index));
    for joint in step.joints.iter_mut().filter(|j| chosen(j)) {
        let joint = &mut joint.value;
        let washers = joint.under_head.iter_mut().chain(&mut joint.under_nut).map(|w| &mut w.0);
        let all = [&mut joint.fastener].into_iter().chain(&mut joint.nut).chain(&mut joint.pin).chain(washers);
        for name in all.filter(|name| name.as_str() == item) {
            *name = Spanned::new(Designation::new(&with.value), with.span);
        }
    }
}

/// The scalars at these places with the other name; those marked so get the place of the row.
fn renamed(node: &mut Node, at: &BTreeMap<Span, bool>, item: &str, with: &Spanned<String>) {
    match &mut node.kind {
        NodeKind::Mapping(entries) => entries.iter_mut().for_each(|(_, n)| renamed(n, at, item, with)),
        NodeKind::Sequence(nodes) => nodes.iter_mut().for_each(|n| renamed(n, at, item, with)),
        NodeKind::Scalar { text, .. } => {
            if let Some(is_name) = at.get(&node.span) {
                *text = in_words(text, item, &with.value);
                if *is_name {
                    node.span = with.span;
                }
            }
        }
        NodeKind::Null => {}
    }
}

fn renamed_block(block: &mut MdBlock, item: &str, with: &str) {
    block.runs_mut().for_each(|run| renamed_inlines(run, item, with));
    for inner in block.children_mut() {
        inner.iter_mut().for_each(|block| renamed_block(block, item, with));
    }
}

fn renamed_inlines(inlines: &mut [MdInline], item: &str, with: &str) {
    for inline in inlines {
        match &mut inline.kind {
            MdInlineKind::Text(text) | MdInlineKind::Code(text) => *text = in_words(text, item, with),
            MdInlineKind::Link { to, .. } => {
                let scheme =
                    to.value.split_once(':').filter(|(_, name)| *name == item).map(|(scheme, _)| scheme.to_owned());
                if let Some(scheme) = scheme {
                    to.value = format!("{scheme}:{with}");
                }
            }
            _ => {}
        }
        renamed_inlines(inline.children_mut(), item, with);
    }
}

/// The text with the other name wherever the name stands alone: `AN4-15A` is not in `AN4-15A1`.
fn in_words(text: &str, item: &str, with: &str) -> String {
    let goes_on = |c: char| c.is_alphanumeric() || c == '-';
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(item) {
        let (before, behind) = (&rest[..at], &rest[at + item.len()..]);
        let alone = !before.ends_with(goes_on) && !behind.starts_with(goes_on);
        out.push_str(before);
        out.push_str(if alone { with } else { item });
        rest = behind;
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn a_name_is_exchanged_where_it_stands_alone() {
        for (text, then) in [
            ("Fit the AN4-15A bolts.", "Fit the AN4-16A bolts."),
            ("2 x AN4-15A", "2 x AN4-16A"),
            ("AN4-15A1 and XAN4-15A stay", "AN4-15A1 and XAN4-15A stay"),
            ("AN4-15A, AN4-15A", "AN4-16A, AN4-16A"),
        ] {
            assert_eq!(in_words(text, "AN4-15A", "AN4-16A"), then);
        }
    }
}
