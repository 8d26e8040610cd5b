//! Faults of form in plain words, with the mistake that most likely caused them.
//!
//! Owns: the wording, finding the cause above the place where the parser gave up. Must not know: the tree.

use granit_parser::{ErrorKind, ScanError};

use super::{YamlOrigin, tree::key_without_space};
use crate::diag::Diagnostic;

/// A cause: its place in the text and the words for it.
struct Cause {
    range: std::ops::Range<usize>,
    headline: String,
    label: String,
    help: String,
}

impl Cause {
    fn new(
        range: std::ops::Range<usize>,
        headline: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self { range, headline: headline.into(), label: label.into(), help: help.into() }
    }
}

/// A line of the text.
#[derive(Clone, Copy)]
struct YamlLine<'a> {
    start: usize,
    text: &'a str,
}

impl<'a> YamlLine<'a> {
    /// The line that holds the byte `at`.
    fn around(text: &'a str, at: usize) -> Self {
        let start = text[..at].rfind('\n').map_or(0, |i| i + 1);
        let end = text[at..].find('\n').map_or(text.len(), |i| at + i);
        Self { start, text: text[start..end].trim_end_matches('\r') }
    }

    fn before(self, text: &'a str) -> Option<Self> {
        let mut line = self;
        while line.start > 0 {
            line = Self::around(text, line.start - 1);
            if !line.text.trim().is_empty() {
                return Some(line);
            }
        }
        None
    }

    fn indent(self) -> usize {
        self.text.len() - self.text.trim_start().len()
    }

    /// What stands on the line, without indentation and list dashes, and where it starts in the text.
    fn content(self) -> (usize, &'a str) {
        let mut rest = self.text.trim_start();
        while let Some(after) = rest.strip_prefix("- ").or_else(|| rest.strip_prefix("{ ")) {
            rest = after.trim_start();
        }
        let rest = rest.trim_end();
        (self.start + self.text.trim_end().len() - rest.len(), rest)
    }

    fn range(self) -> std::ops::Range<usize> {
        self.start + self.indent()..(self.start + self.text.trim_end().len()).max(self.start + self.indent())
    }
}

/// One fault of form as a message, and the byte at which its cause begins.
pub(super) fn explain(text: &str, origin: YamlOrigin, error: &ScanError) -> (Diagnostic, usize) {
    let at = place(text, error);
    let cause = cause(text, at, error.kind());
    let start = cause.range.start;
    let mut end = cause.range.end.min(text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    let found = Diagnostic::error("broken-yaml", cause.headline)
        .at(origin.span(start.min(end)..end), cause.label)
        .help(cause.help);
    (found, start)
}

/// Blanks the top-level entry that holds the byte `at`, so that the rest can be read. False where it is blank already.
pub(super) fn blank_entry(text: &mut String, at: usize) -> bool {
    let begins_entry = |line: &str| line.starts_with(|c: char| !c.is_whitespace() && !matches!(c, '#' | ']' | '}'));
    let mut line = YamlLine::around(text, at);
    while line.start > 0 && !begins_entry(line.text) {
        line = YamlLine::around(text, line.start - 1);
    }
    let start = line.start;
    let end = text[at..]
        .match_indices('\n')
        .map(|(i, _)| at + i + 1)
        .find(|&i| begins_entry(&text[i..]))
        .unwrap_or(text.len());
    // Places must stay where they are: a character of several bytes is replaced by as many spaces.
    let blank: String = text[start..end].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
    let changed = blank != text[start..end];
    text.replace_range(start..end, &blank);
    changed
}

/// The byte at which the parser gave up, on a character boundary.
fn place(text: &str, error: &ScanError) -> usize {
    let mut at = error.marker().byte_offset().unwrap_or(0).min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn cause(text: &str, at: usize, kind: &ErrorKind) -> Cause {
    use ErrorKind as K;
    let line = YamlLine::around(text, at);
    match kind {
        K::TabNotAllowed
        | K::TabInBlockIndentation
        | K::TabInIndentation
        | K::TabAtBlockScalarStart
        | K::TabInPlainScalar => {
            // The parser may still stand on the line above.
            let next = text[line.start..].find('\t').map_or(at, |i| line.start + i);
            tab(YamlLine::around(text, next), at)
        }
        K::UnclosedQuotedScalar | K::DocumentIndicatorInQuotedScalar => unclosed_quote(text, at),
        K::InvalidTrailingDoubleQuotedScalar | K::InvalidTrailingSingleQuotedScalar | K::InvalidQuotedScalarIndent => {
            after_quote(text, at)
        }
        K::UnclosedFlowCollection { .. } => unclosed_bracket(text, at),
        K::UnexpectedEofFlowSequence
        | K::UnexpectedEofFlowMapping
        | K::UnexpectedEofImplicitFlowMapping
        | K::ExpectedFlowMappingSeparator
        | K::ExpectedFlowSequenceSeparator
        | K::InvalidColonPlacement
        | K::InvalidFlowScalarIndent
        | K::BlockEntryInFlowCollection
        | K::FlowMappingValueAdjacentCollection
        | K::MismatchedFlowCollectionEnd { .. } => bracket(text, at),
        K::MisplacedFlowCollectionEnd => Cause::new(
            at..next_char(text, at),
            "a bracket closes that was never opened",
            "no bracket is open here",
            "take it out, or put the text in quotes if the bracket belongs to it",
        ),
        K::UnexpectedCharacter { character } => Cause::new(
            at..next_char(text, at),
            format!("a text can't begin with `{}`", character.escape_default()),
            "this character has a meaning of its own at the start of a text",
            "put the whole text in quotes: \"…\"",
        ),
        K::UnknownQuotedScalarEscape
        | K::InvalidQuotedScalarHexEscape
        | K::InvalidUnicodeEscape
        | K::InvalidLowSurrogateHexEscape
        | K::InvalidLowSurrogate
        | K::MissingLowSurrogate
        | K::UnpairedLowSurrogate => Cause::new(
            at..next_char(text, at),
            "`\\` in double quotes begins something that is not known",
            "not known after `\\`",
            "use single quotes '…' round the text, in which `\\` is an ordinary character",
        ),
        K::RecursionLimitExceeded => Cause::new(
            at..next_char(text, at),
            "lists and mappings are nested too deep",
            "too deep",
            "write it flatter; nothing in a manual needs more than a few levels",
        ),
        K::DirectiveDisallowed => {
            Cause::new(line.range(), "a line that begins with `%` is not read here", "not read", "take the line out")
        }
        K::ZeroBlockScalarIndent | K::InvalidBlockScalarHeader | K::InvalidBlockScalarIndent => Cause::new(
            line.range(),
            "the text block is not written as it should be",
            "`|` or `>` begins a text of several lines",
            "end the line after `|` or `>`, and indent every line of the text by two more spaces; if `|` or `>` \
             belongs to the text, put the text in quotes",
        ),
        K::CommentInterceptedScalar => Cause::new(
            line.range(),
            "a remark stands in the middle of a text",
            "a line that begins with `#` is a remark",
            "move the remark above the text, or put the text in quotes",
        ),
        K::MissingAnchorOrAliasName => Cause::new(
            at..next_char(text, at),
            "a text can't begin with `*` or `&`",
            "this character has a meaning of its own at the start of a text",
            "put the whole text in quotes: \"…\"",
        ),
        K::BlockSequenceEntryNotAllowed => Cause::new(
            line.range(),
            "a list can't begin on the line of its key",
            "`- ` begins a list entry",
            "move the first entry to a line of its own, or put the text in quotes if the dash belongs to it",
        ),
        _ => structure(text, line, at),
    }
}

/// The mistakes that show as "something else was expected": a missing space or colon, a colon inside a text, an
/// indentation that fits nothing.
fn structure(text: &str, line: YamlLine<'_>, at: usize) -> Cause {
    for candidate in [Some(line), line.before(text)].into_iter().flatten() {
        if candidate.text[..candidate.indent()].contains('\t') {
            return tab(candidate, candidate.start);
        }
        if let Some(odd) = candidate.text[..candidate.indent()].find(|c| c != ' ') {
            let at = candidate.start + odd;
            return Cause::new(
                at..next_char(text, at),
                "a no-break space stands where only plain spaces are read",
                "it looks like a space and is another sign",
                "delete the blanks at the beginning of the line and type them again",
            );
        }
        let (start, content) = candidate.content();
        if let Some(colon) = key_without_space(content) {
            let key = &content[..colon];
            return Cause::new(
                start..start + colon + 1,
                format!("a space is missing after `{key}:`"),
                "a key is told by a colon and a space",
                format!("write `{key}: {}`", shorten(content[colon + 1..].trim())),
            );
        }
        let is_item = candidate.text.trim_start().starts_with('-');
        if let Some(rest) = candidate.text.trim_start().strip_prefix('-')
            && is_item
            && rest.starts_with(|c: char| c.is_alphanumeric() || matches!(c, '{' | '[' | '"'))
            && candidate.start == line.start
        {
            let dash = candidate.start + candidate.indent();
            return Cause::new(
                dash..dash + 1,
                "a space is missing after `-`",
                "a list entry begins with a dash and a space",
                format!("write `- {}`", shorten(rest.trim())),
            );
        }
        // An entry further to the right than the one above it goes on with that one's text.
        let deeper =
            |above: YamlLine<'_>| above.text.trim_start().starts_with("- ") && above.indent() < candidate.indent();
        if is_item && candidate.start == line.start && line.before(text).is_some_and(deeper) {
            break;
        }
        if let Some(cause) = second_colon(start, content) {
            return cause;
        }
        let bare = !content.contains(':') && !is_item && !content.starts_with('#') && !content.is_empty();
        if bare && content.split_whitespace().next().is_some_and(looks_like_key) {
            let mut words = content.splitn(2, char::is_whitespace);
            let (key, rest) = (words.next().unwrap_or(""), words.next().unwrap_or("…").trim());
            return Cause::new(
                start..start + key.len(),
                format!("a colon is missing after `{key}`"),
                "neither a key with its colon nor part of the text above",
                format!("write `{key}: {}`; if the line goes on with the text above, indent it further", shorten(rest)),
            );
        }
    }
    let indent = line.indent();
    let above = line.before(text).map_or(0, YamlLine::indent);
    let label = if indent == above {
        "this line does not go on with what stands above".to_owned()
    } else {
        format!("indented by {}, the line above by {}", spaces(indent), spaces(above))
    };
    let range = if line.text.trim().is_empty() { at..at } else { line.range() };
    Cause::new(
        range,
        "this line fits neither the list nor the keys above it",
        label,
        "line up keys that belong together, with the same number of spaces; begin each list entry with `- `; close \
         every quote and bracket above",
    )
}

fn looks_like_key(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_lowercase()) && word.chars().all(|c| c.is_ascii_lowercase() || c == '-')
}

/// `title: Fit: the foot`.
fn second_colon(start: usize, content: &str) -> Option<Cause> {
    let first = content.find(": ").filter(|_| !content.starts_with(['{', '[']))?;
    let value = content[first + 2..].trim_start();
    let value_start = content.len() - value.len();
    if value.starts_with(['"', '\'', '[', '{', '|', '>']) {
        return None;
    }
    let second = value.find(": ").or_else(|| value.ends_with(':').then(|| value.len() - 1))?;
    Some(Cause::new(
        start + value_start + second..start + value_start + second + 1,
        "a text that holds a colon and a space needs quotes",
        "this colon makes a key of the words before it",
        format!("write `{}: \"{}\"`", &content[..first], shorten(&value.replace('"', "\\\""))),
    ))
}

fn tab(line: YamlLine<'_>, at: usize) -> Cause {
    let tab = line.text.find('\t').map_or(at, |i| line.start + i);
    let run = line.text.get(tab.saturating_sub(line.start)..).unwrap_or("");
    let length = run.len() - run.trim_start_matches('\t').len();
    Cause::new(
        tab..tab + length,
        "a tab stands where only spaces are read",
        "a tab",
        "replace it by spaces: two for each level",
    )
}

/// A quote that opens and does not close before the parser gave up.
fn unclosed_quote(text: &str, at: usize) -> Cause {
    let quote = text[at..]
        .chars()
        .next()
        .filter(|c| matches!(c, '"' | '\''))
        .map_or_else(|| text[..at].rfind(['"', '\'']).unwrap_or(at), |_| at);
    let line = YamlLine::around(text, quote);
    Cause::new(
        quote..(line.start + line.text.trim_end().len()).max(quote),
        "a quote is opened and never closed",
        "the text from here on is taken as quoted",
        "close the quote at the end of the text; an inch mark inside a text needs no quotes unless the text begins with \
         one",
    )
}

/// Something follows a closing quote: either the text goes on, or the quote above was never closed.
fn after_quote(text: &str, at: usize) -> Cause {
    let line = YamlLine::around(text, at);
    let mut above = Some(line);
    let mut steps = 0;
    while let Some(candidate) = above {
        // A quote inside brackets that the line above never closed.
        if candidate.start != line.start
            && candidate.text.matches('"').count() % 2 == 1
            && let Some(quote) = candidate.text.rfind(" \"")
        {
            return unclosed_quote(text, candidate.start + quote + 1);
        }
        let (start, content) = candidate.content();
        let value = content.find(": ").map_or(content, |i| content[i + 2..].trim_start());
        let value_start = start + content.len() - value.len();
        if let Some(quote) = value.chars().next().filter(|c| matches!(c, '"' | '\'')) {
            let closes = value[1..].contains(quote);
            if !closes && candidate.start != line.start {
                return unclosed_quote(text, value_start);
            }
            // The quote that seems to open a text on this line may be the one that closed a text from above.
            let closed_above = text[..at].trim_end().len() == value_start + 1;
            if candidate.start == line.start && closes && !closed_above {
                let inner = value.trim_matches(quote);
                let better = if quote == '"' { '\'' } else { '"' };
                let help = if inner.contains(better) {
                    "write the quote inside the text twice, in single quotes round the whole".to_owned()
                } else {
                    format!("put the whole text in the other kind of quotes: {better}…{better}")
                };
                return Cause::new(
                    at..next_char(text, at),
                    "a text goes on after its closing quote",
                    "the text ended at the quote before this",
                    help,
                );
            }
        }
        steps += 1;
        above = if steps < 40 { candidate.before(text) } else { None };
    }
    Cause::new(
        at..next_char(text, at),
        "a text goes on after its closing quote",
        "the text ended at the quote before this",
        "put the whole text in one pair of quotes",
    )
}

/// The innermost bracket that is open where the parser gave up.
fn bracket(text: &str, at: usize) -> Cause {
    let mut open: Vec<usize> = Vec::new();
    let mut quote = None;
    let mut before = ' ';
    let mut remark = false;
    for (i, c) in text[..at].char_indices() {
        // What a remark holds closes nothing.
        remark = c != '\n' && (remark || c == '#' && quote.is_none() && before.is_whitespace());
        match (quote, c) {
            _ if remark => {}
            (Some(q), _) if q == c => quote = None,
            (Some(_), '\n') => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') if matches!(before, ' ' | '[' | '{' | ',') => quote = Some(c),
            (None, '[' | '{') if !open.is_empty() || matches!(before, ' ' | '\n') => open.push(i),
            (None, ']' | '}') => {
                open.pop();
            }
            _ => {}
        }
        before = c;
    }
    let Some(&start) = open.last() else { return structure(text, YamlLine::around(text, at), at) };
    let line = YamlLine::around(text, start);
    if line.start == YamlLine::around(text, at).start && at < line.start + line.text.len() {
        return Cause::new(
            at..next_char(text, at),
            "inside brackets something other than a comma or the closing bracket stands here",
            "not expected here",
            "separate the entries by commas; put a text that holds `,`, `: `, `[`, `]`, `{` or `}` in quotes",
        );
    }
    unclosed_bracket(text, start)
}

fn unclosed_bracket(text: &str, start: usize) -> Cause {
    let line = YamlLine::around(text, start);
    let close = if text[start..].starts_with('[') { ']' } else { '}' };
    let rest = &line.text[start - line.start..];
    if let Some(remark) = rest.find(" #").filter(|at| rest[at + 2..].starts_with(|c: char| c.is_alphanumeric())) {
        let word: String =
            rest[remark + 1..].chars().take_while(|c| !c.is_whitespace() && !matches!(c, ',' | ']' | '}')).collect();
        let at = start + remark + 1;
        return Cause::new(
            at..at + word.len(),
            format!("`{word}` and what follows on this line is not read, so that `{close}` is missing"),
            "`#` after a space begins a remark",
            format!("put it in quotes: \"{word}\""),
        );
    }
    Cause::new(
        start..(line.start + line.text.trim_end().len()).max(start + 1),
        "a bracket is opened and not closed",
        format!("`{close}` is missing"),
        format!("close it with `{close}`; if the bracket belongs to the text, put the text in quotes"),
    )
}

fn next_char(text: &str, at: usize) -> usize {
    text[at..].chars().next().filter(|&c| c != '\n').map_or(at, |c| at + c.len_utf8())
}

fn spaces(n: usize) -> String {
    if n == 1 { "1 space".to_owned() } else { format!("{n} spaces") }
}

/// A piece of the author's text that fits into a message.
fn shorten(text: &str) -> String {
    if text.chars().count() <= 40 { text.to_owned() } else { text.chars().take(39).chain(['…']).collect() }
}
