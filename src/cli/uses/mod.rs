//! Every mention of a thing in a step, with its place, what is done there, and the conditions it stands under.

mod conditions;
mod text;

use crate::model::{CalloutTarget, HardwareAction, Item, Joint, PartAction, Step};
use crate::source::{Span, Spanned};
use crate::syntax::Condition;
use crate::units::Designation;

pub(super) use conditions::{Conditioned, conditions, text_conditions};
pub(super) use text::uses_in_text;

/// What kind of thing is mentioned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Part,
    Hardware,
    Tool,
    Consumable,
    Figure,
    Assembly,
    Step,
    /// Never in a step; parts are made of it.
    Stock,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Hardware => "hardware",
            Self::Tool => "tool",
            Self::Consumable => "consumable",
            Self::Figure => "figure",
            Self::Assembly => "assembly",
            Self::Step => "step",
            Self::Stock => "stock",
        }
    }
}

/// A condition and where it is written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Under<'a> {
    pub condition: &'a Condition,
    pub span: Span,
}

impl<'a> From<&'a Spanned<Condition>> for Under<'a> {
    fn from(only: &'a Spanned<Condition>) -> Self {
        Self { condition: &only.value, span: only.span }
    }
}

/// A mention.
#[derive(Clone, Debug)]
pub(super) struct Use<'a> {
    pub kind: Kind,
    pub name: &'a str,
    pub span: Span,
    /// In words: `pulled, 2`, `fastener of a joint`.
    pub how: String,
    /// The conditions it stands under inside its step, from the outside in.
    pub only: Vec<Under<'a>>,
}

/// Collects mentions; `only` are the conditions around what is being walked.
struct Walk<'a> {
    found: Vec<Use<'a>>,
    only: Vec<Under<'a>>,
}

/// Every mention in a step, in the order of its front matter, then of its text.
pub(super) fn uses(step: &Step) -> Vec<Use<'_>> {
    let mut w = Walk { found: Vec::new(), only: Vec::new() };
    for item in &step.after {
        w.item(item, |w, v| w.add(Kind::Step, v.as_str(), v.span, "comes before"));
    }
    for item in &step.makes {
        w.item(item, |w, v| w.add(Kind::Assembly, v.as_str(), v.span, "made here"));
    }
    for item in &step.parts {
        w.item(item, |w, p| {
            w.add(Kind::Part, p.part.as_str(), p.part.span, format!("{}, {}", part_done(p.action), p.quantity));
            for (piece, n) in &p.becomes {
                w.add(Kind::Part, piece.as_str(), piece.span, format!("cut out of {}, {n}", p.part.value));
            }
        });
    }
    for item in &step.assemblies {
        w.item(item, |w, a| w.add(Kind::Assembly, a.assembly.as_str(), a.assembly.span, "used"));
    }
    for item in &step.hardware {
        w.item(item, |w, h| {
            let how = format!("{}, {}", hardware_done(h.action), h.quantity);
            w.add(Kind::Hardware, h.hardware.as_str(), h.hardware.span, how);
        });
    }
    for item in &step.joints {
        w.item(item, joint);
    }
    for item in &step.cuts {
        w.item(item, |w, c| {
            w.add(Kind::Part, c.part.as_str(), c.part.span, format!("cut, {}, by the {}", c.kind.word(), c.by.word()));
            if let Some(onto) = &c.onto {
                w.add(Kind::Part, onto.as_str(), onto.span, format!("{} is fitted onto it", c.part.value));
            }
        });
    }
    for item in &step.bends {
        w.item(item, |w, b| w.add(Kind::Part, b.part.as_str(), b.part.span, format!("bent, by the {}", b.by.word())));
    }
    for item in &step.flattened {
        w.item(item, |w, x| {
            w.add(Kind::Part, x.part.as_str(), x.part.span, format!("flattened, by the {}", x.by.word()))
        });
    }
    for item in &step.cables {
        w.item(item, |w, c| {
            if let Some(part) = &c.part {
                w.add(Kind::Part, part.as_str(), part.span, format!("the cable {} is made of it", c.cable.value));
            }
            for (name, n) in c.ends().into_iter().flatten().flat_map(|end| end.hardware()) {
                w.add(
                    Kind::Hardware,
                    name.as_str(),
                    name.span,
                    format!("in an end of the cable {}, {n}", c.cable.value),
                );
            }
        });
    }
    for item in &step.holes {
        w.item(item, |w, h| {
            let how = format!("holes: {}, by the {}", h.action.word(), h.by.word());
            w.add(Kind::Part, h.part.as_str(), h.part.span, how);
            if let Some(from) = &h.from {
                w.add(Kind::Part, from.as_str(), from.span, format!("holes of {} are taken from it", h.part.value));
            }
            if let Some(designation) = &h.for_ {
                w.add(
                    Kind::Hardware,
                    designation.as_str(),
                    designation.span,
                    format!("a hole in {} is for it", h.part.value),
                );
            }
        });
    }
    for item in &step.tools {
        w.item(item, |w, v| w.add(Kind::Tool, v.as_str(), v.span, "needed"));
    }
    for item in &step.consumables {
        w.item(item, |w, v| w.add(Kind::Consumable, v.as_str(), v.span, "needed"));
    }
    for item in &step.figures {
        w.item(item, |w, f| {
            w.add(Kind::Figure, f.figure.as_str(), f.figure.span, "shown");
            for callout in &f.callouts {
                w.item(callout, |w, c| {
                    let how = format!("callout {} of {}", c.number.value, f.figure.value);
                    match &c.target {
                        CalloutTarget::Part(p) => w.add(Kind::Part, p.as_str(), p.span, how),
                        CalloutTarget::Hardware(h) => w.add(Kind::Hardware, h.as_str(), h.span, how),
                        CalloutTarget::Assembly(a) => w.add(Kind::Assembly, a.as_str(), a.span, how),
                        CalloutTarget::Text(_) => {}
                    }
                });
            }
        });
    }
    for item in &step.inspects {
        w.item(item, |w, i| w.add(Kind::Assembly, i.what.as_str(), i.what.span, "inspected"));
    }
    for item in &step.closes {
        w.item(item, |w, v| w.add(Kind::Assembly, v.as_str(), v.span, "closed for good"));
    }
    w.blocks(&step.body);
    w.found
}

fn joint<'a>(w: &mut Walk<'a>, joint: &'a Joint) {
    let places = match joint.places {
        1 => String::new(),
        n => format!(", {n} places"),
    };
    let hardware = |w: &mut Walk<'a>, d: &'a Spanned<Designation>, what: &str| {
        w.add(Kind::Hardware, d.as_str(), d.span, format!("{what} of a joint{places}"));
    };
    hardware(w, &joint.fastener, "fastener");
    for (washer, _) in &joint.under_head {
        hardware(w, washer, "under the head");
    }
    for (washer, _) in &joint.under_nut {
        hardware(w, washer, "under the nut");
    }
    if let Some(nut) = &joint.nut {
        hardware(w, nut, "nut");
    }
    if let Some(pin) = &joint.pin {
        hardware(w, pin, "pin");
    }
    for item in &joint.stack {
        w.item(item, |w, member| {
            w.add(Kind::Part, member.part.as_str(), member.part.span, format!("clamped by {}", joint.fastener.value));
        });
    }
}

fn part_done(action: PartAction) -> &'static str {
    match action {
        PartAction::Pull => "pulled",
        PartAction::TrialFit => "fitted on trial",
        PartAction::Remove => "removed",
        PartAction::Finish => "finished",
        PartAction::Refit => "refitted",
        PartAction::Use => "worked on",
    }
}

fn hardware_done(action: HardwareAction) -> &'static str {
    match action {
        HardwareAction::Fit => "fitted",
        HardwareAction::FitTemporarily => "fitted for a time",
        HardwareAction::Remove => "removed",
        HardwareAction::Refit => "refitted",
    }
}

impl<'a> Walk<'a> {
    fn add(&mut self, kind: Kind, name: &'a str, span: Span, how: impl Into<String>) {
        self.found.push(Use { kind, name, span, how: how.into(), only: self.only.clone() });
    }

    fn item<T>(&mut self, item: &'a Item<T>, walk: impl FnOnce(&mut Self, &'a T)) {
        self.only.extend(item.only.as_ref().map(Under::from));
        walk(self, &item.value);
        self.only.truncate(self.only.len() - usize::from(item.only.is_some()));
    }
}
