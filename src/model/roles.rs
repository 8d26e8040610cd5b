//! Roles: one name for the parts that do the same in different variants, said once in the column `called` of the parts list.
//!
//! Where a step says a role, its item stands for one item a part, each under the condition of the variants that have that
//! part; so every rule and every document meets part numbers, as if they had been written. In a text the number is put in
//! when a configuration is made.
//!
//! Owns: which parts a role has, putting them in. Must not know: what an item means.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;

use super::schema::{Form, Holds, STEP, Thing, counted};
use super::{Part, Settings};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};
use crate::syntax::{Node, NodeKind};
use crate::units::{Hand, PartNumber, VariantName};

/// The roles of a manual.
#[derive(Clone, Debug, Default)]
pub struct Roles {
    by_name: BTreeMap<String, Vec<RolePart>>,
    /// Every place of the steps where one is said.
    pub uses: Vec<RoleUse>,
}

/// A part in its role.
#[derive(Clone, Debug)]
pub struct RolePart {
    pub number: PartNumber,
    pub hand: Option<Hand>,
    pub opposite: Option<PartNumber>,
    /// The variants that have it, by their own columns or those of what they are based on.
    pub variants: BTreeSet<VariantName>,
    /// The condition that says so.
    condition: String,
    /// The cell that says the role.
    pub cell: Span,
}

/// A place of a step's front matter where a role is said.
#[derive(Clone, Debug)]
pub struct RoleUse {
    pub role: String,
    pub span: Span,
    pub hand: Option<Hand>,
    /// The condition of its item, as written.
    pub only: Option<Spanned<String>>,
}

impl Roles {
    /// The roles of a parts list.
    pub(super) fn of(parts: &IndexMap<PartNumber, Part>, settings: &Settings) -> Self {
        let mut roles = Self::default();
        for part in parts.values() {
            let Some(called) = &part.called else { continue };
            // A piece is there where the part is that it is cut from.
            let whole = part.cut_from.as_ref().and_then(|whole| parts.get(&whole.value));
            let has = |variant: &&VariantName| {
                let line = settings.lineage(variant);
                let count = |part: &Part| line.iter().find_map(|v| part.variants.get(*v)).map(|cell| cell.count);
                count(part).or_else(|| count(whole?)).is_some_and(|count| count > 0)
            };
            let variants: BTreeSet<VariantName> = settings.variants.keys().filter(has).cloned().collect();
            let one = RolePart {
                number: part.number.value.clone(),
                hand: part.hand.or_else(|| settings.hand_of_number(part.number.value.as_str())),
                opposite: part.opposite.as_ref().map(|o| o.value.clone()),
                condition: in_variants(&variants, settings),
                variants,
                cell: called.span,
            };
            roles.by_name.entry(called.value.clone()).or_default().push(one);
        }
        roles
    }

    pub fn is_empty(&self) -> bool {
        self.by_name.is_empty()
    }

    /// The roles with their parts, by name.
    pub fn all(&self) -> impl Iterator<Item = (&str, &[RolePart])> {
        self.by_name.iter().map(|(name, parts)| (name.as_str(), parts.as_slice()))
    }

    /// The parts of a role; none where there is no such role.
    pub fn parts(&self, role: &str) -> &[RolePart] {
        self.by_name.get(role).map_or(&[], Vec::as_slice)
    }

    /// The parts that a role may mean in a step of a hand: where it has parts of both, those of that hand.
    fn of_hand(&self, role: &str, hand: Option<Hand>) -> Vec<&RolePart> {
        let all = self.parts(role);
        let both = [Hand::Left, Hand::Right].iter().all(|h| all.iter().any(|p| p.hand == Some(*h)));
        all.iter().filter(|p| !both || hand.is_none() || p.hand.is_none() || p.hand == hand).collect()
    }

    /// The part that a role means in a variant and in a step of a hand; none where no part or more than one has it there.
    pub fn part_in(&self, role: &str, variant: &VariantName, hand: Option<Hand>) -> Option<&RolePart> {
        let mut here = self.of_hand(role, hand).into_iter().filter(|p| p.variants.contains(variant));
        let first = here.next()?;
        here.next().is_none().then_some(first)
    }

    /// The front matter of a step with its roles put in.
    pub(super) fn put_in(&mut self, front: Node, sink: &mut Sink) -> Node {
        if self.is_empty() {
            return front;
        }
        let NodeKind::Mapping(entries) = &front.kind else { return front };
        let scalar = |key: &str| {
            entries.iter().find(|(k, _)| k.value == key).and_then(|(_, node)| match &node.kind {
                NodeKind::Scalar { text, .. } => Some(text.as_str()),
                _ => None,
            })
        };
        let hand = match scalar("hand") {
            Some("left") => Some(Hand::Left),
            Some("right") => Some(Hand::Right),
            _ => None,
        };
        let mut placing = Placing { roles: self, hand, count: 0, uses: Vec::new(), sink };
        let whole = placing.group(&front, &STEP);
        let uses = placing.uses;
        self.uses.extend(uses);
        whole
    }
}

/// The condition of some variants and of no other, one that inherits the conditions of another included.
fn in_variants(variants: &BTreeSet<VariantName>, settings: &Settings) -> String {
    let names = variants.iter().map(VariantName::as_str).collect::<Vec<_>>().join(" or ");
    let based =
        |v: &&VariantName| !variants.contains(*v) && settings.lineage(v).iter().any(|base| variants.contains(*base));
    let others: String = settings.variants.keys().filter(based).map(|v| format!(" and not {v}")).collect();
    format!("({names}){others}")
}

/// How many items the roles of one step may stand for. Several roles in one item multiply.
const MOST_PUT_IN: u32 = 10_000;

/// Putting the parts of roles into a step.
struct Placing<'a> {
    roles: &'a Roles,
    hand: Option<Hand>,
    /// How many conditions have been made, so that each has a place of its own.
    count: u32,
    uses: Vec<RoleUse>,
    sink: &'a mut Sink,
}

impl Placing<'_> {
    /// A group of keys: the items of its lists are put in; a role elsewhere in it is a finding.
    fn group(&mut self, node: &Node, form: &'static Form) -> Node {
        let NodeKind::Mapping(entries) = &node.kind else { return node.clone() };
        let entries = entries.iter().map(|(key, value)| {
            let Some(known) = form.key(&key.value) else { return (key.clone(), value.clone()) };
            let value = match known.holds {
                Holds::Items(form) => self.list(value, form),
                Holds::Group(form) => {
                    if let Some(role) = self.roles_in(value, form).first() {
                        self.out_of_place(role);
                    }
                    self.group(value, form)
                }
                holds => {
                    if let Some(role) = self.in_value(value, holds).first() {
                        self.out_of_place(role);
                    }
                    value.clone()
                }
            };
            (key.clone(), value)
        });
        Node { span: node.span, kind: NodeKind::Mapping(entries.collect()) }
    }

    fn list(&mut self, node: &Node, form: &'static Form) -> Node {
        let items = match &node.kind {
            NodeKind::Sequence(items) => items.as_slice(),
            NodeKind::Null => return node.clone(),
            _ => std::slice::from_ref(node),
        };
        let mut out = Vec::with_capacity(items.len());
        for item in items {
            let inner = match &item.kind {
                NodeKind::Mapping(_) => self.inner(item, form),
                _ => item.clone(),
            };
            self.item(inner, form, &mut out);
        }
        if out.len() == 1 && !matches!(node.kind, NodeKind::Sequence(_)) {
            return out.remove(0);
        }
        Node { span: node.span, kind: NodeKind::Sequence(out) }
    }

    /// An item with the lists in it put in, its own values as they are.
    fn inner(&mut self, item: &Node, form: &'static Form) -> Node {
        let NodeKind::Mapping(entries) = &item.kind else { return item.clone() };
        let entries = entries.iter().map(|(key, value)| {
            let value = match form.key(&key.value).map(|k| k.holds) {
                Some(Holds::Items(form)) => self.list(value, form),
                _ => value.clone(),
            };
            (key.clone(), value)
        });
        Node { span: item.span, kind: NodeKind::Mapping(entries.collect()) }
    }

    /// One item: as it is where it says no role, else one for each part.
    fn item(&mut self, item: Node, form: &'static Form, out: &mut Vec<Node>) {
        let roles = self.roles_in(&item, form);
        let Some(role) = roles.first() else {
            out.push(item);
            return;
        };
        if self.count >= MOST_PUT_IN {
            if self.count == MOST_PUT_IN {
                self.count += 1;
                self.sink.push(
                    Diagnostic::error(
                        "role-unclear",
                        format!("the roles of this step stand for more than {MOST_PUT_IN} items"),
                    )
                    .at(role.span, "from here on nothing is put in")
                    .help("say fewer roles in one item, or the numbers of the parts")
                    .about(&role.value),
                );
            }
            return;
        }
        if form.key("only").is_none() {
            self.out_of_place(role);
            out.push(item);
            return;
        }
        let item = in_full(item, form);
        let only = condition_of(&item);
        self.uses.push(RoleUse { role: role.value.clone(), span: role.span, hand: self.hand, only: only.clone() });
        let parts: Vec<RolePart> = self.roles.of_hand(&role.value, self.hand).into_iter().cloned().collect();
        for part in parts.iter().filter(|p| !p.variants.is_empty()) {
            let text = match &only {
                Some(only) => format!("({}) and {}", only.value, part.condition),
                None => part.condition.clone(),
            };
            let one = self.with_part(&item, form, &role.value, &part.number);
            let one = self.under(one, text, role.span);
            // Another role may stand in it.
            self.item(one, form, out);
        }
    }

    /// Puts a condition in the place of the item's own.
    fn under(&mut self, item: Node, text: String, span: Span) -> Node {
        let NodeKind::Mapping(mut entries) = item.kind else { return item };
        entries.retain(|(key, _)| key.value != "only");
        // Conditions are told apart by their places: each has its own within the name of the role.
        let long = (span.end - span.start).max(1);
        let place = Span { start: span.start + self.count / long, end: span.end - self.count % long, ..span };
        self.count += 1;
        entries.push((
            Spanned::new("only".to_owned(), place),
            Node { span: place, kind: NodeKind::Scalar { text, quoted: false } },
        ));
        Node { span: item.span, kind: NodeKind::Mapping(entries) }
    }

    /// An item with a part in the place of a role, but for the lists in it, which are done.
    fn with_part(&self, item: &Node, form: &'static Form, role: &str, part: &PartNumber) -> Node {
        let NodeKind::Mapping(entries) = &item.kind else { return item.clone() };
        let entries = entries.iter().map(|(key, value)| {
            let value = match form.key(&key.value).map(|k| k.holds) {
                None | Some(Holds::Items(_)) => value.clone(),
                Some(Holds::Group(form)) => self.with_part(value, form, role, part),
                Some(holds) => replaced(value, holds, role, part),
            };
            (key.clone(), value)
        });
        Node { span: item.span, kind: NodeKind::Mapping(entries.collect()) }
    }

    /// The roles that an item's own values say.
    fn roles_in(&self, item: &Node, form: &'static Form) -> Vec<Spanned<String>> {
        match &item.kind {
            NodeKind::Scalar { .. } => form.short.map_or_else(Vec::new, |holds| self.in_value(item, holds)),
            NodeKind::Mapping(entries) => {
                let own = entries.iter().flat_map(|(key, value)| match form.key(&key.value).map(|k| k.holds) {
                    None | Some(Holds::Items(_)) => Vec::new(),
                    Some(Holds::Group(form)) => self.roles_in(value, form),
                    Some(holds) => self.in_value(value, holds),
                });
                own.collect()
            }
            _ => Vec::new(),
        }
    }

    fn in_value(&self, value: &Node, holds: Holds) -> Vec<Spanned<String>> {
        match &value.kind {
            NodeKind::Sequence(nodes) => nodes.iter().flat_map(|node| self.in_value(node, holds)).collect(),
            NodeKind::Scalar { text, .. } => {
                let (name, span) = match holds {
                    Holds::Name(Thing::Part | Thing::Item, _) | Holds::NameOr(_, Thing::Part | Thing::Item, _) => {
                        (text.as_str(), value.span)
                    }
                    Holds::Counted(Thing::Part | Thing::Item, _) => {
                        let (_, name, span) = counted(text, value.span);
                        (name, span)
                    }
                    _ => return Vec::new(),
                };
                let known = self.roles.by_name.contains_key(name);
                known.then(|| Spanned::new(name.to_owned(), span)).into_iter().collect()
            }
            _ => Vec::new(),
        }
    }

    fn out_of_place(&mut self, role: &Spanned<String>) {
        self.sink.push(
            Diagnostic::error("role-unclear", format!("the role `{}` can't stand here", role.value))
                .at(role.span, "what stands here can't depend on the variant")
                .help("write the number of the part")
                .about(&role.value),
        );
    }
}

/// An item that is written on one line, with keys.
fn in_full(item: Node, form: &'static Form) -> Node {
    let NodeKind::Scalar { text, .. } = &item.kind else { return item };
    let key = |name: &str, span: Span| Spanned::new(name.to_owned(), span);
    let scalar =
        |text: &str, span: Span| Node { span, kind: NodeKind::Scalar { text: text.to_owned(), quoted: false } };
    let named = form.keys.iter().find(|k| matches!(k.holds, Holds::Name(Thing::Part | Thing::Item, _)));
    let Some(named) = named else { return item };
    let (count, name, span) = counted(text, item.span);
    let mut entries = vec![(key(named.name, span), scalar(name, span))];
    if let Some(count) = count {
        entries.push((key("quantity", item.span), scalar(count, item.span)));
    }
    Node { span: item.span, kind: NodeKind::Mapping(entries) }
}

fn condition_of(item: &Node) -> Option<Spanned<String>> {
    let NodeKind::Mapping(entries) = &item.kind else { return None };
    entries.iter().find(|(key, _)| key.value == "only").and_then(|(_, node)| match &node.kind {
        NodeKind::Scalar { text, .. } => Some(Spanned::new(text.clone(), node.span)),
        _ => None,
    })
}

fn replaced(value: &Node, holds: Holds, role: &str, part: &PartNumber) -> Node {
    match &value.kind {
        NodeKind::Sequence(nodes) => {
            let nodes = nodes.iter().map(|node| replaced(node, holds, role, part)).collect();
            Node { span: value.span, kind: NodeKind::Sequence(nodes) }
        }
        NodeKind::Scalar { text, quoted } => {
            let text = match holds {
                Holds::Name(Thing::Part | Thing::Item, _) | Holds::NameOr(_, Thing::Part | Thing::Item, _)
                    if text == role =>
                {
                    part.to_string()
                }
                Holds::Counted(Thing::Part | Thing::Item, _) if counted(text, value.span).1 == role => {
                    match counted(text, value.span).0 {
                        Some(count) => format!("{count} x {part}"),
                        None => part.to_string(),
                    }
                }
                _ => text.clone(),
            };
            Node { span: value.span, kind: NodeKind::Scalar { text, quoted: *quoted } }
        }
        _ => value.clone(),
    }
}
