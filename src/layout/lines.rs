//! Breaking a paragraph into lines.
//!
//! Owns: where lines break. Must not know: blocks, pages.

use std::ops::Range;

use textwrap::core::Fragment;
use textwrap::wrap_algorithms::{Penalties, wrap_optimal_fit};

use super::fonts::FaceStyle;
use super::para::{Para, TextLook, What};
use crate::document::stays_whole;

/// Whether words may be parted by hyphens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hyphens {
    None,
    English,
}

impl Hyphens {
    /// Hyphenation for a BCP 47 language: English is known, other languages are set without.
    pub fn of(language: &str) -> Self {
        let primary = language.split('-').next().unwrap_or("");
        if primary.eq_ignore_ascii_case("en") { Self::English } else { Self::None }
    }
}

/// A line: its pieces, and whether a hyphen ends it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineRange {
    pub pieces: Range<usize>,
    pub hyphen: bool,
}

/// A stretch that is never broken, with the white space behind it.
#[derive(Clone, Debug)]
struct Stretch {
    pieces: Range<usize>,
    width: f64,
    space: f64,
    hyphen: f64,
}

impl Fragment for Stretch {
    fn width(&self) -> f64 {
        self.width
    }
    fn whitespace_width(&self) -> f64 {
        self.space
    }
    fn penalty_width(&self) -> f64 {
        self.hyphen
    }
}

/// Breaks `para` into lines at most `width` points wide. Only a single letter wider than that stands out.
pub fn break_lines(para: &Para, width: f64, hyphens: Hyphens) -> Vec<LineRange> {
    let mut lines = Vec::new();
    if para.pieces.is_empty() {
        return lines;
    }
    let mut from = 0;
    for (at, _) in para.text.match_indices('\n').chain([(para.text.len(), "")]) {
        let to = from + para.pieces[from..].partition_point(|p| p.start < at);
        break_stretch(para, from..to, width, hyphens, &mut lines);
        from = to;
    }
    lines
}

fn break_stretch(para: &Para, pieces: Range<usize>, width: f64, hyphens: Hyphens, lines: &mut Vec<LineRange>) {
    if pieces.is_empty() {
        lines.push(LineRange { pieces, hyphen: false });
        return;
    }
    if measure(para, &pieces) <= width {
        lines.push(LineRange { pieces, hyphen: false });
        return;
    }
    let stretches = fit(para, stretches(para, pieces, hyphens), width);
    // Costs are counted in half ems, near the width of a letter.
    let unit = para.spans.first().map_or(5.0, |s| s.look.size / 2.0);
    let scaled: Vec<Stretch> = stretches
        .iter()
        .map(|s| Stretch {
            pieces: s.pieces.clone(),
            width: s.width / unit,
            space: s.space / unit,
            hyphen: s.hyphen / unit,
        })
        .collect();
    let mut penalties = Penalties::new();
    penalties.overflow_penalty = 1_000_000;
    penalties.hyphen_penalty = 160;
    penalties.short_last_line_penalty = 90;
    // The breaker refuses only widths beyond any page; then every stretch is a line.
    match wrap_optimal_fit(&scaled, &[width / unit], &penalties) {
        Ok(wrapped) => lines.extend(wrapped.iter().filter(|l| !l.is_empty()).map(|l| LineRange {
            pieces: l[0].pieces.start..l[l.len() - 1].pieces.end,
            hyphen: l[l.len() - 1].hyphen > 0.0,
        })),
        Err(_) => lines.extend(scaled.iter().map(|s| LineRange { pieces: s.pieces.clone(), hyphen: s.hyphen > 0.0 })),
    }
}

/// Cuts at every place where a line may end.
fn stretches(para: &Para, pieces: Range<usize>, hyphens: Hyphens) -> Vec<Stretch> {
    let first = para.pieces[pieces.start].start;
    let end = para.pieces.get(pieces.end).map_or(para.text.len(), |p| p.start);
    let text = &para.text[first..end];
    let mut out = Vec::new();
    let mut from = pieces.start;
    for (at, _) in unicode_linebreak::linebreaks(text) {
        let at = first + at;
        if at < end && (is_bound(&para.text, at) || para.tied.iter().any(|t| t.start < at && at < t.end)) {
            continue;
        }
        let to = from + para.pieces[from..pieces.end].partition_point(|p| p.start < at);
        if to > from {
            push_word(para, from..to, hyphens, &mut out);
            from = to;
        }
    }
    if from < pieces.end {
        push_word(para, from..pieces.end, hyphens, &mut out);
    }
    out
}

/// Units that stay with the number before them (ISO 80000-1, 7.1.4, parts them by a space only), and words that stay
/// with the number behind them.
const UNITS: [&str; 20] = [
    "in", "ft", "mm", "cm", "m", "lb", "oz", "g", "kg", "N", "psi", "deg", "in-lb", "ft-lb", "kPa", "s", "h", "V", "A",
    "%",
];
const LEADS: [&str; 6] = ["No.", "Nos.", "step", "Step", "figure", "Figure"];

/// Whether what stands around a place where a line may end is one thing: `1/8 in`, `No. 30`, `step 2.1`, `2 × AN960-416`,
/// `SK-116-L`.
fn is_bound(text: &str, at: usize) -> bool {
    let (before, after) = text.split_at(at);
    if before.ends_with('-') {
        let from = before.len() - before.rsplit(char::is_whitespace).next().map_or(0, str::len);
        let to = at + after.find(char::is_whitespace).unwrap_or(after.len());
        return stays_whole(&text[from..to]);
    }
    let Some(before) = before.strip_suffix(' ') else { return false };
    let last = before.rsplit(|c: char| c.is_whitespace() || c == '(').next().unwrap_or("");
    let next = after.split_whitespace().next().unwrap_or("").trim_end_matches([',', '.', ';', ':', ')']);
    let number = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let times = last == "×" || (next == "×" && number(last.chars().next()));
    times
        || (number(last.chars().next()) && UNITS.contains(&next))
        || (LEADS.contains(&last) && number(next.chars().next()))
}

/// Whether a piece is white space.
pub fn is_space(para: &Para, piece: usize) -> bool {
    let piece = &para.pieces[piece];
    matches!(piece.what, What::Glyph(..)) && para.text[piece.start..].starts_with([' ', '\u{2003}', '\u{2002}'])
}

fn push_word(para: &Para, pieces: Range<usize>, hyphens: Hyphens, out: &mut Vec<Stretch>) {
    let mut end = pieces.end;
    while end > pieces.start && is_space(para, end - 1) {
        end -= 1;
    }
    let space = measure(para, &(end..pieces.end));
    let mut from = pieces.start;
    if hyphens == Hyphens::English {
        for at in hyphen_points(para, pieces.start..end) {
            let width = measure(para, &(from..at));
            out.push(Stretch { pieces: from..at, width, space: 0.0, hyphen: hyphen_width(para, at - 1) });
            from = at;
        }
    }
    out.push(Stretch { pieces: from..pieces.end, width: measure(para, &(from..end)), space, hyphen: 0.0 });
}

/// About a third of an em in every face of ours; the exact width only matters to the fitting.
fn hyphen_width(para: &Para, piece: usize) -> f64 {
    para.spans[para.pieces[piece].span as usize].look.size * 0.34
}

/// Where the one plain word of the pieces may be parted. Part numbers, code and words with marks are never.
fn hyphen_points(para: &Para, pieces: Range<usize>) -> Vec<usize> {
    if pieces.len() < 7 {
        return Vec::new();
    }
    let start = para.pieces[pieces.start].start;
    let end = para.pieces.get(pieces.end).map_or(para.text.len(), |p| p.start);
    let text = &para.text[start..end];
    let lead = text.len() - text.trim_start_matches(|c: char| !c.is_alphabetic()).len();
    let word = text[lead..].trim_end_matches(|c: char| !c.is_alphabetic());
    let plain = word.len() >= 7
        && word.len() < 60
        && word.chars().all(char::is_alphabetic)
        && !word.chars().skip(1).any(char::is_uppercase)
        && para.pieces[pieces.clone()]
            .iter()
            .all(|p| matches!(p.what, What::Glyph(..)) && para.spans[p.span as usize].look.face != FaceStyle::Mono);
    if !plain {
        return Vec::new();
    }
    let mut points = Vec::new();
    let mut at = start + lead;
    let syllables: Vec<&str> = hypher::hyphenate(word, hypher::Lang::English).collect();
    for syllable in &syllables[..syllables.len().saturating_sub(1)] {
        at += syllable.len();
        let piece = pieces.start + para.pieces[pieces.clone()].partition_point(|p| p.start < at);
        // Inside a ligature no piece starts here; where shaping leans across, parting would change the letters.
        if piece < pieces.end && para.pieces[piece].start == at && !para.pieces[piece].unsafe_to_break {
            points.push(piece);
        }
    }
    points
}

/// Parts stretches that no line holds at the last letter that fits.
fn fit(para: &Para, stretches: Vec<Stretch>, width: f64) -> Vec<Stretch> {
    if stretches.iter().all(|s| s.width + s.hyphen <= width) {
        return stretches;
    }
    let mut out = Vec::with_capacity(stretches.len() + 8);
    for stretch in stretches {
        if stretch.width + stretch.hyphen <= width {
            out.push(stretch);
            continue;
        }
        let mut from = stretch.pieces.start;
        let mut sum = 0.0;
        for i in stretch.pieces.clone() {
            let piece = &para.pieces[i];
            let starts_cluster = i == 0 || para.pieces[i - 1].start != piece.start;
            if sum + piece.width > width && i > from && starts_cluster && !is_space(para, i) {
                out.push(Stretch { pieces: from..i, width: sum, space: 0.0, hyphen: 0.0 });
                from = i;
                sum = 0.0;
            }
            sum += piece.width;
        }
        let rest = (sum - stretch.space).max(0.0);
        out.push(Stretch {
            pieces: from..stretch.pieces.end,
            width: rest,
            space: stretch.space,
            hyphen: stretch.hyphen,
        });
    }
    out
}

/// The width of some pieces, in points.
pub fn measure(para: &Para, pieces: &Range<usize>) -> f64 {
    para.pieces[pieces.clone()].iter().map(|p| p.width).sum()
}

/// The widest stretch that is not broken of itself: the least width a table column wants.
pub fn widest_word(para: &Para) -> f64 {
    if para.pieces.is_empty() {
        return 0.0;
    }
    let mut widest: f64 = 0.0;
    let mut from = 0;
    for (at, _) in para.text.match_indices('\n').chain([(para.text.len(), "")]) {
        let to = from + para.pieces[from..].partition_point(|p| p.start < at);
        if to > from {
            widest = stretches(para, from..to, Hyphens::None).iter().fold(widest, |w, s| w.max(s.width));
        }
        from = to;
    }
    widest
}

/// The widest line as the author broke them.
pub fn natural_width(para: &Para) -> f64 {
    let mut widest: f64 = 0.0;
    let mut from = 0;
    for (at, _) in para.text.match_indices('\n').chain([(para.text.len(), "")]) {
        let to = from + para.pieces[from..].partition_point(|p| p.start < at);
        widest = widest.max(measure(para, &(from..to)));
        from = to;
    }
    widest
}

/// Height and baseline of a line in points: `size` times the leading, more where a mark needs it.
pub fn line_height(para: &Para, line: &LineRange, look: TextLook, leading: f64) -> (f64, f64) {
    let height = look.size * leading;
    let mut above = height / 2.0 + look.size * 0.36;
    let mut below = height - above;
    for piece in &para.pieces[line.pieces.clone()] {
        if let What::Mark(mark) = piece.what {
            let mark = &para.marks[mark as usize];
            above = above.max(mark.above + look.size * 0.15);
            below = below.max(mark.below + look.size * 0.15);
        }
    }
    (above + below, above)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::fonts::{Fonts, Shaper};
    use crate::layout::para::{GlyphTexts, PageLabels, Setting, shape_text};
    use crate::layout::{Color, Style};
    use crate::units::UnitStyle;

    fn style() -> Style {
        Style {
            step_start: crate::units::StepStart::NewPage,
            duplex: false,
            margin_left: 0.0,
            margin_right: 0.0,
            margin_top: 0.0,
            margin_bottom: 0.0,
            body: 10.0,
            small: 8.0,
            leading: 1.4,
            grey: false,
            notes: false,
            tick: 10.0,
            accent: Color::BLACK,
            text: Color::BLACK,
            muted: Color::BLACK,
            hairline: Color::BLACK,
        }
    }

    fn lines_of(text: &str, width: f64) -> (Para, Vec<LineRange>) {
        let (fonts, style, labels) = (Fonts::new(None), style(), PageLabels::default());
        let setting = Setting {
            fonts: &fonts,
            style: &style,
            units: UnitStyle::default(),
            labels: &labels,
            bars: &crate::document::Bars::default(),
        };
        let look = TextLook::new(FaceStyle::Regular, 10.0, Color::BLACK);
        let para = shape_text(text, look, &setting, &mut Shaper::new(&fonts), &mut GlyphTexts::default());
        let lines = break_lines(&para, width, Hyphens::English);
        (para, lines)
    }

    /// A hand or a dash number alone on the next line is read wrong; compounds are parted as ever.
    #[test]
    fn no_line_ends_in_a_number_with_hyphens() {
        let text =
            "Bolt SK-116-L and 2 \u{d7} AN960-416 under MS21044N4-3, cadmium-plated, to 30 in-lb with SK-101 again";
        for width in [82.0, 90.0, 99.0, 110.0, 140.0] {
            let (para, lines) = lines_of(text, width);
            let ends: Vec<usize> = lines.iter().skip(1).map(|line| para.pieces[line.pieces.start].start).collect();
            for whole in ["SK-116-L", "2 \u{d7} AN960-416", "MS21044N4-3", "in-lb", "SK-101"] {
                let at = para.text.find(whole).expect("it is there");
                assert!(!ends.iter().any(|&end| end > at && end < at + whole.len()), "{whole} at {width}: {ends:?}");
            }
        }
    }

    #[test]
    fn lines_hold_every_piece_once_and_fit() {
        let text = "Slide the bracket along the tube until the scribed line meets the aft face; unavoidable misalignment \
            is corrected by KW-103-L-0001-LONG-NUMBER, www.and-a-very-long-word-that-has-only-hyphens and ordinary words.";
        for width in [40.0, 60.0, 90.0, 150.0, 400.0, 3000.0] {
            let (para, lines) = lines_of(text, width);
            let mut at = 0;
            for line in &lines {
                assert_eq!(line.pieces.start, at);
                at = line.pieces.end;
                let mut end = at;
                while end > line.pieces.start && is_space(&para, end - 1) {
                    end -= 1;
                }
                let hyphen = if line.hyphen { 3.4 } else { 0.0 };
                assert!(measure(&para, &(line.pieces.start..end)) + hyphen <= width + 0.01, "{width}");
            }
            assert_eq!(at, para.pieces.len());
        }
    }

    #[test]
    fn lines_are_even_rather_than_full() {
        // Filling each line in turn would leave the last word alone.
        let (para, lines) = lines_of("aaaa bbbb cccc dddd eeee ffff", 118.0);
        let widths: Vec<f64> = lines.iter().map(|l| measure(&para, &l.pieces)).collect();
        assert_eq!(lines.len(), 2, "{widths:?}");
    }

    #[test]
    fn a_number_keeps_its_unit() {
        let text = "Drill No. 30 holes 2 1/8 in apart, 12 mm deep (0.5 in); see step 2.1 in the frame section.";
        for width in (30..200).map(f64::from) {
            let (para, lines) = lines_of(text, width);
            let starts: Vec<&str> = lines.iter().map(|l| &para.text[para.pieces[l.pieces.start].start..]).collect();
            for bad in ["30 holes", "in apart", "mm deep", "in);", "2.1 in"] {
                assert!(width < 60.0 || !starts.iter().any(|s| s.starts_with(bad)), "{width}: {bad}");
            }
        }
    }

    #[test]
    fn part_numbers_and_names_are_not_hyphenated() {
        for text in ["KWABCDEFGHIJKL", "McDonaldson-like", "AN960416LONGER"] {
            let (para, _) = lines_of(text, 1000.0);
            assert!(hyphen_points(&para, 0..para.pieces.len()).is_empty(), "{text}");
        }
        let (para, _) = lines_of("misalignment", 1000.0);
        assert!(!hyphen_points(&para, 0..para.pieces.len()).is_empty());
    }
}
