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

/// What would be drawn for minutes, or would take more room than there is, is told by its size before it is drawn.
#[test]
fn a_drawing_that_asks_for_too_much() {
    let mut copies = "<path id=\"c0\" d=\"M0 0h9v9z\"/>".to_owned();
    for i in 1..10 {
        copies += &format!("<g id=\"c{i}\">{}</g>", format!("<use href=\"#c{}\"/>", i - 1).repeat(10));
    }
    let filtered = |step: &str| {
        format!(
            "<filter id=\"f\" width=\"9\" height=\"9\">{step}</filter><rect width=\"99\" height=\"99\" filter=\"url(#f)\"/>"
        )
    };
    for (inner, words) in [
        (
            "<pattern id=\"p\" width=\"1e9\" height=\"1e9\" patternUnits=\"userSpaceOnUse\"><rect width=\"9\" height=\"9\"/></pattern>\
             <rect width=\"99\" height=\"99\" fill=\"url(#p)\"/>"
                .to_owned(),
            "too large or too many",
        ),
        (filtered("<feMorphology operator=\"dilate\" radius=\"5000\"/>"), "too large or too many"),
        (filtered("<feTurbulence baseFrequency=\"1\" numOctaves=\"4000000000\"/>"), "too large or too many"),
        (filtered(&"<feOffset dx=\"1\"/>".repeat(5000)), "too large or too many"),
        (copies, "too much to draw"),
        ("<g id=\"a\"><use href=\"#a\"/></g>".to_owned(), "by means of itself"),
        ("<g>".repeat(400) + &"</g>".repeat(400), "nested too deep"),
        (format!("<g{}/>", (0..2000).map(|i| format!(" a{i}=\"\"")).collect::<String>()), "attributes"),
        (
            format!(
                "<style>{}</style>{}<rect/>{}",
                "a g g g g g g g g rect { fill: red }".repeat(20),
                "<g>".repeat(100),
                "</g>".repeat(100)
            ),
            "too many style rules",
        ),
    ] {
        let desk = Desk::new();
        desk.put(FIGURE, svg(&inner));
        let (found, said) = desk.refusal(words);
        assert!(found.iter().all(|f| f.starts_with("figures/rail.svg") && f.ends_with("error: broken-figure")), "{said}");
    }
}

/// PNG, third edition, 11.2.2: a colour table is of whole colours. ISO/IEC 10918-1, B.1: a picture ends behind its last block.
#[test]
fn a_picture_that_readers_would_have_to_guess() {
    let chunk = |kind: &[u8; 4], data: &[u8]| {
        let named = [kind, data].concat();
        let mut sum = flate2::Crc::new();
        sum.update(&named);
        [&(data.len() as u32).to_be_bytes()[..], &named, &sum.sum().to_be_bytes()].concat()
    };
    let mut packed = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
    std::io::Write::write_all(&mut packed, &[0, 0, 0, 0, 0]).expect("a row can be packed");
    let packed = packed.finish().expect("a row can be packed");
    let png = [
        b"\x89PNG\r\n\x1a\n".to_vec(),
        chunk(b"IHDR", &[0, 0, 0, 4, 0, 0, 0, 1, 8, 3, 0, 0, 0]),
        chunk(b"PLTE", &[1, 2, 3, 4]),
        chunk(b"IDAT", &packed),
        chunk(b"IEND", b""),
    ]
    .concat();
    let mut jpeg = Vec::new();
    let pixels: Vec<u8> = (0..64 * 64 * 3u32).map(|i| (i * i % 251) as u8).collect();
    image::codecs::jpeg::JpegEncoder::new(&mut jpeg)
        .encode(&pixels, 64, 64, image::ExtendedColorType::Rgb8)
        .expect("a picture can be coded");
    let jpeg = [&jpeg[..jpeg.len() / 2], b"\xff\xd9"].concat();
    for (name, bytes) in [("table.png", png), ("half.jpg", jpeg)] {
        let desk = Desk::new();
        desk.edit(STEP_PATH, "figure: rail.svg", &format!("figure: {name}"));
        std::fs::remove_file(desk.path(FIGURE)).expect("it can be removed");
        desk.put(&format!("figures/{name}"), bytes);
        desk.refused(&[&format!("figures/{name}: error: broken-figure")], "broken or cut off");
    }
}
