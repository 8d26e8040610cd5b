//! Texts without characters that are not seen, and a finding where one was.
//!
//! Owns: the finding. Must not know: what a text is for.

use crate::diag::{Diagnostic, Sink};
use crate::source::Span;
use crate::units::{character_code, hidden};

/// A text without hidden characters. Where it had any, one finding goes to `sink`, at the character where `source`, which
/// stands at `span`, holds it as such, and at the whole where it was written by its number.
pub(super) fn without_hidden(text: &str, source: &str, span: Span, sink: &mut Sink) -> Option<String> {
    let (first, what) = text.chars().find_map(|c| Some((c, hidden(c)?)))?;
    let span = match source.find(first) {
        Some(at) => Span::new(span.file, span.start as usize + at..span.start as usize + at + first.len_utf8()),
        None => span,
    };
    sink.push(
        Diagnostic::error("hidden-character", format!("the text holds {}, {what}", character_code(first)))
            .at(span, "it stands here")
            .help("delete it and write the text again by hand; what is copied from elsewhere often brings it along"),
    );
    Some(text.chars().filter(|c| hidden(*c).is_none()).collect())
}

#[cfg(test)]
mod tests {
    use crate::diag::Sink;
    use crate::source::{FileId, SourceMap};
    use crate::syntax::{parse_csv, parse_step_file, parse_yaml};

    fn marked(sink: &Sink, text: &str) -> Vec<String> {
        let marks = sink.iter().filter(|d| d.rule == "hidden-character");
        marks.map(|d| text[d.span.unwrap().range()].to_owned()).collect()
    }

    #[test]
    fn it_is_found_where_it_stands_and_taken_out() {
        let yaml = "title: Fit\u{202E} it\nnote: \"a\\u200Bb\"\nk\u{AD}ey: 1\n";
        let mut sink = Sink::new();
        let tree = parse_yaml(FileId(0), yaml, 0, &mut sink).unwrap();
        assert_eq!(marked(&sink, yaml), ["\u{202E}", "\"a\\u200Bb\"", "\u{AD}"]);
        assert!(!format!("{tree:?}").contains(['\u{202E}', '\u{200B}', '\u{AD}']));

        let step = "---\nstep: a\n---\n\nTurn \u{2066}it&#x202E; `\u{7}`.\n";
        let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
        let id = sources.add("a.md", step);
        let file = parse_step_file(id, &sources, &mut sink);
        assert_eq!(marked(&sink, step), ["\u{2066}", "&#x202E;", "\u{7}"]);
        assert!(!format!("{:?}", file.body).contains(['\u{202E}', '\u{2066}', '\u{7}']));

        let (mut sources, mut sink) = (SourceMap::new(), Sink::new());
        let table = parse_csv("a.csv", "number,name\nKW-1,a\u{200F}b\n".as_bytes(), &mut sources, &mut sink).unwrap();
        assert_eq!((sink.len(), table.rows[0].cells[1].value.as_str()), (1, "ab"));
        assert_eq!(sources.slice(sink[0].span.unwrap()), "\u{200F}");
    }
}
