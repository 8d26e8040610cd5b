//! The nearest existing name, for the way out of a misspelling, and the sentence that offers it.

use std::fmt::Display;

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

/// The way out of a misspelling, in the one form that it has everywhere.
pub fn did_you_mean(name: impl Display) -> String {
    format!("did you mean `{name}`?")
}

/// The same, with what to do where it was not.
pub fn did_you_mean_or(name: impl Display, otherwise: impl Display) -> String {
    format!("{} If not, {otherwise}", did_you_mean(name))
}

#[cfg(test)]
mod tests {
    use super::{did_you_mean, did_you_mean_or, nearest};

    #[test]
    fn asks_in_one_form() {
        assert_eq!(did_you_mean("KW-204"), "did you mean `KW-204`?");
        assert_eq!(
            did_you_mean_or("KW-204", "add it to parts.csv"),
            "did you mean `KW-204`? If not, add it to parts.csv"
        );
    }

    #[test]
    fn offers_what_was_meant_and_nothing_far() {
        let names = ["KW-103-L", "KW-103-R", "KW-204"];
        assert_eq!(nearest("KW-130-L", names), Some("KW-103-L"));
        assert_eq!(nearest("kw-204", names), Some("KW-204"));
        assert_eq!(nearest("mast", names), None);
    }
}
