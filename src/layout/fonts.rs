//! The faces text is set in: which one has a character, how wide its glyphs are, and shaping.
//!
//! Owns: font data and shaping of a run in one face. Must not know: lines, blocks, pages.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use harfrust::{
    Direction, Feature, ShapeOptions, ShapePlan, Shaper as FaceShaper, ShaperData, Tag, UnicodeBuffer, script,
};
use skrifa::charmap::MappingIndex;
use skrifa::instance::{LocationRef, Size};
use skrifa::string::StringId;
use skrifa::{FontRef, GlyphId, MetadataProvider as _};

use crate::typeface::Typeface;

/// Index of a face in [`Fonts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FaceId(pub u8);

/// What a piece of text asks of its face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FaceStyle {
    #[default]
    Regular,
    Bold,
    Italic,
    BoldItalic,
    Mono,
}

/// The faces of a document, the author's first where there is one.
pub struct Fonts {
    faces: Vec<Face>,
    /// Why the author's font was not taken, if it was not.
    pub(super) refused: Option<String>,
}

/// A face: its data, and measures in 1/1000 em.
pub struct Face {
    /// PostScript name.
    pub name: String,
    bytes: Bytes,
    pub ascent: f64,
    /// Negative below the baseline.
    pub descent: f64,
    /// Which of the font's tables of characters is read.
    characters: MappingIndex,
    /// The advance of each glyph, in units of the font.
    advances: Vec<f32>,
    /// What the shaper makes of the font's tables once.
    tables: ShaperData,
    plan: ShapePlan,
    /// Whether every printable ASCII character is there, so that they need no look-up.
    ascii: bool,
    units_per_em: f64,
}

/// Font data, built in or the author's.
#[derive(Clone)]
enum Bytes {
    BuiltIn(&'static [u8]),
    Author(Arc<Vec<u8>>),
}

impl AsRef<[u8]> for Bytes {
    fn as_ref(&self) -> &[u8] {
        match self {
            Self::BuiltIn(bytes) => bytes,
            Self::Author(bytes) => bytes,
        }
    }
}

/// A shaped glyph; measures in 1/1000 em, rounded so that a font's width table can hold them.
#[derive(Clone, Copy, Debug)]
pub struct Shaped {
    pub id: u16,
    pub advance: i16,
    pub dx: i16,
    pub dy: i16,
    /// Byte in the shaped text where the glyph's text starts.
    pub cluster: usize,
    /// A line must not be broken before this glyph without shaping anew.
    pub unsafe_to_break: bool,
}

impl Fonts {
    /// The built-in faces, and the author's for plain text where `author` holds a font that can be read.
    pub fn new(author: Option<&[u8]>) -> Self {
        let mut faces = vec![
            Face::built_in("DejaVuSansCondensed", Typeface::Condensed),
            Face::built_in("DejaVuSansCondensed-Bold", Typeface::CondensedBold),
            Face::built_in("DejaVuSansCondensed-Oblique", Typeface::CondensedOblique),
            Face::built_in("DejaVuSansCondensed-BoldOblique", Typeface::CondensedBoldOblique),
            Face::built_in("DejaVuSansMono", Typeface::Mono),
            Face::built_in("DejaVuSans", Typeface::Sans),
        ];
        let mut refused = None;
        if let Some(bytes) = author {
            match Face::author(bytes) {
                Ok(face) => faces.push(face),
                Err(reason) => refused = Some(reason),
            }
        }
        Self { faces, refused }
    }

    pub fn face(&self, id: FaceId) -> &Face {
        &self.faces[usize::from(id.0)]
    }

    /// The face a style asks for first.
    pub fn primary(&self, style: FaceStyle) -> FaceId {
        FaceId(match style {
            FaceStyle::Regular if self.faces.len() > 6 => 6,
            FaceStyle::Regular => 0,
            FaceStyle::Bold => 1,
            FaceStyle::Italic => 2,
            FaceStyle::BoldItalic => 3,
            FaceStyle::Mono => 4,
        })
    }

    /// The sign that parts a word at a line end: a glyph of its own, so that it reads back as a soft hyphen.
    pub fn line_hyphen(&self, style: FaceStyle) -> (FaceId, &'static str) {
        let face = self.primary(style);
        (face, if self.face(face).has('\u{2010}') { "\u{2010}" } else { "-" })
    }

    /// The face that has `c`: the style's own, else the first built-in one that does.
    pub fn face_for(&self, style: FaceStyle, c: char) -> Option<FaceId> {
        let primary = self.primary(style);
        [primary, FaceId(0), FaceId(5), FaceId(4)].into_iter().find(|&id| self.face(id).has(c))
    }
}

impl Face {
    fn built_in(name: &str, typeface: Typeface) -> Self {
        // The data is compiled in; a test reads every face.
        Self::read(Some(name), Bytes::BuiltIn(typeface.bytes())).expect("built-in font data is sound")
    }

    fn author(bytes: &[u8]) -> Result<Self, String> {
        let face = Self::read(None, Bytes::Author(Arc::new(bytes.to_vec())))?;
        let missing = ('A'..='Z').chain('a'..='z').chain('0'..='9').find(|&c| !face.has(c));
        if let Some(c) = missing {
            return Err(format!("it has no letter `{c}`"));
        }
        // What can't be reduced to its used glyphs can't be put in a file: better known before anything is set in it.
        let glyphs: BTreeSet<u16> =
            ('A'..='z').filter_map(|c| face.glyph(c)).filter_map(|g| u16::try_from(g.to_u32()).ok()).collect();
        face.subset(&std::iter::once(0).chain(glyphs.into_iter().filter(|&g| g != 0)).collect::<Vec<_>>())?;
        Ok(face)
    }

    fn read(name: Option<&str>, bytes: Bytes) -> Result<Self, String> {
        let font = FontRef::new(bytes.as_ref()).map_err(|_| "it is no TrueType or OpenType font".to_owned())?;
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let units = f64::from(metrics.units_per_em);
        if !(16.0..=16384.0).contains(&units) {
            return Err("its head table is broken".to_owned());
        }
        let (ascent, descent) = match (metrics.ascent, metrics.descent) {
            (0.0, 0.0) => (units * 0.9, units * -0.25),
            (ascent, descent) => (f64::from(ascent), f64::from(descent)),
        };
        let name = match name {
            Some(name) => name.to_owned(),
            None => postscript_name(&font),
        };
        let widths = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        let advances =
            (0..widths.glyph_count()).map(|id| widths.advance_width(GlyphId::new(id)).unwrap_or(0.0)).collect();
        let tables = ShaperData::new(&font);
        let plan =
            ShapePlan::new(&tables.shaper(&font).build(), Direction::LeftToRight, Some(script::LATIN), None, &[]);
        let characters = MappingIndex::new(&font);
        let ascii = (' '..='~').all(|c| characters.charmap(&font).map(c).is_some());
        Ok(Self {
            name,
            ascent: ascent * 1000.0 / units,
            descent: descent * 1000.0 / units,
            characters,
            advances,
            tables,
            plan,
            bytes,
            ascii,
            units_per_em: units,
        })
    }

    /// The font program with only `glyphs`: glyph i of it is `glyphs[i]`. The first must be 0, none may come twice.
    ///
    /// # Errors
    /// Why the font's tables can't be reduced.
    pub fn subset(&self, glyphs: &[u16]) -> Result<Vec<u8>, String> {
        use allsorts::binary::read::ReadScope;
        use allsorts::font_data::FontData;
        use allsorts::subset::{CmapTarget, SubsetProfile, subset};
        let data = ReadScope::new(self.bytes.as_ref()).read::<FontData<'_>>().map_err(|e| e.to_string())?;
        let provider = data.table_provider(0).map_err(|e| e.to_string())?;
        subset(&provider, glyphs, &SubsetProfile::Pdf, CmapTarget::Unicode).map_err(|e| e.to_string())
    }

    pub fn has(&self, c: char) -> bool {
        (self.ascii && matches!(c, ' '..='~')) || self.glyph(c).is_some_and(|g| g.to_u32() != 0)
    }

    fn font(&self) -> Option<FontRef<'_>> {
        FontRef::new(self.bytes.as_ref()).ok()
    }

    fn glyph(&self, c: char) -> Option<GlyphId> {
        self.characters.charmap(&self.font()?).map(c)
    }

    /// The shaper of this face; none only for bytes that [`Face::read`] refuses.
    fn shaper(&self) -> Option<FaceShaper<'_>> {
        Some(self.tables.shaper(&self.font()?).build())
    }

    /// The advance of a glyph in units of the font.
    fn advance(&self, id: u16) -> f64 {
        self.advances.get(usize::from(id)).copied().map_or(0.0, f64::from)
    }

    /// The advance of a glyph in 1/1000 em, as the width table of a document holds it.
    pub fn width(&self, id: u16) -> i16 {
        self.milli(self.advance(id))
    }

    fn milli(&self, units: f64) -> i16 {
        (units * 1000.0 / self.units_per_em).round().clamp(-32000.0, 32000.0) as i16
    }
}

/// The author's PostScript name reduced to characters that a PDF name carries plainly.
fn postscript_name(font: &FontRef<'_>) -> String {
    let name = font.localized_strings(StringId::POSTSCRIPT_NAME).english_or_first();
    let name: String =
        name.iter().flat_map(|n| n.chars()).filter(|c| c.is_ascii_alphanumeric() || *c == '-').take(60).collect();
    if name.is_empty() { "AuthorsFont".to_owned() } else { name }
}

/// Shapes runs; keeps its buffer between them.
pub struct Shaper<'a> {
    fonts: &'a Fonts,
    /// One of each face.
    shapers: Vec<Option<FaceShaper<'a>>>,
    buffer: UnicodeBuffer,
}

impl<'a> Shaper<'a> {
    pub fn new(fonts: &'a Fonts) -> Self {
        Self { fonts, shapers: fonts.faces.iter().map(Face::shaper).collect(), buffer: UnicodeBuffer::new() }
    }

    /// Shapes `text[range]` in `face`, with ligatures or, for code, without.
    /// Clusters are bytes of `text`. Text that can't be shaped comes back empty.
    pub fn shape(&mut self, face: FaceId, text: &str, range: Range<usize>) -> Vec<Shaped> {
        let Some(shaper) = &self.shapers[usize::from(face.0)] else { return Vec::new() };
        let face = self.fonts.face(face);
        let part = &text[range.clone()];
        let mut buffer = std::mem::take(&mut self.buffer);
        buffer.push_str(part);
        buffer.guess_segment_properties();
        buffer.set_direction(Direction::LeftToRight);
        let latin = buffer.script() == script::LATIN || part.is_ascii();
        let off = [Feature::new(Tag::new(b"dlig"), 0, ..)];
        let mut options = ShapeOptions::new();
        if latin {
            buffer.set_script(script::LATIN);
            options = options.plan(Some(&face.plan));
        } else {
            options = options.features(&off);
        }
        let set = shaper.shape(buffer, options);
        let glyphs = set
            .glyph_infos()
            .iter()
            .zip(set.glyph_positions())
            .map(|(info, position)| {
                let id = u16::try_from(info.glyph_id).unwrap_or(0);
                let natural = face.advance(id);
                // Width table value plus rounded kerning, so that what is kerned is exactly what was meant to be.
                let kern = face.milli(f64::from(position.x_advance) - natural);
                Shaped {
                    id,
                    advance: face.milli(natural).saturating_add(kern),
                    dx: face.milli(f64::from(position.x_offset)),
                    dy: face.milli(f64::from(position.y_offset)),
                    cluster: range.start + info.cluster as usize,
                    unsafe_to_break: info.unsafe_to_break(),
                }
            })
            .collect();
        self.buffer = set.clear();
        glyphs
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kerning_is_applied() {
        let fonts = Fonts::new(None);
        let mut shaper = Shaper::new(&fonts);
        let face = fonts.primary(FaceStyle::Regular);
        let pair = shaper.shape(face, "AV", 0..2);
        let natural: i16 = pair.iter().map(|g| fonts.face(face).width(g.id)).sum();
        assert!(pair.iter().map(|g| g.advance).sum::<i16>() < natural);
    }

    #[test]
    fn a_sign_of_another_face_is_found() {
        let fonts = Fonts::new(None);
        for c in ['⌀', '☐', '⚠', '→', '½', '−', '°', 'Ω', 'Ж'] {
            assert!(fonts.face_for(FaceStyle::Bold, c).is_some(), "{c}");
        }
        assert!(fonts.face_for(FaceStyle::Regular, '漢').is_none());
    }

    #[test]
    fn a_broken_font_is_refused_with_a_reason() {
        let good = Typeface::Sans.bytes();
        for bytes in [&b""[..], b"hello", &good[..100], &good[..20_000]] {
            assert!(Fonts::new(Some(bytes)).refused.is_some());
        }
        assert!(Fonts::new(Some(good)).refused.is_none());
    }
}
