//! The pages of a document as a whole: their files, what stands on them, and where a link leads.

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest as _, Sha256};

use super::file_name::FileNames;
use super::marks::each_figure;
use crate::document::{Anchor, Bench, Block, BlockKind, Document};
use crate::emit::EmitError;
use crate::figure::{FigureFile, FigureKind};
use crate::units::FigureName;

/// A document with a file for every leaf and a page for every anchor.
pub struct Site<'a> {
    pub document: &'a Document,
    pub bench: &'a Bench,
    files: Vec<String>,
    /// The leaf an anchor stands on, and whether it is the leaf itself.
    places: BTreeMap<&'a Anchor, Place>,
    pictures: BTreeMap<&'a FigureName, Picture<'a>>,
    /// The leaves directly below a leaf, in reading order.
    children: BTreeMap<usize, Vec<usize>>,
    parents: Vec<Option<usize>>,
}

/// A picture that is shown.
struct Picture<'a> {
    /// Below the pages' folder.
    path: String,
    file: &'a FigureFile,
    /// SHA-256 of its bytes.
    digest: [u8; 32],
}

#[derive(Clone, Copy)]
struct Place {
    leaf: usize,
    whole: bool,
}

impl<'a> Site<'a> {
    /// Names every file and finds every anchor.
    ///
    /// # Errors
    /// An anchor given twice; a figure that is shown and not among `figures`.
    pub fn of(
        document: &'a Document,
        bench: &'a Bench,
        figures: &'a BTreeMap<FigureName, FigureFile>,
    ) -> Result<Self, EmitError> {
        let mut names = FileNames::default();
        let index = names.give("index", "html");
        let rest = document.leaves.iter().skip(1).map(|leaf| names.give(leaf.anchor.as_str(), "html"));
        let files = std::iter::once(index).chain(rest).collect();

        let mut places = Places::default();
        for (number, leaf) in document.leaves.iter().enumerate() {
            places.add(&leaf.anchor, Place { leaf: number, whole: true })?;
            places.add_all(&leaf.blocks, number)?;
        }
        let places = places.found;

        let mut children: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut parents = Vec::with_capacity(document.leaves.len());
        for (number, leaf) in document.leaves.iter().enumerate() {
            let parent = leaf.parent.as_ref().and_then(|p| places.get(p)).map(|place| place.leaf);
            let parent = parent.filter(|p| *p < number);
            if let Some(parent) = parent {
                children.entry(parent).or_default().push(number);
            }
            parents.push(parent);
        }
        let pictures = pictures(document, figures)?;
        Ok(Self { document, bench, files, places, pictures, children, parents })
    }

    /// The file of a leaf.
    pub fn file(&self, leaf: usize) -> &str {
        &self.files[leaf]
    }

    /// Where a link on the page of `from` has to lead.
    ///
    /// # Errors
    /// The anchor is nowhere in the document.
    pub fn href(&self, from: usize, to: &Anchor) -> Result<String, EmitError> {
        let Some(place) = self.places.get(to) else {
            return Err(EmitError::BrokenLink { page: self.document.leaves[from].anchor.clone(), to: to.clone() });
        };
        Ok(match (place.leaf == from, place.whole) {
            (_, true) => self.file(place.leaf).to_owned(),
            (true, false) => format!("#{}", to.as_str()),
            (false, false) => format!("{}#{}", self.file(place.leaf), to.as_str()),
        })
    }

    /// The leaf above a leaf.
    pub fn parent(&self, leaf: usize) -> Option<usize> {
        self.parents[leaf]
    }

    /// The leaves directly below a leaf.
    pub fn children(&self, leaf: usize) -> &[usize] {
        self.children.get(&leaf).map_or(&[], Vec::as_slice)
    }

    /// A picture that the document shows, with its path below the pages' folder.
    pub fn picture(&self, name: &FigureName) -> Option<(&str, &FigureFile)> {
        self.pictures.get(name).map(|shown| (shown.path.as_str(), shown.file))
    }

    /// The SHA-256 of a picture that the document shows.
    pub fn picture_digest(&self, name: &FigureName) -> Option<&[u8; 32]> {
        self.pictures.get(name).map(|shown| &shown.digest)
    }

    /// Every picture that the document shows, with its path.
    pub fn pictures(&self) -> impl Iterator<Item = (&str, &FigureFile)> {
        self.pictures.values().map(|shown| (shown.path.as_str(), shown.file))
    }
}

#[derive(Default)]
struct Places<'a> {
    found: BTreeMap<&'a Anchor, Place>,
}

impl<'a> Places<'a> {
    fn add(&mut self, anchor: &'a Anchor, place: Place) -> Result<(), EmitError> {
        match self.found.insert(anchor, place) {
            None => Ok(()),
            Some(_) => Err(EmitError::DuplicateAnchor(anchor.clone())),
        }
    }

    fn add_all(&mut self, blocks: &'a [Block], leaf: usize) -> Result<(), EmitError> {
        let mut open: Vec<&'a Block> = blocks.iter().collect();
        while let Some(block) = open.pop() {
            if let Some(anchor) = &block.anchor {
                self.add(anchor, Place { leaf, whole: false })?;
            }
            match &block.kind {
                BlockKind::Table(table) => {
                    for anchor in table.rows.iter().filter_map(|row| row.anchor.as_ref()) {
                        self.add(anchor, Place { leaf, whole: false })?;
                    }
                }
                BlockKind::List { items, .. } => open.extend(items.iter().flat_map(|item| &item.blocks)),
                BlockKind::Safety { blocks, .. } | BlockKind::Quote(blocks) | BlockKind::Footnote { blocks, .. } => {
                    open.extend(blocks);
                }
                BlockKind::Group(group) => open.extend(&group.blocks),
                _ => {}
            }
        }
        Ok(())
    }
}

fn pictures<'a>(
    document: &'a Document,
    figures: &'a BTreeMap<FigureName, FigureFile>,
) -> Result<BTreeMap<&'a FigureName, Picture<'a>>, EmitError> {
    let mut shown = BTreeMap::new();
    for leaf in &document.leaves {
        each_figure(&leaf.blocks, &mut |figure| {
            shown.insert(&figure.name, ());
        });
    }
    let mut names = FileNames::default();
    let mut pictures = Vec::with_capacity(shown.len());
    for name in shown.into_keys() {
        let file = figures.get(name).ok_or_else(|| EmitError::MissingFigure(name.clone()))?;
        let (stem, extension) = match (name.as_str().rsplit_once('.'), file.kind) {
            (stem, FigureKind::Svg) => (stem, "svg"),
            (stem, FigureKind::Png) => (stem, "png"),
            (stem, FigureKind::Jpeg) => (stem, "jpg"),
        };
        let stem = stem.map_or(name.as_str(), |(stem, _)| stem);
        pictures.push((name, format!("figures/{}", names.give(stem, extension)), file));
    }
    let digested = pictures.into_par_iter().map(|(name, path, file)| {
        let digest = Sha256::digest(&file.bytes).into();
        (name, Picture { path, file, digest })
    });
    Ok(digested.collect())
}
