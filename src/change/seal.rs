//! The seal of a release of an earlier form, which carries no digest of its own: a file beside it with its digest.
//!
//! It says what the release was on the day it was sealed. It proves nothing of the time before.
//!
//! Owns: the form of the file. Must not know: where it lies.

use super::digest::has_digest_form;
use super::letter::Letter;
use super::release::{usual_line_ends, with_digest, without_digest};
use crate::units::Date;

const TITLE: &str = "kitwright seal";

/// A release's digest, written down later than the release.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seal {
    pub letter: Letter,
    /// When it was sealed.
    pub date: Date,
    /// The digest of the release file.
    pub release: String,
}

impl Seal {
    /// The file.
    pub fn text(&self) -> String {
        let Self { letter, date, release } = self;
        with_digest(format!("{TITLE}\nletter {letter}\ndate {date}\nrelease {release}\n"))
    }

    /// Reads the file; none where it is not whole.
    pub fn read(text: &str) -> Option<Self> {
        let text = usual_line_ends(text);
        let (before, true) = without_digest(&text)? else { return None };
        let mut lines = before.lines();
        let mut field = |name: &str| lines.next()?.strip_prefix(name);
        field(TITLE).filter(|rest| rest.is_empty())?;
        let letter = Letter::parse(field("letter ")?)?;
        let date = Date::parse(field("date ")?)?;
        let release = field("release ").filter(|digest| has_digest_form(digest))?.to_owned();
        let seal = Self { letter, date, release };
        (seal.text() == text).then_some(seal)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seal_is_read_whole_or_not_at_all() {
        let release = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad".to_owned();
        let seal = Seal { letter: Letter::first(), date: Date::parse("2026-03-01").unwrap(), release };
        let text = seal.text();
        assert_eq!(Seal::read(&text).as_ref(), Some(&seal));
        assert_eq!(Seal::read(&text.replace('\n', "\r\n")).as_ref(), Some(&seal));
        for at in 0..text.len() {
            assert_eq!(Seal::read(&text[..at]), None, "cut at {at}");
            let mut bytes = text.clone().into_bytes();
            bytes[at] ^= 1;
            assert_eq!(String::from_utf8(bytes).ok().and_then(|t| Seal::read(&t)), None, "another byte {at}");
        }
    }
}
