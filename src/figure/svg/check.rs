//! What an SVG may hold.
//!
//! Owns: the list of drawing elements, references, what acts or reaches outside. Must not know: how it is written out.

use std::collections::BTreeMap;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use roxmltree::{Attribute, Document, Node, NodeType};

use super::{FigureFault, NAMESPACE};
use crate::figure::limits::MOST_PIXELS;
use crate::figure::{jpeg, png};
use crate::units::{character_code, hidden};

/// The drawing elements of SVG 2 that stand still and need nothing from outside. Any other element of SVG is refused,
/// since a page could take it for something else.
const DRAWING: [&str; 57] = [
    "a",
    "circle",
    "clipPath",
    "defs",
    "desc",
    "ellipse",
    "feBlend",
    "feColorMatrix",
    "feComponentTransfer",
    "feComposite",
    "feConvolveMatrix",
    "feDiffuseLighting",
    "feDisplacementMap",
    "feDistantLight",
    "feDropShadow",
    "feFlood",
    "feFuncA",
    "feFuncB",
    "feFuncG",
    "feFuncR",
    "feGaussianBlur",
    "feImage",
    "feMerge",
    "feMergeNode",
    "feMorphology",
    "feOffset",
    "fePointLight",
    "feSpecularLighting",
    "feSpotLight",
    "feTile",
    "feTurbulence",
    "filter",
    "g",
    "image",
    "line",
    "linearGradient",
    "marker",
    "mask",
    "metadata",
    "path",
    "pattern",
    "polygon",
    "polyline",
    "radialGradient",
    "rect",
    "stop",
    "style",
    "svg",
    "switch",
    "symbol",
    "text",
    "textPath",
    "title",
    "tspan",
    "use",
    "view",
    "solidColor",
];

/// The photographs inside a drawing, cleaned, as the references that hold them, by element.
pub(super) type Photographs = BTreeMap<u32, String>;

/// Whether a drawing holds nothing but what it may. Gives the photographs inside it.
pub(super) fn check(document: &Document<'_>) -> Result<Photographs, FigureFault> {
    let mut held = Held { photographs: Photographs::new(), pixels: 0 };
    let root = document.root_element();
    if root.tag_name().name() != "svg" || root.tag_name().namespace() != Some(NAMESPACE) {
        let help = format!(
            "save it from the drawing program as plain SVG; its first element is `<svg xmlns=\"{NAMESPACE}\">`"
        );
        return Err(FigureFault::new("the file is XML, but no SVG", help).at(tag(root)));
    }
    for node in document.root().children().filter(Node::is_pi) {
        if node.pi().is_some_and(|pi| pi.target == "xml-stylesheet") {
            return Err(outside("a style sheet").at(node.range()));
        }
    }
    // Walked by hand: what is not of SVG is passed over with all that is in it.
    let mut walk = vec![root];
    while let Some(node) = walk.pop() {
        element(node, &mut held)?;
        for text in node.children().filter(Node::is_text) {
            if let Some((c, what)) = text.text().and_then(|t| t.chars().find_map(|c| Some((c, hidden(c)?)))) {
                let fault = FigureFault::new(
                    format!("a text of the SVG holds {}, {what}", character_code(c)),
                    "write the text again by hand in the drawing program",
                );
                return Err(fault.at(text.range()));
            }
        }
        if node.tag_name().name() != "metadata" {
            let inner = node.children().filter(|n| n.node_type() == NodeType::Element && carried(*n));
            walk.extend(inner);
        }
    }
    Ok(held.photographs)
}

/// The photographs found so far, and their pixels together.
struct Held {
    photographs: Photographs,
    pixels: u64,
}

pub(super) fn too_deep() -> FigureFault {
    FigureFault::new("the SVG is nested too deep", "ungroup what is grouped in the drawing program")
}

/// Whether an element goes into the documents or is refused; elements of other languages, such as a drawing program's
/// own notes, are left out.
fn carried(node: Node<'_, '_>) -> bool {
    let namespace = node.tag_name().namespace();
    namespace == Some(NAMESPACE) || namespace.is_none() || namespace == Some("http://www.w3.org/1999/xhtml")
}

fn element(node: Node<'_, '_>, held: &mut Held) -> Result<(), FigureFault> {
    let name = node.tag_name().name();
    let known = node.tag_name().namespace() == Some(NAMESPACE) && DRAWING.contains(&name);
    if !known {
        let help = match name {
            "script" | "handler" | "listener" => {
                "a drawing must not run anything: save it as plain SVG, without scripts"
            }
            "foreignObject" => "save the drawing with its text as SVG text or as paths",
            "animate" | "animateMotion" | "animateTransform" | "set" | "discard" | "mpath" => {
                "paper stands still: take the animation out"
            }
            "flowRoot" | "flowRegion" | "flowPara" => "turn the flowed text into plain text in the drawing program",
            _ => "save it from the drawing program as plain SVG",
        };
        return Err(FigureFault::new(format!("the SVG holds `<{name}>`, which is not carried"), help).at(tag(node)));
    }
    for attribute in node.attributes() {
        check_attribute(node, &attribute, held)?;
    }
    if name == "style" {
        let text: String = node.children().filter_map(|n| n.text()).collect();
        check_style(&text).map_err(|f| f.at(node.range()))?;
    }
    Ok(())
}

fn check_attribute(node: Node<'_, '_>, attribute: &Attribute<'_, '_>, held: &mut Held) -> Result<(), FigureFault> {
    let (element, name, value) = (node.tag_name().name(), attribute.name(), attribute.value());
    let lower = name.to_ascii_lowercase();
    let fault = if attribute.namespace().is_none() && lower.starts_with("on") {
        Some(FigureFault::new(
            format!("`{name}` of `<{element}>` would run something"),
            "a drawing must not run anything: save it as plain SVG, without scripts",
        ))
    } else if lower == "href" || lower == "src" {
        match matches!(element, "image" | "feImage").then(|| photograph(value, held)).flatten() {
            // The older and the newer spelling may stand side by side; the first is kept.
            Some(Ok(clean)) => {
                held.photographs.entry(node.id().get()).or_insert(clean);
                None
            }
            Some(Err(fault)) => Some(fault),
            None if value.trim().starts_with('#') => None,
            None => Some(outside(&format!("`{name}` of `<{element}>`"))),
        }
    } else if lower == "base" && attribute.namespace().is_some() {
        Some(outside(&format!("`{name}` of `<{element}>`")))
    } else if lower == "style" {
        check_style(value).err()
    } else {
        check_urls(value).err()
    };
    match fault {
        Some(fault) => Err(fault.at(attribute.range())),
        None => Ok(()),
    }
}

/// A photograph inside the SVG through the same door as one that stands alone; None where the value is none.
fn photograph(value: &str, held: &mut Held) -> Option<Result<String, FigureFault>> {
    let (head, data) = value.trim().split_once(',')?;
    let head = head.to_ascii_lowercase();
    let is_png = head == "data:image/png;base64";
    if !is_png && !matches!(head.as_str(), "data:image/jpeg;base64" | "data:image/jpg;base64") {
        return None;
    }
    let data: Vec<u8> = data.bytes().filter(|b| !b.is_ascii_whitespace()).collect();
    let clean = STANDARD.decode(data).map_err(|_| FigureFault::broken("embedded")).and_then(|bytes| {
        let (width, height, clean) = if is_png { png::read(&bytes)? } else { jpeg::read(&bytes)? };
        held.pixels += u64::from(width) * u64::from(height);
        if held.pixels > MOST_PIXELS {
            let headline =
                format!("the photographs inside the SVG have more than {} million pixels", MOST_PIXELS / 1_000_000);
            return Err(FigureFault::new(headline, "make them smaller; 3,000 pixels across fill a page"));
        }
        let kind = if is_png { "png" } else { "jpeg" };
        Ok(format!("data:image/{kind};base64,{}", STANDARD.encode(clean)))
    });
    Some(clean)
}

/// The text of a style sheet or a style attribute.
fn check_style(text: &str) -> Result<(), FigureFault> {
    let bare = css_without_comments(text);
    if bare.contains('\\') {
        return Err(FigureFault::new("the style of the SVG holds `\\`, which is not read", "save it as plain SVG"));
    }
    if let Some(at) = bare.find('@') {
        let rule: String = bare[at..].chars().take_while(|c| !c.is_whitespace() && *c != '{').take(24).collect();
        if rule.eq_ignore_ascii_case("@import") || rule.eq_ignore_ascii_case("@font-face") {
            return Err(outside(&format!("`{rule}` in its style")));
        }
        return Err(FigureFault::new(
            format!("the style of the SVG holds `{rule}`, which is not carried"),
            "save it from the drawing program with presentation attributes",
        ));
    }
    check_urls(&bare)
}

pub(super) fn css_without_comments(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(start) = rest.find("/*") {
        out.push_str(&rest[..start]);
        // A comment keeps two words apart.
        out.push(' ');
        rest = rest[start + 2..].find("*/").map_or("", |end| &rest[start + 2 + end + 2..]);
    }
    out + rest
}

/// Every `url(…)` must point into the SVG itself.
fn check_urls(value: &str) -> Result<(), FigureFault> {
    let lower = value.to_ascii_lowercase();
    for word in ["url", "src", "image-set", "image"] {
        for (at, _) in lower.match_indices(&format!("{word}(")) {
            let inner = lower[at + word.len() + 1..].trim_start().trim_start_matches(['"', '\'']);
            if word != "url" || !inner.starts_with('#') {
                return Err(outside(&format!("`{word}(…)`")));
            }
        }
    }
    if lower.contains('\\') && lower.contains('(') {
        return Err(FigureFault::new("an attribute of the SVG holds `\\`, which is not read", "save it as plain SVG"));
    }
    Ok(())
}

fn outside(what: &str) -> FigureFault {
    FigureFault::new(
        format!("the SVG reaches outside itself: {what}"),
        "embed what it needs, and save it as plain SVG; a manual must be whole without a network",
    )
}

/// The opening tag's name, the smallest place that tells an element.
fn tag(node: Node<'_, '_>) -> std::ops::Range<usize> {
    let range = node.range();
    let text = &node.document().input_text()[range.clone()];
    let length = text.find(|c: char| c.is_whitespace() || c == '>' || c == '/').unwrap_or(text.len());
    range.start..range.start + length
}
