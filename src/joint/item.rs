//! Hardware in values: what the designation tells, completed by the hardware list.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Hardware, HardwareKind, Joint, Manual};
use crate::source::{Span, Spanned};
use crate::trade::{
    Cited, Class, Decoded, GripRange, ItemForm, Normalised, NutForm, RivetHead, Source, Thread, WasherForm, decode,
    normalise,
};
use crate::units::{Designation, Length};

const LIST: Source = Source::Published("hardware list");

/// A value of the hardware list that is not what the designation says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    pub column: &'static str,
    pub listed: Length,
    pub span: Span,
    pub decoded: Cited<Length>,
    /// The weaker of the two.
    pub source: Source,
}

/// An item of hardware.
#[derive(Clone, Debug)]
pub struct HardwareItem {
    /// `None` where neither the designation nor the list says what it is.
    pub decoded: Option<Arc<Decoded>>,
    pub conflicts: Vec<Conflict>,
}

/// All hardware that a manual lists, and what else its joints name.
#[derive(Clone, Debug, Default)]
pub struct Items {
    items: BTreeMap<Designation, HardwareItem>,
}

impl Items {
    pub fn new(manual: &Manual) -> Self {
        let mut items: BTreeMap<_, _> = manual.hardware.iter().map(|(d, row)| (d.clone(), item(row))).collect();
        for joint in manual.steps.iter().flat_map(|s| &s.joints) {
            for name in joint.with_fastener() {
                items.entry(name.value.clone()).or_insert_with(|| HardwareItem {
                    decoded: understood(name.as_str()).map(Arc::new),
                    conflicts: Vec::new(),
                });
            }
        }
        Self { items }
    }

    /// What one joint names.
    pub fn of_joint(manual: &Manual, joint: &Joint) -> Self {
        let items = joint.with_fastener().map(|name| {
            let found = manual.hardware.get(&name.value).map(item);
            let alone = || HardwareItem { decoded: understood(name.as_str()).map(Arc::new), conflicts: Vec::new() };
            (name.value.clone(), found.unwrap_or_else(alone))
        });
        Self { items: items.collect() }
    }

    pub fn item(&self, designation: &Designation) -> Option<&HardwareItem> {
        self.items.get(designation)
    }

    pub fn get(&self, designation: &Designation) -> Option<&Arc<Decoded>> {
        self.items.get(designation)?.decoded.as_ref()
    }
}

/// What a designation says, a near miss read as what it means.
fn understood(designation: &str) -> Option<Decoded> {
    decode(designation).or_else(|| match normalise(designation) {
        Normalised::Corrected { to, .. } => decode(&to),
        _ => None,
    })
}

/// What the list alone can tell of the form. A nut of unknown kind stays unknown: how it locks can't be guessed.
fn form(kind: HardwareKind) -> Option<ItemForm> {
    Some(match kind {
        HardwareKind::Bolt => ItemForm::Bolt,
        HardwareKind::Screw => ItemForm::FullThreadBolt,
        HardwareKind::PlainNut => ItemForm::Nut(NutForm::Plain),
        HardwareKind::CastleNut => ItemForm::Nut(NutForm::Castle),
        HardwareKind::CheckNut => ItemForm::Nut(NutForm::Check),
        HardwareKind::ElasticNut => ItemForm::Nut(NutForm::Elastic),
        HardwareKind::MetalNut => ItemForm::Nut(NutForm::AllMetal),
        HardwareKind::Washer => ItemForm::Washer(WasherForm::Plain),
        HardwareKind::SolidRivet => ItemForm::SolidRivet(RivetHead::Universal),
        HardwareKind::BlindRivet => ItemForm::BlindRivet(RivetHead::Protruding),
        HardwareKind::ClevisPin => ItemForm::ClevisPin,
        HardwareKind::CotterPin => ItemForm::CotterPin,
        HardwareKind::Eyebolt => ItemForm::Eyebolt,
        _ => return None,
    })
}

fn item(row: &Hardware) -> HardwareItem {
    let name = row.designation.as_str();
    let found = understood(name).or_else(|| form(row.kind).map(|form| Decoded::new(name.to_owned(), form)));
    let mut conflicts = Vec::new();
    // What the author marks so is no stronger than any other value from memory.
    let source = |column: &str| if row.recalled.contains(&column) { Source::FromMemory } else { LIST };
    let decoded = found.map(|mut decoded| {
        let mut take = |column, to: &mut Option<Cited<Length>>, listed: &Option<Spanned<Length>>| {
            let Some(listed) = listed else { return };
            match *to {
                Some(known) if known.value != listed.value => {
                    let weaker = known.source.min(source(column));
                    conflicts.push(Conflict {
                        column,
                        listed: listed.value,
                        span: listed.span,
                        decoded: known,
                        source: weaker,
                    });
                    // A published value stays; one from memory gives way to the author's.
                    if !known.source.may_fail() {
                        *to = Some(Cited::new(listed.value, source(column)));
                    }
                }
                Some(known) if known.source.may_fail() => {}
                _ => *to = Some(Cited::new(listed.value, source(column))),
            }
        };
        take("diameter", &mut decoded.diameter, &row.diameter);
        take("length", &mut decoded.length, &row.length);
        take("thickness", &mut decoded.thickness, &row.thickness);
        take("height", &mut decoded.height, &row.height);
        if !matches!(decoded.form, ItemForm::BlindRivet(_)) {
            take("grip", &mut decoded.grip, &row.grip);
        } else if let Some(most) = &row.grip {
            let least = row.least_grip.as_ref().map(|l| l.value);
            let weaker = source("grip").min(source("least grip"));
            decoded.grip_range = Some(Cited::new(GripRange { least, most: most.value }, weaker));
        }
        if let Some(thread) = Thread::parse(&row.thread).filter(|_| decoded.thread.is_none_or(|t| !t.source.may_fail()))
        {
            decoded.thread = Some(Cited::new(thread, source("thread")));
            decoded.diameter.get_or_insert(Cited::new(thread.diameter(), source("thread")));
        }
        // The column wins over a class within the material.
        if let Some(class) = row.class.as_ref().and_then(|c| Class::read(&c.value, decoded.form)) {
            decoded.class = Some(Cited::new(class, source("class")));
        }
        decoded.strength = row.strength.map(|s| Cited::new(s.value, source("strength")));
        if let Some(class) = Class::read(&row.material, decoded.form).filter(|_| decoded.class.is_none()) {
            decoded.class = Some(Cited::new(class, source("material")));
        }
        decoded.hole = row.hole.map(|drill| Cited::new(drill.value, source("hole")));
        decoded.reamer = row.reamer.map(|reamer| Cited::new(reamer.value, source("reamer")));
        Arc::new(decoded)
    });
    HardwareItem { decoded, conflicts }
}
