//! Chains: the runs of slabs that stay together, and what a page needs to know of each.
//!
//! Owns: where a page may break, and which text works from which figure. Must not know: pages.

use std::ops::Range;

use super::{Area, PlanPlace, SIZES, at_size};
use crate::layout::slab::Slab;

/// Slabs that belong on one page, so far as one can hold them.
#[derive(Clone, Debug)]
pub struct Chain {
    pub slabs: Range<usize>,
    /// For a picture that may come later than its place: its number among the pictures.
    pub picture: Option<usize>,
    /// Among these pictures are those that its text works from.
    pub led_by: Range<usize>,
    /// Its share of the text that works from them.
    pub share: f64,
    /// Safety messages that only part from those before where a page would stay half empty.
    pub glued: bool,
    /// It goes on with a table or a paragraph that began before it.
    pub goes_on: bool,
    /// Another item of a list.
    pub item: bool,
    /// What is signed or written down, or holds a picture in its place: no picture that came before comes after it.
    pub hold: bool,
    /// Without the gap above: what is fixed, and the gaps inside, at each size.
    heights: [(f64, f64); SIZES + 1],
}

impl Chain {
    /// Height at a size with a share of the gaps kept, without the gap above it.
    pub fn height(&self, size: usize, gaps: f64) -> f64 {
        let (fixed, inner) = self.heights[size];
        fixed + inner * gaps
    }
}

/// A picture that may come later than its place.
#[derive(Clone, Debug)]
pub struct Picture {
    pub chain: usize,
    /// A figure: the text that comes next works from it.
    pub leads: bool,
    /// How many smaller sizes it has.
    pub sizes: usize,
}

#[derive(Debug)]
pub struct Chains<'a> {
    pub slabs: &'a [Slab],
    pub all: Vec<Chain>,
    pub pictures: Vec<Picture>,
    /// The height of all that comes from a chain on.
    rest: Vec<f64>,
}

impl<'a> Chains<'a> {
    pub fn of(slabs: &'a [Slab], area: Area) -> Self {
        let mut all: Vec<Chain> = Vec::new();
        let mut pictures = Vec::new();
        let mut from = 0;
        while from < slabs.len() {
            let (to, parts) = end(slabs, from, area);
            let first = &slabs[from];
            let inside = &slabs[from..to];
            let picture = first.float.then_some(pictures.len());
            if first.float {
                let sizes = inside.iter().map(|s| s.smaller.len()).max().unwrap_or(0);
                pictures.push(Picture { chain: all.len(), leads: inside.iter().any(|s| s.leads), sizes });
            }
            all.push(Chain {
                slabs: from..to,
                picture,
                led_by: 0..0,
                share: 0.0,
                glued: parts && from > 0 && slabs[from - 1].keep,
                goes_on: first.head.is_some() || (from > 0 && first.before == 0.0 && !slabs[from - 1].float),
                item: first.item,
                hold: picture.is_none() && (first.hold || inside.iter().any(|s| s.float)),
                heights: std::array::from_fn(|size| {
                    let gaps: f64 = inside.iter().skip(1).map(|s| at_size(s, size).before).sum();
                    (inside.iter().map(|s| at_size(s, size).height).sum(), gaps)
                }),
            });
            from = to;
        }
        lead(&mut all, &pictures);
        let mut rest = vec![0.0; all.len() + 1];
        for i in (0..all.len()).rev() {
            rest[i] = rest[i + 1] + all[i].height(0, 1.0) + slabs[all[i].slabs.start].before;
        }
        rest.iter_mut().for_each(|height| *height /= area.height());
        Self { slabs, all, pictures, rest }
    }

    /// How many pages all that comes from a chain on fills, about.
    pub fn rest(&self, chain: usize) -> f64 {
        self.rest[chain]
    }

    /// Whether pictures that came before a place are still to be set.
    pub fn waiting(&self, (chain, picture): PlanPlace) -> bool {
        self.pictures.get(picture).is_some_and(|p| p.chain < chain)
    }
}

/// Where a chain ends, and whether it is one of safety messages that may part from their kind. One that no page can hold ends
/// at the last place that is kept so only where there is room, if a page can hold what comes before.
fn end(slabs: &[Slab], from: usize, area: Area) -> (usize, bool) {
    let mut at = from;
    let mut high = slabs[from].height;
    let mut soft = None;
    while slabs[at].keep && at + 1 < slabs.len() {
        if slabs[at].message && slabs[at + 1].message {
            return (at + 1, slabs[from].message);
        }
        if slabs[at].soft && high <= area.height() {
            soft = Some(at + 1);
        }
        at += 1;
        high += slabs[at].before + slabs[at].height;
    }
    (soft.filter(|_| high > area.height()).unwrap_or(at + 1), slabs[from].message)
}

/// Finds for each text the figures it works from: those right before it, up to what is signed or the next figures.
fn lead(all: &mut [Chain], pictures: &[Picture]) {
    let mut run = 0..0;
    let mut at = 0;
    while at < all.len() {
        if let Some(picture) = all[at].picture {
            if pictures[picture].leads {
                let goes_on = at > 0 && all[at - 1].picture.is_some() && run.end == picture;
                run = if goes_on { run.start..picture + 1 } else { picture..picture + 1 };
            }
            at += 1;
            continue;
        }
        if all[at].hold {
            run = 0..0;
        }
        let to = (at..all.len()).find(|&i| all[i].picture.is_some() || all[i].hold).unwrap_or(all.len()).max(at + 1);
        let height: f64 = all[at..to].iter().map(|c| c.height(0, 1.0)).sum();
        for chain in &mut all[at..to] {
            chain.led_by = run.clone();
            chain.share = if height > 0.0 { chain.height(0, 1.0) / height } else { 0.0 };
        }
        at = to;
    }
}
