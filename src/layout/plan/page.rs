//! Filling one page from a place on, and how badly each choice looks.
//!
//! Owns: the costs. Must not know: which way is the best.

use super::chain::Chain;
use super::{Move, PlanPlace, Reached, Search, Start, at_size};

/// The share of a page that may stay empty at its foot and not be seen as a hole.
const NO_HOLE: f64 = 0.12;
/// How bad an empty page's worth of hole is.
const HOLE: f64 = 0.8;
/// Of two ways that look the same the one with fuller pages is taken.
const FULLER: f64 = 0.02;
/// The least share of a page that is worth filling with what follows a figure that does not fit.
const WORTH_FILLING: f64 = 0.08;
/// The share of a page that is not left empty for the sake of a somewhat larger figure.
const MUCH_LEFT: f64 = 0.35;
/// The most of a page that is left empty by choice where pictures are near, and elsewhere.
const MOST_LEFT: (f64, f64) = (0.7, 0.22);

/// How bad it is that all text that works from a figure is on another page than it: a page turned for every action.
const APART: f64 = 1.2;
/// That a figure comes behind text that works from it.
const LATE: f64 = 0.15;
/// That a drawing comes behind what follows the table of its values, and again for each page's worth of that.
const BEHIND: (f64, f64) = (0.5, 0.5);
/// That a page ends between the table of a drawing's values and the drawing.
const OVERLEAF: f64 = 0.25;
/// A picture between two items of a list.
const BETWEEN: f64 = 1.0;
/// A figure a size smaller.
const SMALLER: f64 = 0.07;
/// All gaps of a page taken away.
const TIGHT: f64 = 0.2;
/// A paragraph, a table or a list that is parted.
const PARTED: f64 = 0.05;
/// One of which a single row or item stands alone.
const LONELY: f64 = 0.3;
/// Safety messages of one place that are parted.
const MESSAGES_PARTED: f64 = 0.4;

/// What is tried on a page: the size of pictures, the share of the gaps kept, and whether pictures that wait let a list
/// come to its end first.
#[derive(Clone, Copy, Debug)]
pub struct Way {
    pub size: usize,
    pub gaps: f64,
    pub later: bool,
}

pub struct Filler<'a, 's> {
    search: &'a mut Search<'s>,
    way: Way,
    y: f64,
    fresh: bool,
    reached: Reached,
    /// The next chain, and the next picture to set.
    chain: usize,
    picture: usize,
    /// The first picture set on this page, and the first whose place is on it.
    set_from: usize,
    own_from: usize,
    /// The pictures of earlier pages have been set so far as they fit.
    flushed: bool,
}

impl<'a, 's> Filler<'a, 's> {
    pub fn new(
        search: &'a mut Search<'s>,
        (chain, picture): PlanPlace,
        mut reached: Reached,
        start: Start,
        way: Way,
    ) -> Self {
        reached.cost += (1.0 - way.gaps) * TIGHT;
        let own_from = search.chains.pictures.iter().skip(picture).take_while(|p| p.chain < chain).count() + picture;
        Self {
            search,
            way,
            y: start.y,
            fresh: start.fresh,
            reached,
            chain,
            picture,
            set_from: picture,
            own_from,
            flushed: false,
        }
    }

    /// Fills the page and tells the search of every place at which it may end. Whether a picture came into question.
    pub fn fill(mut self) -> bool {
        let chains = self.search.chains;
        let mut pictures = self.own_from > self.picture;
        loop {
            let Some(chain) = chains.all.get(self.chain) else {
                self.flush();
                if self.waiting() {
                    self.may_end();
                } else {
                    self.search.end(self.reached, self.y);
                }
                return pictures;
            };
            if chain.picture.is_some() {
                pictures = true;
                if !self.picture(chain) {
                    return pictures;
                }
            } else if !self.text(chain) {
                return pictures;
            }
            self.chain += 1;
        }
    }

    /// A picture at its place, or waiting from here on. Whether the page goes on.
    fn picture(&mut self, chain: &Chain) -> bool {
        let leads = self.search.chains.pictures.get(chain.picture.unwrap_or(0)).is_some_and(|p| p.leads);
        let late = if leads { LATE } else { BEHIND.0 };
        if self.waiting() {
            self.reached.cost += late;
            return true;
        }
        self.may_end();
        let size = self.fitting(chain);
        if size.is_some() || self.fresh {
            self.put(chain, size.unwrap_or(self.way.size));
            self.picture += 1;
            return true;
        }
        self.reached.cost += late;
        self.left() > WORTH_FILLING
    }

    /// Text at its place. Whether the page goes on.
    fn text(&mut self, chain: &Chain) -> bool {
        // Pictures keep their order, and their place before what is signed or measured.
        let between = chain.goes_on || (chain.item && self.way.later);
        if chain.hold || !between {
            self.flush();
        }
        if chain.hold && self.waiting() {
            self.may_end();
            return false;
        }
        let size = self.fitting(chain);
        if !self.fresh && (size.is_none() || self.by_choice()) {
            self.may_end();
        }
        if size.is_none() && !self.fresh {
            return false;
        }
        self.reached.cost += self.apart(chain);
        self.put(chain, size.unwrap_or(self.way.size));
        true
    }

    /// Whether the page may end here although more would fit: beside pictures, and to balance the last pages.
    fn by_choice(&self) -> bool {
        let chains = self.search.chains;
        let (most, matters) = match chains.pictures.is_empty() {
            false => (MOST_LEFT.0, true),
            true => (MOST_LEFT.1, chains.rest(self.chain) < 1.5),
        };
        matters && self.left() <= most
    }

    /// How bad it is that a text is here, for the pictures that it works from and for those that it comes before.
    fn apart(&self, chain: &Chain) -> f64 {
        let pictures = &self.search.chains.pictures;
        let here = self.set_from..self.picture;
        let apart = chain.led_by.clone().filter(|&p| pictures[p].leads && !here.contains(&p)).count() as f64;
        let behind =
            pictures[self.picture..].iter().take_while(|p| p.chain < self.chain).filter(|p| !p.leads).count() as f64;
        apart * APART * chain.share + behind * BEHIND.1 * chain.height(0, 1.0) / self.search.area.height()
    }

    /// Sets the pictures that were left on earlier pages, so far as they fit.
    fn flush(&mut self) {
        if self.flushed {
            return;
        }
        self.flushed = true;
        let chains = self.search.chains;
        let between = chains.all.get(self.chain).is_some_and(|next| next.item);
        while self.picture < self.own_from {
            let chain = &chains.all[chains.pictures[self.picture].chain];
            let size = self.fitting(chain);
            if size.is_none() && !self.fresh {
                return;
            }
            self.reached.cost += if between { BETWEEN } else { 0.0 };
            self.put(chain, size.unwrap_or(self.way.size));
            self.picture += 1;
        }
    }

    /// Whether pictures whose place is past are still to be set.
    fn waiting(&self) -> bool {
        self.search.chains.waiting((self.chain, self.picture))
    }

    /// The largest size from the page's on in which a chain fits here.
    fn fitting(&self, chain: &Chain) -> Option<usize> {
        let sizes = chain.picture.map_or(0, |p| self.search.chains.pictures[p].sizes);
        let gap = if self.fresh { 0.0 } else { self.search.chains.slabs[chain.slabs.start].before * self.way.gaps };
        let top = self.y + gap + self.head(chain.slabs.start);
        // A little smaller is fine where it then fits; a drawing to work from is not made small for that alone.
        let most = if self.left() > MUCH_LEFT { self.way.size + 2 } else { self.way.size + 1 };
        let fits = |size: &usize| top + chain.height(*size, self.way.gaps) <= self.search.area.bottom + 0.01;
        (self.way.size.min(sizes)..=most.min(sizes)).find(fits)
    }

    fn put(&mut self, chain: &Chain, size: usize) {
        let slabs = self.search.chains.slabs;
        for i in chain.slabs.clone() {
            let slab = at_size(&slabs[i], size);
            let gap = slab.before * self.way.gaps;
            // Only a chain that no page holds comes to this.
            if !self.fresh && self.y + gap + slab.height > self.search.area.bottom + 0.01 {
                self.page();
            }
            let gap = if self.fresh { 0.0 } else { gap };
            let head = self.head(i);
            if head > 0.0 {
                self.step(Move::Head { slab: i });
                self.y += head;
            }
            let taken = size.min(slabs[i].smaller.len());
            if slabs[i].float {
                self.reached.cost += SMALLER * taken as f64;
            }
            self.step(Move::Put { slab: i, size: taken, gap });
            self.y += gap + slab.height;
            self.fresh = false;
        }
    }

    fn step(&mut self, made: Move) {
        self.reached.last = Some(self.search.step(made, self.reached.last));
    }

    /// Height of the head that is set again above a slab at the top of a page; 0 for none.
    fn head(&self, slab: usize) -> f64 {
        let area = self.search.area;
        let slab = &self.search.chains.slabs[slab];
        match &slab.head {
            Some(head) if self.fresh && area.top + head.height + slab.height <= area.bottom + 0.01 => head.height,
            _ => 0.0,
        }
    }

    /// The share of the page that is left.
    fn left(&self) -> f64 {
        (self.search.area.bottom - self.y) / self.search.area.height()
    }

    /// Tells the search that the page may end before the next chain.
    fn may_end(&mut self) {
        if self.fresh {
            return;
        }
        let mut way =
            Reached { cost: self.reached.cost + 1.0 + self.hole(), breaks: self.reached.breaks + 1, ..self.reached };
        way.cost += self.parted();
        self.search.reach((self.chain, self.picture), way);
    }

    /// How bad it is that the page ends right here, for what stands on both sides.
    fn parted(&self) -> f64 {
        let chain = |at: usize| self.search.chains.all.get(at);
        match chain(self.chain) {
            Some(Chain { glued: true, .. }) => MESSAGES_PARTED,
            Some(Chain { goes_on: true, .. } | Chain { item: true, .. }) => {
                let inside = |at: usize| chain(at).is_some_and(|c| c.item || c.goes_on);
                if inside(self.chain - 1) && inside(self.chain + 1) { PARTED } else { LONELY }
            }
            Some(Chain { picture: Some(picture), .. }) if !self.search.chains.pictures[*picture].leads => OVERLEAF,
            _ => 0.0,
        }
    }

    fn hole(&self) -> f64 {
        (self.left() - NO_HOLE).max(0.0) * HOLE + self.left() * FULLER
    }

    fn page(&mut self) {
        self.reached.cost += 1.0 + self.hole();
        self.reached.breaks += 1;
        self.step(Move::Page);
        self.y = self.search.area.top;
        self.fresh = true;
    }
}
