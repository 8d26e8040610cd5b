//! Effectivity as written: `ICE and (brake or not tow)`, `ICE and based`, `serial 100..149`, `from SAND to ICE`.
//!
//! Owns: the form of a condition. Must not know: which names exist, what holds.

use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};

/// A condition as a tree. Whether its names exist is not known here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// A variant or an option.
    Name(Spanned<String>),
    /// A variant and those based on it.
    Based(Spanned<String>),
    /// Serial numbers from..to, both included. `to` is `u32::MAX` for `serial 150..`, `from` is 0 for `serial ..99`.
    Serial {
        span: Span,
        from: u32,
        to: u32,
    },
    /// In the conversion of a kit of the first variant to the second: `from SAND to ICE`.
    Conversion {
        from: Spanned<String>,
        to: Spanned<String>,
    },
    Not(Box<Condition>),
    And(Vec<Condition>),
    Or(Vec<Condition>),
    /// It could not be read; the fault was reported. Holds everywhere.
    Unreadable,
}

impl Condition {
    /// What it asks for, in the order of writing: itself, or what it joins with `not`, `and` and `or`.
    pub fn leaves(&self) -> Vec<&Self> {
        match self {
            Self::Not(inner) => inner.leaves(),
            Self::And(all) | Self::Or(all) => all.iter().flat_map(Self::leaves).collect(),
            Self::Name(_) | Self::Based(_) | Self::Serial { .. } | Self::Conversion { .. } | Self::Unreadable => {
                vec![self]
            }
        }
    }

    /// The names it uses, each with its place, and whether it must be a variant.
    pub fn names(&self) -> Vec<(&Spanned<String>, bool)> {
        let mut names = Vec::new();
        for leaf in self.leaves() {
            match leaf {
                Self::Name(name) => names.push((name, false)),
                Self::Based(name) => names.push((name, true)),
                Self::Conversion { from, to } => names.extend([(from, true), (to, true)]),
                _ => {}
            }
        }
        names
    }

    /// Whether it asks for serial numbers.
    pub fn asks_serial(&self) -> bool {
        self.leaves().iter().any(|leaf| matches!(leaf, Self::Serial { .. }))
    }

    /// Whether it asks for a conversion.
    pub fn asks_conversion(&self) -> bool {
        self.leaves().iter().any(|leaf| matches!(leaf, Self::Conversion { .. }))
    }
}

/// Reads a condition whose text starts at `span`. A fault goes to `sink` at its own place; a comma is an error that
/// offers `and` and `or`. Where `and` and `or` stand side by side without brackets, `and` binds first, and a warning
/// says so.
pub fn parse_condition(text: &str, span: Span, sink: &mut Sink) -> Condition {
    let tokens = tokens(text);
    let mut parser = Parser { text, span, tokens: &tokens, at: 0, depth: 0 };
    let read = parser.any().and_then(|condition| match parser.peek() {
        None => Ok(condition),
        Some(_) => Err(parser.unexpected()),
    });
    match read {
        Ok((condition, mixed)) => {
            if let Some((place, words)) = mixed {
                sink.push(
                    Diagnostic::warning("unclear-condition", "`and` and `or` stand side by side without brackets")
                        .at(place, format!("read as `{words}`"))
                        .help("put brackets round what belongs together"),
                );
            }
            condition
        }
        Err(fault) => {
            sink.push(*fault);
            Condition::Unreadable
        }
    }
}

/// How many brackets and `not`s may be nested.
const DEEPEST: usize = 32;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum TokenKind {
    And,
    Or,
    Not,
    Open,
    Close,
    Range,
    Word,
    /// A character that has no place in a condition.
    Other,
}

#[derive(Clone, Copy, Debug)]
struct ConditionToken {
    kind: TokenKind,
    start: usize,
    end: usize,
}

fn tokens(text: &str) -> Vec<ConditionToken> {
    let mut tokens = Vec::new();
    let mut rest = text.char_indices().peekable();
    while let Some((start, c)) = rest.next() {
        if c.is_whitespace() {
            continue;
        }
        let mut end = start + c.len_utf8();
        let kind = match c {
            '(' => TokenKind::Open,
            ')' => TokenKind::Close,
            '.' if text[end..].starts_with('.') => {
                rest.next();
                end += 1;
                TokenKind::Range
            }
            c if in_word(c) => {
                while let Some(&(i, c)) = rest.peek() {
                    if !in_word(c) || text[i..].starts_with("..") {
                        break;
                    }
                    end = i + c.len_utf8();
                    rest.next();
                }
                match text[start..end].to_ascii_lowercase().as_str() {
                    "and" => TokenKind::And,
                    "or" => TokenKind::Or,
                    "not" => TokenKind::Not,
                    _ => TokenKind::Word,
                }
            }
            _ => TokenKind::Other,
        };
        tokens.push(ConditionToken { kind, start, end });
    }
    tokens
}

fn in_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '-' | '_' | '.')
}

struct Parser<'a> {
    text: &'a str,
    span: Span,
    tokens: &'a [ConditionToken],
    at: usize,
    depth: usize,
}

/// The place where `and` and `or` are mixed, and how that was read.
type Mixed = Option<(Span, String)>;
type ConditionRead = Result<(Condition, Mixed), Box<Diagnostic>>;

impl Parser<'_> {
    fn any(&mut self) -> ConditionRead {
        let start = self.peek().map(|t| t.start);
        let mut mixed = None;
        let mut alternatives = Vec::new();
        let mut words = Vec::new();
        let mut compound = false;
        loop {
            let from = self.at;
            let (condition, inner) = self.all()?;
            let several = matches!(&condition, Condition::And(_)) && self.tokens[from].kind != TokenKind::Open;
            compound |= several;
            words.push(self.words(from, several));
            mixed = mixed.or(inner);
            alternatives.push(condition);
            if self.peek().map(|t| t.kind) != Some(TokenKind::Or) {
                break;
            }
            self.at += 1;
        }
        if alternatives.len() == 1 {
            return Ok((alternatives.remove(0), mixed));
        }
        if compound && mixed.is_none() {
            let end = self.tokens[self.at - 1].end;
            mixed = Some((self.place(start.unwrap_or(0), end), words.join(" or ")));
        }
        Ok((Condition::Or(alternatives), mixed))
    }

    fn all(&mut self) -> ConditionRead {
        let mut mixed = None;
        let mut conditions = Vec::new();
        loop {
            let (condition, inner) = self.one()?;
            mixed = mixed.or(inner);
            conditions.push(condition);
            if self.peek().map(|t| t.kind) != Some(TokenKind::And) {
                break;
            }
            self.at += 1;
        }
        Ok((if conditions.len() == 1 { conditions.remove(0) } else { Condition::And(conditions) }, mixed))
    }

    fn one(&mut self) -> ConditionRead {
        let Some(token) = self.peek() else { return Err(self.ends_early()) };
        if self.depth > DEEPEST {
            return Err(self.fault(token, "the condition is nested too deep", "too deep", "write it flatter"));
        }
        match token.kind {
            TokenKind::Not => {
                self.at += 1;
                self.depth += 1;
                let (inner, mixed) = self.one()?;
                self.depth -= 1;
                Ok((Condition::Not(Box::new(inner)), mixed))
            }
            TokenKind::Open => {
                self.at += 1;
                self.depth += 1;
                let read = self.any()?;
                self.depth -= 1;
                match self.peek() {
                    Some(t) if t.kind == TokenKind::Close => self.at += 1,
                    Some(_) => return Err(self.unexpected()),
                    None => {
                        return Err(self.fault(
                            token,
                            "a bracket is opened and not closed",
                            "`)` is missing",
                            "add `)`",
                        ));
                    }
                }
                Ok(read)
            }
            TokenKind::Word if self.word(token).eq_ignore_ascii_case("serial") && self.serial_follows() => {
                self.serial(token)
            }
            TokenKind::Word if self.conversion_follows() => {
                let [from, to] = [1, 3].map(|i| {
                    let token = self.tokens[self.at + i];
                    Spanned::new(self.word(token).to_owned(), self.place(token.start, token.end))
                });
                self.at += 4;
                Ok((Condition::Conversion { from, to }, None))
            }
            TokenKind::Word => {
                self.at += 1;
                let name = Spanned::new(self.word(token).to_owned(), self.place(token.start, token.end));
                let based = self.peek().is_some_and(|t| t.kind == TokenKind::And)
                    && self.tokens.get(self.at + 1).is_some_and(|t| self.word(*t).eq_ignore_ascii_case("based"));
                if based {
                    self.at += 2;
                    return Ok((Condition::Based(name), None));
                }
                Ok((Condition::Name(name), None))
            }
            _ => Err(self.unexpected()),
        }
    }

    fn serial_follows(&self) -> bool {
        self.tokens
            .get(self.at + 1)
            .is_some_and(|t| t.kind == TokenKind::Range || self.word(*t).starts_with(|c: char| c.is_ascii_digit()))
    }

    /// `from`, a name, `to`, a name.
    fn conversion_follows(&self) -> bool {
        let is = |i: usize, word: &str| {
            self.tokens.get(self.at + i).is_some_and(|t| self.word(*t).eq_ignore_ascii_case(word))
        };
        let name = |i: usize| self.tokens.get(self.at + i).is_some_and(|t| t.kind == TokenKind::Word);
        is(0, "from") && name(1) && is(2, "to") && name(3)
    }

    fn serial(&mut self, serial: ConditionToken) -> ConditionRead {
        self.at += 1;
        let from = self.number()?;
        let mut to = from;
        if self.peek().is_some_and(|t| t.kind == TokenKind::Range) {
            self.at += 1;
            to = self.number()?;
            if from.is_none() && to.is_none() {
                return Err(self.fault(
                    self.tokens[self.at - 1],
                    "`serial ..` holds no number",
                    "no number on either side",
                    "write `serial 100..149`, `serial 150..` or `serial ..99`",
                ));
            }
            if self.peek().is_some_and(|t| t.kind == TokenKind::Range) {
                return Err(self.unexpected());
            }
            to = to.or(Some(u32::MAX));
        }
        let span = self.place(serial.start, self.tokens[self.at - 1].end);
        let (from, to) = (from.unwrap_or(0), to.unwrap_or(u32::MAX));
        if from > to {
            return Err(Box::new(
                Diagnostic::error("broken-condition", "the serial numbers run backward")
                    .at(span, format!("{from} is larger than {to}"))
                    .help(format!("write `serial {to}..{from}`")),
            ));
        }
        Ok((Condition::Serial { span, from, to }, None))
    }

    /// The number that stands here; none where the next token is no number.
    fn number(&mut self) -> Result<Option<u32>, Box<Diagnostic>> {
        let Some(token) = self.peek().filter(|t| t.kind == TokenKind::Word) else { return Ok(None) };
        let word = self.word(token);
        match word.parse::<u32>() {
            Ok(number) if word.bytes().all(|b| b.is_ascii_digit()) => {
                self.at += 1;
                Ok(Some(number))
            }
            _ => Err(self.fault(
                token,
                &format!("`{word}` is not a serial number"),
                "a whole number stands here",
                "write `serial 100..149`, both included",
            )),
        }
    }

    fn peek(&self) -> Option<ConditionToken> {
        self.tokens.get(self.at).copied()
    }

    fn word(&self, token: ConditionToken) -> &str {
        &self.text[token.start..token.end]
    }

    /// The words from token `from` up to here, in brackets if they are several.
    fn words(&self, from: usize, bracketed: bool) -> String {
        let words: Vec<_> = self.tokens[from..self.at].iter().map(|t| self.word(*t)).collect();
        let words = words.join(" ").replace("( ", "(").replace(" )", ")").replace(" .. ", "..");
        if bracketed { format!("({words})") } else { words }
    }

    /// A place in the text. Where the text is not as long as its span (a quoted text with escapes), the whole span.
    fn place(&self, start: usize, end: usize) -> Span {
        if self.span.range().len() != self.text.len() {
            return self.span;
        }
        let base = self.span.start as usize;
        Span::new(self.span.file, base + start..base + end)
    }

    fn fault(&self, token: ConditionToken, headline: &str, label: &str, help: &str) -> Box<Diagnostic> {
        let place = self.place(token.start, token.end);
        Box::new(Diagnostic::error("broken-condition", headline).at(place, label).help(help))
    }

    fn ends_early(&self) -> Box<Diagnostic> {
        let Some(&last) = self.tokens.last() else {
            return Box::new(
                Diagnostic::error("broken-condition", "the condition is empty")
                    .at(self.span, "nothing stands here")
                    .help("name the variants or options for which this applies, or take the condition out"),
            );
        };
        let word = self.word(last);
        self.fault(
            last,
            &format!("the condition ends after `{word}`"),
            "a variant or an option is missing after this",
            &format!("name what follows, or take `{word}` out"),
        )
    }

    fn unexpected(&self) -> Box<Diagnostic> {
        let Some(token) = self.peek() else { return self.ends_early() };
        let word = self.word(token);
        let before = self.text[..token.start].trim();
        let after = self.text[token.end..].trim();
        match (token.kind, word) {
            (TokenKind::Other, "," | ";") if !before.is_empty() && !after.is_empty() => self.fault(
                token,
                "a comma in a condition can mean `and` or `or`",
                "not clear which",
                &format!(
                    "write `{before} or {after}` if one of them is enough, `{before} and {after}` if both are needed"
                ),
            ),
            (TokenKind::Other, "&" | "+") => {
                self.fault(token, &format!("`{word}` is not read in a condition"), "not read", "write `and`")
            }
            (TokenKind::Other, "|" | "/") => {
                self.fault(token, &format!("`{word}` is not read in a condition"), "not read", "write `or`")
            }
            (TokenKind::Other, "!") => self.fault(token, "`!` is not read in a condition", "not read", "write `not`"),
            (TokenKind::Close, _) => self.fault(
                token,
                "a bracket closes that was never opened",
                "no bracket is open here",
                "take it out, or open it before",
            ),
            (TokenKind::Word | TokenKind::Not | TokenKind::Open, _) if self.at > 0 => self.fault(
                token,
                &format!("`and` or `or` is missing before `{word}`"),
                "nothing joins this with what stands before",
                &format!("write `{before} and {}`, or `or`", self.text[token.start..].trim()),
            ),
            (TokenKind::And | TokenKind::Or, _) => self.fault(
                token,
                &format!("a variant or an option is missing before `{word}`"),
                "nothing stands before this",
                &format!("name what stands before, or take `{word}` out"),
            ),
            _ => self.fault(
                token,
                &format!("`{word}` is not read in a condition"),
                "not read",
                "use names of variants and options, `and`, `or`, `not`, brackets, `serial 100..149`",
            ),
        }
    }
}

#[cfg(test)]
mod tests;
