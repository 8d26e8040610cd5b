//! Clauses of an action: `fit the bolts`, `torque the nuts`, each with the references in it.
//!
//! Must not know: what a verb means.

use crate::source::{Span, Spanned};
use crate::syntax::markdown::{MdBlock, MdInline, MdInlineKind, each_block, reference};

/// A piece of a sentence that may begin with a verb.
#[derive(Clone, Debug)]
pub struct Clause {
    pub span: Span,
    /// In small letters, without the points and commas around them; without what leads from one clause to the next.
    pub words: Vec<String>,
    /// The references in it: scheme, name, and the place of the name.
    pub references: Vec<(String, Spanned<String>)>,
}

/// What may stand before the verb and says nothing of what is done.
const LEADS: [&str; 9] = ["and", "then", "now", "also", "again", "next", "or", "finally", "last"];

impl Clause {
    /// The verb, where a clause of instructions has it: in front.
    pub fn first(&self) -> &str {
        self.words.first().map_or("", String::as_str)
    }

    pub fn has(&self, word: &str) -> bool {
        self.words.iter().any(|w| w == word)
    }

    pub fn has_any(&self, words: &[&str]) -> bool {
        self.words.iter().any(|w| words.contains(&w.as_str()))
    }

    /// What the verb is done to: the words from it to the first that says how or where.
    pub fn object(&self) -> &[String] {
        const ENDS: [&str; 20] = [
            "through", "from", "with", "upright", "level", "straight", "at", "in", "on", "into", "to", "before",
            "after", "by", "under", "over", "round", "along", "for", "across",
        ];
        let words = self.words.get(1..).unwrap_or(&[]);
        let end = words.iter().position(|w| ENDS.contains(&w.as_str())).unwrap_or(words.len());
        &words[..end]
    }
}

/// The clauses of some blocks in reading order.
pub fn clauses(blocks: &[MdBlock]) -> Vec<Clause> {
    let mut out = Vec::new();
    each_block(blocks, &mut |block| {
        for run in block.runs() {
            let mut reader = ClauseReader { out: &mut out, open: None };
            reader.read(run);
            reader.close();
        }
    });
    out
}

struct ClauseReader<'a> {
    out: &'a mut Vec<Clause>,
    open: Option<Clause>,
}

impl ClauseReader<'_> {
    fn read(&mut self, run: &[MdInline]) {
        for inline in run {
            match &inline.kind {
                MdInlineKind::Text(text) | MdInlineKind::Code(text) => self.text(text, inline.span),
                MdInlineKind::Link { to, content } => {
                    let open = self.open(inline.span);
                    open.span = open.span.to(inline.span);
                    if let Some((scheme, name, span)) = reference(to) {
                        open.references.push((scheme.to_owned(), Spanned { value: name.to_owned(), span }));
                    }
                    self.read(content);
                }
                _ => self.read(inline.children()),
            }
        }
    }

    fn open(&mut self, span: Span) -> &mut Clause {
        self.open.get_or_insert_with(|| Clause { span, words: Vec::new(), references: Vec::new() })
    }

    fn text(&mut self, text: &str, span: Span) {
        let exact = (span.end - span.start) as usize == text.len();
        for word in text.split_whitespace() {
            let at = word.as_ptr() as usize - text.as_ptr() as usize;
            let start = span.start + at as u32;
            let place = if exact { Span { start, end: start + word.len() as u32, ..span } } else { span };
            let said =
                word.trim_matches(|c: char| !c.is_alphanumeric() && c != '.').trim_end_matches('.').to_lowercase();
            // What joins two clauses begins the second; `tube and sleeve` is then two, of which the second has no verb.
            let joins = matches!(said.as_str(), "and" | "then" | "or");
            if joins && self.open.as_ref().is_some_and(|c| !c.words.is_empty()) {
                self.close();
            }
            if !said.is_empty() {
                let open = self.open(place);
                open.span = open.span.to(place);
                let lead = open.words.is_empty() && LEADS.contains(&said.as_str());
                if !lead {
                    open.words.push(said.clone());
                }
            }
            // The point of `No.` ends nothing.
            let point =
                word.ends_with('.') && !said.chars().all(|c| c.is_ascii_digit()) && said != "no" && said != "in";
            let last_point =
                word.ends_with('.') && text[at + word.len()..].trim_start().starts_with(char::is_uppercase);
            if word.ends_with([',', ';', ':', '!', '?']) || point || last_point {
                self.close();
            }
        }
    }

    fn close(&mut self) {
        self.out.extend(self.open.take().filter(|c| !c.words.is_empty() || !c.references.is_empty()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::FileId;
    use crate::syntax::markdown::parse_markdown;

    fn read(text: &str) -> Vec<String> {
        let blocks = parse_markdown(FileId(0), text, 0, &mut Default::default());
        clauses(&blocks).iter().map(|c| c.words.join(" ")).collect()
    }

    #[test]
    fn a_sentence_is_parted_where_something_else_is_done() {
        assert_eq!(
            read("Coat the plate, fit the bolts from above, and torque the nuts. Take the No. 30 bit."),
            ["coat the plate", "fit the bolts from above", "torque the nuts", "take the no 30 bit"]
        );
        assert_eq!(read("Check the lean, then drill it 2 in deep."), ["check the lean", "drill it 2 in deep"]);
    }

    #[test]
    fn an_object_ends_where_it_is_said_how() {
        let blocks =
            parse_markdown(FileId(0), "Drill the keel tube upright through the tray.", 0, &mut Default::default());
        assert_eq!(clauses(&blocks)[0].object(), ["the", "keel", "tube"]);
    }
}
