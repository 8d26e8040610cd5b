//! What an action may do to an item of the front matter, and the items that a link can name.

use super::clause::Clause;
use crate::model::{HoleAction, Manual, OwnLink, Step};
use crate::trade::ItemForm;
use crate::units::Designation;

/// What an action does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Deed {
    Drill,
    Cut,
    Bend,
    Flatten,
    /// The ends of a cable.
    Close,
    Glue,
    /// The ends of a wire.
    Crimp,
    /// The fastener of a joint is put in.
    Fit,
    Tighten,
    Measure,
}

impl Deed {
    /// All of them, in the order in which an action shows them.
    pub const ALL: [Self; 10] = [
        Self::Drill,
        Self::Cut,
        Self::Bend,
        Self::Flatten,
        Self::Close,
        Self::Glue,
        Self::Crimp,
        Self::Fit,
        Self::Tighten,
        Self::Measure,
    ];

    /// `tightens`, as a sentence about an action says it.
    pub fn verb(self) -> &'static str {
        match self {
            Self::Drill => "drills",
            Self::Cut => "cuts",
            Self::Bend => "bends",
            Self::Flatten => "flattens",
            Self::Close => "closes a cable",
            Self::Glue => "glues",
            Self::Crimp => "crimps",
            Self::Fit => "fits a fastener",
            Self::Tighten => "tightens",
            Self::Measure => "measures",
        }
    }

    /// How many items of a step it can be done to.
    pub fn count(self, step: &Step) -> usize {
        match self {
            Self::Drill => step.holes.len(),
            Self::Cut => step.cuts.len(),
            Self::Bend => step.bends.len(),
            Self::Flatten => step.flattened.len(),
            Self::Close => step.cables.len(),
            Self::Glue => step.bonds.len(),
            Self::Crimp => step.wires.len(),
            Self::Fit | Self::Tighten => step.joints.len(),
            Self::Measure => step.measures.len(),
        }
    }
}

/// The deeds that an action can do to what a link of this kind names; none for counts.
pub fn deeds_of(link: OwnLink) -> &'static [Deed] {
    match link {
        OwnLink::Joint => &[Deed::Fit, Deed::Tighten],
        OwnLink::Torque => &[Deed::Tighten],
        OwnLink::Hole | OwnLink::Drill => &[Deed::Drill],
        OwnLink::Cut | OwnLink::Angle | OwnLink::Length => &[Deed::Cut],
        OwnLink::Bend => &[Deed::Bend, Deed::Flatten],
        OwnLink::Cable => &[Deed::Close],
        OwnLink::Bond => &[Deed::Glue],
        OwnLink::Wire => &[Deed::Crimp],
        OwnLink::Measure | OwnLink::Target => &[Deed::Measure],
        OwnLink::Count => &[],
    }
}

/// The items of a step that a link names, by their numbers: a joint by its id or its fastener, a hole by its name, its part,
/// `part/name` or what it is for, a cut or a bend by its part, a cable, a bond and a wire by their ids, a measure by its words. Empty where it
/// names none.
pub fn linked_items(step: &Step, deed: Deed, name: &str) -> Vec<usize> {
    let is = |text: &str| text.eq_ignore_ascii_case(name);
    let all = |found: &dyn Fn(usize) -> bool| (0..deed.count(step)).filter(|&i| found(i)).collect();
    match deed {
        Deed::Fit | Deed::Tighten => {
            let by_id: Vec<usize> = all(&|i| step.joints[i].id.as_ref().is_some_and(|id| is(&id.value)));
            if by_id.is_empty() { all(&|i| is(step.joints[i].fastener.value.as_str())) } else { by_id }
        }
        Deed::Drill => all(&|i| {
            let hole = &step.holes[i];
            let (part, called) = (hole.part.value.as_str(), hole.hole.as_ref().map_or("", |h| h.value.as_str()));
            let for_it = hole.for_.as_ref().is_some_and(|f| is(f.value.as_str()));
            for_it || is(part) || (!called.is_empty() && (is(called) || is(&format!("{part}/{called}"))))
        }),
        Deed::Cut => all(&|i| {
            let cut = &step.cuts[i];
            let part = cut.part.value.as_str();
            is(part) || cut.end.as_ref().is_some_and(|end| is(&format!("{part}/{}", end.value.word())))
        }),
        Deed::Bend => all(&|i| is(step.bends[i].part.value.as_str())),
        Deed::Flatten => all(&|i| is(step.flattened[i].part.value.as_str())),
        Deed::Close => all(&|i| is(&step.cables[i].cable.value)),
        Deed::Glue => all(&|i| is(&step.bonds[i].bond.value)),
        Deed::Crimp => all(&|i| is(&step.wires[i].wire.value)),
        Deed::Measure => all(&|i| is(&step.measures[i].what.value)),
    }
}

/// The clauses that do something, with what they do, as their verbs tell.
pub fn deeds(clauses: &[Clause]) -> impl Iterator<Item = (&Clause, Deed)> {
    let before = |at: usize| at.checked_sub(1).map(|at| &clauses[at]);
    clauses.iter().enumerate().filter_map(move |(at, clause)| Some((clause, deed_of(clause, before(at))?)))
}

const FITS: [&str; 10] = ["fit", "put", "set", "push", "insert", "pass", "slip", "refit", "bolt", "screw"];

/// Whether the verb of a clause puts something in, whatever it is.
pub(super) fn fits(clause: &Clause) -> bool {
    FITS.contains(&clause.first())
}

/// What a clause does; none where it does nothing that the front matter has data for. `before` is what `them` speaks of.
fn deed_of(clause: &Clause, before: Option<&Clause>) -> Option<Deed> {
    const FASTENERS: [&str; 10] =
        ["bolt", "bolts", "screw", "screws", "rivet", "rivets", "eyebolt", "eyebolts", "setscrew", "setscrews"];
    let nuts = clause.has_any(&["nut", "nuts"]);
    let object = clause.object();
    let speaks = |words: &[String]| words.iter().any(|w| FASTENERS.contains(&w.as_str()));
    let them = object.iter().any(|w| w == "them" || w == "it") && before.is_some_and(|b| speaks(&b.words));
    let refers = clause.references.iter().any(|(scheme, _)| scheme == "hardware");
    let one = object.iter().any(|w| w == "a" || w == "an");
    let fasteners = speaks(object) || them || refers && !one;
    let by_hand = clause.has_any(&["hand", "finger", "fingers", "finger-tight", "loosely", "lightly", "snug"]);
    let verb = clause.first();
    Some(match verb {
        "torque" => Deed::Tighten,
        "tighten" if (nuts || fasteners) && !by_hand => Deed::Tighten,
        "run" | "turn" | "draw" if clause.has("torque") => Deed::Tighten,
        "screw" if clause.has("out") || clause.has_any(&["turnbuckle", "turnbuckles"]) => return None,
        // `bolt holes over the mark` does not bolt.
        "bolt" | "rivet" | "screw" if object.first().is_some_and(|w| w.starts_with("hole")) => return None,
        "bolt" | "rivet" | "screw" if !object.is_empty() || clause.words.get(1).is_some_and(|w| w == "on") => Deed::Fit,
        _ if fits(clause) && verb != "bolt" && verb != "screw" && fasteners => Deed::Fit,
        "drill" | "ream" => Deed::Drill,
        "open" if clause.has("up") => Deed::Drill,
        "cut" | "saw" | "mitre" | "saddle" | "trim" => Deed::Cut,
        "bend" | "fold" => Deed::Bend,
        "flatten" => Deed::Flatten,
        "press" | "swage" if clause.has_any(&["sleeve", "sleeves"]) => Deed::Close,
        "make" if clause.has_any(&["end", "ends"]) && clause.has_any(&["cable", "thimble"]) => Deed::Close,
        "glue" | "bond" => Deed::Glue,
        "crimp" => Deed::Crimp,
        "measure" | "write" => Deed::Measure,
        _ => return None,
    })
}

/// Whether a fastener is set for good like a rivet: it has no torque, and a text calls it a rivet.
pub(super) fn is_rivet(manual: &Manual, designation: &Designation) -> bool {
    use crate::model::HardwareKind;
    if let Some(decoded) = crate::trade::decode(designation.as_str()) {
        return matches!(decoded.form, ItemForm::SolidRivet(_) | ItemForm::BlindRivet(_));
    }
    let kind = manual.hardware.get(designation).map(|h| h.kind);
    matches!(kind, Some(HardwareKind::SolidRivet | HardwareKind::BlindRivet))
}

/// Whether a hole of a step is made with a drill or a reamer in it.
pub(super) fn is_drilled(action: HoleAction) -> bool {
    matches!(action, HoleAction::Drill | HoleAction::MatchDrill | HoleAction::OpenUp | HoleAction::Ream)
}
