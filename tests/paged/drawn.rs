//! The figures of the specimen: a drawing with what drawings are made of, and a photograph.

use std::collections::BTreeMap;

use kitwright::figure::{FigureFile, FigureKind};
use kitwright::units::FigureName;

use super::specimen::jpeg;

const FOOT: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="480" height="300" viewBox="0 0 480 300">
<defs><linearGradient id="g" x1="0" y1="0" x2="1" y2="0"><stop offset="0" stop-color="#cfd8dc"/><stop offset="1" stop-color="#607d8b"/></linearGradient>
<clipPath id="c"><circle cx="380" cy="90" r="40"/></clipPath></defs>
<rect x="20" y="180" width="440" height="60" fill="url(#g)" stroke="#263238" stroke-width="3"/>
<path d="M180 180 L200 60 L280 60 L300 180 Z" fill="#ffcc80" stroke="#263238" stroke-width="3"/>
<circle cx="210" cy="160" r="9" fill="#fff" stroke="#263238" stroke-width="2"/><circle cx="270" cy="160" r="9" fill="#c62828" fill-opacity=".5" stroke="#263238" stroke-width="2"/>
<line x1="240" y1="30" x2="240" y2="270" stroke="#263238" stroke-dasharray="12 4 3 4"/>
<g clip-path="url(#c)"><rect x="330" y="40" width="100" height="50" fill="#1565c0"/><rect x="330" y="90" width="100" height="50" fill="#2e7d32"/></g>
<text x="40" y="215" font-family="sans-serif" font-size="18" fill="#111">KEEL TUBE</text>
</svg>"##;

pub fn svg(name: &str, text: &str, width: u32, height: u32) -> FigureFile {
    FigureFile { name: name.into(), kind: FigureKind::Svg, width, height, bytes: text.as_bytes().into() }
}

pub fn figures() -> BTreeMap<FigureName, FigureFile> {
    [svg("foot.svg", FOOT, 480, 300), jpeg("photo.jpg", 1200, 900)].into_iter().map(|f| (f.name.clone(), f)).collect()
}
