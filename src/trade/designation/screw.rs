//! Inch screws: AN525 with a washer head, MS24694 flush. All from memory; the dash numbers of MS24694 code nothing, so of
//! those only the form is known.

use super::{DesignationReading, digits, no_such, numbered};
use crate::trade::{Cited, Decoded, Drilled, ItemForm, Thread};
use crate::units::Length;

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some((525, rest)) = numbered(text, "AN") {
        return washer_head(text, rest);
    }
    match numbered(text, "MS")? {
        (24694, rest) => flush(text, rest),
        _ => None,
    }
}

/// `AN525-10R10`, `AN525-832R8`, `AN525C10-7`: size, `R` for a cross recess, length in sixteenths.
fn washer_head(text: &str, rest: &str) -> DesignationReading {
    let (material, after) = match rest.strip_prefix('C') {
        Some(after) => ("corrosion-resistant steel", after),
        None => ("cadmium-plated steel", rest),
    };
    let after = after.strip_prefix('-').or_else(|| (material.starts_with("corr")).then_some(after))?;
    let (size, end) = digits(after)?;
    let (length, end) = digits(end.strip_prefix(['R', '-'])?)?;
    if !end.is_empty() {
        return None;
    }
    let thread = match size {
        832 => Thread::Number { number: 8, per_inch: 32 },
        10 => Thread::Number { number: 10, per_inch: 32 },
        416 => Thread::Sixteenths { sixteenths: 4, per_inch: 28 },
        _ => return no_such(format!("AN525 screws have no size {size}"), []),
    };
    if length == 0 || length > 64 {
        return no_such(format!("no AN525 screw is {length}/16 in long"), []);
    }
    let mut screw = Decoded::new(text.to_owned(), ItemForm::FullThreadBolt);
    screw.thread = Some(Cited::from_memory(thread));
    screw.diameter = Some(Cited::from_memory(thread.diameter()));
    screw.length = Some(Cited::from_memory(Length::inches(i64::from(length), 16)));
    screw.material = Some(Cited::from_memory(material));
    screw.shank = Some(Cited::from_memory(Drilled::NotDrilled));
    Some(Ok(screw))
}

/// `MS24694-S50`, `MS24694-C12`.
fn flush(text: &str, rest: &str) -> DesignationReading {
    let after = rest.strip_prefix('-')?;
    let (material, after) = match (after.strip_prefix('S'), after.strip_prefix('C')) {
        (Some(after), _) => ("cadmium-plated steel", after),
        (_, Some(after)) => ("corrosion-resistant steel", after),
        _ => return None,
    };
    let (_, end) = digits(after)?;
    if !end.is_empty() {
        return None;
    }
    let mut screw = Decoded::new(text.to_owned(), ItemForm::CountersunkScrew);
    screw.material = Some(Cited::from_memory(material));
    screw.shank = Some(Cited::from_memory(Drilled::NotDrilled));
    Some(Ok(screw))
}

#[cfg(test)]
mod tests {
    use crate::trade::{ItemForm, decode};
    use crate::units::Length;

    /// From memory: AN525-10R10 is 10-32, 10/16 in long.
    #[test]
    fn screws_say_their_size() {
        let screw = decode("AN525-10R10").expect("a screw");
        assert_eq!(screw.length.map(|l| l.value), Some(Length::inches(5, 8)));
        assert_eq!(screw.thread.map(|t| t.value.to_string()).as_deref(), Some("10-32"));
        assert_eq!(decode("AN525-832R8").and_then(|s| s.thread).map(|t| t.value.to_string()).as_deref(), Some("8-32"));
        let flush = decode("MS24694-S50").expect("a screw");
        assert_eq!((flush.form, flush.length), (ItemForm::CountersunkScrew, None));
        assert!(decode("AN525-11R4").is_none() && decode("MS24694-50").is_none());
    }
}
