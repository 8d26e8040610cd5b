//! Figures in the file: each picture once, as an object that pages call by name.
//!
//! Owns: pictures as PDF objects. Must not know: where they stand.

use std::collections::BTreeMap;
use std::sync::Arc;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use rayon::prelude::*;

use super::content::Placeable;
use super::form::{PdfForm, form};
use super::ink::PdfInk;
use super::{PdfError, deflate, file};
use crate::figure::{
    Drawing, FigureFile, GREY_WAY, KeyEntry, LEAST_LETTERS, LEAST_LETTERS_GREY, Pixels, Raster, drawing, grey_raster,
    letter_anew,
};
use crate::layout::{ItemKind, Laid};
use crate::source::{Shelf, hex};
use crate::units::FigureName;

/// A picture ready to be added.
enum Made {
    Form(PdfForm),
    Image(Image, [f64; 6]),
}

/// An image and its opacity, ready to be added.
pub struct Image {
    dict: Dictionary,
    data: Arc<[u8]>,
    mask: Option<Box<Image>>,
}

/// Adds every figure that is placed, once. Returns how pages call them and the resources that name them.
///
/// # Errors
/// A picture that can't be decoded.
pub fn add(
    file: &mut Document,
    pixels: &mut file::StreamData,
    laid: &Laid,
    figures: &BTreeMap<FigureName, FigureFile>,
    (ink, shelf): (PdfInk, Option<&dyn Shelf>),
) -> Result<(BTreeMap<FigureName, Placeable>, Dictionary), PdfError> {
    // How wide the whole of each would be where it is printed smallest, in points.
    let mut narrowest: BTreeMap<&FigureName, f64> = BTreeMap::new();
    for item in laid.pages.iter().flat_map(|p| &p.items) {
        if let ItemKind::Figure { name, crop, width, height } = &item.kind {
            let whole = crop.map_or(*width, |crop| crop.around(*width, *height).2);
            narrowest.entry(name).and_modify(|least| *least = least.min(whole)).or_insert(whole);
        }
    }
    let used: Vec<(&FigureName, &FigureFile, f64)> =
        narrowest.iter().filter_map(|(name, shown)| Some((*name, figures.get(*name)?, *shown))).collect();
    let made: Vec<Result<Made, PdfError>> = used
        .par_iter()
        .map(|(name, figure, shown)| {
            make(figure, (ink, shelf), laid.keys.get(*name).map_or(&[][..], |key| key), *shown)
                .map_err(|e| PdfError::Picture { name: (*name).clone(), reason: e.0 })
        })
        .collect();
    let mut placeable = BTreeMap::new();
    let mut resources = Dictionary::new();
    for (i, ((name, ..), made)) in used.iter().zip(made).enumerate() {
        let resource = format!("G{i}");
        let (id, base) = match made? {
            Made::Form(form) => {
                let base = [1.0 / form.width, 0.0, 0.0, 1.0 / form.height, 0.0, 0.0];
                (add_form(file, pixels, form), base)
            }
            Made::Image(image, base) => (add_image(file, pixels, image), base),
        };
        resources.set(resource.as_str(), id);
        placeable.insert((*name).clone(), Placeable { resource, base });
    }
    Ok((placeable, resources))
}

fn make(
    figure: &FigureFile,
    (ink, shelf): (PdfInk, Option<&dyn Shelf>),
    key: &[KeyEntry],
    shown: f64,
) -> Result<Made, crate::figure::Undrawable> {
    match drawing(figure)? {
        Drawing::Vector(mut vector) => {
            if shown > 0.0 {
                let least = least_lettering(ink) * vector.width / shown;
                letter_anew(&mut vector, least);
            }
            Ok(Made::Form(form(&vector, ink, key)?))
        }
        Drawing::Raster(raster) => {
            let base = upright(raster.turn);
            Ok(Made::Image(image(&raster, ink, shelf)?, base))
        }
    }
}

/// The least size of a figure's lettering, in points.
fn least_lettering(ink: PdfInk) -> f64 {
    match ink {
        PdfInk::Colour => LEAST_LETTERS,
        PdfInk::Grey => LEAST_LETTERS_GREY,
    }
}

/// The matrix that shows a stored picture upright in the unit square, for the values of Exif 2.3, tag Orientation.
pub fn upright(turn: u8) -> [f64; 6] {
    match turn {
        2 => [-1.0, 0.0, 0.0, 1.0, 1.0, 0.0],
        3 => [-1.0, 0.0, 0.0, -1.0, 1.0, 1.0],
        4 => [1.0, 0.0, 0.0, -1.0, 0.0, 1.0],
        5 => [0.0, -1.0, -1.0, 0.0, 1.0, 1.0],
        6 => [0.0, -1.0, 1.0, 0.0, 0.0, 1.0],
        7 => [0.0, 1.0, 1.0, 0.0, 0.0, 0.0],
        8 => [0.0, 1.0, -1.0, 0.0, 1.0, 0.0],
        _ => [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
    }
}

/// A picture of pixels as an image object; in grey ink converted first.
pub fn image(raster: &Raster, ink: PdfInk, shelf: Option<&dyn Shelf>) -> Result<Image, crate::figure::Undrawable> {
    match (ink, shelf, &raster.pixels) {
        (PdfInk::Colour, ..) => Ok(object(raster)),
        (PdfInk::Grey, Some(shelf), Pixels::Jpeg { bytes, .. }) => {
            let key = key(bytes);
            if let Some(kept) = shelf.get(&key).filter(|kept| is_grey_jpeg(kept, raster)) {
                let pixels = Pixels::Jpeg { bytes: kept.into(), components: 1 };
                return Ok(object(&Raster { pixels, ..raster.clone() }));
            }
            let grey = grey_raster(raster)?;
            if let Pixels::Jpeg { bytes, .. } = &grey.pixels {
                shelf.put(&key, bytes);
            }
            Ok(object(&grey))
        }
        (PdfInk::Grey, ..) => Ok(object(&grey_raster(raster)?)),
    }
}

/// Names a photograph in grey by its content and by the way it is converted.
fn key(bytes: &[u8]) -> String {
    use sha2::{Digest, Sha256};
    format!("grey-{GREY_WAY}-{}.jpg", hex(&Sha256::digest(bytes)))
}

/// Whether what was kept is what was asked for.
fn is_grey_jpeg(bytes: &[u8], like: &Raster) -> bool {
    let file = FigureFile {
        name: "kept".into(),
        kind: crate::figure::FigureKind::Jpeg,
        width: like.width,
        height: like.height,
        bytes: bytes.into(),
    };
    matches!(drawing(&file), Ok(Drawing::Raster(Raster { width, height, pixels: Pixels::Jpeg { components: 1, .. }, .. }))
        if (width, height) == (like.width, like.height) && bytes.ends_with(&[0xFF, 0xD9]))
}

fn object(raster: &Raster) -> Image {
    let mut dict = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Image",
        "Width" => i64::from(raster.width),
        "Height" => i64::from(raster.height),
        "BitsPerComponent" => 8,
        "Interpolate" => false,
    };
    let (space, filter, data) = match &raster.pixels {
        Pixels::Jpeg { bytes, components } => {
            (if *components == 1 { "DeviceGray" } else { "DeviceRGB" }, "DCTDecode", bytes.clone())
        }
        Pixels::Rgb(rgb) => ("DeviceRGB", "FlateDecode", deflate(rgb).into()),
        Pixels::Grey(grey) => ("DeviceGray", "FlateDecode", deflate(grey).into()),
    };
    dict.set("ColorSpace", space);
    dict.set("Filter", filter);
    let mask = raster.alpha.as_ref().map(|alpha| {
        let pixels = Pixels::Grey(alpha.clone());
        Box::new(object(&Raster { width: raster.width, height: raster.height, pixels, alpha: None, turn: 1 }))
    });
    Image { dict, data, mask }
}

fn add_image(file: &mut Document, pixels: &mut file::StreamData, image: Image) -> ObjectId {
    let mut dict = image.dict;
    if let Some(mask) = image.mask {
        let mask = add_image(file, pixels, *mask);
        dict.set("SMask", mask);
    }
    let id = file.add_object(Stream::new(dict, Vec::new()).with_compression(false));
    pixels.insert(id.0, image.data);
    id
}

fn add_form(file: &mut Document, pixels: &mut file::StreamData, form: PdfForm) -> ObjectId {
    let mut objects = Dictionary::new();
    for (name, image) in form.images {
        objects.set(name, add_image(file, pixels, image));
    }
    for (name, inner) in form.forms {
        objects.set(name, add_form(file, pixels, inner));
    }
    let resources = dictionary! { "XObject" => objects, "ExtGState" => form.states, "Shading" => form.shadings };
    let mut dict = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Form",
        "BBox" => Object::Array(vec![0.into(), 0.into(), super::real(form.width), super::real(form.height)]),
        "Resources" => resources,
        "Filter" => "FlateDecode",
    };
    if form.is_group {
        dict.set("Group", dictionary! { "S" => "Transparency", "I" => true });
    }
    file.add_object(Stream::new(dict, form.content).with_compression(false))
}
