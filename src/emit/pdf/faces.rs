//! Fonts in the file: each face reduced to the glyphs in use, and its dictionaries, which printpdf writes.
//!
//! Owns: everything that touches printpdf. Must not know: pages, structure.

use std::collections::{BTreeMap, BTreeSet};

use printpdf::{
    Codepoint, FontId, Mm, Op, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem,
};

use super::PdfError;
use crate::layout::{Face, FaceId, Fonts, ItemKind, Laid};

/// For each face the code and width that stand for a glyph in text.
#[derive(Default)]
pub struct Codes(BTreeMap<FaceId, Vec<(u16, i16)>>);

impl Codes {
    /// Code and width (1/1000 em) of a glyph; those of the missing-glyph sign where it is not in use.
    pub fn of(&self, face: FaceId, glyph: u16) -> (u16, i16) {
        self.0.get(&face).and_then(|codes| codes.get(usize::from(glyph))).copied().unwrap_or((0, 0))
    }
}

/// A file with its fonts in place and no page: what everything else is added to.
pub struct Carrier {
    pub file: lopdf::Document,
    /// The font resources of every page.
    pub fonts: lopdf::Dictionary,
    pub codes: Codes,
}

struct Subset {
    font: ParsedFont,
    codes: Vec<(u16, i16)>,
    says: Vec<Codepoint>,
}

pub fn carrier(laid: &Laid, fonts: &Fonts) -> Result<Carrier, PdfError> {
    let mut document = PdfDocument::new("");
    let mut specimen = vec![Op::StartTextSection];
    let mut codes = Codes::default();
    for (face, glyphs) in used_glyphs(laid) {
        let made = reduce(face, fonts.face(face), &glyphs, laid)?;
        codes.0.insert(face, made.codes);
        let id = FontId(format!("F{}", face.0));
        document.resources.fonts.map.insert(id.clone(), PdfFont::new(made.font));
        specimen.push(Op::SetFont { font: PdfFontHandle::External(id), size: Pt(1.0) });
        specimen.push(Op::ShowText { items: vec![TextItem::GlyphIds(made.says)] });
    }
    specimen.push(Op::EndTextSection);
    // printpdf writes the dictionaries of fonts that a page uses: one page shows them all and is taken out again.
    document.pages.push(PdfPage::new(Mm(10.0), Mm(10.0), specimen));
    let mut warnings = Vec::new();
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, secure: true, image_optimization: None };
    let file = document.to_lopdf_document(&options, &mut warnings);
    if let Some(warning) = warnings.first() {
        return Err(PdfError::Font(format!("{warning:?}")));
    }
    take_out_specimen(file, codes)
}

fn take_out_specimen(mut file: lopdf::Document, codes: Codes) -> Result<Carrier, PdfError> {
    let broken = |e: lopdf::Error| PdfError::Font(e.to_string());
    let page = *file.get_pages().get(&1).ok_or_else(|| PdfError::Font("no specimen page".to_owned()))?;
    let page_dict = file.get_dictionary(page).map_err(broken)?;
    let contents = page_dict.get(b"Contents").and_then(lopdf::Object::as_reference).map_err(broken)?;
    let resources_id = page_dict.get(b"Resources").and_then(lopdf::Object::as_reference).map_err(broken)?;
    let resources = file.get_dictionary(resources_id).map_err(broken)?.clone();
    let mut fonts = lopdf::Dictionary::new();
    for (name, value) in resources.iter() {
        if let Ok(id) = value.as_reference() {
            if name == b"Font" {
                fonts = file.get_dictionary(id).map_err(broken)?.clone();
            }
            file.objects.remove(&id);
        }
    }
    let pages = file.catalog().and_then(|c| c.get(b"Pages")).and_then(lopdf::Object::as_reference).map_err(broken)?;
    for id in [page, contents, resources_id, pages] {
        file.objects.remove(&id);
    }
    for key in ["Root", "Info"] {
        if let Ok(id) = file.trailer.get(key.as_bytes()).and_then(lopdf::Object::as_reference) {
            file.objects.remove(&id);
        }
    }
    Ok(Carrier { file, fonts, codes })
}

fn used_glyphs(laid: &Laid) -> BTreeMap<FaceId, BTreeSet<u16>> {
    let mut used: BTreeMap<FaceId, BTreeSet<u16>> = BTreeMap::new();
    for item in laid.pages.iter().flat_map(|p| &p.items) {
        if let ItemKind::Text(run) = &item.kind {
            used.entry(run.face).or_default().extend(run.glyphs.iter().map(|g| g.id));
        }
    }
    used
}

fn reduce(id: FaceId, face: &Face, glyphs: &BTreeSet<u16>, laid: &Laid) -> Result<Subset, PdfError> {
    let error = |what: &str| PdfError::Font(format!("{}: {what}", face.name));
    // Glyph i of the subset is ids[i]; the missing-glyph sign comes first.
    let ids: Vec<u16> = std::iter::once(0).chain(glyphs.iter().copied().filter(|&g| g != 0)).collect();
    let bytes = face.subset(&ids).map_err(|e| error(&e))?;
    let mut notes = Vec::new();
    let mut font =
        ParsedFont::from_bytes(&bytes, 0, &mut notes).ok_or_else(|| error("the reduced font can't be read"))?;
    let tag = char::from(b'A' + id.0 % 26);
    font.font_name = Some(format!("AAAAA{tag}+{}", face.name));
    // A CID-keyed CFF font is written by its own character ids, any other by the glyph's place.
    let own_ids = printpdf::font::cff_charset_gid_to_cid_map(&bytes, 0);
    let mut codes = vec![(0, 0); ids.iter().map(|&g| usize::from(g) + 1).max().unwrap_or(1)];
    let mut says = Vec::with_capacity(ids.len());
    // Widths in 1/1000 em, as layout counted with them: printpdf would cut them off instead of rounding.
    font.pdf_font_metrics = in_thousandths(&font.pdf_font_metrics);
    font.font_metrics.ascent = face.ascent.round() as i16;
    font.font_metrics.descent = face.descent.round() as i16;
    for (place, &glyph) in ids.iter().enumerate() {
        let place = place as u16;
        let width = face.width(glyph);
        let code = own_ids.as_ref().and_then(|m| m.get(&place).copied()).unwrap_or(place);
        codes[usize::from(glyph)] = (code, width);
        font.set_glyph_width(place, width.unsigned_abs());
        let text = laid.glyph_texts.get(&(id, glyph)).map_or("", |t| t);
        says.push(Codepoint { gid: place, offset: 0.0, cid: Some(text.to_owned()) });
    }
    Ok(Subset { font, codes, says })
}

fn in_thousandths(metrics: &printpdf::font::PdfFontMetricsStub) -> printpdf::font::PdfFontMetricsStub {
    let scale = 1000.0 / f64::from(metrics.units_per_em.max(1));
    let scaled = |v: i16| (f64::from(v) * scale).round() as i16;
    printpdf::font::PdfFontMetricsStub {
        units_per_em: 1000,
        x_min: scaled(metrics.x_min),
        y_min: scaled(metrics.y_min),
        x_max: scaled(metrics.x_max),
        y_max: scaled(metrics.y_max),
        ..metrics.clone()
    }
}
