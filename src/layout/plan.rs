//! Where the pages of a leaf break, decided on heights alone: several ways are tried and the best-looking is taken.
//!
//! Owns: what looks best. Must not know: what slabs show, leaves, furniture.

use std::collections::VecDeque;
use std::ops::Range;

use super::slab::Slab;

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
    /// How badly it looks: a page counts 1.
    pub cost: f64,
}

/// The smallest size a figure is offered in.
const SIZES: usize = 3;
/// The share of a page that may stay empty at its foot and not be seen as a hole.
const NO_HOLE: f64 = 0.12;
/// The least share of a page that is worth filling with what follows a figure that does not fit.
const WORTH_FILLING: f64 = 0.08;
/// The share of a page that is not left empty for the sake of a somewhat larger figure.
const MUCH_LEFT: f64 = 0.35;
/// A last page with less than this share of it filled looks like an accident.
const LEAST_LAST: f64 = 0.16;

/// How badly it looks that a figure stands behind the text that it belongs before.
const APART: f64 = 0.1;

/// What is done with a figure that does not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Floats {
    /// It goes to the next page, and what follows goes with it.
    Stay,
    /// What follows fills the page first.
    Wait,
}

/// What is tried: whether figures wait, their size, how much of the gaps is kept, and by how much of a page all pages
/// but the last are cut short, so that the last one is not nearly empty.
#[derive(Clone, Copy, Debug)]
struct Way {
    floats: Floats,
    size: usize,
    gaps: f64,
    trim: f64,
}

/// The best way to set slabs from a place on.
pub fn plan(slabs: &[Slab], start: Start, area: Area) -> Plan {
    let sizes = if slabs.iter().any(|s| !s.smaller.is_empty()) { SIZES } else { 0 };
    let floats: &[Floats] = if slabs.iter().any(|s| s.float) { &[Floats::Stay, Floats::Wait] } else { &[Floats::Stay] };
    let mut best = set(slabs, start, area, Way { floats: Floats::Stay, size: 0, gaps: 1.0, trim: 0.0 });
    // Nothing to gain where nothing breaks.
    if best.breaks == 0 {
        return best;
    }
    for &floats in floats {
        for size in 0..=sizes {
            for (gaps, trim) in [(1.0, 0.0), (0.78, 0.0), (1.0, 0.1), (1.0, 0.2)] {
                let made = set(slabs, start, area, Way { floats, size, gaps, trim });
                if made.cost < best.cost - 1e-9 {
                    best = made;
                }
            }
        }
    }
    best
}

fn set(slabs: &[Slab], start: Start, area: Area, way: Way) -> Plan {
    let mut setter = Setter {
        slabs,
        area,
        bottom: area.bottom - area.height() * way.trim,
        way,
        y: start.y,
        fresh: start.fresh,
        moves: Vec::with_capacity(slabs.len() + 4),
        breaks: 0,
        cost: (1.0 - way.gaps) * 0.2 + way.trim * 0.1,
        waiting: VecDeque::new(),
        left_behind: false,
    };
    setter.all();
    let filled = (setter.y - area.top) / area.height();
    let mut cost = setter.cost + setter.breaks as f64;
    if setter.breaks > 0 && filled < LEAST_LAST {
        cost += 0.5 * (LEAST_LAST - filled) / LEAST_LAST;
    }
    Plan { moves: setter.moves, breaks: setter.breaks, cost }
}

struct Setter<'a> {
    slabs: &'a [Slab],
    area: Area,
    bottom: f64,
    way: Way,
    y: f64,
    fresh: bool,
    moves: Vec<Move>,
    breaks: usize,
    cost: f64,
    /// Figures that did not fit where they came; what follows goes on before them.
    waiting: VecDeque<Range<usize>>,
    /// The page on which the first of them came is full.
    left_behind: bool,
}

impl Setter<'_> {
    fn all(&mut self) {
        let mut from = 0;
        while from < self.slabs.len() {
            let chain = from..chain_end(self.slabs, from);
            from = chain.end;
            let first = &self.slabs[chain.start];
            if first.float {
                let waits = !self.waiting.is_empty();
                if waits || !self.put_if_fits(&chain) {
                    if waits || (self.way.floats == Floats::Wait && self.left() > WORTH_FILLING) {
                        self.cost += APART;
                        self.waiting.push_back(chain);
                    } else {
                        self.page();
                        self.put(&chain, self.way.size);
                    }
                }
                continue;
            }
            // What is signed or measured comes after all that is shown.
            if first.hold {
                self.flush();
            } else if self.left_behind && !self.goes_on(chain.start) {
                self.flush_fitting();
            }
            self.text(chain);
        }
        self.flush();
    }

    /// Slabs that belong together: here, on the next page, or, where no page holds them, over several.
    fn text(&mut self, chain: Range<usize>) {
        if self.put_if_fits(&chain) {
            return;
        }
        if let Some(at) = self.parting(&chain) {
            self.text(chain.start..at);
            self.text(at..chain.end);
            return;
        }
        if !self.fresh {
            // A table or a paragraph that is parted looks a little worse than one that is not.
            self.cost += if self.goes_on(chain.start) { 0.05 } else { 0.0 };
            self.page();
            if self.left_behind && !self.goes_on(chain.start) {
                self.flush_fitting();
                if self.put_if_fits(&chain) {
                    return;
                }
                if !self.fresh {
                    self.page();
                }
            }
        }
        self.put(&chain, self.way.size);
    }

    fn put_if_fits(&mut self, chain: &Range<usize>) -> bool {
        let gap = if self.fresh { 0.0 } else { self.slabs[chain.start].before * self.way.gaps };
        // A little smaller is fine where it then fits; a drawing to work from is not made small for that alone.
        let most = if self.left() > MUCH_LEFT { self.way.size + 2 } else { self.way.size + 1 };
        let head = self.head(chain.start);
        let fitting = (self.way.size..=most.min(SIZES)).find(|&size| self.y + gap + head + self.height(chain, size) <= self.bottom + 0.01);
        if let Some(size) = fitting {
            self.put(chain, size);
        }
        fitting.is_some()
    }

    fn put(&mut self, chain: &Range<usize>, size: usize) {
        for i in chain.clone() {
            let slab = at_size(&self.slabs[i], size);
            let gap = if self.fresh { 0.0 } else { slab.before * self.way.gaps };
            if !self.fresh && self.y + gap + slab.height > self.area.bottom + 0.01 {
                self.page();
            }
            let gap = if self.fresh { 0.0 } else { gap };
            let head = self.head(i);
            if head > 0.0 {
                self.moves.push(Move::Head { slab: i });
                self.y += head;
            }
            let taken = size.min(self.slabs[i].smaller.len());
            if self.slabs[i].float {
                self.cost += 0.06 * taken as f64;
            }
            self.moves.push(Move::Put { slab: i, size: taken, gap });
            self.y += gap + slab.height;
            self.fresh = false;
        }
    }

    /// Height of the head that is set again above a slab at the top of a page; 0 for none.
    fn head(&self, slab: usize) -> f64 {
        let slab = &self.slabs[slab];
        match &slab.head {
            Some(head) if self.fresh && self.area.top + head.height + slab.height <= self.area.bottom + 0.01 => head.height,
            _ => 0.0,
        }
    }

    /// Whether a slab goes on with a table or a paragraph that began before it.
    fn goes_on(&self, slab: usize) -> bool {
        self.slabs[slab].head.is_some() || (slab > 0 && self.slabs[slab].before == 0.0 && !self.slabs[slab - 1].float)
    }

    /// Puts the waiting figures so far as they fit on this page.
    fn flush_fitting(&mut self) {
        while let Some(chain) = self.waiting.pop_front() {
            if self.put_if_fits(&chain) {
                continue;
            }
            if self.fresh {
                self.put(&chain, self.way.size);
                continue;
            }
            self.waiting.push_front(chain);
            return;
        }
        self.left_behind = false;
    }

    fn flush(&mut self) {
        self.flush_fitting();
        while !self.waiting.is_empty() {
            self.page();
            self.flush_fitting();
        }
    }

    /// Where a chain may be parted between two safety messages so that its first part fits here: only where moving
    /// it whole would leave much of the page empty.
    fn parting(&self, chain: &Range<usize>) -> Option<usize> {
        if self.fresh || self.left() < MUCH_LEFT {
            return None;
        }
        let is_message = |i: usize| self.slabs[i].message;
        (chain.start + 1..chain.end).rev().filter(|&at| is_message(at - 1) && is_message(at)).find(|&at| {
            let first = chain.start..at;
            self.y + self.slabs[chain.start].before * self.way.gaps + self.height(&first, self.way.size) <= self.bottom + 0.01
        })
    }

    /// Height of a chain at a size, without the gap above it.
    fn height(&self, chain: &Range<usize>, size: usize) -> f64 {
        let slab = |i: usize| at_size(&self.slabs[i], size);
        chain.clone().map(|i| slab(i).height + if i == chain.start { 0.0 } else { slab(i).before * self.way.gaps }).sum()
    }

    /// The share of the page that is left.
    fn left(&self) -> f64 {
        (self.bottom - self.y) / self.area.height()
    }

    fn page(&mut self) {
        let hole = (self.area.bottom - self.y) / self.area.height();
        self.cost += (hole - NO_HOLE).max(0.0) * 0.8;
        self.moves.push(Move::Page);
        self.breaks += 1;
        self.y = self.area.top;
        self.fresh = true;
        self.left_behind = !self.waiting.is_empty();
    }
}

fn chain_end(slabs: &[Slab], from: usize) -> usize {
    let kept = slabs[from..].iter().take_while(|s| s.keep).count();
    (from + kept + 1).min(slabs.len())
}

/// A slab at a size: the smallest it has where it has none so small.
pub fn at_size(slab: &Slab, size: usize) -> &Slab {
    match size.min(slab.smaller.len()) {
        0 => slab,
        n => &slab.smaller[n - 1],
    }
}
