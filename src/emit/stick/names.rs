//! Names that every stick can carry: FAT32 and exFAT, and the systems that read them ("Naming Files, Paths, and
//! Namespaces", Microsoft Learn).

use std::collections::BTreeMap;

/// The longest name of a file or folder, in UTF-16 units.
const LONGEST_NAME: usize = 255;
/// The longest path on the stick: 260 with the drive's three signs and a closing zero.
const LONGEST_PATH: usize = 256;

/// A path that some system could not carry, and why, as words after the path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadName {
    pub path: String,
    pub reason: &'static str,
}

/// Finds the first path that can't be carried.
///
/// # Errors
/// That path.
pub fn portable<'a>(paths: impl IntoIterator<Item = &'a str>) -> Result<(), BadName> {
    let mut folded: BTreeMap<String, &str> = BTreeMap::new();
    for path in paths {
        let bad = |reason| Err(BadName { path: path.to_owned(), reason });
        if path.encode_utf16().count() > LONGEST_PATH {
            return bad("is longer than some systems allow");
        }
        if let Some(reason) = path.split('/').find_map(bad_part) {
            return bad(reason);
        }
        if folded.insert(path.to_lowercase(), path).is_some() {
            return bad("differs from another name in capital letters only");
        }
    }
    Ok(())
}

fn bad_part(part: &str) -> Option<&'static str> {
    let forbidden = |c: char| c < ' ' || matches!(c, '<' | '>' | ':' | '"' | '\\' | '|' | '?' | '*');
    let stem = part.split('.').next().unwrap_or(part).trim_end().to_ascii_uppercase();
    let numbered = |device: &str| stem.strip_prefix(device).is_some_and(|n| matches!(n.as_bytes(), [b'1'..=b'9']));
    if part.is_empty() || part == "." || part == ".." {
        Some("has an empty part")
    } else if part.contains(forbidden) {
        Some("has a sign that FAT32 forbids")
    } else if part.ends_with([' ', '.']) {
        Some("ends with a space or a full stop")
    } else if matches!(stem.as_str(), "CON" | "PRN" | "AUX" | "NUL") || numbered("COM") || numbered("LPT") {
        Some("is a name that some machines keep for a device")
    } else if part.encode_utf16().count() > LONGEST_NAME {
        Some("has a part that is longer than 255 signs")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reason(path: &str) -> Option<&'static str> {
        portable([path]).err().map(|bad| bad.reason)
    }

    #[test]
    fn usual_names_pass_and_others_say_why() {
        assert_eq!(reason("ICE+claw/manual/step-fit.html"), None);
        assert_eq!(reason("com0/lpt.txt"), None);
        for bad in ["a:b", "a?b", "x/", "NUL", "aux.txt", "Com1.html", "a.", "b ", "a\u{1}", "../x"] {
            assert!(reason(bad).is_some(), "{bad:?}");
        }
        assert!(reason(&"x".repeat(256)).is_some() && reason(&"é".repeat(255)).is_none());
        assert!(reason(&"ab/".repeat(90)).is_some());
    }

    #[test]
    fn names_that_differ_in_case_only_are_one_on_a_stick() {
        assert!(portable(["a/B", "a/b"]).is_err());
        assert!(portable(["a/b", "a/c"]).is_ok());
    }
}
