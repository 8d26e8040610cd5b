//! An SVG written out again: drawing elements alone, in one namespace, style sheets as attributes.
//!
//! Owns: the form of the output, prefixes of ids. Must not know: what is refused.

use roxmltree::{Attribute, Node, NodeType};

use super::check::Photographs;
use super::{NAMESPACE, XLINK, css::Styles, size::Size};

/// Writes the document, with these photographs in place of those it holds. With a prefix every id and every reference to
/// one carries it.
pub(super) fn write(
    document: &roxmltree::Document<'_>,
    styles: &Styles,
    photographs: &Photographs,
    size: &Size,
    prefix: Option<&str>,
) -> String {
    let mut writer = Writer { out: String::new(), styles, photographs, size, prefix: prefix.unwrap_or("") };
    writer.element(document.root_element());
    writer.out
}

struct Writer<'a> {
    out: String,
    styles: &'a Styles,
    photographs: &'a Photographs,
    size: &'a Size,
    prefix: &'a str,
}

impl Writer<'_> {
    // The depth was bounded when the SVG was checked.
    fn element(&mut self, node: Node<'_, '_>) {
        let name = node.tag_name().name();
        self.out.push('<');
        self.out.push_str(name);
        let is_root = node.parent_element().is_none();
        if is_root {
            self.attribute("xmlns", NAMESPACE);
        }
        for attribute in node.attributes() {
            self.copy(node, &attribute);
        }
        if is_root && node.attribute("viewBox").is_none() {
            let numbers = self.size.view_box.map(|n| n.to_string());
            self.attribute("viewBox", &numbers.join(" "));
        }
        if let Some(style) = self.styles.of(node, node.attribute("style")) {
            let style = self.references(&style);
            self.attribute("style", &style);
        }
        let start = self.out.len();
        self.out.push('>');
        let before = self.out.len();
        for child in node.children() {
            match child.node_type() {
                NodeType::Text => escape(child.text().unwrap_or(""), &['\r'], &mut self.out),
                NodeType::Element if is_kept(child) => self.element(child),
                _ => {}
            }
        }
        if self.out.len() == before {
            self.out.truncate(start);
            self.out.push_str("/>");
        } else {
            self.out.push_str(&format!("</{name}>"));
        }
    }

    fn copy(&mut self, node: Node<'_, '_>, attribute: &Attribute<'_, '_>) {
        let (name, value) = (attribute.name(), attribute.value());
        match (attribute.namespace(), name) {
            (None | Some(XLINK), "href") => {
                let value = value.trim();
                let value = match (self.photographs.get(&node.id().get()), value.strip_prefix('#')) {
                    (Some(photograph), _) => photograph.clone(),
                    (None, Some(id)) => format!("#{}{id}", self.prefix),
                    (None, None) => value.to_owned(),
                };
                // The older and the newer spelling may stand side by side; the first is kept.
                if !self.out[self.out.rfind('<').unwrap_or(0)..].contains(" href=\"") {
                    self.attribute("href", &value);
                }
            }
            (None, "id") => {
                let id = format!("{}{value}", self.prefix);
                self.attribute("id", &id);
            }
            // The style is written together with what the sheets say; classes have done their work then.
            (None, "style" | "class") => {}
            (None, "aria-labelledby" | "aria-describedby") => {
                let ids: Vec<_> = value.split_whitespace().map(|id| format!("{}{id}", self.prefix)).collect();
                self.attribute(name, &ids.join(" "));
            }
            (None, _) => {
                let value = self.references(value);
                self.attribute(name, &value);
            }
            (Some("http://www.w3.org/XML/1998/namespace"), "space" | "lang") => {
                self.attribute(&format!("xml:{name}"), value);
            }
            _ => {}
        }
    }

    /// Puts the prefix into each `url(#…)`.
    fn references(&self, value: &str) -> String {
        if self.prefix.is_empty() {
            return value.to_owned();
        }
        let mut out = String::new();
        let mut rest = value;
        while let Some(at) = rest.as_bytes().windows(4).position(|w| w.eq_ignore_ascii_case(b"url(")) {
            let inner = &rest[at + 4..];
            let Some(hash) =
                inner.find('#').filter(|&i| inner[..i].chars().all(|c| c.is_whitespace() || c == '"' || c == '\''))
            else {
                out.push_str(&rest[..at + 4]);
                rest = inner;
                continue;
            };
            out.push_str(&rest[..at + 4 + hash + 1]);
            out.push_str(self.prefix);
            rest = &inner[hash + 1..];
        }
        out + rest
    }

    fn attribute(&mut self, name: &str, value: &str) {
        self.out.push(' ');
        self.out.push_str(name);
        self.out.push_str("=\"");
        escape(value, &['\t', '\n', '\r'], &mut self.out);
        self.out.push('"');
    }
}

fn is_kept(node: Node<'_, '_>) -> bool {
    node.tag_name().namespace() == Some(NAMESPACE) && !matches!(node.tag_name().name(), "style" | "metadata")
}

/// Writes a text so that it is read back as it is. `turned` are those that XML 1.0 (2.11, 3.3.3) turns into others when
/// they stand as such.
fn escape(text: &str, turned: &[char], out: &mut String) {
    for c in text.chars() {
        match c {
            c if turned.contains(&c) => out.push_str(&format!("&#{};", u32::from(c))),
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c => out.push(c),
        }
    }
}
