//! HTML comments: the marks of a condition, remarks, and what was meant as a mark.
//!
//! Owns: the form of a mark. Must not know: what stands between two marks.

/// What a comment is. Ranges are in the comment's own text, `<!--` and `-->` included.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Comment {
    /// `<!-- only: … -->` and where its condition stands.
    Only(std::ops::Range<usize>),
    EndOnly,
    /// A remark for the author alone.
    Remark,
    /// Near enough to a mark to be meant as one.
    Misspelt,
}

/// Tells what the comment is. `text` begins with `<!--` and ends with `-->`.
pub(super) fn read(text: &str) -> Comment {
    let inner = text.strip_prefix("<!--").and_then(|t| t.strip_suffix("-->")).unwrap_or("");
    let trimmed = inner.trim();
    if let Some(condition) = trimmed.strip_prefix("only:") {
        let end = "<!--".len() + inner.trim_end().len();
        return Comment::Only(end - condition.trim_start().len()..end);
    }
    let words: Vec<_> = trimmed.split_whitespace().collect();
    if words == ["end", "only"] {
        return Comment::EndOnly;
    }
    let near = |word: &str| {
        let word: String = word.chars().filter(|c| c.is_alphabetic()).flat_map(char::to_lowercase).collect();
        ["only", "endonly"].iter().any(|w| strsim::damerau_levenshtein(&word, w) <= 1)
    };
    let first = words.first().copied().unwrap_or("");
    let ends = first.to_lowercase().trim_start_matches('/') == "end" && (words.len() == 1 || near(words[1]));
    if near(first) || ends { Comment::Misspelt } else { Comment::Remark }
}

#[cfg(test)]
mod tests {
    use super::{Comment, read};

    #[test]
    fn marks_remarks_and_misspellings_are_told_apart() {
        let text = "<!--  only:  ICE and brake  -->";
        let Comment::Only(range) = read(text) else { panic!() };
        assert_eq!(&text[range], "ICE and brake");
        assert_eq!(read("<!-- only: -->"), Comment::Only(10..10));
        for text in ["<!-- end only -->", "<!--end  only-->"] {
            assert_eq!(read(text), Comment::EndOnly);
        }
        for text in [
            "<!-- only ICE -->",
            "<!-- Only: ICE -->",
            "<!-- olny: ICE -->",
            "<!-- end -->",
            "<!-- endonly -->",
            "<!-- /only -->",
            "<!-- End Only -->",
        ] {
            assert_eq!(read(text), Comment::Misspelt, "{text}");
        }
        for text in ["<!-- ask the shop -->", "<!---->", "<!-- end of the tube -->", "<!-->"] {
            assert_eq!(read(text), Comment::Remark, "{text}");
        }
    }
}
