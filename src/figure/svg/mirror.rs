//! An SVG drawing mirrored left to right, with its lettering still readable.
//!
//! The whole is flipped about the middle of its width, and each text flipped back about its own anchor: it then stands
//! where its mirror image stood. What was mirrored here before is taken back to the byte instead.

use roxmltree::{Document, Node};

use super::{NAMESPACE, parse};

/// The mirrored text of a sanitised SVG. None where it can't be mirrored: it has no view box, or holds a picture made
/// of pixels, whose lettering can't be told.
pub(in crate::figure) fn mirror(text: &str) -> Option<String> {
    original(text).or_else(|| mirrored(text))
}

fn mirrored(text: &str) -> Option<String> {
    let document = parse(text).ok()?;
    let root = document.root_element();
    let numbers: Vec<f64> = root.attribute("viewBox")?.split([' ', ',']).filter_map(|n| n.parse().ok()).collect();
    let [left, _, width, _] = numbers[..] else { return None };
    if elements(&document).any(|n| n.has_tag_name((NAMESPACE, "image"))) {
        return None;
    }
    let first = root.first_child()?.range().start;
    let last = root.last_child()?.range().end;
    let mut edits: Vec<(std::ops::Range<usize>, String)> = vec![
        (first..first, format!("<g transform=\"matrix(-1 0 0 1 {} 0)\">", number(2.0 * left + width))),
        (last..last, "</g>".to_owned()),
    ];
    for node in elements(&document).filter(|n| n.has_tag_name((NAMESPACE, "text"))) {
        letters(node, text, &mut edits)?;
    }
    edited(text, edits)
}

/// The text with ranges replaced. None where that leaves no drawing.
fn edited(text: &str, mut edits: Vec<(std::ops::Range<usize>, String)>) -> Option<String> {
    edits.sort_by_key(|e| (e.0.start, e.0.end));
    let mut out = String::with_capacity(text.len() + 256);
    let mut at = 0;
    for (range, new) in edits {
        out.push_str(text.get(at..range.start)?);
        out.push_str(&new);
        at = range.end;
    }
    out.push_str(text.get(at..)?);
    parse(&out).is_ok().then_some(out)
}

/// What `text` is the mirror image of. None where it was not made here.
fn original(text: &str) -> Option<String> {
    let document = parse(text).ok()?;
    let root = document.root_element();
    let group = root.first_child().filter(|g| g.has_tag_name((NAMESPACE, "g")) && root.last_child() == Some(*g))?;
    let inner = group.first_child()?.range().start..group.last_child()?.range().end;
    let mut cuts: Vec<(std::ops::Range<usize>, String)> =
        vec![(group.range().start..inner.start, String::new()), (inner.end..group.range().end, String::new())];
    for node in elements(&document).filter(|n| n.has_tag_name((NAMESPACE, "text"))) {
        let x = first_number(node.attribute("x").unwrap_or("0"))?;
        let flip = format!("matrix(-1 0 0 1 {} 0)", number(2.0 * x));
        let transform = node.attribute_node("transform")?;
        match transform.value().strip_suffix(flip.as_str())?.strip_suffix(' ') {
            Some(own) => cuts.push((transform.range(), format!("transform=\"{own}\""))),
            None => cuts.push((transform.range().start - 1..transform.range().end, String::new())),
        }
        let spans = node.descendants().filter(|n| n.has_tag_name((NAMESPACE, "tspan")));
        for (n, name) in std::iter::once((node, "<text")).chain(spans.map(|s| (s, "<tspan"))) {
            if name == "<tspan"
                && let Some(own) = n.attribute_node("x")
            {
                cuts.push((own.range(), format!("x=\"{}\"", number(2.0 * x - first_number(own.value())?))));
            }
            let Some(anchor) = n.attribute_node("text-anchor") else { continue };
            let added = name == "<text" && anchor.range().start == n.range().start + name.len() + 1;
            match anchor.value() {
                "start" | "end" if added => cuts.push((anchor.range().start - 1..anchor.range().end, String::new())),
                "end" => cuts.push((anchor.range(), "text-anchor=\"start\"".to_owned())),
                "start" => cuts.push((anchor.range(), "text-anchor=\"end\"".to_owned())),
                _ => {}
            }
        }
    }
    let before = edited(text, cuts)?;
    // Only what gives this text again was it made of.
    (mirrored(&before)? == text).then_some(before)
}

/// All words that stand in a drawing.
pub(in crate::figure) fn lettering(text: &str) -> Vec<String> {
    let Ok(document) = parse(text) else { return Vec::new() };
    let texts = elements(&document).filter(|n| n.has_tag_name((NAMESPACE, "text")));
    texts.map(|n| n.descendants().filter_map(|d| if d.is_text() { d.text() } else { None }).collect()).collect()
}

fn elements<'a, 'd>(document: &'d Document<'a>) -> impl Iterator<Item = Node<'d, 'a>> {
    document.descendants().filter(Node::is_element)
}

/// Flips a text back about its anchor, and lets it grow to the other side.
fn letters(node: Node, text: &str, edits: &mut Vec<(std::ops::Range<usize>, String)>) -> Option<()> {
    let x = first_number(node.attribute("x").unwrap_or("0"))?;
    let name_end = node.range().start + "<text".len();
    // A prefix before the name would be in the way; the sanitised text has none.
    text.get(node.range().start..name_end).filter(|t| *t == "<text")?;
    let flip = format!("matrix(-1 0 0 1 {} 0)", number(2.0 * x));
    // An anchor that is added comes before all else, which is how it is told from one that was there.
    let anchor = node.ancestors().find_map(|n| n.attribute("text-anchor")).unwrap_or("start");
    anchored(node, name_end, anchor, edits);
    match node.attribute_node("transform") {
        Some(old) => edits.push((old.range(), format!("transform=\"{} {flip}\"", old.value()))),
        None => edits.push((name_end..name_end, format!(" transform=\"{flip}\""))),
    }
    for span in node.descendants().filter(|n| n.has_tag_name((NAMESPACE, "tspan"))) {
        if let Some(own) = span.attribute_node("x") {
            edits.push((own.range(), format!("x=\"{}\"", number(2.0 * x - first_number(own.value())?))));
        }
        if let Some(own) = span.attribute("text-anchor") {
            anchored(span, span.range().start + "<tspan".len(), own, edits);
        }
    }
    Some(())
}

fn anchored(node: Node, name_end: usize, anchor: &str, edits: &mut Vec<(std::ops::Range<usize>, String)>) {
    let other = match anchor {
        "start" => "end",
        "end" => "start",
        _ => return,
    };
    match node.attribute_node("text-anchor") {
        Some(old) => edits.push((old.range(), format!("text-anchor=\"{other}\""))),
        None => edits.push((name_end..name_end, format!(" text-anchor=\"{other}\""))),
    }
}

fn first_number(text: &str) -> Option<f64> {
    text.split([' ', ',']).find(|n| !n.is_empty())?.trim_end_matches("px").parse().ok()
}

/// Six places at most, without idle zeros.
fn number(value: f64) -> String {
    format!("{}", (value * 1e6).round() / 1e6 + 0.0)
}

#[cfg(test)]
mod tests {
    use resvg::usvg;

    use super::*;

    const DRAWING: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" width="200" height="100"><path d="M10 10 L50 20" stroke="#000"/><text x="20" y="50" font-size="10">Keel</text><text x="60" y="80" text-anchor="middle" transform="rotate(30 60 80)">24</text></svg>"##;

    /// Where usvg, a general-purpose reader of SVG, puts the ink: left, right of each shape.
    fn places(svg: &str) -> Vec<(f64, f64)> {
        let mut options = usvg::Options::default();
        options.fontdb_mut().load_font_data(crate::typeface::Typeface::Sans.bytes().to_vec());
        options.font_family = "DejaVu Sans".to_owned();
        let tree = usvg::Tree::from_str(svg, &options).expect("usvg reads it");
        let mut out = Vec::new();
        walk(tree.root(), &mut out);
        out
    }

    fn walk(group: &usvg::Group, out: &mut Vec<(f64, f64)>) {
        for child in group.children() {
            match child {
                usvg::Node::Group(g) => walk(g, out),
                other => {
                    let b = other.abs_bounding_box();
                    out.push((f64::from(b.left()), f64::from(b.right())));
                }
            }
        }
    }

    #[test]
    fn everything_stands_where_its_mirror_image_is() {
        let mirrored = mirror(DRAWING).expect("it can be mirrored");
        let (before, after) = (places(DRAWING), places(&mirrored));
        assert_eq!((before.len(), after.len()), (3, 3));
        for (b, a) in before.iter().zip(&after) {
            assert!((a.0 - (200.0 - b.1)).abs() < 0.3 && (a.1 - (200.0 - b.0)).abs() < 0.3, "{b:?} {a:?}");
        }
    }

    #[test]
    fn mirrored_twice_is_the_same_to_the_byte() {
        assert_eq!(mirror(&mirror(DRAWING).expect("once")).as_deref(), Some(DRAWING));
    }

    proptest::proptest! {
        /// Whatever is drawn and lettered: mirrored twice it has the same bytes.
        #[test]
        fn twice_is_the_same(
            items in proptest::collection::vec(
                ("[a-z]{1,6}", 0_i32..200, proptest::option::of("start|middle|end"), proptest::bool::ANY, proptest::bool::ANY),
                1..8,
            )
        ) {
            let mut svg = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" width="200" height="100">"#.to_owned();
            for (word, x, anchor, turned, spanned) in items {
                let anchor = anchor.map_or_else(String::new, |a| format!(" text-anchor=\"{a}\""));
                let turned = if turned { format!(" transform=\"rotate(30 {x} 50)\"") } else { String::new() };
                let word = if spanned { format!("<tspan x=\"{x}\">{word}</tspan>") } else { word };
                svg.push_str(&format!("<path d=\"M{x} 1 L9 9\"/><text x=\"{x}\" y=\"50\"{anchor}{turned}>{word}</text>"));
            }
            svg.push_str("</svg>");
            let once = mirror(&svg).expect("it can be mirrored");
            proptest::prop_assert!(once != svg);
            proptest::prop_assert_eq!(mirror(&once), Some(svg));
        }
    }

    #[test]
    fn letters_are_not_reversed_and_pixels_are_not_flipped() {
        let mirrored = mirror(DRAWING).expect("it can be mirrored");
        let read = Document::parse(&mirrored).expect("well-formed");
        let texts: Vec<_> = read.descendants().filter(|n| n.has_tag_name((NAMESPACE, "text"))).collect();
        assert_eq!(texts[0].attribute("transform"), Some("matrix(-1 0 0 1 40 0)"));
        assert_eq!(texts[0].attribute("text-anchor"), Some("end"));
        assert_eq!(texts[1].attribute("text-anchor"), Some("middle"));
        assert_eq!(lettering(DRAWING), ["Keel", "24"]);
        let pixels = DRAWING.replace("<path", "<image href=\"data:\"/><path");
        assert_eq!(mirror(&pixels), None);
    }
}
