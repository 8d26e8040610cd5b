//! Slabs to pages: where pages break, and where everything ends up.
//!
//! Owns: page breaking. Must not know: kinds of blocks, what furniture says.

use super::plan::{Area, Move, Plan, Start, plan};
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
    /// Where room to write begins under a step that has the rest of the page to itself, in points from the page's top.
    pub notes: Option<f64>,
}

struct Breaker<'a> {
    style: &'a Style,
    area: Area,
    sheets: Vec<Sheet>,
    y: f64,
}

/// The least share of a page that must be left for a step to begin on it and go on overleaf.
const LEAST_START: f64 = 0.3;

/// Fills pages with the leaves' slabs. The slabs are taken out of the flows.
pub fn break_pages(flows: &mut [Flow], roles: &[LeafRole], style: &Style, area: Area) -> Vec<Sheet> {
    let mut breaker = Breaker { style, area, sheets: vec![Sheet::default()], y: area.top };
    for (leaf, flow) in flows.iter_mut().enumerate() {
        let slabs = std::mem::take(&mut flow.slabs);
        let before = leaf.checked_sub(1).map(|l| roles[l]);
        breaker.leaf(leaf, roles[leaf], before, slabs);
    }
    breaker.sheets
}

impl Breaker<'_> {
    fn leaf(&mut self, leaf: usize, role: LeafRole, before: Option<LeafRole>, mut slabs: Vec<Slab>) {
        let here = plan(&slabs, Start { y: self.y, fresh: self.is_fresh() }, self.area);
        let starts_here = self.is_fresh()
            || match role {
                LeafRole::Card => true,
                LeafRole::Step => self.style.step_start == StepStart::WhereItFits && self.may_start_here(&slabs, &here),
                // Short texts share a page.
                LeafRole::Text => before == Some(LeafRole::Text) && here.breaks == 0,
                _ => false,
            };
        let chosen = if starts_here { here } else { self.on_a_new_page(before, &slabs) };
        for step in chosen.moves {
            match step {
                Move::Page => self.next_page(),
                Move::Head { slab } => {
                    if let Some(head) = slabs[slab].head.clone() {
                        self.put(leaf, (*head).clone());
                    }
                }
                Move::Put { slab, size, gap } => {
                    self.y += gap;
                    let slab = take_size(&mut slabs[slab], size);
                    self.put(leaf, slab);
                }
            }
        }
    }

    fn on_a_new_page(&mut self, before: Option<LeafRole>, slabs: &[Slab]) -> Plan {
        if before == Some(LeafRole::Step) && self.style.notes {
            let y = self.y;
            if let Some(sheet) = self.sheets.last_mut() {
                sheet.notes = Some(y);
            }
        }
        self.next_page();
        plan(slabs, Start { y: self.y, fresh: true }, self.area)
    }

    /// Whether a step that starts here breaks no more often than one at the top of a page, and is not begun at a
    /// page's foot only to go on overleaf.
    fn may_start_here(&self, slabs: &[Slab], here: &Plan) -> bool {
        let left = (self.area.bottom - self.y) / self.area.height();
        let begins = !matches!(here.moves.first(), Some(Move::Page));
        let fresh = || plan(slabs, Start { y: self.area.top, fresh: true }, self.area);
        here.breaks == 0 || (begins && left >= LEAST_START && here.breaks <= fresh().breaks)
    }

    fn put(&mut self, leaf: usize, slab: Slab) {
        let (y, height) = (self.y, slab.height);
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.placed.push(Placed { leaf, y, slab });
        }
        self.y += height;
    }

    fn is_fresh(&self) -> bool {
        self.sheets.last().is_some_and(|s| s.placed.is_empty())
    }

    fn next_page(&mut self) {
        self.sheets.push(Sheet::default());
        self.y = self.area.top;
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
