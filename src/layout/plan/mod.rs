//! Where the pages of a leaf break, decided on heights alone: of all ways to fill its pages the best-looking is taken.
//!
//! A way is a chain of pages, and how good the rest can be depends only on where a page begins: at which piece, and at
//! which figure. So the best way to each such place is kept, and pages are filled from it.
//!
//! Owns: what looks best. Must not know: what slabs show, leaves, furniture.

mod chain;
mod page;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use super::slab::Slab;
use chain::Chains;
use page::{Filler, Way};

/// The text area of a page: top and bottom edge in points.
#[derive(Clone, Copy, Debug)]
pub struct Area {
    pub top: f64,
    pub bottom: f64,
}

impl Area {
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }
}

/// Where a leaf begins: points from the page's top edge, and whether nothing stands above it.
#[derive(Clone, Copy, Debug)]
pub struct Start {
    pub y: f64,
    pub fresh: bool,
}

/// A step of filling pages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Move {
    /// To the top of the next page.
    Page,
    /// The slab at a size (0 full, each more is smaller), with a gap above.
    Put { slab: usize, size: usize, gap: f64 },
    /// The head of the slab's table again.
    Head { slab: usize },
}

/// A way to set a leaf.
#[derive(Clone, Debug)]
pub struct Plan {
    pub moves: Vec<Move>,
    /// How often it breaks over a page.
    pub breaks: usize,
    /// Where it ends on its last page, in points from the page's top edge.
    pub end: f64,
}

/// The smallest size a figure is offered in.
const SIZES: usize = 2;
/// The share of the gaps that is kept where that saves a page.
const TIGHT: f64 = 0.78;
/// A last page with less than this share of it filled looks like an accident.
const LEAST_LAST: f64 = 0.16;

/// A place where a page begins: the next chain, and the next figure, which may have been passed already.
type PlanPlace = (usize, usize);

/// The best way found to a place.
#[derive(Clone, Copy, Debug)]
struct Reached {
    /// How badly it looks so far: a page counts 1.
    cost: f64,
    breaks: usize,
    /// The last move made.
    last: Option<usize>,
}

/// The best way found to the end.
#[derive(Clone, Copy, Debug)]
struct Ended {
    way: Reached,
    y: f64,
}

/// The best way to set slabs from a place on.
pub fn plan(slabs: &[Slab], start: Start, area: Area) -> Plan {
    let chains = Chains::of(slabs, area);
    let mut search =
        Search { chains: &chains, area, moves: Vec::with_capacity(slabs.len() + 4), open: BTreeMap::new(), best: None };
    let begin = Reached { cost: 0.0, breaks: 0, last: None };
    search.pages_from((0, 0), begin, start);
    while let Some((place, reached)) = search.open.pop_first() {
        search.pages_from(place, reached, Start { y: area.top, fresh: true });
    }
    search.best.map_or_else(|| Plan { moves: Vec::new(), breaks: 0, end: start.y }, |ended| search.walked(ended))
}

struct Search<'a> {
    chains: &'a Chains<'a>,
    area: Area,
    /// Every move made on any way, with the one before it.
    moves: Vec<(Move, Option<usize>)>,
    /// Places reached and not yet gone on from; none is reached again once it was left, for pages only go forward.
    open: BTreeMap<PlanPlace, Reached>,
    best: Option<Ended>,
}

impl Search<'_> {
    /// Fills the next page in each way that may pay.
    fn pages_from(&mut self, place: PlanPlace, reached: Reached, start: Start) {
        if self.best.is_some_and(|best| best.way.cost <= reached.cost) {
            return;
        }
        let waits = self.chains.waiting(place);
        for gaps in [1.0, TIGHT] {
            for size in 0..=SIZES {
                let mut pictures = false;
                for later in [false, true] {
                    if later && !waits {
                        continue;
                    }
                    let filler = Filler::new(self, place, reached, start, Way { size, gaps, later });
                    pictures |= filler.fill();
                }
                if self.best.is_some_and(|best| best.way.breaks == 0) {
                    return;
                }
                if !pictures {
                    break;
                }
            }
        }
    }

    fn step(&mut self, made: Move, before: Option<usize>) -> usize {
        self.moves.push((made, before));
        self.moves.len() - 1
    }

    /// A page that ends before a place.
    fn reach(&mut self, place: PlanPlace, mut way: Reached) {
        if self.best.is_some_and(|best| best.way.cost <= way.cost)
            || self.open.get(&place).is_some_and(|there| there.cost <= way.cost + 1e-9)
        {
            return;
        }
        way.last = Some(self.step(Move::Page, way.last));
        self.open.insert(place, way);
    }

    fn end(&mut self, mut way: Reached, y: f64) {
        let filled = (y - self.area.top) / self.area.height();
        if way.breaks > 0 && filled < LEAST_LAST {
            way.cost += 0.5 * (LEAST_LAST - filled) / LEAST_LAST;
        }
        if self.best.is_none_or(|best| way.cost < best.way.cost - 1e-9) {
            self.best = Some(Ended { way, y });
        }
    }

    fn walked(&self, ended: Ended) -> Plan {
        let mut moves = Vec::new();
        let mut at = ended.way.last;
        while let Some((made, before)) = at.map(|i| self.moves[i]) {
            moves.push(made);
            at = before;
        }
        moves.reverse();
        Plan { moves, breaks: ended.way.breaks, end: ended.y }
    }
}

/// A slab at a size: the smallest it has where it has none so small.
pub fn at_size(slab: &Slab, size: usize) -> &Slab {
    match size.min(slab.smaller.len()) {
        0 => slab,
        n => &slab.smaller[n - 1],
    }
}
