//! Laid-out pages to a tagged PDF.
//!
//! Owns: the file format (ISO 32000-1). Must not know: documents' blocks, models.

mod content;
mod faces;
mod file;
mod form;
mod ink;
mod kids;
mod navigation;
mod pictures;
mod structure;

use std::collections::BTreeMap;
use std::io::Write;

use lopdf::{Dictionary, Object, ObjectId, Stream, StringFormat, dictionary};
use rayon::prelude::*;
use sha2::{Digest, Sha256};

pub use ink::PdfInk;

use crate::figure::FigureFile;
use crate::layout::{Fonts, Laid, TagId};
use crate::source::Shelf;
use crate::units::FigureName;
use file::StreamData;
use structure::PageParts;

/// Why a document can't be written.
#[derive(Debug)]
pub enum PdfError {
    /// A font can't be reduced or embedded.
    Font(String),
    /// A picture can't be decoded.
    Picture { name: FigureName, reason: String },
}

impl std::fmt::Display for PdfError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Font(what) => write!(f, "a font can't be embedded: {what}"),
            Self::Picture { name, reason } => write!(f, "the picture `{name}` can't be drawn: {reason}"),
        }
    }
}

impl std::error::Error for PdfError {}

/// Writes a laid-out document in one ink. The same input gives the same bytes, whatever the number of threads.
/// `shelf` keeps grey photographs between runs. A page's items are let go as soon as its content is compressed.
///
/// # Errors
/// A font that can't be embedded, a picture that can't be decoded.
pub fn write(
    mut laid: Laid,
    figures: &BTreeMap<FigureName, FigureFile>,
    fonts: &Fonts,
    ink: PdfInk,
    shelf: Option<&dyn Shelf>,
) -> Result<Vec<u8>, PdfError> {
    let carrier = faces::carrier(&laid, fonts)?;
    let mut file = carrier.file;

    let mut pixels = StreamData::new();
    let (placeable, picture_resources) = pictures::add(&mut file, &mut pixels, &laid, figures, (ink, shelf))?;
    let roles: Vec<&'static str> = laid.tags.iter().map(|t| structure::name(t.role)).collect();
    let sheet = content::ContentSheet { ink, codes: &carrier.codes, figures: &placeable, roles: &roles };
    let boxes = structure::figure_boxes(&laid);
    let contents: Vec<(Vec<u8>, Box<[TagId]>)> = laid
        .pages
        .par_iter_mut()
        .map(|page| {
            let content = content::content(page, &sheet);
            page.items = Vec::new();
            (deflate(&content.bytes), content.marked.into_boxed_slice())
        })
        .collect();
    let laid = &laid;

    let mut digest = Sha256::new();
    for (bytes, _) in &contents {
        digest.update(bytes);
    }
    let resources = file.add_object(dictionary! {
        "Font" => carrier.fonts,
        "XObject" => picture_resources,
        "ProcSet" => Object::Array(vec!["PDF".into(), "Text".into(), "ImageB".into(), "ImageC".into()]),
    });
    let tree = file.new_object_id();
    let mut parts = Vec::with_capacity(contents.len());
    let mut streams = Vec::with_capacity(contents.len());
    for (bytes, marked) in contents {
        let stream = Stream::new(dictionary! { "Filter" => "FlateDecode" }, bytes).with_compression(false);
        streams.push(file.add_object(stream));
        parts.push(PageParts { id: file.new_object_id(), marked });
    }
    let structure = structure::add(&mut file, laid, &parts, &boxes);
    for (i, page) in laid.pages.iter().enumerate() {
        let mut dict = dictionary! {
            "Type" => "Page",
            "Parent" => tree,
            "MediaBox" => Object::Array(vec![0.into(), 0.into(), real(page.size.0), real(page.size.1)]),
            "Resources" => resources,
            "Contents" => streams[i],
            "StructParents" => i as i64,
            "Tabs" => "S",
        };
        if !structure.annotations[i].is_empty() {
            dict.set("Annots", Object::Array(structure.annotations[i].iter().map(|&id| id.into()).collect()));
        }
        file.objects.insert(parts[i].id, dict.into());
    }
    let kids: Vec<Object> = parts.iter().map(|p| p.id.into()).collect();
    file.objects.insert(
        tree,
        dictionary! { "Type" => "Pages", "Count" => kids.len() as i64, "Kids" => Object::Array(kids) }.into(),
    );
    let catalog = catalog(&mut file, laid, &parts, tree, structure.root);
    let root = file.add_object(catalog);
    let info = file.add_object(navigation::information(laid));
    let id = Object::String(digest.finalize()[..16].to_vec(), StringFormat::Hexadecimal);
    file.trailer = dictionary! { "Root" => root, "Info" => info, "ID" => Object::Array(vec![id.clone(), id]) };
    compress_fonts(&mut file);
    Ok(file::save(file, structure.packed, &pixels))
}

fn catalog(
    file: &mut lopdf::Document,
    laid: &Laid,
    parts: &[PageParts],
    tree: ObjectId,
    struct_root: ObjectId,
) -> Dictionary {
    let metadata = file.add_object(navigation::metadata(laid));
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => tree,
        "Lang" => text_string(&laid.language),
        "MarkInfo" => dictionary! { "Marked" => true },
        "StructTreeRoot" => struct_root,
        "Metadata" => metadata,
        "PageLabels" => navigation::page_labels(),
        "ViewerPreferences" => dictionary! { "DisplayDocTitle" => true },
    };
    if let Some(outline) = navigation::outline(file, laid, parts) {
        catalog.set("Outlines", outline);
        catalog.set("PageMode", "UseOutlines");
    }
    catalog
}

/// Compresses what printpdf left open: font programs and their text maps.
fn compress_fonts(file: &mut lopdf::Document) {
    for object in file.objects.values_mut() {
        if let Object::Stream(stream) = object
            && stream.allows_compression
            && !stream.dict.has(b"Filter")
        {
            let packed = deflate(&stream.content);
            stream.dict.set("Filter", "FlateDecode");
            stream.dict.set("Length", packed.len() as i64);
            stream.content = packed;
        }
    }
}

fn deflate(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::with_capacity(bytes.len() / 3), flate2::Compression::new(4));
    // Writing to memory does not fail.
    let _ = encoder.write_all(bytes);
    let mut packed = encoder.finish().unwrap_or_default();
    // Held until the file is written.
    packed.shrink_to_fit();
    packed
}

/// A number to two places.
fn real(value: f64) -> Object {
    Object::Real(((value * 100.0).round() / 100.0) as f32)
}

/// A text string: plain where it is ASCII, else UTF-16 with its mark (ISO 32000-1, 7.9.2.2).
fn text_string(text: &str) -> Object {
    if text.is_ascii() && !text.contains(['\\', '(', ')']) {
        return Object::String(text.as_bytes().to_vec(), StringFormat::Literal);
    }
    let mut bytes = vec![0xFE, 0xFF];
    bytes.extend(text.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}
