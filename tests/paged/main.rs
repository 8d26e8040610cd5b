//! The paged documents: layout and PDF together.

mod specimen;

use kitwright::document::Purpose;
use kitwright::emit::pdf::{Ink, write};
use kitwright::layout::{Fonts, Laid, Style, lay_out};

fn lay(purpose: Purpose) -> (Laid, Vec<u8>) {
    let document = specimen::document(purpose);
    let fonts = Fonts::new(None);
    let figures = specimen::figures();
    let laid = lay_out(&document, &figures, &fonts, &Style::of(&document));
    let ink = if purpose == Purpose::Manual { Ink::Colour } else { Ink::Grey };
    let pdf = write(&laid, &figures, &fonts, ink, None).unwrap();
    (laid, pdf)
}

#[test]
fn specimens_are_written() {
    for (purpose, name) in [(Purpose::Manual, "manual"), (Purpose::ShopCopy, "shop-copy"), (Purpose::PickLists, "pick-lists")] {
        let (laid, pdf) = lay(purpose);
        assert!(pdf.starts_with(b"%PDF-1.7"));
        assert!(laid.pages.len() > 1);
        let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
        std::fs::write(folder.join(format!("{name}.pdf")), &pdf).unwrap();
    }
}
