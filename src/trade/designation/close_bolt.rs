//! Close-tolerance bolts: AN173 to AN186, NAS6203 to NAS6210, NAS6603 to NAS6610, NAS1103 to NAS1110.

use super::{DesignationReading, bolt, digits, no_such, numbered};
use crate::trade::cited::mils;
use crate::trade::{Cited, Decoded, Drilled, ItemForm, Source, Thread};
use crate::units::Length;

const DIMENSIONS: Source = Source::Published("published dimensions of NAS6203 to NAS6210 and NAS6603 to NAS6610 bolts");
/// The grip of a NAS bolt is its dash number in sixteenths of an inch.
const DASH: Source = Source::Published("published code of NAS bolts: the dash number is the grip in sixteenths");

/// From the grip on, thousandths of an inch, by diameter in sixteenths from 3 to 10: NAS6203 and on.
const SHORT: [i64; 8] = [323, 370, 438, 454, 528, 528, 594, 626];
/// The same: NAS6603 and on.
const LONG: [i64; 8] = [345, 425, 469, 578, 694, 735, 840, 902];

/// The longest dash number that is read.
const LAST_DASH: u32 = 128;

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some((number @ 173..=186, rest)) = numbered(text, "AN") {
        return bolt::close(number, rest);
    }
    let (number, rest) = numbered(text, "NAS")?;
    match number {
        6203..=6210 => nas(text, number - 6200, rest, Some(&SHORT)),
        6603..=6610 => nas(text, number - 6600, rest, Some(&LONG)),
        1103..=1110 => nas(text, number - 1100, rest, None),
        _ => None,
    }
}

/// `NAS6204-10`, `NAS6204-10D` with a drilled shank, `NAS6204-10H` with a drilled head.
fn nas(text: &str, size: u32, rest: &str, threads: Option<&[i64; 8]>) -> DesignationReading {
    let after = rest.strip_prefix('-').or_else(|| rest.strip_prefix("L-")).or_else(|| rest.strip_prefix("U-"))?;
    let (dash, end) = digits(after)?;
    let (shank, head) = match end {
        "" => (Drilled::NotDrilled, Drilled::NotDrilled),
        "D" => (Drilled::Drilled, Drilled::NotDrilled),
        "H" => (Drilled::NotDrilled, Drilled::Drilled),
        "DH" => (Drilled::Drilled, Drilled::Drilled),
        _ => return None,
    };
    if dash == 0 || dash > LAST_DASH {
        return no_such(format!("no such bolt has a grip of {dash}/16 in"), []);
    }
    let thread = Thread::fine(u8::try_from(size).ok()?)?;
    let mut bolt = Decoded::new(text.to_owned(), ItemForm::Bolt);
    let known = if threads.is_some() { DIMENSIONS } else { Source::FromMemory };
    bolt.thread = Some(Cited::new(thread, known));
    bolt.diameter = Some(Cited::new(thread.diameter(), known));
    let grip = Length::inches(i64::from(dash), 16);
    bolt.grip = Some(Cited::new(grip, if threads.is_some() { DASH } else { Source::FromMemory }));
    bolt.length = threads
        .and_then(|t| t.get(usize::try_from(size).ok()?.checked_sub(3)?))
        .map(|&threaded| Cited::new(grip + mils(threaded), DIMENSIONS));
    bolt.material = Some(Cited::from_memory("alloy steel, cadmium-plated"));
    bolt.shank = Some(Cited::from_memory(shank));
    bolt.head = Some(Cited::from_memory(head));
    Some(Ok(bolt))
}

#[cfg(test)]
mod tests {
    use crate::trade::{Source, decode};
    use crate::units::Length;

    /// The published dimensions: NAS6204 has .370 in from its grip on, NAS6603 .345; the dash is in sixteenths.
    #[test]
    fn nas_bolts_have_their_grip_in_sixteenths() {
        for (name, grip, length) in [
            ("NAS6204-10", (10, 16), (995, 1000)),
            ("NAS6603-4D", (1, 4), (595, 1000)),
            ("NAS6208-16", (1, 1), (1528, 1000)),
        ] {
            let bolt = decode(name).expect(name);
            assert_eq!(bolt.grip.map(|g| g.value), Some(Length::inches(grip.0, grip.1)), "{name}");
            assert_eq!(bolt.length.map(|l| l.value), Some(Length::inches(length.0, length.1)), "{name}");
            assert!(bolt.grip.is_some_and(|g| g.source.may_fail()));
        }
        // How long the thread of NAS1103 and on is, is not in the table.
        let bolt = decode("NAS1104-8").expect("a bolt");
        assert_eq!((bolt.length, bolt.grip.map(|g| g.source)), (None, Some(Source::FromMemory)));
        assert!(decode("NAS6204").is_none() && decode("NAS6204-0").is_none() && decode("NAS6211-4").is_none());
    }

    #[test]
    fn close_tolerance_an_bolts_are_as_long_as_the_others() {
        let (close, usual) = (decode("AN174-12A").expect("a bolt"), decode("AN4-12A").expect("a bolt"));
        assert_eq!(close.grip.map(|g| g.value), usual.grip.map(|g| g.value));
        assert_eq!(close.grip.map(|g| g.source), Some(Source::FromMemory));
    }
}
