//! Paged layout: documents to pages with everything at fixed points.
//!
//! Owns: the grid, text setting, page breaking, the structure that goes with it.
//! Must not know: how pages are written to a file; models, steps' meaning, the manual's sources.

mod bars;
mod blocks;
mod columns;
mod composer;
mod drawings;
mod fields;
mod figures;
mod fonts;
mod frame;
mod furniture;
mod licence;
mod lines;
mod marks;
mod opening;
mod pages;
mod para;
mod plan;
mod safety;
mod set_line;
mod slab;
mod steps;
mod style;
mod table;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;

pub use figures::least_width;
pub use fonts::{Face, FaceId, FaceStyle, Fonts};
pub use frame::*;
pub use style::{Style, contrast_with_white, legible, text_width};

use crate::document::{Anchor, Document, Leaf, LeafRole, Origin, Purpose, plain_text};
use crate::figure::{Coloured, Drawing, FigureFile, FigureKind, drawing};
use crate::units::FigureName;
use composer::{Composer, DocumentPictures, Insight};
use lines::Hyphens;
use pages::{Arrangement, FilledPage, arrange};
use para::{GlyphTexts, PageLabels, Setting};
use plan::Area;
use slab::{Flow, Slab};

/// A figure in a slab, before its page is known.
#[derive(Clone, Debug)]
struct PlacedSpot {
    name: FigureName,
    anchor: Option<Anchor>,
    origin: Origin,
    width: f64,
    height: f64,
}

/// The most passes until page references agree with pages. Room for labels only grows, so they always come to agree;
/// two passes do for nearly every document.
const PASSES: usize = 8;

/// Lays a document out on its paper. Never fails: what can't be done as asked is drawn otherwise and said in
/// [`Laid::problems`].
pub fn lay_out(document: &Document, figures: &BTreeMap<FigureName, FigureFile>, fonts: &Fonts, style: &Style) -> Laid {
    let page = document.meta.paper.size();
    let area = Area { top: style.margin_top, bottom: page.1 - style.margin_bottom };
    let licence = licence::leaf();
    let leaves: Vec<&Leaf> = document.leaves.iter().chain([&licence]).collect();
    let roles: Vec<LeafRole> = leaves.iter().map(|l| l.role).collect();
    let hyphens = Hyphens::of(&document.meta.language);

    let insights = insights(document, figures);
    let pictures = DocumentPictures { files: figures, insights: &insights };
    let mut labels = PageLabels::default();
    let mut flows: Vec<Flow> = Vec::new();
    let texts = Mutex::new(GlyphTexts::default());
    let mut arrangement = Arrangement::default();
    for pass in 0..PASSES {
        let setting = Setting { fonts, style, units: document.meta.units, labels: &labels, bars: &document.bars };
        let compose = |leaf: &Leaf| {
            let size = if leaf.anchor == licence.anchor { licence::SIZE } else { style.body };
            compose_leaf(leaf, size, &setting, pictures, hyphens, page)
        };
        if pass == 0 {
            let first = |leaf: &&Leaf| {
                let mut flow = compose(leaf);
                if flow.page_refs.is_empty() {
                    gather(&texts, std::mem::take(&mut flow.texts));
                }
                flow
            };
            flows = leaves.par_iter().map(first).collect();
        } else {
            // Only what shows the number of a page can have changed.
            let changed = flows.par_iter_mut().zip(&leaves).filter(|(flow, _)| !flow.page_refs.is_empty());
            changed.for_each(|(flow, leaf)| *flow = compose(leaf));
        }
        arrangement = arrange(&flows, &roles, style, area);
        let next = page_labels(&arrangement, &flows, &labels);
        let settled = next == labels;
        labels = next;
        if settled || !flows.iter().any(|f| !f.page_refs.is_empty()) {
            break;
        }
    }
    let sheets = arrangement.fill(&mut flows, &roles, style, area);
    let mut laid = assemble(document, &leaves, fonts, style, &labels, (flows, sheets), texts);
    laid.keys = insights.into_iter().filter(|(_, i)| !i.key.is_empty()).map(|(name, i)| (name, i.key)).collect();
    laid
}

/// Adds what glyphs say. Which text comes first makes no difference.
fn gather(texts: &Mutex<GlyphTexts>, more: GlyphTexts) {
    texts.lock().unwrap_or_else(PoisonError::into_inner).merge(more);
}

/// Looks into the drawings. A key of colours is for documents that are printed in grey.
fn insights(document: &Document, figures: &BTreeMap<FigureName, FigureFile>) -> BTreeMap<FigureName, Insight> {
    let drawings: Vec<&FigureFile> = figures.values().filter(|f| f.kind == FigureKind::Svg).collect();
    let look = |file: &&FigureFile| {
        let insight = match drawing(file) {
            Ok(Drawing::Vector(vector)) => {
                let keyed = document.purpose != Purpose::Manual && document.meta.hatching;
                let key = if keyed { Coloured::of(&vector).key() } else { Vec::new() };
                Insight { broken: false, missing: vector.missing, key }
            }
            Ok(Drawing::Raster(_)) => Insight::default(),
            Err(_) => Insight { broken: true, ..Insight::default() },
        };
        (file.name.clone(), insight)
    };
    drawings.par_iter().map(look).collect::<Vec<_>>().into_iter().collect()
}

fn compose_leaf(
    leaf: &Leaf,
    size: f64,
    setting: &Setting,
    pictures: DocumentPictures,
    hyphens: Hyphens,
    page: (f64, f64),
) -> Flow {
    let mut composer = Composer::new(setting, pictures, hyphens, page);
    composer.size = size;
    blocks::leaf(&mut composer, leaf);
    let Composer { mut slabs, mut tags, texts, problems, page_refs, .. } = composer;
    slabs.iter_mut().for_each(Slab::tighten);
    slabs.shrink_to_fit();
    tags.shrink_to_fit();
    Flow { slabs, tags, texts, problems, page_refs: page_refs.into_iter().collect() }
}

/// The label of the page of every anchor that is referred to, with the room it has had so far.
fn page_labels(arrangement: &Arrangement, flows: &[Flow], before: &PageLabels) -> PageLabels {
    let pages = arrangement.anchors(flows);
    let mut next = PageLabels { known: BTreeMap::new(), room: before.room.clone() };
    for anchor in flows.iter().flat_map(|f| &f.page_refs) {
        let label = pages.get(anchor).map_or_else(|| "?".to_owned(), |p| label(*p));
        let room = next.room.entry(anchor.clone()).or_insert(0);
        *room = (*room).max(label.len());
        next.known.insert(anchor.clone(), label.into());
    }
    next
}

/// A page with what is on it: its figures, and where links lead to.
type Made = (LaidPage, Vec<PlacedFigure>, Vec<(Anchor, PagePoint)>);

/// The printed number of a page: the count from the first, so that it is also the number a viewer goes by.
fn label(page: usize) -> String {
    (page + 1).to_string()
}

fn assemble(
    document: &Document,
    leaves: &[&Leaf],
    fonts: &Fonts,
    style: &Style,
    labels: &PageLabels,
    (flows, sheets): (Vec<Flow>, Vec<FilledPage>),
    texts: Mutex<GlyphTexts>,
) -> Laid {
    let meta = &document.meta;
    let size = meta.paper.size();
    let mut laid = Laid {
        title: [&*meta.title, &*document.name]
            .iter()
            .filter(|t| !t.is_empty())
            .copied()
            .collect::<Vec<_>>()
            .join(" \u{2013} ")
            .into(),
        author: meta.maker.clone(),
        subject: [&*meta.number, &*meta.configuration, &*meta.release]
            .iter()
            .filter(|t| !t.is_empty())
            .copied()
            .collect::<Vec<_>>()
            .join(" \u{00b7} ")
            .into(),
        language: if meta.language.is_empty() { "en".into() } else { meta.language.clone() },
        ..Laid::default()
    };
    if let Some(reason) = &fonts.refused {
        laid.problems.push(Problem::BadFont { reason: reason.clone() });
    }
    laid.tags.reserve_exact(1 + flows.iter().map(|f| f.tags.len()).sum::<usize>());
    laid.tags.push(Tag { role: Role::Document, parent: None, alt: None, columns: 1 });
    let mut offsets = Vec::with_capacity(flows.len());
    for flow in flows {
        let offset = laid.tags.len() as u32;
        offsets.push(offset);
        laid.tags.extend(
            flow.tags
                .into_iter()
                .map(|tag| Tag { parent: Some(tag.parent.map_or(TagId(0), |p| TagId(p.0 + offset))), ..tag }),
        );
        gather(&texts, flow.texts);
        laid.problems.extend(flow.problems);
    }
    let setting = Setting { fonts, style, units: meta.units, labels, bars: &document.bars };
    let by_anchor: BTreeMap<&Anchor, &Leaf> = leaves.iter().map(|l| (&l.anchor, *l)).collect();
    let made: Vec<Made> = sheets
        .into_par_iter()
        .enumerate()
        .map_init(
            || fonts::Shaper::new(fonts),
            |shaper, (page, sheet)| {
                let here: Vec<usize> = {
                    let mut seen: Vec<usize> = sheet.placed.iter().map(|p| p.leaf).collect();
                    seen.dedup();
                    seen
                };
                let label: Arc<str> = label(page).into();
                let facts = furniture::PageFacts {
                    document,
                    by_anchor: &by_anchor,
                    leaves: here.iter().map(|&l| leaves[l]).collect(),
                    label: &label,
                    left_hand: style.is_left(page),
                    size,
                };
                let mut says = GlyphTexts::default();
                let mut items = furniture::furniture(&facts, &setting, shaper, &mut says);
                if let Some(from) = sheet.notes {
                    items.extend(furniture::notes(from, size, &setting, shaper, &mut says));
                }
                gather(&texts, says);
                // No more room than it takes: all pages are held until the last is made.
                items.reserve_exact(sheet.placed.iter().map(|p| p.slab.items.len()).sum());
                let links = Vec::with_capacity(sheet.placed.iter().map(|p| p.slab.links.len()).sum());
                let moved = style.moved(page);
                items.iter_mut().for_each(|item| item.at.0 += moved);
                let mut out = LaidPage { size, label, items, links };
                let mut placed = Vec::new();
                let mut anchors = Vec::new();
                for mut spot in sheet.placed {
                    spot.slab.shift(moved, spot.y);
                    let offset = offsets[spot.leaf];
                    let global = |tag: TagId| TagId(tag.0 + offset);
                    anchors.extend(spot.slab.anchors.drain(..).map(|a| (a, PagePoint { page, y: spot.y })));
                    placed.extend(spot.slab.figures.drain(..).map(|f| PlacedFigure {
                        name: f.name,
                        anchor: f.anchor,
                        origin: f.origin,
                        page,
                        width: f.width,
                        height: f.height,
                    }));
                    out.items.extend(spot.slab.items.into_iter().map(|i| PageItem { tag: i.tag.map(global), ..i }));
                    out.links.extend(spot.slab.links.into_iter().map(|l| Link { tag: global(l.tag), ..l }));
                }
                (out, placed, anchors)
            },
        )
        .collect();
    for (page, placed, anchors) in made {
        laid.pages.push(page);
        laid.placed.extend(placed);
        for (anchor, place) in anchors {
            laid.anchors.entry(anchor).or_insert(place);
        }
    }
    let mut texts = texts.into_inner().unwrap_or_else(PoisonError::into_inner);
    texts.learn_hyphens(fonts);
    laid.glyph_texts = texts.0;
    laid.outline = outline(document, leaves, &by_anchor, &laid.anchors);
    check_links(&mut laid);
    laid
}

fn outline(
    document: &Document,
    leaves: &[&Leaf],
    by_anchor: &BTreeMap<&Anchor, &Leaf>,
    anchors: &BTreeMap<Anchor, PagePoint>,
) -> Vec<OutlineEntry> {
    leaves
        .iter()
        .copied()
        .filter_map(|leaf| {
            let to = *anchors.get(&leaf.anchor)?;
            let mut level = 1;
            let mut at = leaf;
            while let Some(up) = at.parent.as_ref().and_then(|p| by_anchor.get(p)) {
                level += 1;
                at = up;
                if level > 6 {
                    break;
                }
            }
            let title = plain_text(&leaf.title, document.meta.units).replace('\n', " ");
            let title = match &leaf.number {
                Some(number) if !title.starts_with(&**number) => format!("{number} {title}"),
                _ => title,
            };
            Some(OutlineEntry { level, title: title.into(), to })
        })
        .collect()
}

/// Links that lead nowhere are taken out and reported: each anchor once.
fn check_links(laid: &mut Laid) {
    let mut missing: Vec<Anchor> = Vec::new();
    for page in &mut laid.pages {
        page.links.retain(|link| match &link.to {
            Target::Inside(anchor) if !laid.anchors.contains_key(anchor) => {
                missing.push(anchor.clone());
                false
            }
            _ => true,
        });
    }
    missing.sort();
    missing.dedup();
    laid.problems
        .extend(missing.into_iter().map(|anchor| Problem::MissingAnchor { anchor, origin: Origin::default() }));
}
