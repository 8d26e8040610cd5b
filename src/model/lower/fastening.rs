//! `fastening` of `manual.yaml`: the limits that joints and holes are held against.

use super::fields::{Fields, value};
use crate::diag::Sink;
use crate::model::settings::{Fastening, OwnLimits};
use crate::trade::{Cited, Friction, Profile, Source};
use crate::units::{ConsumableId, Length, Rational, ToolId, UnreadableNumber};

/// What says so where the author sets a limit.
const OWN: Source = Source::Published("the manual's own limit");

pub(super) fn fastening(f: &Fields, sink: &mut Sink) -> Fastening {
    let profiles = Profile::NAMES.map(|name| (name, Profile::named(name).unwrap_or_default()));
    let trade = f.word("trade", &profiles, |p| p.0, sink).map(|w| w.map(|p| p.1));
    let mut all = Fastening { trade, friction: friction(f, sink), ..Fastening::default() };
    let Some(f) = f.group("fastening", sink) else { return all };
    let count =
        |name, sink: &mut Sink| f.value(name, "write a whole number, for example `3`", count, sink).map(|n| n.value);
    let (least, most, washers) =
        (count("threads-past-nut", sink), count("most-threads-past-nut", sink), count("most-washers", sink));
    all.own = OwnLimits {
        threads_past: least.map(|n| Cited::new(n, OWN)),
        most_threads_past: most.map(|n| Cited::new(n, OWN)),
        washers: washers.map(|n| Cited::new(usize::try_from(n).unwrap_or(0), OWN)),
        thread_in_hole: f.length("thread-in-hole", sink).map(|length| Cited::new(length.value, OWN)),
    };
    let spacing = &mut all.spacing;
    for (name, to) in [
        ("edge", &mut spacing.edge),
        ("flush-edge", &mut spacing.flush_edge),
        ("pitch", &mut spacing.pitch),
        ("rows", &mut spacing.rows),
    ] {
        let Some(text) = f.text(name, sink) else { continue };
        if let Some(n) = value(&text, "write a number of diameters, for example `2.5`", diameters, sink) {
            *to = Cited::new(n, OWN);
        }
    }
    all.deburr_with = f.text("deburr-with", sink).map(|t| t.map(ToolId::new));
    all.seal_with = f.texts("seal-with", sink).into_iter().map(|t| t.map(ConsumableId::new)).collect();
    all.prime_with = f.text("prime-with", sink).map(|t| t.map(ConsumableId::new));
    all
}

fn friction(f: &Fields, sink: &mut Sink) -> Friction {
    let mut all = Friction::default();
    let Some(f) = f.group("friction", sink) else { return all };
    for (name, to) in [("dry", &mut all.dry), ("greased", &mut all.greased), ("stainless", &mut all.stainless)] {
        if let Some(range) = f.value(name, "write lowest and highest, for example `0.14..0.24`", coefficients, sink) {
            *to = Cited::new(range.value, OWN);
        }
    }
    all
}

/// Lowest and highest friction, `0.14..0.24`.
fn coefficients(text: &str) -> Result<(Rational, Rational), UnreadableNumber> {
    let unreadable = || UnreadableNumber(format!("`{}` is not a range of friction", text.trim()));
    let number = |text: &str| {
        let plain = text.trim().bytes().all(|b| b.is_ascii_digit() || b == b'.');
        let read = Length::parse(text.trim()).ok().map(Length::as_inches).filter(|_| plain);
        read.filter(|n| *n >= Rational::new(1, 100) && *n <= Rational::from_integer(1))
    };
    let (least, most) = text.split_once("..").ok_or_else(unreadable)?;
    let range = number(least).zip(number(most)).filter(|(least, most)| least <= most);
    range.ok_or_else(unreadable)
}

fn count(text: &str) -> Result<i64, UnreadableNumber> {
    text.trim()
        .parse()
        .ok()
        .filter(|n| (0..=20).contains(n))
        .ok_or_else(|| UnreadableNumber(format!("`{}` is not a count from 0 to 20", text.trim())))
}

fn diameters(text: &str) -> Result<Rational, UnreadableNumber> {
    let plain = text.trim().bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b' ' | b'/'));
    let number = Length::parse(text)
        .ok()
        .map(Length::as_inches)
        .filter(|n| plain && *n >= Rational::from_integer(1) && *n <= Rational::from_integer(50));
    number.ok_or_else(|| UnreadableNumber(format!("`{}` is not a number of diameters from 1 to 50", text.trim())))
}
