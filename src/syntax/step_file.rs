//! A step or page file: front matter between two `---` lines, then Markdown.
//!
//! Owns: finding the two halves. Must not know: YAML, Markdown, keys.

use super::markdown::{MdBlock, parse_markdown};
use super::yaml::{Node, parse_yaml};
use crate::diag::{Diagnostic, Sink};
use crate::source::{FileId, SourceMap, Span};

/// The two halves of a file.
#[derive(Clone, Debug)]
pub struct StepFile {
    pub file: FileId,
    /// None where it was missing or broken; the fault was reported.
    pub front: Option<Node>,
    pub body: Vec<MdBlock>,
    /// Where the text of the body starts, in bytes.
    pub body_start: usize,
}

/// Splits and reads a file that is already in `sources`. Pure in `sources`, so files can be read side by side.
pub fn parse_step_file(file: FileId, sources: &SourceMap, sink: &mut Sink) -> StepFile {
    let text = sources.text(file);
    let halves = split(text, file, sink);
    let front = halves.front.and_then(|range| parse_yaml(file, &text[range.clone()], range.start, sink));
    let body = parse_markdown(file, &text[halves.body..], halves.body, sink);
    StepFile { file, front, body, body_start: halves.body }
}

struct Halves {
    /// The front matter without its two lines.
    front: Option<std::ops::Range<usize>>,
    /// Where the body starts.
    body: usize,
}

fn split(text: &str, file: FileId, sink: &mut Sink) -> Halves {
    let start = if text.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8() } else { 0 };
    let mut lines = lines(text, start).skip_while(|(_, line)| line.trim().is_empty());
    let first = lines.next();
    let Some((opening, _)) = first.filter(|(_, line)| is_fence(line)) else {
        let (at, line) = first.unwrap_or((start, ""));
        let end = at + line.trim_end().len();
        sink.push(
            Diagnostic::error("no-front-matter", "the file does not begin with its front matter")
                .at(Span::new(file, at..end), "`---` stands alone on the first line of every step and page")
                .help(
                    "begin the file with a line `---`, then the keys (`step:`, `title:`, …), then another line `---`",
                ),
        );
        return Halves { front: None, body: start };
    };
    let front_start = text[opening..].find('\n').map_or(text.len(), |i| opening + i + 1);
    let closing = lines.find(|(_, line)| is_fence(line));
    if let Some((at, line)) = closing {
        return Halves { front: Some(front_start..at), body: (at + line.len()).min(text.len()) };
    }
    sink.push(
        Diagnostic::error("no-front-matter", "the front matter is opened and never closed")
            .at(Span::new(file, opening..opening + 3), "`---` begins the front matter")
            .help("put a line `---` after the last key, before the text"),
    );
    Halves { front: None, body: text.len() }
}

/// Each line with its line end, and where it starts.
fn lines(text: &str, from: usize) -> impl Iterator<Item = (usize, &str)> {
    text[from..].split_inclusive('\n').scan(from, |at, line| {
        let start = *at;
        *at += line.len();
        Some((start, line))
    })
}

fn is_fence(line: &str) -> bool {
    line.trim_end() == "---"
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{StepFile, parse_step_file};
    use crate::diag::Sink;
    use crate::source::SourceMap;

    fn read(text: &str) -> (StepFile, Sink) {
        let mut sources = SourceMap::new();
        let file = sources.add("steps/a.md", text);
        let mut sink = Sink::new();
        (parse_step_file(file, &sources, &mut sink), sink)
    }

    #[test]
    fn both_halves_are_found_whatever_the_line_ends() {
        for text in
            ["---\nstep: a\n---\nText\n", "\u{FEFF}---\r\nstep: a\r\n---\r\nText", "\n--- \nstep: a\n---  \nText\n"]
        {
            let (file, sink) = read(text);
            assert!(sink.is_empty(), "{sink:?}");
            assert!(file.front.is_some(), "{text:?}");
            assert_eq!(file.body.len(), 1, "{text:?}");
            assert_eq!(&text[file.body[0].span.range()], "Text", "{text:?}");
        }
        let (file, sink) = read("---\nstep: a\n---");
        assert!(file.front.is_some() && file.body.is_empty() && sink.is_empty());
    }

    #[test]
    fn a_missing_line_is_told() {
        let (file, sink) = read("step: a\n");
        assert!(file.front.is_none());
        assert_eq!(sink[0].headline, "the file does not begin with its front matter");
        let (file, sink) = read("---\nstep: a\n\nText\n");
        assert!(file.front.is_none() && file.body.is_empty());
        assert_eq!(sink.len(), 1);
        assert_eq!(sink[0].headline, "the front matter is opened and never closed");
        assert_eq!(read("").1.len(), 1);
    }

    proptest! {
        #[test]
        fn no_text_breaks_reading(text in "(---\n|step: a\n|\\PC|[\r\n])*") {
            let (_, sink) = read(&text);
            for d in sink {
                prop_assert!(text.get(d.span.unwrap().range()).is_some());
            }
        }
    }
}
