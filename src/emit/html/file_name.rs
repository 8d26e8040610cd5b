//! File names that every stick can carry.

use std::collections::BTreeSet;

/// The longest name before its extension, in bytes: a whole path has to stay below 260 signs on some systems.
const LONGEST: usize = 72;

/// Names that some systems keep for devices, with or without an extension.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];

/// Gives out file names. All are lower case, so that no two differ in case only; FAT32 and exFAT take such
/// names for one.
#[derive(Debug, Default)]
pub struct FileNames {
    taken: BTreeSet<String>,
}

impl FileNames {
    /// A name that has not been given out before, made from `wish`. Where the name is taken a number is added,
    /// so that the names depend on the order of the wishes alone. `extension` is without the full stop.
    pub fn give(&mut self, wish: &str, extension: &str) -> String {
        let stem = portable(wish);
        let mut name = format!("{stem}.{extension}");
        let mut number = 2;
        while !self.taken.insert(name.clone()) {
            name = format!("{stem}-{number}.{extension}");
            number += 1;
        }
        name
    }
}

fn portable(wish: &str) -> String {
    let mut stem: String = wish
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() || matches!(c, '-' | '_') { c.to_ascii_lowercase() } else { '-' })
        .take(LONGEST)
        .collect();
    if stem.is_empty() || is_reserved(&stem) {
        stem.insert(0, '_');
    }
    stem
}

fn is_reserved(stem: &str) -> bool {
    let device = |name: &str| stem.strip_prefix(name).is_some_and(|n| matches!(n.as_bytes(), [b'1'..=b'9']));
    RESERVED.contains(&stem) || device("com") || device("lpt")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_differ_in_case_only_are_kept_apart() {
        let mut names = FileNames::default();
        assert_eq!(names.give("step-Axle", "html"), "step-axle.html");
        assert_eq!(names.give("step-axle", "html"), "step-axle-2.html");
        assert_eq!(names.give("step-axle-2", "html"), "step-axle-2-2.html");
    }

    #[test]
    fn forbidden_signs_and_device_names_never_appear() {
        // The forbidden signs and device names of "Naming Files, Paths, and Namespaces", Microsoft Learn.
        let mut names = FileNames::default();
        assert_eq!(names.give("a<b>c:d\"e/f\\g|h?i*j k.l", "png"), "a-b-c-d-e-f-g-h-i-j-k-l.png");
        for device in ["CON", "nul", "COM1", "lpt9"] {
            assert_eq!(names.give(device, "html"), format!("_{}.html", device.to_ascii_lowercase()));
        }
        assert_eq!(names.give("", "html"), "_.html");
        assert_eq!(names.give("com0", "html"), "com0.html");
        assert!(names.give(&"x".repeat(500), "html").len() < 100);
    }
}
