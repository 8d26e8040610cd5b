//! The pages of a document as a whole: their files, what stands on them, and where a link leads.

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest as _, Sha256};

use super::file_name::FileNames;
use super::marks::figures_of;
use crate::document::{Anchor, Bench, Block, Document, all_blocks};
use crate::emit::EmitError;
use crate::figure::{FigureFile, FigureKind, SMALL_WAY, SMALL_WIDTH, small, wants_small};
use crate::source::{Shelf, hex};
use crate::units::FigureName;

/// A document with a file for every leaf and a page for every anchor.
pub struct Site<'a> {
    pub document: &'a Document,
    pub bench: &'a Bench,
    files: Vec<String>,
    /// The leaf an anchor stands on, and whether it is the leaf itself.
    places: BTreeMap<&'a Anchor, SitePlace>,
    pictures: BTreeMap<&'a FigureName, SitePicture<'a>>,
    /// The leaves directly below a leaf, in reading order.
    children: BTreeMap<usize, Vec<usize>>,
    parents: Vec<Option<usize>>,
}

/// A picture that is shown.
struct SitePicture<'a> {
    /// Below the pages' folder.
    path: String,
    file: &'a FigureFile,
    /// SHA-256 of its bytes.
    digest: [u8; 32],
    small: Option<Small>,
}

/// The same picture for a small screen, [`SMALL_WIDTH`] pixels wide.
pub struct Small {
    pub path: String,
    pub bytes: Vec<u8>,
}

#[derive(Clone, Copy)]
struct SitePlace {
    leaf: usize,
    whole: bool,
}

impl<'a> Site<'a> {
    /// Names every file, finds every anchor and makes the smaller pictures, or takes them from the shelf.
    ///
    /// # Errors
    /// An anchor given twice; a figure that is shown and not among `figures`.
    pub fn of(
        document: &'a Document,
        bench: &'a Bench,
        figures: &'a BTreeMap<FigureName, FigureFile>,
        shelf: Option<&dyn Shelf>,
    ) -> Result<Self, EmitError> {
        let mut names = FileNames::default();
        let index = names.give("index", "html");
        let rest = document.leaves.iter().skip(1).map(|leaf| names.give(leaf.anchor.as_str(), "html"));
        let files = std::iter::once(index).chain(rest).collect();

        let mut places = Places::default();
        for (number, leaf) in document.leaves.iter().enumerate() {
            places.add(&leaf.anchor, SitePlace { leaf: number, whole: true })?;
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
        let pictures = pictures(document, figures, shelf)?;
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

    /// A picture for a small screen, where there is one.
    pub fn small(&self, name: &FigureName) -> Option<&Small> {
        self.pictures.get(name)?.small.as_ref()
    }

    /// Every picture file of the pages: path and bytes.
    pub fn pictures(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.pictures.values().flat_map(|shown| {
            let small = shown.small.iter().map(|small| (small.path.as_str(), small.bytes.as_slice()));
            std::iter::once((shown.path.as_str(), &*shown.file.bytes)).chain(small)
        })
    }
}

#[derive(Default)]
struct Places<'a> {
    found: BTreeMap<&'a Anchor, SitePlace>,
}

impl<'a> Places<'a> {
    fn add(&mut self, anchor: &'a Anchor, place: SitePlace) -> Result<(), EmitError> {
        match self.found.insert(anchor, place) {
            None => Ok(()),
            Some(_) => Err(EmitError::DuplicateAnchor(anchor.clone())),
        }
    }

    fn add_all(&mut self, blocks: &'a [Block], leaf: usize) -> Result<(), EmitError> {
        let mut anchors = all_blocks(blocks).flat_map(Block::anchors);
        anchors.try_for_each(|anchor| self.add(anchor, SitePlace { leaf, whole: false }))
    }
}

fn pictures<'a>(
    document: &'a Document,
    figures: &'a BTreeMap<FigureName, FigureFile>,
    shelf: Option<&dyn Shelf>,
) -> Result<BTreeMap<&'a FigureName, SitePicture<'a>>, EmitError> {
    // Whether a picture is shown as a whole anywhere: of a part of it the smaller one would be too coarse.
    let mut shown: BTreeMap<&FigureName, bool> = BTreeMap::new();
    for leaf in &document.leaves {
        for figure in figures_of(&leaf.blocks) {
            *shown.entry(&figure.name).or_default() |= figure.crop.is_none();
        }
    }
    let mut names = FileNames::default();
    let mut pictures = Vec::with_capacity(shown.len());
    for (name, whole) in shown {
        let file = figures.get(name).ok_or_else(|| EmitError::MissingFigure(name.clone()))?;
        let (stem, extension) = match (name.as_str().rsplit_once('.'), file.kind) {
            (stem, FigureKind::Svg) => (stem, "svg"),
            (stem, FigureKind::Png) => (stem, "png"),
            (stem, FigureKind::Jpeg) => (stem, "jpg"),
        };
        let stem = stem.map_or(name.as_str(), |(stem, _)| stem);
        let path = format!("figures/{}", names.give(stem, extension));
        let small = (whole && wants_small(file)).then(|| (format!("{stem}-{SMALL_WIDTH}"), extension));
        pictures.push((name, path, file, small));
    }
    let pictures: Vec<_> = pictures
        .into_par_iter()
        .map(|(name, path, file, small)| {
            let digest = Sha256::digest(&file.bytes).into();
            let bytes = small.and_then(|wish| Some((wish, kept_small(file, &digest, shelf)?)));
            (name, SitePicture { path, file, digest, small: None }, bytes)
        })
        .collect();
    let named = pictures.into_iter().map(|(name, mut picture, small)| {
        picture.small = small.map(|((stem, extension), bytes)| {
            let path = format!("figures/{}", names.give(&stem, extension));
            Small { path, bytes }
        });
        (name, picture)
    });
    Ok(named.collect())
}

/// The smaller picture from the shelf, or made anew and put there.
fn kept_small(file: &FigureFile, digest: &[u8; 32], shelf: Option<&dyn Shelf>) -> Option<Vec<u8>> {
    let key = format!("screen-{SMALL_WAY}-{SMALL_WIDTH}-{}", hex(digest));
    if let Some(kept) = shelf.and_then(|shelf| shelf.get(&key)) {
        return Some(kept);
    }
    let made = small(file)?;
    if let Some(shelf) = shelf {
        shelf.put(&key, &made);
    }
    Some(made)
}
