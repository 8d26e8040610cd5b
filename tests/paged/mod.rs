//! The paged documents: layout and PDF together.

mod author_font;
mod bad_input;
mod drawn;
mod outside;
mod specimen;
mod widths;
mod words;

use std::collections::BTreeMap;

use kitwright::document::{Document, Paper, Purpose};
use kitwright::emit::pdf::{PdfInk, write};
use kitwright::figure::FigureFile;
use kitwright::layout::{Fonts, Laid, Style, lay_out};
use kitwright::units::FigureName;

/// A document laid out and written in the ink of its purpose.
pub struct Printed {
    pub document: Document,
    pub laid: Laid,
    pub pdf: Vec<u8>,
}

pub fn print(document: Document, figures: &BTreeMap<FigureName, FigureFile>) -> Printed {
    let fonts = Fonts::new(None);
    let laid = lay_out(&document, figures, &fonts, &Style::of(&document));
    let ink = if document.purpose == Purpose::Manual { PdfInk::Colour } else { PdfInk::Grey };
    let pdf = write(laid.clone(), figures, &fonts, ink, None).unwrap();
    Printed { document, laid, pdf }
}

pub fn specimens() -> Vec<(String, Printed)> {
    let mut out = Vec::new();
    for (purpose, name) in
        [(Purpose::Manual, "manual"), (Purpose::ShopCopy, "shop-copy"), (Purpose::PickLists, "pick-lists")]
    {
        for paper in [Paper::Letter, Paper::A4] {
            let mut document = specimen::document(purpose);
            document.meta.paper = paper;
            out.push((format!("{name}-{paper:?}"), print(document, &drawn::figures())));
        }
    }
    out
}

#[test]
fn threads_do_not_show_in_the_bytes() {
    let run = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| print(specimen::document(Purpose::Manual), &drawn::figures()).pdf)
    };
    let one = run(1);
    assert!(one == run(2) && one == run(5) && one == run(1));
}

#[test]
fn every_page_has_a_label_and_pages_refer_to_them() {
    let printed = print(specimen::document(Purpose::Manual), &drawn::figures());
    for (i, page) in printed.laid.pages.iter().enumerate() {
        assert_eq!(&*page.label, (i + 1).to_string());
    }
    assert!(
        printed
            .laid
            .problems
            .iter()
            .all(|p| matches!(p, kitwright::layout::Problem::MissingGlyph { character: '漢', .. })),
        "{:?}",
        printed.laid.problems
    );
}

#[test]
fn placed_figures_are_told_with_their_size() {
    let printed = print(specimen::document(Purpose::Manual), &drawn::figures());
    let placed = &printed.laid.placed;
    assert_eq!(placed.len(), 2);
    assert!(placed.iter().all(|f| f.width > 100.0 && f.height > 100.0 && f.origin.step.is_some()));
    let ratio = placed[0].width / placed[0].height;
    assert!((ratio - 480.0 / 300.0).abs() < 1e-6);
}
