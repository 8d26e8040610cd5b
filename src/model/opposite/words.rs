//! Side words: which change, which stay, and which can't be told.

use std::ops::Range;

/// The side words of English. Inboard, outboard, upper, forward and their like are the same on both sides.
const ENGLISH: [(&str, &str); 3] = [("left", "right"), ("port", "starboard"), ("lefthand", "righthand")];

/// What never changes: threads turn the same way on both sides.
const THREADS: [&str; 6] = [
    "left-hand thread",
    "right-hand thread",
    "left hand thread",
    "right hand thread",
    "left-hand tap",
    "left-hand die",
];

/// Verbs after which a side word is a turning direction.
const TURNING: [&str; 7] = ["turn", "rotate", "screw", "twist", "wind", "unscrew", "swing"];

/// Words of turning. Nuts tighten the same way on both sides; an arm swings the other way.
const TURNS: [&str; 6] =
    ["clockwise", "counterclockwise", "counter-clockwise", "anticlockwise", "anti-clockwise", "o'clock"];

/// The side words that hold for a step.
#[derive(Clone, Debug)]
pub struct Sides {
    pairs: Vec<(String, String)>,
    /// Lower case.
    keep: Vec<String>,
    swap: Vec<String>,
}

/// A run of letters in a text.
struct WordToken<'a> {
    range: Range<usize>,
    word: &'a str,
}

impl Sides {
    /// The English words, the manual's own pairs, phrases that stay, and phrases that change.
    pub fn new<'a>(own: &[(String, String)], keep: impl IntoIterator<Item = &'a String>, swap: &[String]) -> Self {
        let english = ENGLISH.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned()));
        let threads = THREADS.iter().map(|t| (*t).to_owned());
        Self {
            pairs: english.chain(own.iter().map(|(a, b)| (a.to_lowercase(), b.to_lowercase()))).collect(),
            keep: threads.chain(keep.into_iter().map(|k| k.to_lowercase())).collect(),
            swap: swap.iter().map(|s| s.to_lowercase()).collect(),
        }
    }

    /// The text for the other hand.
    pub fn swapped(&self, text: &str) -> String {
        let kept = phrases(text, &self.keep);
        let turned = phrases(text, &self.swap);
        let mut out = String::with_capacity(text.len());
        let mut at = 0;
        for token in self.sides_in(text) {
            let inside = |ranges: &[Range<usize>]| {
                ranges.iter().any(|r| r.start <= token.range.start && token.range.end <= r.end)
            };
            if inside(&kept) {
                continue;
            }
            let other = self.other(token.word).or_else(|| turn(token.word).filter(|_| inside(&turned)));
            if let Some(other) = other {
                out.push_str(&text[at..token.range.start]);
                out.push_str(&cased(token.word, other));
                at = token.range.end;
            }
        }
        out.push_str(&text[at..]);
        out
    }

    /// The words of a text of which it can't be told whether they change, and that the author has not marked.
    pub fn doubtful(&self, text: &str) -> Vec<Range<usize>> {
        let mut marked = phrases(text, &self.keep);
        marked.extend(phrases(text, &self.swap));
        let mut found: Vec<Range<usize>> = Vec::new();
        let lower = text.to_lowercase();
        if lower.len() == text.len() {
            found.extend(phrases(text, &TURNS.map(str::to_owned)));
        }
        let all: Vec<WordToken> = tokens(text).collect();
        for (i, token) in all.iter().enumerate() {
            let from = i.saturating_sub(7);
            let verb = all[from..i].iter().rev().find(|t| {
                let word = t.word.to_lowercase();
                TURNING.iter().any(|v| word.strip_prefix(v).is_some_and(|rest| ["", "s", "ed", "ing"].contains(&rest)))
            });
            let same_sentence = verb.is_some_and(|v| !text[v.range.end..token.range.start].contains(['.', ';', ':']));
            if self.other(token.word).is_some()
                && same_sentence
                && !is_no_side(text, &all, i)
                && !names_a_thing(text, token, all.get(i + 1))
            {
                found.push(token.range.clone());
            }
        }
        found.retain(|f| !marked.iter().any(|m| m.start <= f.start && f.end <= m.end));
        found.sort_by_key(|f| (f.start, f.end));
        found.dedup();
        found
    }

    /// The side words of a text that no phrase keeps.
    pub fn found(&self, text: &str) -> Vec<Range<usize>> {
        let mut marked = phrases(text, &self.keep);
        marked.extend(phrases(text, &self.swap));
        self.sides_in(text)
            .into_iter()
            .filter(|t| self.other(t.word).is_some())
            .map(|t| t.range)
            .filter(|f| !marked.iter().any(|m| m.start <= f.start && f.end <= m.end))
            .collect()
    }

    /// The words of a text, without those that are written like a side and mean something else.
    fn sides_in<'t>(&self, text: &'t str) -> Vec<WordToken<'t>> {
        let all: Vec<WordToken> = tokens(text).collect();
        let is_side: Vec<bool> = (0..all.len()).map(|i| !is_no_side(text, &all, i)).collect();
        all.into_iter().zip(is_side).filter_map(|(token, is_side)| is_side.then_some(token)).collect()
    }

    fn other(&self, word: &str) -> Option<&str> {
        let word = word.to_lowercase();
        self.pairs.iter().find_map(|(a, b)| {
            if *a == word {
                Some(b.as_str())
            } else if *b == word {
                Some(a.as_str())
            } else {
                None
            }
        })
    }
}

/// Whether a word that is written like a side is none: what is left over, a right angle, right away. A right angle that
/// is named like a thing (`the right angle`) may be an angle of metal on that side.
fn is_no_side(text: &str, all: &[WordToken], i: usize) -> bool {
    let word = |at: Option<usize>| at.and_then(|at| all.get(at)).map_or_else(String::new, |t| t.word.to_lowercase());
    // Words of one phrase, with nothing but space or a hyphen between.
    let joined = |first: usize| {
        let between = all.get(first + 1).map(|next| &text[all[first].range.end..next.range.start]);
        between.is_some_and(|b| !b.is_empty() && b.chars().all(|c| c.is_whitespace() || c == '-'))
    };
    let before = if i > 0 && joined(i - 1) { word(Some(i - 1)) } else { String::new() };
    let after = if joined(i) { word(Some(i + 1)) } else { String::new() };
    match word(Some(i)).as_str() {
        "left" if after == "over" => !(joined(i + 1) && ARTICLES.contains(&word(Some(i + 2)).as_str())),
        "left" if REMAINS.contains(&before.as_str()) => match after.as_str() {
            "of" => i > 1 && word(Some(i - 2)) == "what",
            "and" | "or" | "hand" | "side" => false,
            _ => true,
        },
        "right" => {
            before == "all"
                || after == "away"
                || after.starts_with("angle") && ["a", "at", "to"].contains(&before.as_str())
        }
        _ => false,
    }
}

/// Words before `left` where it says that something remains.
const REMAINS: [&str; 11] = ["is", "are", "was", "were", "be", "been", "being", "have", "has", "nothing", "anything"];

/// Words with which a thing begins that something lies over.
const ARTICLES: [&str; 9] = ["the", "a", "an", "its", "their", "your", "this", "that", "each"];

/// Whether a side word says which thing is meant and not which way: the left arm, but not to the left until it stops.
fn names_a_thing(text: &str, side: &WordToken, next: Option<&WordToken>) -> bool {
    const GOES_ON: [&str; 32] = [
        "a", "about", "again", "all", "and", "around", "as", "at", "before", "but", "by", "for", "from", "full",
        "half", "if", "in", "into", "on", "once", "one", "or", "over", "round", "so", "then", "to", "twice", "until",
        "when", "while", "with",
    ];
    let Some(next) = next else { return false };
    let between = &text[side.range.end..next.range.start];
    let joined = !between.is_empty() && between.chars().all(char::is_whitespace);
    joined && !GOES_ON.contains(&next.word.to_lowercase().as_str())
}

/// The other way of turning, for a phrase that the author has marked.
fn turn(word: &str) -> Option<&'static str> {
    match word.to_lowercase().as_str() {
        "clockwise" => Some("counterclockwise"),
        "counterclockwise" | "anticlockwise" => Some("clockwise"),
        _ => None,
    }
}

fn tokens(text: &str) -> impl Iterator<Item = WordToken<'_>> {
    let mut rest = 0;
    std::iter::from_fn(move || {
        let start = rest + text[rest..].find(char::is_alphabetic)?;
        let length = text[start..].find(|c: char| !c.is_alphabetic()).unwrap_or(text.len() - start);
        rest = start + length;
        Some(WordToken { range: start..rest, word: &text[start..rest] })
    })
}

/// Where phrases (lower case) stand in a text, whatever their case; white space of any width counts as one space.
fn phrases(text: &str, phrases: &[String]) -> Vec<Range<usize>> {
    let lower = text.to_lowercase();
    // A letter whose lower case has another length would move every place behind it.
    if lower.len() != text.len() {
        return Vec::new();
    }
    let flat: String = lower.chars().map(|c| if c.is_ascii_whitespace() { ' ' } else { c }).collect();
    let mut found = Vec::new();
    for phrase in phrases.iter().filter(|p| !p.is_empty()) {
        found.extend(flat.match_indices(phrase.as_str()).map(|(at, m)| at..at + m.len()));
    }
    found
}

/// A word in the case of another: `Left`, `LEFT`, `left`.
fn cased(like: &str, word: &str) -> String {
    let capitals = like.chars().count() > 1 && like.chars().all(char::is_uppercase);
    if capitals {
        return word.to_uppercase();
    }
    let mut chars = word.chars();
    match chars.next() {
        Some(first) if like.starts_with(char::is_uppercase) => first.to_uppercase().chain(chars).collect(),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sides(keep: &[&str], swap: &[&str]) -> Sides {
        let keep: Vec<String> = keep.iter().map(|s| (*s).to_owned()).collect();
        let swap: Vec<String> = swap.iter().map(|s| (*s).to_owned()).collect();
        Sides::new(&[("babord".to_owned(), "tribord".to_owned())], &keep, &swap)
    }

    #[test]
    fn side_words_change_and_keep_their_case() {
        let s = sides(&["right away"], &[]);
        for (from, to) in [
            ("Left of the keel, on the LEFT", "Right of the keel, on the RIGHT"),
            ("stub-bolts-left", "stub-bolts-right"),
            ("Port side, inboard", "Starboard side, inboard"),
            ("Fit it right away on the left", "Fit it right away on the right"),
            ("A left-hand thread in the left fitting", "A left-hand thread in the right fitting"),
            ("A babord", "A tribord"),
            ("It is copyrighted and leftover", "It is copyrighted and leftover"),
        ] {
            assert_eq!(s.swapped(from), to);
        }
    }

    #[test]
    fn turning_is_in_doubt_until_it_is_marked() {
        let text = "Turn the bolt to the right. Then go left, clockwise.";
        let words = |s: &Sides| s.doubtful(text).into_iter().map(|r| text[r].to_owned()).collect::<Vec<_>>();
        assert_eq!(words(&sides(&[], &[])), ["right", "clockwise"]);
        assert_eq!(words(&sides(&["turn the bolt to the right"], &["clockwise"])), [""; 0]);
        let marked = sides(&["turn the bolt to the right"], &["clockwise"]);
        assert_eq!(marked.swapped(text), "Turn the bolt to the right. Then go right, counterclockwise.");
    }

    /// The left arm is a thing, not a way of turning.
    #[test]
    fn a_side_that_names_a_thing_is_no_way_of_turning() {
        let doubtful = |text: &str| sides(&[], &[]).doubtful(text).len();
        assert_eq!(doubtful("Screw them to the left arm."), 0);
        assert_eq!(doubtful("Turn the left nut until it stops."), 0);
        assert_eq!(doubtful("Screw it to the left until it stops."), 1);
        assert_eq!(doubtful("Turn it left, then stop."), 1);
        assert_eq!(sides(&[], &[]).swapped("Screw them to the left arm."), "Screw them to the right arm.");
    }

    #[test]
    fn what_is_left_is_no_side() {
        for text in [
            "Keep what is left over.",
            "Use the leftover, or what is left of the tube.",
            "Holes that are left open rust.",
            "See that nothing left inside can jam.",
            "The strip that is left over goes back into its bag.",
            "Bend it at a right angle, or at right angles to the beam.",
            "Wipe it right away. It is all right when it is dry.",
        ] {
            assert_eq!(sides(&[], &[]).swapped(text), text);
            assert!(sides(&[], &[]).found(text).is_empty(), "{text}");
        }
        for (from, to) in [
            ("Lay the left over the right.", "Lay the right over the left."),
            ("The hole is left of the keel.", "The hole is right of the keel."),
            ("Rivet the right angle.", "Rivet the left angle."),
            ("What is left is right.", "What is left is left."),
        ] {
            assert_eq!(sides(&[], &[]).swapped(from), to);
        }
    }

    proptest::proptest! {
        #[test]
        fn twice_is_the_same(words in proptest::collection::vec("(left|Right|PORT|starboard|keel|left-hand thread|, |\\.)", 0..20)) {
            let text = words.join(" ");
            let s = sides(&["the left one"], &[]);
            proptest::prop_assert_eq!(s.swapped(&s.swapped(&text)), text);
        }
    }
}
