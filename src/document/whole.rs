//! Words that no line may end in: part numbers, designations, units with a hyphen.

/// Longer ones are parted all the same, so that a narrow column holds them.
const LONGEST: usize = 24;
/// `in-lb` and the like.
const SHORT: usize = 5;

/// Whether a word with hyphens stands on one line: `SK-116-L`, `MS20470AD4-5`, `in-lb`, but not `cadmium-plated`. A
/// hand or a dash number alone on the next line is read as nothing, or as something else.
pub fn stays_whole(word: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_alphanumeric());
    let length = word.chars().count();
    let letter = word.split('-').next().is_some_and(|first| first.chars().count() == 1);
    word.contains('-')
        && length <= LONGEST
        && (length <= SHORT || letter || word.contains(|c: char| c.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_units_stay_whole_and_compounds_do_not() {
        for whole in ["SK-116-L", "SK-116-L,", "(AN960-416)", "MS20470AD4-5", "in-lb", "1/4-28", "23-15/16", "C-clamps"]
        {
            assert!(stays_whole(whole), "{whole}");
        }
        for parted in [
            "cadmium-plated",
            "match-drill",
            "self-locking",
            "AN365",
            "-",
            "https://example.org/a-rather-long-1-address",
        ] {
            assert!(!stays_whole(parted), "{parted}");
        }
    }
}
