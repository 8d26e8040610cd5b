//! Does the nut go with the bolt, and does it stay on.

use super::{Cited, Decoded, Drilled, ItemForm, NutForm, Source};
use crate::units::Length;

const TURNING: Source = Source::Published("FAA AC 43.13-1B, 7-64a");
const HOT: Source = Source::Published("FAA AC 43.13-1B, 7-64f");
const SMALLEST: Source = Source::Published("FAA AC 43.13-1B, 7-41");

/// Highest temperature for an elastic nut, degrees Fahrenheit (FAA AC 43.13-1B, 7-64f).
pub const ELASTIC_LIMIT_F: i64 = 250;

/// What a joint carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Load {
    Shear,
    Tension,
    Both,
}

/// Whether the joint turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Motion {
    Fixed,
    Turns,
}

/// Where the joint is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JointPlace {
    Ordinary,
    /// Hotter than an elastic nut bears.
    Hot,
}

/// How a joint is used. What the author does not say is `None`, and nothing is found by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JointUse {
    pub motion: Motion,
    pub load: Option<Load>,
    pub place: JointPlace,
    /// Whether a self-locking nut may hold a bolt that turns.
    pub locking_nut: LockingNut,
    pub thread: ThreadEnd,
}

/// What a trade says of a self-locking nut on a bolt that turns. Where lives hang on it, none allows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LockingNut {
    NeverTurns,
    MayTurn,
}

/// What a screw's thread goes into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ThreadEnd {
    Nut,
    /// A tapped hole or a threaded insert of the last part that it goes through.
    Part,
}

/// What is wrong between bolt, nut, pin and use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LockFault {
    /// Bolt and nut have different threads.
    ThreadsDiffer,
    /// A self-locking nut where the joint turns.
    SelfLockingTurns,
    /// A castle nut on a shank without a hole.
    CastleUndrilled,
    /// A castle nut or drilled pin without a cotter pin.
    NoPin,
    /// A cotter pin with nothing to hold: an undrilled shank, or a nut without slots.
    PinWithoutHole,
    /// A thin nut where the joint carries tension.
    ShearNutInTension,
    /// A clevis bolt or pin where the joint carries tension.
    ShearBoltInTension,
    /// A bolt without a nut, and nothing said that its thread goes into.
    NoNut,
    /// A screw in a threaded hole and nothing that locks it.
    ThreadUnlocked,
    /// A plain nut and nothing that locks it.
    NoLock,
    /// An elastic insert in a hot place.
    ElasticHot,
    /// A self-locking nut on a shank that is drilled: the edge of the hole cuts its insert.
    ElasticOnDrilled,
}

impl LockFault {
    /// What is wrong, lower case, no full stop.
    pub fn words(self) -> &'static str {
        match self {
            Self::ThreadsDiffer => "the nut's thread is not the bolt's",
            Self::SelfLockingTurns => "a self-locking nut on a joint that turns",
            Self::CastleUndrilled => "a castle nut on a shank that is not drilled",
            Self::NoPin => "no cotter pin",
            Self::PinWithoutHole => "a cotter pin with no hole or slot to go through",
            Self::ShearNutInTension => "a shear nut on a joint in tension",
            Self::ShearBoltInTension => "a clevis bolt or pin on a joint in tension",
            Self::NoNut => "a bolt without a nut",
            Self::ThreadUnlocked => "a screw in a threaded hole without a lock",
            Self::NoLock => "a plain nut without a lock",
            Self::ElasticHot => "a nut with an elastic insert in a hot place",
            Self::ElasticOnDrilled => "a nut with an elastic insert on a drilled shank",
        }
    }
}

/// What is wrong between a bolt or pin, its nut, its cotter pin and their use. `locked` says that something else
/// locks a plain nut, such as a check nut, a lock washer or safety wire.
pub fn lock_faults(
    bolt: &Decoded,
    nut: Option<&Decoded>,
    pin: Option<&Decoded>,
    joint: JointUse,
    locked: Locked,
) -> Vec<Cited<LockFault>> {
    let mut faults = Vec::new();
    let mut found = |fault, source| faults.push(Cited::new(fault, source));
    let form = nut.and_then(|nut| match nut.form {
        ItemForm::Nut(form) => Some(form),
        _ => None,
    });
    let undrilled = bolt.shank.filter(|shank| shank.value == Drilled::NotDrilled);
    let drilled = bolt.shank.filter(|shank| shank.value == Drilled::Drilled);
    let tension = matches!(joint.load, Some(Load::Tension | Load::Both));

    if let (Some(ours), Some(theirs)) = (bolt.thread, nut.and_then(|nut| nut.thread))
        && ours.value != theirs.value
    {
        found(LockFault::ThreadsDiffer, ours.source.min(theirs.source));
    }
    if tension && matches!(bolt.form, ItemForm::ClevisBolt | ItemForm::ClevisPin) {
        found(LockFault::ShearBoltInTension, Source::CommonPractice);
    }
    if let Some(form) = form {
        if joint.motion == Motion::Turns && form.self_locking() && joint.locking_nut == LockingNut::NeverTurns {
            found(LockFault::SelfLockingTurns, TURNING);
        }
        if let Some(shank) = undrilled.filter(|_| form.castellated()) {
            found(LockFault::CastleUndrilled, Source::CommonPractice.min(shank.source));
        }
        if form.shear_only() && tension && !(form == NutForm::Check && locked == Locked::Otherwise) {
            found(LockFault::ShearNutInTension, Source::CommonPractice);
        }
        if joint.place == JointPlace::Hot && form.elastic() {
            found(LockFault::ElasticHot, HOT);
        }
        if matches!(form, NutForm::Plain | NutForm::Check) && locked == Locked::No && pin.is_none() {
            found(LockFault::NoLock, Source::CommonPractice);
        }
        if let Some(shank) = drilled.filter(|_| form.elastic()) {
            found(LockFault::ElasticOnDrilled, Source::FromMemory.min(shank.source));
        }
    }
    if nut.is_none() && locked == Locked::No {
        match joint.thread {
            ThreadEnd::Part if bolt.form.drawn() => found(LockFault::ThreadUnlocked, Source::CommonPractice),
            ThreadEnd::Nut if matches!(bolt.form, ItemForm::Bolt | ItemForm::ClevisBolt) => {
                found(LockFault::NoNut, Source::CommonPractice);
            }
            _ => {}
        }
    }
    let takes_pin = form.map_or(bolt.form == ItemForm::ClevisPin, NutForm::castellated);
    match pin {
        None if takes_pin && locked == Locked::No && undrilled.is_none() => {
            found(LockFault::NoPin, Source::CommonPractice);
        }
        Some(_) if undrilled.is_some() || form.is_some_and(|form| !form.castellated()) => {
            found(LockFault::PinWithoutHole, Source::CommonPractice);
        }
        _ => {}
    }
    faults
}

/// Whether something else than nut and cotter pin locks the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Locked {
    No,
    Otherwise,
}

/// Whether a washer is of another size than the bolt, and what says so. `None` where it goes on, or where a size is
/// not known.
pub fn washer_of_another_size(bolt: &Decoded, washer: &Decoded) -> Option<Source> {
    let sizes = bolt.diameter?.join(washer.diameter?, |ours, theirs| ours != theirs);
    sizes.value.then_some(sizes.source)
}

/// The smallest bolt for primary structure, by its material (FAA AC 43.13-1B, 7-41): No. 10 of steel, 1/4 in of
/// aluminium. `None` for a material that is not known.
pub fn smallest_bolt(bolt: &Decoded) -> Option<Cited<Length>> {
    let material = bolt.material?;
    let least = if material.value.contains("aluminium") { Length::inches(1, 4) } else { Length::inches(190, 1000) };
    Some(Cited::new(least, SMALLEST.min(material.source)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::decode;

    const FIXED: JointUse = JointUse {
        motion: Motion::Fixed,
        load: Some(Load::Shear),
        place: JointPlace::Ordinary,
        locking_nut: LockingNut::NeverTurns,
        thread: ThreadEnd::Nut,
    };

    fn faults(bolt: &str, nut: &str, pin: &str, joint: JointUse) -> Vec<LockFault> {
        let item = |d: &str| (!d.is_empty()).then(|| decode(d).expect(d));
        let (bolt, nut, pin) = (decode(bolt).expect(bolt), item(nut), item(pin));
        lock_faults(&bolt, nut.as_ref(), pin.as_ref(), joint, Locked::No).into_iter().map(|f| f.value).collect()
    }

    /// FAA AC 43.13-1B ch. 7: 7-64a, 7-64f; the others are common practice.
    #[test]
    fn each_mistake_is_found() {
        let turns = JointUse { motion: Motion::Turns, ..FIXED };
        let tension = JointUse { load: Some(Load::Tension), ..FIXED };
        let hot = JointUse { place: JointPlace::Hot, ..FIXED };
        for (bolt, nut, pin, joint, expected) in [
            ("AN4-10A", "AN365-428A", "", FIXED, &[][..]),
            ("AN4-10", "AN310-4", "AN380-2-2", turns, &[]),
            ("AN393-11", "", "AN380-2-2", turns, &[]),
            ("AN4-10A", "AN365-428A", "", turns, &[LockFault::SelfLockingTurns]),
            ("AN4-10A", "MS21042-4", "", turns, &[LockFault::SelfLockingTurns]),
            ("AN4-10A", "AN310-4", "", FIXED, &[LockFault::CastleUndrilled]),
            ("AN4-10A", "AN310-4", "AN380-2-2", FIXED, &[LockFault::CastleUndrilled, LockFault::PinWithoutHole]),
            ("AN4-10", "AN310-4", "", FIXED, &[LockFault::NoPin]),
            ("AN393-11", "", "", turns, &[LockFault::NoPin]),
            ("AN4-10A", "AN364-428A", "", tension, &[LockFault::ShearNutInTension]),
            ("AN24-12", "AN310-4", "AN380-2-2", tension, &[LockFault::ShearBoltInTension]),
            ("AN4-10A", "", "", FIXED, &[LockFault::NoNut]),
            ("AN4-10A", "AN315-4", "", FIXED, &[LockFault::NoLock]),
            ("AN4-10A", "AN365-428A", "", hot, &[LockFault::ElasticHot]),
            ("AN4-10A", "MS21042-4", "", hot, &[]),
            ("AN4-10A", "AN365-524A", "", FIXED, &[LockFault::ThreadsDiffer]),
            ("AN4-10", "AN365-428A", "", FIXED, &[LockFault::ElasticOnDrilled]),
        ] {
            assert_eq!(faults(bolt, nut, pin, joint), expected, "{bolt} {nut} {pin} {joint:?}");
        }
    }

    /// Common practice: what is tapped into a part comes loose like a plain nut.
    #[test]
    fn a_tapped_screw_wants_a_lock() {
        let tapped = JointUse { thread: ThreadEnd::Part, ..FIXED };
        assert_eq!(faults("ISO 4762 M6x20 8.8", "", "", tapped), [LockFault::ThreadUnlocked]);
        let turning = JointUse { motion: Motion::Turns, locking_nut: LockingNut::MayTurn, ..FIXED };
        assert_eq!(faults("ISO 4014 M8x50 8.8", "ISO 7040 M8 8", "", turning), []);
    }

    #[test]
    fn washers_go_on_their_bolt() {
        let misfit = |bolt: &str, washer: &str| {
            washer_of_another_size(&decode(bolt).expect(bolt), &decode(washer).expect(washer)).is_some()
        };
        for (bolt, washer) in [("AN4-10A", "AN960-416"), ("AN3-10A", "NAS1149F0363P"), ("AN5-10A", "NAS1149F0563P")] {
            assert!(!misfit(bolt, washer), "{bolt} {washer}");
        }
        assert!(misfit("AN4-10A", "AN960-516") && misfit("AN4-10A", "AN960-10") && misfit("AN5-10A", "AN960-616"));
    }

    #[test]
    fn aluminium_bolts_start_at_a_quarter_inch() {
        let least = |d: &str| smallest_bolt(&decode(d).expect(d)).map(|l| l.value);
        assert_eq!(least("AN3-10A"), Some(Length::inches(19, 100)));
        assert_eq!(least("AN3DD10A"), Some(Length::inches(1, 4)));
    }
}
