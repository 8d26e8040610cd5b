//! The style sheets inside an SVG, as declarations of each element.
//!
//! Two figures of one page would share their style sheets, so that a class of one would colour the other; what a sheet
//! says is written into each element's `style` instead.
//!
//! Owns: which rule applies to which element. Must not know: what a declaration does.

use std::collections::BTreeMap;

use roxmltree::{Document, Node};
use simplecss::{AttributeOperator, Element, PseudoClass, StyleSheet};

use super::{FigureFault, check::css_without_comments};

/// How many pairs of a rule and an element are compared.
const MOST_WORK: usize = 20_000_000;

/// The declarations of sheets, by element: those that yield to the element's own style, and those that don't.
#[derive(Default)]
pub(super) struct Styles(BTreeMap<u32, (String, String)>);

impl Styles {
    /// The whole style of an element whose own is `own`.
    pub(super) fn of(&self, node: Node<'_, '_>, own: Option<&str>) -> Option<String> {
        let own = own.map(|s| s.trim().trim_end_matches(';')).filter(|s| !s.is_empty());
        let (weak, strong) = match self.0.get(&node.id().get()) {
            Some((weak, strong)) => (weak.as_str(), strong.as_str()),
            None => ("", ""),
        };
        let own = own.map(|s| format!("{s};")).unwrap_or_default();
        let style = format!("{weak}{own}{strong}");
        let style = style.trim_end_matches(';');
        (!style.is_empty()).then(|| style.to_owned())
    }
}

pub(super) fn read(document: &Document<'_>) -> Result<Styles, FigureFault> {
    let text: String = document
        .descendants()
        .filter(|n| n.is_element() && n.tag_name().name() == "style")
        .flat_map(|n| n.children().filter_map(|c| c.text()))
        .map(css_without_comments)
        .collect::<Vec<_>>()
        .join("\n");
    let sheet = StyleSheet::parse(&text);
    let mut styles = Styles::default();
    let elements: Vec<_> = document.descendants().filter(Node::is_element).collect();
    if sheet.rules.len().saturating_mul(elements.len()) > MOST_WORK {
        return Err(FigureFault::new(
            "the SVG has too many style rules for its many elements",
            "save it from the drawing program with presentation attributes",
        ));
    }
    // The rules come in the order of their weight.
    for node in elements {
        for rule in sheet.rules.iter().filter(|r| r.selector.matches(&Styled(node))) {
            let entry = styles.0.entry(node.id().get()).or_default();
            for d in &rule.declarations {
                let (to, mark) = if d.important { (&mut entry.1, " !important") } else { (&mut entry.0, "") };
                to.push_str(&format!("{}:{}{mark};", d.name, d.value));
            }
        }
    }
    Ok(styles)
}

struct Styled<'a, 'i>(Node<'a, 'i>);

impl Element for Styled<'_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.0.parent_element().map(Self)
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.0.prev_sibling_element().map(Self)
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.0.tag_name().name() == name
    }

    fn attribute_matches(&self, name: &str, operator: AttributeOperator<'_>) -> bool {
        self.0.attribute(name).is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        matches!(class, PseudoClass::FirstChild) && self.0.prev_sibling_element().is_none()
    }
}
