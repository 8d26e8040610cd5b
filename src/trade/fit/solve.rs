//! Which bolt of a series fits a stack, and with which washers: every dash and every set of washers is tried.

use super::FitRules;
use super::judge::{Clamp, FaultKind, Fit, Shank, Unusable, judge};
use crate::trade::{Cited, Decoded, decode};
use crate::units::{Length, Rational, natural_cmp};

/// A bolt to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoltChoice {
    pub designation: String,
    pub shank: Shank,
    /// Already in the manual: it is offered first.
    pub at_hand: bool,
}

/// A washer to choose from, as many as are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WasherChoice {
    pub designation: String,
    pub thickness: Cited<Length>,
    /// Already in the manual: it is offered first.
    pub at_hand: bool,
}

/// A bolt with washers that meets the rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    pub bolt: String,
    pub under_head: Vec<String>,
    pub under_nut: Vec<String>,
    pub fit: Fit,
    /// The least distance to any limit of the rules, inches.
    pub margin: Rational,
    /// Everything in it is already in the manual.
    pub at_hand: bool,
}

impl Solution {
    /// The solution in words: "AN4-12A, AN960-416 under the nut".
    pub fn words(&self) -> String {
        let mut text = self.bolt.clone();
        for (washers, place) in [(&self.under_head, "head"), (&self.under_nut, "nut")] {
            let mut rest = washers.as_slice();
            let mut parts = Vec::new();
            while let Some(first) = rest.first() {
                let same = rest.iter().take_while(|washer| *washer == first).count();
                parts.push(if same > 1 { format!("{same} x {first}") } else { first.clone() });
                rest = &rest[same..];
            }
            if !parts.is_empty() {
                text.push_str(&format!(", {} under the {place}", parts.join(" and ")));
            }
        }
        text
    }
}

/// Preferred lengths of metric bolts and screws, millimetres (ISO 888, from memory; checked against a general-purpose
/// library).
const METRIC_LENGTHS: [u32; 33] = [
    6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200,
    220, 240, 260, 280, 300, 320,
];

/// The metric bolts of the same standard, thread and material: `ISO 4014 M6x30 8.8` with every preferred length.
fn metric_like(bolt: &Decoded) -> Option<Vec<Decoded>> {
    let (standard, rest) = bolt.designation.strip_prefix("ISO ")?.split_once(' ')?;
    let (size, grade) = rest.split_once(' ').map_or((rest, String::new()), |(size, grade)| (size, format!(" {grade}")));
    let (thread, _) = size.rsplit_once('x')?;
    let lengths = METRIC_LENGTHS.into_iter().filter_map(|n| decode(&format!("ISO {standard} {thread}x{n}{grade}")));
    Some(lengths.filter(|other| Shank::of(other).is_some()).collect())
}

/// The bolts of the same series, material and holes as `bolt`, shortest first.
pub fn bolts_like(bolt: &Decoded) -> Vec<Decoded> {
    if let Some(metric) = metric_like(bolt) {
        return metric;
    }
    let Some(dash) = bolt.designation.rfind('-') else { return Vec::new() };
    let (lead, rest) = bolt.designation.split_at(dash + 1);
    let end = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    (1..=99)
        .filter_map(|dash| decode(&format!("{lead}{dash}{end}")))
        .filter(|other| Shank::of(other).is_some())
        .collect()
}

/// Every bolt with every set of washers that meets the rules: first what is at hand, then by the largest margin,
/// then by the fewest washers. Under the head and under the nut are different places.
///
/// # Errors
/// A stack, nut or choice whose length is not positive or out of all proportion.
pub fn solve(
    bolts: &[BoltChoice],
    washers: &[WasherChoice],
    stack: Cited<Length>,
    nut_height: Option<Cited<Length>>,
    rules: &FitRules,
) -> Result<Vec<Solution>, Unusable> {
    let sets = washer_sets(washers.len(), rules.washers.value.min(MOST_WASHERS));
    let thickest = washers.iter().map(|w| w.thickness.value).max().unwrap_or(Length::ZERO);
    let filled = thickest * rules.washers.value.min(MOST_WASHERS) as i64 + rules.rounding;
    let mut found = Vec::new();
    for bolt in bolts {
        let bare = Clamp { stack, under_head: Vec::new(), under_nut: Vec::new(), nut_height };
        let bare = judge(&bolt.shank, &bare, rules)?;
        // Washers can't make up for a grip that is too short, nor for more than they are thick together.
        let too_short = bare.faults.iter().any(|fault| fault.kind == FaultKind::ThreadInHole);
        if too_short || bare.margins.nut.is_some_and(|nut| nut.value + filled < Length::ZERO) {
            continue;
        }
        for head in &sets {
            for nut in &sets {
                if head.len() + nut.len() > rules.washers.value {
                    continue;
                }
                let thickness = |set: &[usize]| set.iter().map(|&i| washers[i].thickness).collect();
                let clamp = Clamp { stack, under_head: thickness(head), under_nut: thickness(nut), nut_height };
                let fit = judge(&bolt.shank, &clamp, rules)?;
                if !fit.faults.is_empty() {
                    continue;
                }
                let names = |set: &[usize]| set.iter().map(|&i| washers[i].designation.clone()).collect();
                found.push(Solution {
                    bolt: bolt.designation.clone(),
                    under_head: names(head),
                    under_nut: names(nut),
                    margin: margin(&fit, &bolt.shank, rules),
                    at_hand: bolt.at_hand && head.iter().chain(nut).all(|&i| washers[i].at_hand),
                    fit,
                });
            }
        }
    }
    found.sort_by(|a, b| {
        let washers = |s: &Solution| s.under_head.len() + s.under_nut.len();
        b.at_hand
            .cmp(&a.at_hand)
            .then_with(|| b.margin.cmp(&a.margin))
            .then_with(|| washers(a).cmp(&washers(b)))
            .then_with(|| natural_cmp(&a.bolt, &b.bolt))
            .then_with(|| a.under_head.cmp(&b.under_head))
            .then_with(|| a.under_nut.cmp(&b.under_nut))
    });
    Ok(found)
}

/// One solution for each bolt, in the order of `found`: with what is at hand, then with the fewest washers.
pub fn each_bolt(found: &[Solution]) -> Vec<&Solution> {
    let mut bolts: Vec<&Solution> = Vec::new();
    let better = |s: &Solution| (!s.at_hand, s.under_head.len() + s.under_nut.len());
    for solution in found {
        match bolts.iter_mut().find(|b| b.bolt == solution.bolt) {
            Some(best) if better(solution) < better(best) => *best = solution,
            Some(_) => {}
            None => bolts.push(solution),
        }
    }
    bolts
}

/// More washers than this are not tried, whatever the rules allow: the sets would grow without end.
const MOST_WASHERS: usize = 4;

/// Every set of up to `most` washers out of `kinds`, as ascending indices; a kind may stand more than once.
fn washer_sets(kinds: usize, most: usize) -> Vec<Vec<usize>> {
    let mut sets = vec![Vec::new()];
    let mut from = 0;
    for _ in 0..most {
        let to = sets.len();
        for at in from..to {
            let least = sets[at].last().copied().unwrap_or(0);
            for kind in least..kinds {
                let mut set = sets[at].clone();
                set.push(kind);
                sets.push(set);
            }
        }
        from = to;
    }
    sets
}

/// The least distance to a limit, inches.
fn margin(fit: &Fit, shank: &Shank, rules: &FitRules) -> Rational {
    let mut limits = Vec::new();
    if let (Some(hole), Some(nut)) = (fit.margins.hole, fit.margins.nut) {
        limits.push(hole.value.as_inches() + rules.thread_in_hole.value.as_inches());
        limits.push(nut.value.as_inches());
    }
    if let Some(past) = fit.margins.past_nut {
        let pitch = shank.pitch.value.as_inches();
        let past = past.value.as_inches();
        limits.push(past - pitch * rules.threads_past.value);
        limits.push(pitch * rules.most_threads_past.value - past);
    }
    limits.into_iter().min().unwrap_or(Rational::from_integer(0))
}
