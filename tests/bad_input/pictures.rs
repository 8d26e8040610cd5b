//! Pictures that are broken, huge or do something.

use super::desk::{Desk, STEP_PATH};

const FIGURE: &str = "figures/rail.svg";

fn svg(inner: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"99\" height=\"99\">{inner}</svg>")
}

#[test]
fn an_svg_that_acts_or_reaches_out() {
    for inner in [
        "<script>alert(1)</script>",
        "<rect width=\"9\" height=\"9\" onclick=\"alert(1)\"/>",
        "<image href=\"https://example.org/x.png\" width=\"9\" height=\"9\"/>",
        "<image href=\"../secret.png\" width=\"9\" height=\"9\"/>",
        "<style>rect { fill: url(https://example.org/x) }</style>",
        "<foreignObject width=\"9\" height=\"9\"><p/></foreignObject>",
    ] {
        let desk = Desk::new();
        desk.put(FIGURE, svg(inner));
        desk.refused(&["figures/rail.svg:1: error: broken-figure"], "rail.svg");
    }
}

#[test]
fn an_entity_bomb() {
    let mut entities = "<!ENTITY a \"aaaaaaaaaa\">".to_owned();
    for (name, from) in "bcdefghi".chars().zip("abcdefgh".chars()) {
        entities += &format!("<!ENTITY {name} \"{}\">", format!("&{from};").repeat(10));
    }
    let desk = Desk::new();
    desk.put(FIGURE, format!("<!DOCTYPE svg [{entities}]>{}", svg("<text>&i;</text>")));
    desk.refused(&["figures/rail.svg:1: error: broken-figure"], "");
}

/// The head of a PNG that says it is as large as this (PNG, third edition, 11.2.1).
fn png_head(width: u32, height: u32) -> Vec<u8> {
    let mut head = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    head.extend(width.to_be_bytes());
    head.extend(height.to_be_bytes());
    head.extend([8, 2, 0, 0, 0]);
    let mut crc = flate2::Crc::new();
    crc.update(&head[12..]);
    head.extend(crc.sum().to_be_bytes());
    head
}

#[test]
fn a_picture_of_40000_by_40000_and_a_broken_one() {
    for (name, bytes) in [
        ("huge.png", png_head(40_000, 40_000)),
        ("cut.png", png_head(400, 300)[..20].to_vec()),
        ("text.png", b"no picture".to_vec()),
        ("cut.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF".to_vec()),
    ] {
        let desk = Desk::new();
        desk.edit(STEP_PATH, "figure: rail.svg", &format!("figure: {name}"));
        std::fs::remove_file(desk.path(FIGURE)).expect("it can be removed");
        desk.put(&format!("figures/{name}"), bytes);
        desk.refused(&[&format!("figures/{name}: error: broken-figure")], name);
    }
}
