//! A paragraph before it is broken: its text shaped, with the marks and values that stand between the words.
//!
//! Owns: inline content to pieces of known width. Must not know: lines, blocks, pages.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

use super::fonts::{FaceId, FaceStyle, Fonts, Shaper};
use super::frame::{Color, Glyph, ItemKind, Target, TextRun};
use super::marks;
use super::style::Style;
use crate::document::{Anchor, Inline, SetRun, plain_text, set_text};
use crate::units::{UnitStyle, ValuePiece};

/// How text looks. Sizes in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextLook {
    pub face: FaceStyle,
    pub size: f64,
    pub color: Color,
    /// Points above the baseline.
    pub rise: f64,
}

impl TextLook {
    pub fn new(face: FaceStyle, size: f64, color: Color) -> Self {
        Self { face, size, color, rise: 0.0 }
    }

    fn bold(self) -> Self {
        let face = match self.face {
            FaceStyle::Italic | FaceStyle::BoldItalic => FaceStyle::BoldItalic,
            FaceStyle::Regular | FaceStyle::Bold => FaceStyle::Bold,
            FaceStyle::Mono => FaceStyle::Mono,
        };
        Self { face, ..self }
    }

    fn italic(self) -> Self {
        let face = match self.face {
            FaceStyle::Bold | FaceStyle::BoldItalic => FaceStyle::BoldItalic,
            FaceStyle::Regular | FaceStyle::Italic => FaceStyle::Italic,
            FaceStyle::Mono => FaceStyle::Mono,
        };
        Self { face, ..self }
    }

    fn mono(self) -> Self {
        // The monospaced face is wide for its size.
        Self { face: FaceStyle::Mono, size: self.size * 0.9, ..self }
    }
}

/// What inline content is read against.
pub struct Setting<'a> {
    pub fonts: &'a Fonts,
    pub style: &'a Style,
    pub units: UnitStyle,
    /// Page labels as far as they are known.
    pub labels: &'a PageLabels,
    pub bars: &'a crate::document::Bars,
}

/// The page labels of the pass before, and how many digits each was given room for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PageLabels {
    pub known: BTreeMap<Anchor, Arc<str>>,
    pub room: BTreeMap<Anchor, usize>,
}

/// A piece of a line: a glyph or a mark. `start` is its byte in the paragraph's text.
#[derive(Clone, Debug)]
pub struct LinePiece {
    pub start: usize,
    pub width: f64,
    pub span: u32,
    pub what: What,
    pub unsafe_to_break: bool,
}

#[derive(Clone, Debug)]
pub enum What {
    Glyph(FaceId, Glyph),
    /// A glyph that stands for a character no face has.
    Substitute(FaceId, Glyph, char),
    Mark(u32),
}

/// Something drawn in a line that is no plain glyph. Its items are placed from its left end on the baseline.
#[derive(Clone, Debug, Default)]
pub struct InlineMark {
    pub width: f64,
    /// Points needed above and below the baseline.
    pub above: f64,
    pub below: f64,
    pub items: Vec<((f64, f64), ItemKind)>,
}

#[derive(Clone, Debug)]
pub struct LookSpan {
    pub look: TextLook,
    pub link: Option<u32>,
}

/// A shaped paragraph.
#[derive(Clone, Debug, Default)]
pub struct Para {
    pub text: String,
    pub pieces: Vec<LinePiece>,
    pub spans: Vec<LookSpan>,
    pub marks: Vec<InlineMark>,
    pub links: Vec<(Target, Arc<str>)>,
    /// Bytes between which no line may be broken.
    pub tied: Vec<Range<usize>>,
    /// Characters that no face has.
    pub missing: BTreeSet<char>,
    /// Anchors of page references, with the digits each was given.
    pub page_refs: BTreeSet<Anchor>,
}

impl Para {
    /// The width of everything on one line, in points.
    pub fn width(&self) -> f64 {
        self.pieces.iter().map(|p| p.width).sum()
    }

    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    /// Adds a mark at the end, in the look of the last text.
    pub fn put_mark(&mut self, mark: InlineMark) {
        let span = (self.spans.len() as u32).saturating_sub(1);
        let what = What::Mark(self.marks.len() as u32);
        self.pieces.push(LinePiece { start: self.text.len(), width: mark.width, span, what, unsafe_to_break: false });
        self.text.push('x');
        self.marks.push(mark);
    }

    /// Adds a paragraph at the end.
    pub fn append(&mut self, other: Self) {
        let (bytes, spans) = (self.text.len(), self.spans.len() as u32);
        let (marks, links) = (self.marks.len() as u32, self.links.len() as u32);
        self.text.push_str(&other.text);
        self.spans.extend(other.spans.into_iter().map(|s| LookSpan { link: s.link.map(|l| l + links), ..s }));
        self.pieces.extend(other.pieces.into_iter().map(|p| LinePiece {
            start: p.start + bytes,
            span: p.span + spans,
            what: match p.what {
                What::Mark(mark) => What::Mark(mark + marks),
                what => what,
            },
            ..p
        }));
        self.marks.extend(other.marks);
        self.links.extend(other.links);
        self.tied.extend(other.tied.into_iter().map(|tied| tied.start + bytes..tied.end + bytes));
        self.missing.extend(other.missing);
        self.page_refs.extend(other.page_refs);
    }
}

/// Shapes inline content. `texts` learns what each glyph says.
pub fn shape(
    inlines: &[Inline],
    look: TextLook,
    setting: &Setting,
    shaper: &mut Shaper,
    texts: &mut GlyphTexts,
) -> Para {
    let mut builder = ParaBuilder { setting, shaper, texts, para: Para::default() };
    builder.inlines(inlines, look, None);
    builder.para
}

/// Shapes plain text.
pub fn shape_text(text: &str, look: TextLook, setting: &Setting, shaper: &mut Shaper, texts: &mut GlyphTexts) -> Para {
    let mut builder = ParaBuilder { setting, shaper, texts, para: Para::default() };
    builder.text(text, look, None);
    builder.para
}

/// What each glyph says. The first text of a glyph in the order of texts wins, whatever the order of pages.
#[derive(Clone, Debug, Default)]
pub struct GlyphTexts(pub BTreeMap<(FaceId, u16), Arc<str>>);

impl GlyphTexts {
    fn learn(&mut self, face: FaceId, glyph: u16, text: &str) {
        match self.0.get_mut(&(face, glyph)) {
            Some(known) if known.as_ref() <= text => {}
            Some(known) => *known = text.into(),
            None => {
                self.0.insert((face, glyph), text.into());
            }
        }
    }

    /// Hyphens at line ends are set after their paragraph was shaped; every text face learns them.
    pub fn learn_hyphens(&mut self, fonts: &Fonts) {
        let mut shaper = Shaper::new(fonts);
        for style in [FaceStyle::Regular, FaceStyle::Bold, FaceStyle::Italic, FaceStyle::BoldItalic, FaceStyle::Mono] {
            let (face, sign) = fonts.line_hyphen(style);
            for glyph in shaper.shape(face, sign, 0..sign.len()) {
                self.learn(face, glyph.id, if sign == "-" { "-" } else { "\u{ad}" });
            }
        }
    }

    pub fn merge(&mut self, other: Self) {
        for ((face, glyph), text) in other.0 {
            self.learn(face, glyph, &text);
        }
    }
}

struct ParaBuilder<'a, 'b, 'f> {
    setting: &'a Setting<'a>,
    shaper: &'b mut Shaper<'f>,
    texts: &'b mut GlyphTexts,
    para: Para,
}

impl ParaBuilder<'_, '_, '_> {
    fn inlines(&mut self, inlines: &[Inline], look: TextLook, link: Option<u32>) {
        for inline in inlines {
            self.inline(inline, look, link);
        }
    }

    fn inline(&mut self, inline: &Inline, look: TextLook, link: Option<u32>) {
        let style = self.setting.style;
        match inline {
            Inline::Text(t) => self.set(t, look, link),
            Inline::Number { shown, .. } => self.text(shown, look, link),
            Inline::Strong(c) => self.inlines(c, look.bold(), link),
            Inline::Emphasis(c) => self.inlines(c, look.italic(), link),
            Inline::Code(t) => self.text(t, look.mono(), link),
            Inline::Link { to, content } => self.link(Target::Inside(to.clone()), content, look, style.accent),
            Inline::Outside { to, content } => self.link(Target::Outside(to.clone()), content, look, style.accent),
            Inline::PageOf(anchor) => self.page_of(anchor, look, link),
            Inline::Length(l) => self.value(&l.pieces(self.setting.units), look, link),
            Inline::Measure(m) => self.value(&m.pieces(self.setting.units), look, link),
            Inline::Angle(a) => self.value(&[ValuePiece::Text(a.to_string())], look, link),
            Inline::Quantity(q) => self.value(&[ValuePiece::Text(q.to_string())], look, link),
            Inline::Hand(hand) => {
                let from = self.para.text.len();
                self.mark(marks::hand(*hand, look), look, link);
                self.text(hand.word(), look, link);
                self.tie(from);
            }
            Inline::Callout(n) => {
                let small = TextLook { face: FaceStyle::Bold, size: look.size * 0.82, ..look };
                let number = self.run_of(&n.to_string(), small);
                self.mark(marks::callout_in_text(number, look), look, link);
            }
            Inline::TickBox => self.mark(marks::tick(style.tick, look), look, link),
            Inline::Blank(tenths) => self.mark(marks::blank(f64::from(*tenths) / 10.0 * look.size, look), look, link),
            Inline::FootnoteMark(n) => {
                let from = self.para.text.len();
                let raised = TextLook { size: look.size * 0.65, rise: look.rise + look.size * 0.36, ..look };
                self.text(&n.to_string(), raised, link);
                self.tie(from.saturating_sub(1));
            }
            Inline::LineBreak => self.para.text.push('\n'),
        }
    }

    fn link(&mut self, to: Target, content: &[Inline], look: TextLook, color: Color) {
        let link = self.para.links.len() as u32;
        self.para.links.push((to, plain_text(content, self.setting.units).into()));
        self.inlines(content, TextLook { color, ..look }, Some(link));
    }

    fn page_of(&mut self, anchor: &Anchor, look: TextLook, link: Option<u32>) {
        let labels = self.setting.labels;
        let label = labels.known.get(anchor).cloned().unwrap_or_else(|| "000".into());
        let room = labels.room.get(anchor).copied().unwrap_or(0);
        let from = self.para.text.len();
        let link = link.unwrap_or_else(|| {
            self.para.links.push((Target::Inside(anchor.clone()), format!("page {label}").into()));
            self.para.links.len() as u32 - 1
        });
        self.text(&label, look, Some(link));
        // Room kept from an earlier pass, so that widths never shrink and passes come to an end.
        let short = room.saturating_sub(label.chars().count());
        if short > 0
            && let Some(last) = self.para.pieces.last_mut()
            && let What::Glyph(_, glyph) = &mut last.what
        {
            let extra = glyph.advance.saturating_mul(short as i16);
            glyph.advance = glyph.advance.saturating_add(extra);
            last.width = f64::from(glyph.advance) * look.size / 1000.0;
        }
        self.para.page_refs.insert(anchor.clone());
        self.tie(from);
    }

    fn set(&mut self, text: &str, look: TextLook, link: Option<u32>) {
        for run in set_text(text) {
            match run {
                SetRun::Words(words) => self.text(&words, look, link),
                SetRun::Value(pieces) => self.value(&pieces, look, link),
            }
        }
    }

    /// A value with its unit: never broken, fractions set as such.
    fn value(&mut self, pieces: &[ValuePiece], look: TextLook, link: Option<u32>) {
        let from = self.para.text.len();
        for piece in pieces {
            match piece {
                ValuePiece::Text(t) => self.text(t, look, link),
                ValuePiece::Fraction { numerator, denominator } => {
                    if self.para.text.ends_with(|c: char| c.is_ascii_digit()) && self.para.text.len() > from {
                        // Narrow, yet wide enough that readers of the file take it for a space: 23 15/16 must never be 2315/16.
                        self.text(" ", TextLook { size: look.size * 0.75, ..look }, link);
                    }
                    self.fraction(*numerator, *denominator, look, link);
                }
            }
        }
        self.tie(from);
    }

    fn fraction(&mut self, numerator: u32, denominator: u32, look: TextLook, link: Option<u32>) {
        let digits = TextLook { size: look.size * marks::FRACTION_DIGITS, ..look };
        let upper = self.run_of(&numerator.to_string(), digits);
        let stroke = self.run_of("/", look);
        let lower = self.run_of(&denominator.to_string(), digits);
        let mark = marks::fraction(&format!("{numerator}/{denominator}"), upper, stroke, lower, look);
        // A digit stands for the mark where lines are broken.
        self.mark_as('0', mark, look, link);
    }

    fn mark(&mut self, mark: InlineMark, look: TextLook, link: Option<u32>) {
        self.mark_as('x', mark, look, link);
    }

    fn mark_as(&mut self, stand_in: char, mark: InlineMark, look: TextLook, link: Option<u32>) {
        let span = self.span(look, link);
        let start = self.para.text.len();
        self.para.text.push(stand_in);
        let index = self.para.marks.len() as u32;
        self.para.pieces.push(LinePiece {
            start,
            width: mark.width,
            span,
            what: What::Mark(index),
            unsafe_to_break: false,
        });
        self.para.marks.push(mark);
    }

    fn tie(&mut self, from: usize) {
        self.para.tied.push(from..self.para.text.len());
    }

    fn span(&mut self, look: TextLook, link: Option<u32>) -> u32 {
        match self.para.spans.last() {
            Some(last) if last.look == look && last.link == link => {}
            _ => self.para.spans.push(LookSpan { look, link }),
        }
        self.para.spans.len() as u32 - 1
    }

    /// A run that stands on its own, for use in a mark.
    fn run_of(&mut self, text: &str, look: TextLook) -> TextRun {
        let face = self.setting.fonts.primary(look.face);
        let face = text.chars().next().and_then(|c| self.setting.fonts.face_for(look.face, c)).unwrap_or(face);
        let shaped = self.shaper.shape(face, text, 0..text.len());
        self.learn(face, text, &shaped, text.len());
        let glyphs = shaped.iter().map(|s| Glyph { id: s.id, advance: s.advance, dx: s.dx, dy: s.dy }).collect();
        TextRun { face, size: look.size, color: look.color, glyphs, actual: None }
    }

    fn text(&mut self, text: &str, look: TextLook, link: Option<u32>) {
        let span = self.span(look, link);
        let base = self.para.text.len();
        self.para.text.extend(text.chars().map(printable));
        let whole = std::mem::take(&mut self.para.text);
        let mut from = base;
        while from < whole.len() {
            let (face, to) = self.face_run(&whole, from, look.face);
            match face {
                Some(face) => self.glyphs(face, &whole, from..to, span, look),
                None => self.substitutes(&whole, from..to, span, look),
            }
            from = to;
        }
        self.para.text = whole;
    }

    /// The longest run from `from` that one face has; joining marks stay with the letter before.
    fn face_run(&self, text: &str, from: usize, style: FaceStyle) -> (Option<FaceId>, usize) {
        let mut chars = text[from..].char_indices();
        let Some((_, first)) = chars.next() else { return (None, text.len()) };
        let fonts = self.setting.fonts;
        let face = fonts.face_for(style, first);
        let primary = fonts.primary(style);
        for (at, c) in chars {
            let joins = matches!(c, '\u{300}'..='\u{36f}' | '\u{200d}' | '\u{fe00}'..='\u{fe0f}');
            let stays = match face {
                Some(face) if face == primary => fonts.face(face).has(c),
                Some(face) => joins && fonts.face(face).has(c) || fonts.face_for(style, c) == Some(face),
                None => fonts.face_for(style, c).is_none(),
            };
            if !stays {
                return (face, from + at);
            }
        }
        (face, text.len())
    }

    fn glyphs(&mut self, face: FaceId, text: &str, range: Range<usize>, span: u32, look: TextLook) {
        let shaped = self.shaper.shape(face, text, range.clone());
        self.learn(face, text, &shaped, range.end);
        self.para.pieces.reserve(shaped.len());
        for s in shaped {
            self.para.pieces.push(LinePiece {
                start: s.cluster,
                width: f64::from(s.advance) * look.size / 1000.0,
                span,
                what: What::Glyph(face, Glyph { id: s.id, advance: s.advance, dx: s.dx, dy: s.dy }),
                unsafe_to_break: s.unsafe_to_break,
            });
        }
    }

    fn substitutes(&mut self, text: &str, range: Range<usize>, span: u32, look: TextLook) {
        let face = FaceId(5);
        let shaped = self.shaper.shape(face, "\u{fffd}", 0..3);
        let Some(s) = shaped.first() else { return };
        self.texts.learn(face, s.id, "\u{fffd}");
        for (at, c) in text[range.clone()].char_indices() {
            self.para.missing.insert(c);
            self.para.pieces.push(LinePiece {
                start: range.start + at,
                width: f64::from(s.advance) * look.size / 1000.0,
                span,
                what: What::Substitute(face, Glyph { id: s.id, advance: s.advance, dx: 0, dy: 0 }, c),
                unsafe_to_break: false,
            });
        }
    }

    fn learn(&mut self, face: FaceId, text: &str, shaped: &[super::fonts::Shaped], end: usize) {
        for (i, s) in shaped.iter().enumerate() {
            let first = i == 0 || shaped[i - 1].cluster != s.cluster;
            let next = shaped[i + 1..].iter().map(|n| n.cluster).find(|&c| c > s.cluster).unwrap_or(end);
            let says = if first { &text[s.cluster..next] } else { "" };
            self.texts.learn(face, s.id, says);
        }
    }
}

/// Control characters become spaces: they have no glyph and no place in a line. The typographic hyphen becomes the
/// plain one, for its glyph is kept to mark line ends.
fn printable(c: char) -> char {
    match c {
        '\u{2010}' => '-',
        c if c.is_control() => ' ',
        c => c,
    }
}
