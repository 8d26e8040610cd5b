//! The structure tree: what a screen reader reads, in reading order.
//!
//! Owns: structure elements, the parent tree, link annotations. Must not know: drawing.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat, dictionary};
use rayon::prelude::*;

use super::file::{PACK, Packed, pack};
use super::kids::{Kid, Kids};
use super::text_string;
use crate::layout::{ItemKind, Laid, Link, Role, Segment, TagId, Target};

/// The standard structure type of ISO 32000-1, 14.8.4.
pub fn name(role: Role) -> &'static str {
    match role {
        Role::Document => "Document",
        Role::Section => "Sect",
        Role::Division => "Div",
        Role::Heading(1) => "H1",
        Role::Heading(2) => "H2",
        Role::Heading(3) => "H3",
        Role::Heading(4) => "H4",
        Role::Heading(5) => "H5",
        Role::Heading(_) => "H6",
        Role::Paragraph => "P",
        Role::Span => "Span",
        Role::List | Role::OrderedList => "L",
        Role::ListItem => "LI",
        Role::ListLabel => "Lbl",
        Role::ListBody => "LBody",
        Role::Table => "Table",
        Role::TableHead => "THead",
        Role::TableBody => "TBody",
        Role::Row => "TR",
        Role::HeadOfColumn | Role::HeadOfRow => "TH",
        Role::Cell => "TD",
        Role::Caption => "Caption",
        Role::Figure => "Figure",
        Role::Link => "Link",
        Role::Note => "Note",
        Role::Quote => "BlockQuote",
        Role::Code => "Code",
        Role::Contents => "TOC",
        Role::ContentsItem => "TOCI",
    }
}

/// A page as the structure knows it.
pub struct PageParts {
    pub id: ObjectId,
    /// The element of each marked-content number.
    pub marked: Box<[TagId]>,
}

/// The structure as it goes into the file.
pub struct Structure {
    pub root: ObjectId,
    /// Link annotations of each page.
    pub annotations: Vec<Vec<ObjectId>>,
    /// Elements, annotations and the lists of marked content, packed.
    pub packed: Vec<Packed>,
}

/// Adds the structure tree and the link annotations.
pub fn add(file: &mut Document, laid: &Laid, pages: &[PageParts], figure_boxes: &FigureBoxes) -> Structure {
    let root = file.new_object_id();
    let ids: Vec<ObjectId> = laid.tags.iter().map(|_| file.new_object_id()).collect();
    // Nearly all: each element is the kid of one, each piece of a page another; links come on top.
    let room = laid.tags.len() + pages.iter().map(|p| p.marked.len()).sum::<usize>();
    let mut kids = Kids::new(laid.tags.len(), room);
    let has_content = with_content(laid, pages);
    // An element with content of its own lists children where they come up in the text, one without in their own order.
    for (i, tag) in laid.tags.iter().enumerate() {
        if let Some(parent) = tag.parent
            && !has_content[parent.0 as usize]
        {
            kids.push(parent, Kid::Element(TagId(i as u32)));
        }
    }
    let mut listed = vec![false; laid.tags.len()];
    for (page, parts) in pages.iter().enumerate() {
        for (number, tag) in parts.marked.iter().enumerate() {
            list_in_parent(laid, &has_content, &mut listed, &mut kids, *tag);
            kids.push(*tag, Kid::Marked { page: page as u32, number: number as u32 });
        }
    }
    let (annotations, annotation_packs) = links(file, laid, pages, &mut kids);
    for (i, tag) in laid.tags.iter().enumerate() {
        if let Some(parent) = tag.parent
            && has_content[parent.0 as usize]
            && !listed[i]
        {
            kids.push(parent, Kid::Element(TagId(i as u32)));
        }
    }
    let mut packed: Vec<Packed> = laid
        .tags
        .par_chunks(PACK)
        .enumerate()
        .map_init(Vec::new, |here, (chunk, tags)| {
            pack(tags.iter().enumerate().map(|(n, tag)| {
                let i = chunk * PACK + n;
                kids.of(i, here);
                let element = element(tag, TagId(i as u32), here, &ids, root, pages, figure_boxes);
                (ids[i].0, Object::Dictionary(element))
            }))
        })
        .collect();
    drop(kids);
    let mut numbers = Vec::new();
    let lists: Vec<ObjectId> = pages.iter().map(|_| file.new_object_id()).collect();
    for (page, &list) in lists.iter().enumerate() {
        numbers.push(Object::Integer(page as i64));
        numbers.push(list.into());
    }
    packed.extend(annotation_packs);
    packed.par_extend(lists.par_chunks(PAGES).zip(pages.par_chunks(PAGES)).map(|(lists, pages)| {
        pack(lists.iter().zip(pages).map(|(list, parts)| {
            (list.0, Object::Array(parts.marked.iter().map(|t| ids[t.0 as usize].into()).collect()))
        }))
    }));
    let mut key = pages.len() as i64;
    for (page, page_links) in laid.pages.iter().zip(&annotations) {
        for (link, _) in page.links.iter().zip(page_links) {
            numbers.push(Object::Integer(key));
            numbers.push(ids[link.tag.0 as usize].into());
            key += 1;
        }
    }
    let parent_tree = file.add_object(dictionary! { "Nums" => Object::Array(numbers) });
    let first: Vec<Object> = ids.first().map(|&id| id.into()).into_iter().collect();
    file.objects.insert(
        root,
        dictionary! {
            "Type" => "StructTreeRoot",
            "K" => Object::Array(first),
            "ParentTree" => parent_tree,
            "ParentTreeNextKey" => key,
        }
        .into(),
    );
    Structure { root, annotations, packed }
}

fn with_content(laid: &Laid, pages: &[PageParts]) -> Vec<bool> {
    let mut has = vec![false; laid.tags.len()];
    for tag in pages.iter().flat_map(|p| &p.marked) {
        has[tag.0 as usize] = true;
    }
    has
}

/// Lists an element with its parent, and the parent with its own, at the place the text has come to.
fn list_in_parent(laid: &Laid, has_content: &[bool], listed: &mut [bool], kids: &mut Kids, tag: TagId) {
    let mut at = tag;
    let mut path = Vec::new();
    while let Some(parent) = laid.tags[at.0 as usize].parent {
        if listed[at.0 as usize] {
            break;
        }
        path.push((parent, at));
        at = parent;
    }
    for (parent, child) in path.into_iter().rev() {
        listed[child.0 as usize] = true;
        if has_content[parent.0 as usize] {
            kids.push(parent, Kid::Element(child));
        }
    }
}

/// Left, bottom, right, top of the first placement of each figure element.
pub type FigureBoxes = BTreeMap<TagId, [f64; 4]>;

/// Where the figures stand; asked before the pages let go of their items.
pub fn figure_boxes(laid: &Laid) -> FigureBoxes {
    let mut boxes = BTreeMap::new();
    for page in &laid.pages {
        for item in &page.items {
            let Some(tag) = item.tag.filter(|t| laid.tags[t.0 as usize].role == Role::Figure) else { continue };
            let top = page.size.1 - item.at.1;
            match &item.kind {
                ItemKind::Figure { width, height, .. } => {
                    boxes.entry(tag).or_insert([item.at.0, top - height, item.at.0 + width, top]);
                }
                // A drawing of shapes: all of them together.
                ItemKind::Shape(shape) => {
                    let whole = boxes.entry(tag).or_insert([f64::MAX, f64::MAX, f64::MIN, f64::MIN]);
                    for (x, y) in shape.path.iter().filter_map(Segment::end) {
                        let (x, y) = (item.at.0 + x, top - y);
                        *whole = [whole[0].min(x), whole[1].min(y), whole[2].max(x), whole[3].max(y)];
                    }
                }
                ItemKind::Text(_) => {}
            }
        }
    }
    boxes
}

fn element(
    tag: &crate::layout::Tag,
    id: TagId,
    kids: &[Kid],
    ids: &[ObjectId],
    root: ObjectId,
    pages: &[PageParts],
    boxes: &FigureBoxes,
) -> Dictionary {
    let parent = tag.parent.map_or(root, |p| ids[p.0 as usize]);
    let mut out = dictionary! { "S" => name(tag.role), "P" => parent };
    let first_page = kids.iter().find_map(|k| match k {
        Kid::Marked { page, .. } | Kid::Annotation { page, .. } => Some(*page),
        Kid::Element(_) => None,
    });
    let page_id = |page: u32| pages[page as usize].id;
    if let Some(page) = first_page {
        out.set("Pg", page_id(page));
    }
    let mut list: Vec<Object> = kids
        .iter()
        .map(|kid| match *kid {
            Kid::Element(child) => ids[child.0 as usize].into(),
            Kid::Marked { page, number } if Some(page) == first_page => Object::Integer(i64::from(number)),
            Kid::Marked { page, number } => {
                dictionary! { "Type" => "MCR", "Pg" => page_id(page), "MCID" => i64::from(number) }.into()
            }
            Kid::Annotation { page, id } => {
                dictionary! { "Type" => "OBJR", "Pg" => page_id(page), "Obj" => (id, 0) }.into()
            }
        })
        .collect();
    match list.len() {
        0 => {}
        1 => out.set("K", list.remove(0)),
        _ => out.set("K", Object::Array(list)),
    }
    if let Some(alt) = &tag.alt {
        out.set("Alt", text_string(alt));
    }
    match tag.role {
        Role::HeadOfColumn => out.set("A", table_attributes(Some("Column"), tag.columns)),
        Role::HeadOfRow => out.set("A", table_attributes(Some("Row"), tag.columns)),
        Role::Cell if tag.columns > 1 => out.set("A", table_attributes(None, tag.columns)),
        Role::Figure => {
            if let Some(corners) = boxes.get(&id) {
                let corners: Vec<Object> = corners.iter().map(|&v| super::real(v)).collect();
                out.set("A", dictionary! { "O" => "Layout", "BBox" => Object::Array(corners), "Placement" => "Block" });
            }
        }
        Role::OrderedList => out.set("A", dictionary! { "O" => "List", "ListNumbering" => "Decimal" }),
        Role::Note => out.set("ID", Object::String(format!("n{}", id.0).into_bytes(), StringFormat::Literal)),
        _ => {}
    }
    out
}

fn table_attributes(scope: Option<&str>, columns: u8) -> Dictionary {
    let mut out = dictionary! { "O" => "Table" };
    if let Some(scope) = scope {
        out.set("Scope", Object::Name(scope.as_bytes().to_vec()));
    }
    if columns > 1 {
        out.set("ColSpan", i64::from(columns));
    }
    out
}

/// Pages whose annotations or lists are packed together.
const PAGES: usize = 16;

/// The ids of the annotations of each page, and the annotations, packed as they are made.
fn links(file: &mut Document, laid: &Laid, pages: &[PageParts], kids: &mut Kids) -> (Vec<Vec<ObjectId>>, Vec<Packed>) {
    let mut keys = Vec::with_capacity(pages.len());
    let mut key = pages.len() as i64;
    let mut all = Vec::with_capacity(pages.len());
    for (page, laid_page) in laid.pages.iter().enumerate() {
        let here: Vec<ObjectId> = laid_page.links.iter().map(|_| file.new_object_id()).collect();
        for (link, id) in laid_page.links.iter().zip(&here) {
            kids.push(link.tag, Kid::Annotation { page: page as u32, id: id.0 });
        }
        keys.push(key);
        key += here.len() as i64;
        all.push(here);
    }
    let packs = (0..laid.pages.len()).collect::<Vec<_>>();
    let packs = packs.par_chunks(PAGES).map(|chunk| {
        pack(chunk.iter().flat_map(|&page| {
            let links = laid.pages[page].links.iter().zip(&all[page]).enumerate();
            let first = keys[page];
            links.map(move |(n, (link, id))| {
                (id.0, Object::Dictionary(annotation(laid, pages, page, link, first + n as i64)))
            })
        }))
    });
    let packs = packs.collect();
    (all, packs)
}

fn annotation(laid: &Laid, pages: &[PageParts], page: usize, link: &Link, key: i64) -> Dictionary {
    let (l, t, r, b) = link.rect;
    let height = laid.pages[page].size.1;
    let rect = [l, height - b, r, height - t].iter().map(|&v| super::real(v)).collect();
    let mut annotation = dictionary! {
        "Type" => "Annot",
        "Subtype" => "Link",
        "Rect" => Object::Array(rect),
        "Border" => Object::Array(vec![0.into(), 0.into(), 0.into()]),
        "F" => 4,
        "StructParent" => key,
        "Contents" => text_string(&link.says),
    };
    match &link.to {
        Target::Inside(anchor) => {
            if let Some(place) = laid.anchors.get(anchor) {
                annotation.set("Dest", super::navigation::destination(laid, pages, *place));
            }
        }
        Target::Outside(to) => {
            let uri = Object::String(to.as_bytes().to_vec(), StringFormat::Literal);
            annotation.set("A", dictionary! { "S" => "URI", "URI" => uri });
        }
    }
    annotation
}
