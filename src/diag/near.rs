//! The nearest existing name, for the way out of a misspelling.

/// The candidate nearest to `word`, where one is near enough to be what was meant. Case does not count.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = word.to_lowercase();
    let limit = (wanted.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|c| (strsim::damerau_levenshtein(&wanted, &c.to_lowercase()), c))
        .filter(|&(distance, _)| distance <= limit)
        .min_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.cmp(b.1)))
        .map(|(_, c)| c)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn offers_what_was_meant_and_nothing_far() {
        let names = ["KW-103-L", "KW-103-R", "KW-204"];
        assert_eq!(nearest("KW-130-L", names), Some("KW-103-L"));
        assert_eq!(nearest("kw-204", names), Some("KW-204"));
        assert_eq!(nearest("mast", names), None);
    }
}
