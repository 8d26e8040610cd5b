//! Widths of words as set, against the fonts' own tables, and the looks at paged documents on the specimens.

use std::collections::BTreeMap;
use std::path::Path;

use kitwright::document::{LeafRole, Purpose};
use kitwright::layout::{Fonts, ItemKind, Style, lay_out};

use super::specimen::{document, leaf, p};
use super::specimens;
use crate::outside;

/// Without the pairs that DejaVu sets as ligatures.
const WORDS: [&str; 16] = [
    "AVATAR",
    "Tube",
    "Type",
    "Wave",
    "LT",
    "keel",
    "rigging",
    "Yacht",
    "P.",
    "Washer",
    "1234567890",
    "KW-103-L",
    "bracket,",
    "AN960",
    "voyage",
    "Text",
];

#[test]
fn widths_and_specimens_pass_the_looks_at_paged_documents() {
    let mut document = document(Purpose::Manual);
    document.leaves = vec![leaf("page", "x", LeafRole::Text, "T", WORDS.iter().map(|w| p(w)).collect())];
    let fonts = Fonts::new(None);
    let laid = lay_out(&document, &BTreeMap::new(), &fonts, &Style::of(&document));
    let runs: Vec<f64> = laid.pages[0]
        .items
        .iter()
        .filter(|i| i.tag.is_some())
        .filter_map(|i| match &i.kind {
            ItemKind::Text(run) if run.face.0 == 0 => Some(run.width() / run.size),
            _ => None,
        })
        .take(WORDS.len())
        .collect();
    assert_eq!(runs.len(), WORDS.len());
    let words: Vec<(&str, f64)> = WORDS.into_iter().zip(runs).collect();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("widths");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("text.ttf"), dejavu::sans_condensed::regular()).unwrap();
    std::fs::write(folder.join("widths.json"), serde_json::to_string(&BTreeMap::from([("text.ttf", words)])).unwrap())
        .unwrap();
    for (name, printed) in specimens() {
        std::fs::write(folder.join(format!("{name}.pdf")), printed.pdf).unwrap();
    }
    let Some(python) = outside::python("widths of words, and the looks at paged documents") else { return };
    let said = outside::run(outside::script(&python, "paged.py").arg(&folder));
    assert!(said.contains(&format!(" {} words measured", WORDS.len())), "{said}");
}
