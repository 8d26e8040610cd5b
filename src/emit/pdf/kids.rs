//! What stands directly below each structure element.
//!
//! Owns: lists of kids. Must not know: what elements are, objects of the file.

use crate::layout::TagId;

/// Kept small: a large manual has hundreds of thousands of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kid {
    Marked {
        page: u32,
        number: u32,
    },
    Element(TagId),
    /// The number of its object.
    Annotation {
        page: u32,
        id: u32,
    },
}

/// The kids of every element, each list in the order in which it grew: all lists in one pool, for most hold one kid or
/// none.
pub struct Kids {
    pool: Vec<(Kid, u32)>,
    /// First and last of each list.
    lists: Vec<(u32, u32)>,
}

/// Where a list of kids ends.
const END: u32 = u32::MAX;

impl Kids {
    /// Empty lists for so many elements, with room for so many kids in all.
    pub fn new(elements: usize, kids: usize) -> Self {
        Self { pool: Vec::with_capacity(kids), lists: vec![(END, END); elements] }
    }

    pub fn push(&mut self, of: TagId, kid: Kid) {
        let new = self.pool.len() as u32;
        self.pool.push((kid, END));
        let (first, last) = &mut self.lists[of.0 as usize];
        match self.pool.get_mut(*last as usize) {
            Some((_, next)) => *next = new,
            None => *first = new,
        }
        *last = new;
    }

    /// Fills `into` with the kids of an element.
    pub fn of(&self, element: usize, into: &mut Vec<Kid>) {
        into.clear();
        let mut at = self.lists[element].0;
        while let Some(&(kid, next)) = self.pool.get(at as usize) {
            into.push(kid);
            at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_that_grow_by_turns_keep_their_own_order() {
        let mut kids = Kids::new(3, 4);
        for (of, number) in [(2, 0), (0, 1), (2, 2), (2, 3), (0, 4)] {
            kids.push(TagId(of), Kid::Marked { page: 0, number });
        }
        let mut here = vec![Kid::Element(TagId(9))];
        for (element, numbers) in [(0, &[1, 4][..]), (1, &[]), (2, &[0, 2, 3])] {
            kids.of(element, &mut here);
            let wanted: Vec<Kid> = numbers.iter().map(|&number| Kid::Marked { page: 0, number }).collect();
            assert_eq!(here, wanted);
        }
    }
}
