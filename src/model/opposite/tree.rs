//! The front matter of a step for the other hand, as a tree mirrored by what each key holds.

use std::collections::BTreeMap;

use super::words::Sides;
use crate::model::other_face;
use crate::model::schema::{Form, Holds, Lateral, STEP, Thing, Use, counted};
use crate::source::Spanned;
use crate::syntax::{Node, NodeKind};
use crate::units::{Clock, FigureName, Hand, PartNumber, StepId};

/// What the values of a tree are mirrored by.
pub(super) struct Mirrored<'a> {
    pub sides: &'a Sides,
    pub parts: &'a BTreeMap<PartNumber, PartNumber>,
    pub pairs: &'a BTreeMap<StepId, StepId>,
    /// What is shown in place of each figure; one that is missing is shown as it is.
    pub figures: &'a BTreeMap<FigureName, FigureName>,
    /// The hand that a picture shows which is shown as it is.
    pub shown: &'static str,
}

type TreeEntry = (Spanned<String>, Node);

impl Mirrored<'_> {
    pub fn step(&self, front: &mut Node) {
        self.group(front, &STEP);
    }

    fn group(&self, node: &mut Node, form: &'static Form) {
        let NodeKind::Mapping(entries) = &mut node.kind else { return };
        if form.keys.iter().any(|k| matches!(k.holds, Holds::FaceUp)) {
            other_face_up(entries);
        }
        for (name, node) in entries {
            let Some(key) = form.key(&name.value) else { continue };
            self.value(node, key.holds);
            if let Holds::Away(side) = key.holds
                && let Some(other) = other_side(form, side)
            {
                name.value = other.to_owned();
            }
        }
    }

    fn value(&self, node: &mut Node, holds: Holds) {
        if let NodeKind::Sequence(nodes) = &mut node.kind {
            match holds {
                // Seen in a mirror what was at the left is at the right. To a thousandth of a percent, so that twice is
                // the same.
                Holds::Point => set_number(nodes, 0, |n| 100.0 - n[0]),
                Holds::Crop => set_number(nodes, 0, |n| 100.0 - n[0] - n.get(2).copied().unwrap_or(0.0)),
                _ => nodes.iter_mut().for_each(|n| self.value(n, holds)),
            }
            return;
        }
        if let Holds::Items(form) = holds
            && let Some(Holds::Name(Thing::Figure, Use::Shown)) = form.short
        {
            return self.figure(node, form);
        }
        match (&mut node.kind, holds) {
            (NodeKind::Mapping(_), Holds::Items(form) | Holds::Group(form)) => self.group(node, form),
            (NodeKind::Scalar { text, .. }, Holds::Items(Form { short: Some(short), .. })) => self.text(text, *short),
            (NodeKind::Scalar { text, .. }, holds) => self.text(text, holds),
            _ => {}
        }
    }

    /// A picture that is shown as it is keeps its marks, and says which hand it shows.
    fn figure(&self, node: &mut Node, form: &'static Form) {
        if let NodeKind::Scalar { text, .. } = &node.kind {
            let key = Spanned::new("figure".to_owned(), node.span);
            let name = Node { span: node.span, kind: NodeKind::Scalar { text: text.clone(), quoted: false } };
            node.kind = NodeKind::Mapping(vec![(key, name)]);
        }
        let NodeKind::Mapping(entries) = &mut node.kind else { return };
        let Some(other) = text_of(entries, "figure").and_then(|name| self.figures.get(&FigureName::new(name))) else {
            let caption = text_of(entries, "caption").unwrap_or_default();
            let caption = format!("{caption} ({} shown)", self.shown).trim().to_owned();
            set_text(entries, "caption", caption, node.span);
            return;
        };
        set_text(entries, "figure", other.to_string(), node.span);
        entries.retain(|(key, _)| key.value != "opposite");
        self.group(node, form);
    }

    fn text(&self, text: &mut String, holds: Holds) {
        match holds {
            Holds::Words => *text = self.sides.swapped(text),
            // The made step's own id is given to it when it is read.
            Holds::Name(Thing::Step, Use::Named) => {}
            Holds::Name(thing, _) | Holds::NameOr(_, thing, _) => {
                if let Some(other) = self.name(thing, text) {
                    *text = other;
                }
            }
            Holds::Counted(thing, _) => {
                let (count, name, _) = counted(text, crate::source::Span::new(crate::source::FileId(0), 0..text.len()));
                if let Some(other) = self.name(thing, name) {
                    *text = count.map_or_else(|| other.clone(), |count| format!("{count} x {other}"));
                }
            }
            Holds::Hand => {
                let hands = [Hand::Left, Hand::Right];
                if let Some(hand) = hands.into_iter().find(|h| h.word().eq_ignore_ascii_case(text.trim())) {
                    *text = hand.opposite().word().to_owned();
                }
            }
            // Seen in a mirror a clock runs the other way, and what lay to the right of an axis lies to the left.
            Holds::Clock => {
                if let Ok(clock) = Clock::parse(text) {
                    *text = clock.from_other_end().hour().to_string();
                }
            }
            Holds::Offset => *text = negated(text),
            _ => {}
        }
    }

    /// The name that stands for the other hand.
    fn name(&self, thing: Thing, name: &str) -> Option<String> {
        match thing {
            Thing::Part | Thing::Item => self.parts.get(&PartNumber::new(name.trim())).map(ToString::to_string),
            Thing::Step => self.pairs.get(&StepId::new(name)).map(ToString::to_string),
            thing if thing.named_in_words() => Some(self.sides.swapped(name)),
            _ => None,
        }
    }
}

/// The key of the other side among the keys of a form.
fn other_side(form: &'static Form, side: Lateral) -> Option<&'static str> {
    let other = match side {
        Lateral::Left => Lateral::Right,
        Lateral::Right => Lateral::Left,
        Lateral::Neither => return None,
    };
    form.keys.iter().find(|k| matches!(k.holds, Holds::Away(side) if side == other)).map(|k| k.name)
}

fn text_of<'n>(entries: &'n [TreeEntry], name: &str) -> Option<&'n str> {
    entries.iter().find(|(k, _)| k.value == name).and_then(|(_, n)| match &n.kind {
        NodeKind::Scalar { text, .. } => Some(text.as_str()),
        _ => None,
    })
}

fn set_text(entries: &mut Vec<TreeEntry>, name: &str, to: String, span: crate::source::Span) {
    match entries.iter_mut().find(|(k, _)| k.value == name) {
        Some((_, Node { kind: NodeKind::Scalar { text, .. }, .. })) => *text = to,
        Some(_) => {}
        None => {
            let node = Node { span, kind: NodeKind::Scalar { text: to, quoted: true } };
            entries.push((Spanned::new(name.to_owned(), span), node));
        }
    }
}

fn set_number(nodes: &mut [Node], at: usize, to: impl Fn(&[f64]) -> f64) {
    let numbers: Vec<f64> = nodes
        .iter()
        .filter_map(|n| match &n.kind {
            NodeKind::Scalar { text, .. } => text.trim().parse().ok(),
            _ => None,
        })
        .collect();
    if numbers.len() == nodes.len()
        && let Some(Node { kind: NodeKind::Scalar { text, .. }, .. }) = nodes.get_mut(at)
    {
        *text = ((to(&numbers) * 1000.0).round() / 1000.0).to_string();
    }
}

/// Mirrors what a jig for both hands says of the face that is up.
fn other_face_up(entries: &mut Vec<TreeEntry>) {
    let Some(face) = text_of(entries, "face-up").map(str::to_owned) else { return };
    let given = text_of(entries, "opposite-face-up").map(str::to_owned);
    let other = given.or_else(|| other_face(&face)).unwrap_or_default();
    for (key, node) in entries {
        if let NodeKind::Scalar { text, .. } = &mut node.kind {
            match key.value.as_str() {
                "face-up" => text.clone_from(&other),
                "opposite-face-up" => text.clone_from(&face),
                _ => {}
            }
        }
    }
}

fn negated(text: &str) -> String {
    let text = text.trim();
    match text.strip_prefix('-') {
        Some(rest) => rest.to_owned(),
        None if text.chars().any(|c| ('1'..='9').contains(&c)) => format!("-{text}"),
        None => text.to_owned(),
    }
}
