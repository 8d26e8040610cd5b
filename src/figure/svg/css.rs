//! The style sheets inside an SVG, as declarations of each element.
//!
//! Two figures of one page would share their style sheets, so that a class of one would colour the other; what a sheet
//! says is written into each element's `style` instead.
//!
//! Owns: which rule applies to which element. Must not know: what a declaration does.

use std::cell::Cell;
use std::collections::BTreeMap;

use roxmltree::{Document, Node};
use simplecss::{AttributeOperator, Element, PseudoClass, StyleSheet};

use super::{FigureFault, check::css_without_comments};
use crate::figure::limits::{MOST_STYLE, MOST_STYLE_STEPS};

/// The declarations of sheets, by element: those that yield to the element's own style, and those that don't.
#[derive(Default)]
pub(super) struct Styles(BTreeMap<u32, (String, String)>);

impl Styles {
    /// The whole style of an element whose own is `own`.
    pub(super) fn of(&self, node: Node<'_, '_>, own: Option<&str>) -> Option<String> {
        let between = |c: char| c == ';' || c.is_whitespace();
        let own = own.map(|s| s.trim_start().trim_end_matches(between)).filter(|s| !s.is_empty());
        let (weak, strong) = match self.0.get(&node.id().get()) {
            Some((weak, strong)) => (weak.as_str(), strong.as_str()),
            None => ("", ""),
        };
        let own = own.map(|s| format!("{s};")).unwrap_or_default();
        let style = format!("{weak}{own}{strong}");
        let style = style.trim_end_matches(between);
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
    // A rule that names elements inside elements is tried on all that stand around; each step is counted.
    let steps = Cell::new(MOST_STYLE_STEPS);
    let mut bytes = 0;
    // The rules come in the order of their weight.
    for node in document.descendants().filter(Node::is_element) {
        let element = Styled { node, steps: &steps };
        for rule in sheet.rules.iter().filter(|r| element.step() && r.selector.matches(&element)) {
            let entry = styles.0.entry(node.id().get()).or_default();
            for d in &rule.declarations {
                let (to, mark) = if d.important { (&mut entry.1, " !important") } else { (&mut entry.0, "") };
                let declared = format!("{}:{}{mark};", d.name, d.value);
                bytes += declared.len();
                to.push_str(&declared);
            }
            if bytes > MOST_STYLE {
                return Err(too_many());
            }
        }
        if steps.get() == 0 {
            return Err(too_many());
        }
    }
    Ok(styles)
}

fn too_many() -> FigureFault {
    FigureFault::new(
        "the SVG has too many style rules for its many elements",
        "save it from the drawing program with presentation attributes",
    )
}

/// An element, and how many steps are left to look at it and around it. Without any left nothing is found any more.
#[derive(Clone, Copy)]
struct Styled<'a, 'i, 's> {
    node: Node<'a, 'i>,
    steps: &'s Cell<u64>,
}

impl Styled<'_, '_, '_> {
    fn step(&self) -> bool {
        self.steps.set(self.steps.get().saturating_sub(1));
        self.steps.get() > 0
    }
}

impl Element for Styled<'_, '_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.node.parent_element().filter(|_| self.step()).map(|node| Self { node, ..*self })
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.node.prev_sibling_element().filter(|_| self.step()).map(|node| Self { node, ..*self })
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.step() && self.node.tag_name().name() == name
    }

    fn attribute_matches(&self, name: &str, operator: AttributeOperator<'_>) -> bool {
        self.step() && self.node.attribute(name).is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        self.step() && matches!(class, PseudoClass::FirstChild) && self.node.prev_sibling_element().is_none()
    }
}
