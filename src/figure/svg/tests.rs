use std::sync::Arc;

use proptest::prelude::*;

use crate::figure::{FigureFault, FigureFile, inline_svg, probe};
use crate::units::FigureName;

const XMLNS: &str = "xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\"";

fn read(text: &str) -> Result<FigureFile, FigureFault> {
    probe(&FigureName::new("a.svg"), Arc::from(text.as_bytes()))
}

/// A drawing of 40 by 30 units.
fn svg(inner: &str) -> String {
    format!("<svg {XMLNS} viewBox=\"0 0 40 30\">{inner}</svg>")
}

fn clean(text: &str) -> String {
    String::from_utf8(read(text).unwrap_or_else(|f| panic!("{f:?}")).bytes.to_vec()).unwrap()
}

/// The pixels that resvg, a general-purpose library, draws.
fn pixels(svg: &str) -> Vec<u8> {
    let tree = resvg::usvg::Tree::from_str(svg, &resvg::usvg::Options::default()).unwrap();
    let mut map = resvg::tiny_skia::Pixmap::new(80, 60).unwrap();
    resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(2.0, 2.0), &mut map.as_mut());
    map.data().to_vec()
}

const DRAWING: &str = "<?xml version=\"1.0\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n\
<!-- made by hand --><svg:svg xmlns:svg=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" xmlns:n=\"urn:notes\" n:zoom=\"2\" width=\"40\" height=\"30\">\
<svg:style>.a { fill: red } rect.a { fill: url(#g) } #b { stroke: blue !important } /* x */</svg:style>\
<svg:defs><svg:linearGradient id=\"g\"><svg:stop offset=\"0\" stop-color=\"#0a0\"/><svg:stop offset=\"1\" stop-color=\"#a00\"/></svg:linearGradient>\
<svg:clipPath id=\"c\"><svg:circle cx=\"20\" cy=\"15\" r=\"12\"/></svg:clipPath></svg:defs>\
<n:note>left out</n:note><svg:metadata><n:x/></svg:metadata>\
<svg:g clip-path=\"url(#c)\"><svg:rect class=\"a\" id=\"b\" width=\"40\" height=\"30\" style=\"stroke: green; stroke-width: 6\"/></svg:g>\
<svg:circle class=\"a\" r=\"4\" cx=\"4\" cy=\"4\"/><svg:use xlink:href=\"#b\" x=\"30\" opacity=\".5\"/></svg:svg>";

#[test]
fn a_sanitised_drawing_looks_the_same() {
    let figure = read(DRAWING).unwrap();
    let clean = std::str::from_utf8(&figure.bytes).unwrap();
    assert_eq!(pixels(clean), pixels(DRAWING));
    assert!(pixels(DRAWING).iter().any(|&b| b != 0));
    for gone in ["<?xml", "DOCTYPE", "made by hand", "note", "zoom", "metadata", "<style", "class="] {
        assert!(!clean.contains(gone), "{gone}: {clean}");
    }
    let inline = inline_svg(&figure, "f3-");
    assert_eq!(pixels(&inline), pixels(DRAWING));
    assert!(inline.starts_with("<svg xmlns="));
    for wanted in ["id=\"f3-g\"", "url(#f3-g)", "url(#f3-c)", "href=\"#f3-b\""] {
        assert!(inline.contains(wanted), "{wanted}: {inline}");
    }
    assert!(!inline.contains("\"#b\"") && !inline.contains("url(#g)"));
    // What was sanitised once is sanitised for good.
    assert_eq!(self::clean(clean), clean);
}

#[test]
fn sizes_are_in_units_of_a_96th_of_an_inch() {
    // CSS Values and Units Level 3, section 6.2: 1 in = 2.54 cm = 25.4 mm = 72 pt = 6 pc = 96 px.
    for (attributes, size) in [
        ("width=\"2in\" height=\"2.54cm\"", (192, 96)),
        ("width=\"25.4mm\" height=\"72pt\"", (96, 96)),
        ("width=\"6pc\" height=\"10px\"", (96, 10)),
        ("width=\"1e2\" height=\"50.2\"", (100, 51)),
        ("width=\"100%\" height=\"100%\" viewBox=\"0 0 30,20\"", (30, 20)),
        ("width=\"60\" viewBox=\"0 0 30 20\"", (60, 40)),
        ("viewBox=\"-5 -5 30.5 20\"", (31, 20)),
    ] {
        let figure = read(&format!("<svg {XMLNS} {attributes}/>")).unwrap();
        assert_eq!((figure.width, figure.height), size, "{attributes}");
    }
    for attributes in [
        "",
        "width=\"3\"",
        "viewBox=\"0 0 0 1\"",
        "viewBox=\"1 2 3\"",
        "width=\"1e9\" height=\"1\"",
        "width=\"2em\" height=\"1\"",
        "width=\"inf\" height=\"1\"",
    ] {
        assert!(read(&format!("<svg {XMLNS} {attributes}/>")).is_err(), "{attributes}");
    }
}

#[test]
fn what_acts_or_reaches_outside_is_refused_at_its_place() {
    for (inner, marked, said) in [
        ("<script>x()</script>", "<script", "`<script>`"),
        ("<g onclick=\"x()\"/>", "onclick=\"x()\"", "`onclick` of `<g>`"),
        ("<g OnLoad=\"x()\"/>", "OnLoad=\"x()\"", "`OnLoad` of `<g>`"),
        ("<foreignObject><p/></foreignObject>", "<foreignObject", "`<foreignObject>`"),
        ("<animate attributeName=\"href\"/>", "<animate", "`<animate>`"),
        ("<set/>", "<set", "`<set>`"),
        ("<div/>", "<div", "`<div>`"),
        ("<h:img xmlns:h=\"http://www.w3.org/1999/xhtml\"/>", "<h:img", "`<img>`"),
        ("<image href=\"http://example.org/a.png\"/>", "href=\"http://example.org/a.png\"", "`href` of `<image>`"),
        ("<image href=\"a.png\"/>", "href=\"a.png\"", "`href` of `<image>`"),
        ("<use xlink:href=\"other.svg#a\"/>", "xlink:href=\"other.svg#a\"", "`href` of `<use>`"),
        ("<a href=\"javascript:x()\"/>", "href=\"javascript:x()\"", "`href` of `<a>`"),
        ("<a href=\"&#106;avascript:x()\"/>", "href=\"&#106;avascript:x()\"", "`href` of `<a>`"),
        (
            "<image href=\"data:image/svg+xml;base64,AA\"/>",
            "href=\"data:image/svg+xml;base64,AA\"",
            "`href` of `<image>`",
        ),
        ("<image href=\"data:image/png;base64,AAAA\"/>", "href=\"data:image/png;base64,AAAA\"", "broken"),
        ("<g fill=\"url(http://example.org/#a)\"/>", "fill=\"url(http://example.org/#a)\"", "`url(…)`"),
        ("<g style=\"fill: URL( 'b.svg#a' )\"/>", "style=\"fill: URL( 'b.svg#a' )\"", "`url(…)`"),
        ("<g style=\"fill:\\75rl(x)\"/>", "style=\"fill:\\75rl(x)\"", "`\\`"),
        (
            "<g style=\"background: image-set('a.png' 1x)\"/>",
            "style=\"background: image-set('a.png' 1x)\"",
            "`image-set(…)`",
        ),
        ("<style>@import 'a.css';</style>", "<style>@import 'a.css';</style>", "`@import`"),
        ("<style>@/**/import 'a.css';</style>", "<style>@/**/import 'a.css';</style>", "`@`"),
        ("<style>a{fill:url(//x)}</style>", "<style>a{fill:url(//x)}</style>", "`url(…)`"),
        ("<style>@media print{a{fill:red}}</style>", "<style>@media print{a{fill:red}}</style>", "`@media`"),
        ("<g xml:base=\"http://example.org/\"/>", "xml:base=\"http://example.org/\"", "`base` of `<g>`"),
    ] {
        let text = svg(inner);
        let fault = read(&text).expect_err(inner);
        assert_eq!(&text[fault.range.clone().unwrap()], marked, "{fault:?}");
        assert!(fault.headline.contains(said), "{inner}: {fault:?}");
    }
    let sheet = format!("<?xml-stylesheet href=\"a.css\"?>{}", svg(""));
    assert!(read(&sheet).unwrap_err().headline.contains("a style sheet"));
}

#[test]
fn entities_and_deep_or_large_drawings_are_refused() {
    let bomb = format!("<!DOCTYPE svg [<!ENTITY a \"x\"><!ENTITY b \"&a;&a;&a;\">]>{}", svg("<text>&b;</text>"));
    assert_eq!(read(&bomb).unwrap_err().headline, "the SVG declares entities of its own, which are not read");
    let deep = svg(&("<g>".repeat(50_000) + &"</g>".repeat(50_000)));
    assert_eq!(read(&deep).unwrap_err().headline, "the SVG is nested too deep");
    let many = svg(&"<g/>".repeat(200_001));
    assert_eq!(read(&many).unwrap_err().headline, "the SVG has more than 200000 elements");
    assert_eq!(read("<html/>").unwrap_err().headline, "the file is XML, but no SVG");
    let fault = read(&svg("\n <g>")).unwrap_err();
    assert!(fault.headline.starts_with("the SVG is not well-formed: line 2"), "{fault:?}");
}

#[test]
fn text_and_embedded_photographs_are_kept() {
    use base64::Engine as _;
    let mut png = std::io::Cursor::new(Vec::new());
    image::DynamicImage::new_rgb8(2, 2).write_to(&mut png, image::ImageFormat::Png).unwrap();
    let data = base64::engine::general_purpose::STANDARD.encode(png.into_inner());
    let text = svg(&format!(
        "<title>A &lt; B &amp; C</title><image width=\"2\" height=\"2\" xlink:href=\"data:image/png;base64,{data}\"/><text xml:space=\"preserve\">Ø 1/4\"  <tspan>x</tspan><![CDATA[<y>]]></text>"
    ));
    let clean = clean(&text);
    assert!(clean.contains("<title>A &lt; B &amp; C</title>"), "{clean}");
    assert!(clean.contains(&format!("href=\"data:image/png;base64,{data}\"")));
    assert!(clean.contains("<text xml:space=\"preserve\">Ø 1/4&quot;  <tspan>x</tspan>&lt;y&gt;</text>"), "{clean}");
}

/// XML 1.0 (2.11, 3.3.3) turns line ends and tabs that stand as such into others when it is read: written by their numbers
/// they stay what they were. Blanks and semicolons at the end of a style say nothing.
#[test]
fn what_was_cleaned_is_clean() {
    for (inner, kept) in [
        ("<text aria-label=\"a&#10;b&#9;c&#13;d\">x&#13;y</text>", "aria-label=\"a&#10;b&#9;c&#13;d\">x&#13;y<"),
        ("<path d=\"M0 0&#10;H9\"/>", "d=\"M0 0&#10;H9\""),
        ("<path d=\"M0 0\nH9\"/>", "d=\"M0 0 H9\""),
        ("<rect style=\" fill:red ; ; \"/>", "style=\"fill:red\""),
        ("<style>rect{fill:red ;font-family:a,\n b }</style><rect/>", "font-family:a,&#10; b\""),
    ] {
        let once = clean(&svg(inner));
        assert!(once.contains(kept), "{once}");
        assert_eq!(clean(&once), once);
        let texts = |svg: &str| -> Vec<String> {
            let document = roxmltree::Document::parse(svg).unwrap();
            let of = |n: roxmltree::Node<'_, '_>| n.attributes().map(|a| a.value().to_owned()).collect::<Vec<_>>();
            document.descendants().flat_map(|n| of(n).into_iter().chain(n.text().map(str::to_owned))).collect()
        };
        if !inner.contains("style") {
            assert_eq!(texts(&once)[1..], texts(&svg(inner))[1..], "it reads as before");
        }
    }
}

proptest! {
    #[test]
    fn whatever_is_accepted_is_safe(inner in "(<g>|</g>|<a href=\"|\"/>|#x|<path d=\"M0 0\"/>|<style>|</style>|fill:url\\(|\\)|@import |<script>|on[a-z]=\"|<!--|-->|<!\\[CDATA\\[|\\]\\]>|[a-z{}:;. ]|é){0,25}") {
        let text = svg(&inner);
        match read(&text) {
            Err(fault) => if let Some(range) = fault.range {
                prop_assert!(text.get(range).is_some());
            },
            Ok(figure) => {
                let once = std::str::from_utf8(&figure.bytes).unwrap();
                prop_assert_eq!(&clean(once), once);
                let inline = inline_svg(&figure, "p-");
                // roxmltree, a general-purpose library, reads what is written.
                let document = roxmltree::Document::parse(&inline).unwrap();
                for node in document.descendants().filter(roxmltree::Node::is_element) {
                    prop_assert!(!matches!(node.tag_name().name(), "script" | "style"));
                    for a in node.attributes() {
                        prop_assert!(!a.name().starts_with("on"));
                        prop_assert!(a.name() != "href" || a.value().starts_with("#p-"));
                    }
                }
            }
        }
    }
}
