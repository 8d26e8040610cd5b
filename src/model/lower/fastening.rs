//! `fastening` of `manual.yaml`: the limits that joints and holes are held against.

use super::fields::{Fields, Key, key, value};
use crate::diag::Sink;
use crate::model::settings::Fastening;
use crate::trade::{Cited, Source};
use crate::units::{ConsumableId, Length, Rational, ToolId, Unreadable};

pub(super) const FASTENING_KEYS: &[Key] = &[
    key("threads-past-nut", "least threads past the nut; 1"),
    key("most-threads-past-nut", "most threads past the nut; 3"),
    key("most-washers", "most washers under head and nut together; 3"),
    key("thread-in-hole", "how far a thread may reach into the hole; 0"),
    key("edge", "least distance from hole to edge, in diameters; 2"),
    key("flush-edge", "the same for flush heads; 2.5"),
    key("pitch", "least distance from hole to hole, in diameters; 3"),
    key("rows", "least distance between the holes of two rows, in diameters; 2.5"),
    key("deburr-with", "a tool: a step that names it deburrs the holes it drills"),
    key("prime-with", "a consumable: a step that names it primes the holes it drills; then every hole is to be primed"),
    key(
        "seal-with",
        "consumables that keep unlike metals apart; else those with `seal`, `primer`, `jointing` or `barrier` in their titles",
    ),
];

/// What says so where the author sets a limit.
const OWN: Source = Source::Published("the manual's own limit");

pub(super) fn fastening(f: &Fields, sink: &mut Sink) -> Fastening {
    let mut all = Fastening::default();
    let Some(node) = f.get("fastening") else { return all };
    let f = Fields::new(node, "`fastening`", FASTENING_KEYS, sink);
    let count =
        |name, sink: &mut Sink| f.value(name, "write a whole number, for example `3`", count, sink).map(|n| n.value);
    let (least, most, washers) =
        (count("threads-past-nut", sink), count("most-threads-past-nut", sink), count("most-washers", sink));
    if let Some(n) = least {
        all.fit.threads_past = Cited::new(n, OWN);
    }
    if let Some(n) = most {
        all.fit.most_threads_past = Cited::new(n, OWN);
    }
    if let Some(n) = washers {
        all.fit.washers = Cited::new(usize::try_from(n).unwrap_or(0), OWN);
    }
    if let Some(length) = f.length("thread-in-hole", sink) {
        all.fit.thread_in_hole = Cited::new(length.value, OWN);
    }
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

fn count(text: &str) -> Result<i64, Unreadable> {
    text.trim()
        .parse()
        .ok()
        .filter(|n| (0..=20).contains(n))
        .ok_or_else(|| Unreadable(format!("`{}` is not a count from 0 to 20", text.trim())))
}

fn diameters(text: &str) -> Result<Rational, Unreadable> {
    let plain = text.trim().bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b' ' | b'/'));
    let number = Length::parse(text)
        .ok()
        .map(Length::as_inches)
        .filter(|n| plain && *n >= Rational::from_integer(1) && *n <= Rational::from_integer(50));
    number.ok_or_else(|| Unreadable(format!("`{}` is not a number of diameters from 1 to 50", text.trim())))
}
