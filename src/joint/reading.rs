//! A joint in values, judged.

use std::sync::Arc;

use super::Items;
use super::critical::lives_hang_on;
use super::stack::{Member, stack};
use super::threaded::{Threaded, threaded};
use super::tightening::{Tightening, tightening};
use crate::model::{Carries, Joint, Manual};
use crate::source::Spanned;
use crate::trade::fit::{Clamp, Fit, FitRules, Shank, Unusable, judge, margin_within};
use crate::trade::{
    Cited, Decoded, ItemForm, JointPlace, JointUse, Load, LockFault, Locked, LockingNut, Motion, ThreadEnd, lock_faults,
};
use crate::units::{Designation, Length, Rational};

/// The thickness of each washer.
type Thicknesses = Vec<Cited<Length>>;

/// A joint in values.
#[derive(Clone, Debug)]
pub struct Reading<'a> {
    pub fastener: Option<Arc<Decoded>>,
    pub nut: Option<Arc<Decoded>>,
    pub pin: Option<Arc<Decoded>>,
    pub members: Vec<Member<'a>>,
    /// `None` where a member's thickness is not known, or there is none.
    pub thickness: Option<Cited<Length>>,
    /// Washers under the head, then under the nut, each as often as it stands there; `None` where a thickness is
    /// not known.
    pub washers: Option<(Thicknesses, Thicknesses)>,
    /// A bolt with its nut against the stack; `None` for other fasteners, and where a value is not known.
    pub fit: Option<Result<Fit, Unusable>>,
    /// Where it fits: how far it is from the nearest limit if the parts are as far off as they may be, inches; negative where
    /// it does not fit then. `None` where no part has a tolerance.
    pub at_worst: Option<Rational>,
    pub lock: Vec<Cited<LockFault>>,
    /// How deep its thread goes into the last member, where it goes into a part.
    pub threaded: Option<Threaded>,
    pub tightening: Tightening,
}

impl Reading<'_> {
    pub fn form(&self) -> Option<ItemForm> {
        self.fastener.as_ref().map(|f| f.form)
    }

    /// Stack and washers under the head and nut together.
    pub fn clamped_with_washers(&self) -> Option<Cited<Length>> {
        let (head, nut) = self.washers.as_ref()?;
        let washers = head.iter().chain(nut);
        Some(washers.fold(self.thickness?, |sum, washer| sum.join(*washer, |a, b| a + b)))
    }
}

/// Reads a joint whose conditions are decided.
pub fn read<'a>(manual: &'a Manual, items: &Items, joint: &'a Joint) -> Reading<'a> {
    let get = |d: &Spanned<Designation>| items.get(&d.value).cloned();
    let fastener = get(&joint.fastener);
    let nut = joint.nut.as_ref().and_then(get);
    let pin = joint.pin.as_ref().and_then(get);
    let (members, thickness) = stack(manual, joint);
    let washers = |list: &[(Spanned<Designation>, i64)]| -> Option<Thicknesses> {
        let mut all = Vec::new();
        for (name, n) in list {
            let thickness = items.get(&name.value)?.thickness?;
            all.extend(std::iter::repeat_n(thickness, usize::try_from(*n).unwrap_or(0).min(100)));
        }
        Some(all)
    };
    let washers = washers(&joint.under_head).zip(washers(&joint.under_nut));
    let bolt = fastener.as_deref().filter(|f| f.form.drawn());
    let fit = match (bolt.and_then(Shank::of), thickness, &washers, &joint.nut) {
        (Some(shank), Some(stack), Some((head, under_nut)), Some(_)) => {
            let clamp = Clamp {
                stack,
                under_head: head.clone(),
                under_nut: under_nut.clone(),
                nut_height: nut.as_ref().and_then(|n| n.height),
            };
            Some(judge(&shank, &clamp, &rules_for(manual, joint, bolt)))
        }
        _ => None,
    };
    let tolerance = joint.tolerance();
    let at_worst = match (&fit, bolt.and_then(Shank::of)) {
        (Some(Ok(fit)), Some(shank)) if fit.faults.is_empty() && tolerance > Length::ZERO => {
            Some(margin_within(fit, &shank, &rules_for(manual, joint, bolt), tolerance))
        }
        _ => None,
    };
    let lock = fastener.as_deref().map_or_else(Vec::new, |fastener| {
        let joint_use = JointUse {
            motion: motion(joint),
            load: joint.carries.as_ref().map(|c| match c.value {
                Carries::Shear => Load::Shear,
                Carries::Tension => Load::Tension,
                Carries::Both => Load::Both,
            }),
            place: if joint.hot { JointPlace::Hot } else { JointPlace::Ordinary },
            locking_nut: if manual.settings.fastening.locking_nut_may_turn(fastener) && !lives_hang_on(manual, joint) {
                LockingNut::MayTurn
            } else {
                LockingNut::NeverTurns
            },
            thread: if joint.into.is_some() { ThreadEnd::Part } else { ThreadEnd::Nut },
        };
        // A pin whose designation says nothing is a pin all the same.
        let unknown_pin = Decoded::new(String::new(), ItemForm::CotterPin);
        let pin = joint.pin.as_ref().map(|_| pin.as_deref().unwrap_or(&unknown_pin));
        let locked = if joint.locked_by.is_some() { Locked::Otherwise } else { Locked::No };
        lock_faults(fastener, nut.as_deref(), pin, joint_use, locked)
    });
    let tightening = match fastener.as_deref() {
        Some(fastener) => tightening(joint, fastener, nut.as_deref(), &members),
        None => Tightening::None,
    };
    let head = washers.as_ref().map(|(head, _)| head.as_slice());
    let threaded = joint.into.as_ref().and_then(|into| threaded(into.value, fastener.as_deref()?, &members, head?));
    Reading { fastener, nut, pin, members, thickness, washers, fit, at_worst, lock, threaded, tightening }
}

/// Whether the bolt turns in its joint.
pub fn motion(joint: &Joint) -> Motion {
    if joint.bolt_turns() { Motion::Turns } else { Motion::Fixed }
}

/// The limits that a joint is held against.
pub fn rules_for(manual: &Manual, joint: &Joint, bolt: Option<&Decoded>) -> FitRules {
    manual.settings.fastening.fit(bolt).for_motion(motion(joint))
}
