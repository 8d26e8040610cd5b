//! Findings for people: what, where, the line or the cells it is about, what to do.
//!
//! Owns: the picture of a finding on a terminal. Must not know: rules, terminals.

use textwrap::core::display_width;

use super::{Colour, place, shown, sums, whole_row};
use crate::diag::{Diagnostic, Diagnostics, Level};
use crate::source::{CellPlace, SourceMap, Span};

/// The width that lines are wrapped and cut to, in columns.
const WIDTH: usize = 96;
/// How many cells of a row are shown.
const MOST_CELLS: usize = 8;
/// How much of a line is looked at on both sides of a place, in bytes.
const NEAR: usize = 1_000;
/// How many configurations are named before the rest is counted.
const MOST_NAMES: usize = 8;

#[derive(Clone, Copy)]
enum FindingPaint {
    Level(Level),
    Place,
    Quiet,
    Plain,
}

pub(super) fn write(found: &Diagnostics, sources: &SourceMap, colour: Colour) -> String {
    let mut out = String::new();
    let (shown, rest) = found.shown();
    for d in shown {
        let mut writer = FindingWriter { out: &mut out, sources, colour, level: d.level };
        writer.finding(d);
        out.push('\n');
    }
    if rest > 0 {
        let mut writer = FindingWriter { out: &mut out, sources, colour, level: Level::Hint };
        writer.paint(&super::not_shown(rest), FindingPaint::Plain);
        out.push('\n');
    }
    let worst = Level::ALL.into_iter().find(|&l| found.count(l) > 0);
    let mut writer = FindingWriter { out: &mut out, sources, colour, level: worst.unwrap_or(Level::Hint) };
    writer.paint(&sums(found), worst.map_or(FindingPaint::Plain, FindingPaint::Level));
    out.push('\n');
    out
}

struct FindingWriter<'a> {
    out: &'a mut String,
    sources: &'a SourceMap,
    colour: Colour,
    level: Level,
}

impl FindingWriter<'_> {
    fn finding(&mut self, d: &Diagnostic) {
        let word = d.level.word().to_uppercase();
        let indent = " ".repeat(word.len() + 2);
        let lines = wrap(&shown::line(&d.headline), WIDTH - indent.len());
        self.paint(&word, FindingPaint::Level(d.level));
        for (i, line) in lines.iter().enumerate() {
            self.out.push_str(if i == 0 { "  " } else { &indent });
            self.out.push_str(line);
            self.out.push('\n');
        }
        if let Some(span) = d.span {
            self.at("at", span, &d.label);
        } else if let Some(file) = &d.file {
            self.named("at", &shown::line(file), FindingPaint::Place);
            if !d.label.is_empty() {
                self.named("", &shown::line(&d.label), FindingPaint::Plain);
            }
        }
        for note in &d.notes {
            self.at("see", note.span, &note.label);
        }
        if !d.help.is_empty() {
            self.named("do", &shown::line(&d.help), FindingPaint::Plain);
        }
        if !d.configurations.is_empty() {
            let mut names: Vec<_> = d.configurations.iter().take(MOST_NAMES).map(|n| shown::line(n)).collect();
            if d.configurations.len() > MOST_NAMES {
                names.push(format!("and {} more", d.configurations.len() - MOST_NAMES));
            }
            self.named("in", &names.join(", "), FindingPaint::Plain);
        }
        self.named("rule", d.rule, FindingPaint::Quiet);
    }

    /// A place, the text there, and what is said of it.
    fn at(&mut self, word: &str, span: Span, label: &str) {
        self.named(word, &shown::line(&place(span, self.sources)), FindingPaint::Place);
        self.out.push('\n');
        let row = self.sources.row(span);
        if row.is_empty() {
            self.lines(span, label);
        } else {
            self.cells(row, span, label);
        }
        self.out.push('\n');
    }

    /// The line of the text with the span marked.
    fn lines(&mut self, span: Span, label: &str) {
        let text = self.sources.text(span.file);
        let (start, end) = (floor(text, span.start as usize), floor(text, span.end as usize));
        let from = text[..start].rfind('\n').map_or(0, |i| i + 1);
        let to = text[start..].find('\n').map_or(text.len(), |i| start + i);
        // Of a very long line what stands near.
        let from = from.max(floor(text, start.saturating_sub(NEAR)));
        let to = to.min(floor(text, (start + NEAR).min(text.len())));
        let (number, _) = self.sources.line_column(span);
        let gutter = format!("{number:>8} | ");
        let blank = format!("{:>8} | ", "");
        let (line, before, marked) =
            cut(text[from..to].trim_end_matches('\r'), start - from, end.min(to).max(start) - from);
        self.paint(&gutter, FindingPaint::Quiet);
        self.out.push_str(&line);
        self.out.push('\n');
        let last = text[..end.max(start)].matches('\n').count() + 1;
        let label = if last > number && end > to + 1 {
            format!("{} (to line {last})", shown::line(label))
        } else {
            shown::line(label)
        };
        self.marks(&blank, before, marked, &label);
    }

    /// The cells of a row under one another, each with its heading, the wrong one marked.
    fn cells(&mut self, row: &[CellPlace], span: Span, label: &str) {
        let whole = whole_row(span, self.sources);
        let text = self.sources.text(span.file);
        let wrong = row.partition_point(|c| c.start <= span.start).saturating_sub(1);
        let value = |c: &CellPlace| {
            let slice = text.get(c.start as usize..c.end.max(c.start) as usize).unwrap_or("");
            shown::line(slice.strip_prefix('"').unwrap_or(slice).trim())
        };
        let filled: Vec<usize> =
            (0..row.len()).filter(|&i| (i == wrong && !whole) || !value(&row[i]).is_empty()).collect();
        // The first cells tell which row it is, those beside the wrong one tell what it stands among.
        let keep = |n: usize| {
            let at = filled.iter().position(|&i| i == wrong).unwrap_or(0);
            n < 3 || n.abs_diff(at) <= (MOST_CELLS - 3) / 2 || filled.len() <= MOST_CELLS
        };
        let heading = |i: usize| shown::line(&row[i].column);
        let kept: Vec<usize> = filled.iter().enumerate().filter(|&(n, _)| keep(n)).map(|(_, &i)| i).collect();
        let width = kept.iter().map(|&i| display_width(&heading(i))).max().unwrap_or(0).min(24);
        let mut last = None;
        for &i in &kept {
            if let Some(before) = last
                && filled.iter().any(|&f| before < f && f < i)
            {
                self.paint(&format!("{:>8} | \u{2026}\n", ""), FindingPaint::Quiet);
            }
            last = Some(i);
            let name = heading(i);
            let pad = " ".repeat(width.saturating_sub(display_width(&name)));
            let gutter = if last == kept.first().copied() { format!("row {}", row[i].row) } else { String::new() };
            let blank = format!("{:>8} | {}  ", "", " ".repeat(width.max(display_width(&name))));
            self.paint(&format!("{gutter:>8} | {name}{pad}  "), FindingPaint::Quiet);
            let (line, _, marked) = cut(&value(&row[i]), 0, usize::MAX);
            self.out.push_str(&line);
            self.out.push('\n');
            if i == wrong && !whole {
                self.marks(&blank, 0, marked, &shown::line(label));
            }
        }
        if whole {
            self.marks(&format!("{:>8} | ", ""), 0, width.max(3), &shown::line(label));
        }
    }

    /// A run of marks under what is wrong, and what is said of it: behind the marks if there is room, else below.
    fn marks(&mut self, gutter: &str, before: usize, marked: usize, label: &str) {
        let marks = "^".repeat(marked.max(1));
        self.paint(gutter, FindingPaint::Quiet);
        self.out.push_str(&" ".repeat(before));
        self.paint(&marks, FindingPaint::Level(self.level));
        let used = display_width(gutter) + before + marks.len() + 1;
        let lines = wrap(label, WIDTH.saturating_sub(used).max(24));
        if lines.len() == 1 && used + display_width(&lines[0]) <= WIDTH + 8 {
            self.out.push(' ');
            self.paint(&lines[0], FindingPaint::Level(self.level));
        } else {
            for line in wrap(label, WIDTH.saturating_sub(display_width(gutter)).max(24)) {
                self.out.push('\n');
                self.paint(gutter, FindingPaint::Quiet);
                self.paint(&line, FindingPaint::Level(self.level));
            }
        }
        self.out.push('\n');
    }

    /// A line with a word in front; further lines are set under the first.
    fn named(&mut self, word: &str, text: &str, paint: FindingPaint) {
        for (i, line) in wrap(text, WIDTH - 8).iter().enumerate() {
            self.paint(&format!("{:>6}  ", if i == 0 { word } else { "" }), FindingPaint::Quiet);
            self.paint(line, paint);
            self.out.push('\n');
        }
    }

    fn paint(&mut self, text: &str, paint: FindingPaint) {
        let code = match (self.colour, paint) {
            (Colour::Off, _) | (_, FindingPaint::Plain) => None,
            (_, FindingPaint::Level(Level::Error)) => Some("1;31"),
            (_, FindingPaint::Level(Level::Warning)) => Some("1;33"),
            (_, FindingPaint::Level(Level::Hint | Level::Question)) => Some("1;36"),
            (_, FindingPaint::Place) => Some("1"),
            (_, FindingPaint::Quiet) => Some("2"),
        };
        match code {
            Some(code) if !text.trim().is_empty() => {
                self.out.push_str(&format!("\x1b[{code}m{text}\x1b[0m"));
            }
            _ => self.out.push_str(text),
        }
    }
}

fn wrap(text: &str, width: usize) -> Vec<String> {
    textwrap::wrap(text, textwrap::Options::new(width).break_words(false)).into_iter().map(Into::into).collect()
}

/// A line cut to the width that is shown, round the bytes `start..end`; how many columns stand before them, and how
/// many they take.
fn cut(line: &str, start: usize, end: usize) -> (String, usize, usize) {
    let room = WIDTH - 12;
    let mut cells: Vec<(usize, String)> = Vec::new();
    for (i, c) in line.char_indices() {
        let shown = if c == '\t' { "    ".to_owned() } else { shown::line(c.encode_utf8(&mut [0; 4])) };
        cells.push((i, shown));
    }
    let first = cells.iter().position(|(i, _)| *i >= start).unwrap_or(cells.len());
    let last = cells.iter().position(|(i, _)| *i >= end).unwrap_or(cells.len()).max(first);
    let width = |cells: &[(usize, String)]| cells.iter().map(|(_, s)| display_width(s)).sum::<usize>();
    // From where the line is shown: from its start if what is wrong fits, else a little before what is wrong.
    let mut from = 0;
    if width(&cells[..last]) > room {
        from = first;
        while from > 0 && width(&cells[from - 1..first]) < room / 3 {
            from -= 1;
        }
    }
    let mut to = from;
    let mut used = 0;
    while to < cells.len() && used + display_width(&cells[to].1) <= room {
        used += display_width(&cells[to].1);
        to += 1;
    }
    let lead = if from > 0 { "\u{2026}" } else { "" };
    let tail = if to < cells.len() { "\u{2026}" } else { "" };
    let body: String = cells[from..to].iter().map(|(_, s)| s.as_str()).collect();
    let before = display_width(lead) + width(&cells[from..first.clamp(from, to)]);
    let marked = width(&cells[first.clamp(from, to)..last.clamp(from, to)]);
    (format!("{lead}{body}{tail}"), before, marked)
}

/// The character boundary at or before `at`.
fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
