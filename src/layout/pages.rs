//! Slabs to pages: where pages break, and where everything ends up.
//!
//! Owns: page breaking. Must not know: kinds of blocks, what furniture says.

use std::collections::BTreeMap;

use super::plan::{Area, Move, Plan, Start, plan};
use super::slab::{Flow, Slab};
use super::style::Style;
use crate::document::{Anchor, LeafRole};
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
pub struct FilledPage {
    pub placed: Vec<Placed>,
    /// Where room to write begins under a step that has the rest of the page to itself, in points from the page's top.
    pub notes: Option<f64>,
}

/// Where every slab goes: for each leaf whether it begins a page, and how it is set from there.
#[derive(Debug, Default)]
pub struct Arrangement {
    leaves: Vec<Arranged>,
}

#[derive(Debug)]
struct Arranged {
    starts_page: bool,
    /// A page is left free before it, so that its own face each other.
    free_before: bool,
    plan: Plan,
}

struct Breaker<'a> {
    style: &'a Style,
    area: Area,
    y: f64,
    fresh: bool,
    /// The page, counted from 0.
    page: usize,
}

/// The least share of a page that must be left for a step to begin on it and go on overleaf.
const LEAST_START: f64 = 0.3;

/// Decides where the pages of all leaves break.
pub fn arrange(flows: &[Flow], roles: &[LeafRole], style: &Style, area: Area) -> Arrangement {
    let mut breaker = Breaker { style, area, y: area.top, fresh: true, page: 0 };
    let leaves = flows.iter().enumerate().map(|(leaf, flow)| {
        let before = leaf.checked_sub(1).map(|l| roles[l]);
        breaker.leaf(roles[leaf], before, &flow.slabs)
    });
    Arrangement { leaves: leaves.collect() }
}

impl Arrangement {
    /// The page of every anchor, counted from 0.
    pub fn anchors<'a>(&self, flows: &'a [Flow]) -> BTreeMap<&'a Anchor, usize> {
        let mut pages = BTreeMap::new();
        let mut page = 0;
        for (arranged, flow) in self.leaves.iter().zip(flows) {
            page += usize::from(arranged.starts_page) + usize::from(arranged.free_before);
            for step in &arranged.plan.moves {
                match step {
                    Move::Page => page += 1,
                    Move::Head { .. } => {}
                    Move::Put { slab, .. } => {
                        for anchor in &flow.slabs[*slab].anchors {
                            pages.entry(anchor).or_insert(page);
                        }
                    }
                }
            }
        }
        pages
    }

    /// Fills the pages. The slabs are taken out of the flows.
    pub fn fill(self, flows: &mut [Flow], roles: &[LeafRole], style: &Style, area: Area) -> Vec<FilledPage> {
        let mut sheets = vec![FilledPage::default()];
        let mut y = area.top;
        for (leaf, (arranged, flow)) in self.leaves.into_iter().zip(flows).enumerate() {
            let mut slabs = std::mem::take(&mut flow.slabs);
            if arranged.starts_page {
                let after_step = leaf.checked_sub(1).is_some_and(|l| roles[l] == LeafRole::Step);
                if let Some(sheet) = sheets.last_mut().filter(|_| after_step && style.notes) {
                    sheet.notes = Some(y);
                }
                if arranged.free_before {
                    sheets.push(FilledPage { notes: Some(area.top), ..FilledPage::default() });
                }
                sheets.push(FilledPage::default());
                y = area.top;
            }
            for step in arranged.plan.moves {
                let at = match step {
                    Move::Page => {
                        sheets.push(FilledPage::default());
                        y = area.top;
                        continue;
                    }
                    Move::Head { slab } | Move::Put { slab, .. } => slab,
                };
                y += if let Move::Put { gap, .. } = step { gap } else { 0.0 };
                let slab = match step {
                    Move::Put { size, .. } => Some(take_size(&mut slabs[at], size)),
                    _ => slabs[at].head.as_deref().cloned(),
                };
                if let (Some(slab), Some(sheet)) = (slab, sheets.last_mut()) {
                    let height = slab.height;
                    sheet.placed.push(Placed { leaf, y, slab });
                    y += height;
                }
            }
        }
        sheets
    }
}

impl Breaker<'_> {
    fn leaf(&mut self, role: LeafRole, before: Option<LeafRole>, slabs: &[Slab]) -> Arranged {
        let here = plan(slabs, Start { y: self.y, fresh: self.fresh }, self.area);
        let starts_here = self.fresh
            || match role {
                LeafRole::Card => true,
                LeafRole::Step => self.style.step_start == StepStart::WhereItFits && self.may_start_here(slabs, &here),
                // Short texts share a page.
                LeafRole::Text => before == Some(LeafRole::Text) && here.breaks == 0,
                _ => false,
            };
        let plan = if starts_here { here } else { plan(slabs, Start { y: self.area.top, fresh: true }, self.area) };
        self.fresh = plan.moves.last().is_none_or(|last| *last == Move::Page) && (self.fresh || !starts_here);
        self.y = plan.end;
        // A step of one page is whole on either; a longer one opens on the left.
        let next = self.page + usize::from(!starts_here);
        let free_before =
            !starts_here && role == LeafRole::Step && plan.breaks > 0 && self.style.duplex && !self.style.is_left(next);
        self.page = next + usize::from(free_before) + plan.moves.iter().filter(|m| **m == Move::Page).count();
        Arranged { starts_page: !starts_here, free_before, plan }
    }

    /// Whether a step that starts here breaks no more often than one at the top of a page, and is not begun at a
    /// page's foot only to go on overleaf.
    fn may_start_here(&self, slabs: &[Slab], here: &Plan) -> bool {
        let left = (self.area.bottom - self.y) / self.area.height();
        let begins = !matches!(here.moves.first(), Some(Move::Page));
        let fresh = || plan(slabs, Start { y: self.area.top, fresh: true }, self.area);
        here.breaks == 0 || (begins && left >= LEAST_START && here.breaks <= fresh().breaks)
    }
}

/// Takes a slab at a size.
fn take_size(slab: &mut Slab, size: usize) -> Slab {
    let mut slab = std::mem::take(slab);
    let smaller = std::mem::take(&mut slab.smaller);
    match size.checked_sub(1).and_then(|n| smaller.into_iter().nth(n)) {
        Some(taken) => Slab { anchors: slab.anchors, ..taken },
        None => slab,
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
                variant_and_options: "".into(),
                kit: "".into(),
                configuration_title: "".into(),
                release: "".into(),
                language: "en".into(),
                units: crate::units::UnitStyle::default(),
                paper: crate::document::Paper::A4,
                step_start: StepStart::NewPage,
                duplex: false,
                hatching: true,
                accent: 0,
                font: None,
            },
            leaves: Vec::new(),
            bars: crate::document::Bars::default(),
        };
        Style::of(&document)
    }

    /// With facing pages a step of two pages opens on the left, a step of one stands on either.
    #[test]
    fn a_step_of_two_pages_opens_on_the_left() {
        let area = Area { top: 50.0, bottom: 750.0 };
        let step = |count: usize| Flow {
            slabs: (0..count).map(|_| Slab { height: 600.0, ..Slab::default() }).collect(),
            ..Flow::default()
        };
        let starts = |duplex: bool| {
            let style = Style { duplex, ..style() };
            let mut flows = [step(1), step(1), step(2), step(1), step(2)];
            let roles = [LeafRole::Text, LeafRole::Step, LeafRole::Step, LeafRole::Step, LeafRole::Step];
            let sheets = arrange(&flows, &roles, &style, area).fill(&mut flows, &roles, &style, area);
            let page_of =
                |leaf| sheets.iter().position(|s| s.placed.iter().any(|p| p.leaf == leaf)).expect("a page") + 1;
            ((0..5).map(page_of).collect::<Vec<_>>(), sheets.iter().filter(|s| s.placed.is_empty()).count())
        };
        assert_eq!(starts(false), (vec![1, 2, 3, 5, 6], 0));
        assert_eq!(starts(true), (vec![1, 2, 4, 6, 8], 2));
        assert_eq!((style().moved(0), style().moved(1)), (0.0, 0.0));
        let facing = Style { duplex: true, ..style() };
        assert!(facing.moved(0) > 0.0 && facing.moved(1) < 0.0);
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
            let roles = [LeafRole::Text];
            let sheets = arrange(&flows, &roles, &style(), area).fill(&mut flows, &roles, &style(), area);
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
