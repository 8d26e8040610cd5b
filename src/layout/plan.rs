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
    /// Where it ends on its last page, in points from the page's top edge.
    pub end: f64,
}

/// The smallest size a figure is offered in.
const SIZES: usize = 2;
/// The share of a page that may stay empty at its foot and not be seen as a hole.
const NO_HOLE: f64 = 0.12;
/// The least share of a page that is worth filling with what follows a figure that does not fit.
const WORTH_FILLING: f64 = 0.08;
/// The share of a page that is not left empty for the sake of a somewhat larger figure.
const MUCH_LEFT: f64 = 0.35;
/// A last page with less than this share of it filled looks like an accident.
const LEAST_LAST: f64 = 0.16;

/// How bad it is that a figure stands behind the text that it belongs before, or that its text begins overleaf: a page
/// turned for every action. Worse than a foot left empty, which is the same paper where the leaf's last page has room;
/// better than a page more.
const APART: f64 = 0.3;
/// The same of a drawing whose values stand in the table before it.
const BEHIND: f64 = 0.1;

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
        under_figure: false,
    };
    setter.all();
    let filled = (setter.y - area.top) / area.height();
    let mut cost = setter.cost + setter.breaks as f64;
    if setter.breaks > 0 && filled < LEAST_LAST {
        cost += 0.5 * (LEAST_LAST - filled) / LEAST_LAST;
    }
    Plan { moves: setter.moves, breaks: setter.breaks, cost, end: setter.y }
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
    /// What was put last is a figure, and its text comes next.
    under_figure: bool,
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
                        let cost = if self.leads(&chain) { APART } else { BEHIND };
                        self.cost += if waits { cost / 3.0 } else { cost };
                        self.waiting.push_back(chain);
                    } else {
                        self.page();
                        self.put(&chain, self.way.size);
                    }
                }
                continue;
            }
            // What is signed or measured comes after all that is shown, and pictures keep their order.
            if first.hold || self.slabs[chain.clone()].iter().any(|s| s.float) {
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
            if self.under_figure && !self.slabs[chain.start].hold {
                self.cost += APART;
            }
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
        self.under_figure = self.leads(chain);
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

    /// Whether it is a figure whose text comes next.
    fn leads(&self, chain: &Range<usize>) -> bool {
        self.slabs[chain.clone()].iter().any(|s| s.leads)
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const AREA: Area = Area { top: 50.0, bottom: 750.0 };

    fn slab(height: f64, before: f64) -> Slab {
        Slab { height, before, ..Slab::default() }
    }

    fn figure(height: f64) -> Slab {
        let smaller = [0.86, 0.74].map(|s| slab(height * s, 12.0)).to_vec();
        Slab { float: true, leads: true, smaller, ..slab(height, 12.0) }
    }

    /// Page, height and size of each slab.
    fn places(slabs: &[Slab], plan: &Plan) -> Vec<(usize, f64, usize)> {
        let (mut page, mut y) = (0, AREA.top);
        let mut out = vec![(usize::MAX, 0.0, 0); slabs.len()];
        for step in &plan.moves {
            match *step {
                Move::Page => (page, y) = (page + 1, AREA.top),
                Move::Head { slab } => y += slabs[slab].head.as_ref().map_or(0.0, |h| h.height),
                Move::Put { slab, size, gap } => {
                    assert_eq!(out[slab].0, usize::MAX, "put twice");
                    out[slab] = (page, y + gap, size);
                    y += gap + at_size(&slabs[slab], size).height;
                }
            }
        }
        out
    }

    #[test]
    fn text_fills_the_page_before_a_figure_that_does_not_fit() {
        let mut slabs = vec![slab(380.0, 0.0), figure(400.0)];
        slabs.extend((0..12).map(|_| slab(24.0, 6.0)));
        slabs.push(Slab { hold: true, ..slab(40.0, 14.0) });
        let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
        assert_eq!((at[0].0, at[1].0), (0, 1));
        assert!(at[2].0 == 0 && at[9].0 == 0, "text goes on before it: {at:?}");
        assert!(at[1].1 == AREA.top, "it is the first of its page: {at:?}");
        assert!(at[14].0 == 1 && at[14].1 > at[1].1, "what is signed stays behind it: {at:?}");
    }

    /// Where the leaf takes two pages anyway, its text stands under its figure.
    #[test]
    fn a_figure_and_its_text_share_a_page_where_that_costs_none() {
        let mut slabs = vec![slab(380.0, 0.0), figure(400.0)];
        slabs.extend((0..6).map(|_| slab(24.0, 6.0)));
        slabs.push(Slab { hold: true, ..slab(40.0, 14.0) });
        let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
        assert!(at[1..].iter().all(|place| place.0 == 1), "{at:?}");
    }

    #[test]
    fn a_last_page_is_not_nearly_empty() {
        let slabs: Vec<Slab> = (0..36).map(|_| slab(20.0, 0.0)).collect();
        let at = places(&slabs, &plan(&slabs, Start { y: AREA.top, fresh: true }, AREA));
        assert!(at.iter().filter(|p| p.0 == 1).count() >= 3, "{at:?}");
    }

    proptest! {
        #[test]
        fn everything_is_set_once_in_order_and_on_its_page(
            spec in proptest::collection::vec((1.0..500.0f64, 0.0..30.0f64, 0u8..8), 1..50),
            used in 0.0..600.0f64,
        ) {
            let slabs: Vec<Slab> = spec.iter().map(|&(height, before, kind)| match kind {
                0 => figure(height),
                1 => Slab { keep: true, ..slab(height, before) },
                2 => Slab { hold: true, ..slab(height, before) },
                _ => slab(height, before),
            }).collect();
            let start = Start { y: AREA.top + used, fresh: used == 0.0 };
            let plan = plan(&slabs, start, AREA);
            let mut page = vec![(0, start.y)];
            for step in &plan.moves {
                match *step {
                    Move::Page => page.push((page.len(), AREA.top)),
                    Move::Head { .. } => prop_assert!(false, "no heads here"),
                    Move::Put { slab, size, gap } => {
                        let last = page.len() - 1;
                        page[last].1 += gap + at_size(&slabs[slab], size).height;
                        prop_assert!(page[last].1 <= AREA.bottom + 0.02);
                    }
                }
            }
            let order: Vec<usize> = plan.moves.iter().filter_map(|m| match m { Move::Put { slab, .. } => Some(*slab), _ => None }).collect();
            let mut sorted = order.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..slabs.len()).collect::<Vec<_>>());
            let text: Vec<usize> = order.iter().copied().filter(|&i| !slabs[i].float).collect();
            prop_assert!(text.is_sorted());
            let figures: Vec<usize> = order.iter().copied().filter(|&i| slabs[i].float).collect();
            prop_assert!(figures.is_sorted());
            for hold in (0..slabs.len()).filter(|&i| slabs[i].hold && (i == 0 || !slabs[i - 1].keep)) {
                let at = order.iter().position(|&i| i == hold);
                for before in (0..hold).filter(|&i| slabs[i].float) {
                    prop_assert!(order.iter().position(|&i| i == before) < at);
                }
            }
        }
    }
}
