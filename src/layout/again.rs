//! Titles in the side column, set again where their group goes on: on another page, or under a picture.
//!
//! Owns: where they stand. Must not know: what they say, page breaking.

use std::sync::Arc;

use super::pages::{FilledPage, Placed};
use super::slab::Slab;

/// A group whose title stands in the side column, as a slab of it knows it.
#[derive(Clone, Debug)]
pub struct Titled {
    /// What is set where it goes on; takes no height of the text.
    pub title: Arc<Slab>,
    /// Whether the slab carries the title itself.
    pub begins: bool,
}

/// What the side column holds on the page that is being filled.
#[derive(Default)]
pub struct SideTitles {
    /// The group of what was set last.
    last: Option<Arc<Slab>>,
    /// The title that was set again: its place among what the page holds, and its lower edge.
    again: Option<(usize, f64)>,
}

impl SideTitles {
    /// Before a slab is set at `y`: sets the title of its group where the group goes on here. One that would reach into
    /// what comes below it is taken out.
    pub fn before(&mut self, slab: &Slab, leaf: usize, y: f64, sheet: &mut FilledPage) {
        let group = slab.group.as_ref();
        let same = match (&self.last, group) {
            (Some(last), Some(group)) => Arc::ptr_eq(last, &group.title),
            _ => false,
        };
        if same {
            return;
        }
        // A picture leaves the side column free.
        let beside = slab.float && !slab.full && !group.is_some_and(|g| g.begins);
        if !beside
            && let Some((at, bottom)) = self.again.take()
            && bottom > y
        {
            sheet.placed.remove(at);
        }
        self.last = group.map(|g| g.title.clone());
        if let Some(group) = group.filter(|g| !g.begins) {
            let slab = Slab::clone(&group.title);
            self.again = Some((sheet.placed.len(), y + slab.height));
            sheet.placed.push(Placed { leaf, y, slab });
        }
    }
}
