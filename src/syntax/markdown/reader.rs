//! From the events of the Markdown parser to the tree.
//!
//! Owns: blocks and their spans, what the tree does not carry. Must not know: what a condition means.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::ops::Range;

use pulldown_cmark::{Alignment, CodeBlockKind, CowStr, Event, Options, Parser, Tag};

use super::comment::{self, Comment};
use super::pieces::{Holder, MdPiece, fold};
use super::{ColumnAlign, MdBlock, MdBlockKind, MdItem, safety};
use crate::diag::{Diagnostic, Sink};
use crate::source::{FileId, Span, Spanned};
use crate::syntax::hidden::without_hidden;

/// How many quotes, lists and emphases may be nested.
const DEEPEST: usize = 40;

pub(super) struct Reader<'a, 's> {
    text: &'a str,
    file: FileId,
    offset: usize,
    events: VecDeque<(Event<'a>, Range<usize>)>,
    /// Where link definitions stand, by their label in lower case.
    definitions: BTreeMap<String, Range<usize>>,
    depth: usize,
    /// Where the last inline thing ended.
    pub(super) last_end: usize,
    in_table: bool,
    /// How many HTML tags were told and not closed yet.
    html_open: usize,
    footnote_marks: BTreeMap<String, Span>,
    footnote_texts: BTreeMap<String, Span>,
    pub(super) sink: &'s mut Sink,
}

/// Reads a whole text.
pub(super) fn read(file: FileId, text: &str, offset: usize, sink: &mut Sink) -> Vec<MdBlock> {
    let options = Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_TASKLISTS;
    let events = Parser::new_ext(text, options).into_offset_iter();
    let definitions = events.reference_definitions().iter().map(|(l, d)| (l.to_lowercase(), d.span.clone())).collect();
    let mut reader = Reader {
        text,
        file,
        offset,
        events: events.collect(),
        definitions,
        depth: 0,
        last_end: 0,
        in_table: false,
        html_open: 0,
        footnote_marks: BTreeMap::new(),
        footnote_texts: BTreeMap::new(),
        sink,
    };
    let blocks = reader.blocks(Holder::Text);
    reader.check_footnotes();
    blocks
}

impl<'a> Reader<'a, '_> {
    pub(super) fn text(&self) -> &'a str {
        self.text
    }

    pub(super) fn next(&mut self) -> Option<(Event<'a>, Range<usize>)> {
        let (event, range) = self.events.pop_front()?;
        let event = match event {
            Event::Text(text) => Event::Text(self.shown(text, &range)),
            Event::Code(code) => Event::Code(self.shown(code, &range)),
            other => other,
        };
        Some((event, range))
    }

    /// A text without characters that are not seen.
    fn shown(&mut self, text: CowStr<'a>, range: &Range<usize>) -> CowStr<'a> {
        let source = self.text.get(range.clone()).unwrap_or("");
        without_hidden(&text, source, self.span(range.clone()), self.sink).map_or(text, CowStr::from)
    }

    pub(super) fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.file, self.offset + range.start..self.offset + range.end)
    }

    /// A block's span, without the line ends and indentation after it.
    fn block_span(&self, range: Range<usize>) -> Span {
        let slice = self.text.get(range.clone()).unwrap_or("");
        self.span(range.start..range.start + slice.trim_end().len())
    }

    /// A span of the file as a range of the text.
    pub(super) fn local(&self, span: Span) -> Range<usize> {
        span.start as usize - self.offset..span.end as usize - self.offset
    }

    /// Whether what comes next stands in a line.
    pub(super) fn at_inline(&self) -> bool {
        match self.events.front() {
            Some((Event::Start(tag), _)) => !is_block(tag),
            Some((Event::End(_) | Event::Html(_) | Event::Rule, _)) | None => false,
            Some(_) => true,
        }
    }

    pub(super) fn definition(&self, label: &str) -> Option<Range<usize>> {
        self.definitions.get(&label.to_lowercase()).cloned()
    }

    pub(super) fn footnote_mark(&mut self, label: &str, span: Span) {
        self.footnote_marks.entry(label.to_owned()).or_insert(span);
    }

    /// Steps one level down; says where that is too deep. Everything down to the matching end is then passed over.
    pub(super) fn descend(&mut self, range: &Range<usize>) -> bool {
        if self.depth < DEEPEST {
            self.depth += 1;
            return true;
        }
        let at =
            range.start..self.text[range.start..].chars().next().map_or(range.start, |c| range.start + c.len_utf8());
        self.sink.push(
            Diagnostic::error("text-too-deep", "lists, quotes or emphases are nested too deep")
                .at(self.span(at), "from here on not read")
                .help("write it flatter"),
        );
        let mut open = 1;
        while open > 0 {
            match self.next() {
                Some((Event::Start(_), _)) => open += 1,
                Some((Event::End(_), _)) => open -= 1,
                Some(_) => {}
                None => break,
            }
        }
        false
    }

    pub(super) fn ascend(&mut self) {
        self.depth -= 1;
    }

    /// The blocks up to the end of what holds them.
    fn blocks(&mut self, holder: Holder) -> Vec<MdBlock> {
        let mut pieces = Vec::new();
        // The text of a tight list entry stands in no paragraph of its own.
        while let Some((event, _)) = self.events.front() {
            match event {
                Event::End(_) => {
                    self.next();
                    break;
                }
                Event::Start(tag) if is_block(tag) => self.block(&mut pieces),
                Event::Rule => {
                    let Some((_, range)) = self.next() else { break };
                    pieces.push(MdPiece::Block(MdBlock { span: self.block_span(range), kind: MdBlockKind::Rule }));
                }
                Event::Html(_) => self.html(&mut pieces),
                _ => {
                    let content = self.loose_inlines();
                    if let (Some(first), Some(last)) = (content.first(), content.last()) {
                        let span = first.span.to(last.span);
                        pieces.push(MdPiece::Block(MdBlock { span, kind: MdBlockKind::Paragraph(content) }));
                    }
                }
            }
        }
        let (text, offset) = (self.text, self.offset);
        let source = |span: Span| text.get((span.start as usize) - offset..(span.end as usize) - offset).unwrap_or("");
        let blocks = fold(pieces, holder, source, self.sink);
        if !matches!(holder, Holder::Quote) {
            safety::outside(&blocks, self.sink);
        }
        blocks
    }

    fn block(&mut self, pieces: &mut Vec<MdPiece>) {
        let Some((Event::Start(tag), range)) = self.next() else { return };
        if !self.descend(&range) {
            return;
        }
        let span = self.block_span(range.clone());
        let kind = match tag {
            Tag::Paragraph => {
                let content = self.inlines();
                if content.is_empty() { None } else { Some(MdBlockKind::Paragraph(content)) }
            }
            Tag::Heading { level, .. } => {
                let content = self.inlines();
                Some(MdBlockKind::Heading { level: level as u8, content })
            }
            Tag::BlockQuote(_) => {
                let blocks = self.blocks(Holder::Quote);
                let source = &self.text[range.start..range.start + (span.end - span.start) as usize];
                Some(safety::quote(blocks, span, source, self.sink))
            }
            Tag::CodeBlock(kind) => Some(self.code(&kind, span)),
            Tag::List(ordered) => Some(MdBlockKind::List { ordered, items: self.items() }),
            Tag::Table(aligns) => Some(self.table(&aligns)),
            Tag::FootnoteDefinition(label) => {
                let label = label.into_string();
                if let Some(&first) = self.footnote_texts.get(&label) {
                    self.sink.push(
                        Diagnostic::error("footnote", format!("the footnote `{label}` has two texts"))
                            .at(span, "the second")
                            .note(first, "the first")
                            .help("rename one of the two, here and where it is marked"),
                    );
                }
                self.footnote_texts.entry(label.clone()).or_insert(span);
                let blocks = self.blocks(Holder::Footnote);
                Some(MdBlockKind::FootnoteDefinition { label, blocks })
            }
            Tag::HtmlBlock => {
                self.html(pieces);
                self.next();
                None
            }
            // No other block is switched on; its content is kept.
            _ => {
                let blocks = self.blocks(Holder::Text);
                pieces.extend(blocks.into_iter().map(MdPiece::Block));
                None
            }
        };
        self.ascend();
        if let Some(kind) = kind {
            pieces.push(MdPiece::Block(MdBlock { span, kind }));
        }
    }

    fn code(&mut self, kind: &CodeBlockKind<'_>, span: Span) -> MdBlockKind {
        let mut code = String::new();
        while let Some((event, _)) = self.next() {
            match event {
                Event::Text(text) => code.push_str(&text),
                Event::End(_) => break,
                _ => {}
            }
        }
        let marked = code.contains("<!--");
        if marked || matches!(kind, CodeBlockKind::Indented) {
            let found = if marked {
                Diagnostic::error("text-as-code", "a condition or remark is shown as code and has no effect")
            } else {
                Diagnostic::warning("text-as-code", "these lines are shown as code")
            };
            self.sink.push(
                found
                    .at(span, "indented by four spaces or more, or between ``` lines")
                    .help("indent less: text under a list entry lines up with the entry's own text"),
            );
        }
        MdBlockKind::Code(code)
    }

    fn items(&mut self) -> Vec<MdItem> {
        let mut items = Vec::new();
        while let Some((event, range)) = self.next() {
            match event {
                Event::Start(Tag::Item) => {
                    if !self.descend(&range) {
                        continue;
                    }
                    let task = self.task();
                    let span = self.block_span(range);
                    let blocks = self.blocks(Holder::Item);
                    self.ascend();
                    items.push(MdItem { span, task, blocks });
                }
                Event::End(_) => break,
                _ => {}
            }
        }
        items
    }

    /// The tick box with which a list entry opens; in a loose list it stands in the entry's first paragraph.
    fn task(&mut self) -> Option<bool> {
        if let Some((Event::TaskListMarker(ticked), _)) = self.events.front() {
            let ticked = *ticked;
            self.next();
            return Some(ticked);
        }
        match (self.events.front(), self.events.get(1)) {
            (Some((Event::Start(Tag::Paragraph), _)), Some((Event::TaskListMarker(ticked), _))) => Some(*ticked),
            _ => None,
        }
    }

    fn table(&mut self, aligns: &[Alignment]) -> MdBlockKind {
        self.in_table = true;
        let (mut head, mut rows, mut row) = (Vec::new(), Vec::new(), Vec::new());
        let mut open = 1;
        while let Some((event, range)) = self.next() {
            match event {
                Event::Start(Tag::TableCell) => {
                    self.last_end = range.start;
                    row.push(self.inlines());
                }
                Event::Start(_) => open += 1,
                Event::End(end) => {
                    open -= 1;
                    match end {
                        pulldown_cmark::TagEnd::TableHead => head = std::mem::take(&mut row),
                        pulldown_cmark::TagEnd::TableRow => rows.push(std::mem::take(&mut row)),
                        _ => {}
                    }
                    if open == 0 {
                        break;
                    }
                }
                _ => {}
            }
        }
        self.in_table = false;
        let aligns = aligns
            .iter()
            .map(|a| match a {
                Alignment::None => ColumnAlign::None,
                Alignment::Left => ColumnAlign::Left,
                Alignment::Center => ColumnAlign::Center,
                Alignment::Right => ColumnAlign::Right,
            })
            .collect();
        MdBlockKind::Table { aligns, head, rows }
    }

    /// A block of HTML: marks of a condition and remarks, each alone on its lines; anything else is reported.
    fn html(&mut self, pieces: &mut Vec<MdPiece>) {
        let mut lines: Vec<(String, usize)> = Vec::new();
        // Indentation before the first tag comes as text.
        while let Some((Event::Html(_) | Event::Text(_), _)) = self.events.front() {
            let Some((Event::Html(html) | Event::Text(html), range)) = self.next() else { break };
            lines.push((html.into_string(), range.start));
        }
        let raw: String = lines.iter().map(|(l, _)| l.as_str()).collect();
        // A place in the joined lines as a place in the text; quote marks and indentation may stand between lines.
        let start_at = |at: usize| {
            let mut from = 0;
            for (line, start) in &lines {
                if at < from + line.len() {
                    return start + at - from;
                }
                from += line.len();
            }
            lines.last().map_or(0, |(line, start)| start + line.len())
        };
        let place = |range: &Range<usize>| {
            let start = start_at(range.start);
            start..if range.is_empty() { start } else { start_at(range.end - 1) + 1 }
        };
        let mut found = Vec::new();
        let mut at = 0;
        loop {
            at += raw[at..].len() - raw[at..].trim_start().len();
            if at == raw.len() {
                break;
            }
            let line_end = |from: usize| raw[from..].find('\n').map_or(raw.len(), |i| from + i);
            let close = raw[at..].starts_with("<!--").then(|| raw[at..].find("-->").map(|i| at + i + 3)).flatten();
            match close {
                Some(close) if raw[close..line_end(close)].trim().is_empty() => {
                    found.push((at..close, true));
                    at = close;
                }
                _ => {
                    let end = if close.is_some() { line_end(at) } else { raw.len() };
                    found.push((at..at + raw[at..end].trim_end().len(), false));
                    at = end;
                }
            }
        }
        for (range, alone) in found {
            let span = self.span(place(&range));
            let text = &raw[range.clone()];
            self.html_open = 0;
            if !alone {
                self.report_html(text, span);
                continue;
            }
            match comment::read(text) {
                Comment::Only(condition) => {
                    let at = place(&(range.start + condition.start..range.start + condition.end));
                    let condition = Spanned::new(text[condition].to_owned(), self.span(at));
                    pieces.push(MdPiece::Only { mark: span, condition });
                }
                Comment::EndOnly => pieces.push(MdPiece::EndOnly(span)),
                Comment::Remark => {}
                Comment::Misspelt => self.sink.push(misspelt(span)),
            }
        }
    }

    /// HTML that is not carried, or a mark that does not stand alone.
    pub(super) fn report_html(&mut self, html: &str, span: Span) {
        // A closing tag is told with the tag that it closes.
        let closes = html.starts_with("</") && !html.contains('\n');
        if closes && self.html_open > 0 {
            self.html_open -= 1;
            return;
        }
        if html.starts_with("<!--") {
            if html.ends_with("-->") && comment::read(html) == Comment::Remark {
                return;
            }
            let found = if self.in_table {
                Diagnostic::error("condition-in-table", "a condition stands inside a table")
                    .help("write the table once for each condition, each whole and between its own marks")
            } else {
                Diagnostic::error("condition-mark", "a condition must stand alone on its line")
                    .help("put `<!-- only: … -->` and `<!-- end only -->` each on a line of its own")
            };
            self.sink.push(found.at(span, "has no effect here"));
            return;
        }
        self.html_open += usize::from(!closes);
        let tag: String = html.chars().take_while(|&c| c != '\n').take(30).collect();
        let help = if tag.to_lowercase().starts_with("<br") {
            "end the line with two spaces or `\\` to break it"
        } else {
            "write it in Markdown, or leave it out; a `<` that belongs to the text is written `\\<`"
        };
        self.sink.push(
            Diagnostic::error("html-in-text", "HTML is not carried into the documents")
                .at(span, format!("`{tag}` would be lost"))
                .help(help),
        );
    }

    fn check_footnotes(&mut self) {
        let texts: BTreeSet<_> = self.footnote_texts.keys().cloned().collect();
        for (label, &span) in &self.footnote_marks {
            if !texts.contains(label) {
                self.sink.push(missing_footnote(label, span));
            }
        }
        for (label, &span) in &self.footnote_texts {
            if !self.footnote_marks.contains_key(label) {
                self.sink.push(
                    Diagnostic::warning("footnote", format!("the footnote `{label}` is marked nowhere"))
                        .at(span, "its text is shown nowhere")
                        .help(format!("put `[^{label}]` where it belongs, or take its text out")),
                );
            }
        }
    }
}

pub(super) fn missing_footnote(label: &str, span: Span) -> Diagnostic {
    Diagnostic::error("footnote", format!("the footnote `{label}` has no text"))
        .at(span, "marked here")
        .help(format!("add a line `[^{label}]: …` below, or take the mark out"))
}

pub(super) fn misspelt(span: Span) -> Diagnostic {
    Diagnostic::error("condition-mark", "this remark looks like a condition and is not read as one")
        .at(span, "has no effect")
        .help("write `<!-- only: … -->` and `<!-- end only -->`; begin a remark with another word")
}

fn is_block(tag: &Tag<'_>) -> bool {
    !matches!(
        tag,
        Tag::Emphasis
            | Tag::Strong
            | Tag::Strikethrough
            | Tag::Superscript
            | Tag::Subscript
            | Tag::Link { .. }
            | Tag::Image { .. }
    )
}
