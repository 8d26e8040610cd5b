//! From the events of the Markdown parser to what stands in a line.
//!
//! Owns: inline content, links and their destinations, what looks like a mistake in a line. Must not know: blocks.

use std::ops::Range;

use pulldown_cmark::{CowStr, Event, LinkType, Tag};

use super::destination;
use super::reader::{Reader, missing_footnote};
use super::{MdInline, MdInlineKind};
use crate::diag::Diagnostic;
use crate::source::{Span, Spanned};

impl Reader<'_, '_> {
    /// What stands in a line, up to the end of what holds it.
    pub(super) fn inlines(&mut self) -> Vec<MdInline> {
        let mut content = Vec::new();
        while let Some((event, range)) = self.next() {
            if matches!(event, Event::End(_)) {
                break;
            }
            self.inline(event, range, &mut content);
        }
        self.check_text(&content);
        content
    }

    /// What stands in a tight list entry: up to the first block, or to the entry's end, which is left to the caller.
    pub(super) fn loose_inlines(&mut self) -> Vec<MdInline> {
        let mut content = Vec::new();
        while self.at_inline() {
            let Some((event, range)) = self.next() else { break };
            self.inline(event, range, &mut content);
        }
        self.check_text(&content);
        content
    }

    fn inline(&mut self, event: Event<'_>, range: Range<usize>, content: &mut Vec<MdInline>) {
        let span = self.span(range.clone());
        let kind = match event {
            Event::Text(text) => {
                self.last_end = range.end;
                push_text(content, &text, span);
                return;
            }
            Event::Code(code) => MdInlineKind::Code(code.into_string()),
            Event::SoftBreak => MdInlineKind::SoftBreak,
            Event::HardBreak => MdInlineKind::HardBreak,
            Event::FootnoteReference(label) => {
                self.footnote_mark(&label, span);
                MdInlineKind::FootnoteMark(label.into_string())
            }
            Event::InlineHtml(html) | Event::Html(html) => {
                self.last_end = range.end;
                self.report_html(&html, span);
                return;
            }
            Event::Start(tag) => {
                if !self.descend(&range) {
                    self.last_end = range.end;
                    return;
                }
                let kind = self.container(tag, &range, content);
                self.ascend();
                self.last_end = range.end;
                match kind {
                    Some(kind) => kind,
                    None => return,
                }
            }
            _ => return,
        };
        self.last_end = range.end;
        content.push(MdInline { span, kind });
    }

    /// What holds other inline content. Pictures give their words to `content` instead.
    fn container(&mut self, tag: Tag<'_>, range: &Range<usize>, content: &mut Vec<MdInline>) -> Option<MdInlineKind> {
        self.last_end = (range.start + 1).min(range.end);
        match tag {
            Tag::Emphasis => Some(MdInlineKind::Emphasis(self.inlines())),
            Tag::Strong => Some(MdInlineKind::Strong(self.inlines())),
            Tag::Link { link_type, dest_url, id, .. } => {
                let inner = self.inlines();
                let to = self.destination(link_type, &dest_url, &id, range);
                Some(MdInlineKind::Link { to: Spanned::new(dest_url.into_string(), to), content: inner })
            }
            Tag::Image { .. } => {
                self.sink.push(
                    Diagnostic::error("picture-in-text", "a picture stands in the text and is not shown")
                        .at(self.span(range.clone()), "not shown")
                        .help(
                            "put it in the front matter under `figures:`, and point to it with `[](figure:name.svg)`",
                        ),
                );
                content.extend(self.inlines());
                None
            }
            _ => {
                content.extend(self.inlines());
                None
            }
        }
    }

    fn destination(&self, link_type: LinkType, to: &CowStr<'_>, label: &CowStr<'_>, range: &Range<usize>) -> Span {
        let found = match link_type {
            LinkType::Inline => destination::inline(self.text(), range.clone(), self.last_end),
            LinkType::Autolink | LinkType::Email => Some(range.start + 1..range.end.saturating_sub(1)),
            _ => self.definition(label).and_then(|d| destination::of_definition(self.text(), d)),
        };
        // A destination that could not be found again is marked with its whole link.
        let fits = |r: &Range<usize>| self.text().get(r.clone()).is_some_and(|s| s.len() >= to.len().min(s.len()));
        self.span(found.filter(fits).unwrap_or_else(|| range.clone()))
    }

    /// Mistakes that Markdown takes for plain text.
    fn check_text(&mut self, content: &[MdInline]) {
        for (i, inline) in content.iter().enumerate() {
            let MdInlineKind::Text(text) = &inline.kind else { continue };
            let base = inline.span.start as usize;
            let local = self.local(inline.span);
            let source = self.text().get(local).unwrap_or("");
            if text.contains("](")
                && let Some(at) = source.find("](").filter(|&at| !source[..at].ends_with('\\'))
            {
                let start = source[..at].rfind('[').unwrap_or(at);
                let end = source[at..].find(')').map_or(source.len(), |e| at + e + 1);
                self.sink.push(
                    Diagnostic::error("broken-link", "this link is not read and would be shown as it stands")
                        .at(
                            Span { start: (base + start) as u32, end: (base + end) as u32, ..inline.span },
                            "not a link",
                        )
                        .help("put a destination that holds spaces or brackets in angle brackets: `[](<part:…>)`"),
                );
            }
            if text.contains("[^")
                && let Some(at) = source.find("[^").filter(|&at| !source[..at].ends_with('\\'))
                && let Some(end) = source[at..].find(']').map(|e| at + e)
            {
                let label = &source[at + 2..end];
                let span = Span { start: (base + at) as u32, end: (base + end + 1) as u32, ..inline.span };
                if !label.is_empty() && !label.contains(char::is_whitespace) {
                    self.sink.push(missing_footnote(label, span));
                }
            }
            let after_break = i > 0 && matches!(content[i - 1].kind, MdInlineKind::SoftBreak);
            if let Some(length) = list_marker(source).filter(|_| after_break) {
                self.sink.push(
                    Diagnostic::warning("lost-list-entry", "this line is read as part of the paragraph above")
                        .at(Span { end: (base + length) as u32, ..inline.span }, "begins like a list entry")
                        .help("put a blank line before the list"),
                );
            }
        }
    }
}

/// The length of a list number with which a line begins, `2.` or `2)`.
fn list_marker(line: &str) -> Option<usize> {
    let digits = line.find(|c: char| !c.is_ascii_digit()).filter(|&n| (1..=3).contains(&n))?;
    let rest = &line[digits..];
    (rest.starts_with(". ") || rest.starts_with(") ")).then_some(digits + 1)
}

/// Adds text; the parser gives it in pieces, which are joined.
fn push_text(content: &mut Vec<MdInline>, text: &str, span: Span) {
    if let Some(MdInline { span: last, kind: MdInlineKind::Text(before) }) = content.last_mut() {
        before.push_str(text);
        last.end = last.end.max(span.end);
        return;
    }
    content.push(MdInline { span, kind: MdInlineKind::Text(text.to_owned()) });
}
