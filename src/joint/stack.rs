//! What a fastener clamps, member by member, with the thickness that each counts.

use crate::model::{Joint, Manual, Part, StackMember, StepItem, StockShape, Through};
use crate::trade::fit::{CountedAs, Layer, Stack};
use crate::trade::{Cited, Clamped, Family, Source, Substance, family, substance};
use crate::units::{Length, PartNumber};

const PARTS: Source = Source::Published("parts list");

/// Why the thickness of a member is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unmeasured {
    /// No such part: another rule says so.
    NoPart,
    /// The part has no stock, or stock without the size that is needed.
    NoSize,
    /// A tube, and it is not said whether one wall or both.
    WallOrTube,
    /// A spacer without a cut length.
    NoLength,
    /// A size that is zero or negative.
    NotPositive,
}

/// A member of a stack.
#[derive(Clone, Debug)]
pub struct Member<'a> {
    pub member: &'a StepItem<StackMember>,
    pub part: Option<&'a Part>,
    pub layer: Result<Layer, Unmeasured>,
    /// What it counts in the stack; `None` where a thickness is not known.
    pub counted: Option<CountedAs>,
    pub substance: Substance,
    pub family: Family,
}

/// The members of a joint's stack, from the head, and their thickness where all are known and there are any.
pub(super) fn stack<'a>(manual: &'a Manual, joint: &'a Joint) -> (Vec<Member<'a>>, Option<Cited<Length>>) {
    let mut members: Vec<Member> = joint.stack.iter().map(|m| member(manual, m)).collect();
    let layers: Vec<Layer> = members.iter().filter_map(|m| m.layer.ok()).collect();
    if layers.len() < members.len() || layers.is_empty() {
        return (members, None);
    }
    let stack = Stack::of(&layers);
    for (member, counted) in members.iter_mut().zip(&stack.layers) {
        member.counted = Some(*counted);
    }
    (members, Some(Cited::new(stack.thickness, PARTS)))
}

fn member<'a>(manual: &'a Manual, member: &'a StepItem<StackMember>) -> Member<'a> {
    let part = manual.parts.get(&member.part.value);
    let stock = part.and_then(|p| p.stock.as_ref()).and_then(|s| manual.stock.get(&s.value));
    let own = part.map_or("", |p| p.material.as_str());
    let material = if own.is_empty() { stock.map_or("", |s| s.material.as_str()) } else { own };
    let layer = match (&member.thickness, part) {
        (Some(given), _) => Ok(Layer::Flat(given.value)),
        (None, None) => Err(Unmeasured::NoPart),
        (None, Some(part)) => {
            let tube = stock.is_some_and(|s| matches!(s.shape, StockShape::RoundTube | StockShape::SquareTube));
            let wall = stock.and_then(|s| s.wall.as_ref()).map(|w| w.value);
            let outside = stock.and_then(|s| s.outside_diameter.as_ref()).map(|d| d.value);
            let bar = stock.is_some_and(|s| s.shape == StockShape::Bar);
            let flat = |length: Option<Length>, why| length.map(Layer::Flat).ok_or(why);
            match member.through {
                Through::Wall => wall.map(Layer::Wall).ok_or(Unmeasured::NoSize),
                Through::Tube | Through::BushedTube => {
                    outside.map(|outside_diameter| Layer::Tube { outside_diameter, wall }).ok_or(Unmeasured::NoSize)
                }
                Through::Length => flat(part.cut_length.as_ref().map(|l| l.value), Unmeasured::NoLength),
                Through::Thickness if tube => Err(Unmeasured::WallOrTube),
                Through::Thickness if bar => flat(wall.or(outside), Unmeasured::NoSize),
                Through::Thickness => flat(wall, Unmeasured::NoSize),
            }
        }
    };
    let positive = |layer: &Layer| match *layer {
        Layer::Flat(t) | Layer::Wall(t) => t > Length::ZERO,
        Layer::Tube { outside_diameter, .. } => outside_diameter > Length::ZERO,
    };
    let layer = layer.and_then(|layer| if positive(&layer) { Ok(layer) } else { Err(Unmeasured::NotPositive) });
    Member { member, part, layer, counted: None, substance: substance(material), family: family(material) }
}

/// How far a pin goes through a part: the thickness of sheet and bar, the whole of a tube, the length of a spacer. None
/// where the lists do not tell it.
pub fn passed_by_pin(manual: &Manual, number: &PartNumber) -> Option<Length> {
    let part = manual.parts.get(number)?;
    let stock = manual.stock.get(&part.stock.as_ref()?.value)?;
    let (wall, outside) = (&stock.wall, &stock.outside_diameter);
    let across = match stock.shape {
        StockShape::RoundTube | StockShape::SquareTube => outside.as_ref(),
        StockShape::Bar => wall.as_ref().or(outside.as_ref()),
        _ => wall.as_ref(),
    };
    across.map(|length| length.value).filter(|length| *length > Length::ZERO)
}

/// The stack as a torque table sees it.
pub(super) fn clamped(members: &[Member]) -> Clamped {
    let unbushed = |m: &Member| m.member.through == Through::Tube && m.member.thickness.is_none();
    if members.iter().any(|m| m.substance == Substance::Soft) {
        Clamped::Soft
    } else if members.iter().any(unbushed) {
        Clamped::UnbushedTube
    } else if members.is_empty() || members.iter().any(|m| m.substance == Substance::Unknown) {
        Clamped::Unknown
    } else {
        Clamped::SolidMetal
    }
}
