//! Text in a line as HTML.
//!
//! The words are those of the paged documents: where a value is set in pieces, the text of the pieces
//! together is still `23 15/16 in`.

use super::blocks::PageWriter;
use crate::document::{Anchor, HandTag, Inline, SetRun, set_text, stays_whole};
use crate::emit::EmitError;
use crate::units::{Hand, Measure, MeasureUnit, ValuePiece};

/// Text with the signs that HTML reads as its own written out.
pub fn escape(text: &str, out: &mut String) {
    let mut rest = text;
    while let Some(at) = rest.find(['&', '<', '>', '"', '\'']) {
        out.push_str(&rest[..at]);
        out.push_str(match rest.as_bytes()[at] {
            b'&' => "&amp;",
            b'<' => "&lt;",
            b'>' => "&gt;",
            b'"' => "&quot;",
            _ => "&#39;",
        });
        rest = &rest[at + 1..];
    }
    out.push_str(rest);
}

/// Text in which a number with hyphens is never parted.
fn push_text(text: &str, out: &mut String) {
    for run in set_text(text) {
        match run {
            SetRun::Words(words) => push_words(&words, out),
            SetRun::Value(pieces) => push_value(&pieces, None, out),
        }
    }
}

fn push_words(text: &str, out: &mut String) {
    if !text.contains('-') {
        return escape(text, out);
    }
    for word in text.split_inclusive(char::is_whitespace) {
        let bare = word.trim_end();
        if stays_whole(bare) {
            out.push_str("<span class=\"whole\">");
            escape(bare, out);
            out.push_str("</span>");
            out.push_str(&word[bare.len()..]);
        } else {
            escape(word, out);
        }
    }
}

/// The shape of a hand.
pub fn hand_shape(hand: Hand) -> String {
    let tag = HandTag::of(hand);
    // Two units of room around a tag 12 high.
    let corners: Vec<String> =
        tag.corners.iter().map(|(x, y)| format!("{:.1} {:.1}", 2.0 + x * 12.0, 2.0 + y * 12.0)).collect();
    let fill = if tag.full { "currentColor" } else { "none" };
    format!(
        r#"<svg class="hand-shape" viewBox="0 0 18.4 16" width="18.4" height="16" aria-hidden="true"><polygon points="{}" fill="{fill}" stroke="currentColor" stroke-width="2"/></svg>"#,
        corners.join(" ")
    )
}

/// A hand as a shape and a word.
pub fn hand(hand: Hand) -> String {
    format!(r#"<span class="hand hand-{0}">{1}{0}</span>"#, hand.word(), hand_shape(hand))
}

impl PageWriter<'_> {
    /// A run as HTML.
    pub fn line(&mut self, inlines: &[Inline]) -> Result<String, EmitError> {
        self.line_in_row(inlines, None)
    }

    /// A run in a table row that callouts may be tied to.
    pub fn line_in_row(&mut self, inlines: &[Inline], row: Option<&Anchor>) -> Result<String, EmitError> {
        let mut out = String::new();
        self.push_line(inlines, row, &mut out)?;
        Ok(out)
    }

    fn push_line(&mut self, inlines: &[Inline], row: Option<&Anchor>, out: &mut String) -> Result<(), EmitError> {
        for inline in inlines {
            self.push(inline, row, out)?;
        }
        Ok(())
    }

    fn push(&mut self, inline: &Inline, row: Option<&Anchor>, out: &mut String) -> Result<(), EmitError> {
        match inline {
            Inline::Text(text) => push_text(text, out),
            Inline::Number { shown, .. } => push_words(shown, out),
            Inline::Strong(content) => self.push_in("strong", content, row, out)?,
            Inline::Emphasis(content) => self.push_in("em", content, row, out)?,
            Inline::Code(text) => {
                out.push_str("<code>");
                escape(text, out);
                out.push_str("</code>");
            }
            Inline::Link { to, content } => {
                out.push_str("<a href=\"");
                escape(&self.site.href(self.leaf, to)?, out);
                out.push_str("\">");
                self.push_line(content, row, out)?;
                out.push_str("</a>");
            }
            Inline::Outside { to, content } => self.push_outside(to, content, row, out)?,
            // Pages have no page numbers; the link beside it leads there.
            Inline::PageOf(_) => {}
            Inline::Length(length) => {
                let inches = length.as_inches();
                push_value(&length.pieces(self.units()), Some((*inches.numer(), *inches.denom())), out);
            }
            Inline::Measure(measure) => push_value(&measure.pieces(self.units()), inches_of(measure), out),
            Inline::Angle(angle) => push_value(&[ValuePiece::Text(angle.to_string())], None, out),
            Inline::Quantity(quantity) => push_value(&[ValuePiece::Text(quantity.to_string())], None, out),
            Inline::Hand(of) => out.push_str(&hand(*of)),
            Inline::Callout(number) => self.push_callout(*number, row, out),
            Inline::TickBox => out.push_str(TICK_BOX),
            Inline::Blank(width) => {
                out.push_str(&format!(r#"<span class="blank" style="width:{}.{}em"></span>"#, width / 10, width % 10));
            }
            Inline::FootnoteMark(number) => self.push_footnote_mark(*number, out),
            Inline::LineBreak => out.push_str("<br>"),
        }
        Ok(())
    }

    fn push_in(
        &mut self,
        element: &str,
        content: &[Inline],
        row: Option<&Anchor>,
        out: &mut String,
    ) -> Result<(), EmitError> {
        out.push_str(&format!("<{element}>"));
        self.push_line(content, row, out)?;
        out.push_str(&format!("</{element}>"));
        Ok(())
    }

    /// A link to the outside. An address that could run something, or that leads into the reader's own disk, is
    /// shown as its text alone.
    fn push_outside(
        &mut self,
        to: &str,
        content: &[Inline],
        row: Option<&Anchor>,
        out: &mut String,
    ) -> Result<(), EmitError> {
        if !may_lead_outside(to) {
            return self.push_line(content, row, out);
        }
        // It opens beside the manual, whose frame is for its own pages, and has no way back to it.
        let beside = if to.to_ascii_lowercase().starts_with("http") { " target=\"_blank\"" } else { "" };
        out.push_str(&format!("<a class=\"outside\" rel=\"external noreferrer noopener\"{beside} href=\""));
        escape(&address(to), out);
        out.push_str("\">");
        self.push_line(content, row, out)?;
        out.push_str("</a>");
        Ok(())
    }

    fn push_callout(&mut self, number: u32, row: Option<&Anchor>, out: &mut String) {
        let mark = row.and_then(|row| self.marks.of_row(row, number));
        match mark {
            Some(id) => out.push_str(&format!(r##"<a class="mark" href="#{id}">{number}</a>"##)),
            None => out.push_str(&format!(r#"<span class="mark">{number}</span>"#)),
        }
    }

    fn push_footnote_mark(&mut self, number: u32, out: &mut String) {
        let id = if self.notes_seen.insert(number) { format!(r#" id="_ref-{number}""#) } else { String::new() };
        out.push_str(&format!(
            r##"<sup class="note-mark"><a{id} role="doc-noteref" href="#_note-{number}">{number}</a></sup>"##
        ));
    }
}

/// A run as it may stand in a link, which can hold none itself.
pub fn without_links(inlines: &[Inline]) -> Vec<Inline> {
    inlines
        .iter()
        .flat_map(|inline| match inline {
            Inline::Link { content, .. } | Inline::Outside { content, .. } => without_links(content),
            Inline::Strong(content) => vec![Inline::Strong(without_links(content))],
            Inline::Emphasis(content) => vec![Inline::Emphasis(without_links(content))],
            Inline::FootnoteMark(_) => Vec::new(),
            other => vec![other.clone()],
        })
        .collect()
}

/// A box to tick by hand.
pub const TICK_BOX: &str = r#"<span class="tick-box"></span>"#;

/// The exact value in inches, where it is a length.
fn inches_of(measure: &Measure) -> Option<(i64, i64)> {
    (measure.unit == MeasureUnit::Length).then(|| (*measure.value.numer(), *measure.value.denom()))
}

/// A value that never breaks over two lines; a length carries its exact inches.
fn push_value(pieces: &[ValuePiece], inches: Option<(i64, i64)>, out: &mut String) {
    out.push_str("<span class=\"value\"");
    if let Some((numerator, denominator)) = inches {
        out.push_str(&format!(" data-inches=\"{numerator}/{denominator}\""));
    }
    out.push('>');
    let mut after_digit = false;
    for piece in pieces {
        match piece {
            ValuePiece::Text(text) => {
                escape(text, out);
                after_digit = text.ends_with(|c: char| c.is_ascii_digit());
            }
            ValuePiece::Fraction { numerator, denominator } => {
                if after_digit {
                    out.push(' ');
                }
                out.push_str(&format!(
                    "<span class=\"fraction\"><sup>{numerator}</sup>/<sub>{denominator}</sub></span>"
                ));
            }
        }
    }
    out.push_str("</span>");
}

fn may_lead_outside(to: &str) -> bool {
    let Some((scheme, rest)) = to.split_once(':') else { return false };
    let scheme = scheme.to_ascii_lowercase();
    match scheme.as_str() {
        "mailto" | "tel" => !rest.is_empty(),
        // A host has to follow, or the address is no address.
        "http" | "https" => {
            rest.strip_prefix("//").is_some_and(|host| host.starts_with(|c: char| c.is_alphanumeric() || c == '['))
        }
        _ => false,
    }
}

/// The address with the signs written out that no address may hold (RFC 3986, 2.1).
fn address(to: &str) -> String {
    let mut out = String::with_capacity(to.len());
    for c in to.chars() {
        if c.is_control() || matches!(c, ' ' | '"' | '<' | '>' | '\\' | '^' | '`' | '{' | '|' | '}') {
            let mut buffer = [0; 4];
            for byte in c.encode_utf8(&mut buffer).bytes() {
                out.push_str(&format!("%{byte:02X}"));
            }
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Length, UnitStyle};

    #[test]
    fn the_words_of_a_value_are_its_plain_words() {
        let length = Length::inches(383, 16);
        let mut out = String::new();
        push_value(&length.pieces(UnitStyle::InchFraction), Some((383, 16)), &mut out);
        let parsed = roxmltree::Document::parse(&out).expect("well formed");
        let words: String = parsed.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
        assert_eq!(words, "23 15/16 in");
    }

    /// The left tag is full and points left, as on paper.
    #[test]
    fn a_hand_has_the_shape_it_has_on_paper() {
        let (left, right) = (hand_shape(Hand::Left), hand_shape(Hand::Right));
        assert!(left.contains(r#"points="2.0 8.0 8.0 2.0 "#) && left.contains(r#"fill="currentColor""#), "{left}");
        assert!(right.contains(r#"points="16.4 8.0 10.4 2.0 "#) && right.contains(r#"fill="none""#), "{right}");
    }

    #[test]
    fn numbers_with_hyphens_are_kept_on_one_line() {
        let mut out = String::new();
        push_text("match-drill from SK-116-L, 2 \u{d7} AN960-416 <x>", &mut out);
        let want = "match-drill from <span class=\"whole\">SK-116-L,</span> 2 \u{d7} <span class=\"whole\">AN960-416</span> &lt;x&gt;";
        assert_eq!(out, want);
    }

    #[test]
    fn only_addresses_that_can_do_no_harm_become_links() {
        for good in ["https://example.org/a?b=c", "mailto:shop@example.org", "HTTP://example.org", "tel:+15550100"] {
            assert!(may_lead_outside(good), "{good}");
        }
        for bad in [
            "javascript:alert(1)",
            "JaVaScRiPt:1",
            "data:text/html,x",
            "file:///etc/passwd",
            "//x",
            "x",
            "https:x",
            "http:///x",
            " javascript:1",
            "vbscript:x",
            "mailto:",
        ] {
            assert!(!may_lead_outside(bad), "{bad}");
        }
        assert_eq!(address("https://example.org/a b\"c"), "https://example.org/a%20b%22c");
    }

    #[test]
    fn signs_that_html_reads_are_written_out() {
        let mut out = String::new();
        escape("a<b>&\"c' é", &mut out);
        assert_eq!(out, "a&lt;b&gt;&amp;&quot;c&#39; é");
    }
}
