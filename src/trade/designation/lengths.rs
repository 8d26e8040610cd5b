//! The lengths that the standards list for metric screws, by size. From memory; every row is checked against a
//! general-purpose library.

/// Preferred lengths, millimetres (ISO 888).
const PREFERRED: [u16; 39] = [
    5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180,
    200, 220, 240, 260, 280, 300, 320, 340, 360, 380, 400, 420,
];

/// Lengths that ISO 10642 passes over.
const NOT_10642: [u16; 3] = [45, 55, 65];

/// A diameter with the shortest and the longest length listed for it, millimetres.
type Range = (u16, u16, u16);

/// The standards, each with its sizes.
const LISTED: [(&str, &[Range]); 5] = [
    (
        "4014",
        &[
            (3, 20, 30),
            (4, 25, 40),
            (5, 25, 50),
            (6, 30, 60),
            (8, 40, 80),
            (10, 45, 100),
            (12, 50, 120),
            (14, 60, 140),
            (16, 65, 160),
            (20, 80, 200),
            (24, 90, 240),
        ],
    ),
    (
        "4017",
        &[
            (3, 6, 30),
            (4, 8, 40),
            (5, 10, 50),
            (6, 12, 60),
            (8, 16, 80),
            (10, 20, 100),
            (12, 25, 120),
            (14, 30, 140),
            (16, 30, 150),
            (20, 40, 150),
            (24, 50, 150),
        ],
    ),
    (
        "4762",
        &[
            (3, 5, 30),
            (4, 6, 40),
            (5, 8, 50),
            (6, 10, 60),
            (8, 12, 80),
            (10, 16, 100),
            (12, 20, 120),
            (16, 25, 160),
            (20, 30, 100),
        ],
    ),
    (
        "10642",
        &[
            (3, 8, 30),
            (4, 8, 40),
            (5, 8, 50),
            (6, 8, 60),
            (8, 10, 80),
            (10, 12, 100),
            (12, 20, 100),
            (16, 30, 100),
            (20, 35, 100),
        ],
    ),
    (
        "7380",
        &[(3, 6, 30), (4, 6, 40), (5, 8, 50), (6, 10, 60), (8, 12, 80), (10, 16, 100), (12, 20, 100), (16, 25, 100)],
    ),
];

/// The lengths, millimetres, that a standard lists for a diameter in millimetres; empty where it is not known.
pub(in crate::trade) fn listed(standard: &str, diameter: u16) -> impl Iterator<Item = u16> + use<> {
    let standard = standard.strip_suffix("-1").unwrap_or(standard);
    let row = LISTED.iter().find(|(name, _)| *name == standard);
    let range = row.and_then(|(_, sizes)| sizes.iter().find(|size| size.0 == diameter));
    let (_, shortest, longest) = range.copied().unwrap_or((0, 1, 0));
    let skips = standard == "10642";
    PREFERRED.into_iter().filter(move |n| (shortest..=longest).contains(n) && !(skips && NOT_10642.contains(n)))
}
