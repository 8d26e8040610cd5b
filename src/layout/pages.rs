//! Slabs to pages: where pages break, and where everything ends up.
//!
//! Owns: page breaking. Must not know: kinds of blocks, what furniture says.

use std::ops::Range;

use super::slab::{Flow, Slab};
use super::style::Style;
use crate::document::LeafRole;
use crate::units::StepStart;

/// A slab at its height on a page.
#[derive(Debug)]
pub struct Placed {
    pub leaf: usize,
    /// Points from the page's top edge.
    pub y: f64,
    pub slab: Slab,
}

#[derive(Debug, Default)]
pub struct Sheet {
    pub placed: Vec<Placed>,
}

/// The text area of a page: top and bottom edge in points.
#[derive(Clone, Copy, Debug)]
pub struct Area {
    pub top: f64,
    pub bottom: f64,
}

struct Breaker<'a> {
    style: &'a Style,
    area: Area,
    sheets: Vec<Sheet>,
    y: f64,
}

/// Fills pages with the leaves' slabs. The slabs are taken out of the flows.
pub fn break_pages(flows: &mut [Flow], roles: &[LeafRole], style: &Style, area: Area) -> Vec<Sheet> {
    let mut breaker = Breaker { style, area, sheets: vec![Sheet::default()], y: area.top };
    for (leaf, flow) in flows.iter_mut().enumerate() {
        let slabs = std::mem::take(&mut flow.slabs);
        breaker.leaf(leaf, roles[leaf], slabs);
    }
    breaker.sheets
}

impl Breaker<'_> {
    fn leaf(&mut self, leaf: usize, role: LeafRole, slabs: Vec<Slab>) {
        let mut slabs: Vec<Option<Slab>> = slabs.into_iter().map(Some).collect();
        let starts_page = match role {
            LeafRole::Card => false,
            LeafRole::Step => self.style.step_start == StepStart::NewPage || !self.may_start_here(&slabs),
            _ => true,
        };
        if starts_page && !self.is_fresh() {
            self.next_page();
        }
        // Figures give way as far as that saves the leaf a page.
        if role == LeafRole::Step {
            let (y, fresh) = (self.y, self.is_fresh());
            let pages: Vec<usize> = (0..=SIZES).map(|size| self.breaks_in(&slabs, size, y, fresh)).collect();
            let best = (0..=SIZES).min_by_key(|&size| pages[size]).unwrap_or(0);
            take_size(&mut slabs, best);
        }
        let mut from = 0;
        while from < slabs.len() {
            let to = chain_end(&slabs, from);
            self.chain(leaf, &mut slabs, from..to);
            from = to;
        }
    }

    /// Places slabs that belong together: on this page, on the next, or, where no page holds them, over several.
    fn chain(&mut self, leaf: usize, slabs: &mut [Option<Slab>], chain: Range<usize>) {
        let (height, gap) = measure(&slabs[chain.clone()], 0);
        if !self.fits(gap + height) && !self.is_fresh() {
            // A little smaller is fine where it then fits; a drawing to work from is not made small for that alone.
            let left = (self.area.bottom - self.y) / (self.area.bottom - self.area.top);
            let most = if left > MUCH_LEFT { 2 } else { 1 };
            let fitting = (1..=most).find(|&size| {
                let (smaller, gap) = measure(&slabs[chain.clone()], size);
                smaller < height && self.fits(gap + smaller)
            });
            match (fitting, self.parting(&slabs[chain.clone()])) {
                (Some(size), _) => take_size(&mut slabs[chain.clone()], size),
                (None, Some(at)) => {
                    self.chain(leaf, slabs, chain.start..chain.start + at);
                    self.chain(leaf, slabs, chain.start + at..chain.end);
                    return;
                }
                (None, None) => self.next_page(),
            }
        }
        for slot in &mut slabs[chain] {
            if let Some(slab) = slot.take() {
                if !self.fits(slab.height + slab.before) && !self.is_fresh() {
                    self.next_page();
                }
                self.place(leaf, slab);
            }
        }
    }

    /// Where a chain may be parted between two safety messages so that its first part fits here: only where moving
    /// it whole would leave much of the page empty.
    fn parting(&self, chain: &[Option<Slab>]) -> Option<usize> {
        if self.area.bottom - self.y < (self.area.bottom - self.area.top) * 0.35 {
            return None;
        }
        let is_message = |i: usize| chain[i].as_ref().is_some_and(|s| s.message);
        (1..chain.len()).rev().filter(|&at| is_message(at - 1) && is_message(at)).find(|&at| {
            let (height, gap) = measure(&chain[..at], 0);
            self.fits(gap + height)
        })
    }

    /// Whether a step that starts here breaks no more often than one at the top of a page, and is not begun at a
    /// page's foot only to go on overleaf.
    fn may_start_here(&self, slabs: &[Option<Slab>]) -> bool {
        let least = |y, fresh| (0..=SIZES).map(|size| self.breaks_in(slabs, size, y, fresh)).min().unwrap_or(0);
        let here = least(self.y, self.is_fresh());
        let left = (self.area.bottom - self.y) / (self.area.bottom - self.area.top);
        here == 0 || (left >= LEAST_START && here <= least(self.area.top, true))
    }

    /// How often a leaf breaks over a page when it starts at `y`, near enough to choose by.
    fn breaks_in(&self, slabs: &[Option<Slab>], size: usize, y: f64, fresh: bool) -> usize {
        let (mut pages, mut y) = (0, y);
        let mut fresh = fresh;
        let mut from = 0;
        while from < slabs.len() {
            let to = chain_end(slabs, from);
            let (height, gap) = measure(&slabs[from..to], size);
            if !fresh && y + gap + height > self.area.bottom + 0.01 {
                pages += 1;
                y = self.area.top;
                fresh = true;
            }
            y += height + if fresh { 0.0 } else { gap };
            fresh = false;
            from = to;
        }
        pages
    }

    fn place(&mut self, leaf: usize, mut slab: Slab) {
        if self.is_fresh() {
            if let Some(head) = slab.head.take() {
                let head = (*head).clone();
                if self.fits(head.height + slab.height) {
                    let height = head.height;
                    self.put(leaf, head);
                    self.y += height;
                }
            }
        } else {
            self.y += slab.before;
        }
        let height = slab.height;
        self.put(leaf, slab);
        self.y += height;
    }

    fn put(&mut self, leaf: usize, slab: Slab) {
        let y = self.y;
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.placed.push(Placed { leaf, y, slab });
        }
    }

    fn fits(&self, height: f64) -> bool {
        self.y + height <= self.area.bottom + 0.01
    }

    fn is_fresh(&self) -> bool {
        self.sheets.last().is_some_and(|s| s.placed.is_empty())
    }

    fn next_page(&mut self) {
        self.sheets.push(Sheet::default());
        self.y = self.area.top;
    }
}

fn chain_end(slabs: &[Option<Slab>], from: usize) -> usize {
    let mut end = from;
    while end < slabs.len() && slabs[end].as_ref().is_some_and(|s| s.keep) {
        end += 1;
    }
    (end + 1).min(slabs.len())
}

/// The least share of a page that must be left for a step to begin on it and go on overleaf.
const LEAST_START: f64 = 0.35;

/// The share of a page that is not left empty for the sake of a somewhat larger figure.
const MUCH_LEFT: f64 = 0.4;

/// The smallest size a figure is offered in: 0 is full, each more is smaller.
const SIZES: usize = 3;

/// A slab at a size: the smallest it has where it has none so small.
fn at_size(slab: &Slab, size: usize) -> &Slab {
    match size.min(slab.smaller.len()) {
        0 => slab,
        n => &slab.smaller[n - 1],
    }
}

/// Height of a chain at a size, and the gap above it.
fn measure(chain: &[Option<Slab>], size: usize) -> (f64, f64) {
    let mut height = 0.0;
    let mut gap = 0.0;
    for (i, slab) in chain.iter().flatten().enumerate() {
        let take = at_size(slab, size);
        height += take.height;
        if i == 0 {
            gap = take.before;
        } else {
            height += take.before;
        }
    }
    (height, gap)
}

/// Takes every slab of a chain at a size; what is smaller still stays on offer.
fn take_size(chain: &mut [Option<Slab>], size: usize) {
    for slab in chain.iter_mut().flatten() {
        let n = size.min(slab.smaller.len());
        if n > 0 {
            let mut smaller = std::mem::take(&mut slab.smaller);
            let rest = smaller.split_off(n);
            if let Some(taken) = smaller.pop() {
                let anchors = std::mem::take(&mut slab.anchors);
                *slab = Slab { anchors, smaller: rest, ..taken };
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn style() -> Style {
        let document = crate::document::Document {
            purpose: crate::document::Purpose::Manual,
            name: "Trial".into(),
            meta: crate::document::Meta {
                title: "".into(),
                subtitle: "".into(),
                maker: "".into(),
                number: "".into(),
                configuration: "".into(),
                configuration_title: "".into(),
                release: "".into(),
                language: "en".into(),
                units: crate::units::UnitStyle::default(),
                paper: crate::document::Paper::A4,
                step_start: StepStart::NewPage,
                accent: 0,
                font: None,
            },
            leaves: Vec::new(),
            bars: crate::document::Bars::default(),
        };
        Style::of(&document)
    }

    proptest! {
        #[test]
        fn slabs_keep_their_order_their_company_and_their_page(
            spec in proptest::collection::vec((1.0..400.0f64, 0.0..30.0f64, any::<bool>()), 1..80),
        ) {
            let area = Area { top: 50.0, bottom: 750.0 };
            let slabs: Vec<Slab> = spec
                .iter()
                .map(|&(height, before, keep)| Slab { height, before, keep, ..Slab::default() })
                .collect();
            let mut flows = [Flow { slabs, ..Flow::default() }];
            let sheets = break_pages(&mut flows, &[LeafRole::Text], &style(), area);
            let placed: Vec<(usize, &Placed)> =
                sheets.iter().enumerate().flat_map(|(n, s)| s.placed.iter().map(move |p| (n, p))).collect();
            prop_assert_eq!(placed.len(), spec.len());
            for (&(height, ..), (_, p)) in spec.iter().zip(&placed) {
                prop_assert_eq!(p.slab.height, height);
                prop_assert!(p.y >= area.top && p.y + height <= area.bottom + 0.02);
            }
            for pair in placed.windows(2) {
                prop_assert!(pair[0].0 < pair[1].0 || pair[1].1.y >= pair[0].1.y + pair[0].1.slab.height - 1e-6);
            }
            // A chain that a page can hold is never parted.
            let mut from = 0;
            while from < spec.len() {
                let mut to = from;
                while to + 1 < spec.len() && spec[to].2 {
                    to += 1;
                }
                let height: f64 = spec[from..=to].iter().map(|s| s.0).sum::<f64>() + spec[from + 1..=to].iter().map(|s| s.1).sum::<f64>();
                if height <= area.bottom - area.top {
                    prop_assert_eq!(placed[from].0, placed[to].0);
                }
                from = to + 1;
            }
        }
    }
}
