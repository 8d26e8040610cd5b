//! Slabs to pages: where pages break, and where everything ends up.
//!
//! Owns: page breaking. Must not know: kinds of blocks, what furniture says.

use std::ops::Range;

use super::slab::{Flow, Slab};
use super::style::{StepStart, Style};
use crate::document::LeafRole;

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

/// Height of stacked slabs, the first one's gap left out.
fn stacked(slabs: &[Slab]) -> f64 {
    let gaps: f64 = slabs.iter().skip(1).map(|s| s.before).sum();
    gaps + slabs.iter().map(|s| s.height).sum::<f64>()
}

impl Breaker<'_> {
    fn leaf(&mut self, leaf: usize, role: LeafRole, slabs: Vec<Slab>) {
        let starts_page = match role {
            LeafRole::Card => false,
            LeafRole::Step => match self.style.step_start {
                StepStart::NewPage => true,
                StepStart::WhereItFits => {
                    let height = stacked(&slabs);
                    !self.fits(height + slabs.first().map_or(0.0, |s| s.before)) && height <= self.area.bottom - self.area.top
                }
            },
            _ => true,
        };
        if starts_page && !self.is_fresh() {
            self.next_page();
        }
        let mut slabs: Vec<Option<Slab>> = slabs.into_iter().map(Some).collect();
        let mut from = 0;
        while from < slabs.len() {
            let to = chain_end(&slabs, from);
            self.chain(leaf, &mut slabs, from..to);
            from = to;
        }
    }

    /// Places slabs that belong together: on this page, on the next, or, where no page holds them, over several.
    fn chain(&mut self, leaf: usize, slabs: &mut [Option<Slab>], chain: Range<usize>) {
        let (height, gap) = measure(&slabs[chain.clone()], false);
        if !self.fits(gap + height) && !self.is_fresh() {
            let (smaller, gap) = measure(&slabs[chain.clone()], true);
            if smaller < height && self.fits(gap + smaller) {
                shrink(&mut slabs[chain.clone()]);
            } else {
                self.next_page();
            }
        }
        for slot in &mut slabs[chain] {
            if let Some(mut slab) = slot.take() {
                if !self.fits(slab.height + slab.before) && !self.is_fresh() {
                    if let Some(smaller) = slab.smaller.take_if(|s| s.height + s.before <= self.area.bottom - self.y) {
                        slab = Slab { anchors: std::mem::take(&mut slab.anchors), ..*smaller };
                    } else {
                        self.next_page();
                    }
                }
                self.place(leaf, slab);
            }
        }
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

/// Height of a chain and the gap above it, with or without its figures made smaller.
fn measure(chain: &[Option<Slab>], smaller: bool) -> (f64, f64) {
    let mut height = 0.0;
    let mut gap = 0.0;
    for (i, slab) in chain.iter().flatten().enumerate() {
        let take = if smaller { slab.smaller.as_deref().unwrap_or(slab) } else { slab };
        height += take.height;
        if i == 0 {
            gap = take.before;
        } else {
            height += take.before;
        }
    }
    (height, gap)
}

fn shrink(chain: &mut [Option<Slab>]) {
    for slab in chain.iter_mut().flatten() {
        if let Some(smaller) = slab.smaller.take() {
            let anchors = std::mem::take(&mut slab.anchors);
            *slab = Slab { anchors, ..*smaller };
        }
    }
}
