//! How much an SVG is once all that it repeats is written out: uses, patterns, masks, markers, and what they repeat in turn.
//!
//! A small file can stand for a drawing without end. It is counted on the sanitised text before anything is drawn, by
//! elements and bytes and not by time. A count can be too high where a mark is inherited and then taken back; it is never
//! too low.
//!
//! Owns: the count. Must not know: pixels.

use std::collections::{BTreeMap, BTreeSet};

use roxmltree::{Document, Node};

use super::FigureFault;
use super::check::too_deep;
use crate::figure::limits::{DEEPEST, ELEMENT, LETTER, MOST_WRITTEN_OUT};

/// Counts a sanitised drawing.
pub(super) fn check(document: &Document<'_>) -> Result<(), FigureFault> {
    let mut ids: BTreeMap<&str, Vec<Node<'_, '_>>> = BTreeMap::new();
    for node in document.descendants().filter(Node::is_element) {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_default().push(node);
        }
    }
    let mut count = Count { ids, known: BTreeMap::new(), open: BTreeSet::new() };
    count.of(document.root_element(), 0).map(|_| ())
}

/// What an element comes to, with all that is in it and all that it refers to.
#[derive(Clone, Copy, Default)]
struct Sum {
    bytes: u64,
    /// Shapes and letters, on each of which a pattern is drawn anew.
    shapes: u64,
    /// Corners of paths, at each of which a marker can stand.
    corners: u64,
    /// How deep it is nested.
    depth: u32,
}

struct Count<'a, 'i> {
    /// Of elements of one id it depends on the reader which is meant; all are counted.
    ids: BTreeMap<&'a str, Vec<Node<'a, 'i>>>,
    known: BTreeMap<u32, Sum>,
    open: BTreeSet<u32>,
}

impl<'a, 'i> Count<'a, 'i> {
    fn of(&mut self, node: Node<'a, 'i>, depth: u32) -> Result<Sum, FigureFault> {
        let id = node.id().get();
        let deepest = self.known.get(&id).map_or(0, |sum| sum.depth);
        if depth + deepest > DEEPEST {
            return Err(too_deep());
        }
        if let Some(sum) = self.known.get(&id) {
            return Ok(*sum);
        }
        if !self.open.insert(id) {
            return Err(FigureFault::new(
                format!("a `<{}>` of the SVG is drawn by means of itself", node.tag_name().name()),
                "save it again from the drawing program; what is repeated must not repeat itself",
            ));
        }
        let mut sum = own(node);
        for child in node.children().filter(Node::is_element) {
            sum.add(self.of(child, depth + 1)?);
        }
        let name = node.tag_name().name();
        if let Some(target) = node.attribute("href").and_then(|h| h.trim().strip_prefix('#')).filter(|_| name != "a") {
            let whole = self.of_id(target, depth + 1)?;
            // What is used is drawn here; a pattern or a path only lends itself.
            sum.add(if name == "use" { whole } else { Sum { shapes: 0, corners: 0, ..whole } });
        }
        for attribute in node.attributes().filter(|a| a.value().contains('#')) {
            if attribute.name() == "style" {
                for (property, value) in attribute.value().split(';').filter_map(|d| d.split_once(':')) {
                    self.reference(property.trim(), value, depth, &mut sum)?;
                }
            } else {
                self.reference(attribute.name(), attribute.value(), depth, &mut sum)?;
            }
        }
        if sum.bytes > MOST_WRITTEN_OUT {
            return Err(FigureFault::new(
                "the SVG is too much to draw once everything it repeats is written out",
                "make the drawing simpler: fewer copies, patterns and markers inside one another; or save it as PNG",
            ));
        }
        self.open.remove(&id);
        self.known.insert(id, sum);
        Ok(sum)
    }

    fn of_id(&mut self, id: &str, depth: u32) -> Result<Sum, FigureFault> {
        let mut sum = Sum::default();
        for node in self.ids.get(id).cloned().unwrap_or_default() {
            sum.add(self.of(node, depth)?);
        }
        Ok(sum)
    }

    /// Adds what a property refers to with `url(#…)`, as often as it may be drawn in what bears the property.
    fn reference(&mut self, property: &str, value: &str, depth: u32, sum: &mut Sum) -> Result<(), FigureFault> {
        for (at, _) in value.match_indices('#') {
            let before = value[..at].trim_end_matches(|c: char| c.is_whitespace() || c == '"' || c == '\'');
            if !before.get(before.len().saturating_sub(4)..).is_some_and(|b| b.eq_ignore_ascii_case("url(")) {
                continue;
            }
            let id = value[at + 1..].split([')', '"', '\'']).next().unwrap_or("").trim();
            let target = self.of_id(id, depth + 1)?;
            let times = match property {
                "fill" | "stroke" | "marker-start" | "marker-end" => sum.shapes,
                "marker" | "marker-mid" => sum.corners,
                _ => 1,
            };
            sum.bytes = sum.bytes.saturating_add(target.bytes.saturating_mul(times));
            sum.depth = sum.depth.max(target.depth + 1);
        }
        Ok(())
    }
}

impl Sum {
    fn add(&mut self, inner: Self) {
        self.bytes = self.bytes.saturating_add(inner.bytes);
        self.shapes = self.shapes.saturating_add(inner.shapes);
        self.corners = self.corners.saturating_add(inner.corners);
        self.depth = self.depth.max(inner.depth + 1);
    }
}

/// An element without what is in it; a text with its letters.
fn own(node: Node<'_, '_>) -> Sum {
    let is_photograph = |a: &roxmltree::Attribute<'_, '_>| a.name() == "href";
    let bytes: usize = node.attributes().filter(|a| !is_photograph(a)).map(|a| a.value().len()).sum();
    let mut sum = Sum { bytes: ELEMENT + bytes as u64, ..Sum::default() };
    match node.tag_name().name() {
        "path" | "polyline" | "polygon" => {
            let drawn = node.attribute("d").or_else(|| node.attribute("points")).unwrap_or("");
            (sum.shapes, sum.corners) = (1, drawn.len() as u64 / 2 + 1);
        }
        "rect" | "circle" | "ellipse" | "line" | "image" => (sum.shapes, sum.corners) = (1, 4),
        "text" => {
            let letters: usize = node.descendants().filter(Node::is_text).filter_map(|t| t.text()).map(str::len).sum();
            // A line is shaped once for each stretch of it with a look of its own; one with a place begins a new line.
            let looks = node.descendants().filter(|n| n.is_element() && !n.has_attribute("x") && !n.has_attribute("y"));
            let looks = 1 + looks.count() as u64;
            sum.shapes = letters as u64;
            sum.bytes = sum.bytes.saturating_add((letters as u64).saturating_mul(looks).saturating_mul(LETTER));
        }
        _ => {}
    }
    sum
}

#[cfg(test)]
mod tests {
    fn said(inner: &str) -> Option<String> {
        let text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"9\" height=\"9\">{inner}</svg>"
        );
        super::check(&roxmltree::Document::parse(&text).unwrap()).err().map(|f| f.headline)
    }

    /// A chain in which each link draws the one before it ten times.
    fn chain(first: &str, link: impl Fn(usize) -> String) -> String {
        let links: String = (1..12).map(link).collect();
        format!("<defs>{first}{links}</defs>")
    }

    #[test]
    fn what_repeats_without_end_is_counted_whatever_repeats_it() {
        let uses = chain("<path id=\"a0\" d=\"M0 0h9v9\"/>", |i| {
            format!("<g id=\"a{i}\">{}</g>", format!("<use href=\"#a{}\"/>", i - 1).repeat(10))
        });
        let patterns = chain("<pattern id=\"a0\"><rect/></pattern>", |i| {
            format!("<pattern id=\"a{i}\">{}</pattern>", format!("<rect fill=\"url(#a{})\"/>", i - 1).repeat(10))
        });
        let masks = chain("<mask id=\"a0\"><rect/></mask>", |i| {
            format!("<mask id=\"a{i}\">{}</mask>", format!("<rect style=\"mask: URL('#a{}')\"/>", i - 1).repeat(10))
        });
        for inner in [uses, patterns, masks] {
            assert!(said(&inner).is_some_and(|s| s.contains("too much to draw")), "{inner}");
        }
        let marker = "<marker id=\"m\"><path d=\"M0 0h9v9\"/></marker>";
        let long = "h1".repeat(400_000);
        assert!(said(&format!("{marker}<path marker-mid=\"url(#m)\" d=\"M0 0{long}\"/>")).is_some());
        assert!(said(&format!("{marker}<path marker-end=\"url(#m)\" d=\"M0 0{long}\"/>")).is_none());
        let inherited = format!(
            "<pattern id=\"p\">{}</pattern><g fill=\"url(#p)\">{}</g>",
            "<rect/>".repeat(900),
            "<rect/>".repeat(900)
        );
        assert!(said(&inherited).is_some());
        let spans = format!("<text>{}</text>", "<tspan>long</tspan>".repeat(3000));
        assert!(said(&spans).is_some() && said(&spans.replace("<tspan>", "<tspan x=\"1\">")).is_none());
    }

    #[test]
    fn what_repeats_itself_is_refused_and_an_ordinary_drawing_is_not() {
        for inner in [
            "<g id=\"a\"><use href=\"#a\"/></g>",
            "<pattern id=\"a\"><rect fill=\"url(#b)\"/></pattern><pattern id=\"b\"><rect fill=\"url(#a)\"/></pattern>",
        ] {
            assert!(said(inner).is_some_and(|s| s.contains("by means of itself")), "{inner}");
        }
        let long_chain: String = (1..300).map(|i| format!("<use id=\"a{i}\" href=\"#a{}\"/>", i - 1)).collect();
        assert!(said(&format!("{long_chain}<rect id=\"a0\"/>")).is_some_and(|s| s.contains("too deep")));
        let arrows = "<path marker-start=\"url(#m)\" marker-end=\"url(#m)\" d=\"M0 0h1v1\"/>".repeat(2000);
        assert_eq!(said(&format!("<marker id=\"m\"><path d=\"M0 0h9v9\"/></marker>{arrows}")), None);
        assert_eq!(said("<a href=\"#top\" id=\"top\"><rect/></a>"), None);
    }
}
