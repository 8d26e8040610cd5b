//! Words for one thing, by which people search: the built-in table, and what the manual adds.

/// A line for each thing: the word of the manuals, a comma, and what people also call it with `;` between.
const BUILT_IN: &str = include_str!("../../../templates/everyday-words.csv");

/// Groups of words for one thing, in lower case, each group with the manual's word first. A word of the manual's own joins the
/// built-in group of the same first word.
pub(super) fn everyday(own: &[(String, String)]) -> Vec<Vec<String>> {
    let mut groups: Vec<Vec<String>> = Vec::new();
    let built_in = BUILT_IN.lines().skip(1).filter_map(|line| line.split_once(','));
    let built_in = built_in.map(|(word, also)| (word, also.split(';').collect::<Vec<_>>()));
    let own = own.iter().map(|(word, also)| (word.as_str(), also.split(',').collect::<Vec<_>>()));
    for (word, also) in built_in.chain(own) {
        let word = plain(word);
        let at = groups.iter().position(|group| group[0] == word);
        let at = at.unwrap_or_else(|| {
            groups.push(vec![word]);
            groups.len() - 1
        });
        for word in also.into_iter().map(plain).filter(|word| !word.is_empty()) {
            if !groups[at].contains(&word) {
                groups[at].push(word);
            }
        }
    }
    groups.retain(|group| group.len() > 1 && !group[0].is_empty());
    groups
}

fn plain(word: &str) -> String {
    word.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_manual_adds_to_a_built_in_group_and_makes_groups_of_its_own() {
        let own = |word: &str, also: &str| (word.to_owned(), also.to_owned());
        let groups = everyday(&[own("Self-locking  nut", "grip nut, stop nut"), own("Dolly", "bogie,carriage, ")]);
        let of = |word: &str| groups.iter().find(|group| group[0] == word).expect("a group").join("/");
        assert_eq!(of("dolly"), "dolly/bogie/carriage");
        assert_eq!(of("self-locking nut").matches("stop nut").count(), 1);
        assert!(of("self-locking nut").contains("/locknut/") && of("self-locking nut").ends_with("/grip nut"));
    }

    #[test]
    fn every_line_of_the_built_in_table_is_a_group_of_words_that_stand_once() {
        let groups = everyday(&[]);
        assert_eq!(groups.len(), BUILT_IN.lines().count() - 1);
        for group in &groups {
            let mut words = group.clone();
            words.sort();
            words.dedup();
            assert_eq!(words.len(), group.len(), "{group:?}");
        }
    }
}
