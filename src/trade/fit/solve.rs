//! Which bolt of a series fits a stack, and with which washers: every dash and every set of washers is tried.

use super::judge::{Clamp, FaultKind, Fit, Shank, Unusable, judge};
use super::{FitRules, InHole};
use crate::trade::designation::listed;
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
    /// The least distance to any limit of the rules, inches; never negative.
    pub margin: Rational,
    /// The same where the grip comes as short or as long as its tolerance allows; may be negative.
    pub worst: Rational,
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

/// The metric bolts of the same standard, thread and material: `ISO 4014 M6x30 8.8` with every length that the standard
/// lists for the size. Where ISO 4014 begins to be too long, ISO 4017 goes on with shorter ones.
fn metric_like(bolt: &Decoded) -> Option<Vec<Decoded>> {
    let (standard, rest) = bolt.designation.strip_prefix("ISO ")?.split_once(' ')?;
    let (size, grade) = rest.split_once(' ').map_or((rest, String::new()), |(size, grade)| (size, format!(" {grade}")));
    let (thread, _) = size.rsplit_once('x')?;
    let diameter = bolt.diameter?.value.as_inches() * Rational::new(127, 5);
    let diameter = diameter.is_integer().then(|| u16::try_from(diameter.to_integer()).ok()).flatten()?;
    let of = |standard: &str| -> Vec<Decoded> {
        let lengths = listed(standard, diameter);
        let bolts = lengths.filter_map(|n| decode(&format!("ISO {standard} {thread}x{n}{grade}")));
        bolts.filter(|other| Shank::of(other).is_some()).collect()
    };
    let mut bolts = of(standard);
    if standard == "4014" {
        let shortest = bolts.first().and_then(|b| b.length).map(|l| l.value);
        let mut shorter = of("4017");
        shorter.retain(|b| shortest.is_none_or(|shortest| b.length.is_some_and(|l| l.value < shortest)));
        shorter.append(&mut bolts);
        bolts = shorter;
    }
    Some(bolts)
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

/// Whether the lengths of a series are in the tables: otherwise no bolt of it can be chosen.
pub fn lengths_known(bolt: &Decoded) -> bool {
    !bolts_like(bolt).is_empty()
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
                let margin = margin_within(&fit, &bolt.shank, rules, Length::ZERO);
                // What rounding lets pass in a joint as it is written, is not offered for a new one.
                if !fit.faults.is_empty() || margin < Rational::from_integer(0) {
                    continue;
                }
                let names = |set: &[usize]| set.iter().map(|&i| washers[i].designation.clone()).collect();
                found.push(Solution {
                    bolt: bolt.designation.clone(),
                    under_head: names(head),
                    under_nut: names(nut),
                    margin,
                    worst: margin_within(&fit, &bolt.shank, rules, bolt.shank.grip_tolerance),
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

/// The least distance to a limit, inches, where grip and parts together are off by a tolerance the worse way.
pub fn margin_within(fit: &Fit, shank: &Shank, rules: &FitRules, tolerance: Length) -> Rational {
    let mut limits = Vec::new();
    if let (Some(hole), Some(nut)) = (fit.margins.hole, fit.margins.nut) {
        if rules.in_hole == InHole::Everywhere {
            limits.push((hole.value + rules.thread_in_hole.value - tolerance).as_inches());
        }
        limits.push((nut.value - tolerance).as_inches());
    }
    if let Some(past) = fit.margins.past_nut {
        let pitch = shank.pitch.value.as_inches();
        let past = past.value.as_inches();
        limits.push(past - pitch * rules.threads_past.value);
        limits.push(pitch * rules.most_threads_past.value - past);
    }
    limits.into_iter().min().unwrap_or(Rational::from_integer(0))
}
