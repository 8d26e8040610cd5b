//! Where things are set out from a named datum, and jigs that serve both hands, as the author wrote them.

use super::hardware::words;
use crate::source::{Span, Spanned};
use crate::units::Length;

/// A place that is measured from a datum of the manual.
#[derive(Clone, Debug)]
pub struct Offset {
    /// What is placed.
    pub place: Spanned<String>,
    /// The datum's id.
    pub from: Spanned<String>,
    /// How far, and to which side; at least one.
    pub away: Vec<(Side, Spanned<Length>)>,
}

words! {
    /// Sides as seen by someone facing forward.
    Side {
        Left = "left",
        Right = "right",
        Forward = "forward",
        Aft = "aft",
        Up = "up",
        Down = "down",
    }
}

impl Side {
    /// The side in a mirror.
    pub fn mirrored(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            other => other,
        }
    }

    /// As it is said after a length: `24 in to the left of`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "to the left of",
            Self::Right => "to the right of",
            Self::Forward => "forward of",
            Self::Aft => "aft of",
            Self::Up => "above",
            Self::Down => "below",
        }
    }
}

words! {
    /// From which side a part in a jig is drilled.
    DrilledFrom {
        Above = "above",
        Below = "below",
    }
}

/// One jig for both hands: the opposite is built in it other face up.
#[derive(Clone, Debug)]
pub struct OneJig {
    /// The key.
    pub span: Span,
    /// The face of the part that is up in this step.
    pub face_up: Spanned<String>,
    /// The face that is up for the other hand, where the lexicon can't tell it.
    pub opposite_face_up: Option<Spanned<String>>,
    pub drilled_from: DrilledFrom,
}

/// Pairs of faces: what lies up for one hand lies down for the other.
const FACES: [(&str, &str); 6] = [
    ("outer", "inner"),
    ("outside", "inside"),
    ("upper", "lower"),
    ("top", "bottom"),
    ("outboard", "inboard"),
    ("front", "back"),
];

/// `outer face` for `inner face`. None where no word, or more than one, names a face.
pub fn other_face(words: &str) -> Option<String> {
    let mut found = None;
    for word in words.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()) {
        let lower = word.to_lowercase();
        let other = FACES.iter().find_map(|(a, b)| {
            if lower == *a {
                Some(*b)
            } else if lower == *b {
                Some(*a)
            } else {
                None
            }
        });
        if let Some(other) = other {
            if found.is_some() {
                return None;
            }
            found = Some((word, other));
        }
    }
    found.map(|(word, other)| words.replacen(word, other, 1))
}

impl OneJig {
    /// The face that is up for the other hand.
    pub fn other_face_up(&self) -> Option<String> {
        self.opposite_face_up.as_ref().map(|f| f.value.clone()).or_else(|| other_face(&self.face_up.value))
    }
}

#[cfg(test)]
mod tests {
    use super::other_face;

    #[test]
    fn a_face_has_another() {
        assert_eq!(other_face("outer face").as_deref(), Some("inner face"));
        assert_eq!(other_face("lower side").as_deref(), Some("upper side"));
        assert_eq!(other_face("marked face"), None);
        assert_eq!(other_face("outer face to the inside"), None);
    }
}
