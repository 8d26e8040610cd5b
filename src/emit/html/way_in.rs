//! What the first page offers: where to begin, and every part of the document.

use tera::Value;

use super::blocks::{PageWriter, map};
use super::page::entry;
use crate::document::LeafRole;
use crate::emit::EmitError;

impl PageWriter<'_> {
    /// The leaves without a leaf above them, in three runs: those before the work, the work, those after it.
    pub fn way_in(&mut self) -> Result<Value, EmitError> {
        let site = self.site;
        let leaves = &site.document.leaves;
        let is_work = |leaf: &usize| matches!(leaves[*leaf].role, LeafRole::Section | LeafRole::Step | LeafRole::Card);
        let tops: Vec<usize> = (1..leaves.len()).filter(|leaf| site.parent(*leaf).is_none_or(|p| p == 0)).collect();
        let first_work = tops.iter().position(is_work).unwrap_or(tops.len());

        let (before, rest) = tops.split_at(first_work);
        let (work, after): (Vec<usize>, Vec<usize>) = rest.iter().partition(|leaf| is_work(leaf));
        let first_step = (1..leaves.len()).find(|leaf| leaves[*leaf].role == LeafRole::Step);
        let contents = tops.iter().copied().find(|leaf| leaves[*leaf].role == LeafRole::Contents);

        Ok(map([
            ("before", self.entries(before)?),
            ("work", self.entries(&work)?),
            ("after", self.entries(&after)?),
            ("contents", self.optional_entry(contents)?),
            ("first_step", self.optional_entry(first_step)?),
        ]))
    }

    fn entries(&mut self, leaves: &[usize]) -> Result<Value, EmitError> {
        let entries: Result<Vec<Value>, EmitError> = leaves.iter().map(|leaf| entry(self, *leaf)).collect();
        Ok(entries?.into())
    }

    pub fn optional_entry(&mut self, leaf: Option<usize>) -> Result<Value, EmitError> {
        leaf.map_or(Ok(Value::none()), |leaf| entry(self, leaf))
    }
}
