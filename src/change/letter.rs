//! Release letters: A to Y, then AA; I, O, Q, S, X and Z are not used (ASME Y14.35, revision letters).

use std::cmp::Ordering;

/// The letters of the alphabet that are used, in order.
const USED: &[u8] = b"ABCDEFGHJKLMNPRTUVWY";

/// The letter of a release.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Letter(String);

impl Letter {
    /// Reads `B` or `AC`; None where it is no release letter.
    pub fn parse(text: &str) -> Option<Self> {
        let good = !text.is_empty() && text.len() <= 3 && text.bytes().all(|b| USED.contains(&b));
        good.then(|| Self(text.to_owned()))
    }

    /// The first one.
    pub fn first() -> Self {
        Self("A".to_owned())
    }

    /// The one after this: B after A, AA after Y.
    pub fn next(&self) -> Self {
        let mut bytes = self.0.clone().into_bytes();
        for at in (0..bytes.len()).rev() {
            match USED.iter().position(|b| *b == bytes[at]) {
                Some(i) if i + 1 < USED.len() => {
                    bytes[at] = USED[i + 1];
                    return Self(String::from_utf8_lossy(&bytes).into_owned());
                }
                _ => bytes[at] = USED[0],
            }
        }
        bytes.insert(0, USED[0]);
        Self(String::from_utf8_lossy(&bytes).into_owned())
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Letter {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl Ord for Letter {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.len().cmp(&other.0.len()).then_with(|| self.0.cmp(&other.0))
    }
}

impl PartialOrd for Letter {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    use super::Letter;

    #[test]
    fn letters_follow_one_another() {
        let mut letter = Letter::first();
        let mut all = vec![letter.to_string()];
        for _ in 0..21 {
            let next = letter.next();
            assert!(next > letter);
            all.push(next.to_string());
            letter = next;
        }
        assert_eq!(all.join(" "), "A B C D E F G H J K L M N P R T U V W Y AA AB");
        assert_eq!(Letter::parse("AY").unwrap().next().as_str(), "BA");
        assert_eq!(Letter::parse("YY").unwrap().next().as_str(), "AAA");
        assert!(["", "I", "O", "b", "A1", "AAAA", "../A"].iter().all(|t| Letter::parse(t).is_none()));
    }
}
