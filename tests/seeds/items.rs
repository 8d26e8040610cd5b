//! Items and keys that are forgotten, written twice or in the other order, in front matter and in `manual.yaml`.

use std::ops::Range;

use kitwright::model::schema::{Form, Holds, Key, MANUAL, STEP};
use kitwright::source::Spanned;
use kitwright::syntax::{Node, NodeKind};

use super::keys::is_needed;
use super::labels::{Group, is_for_the_compiler, of_form};
use super::manuals::CleanManual;
use super::seed::{Bed, Seed};

pub fn seeds(manual: usize, c: &CleanManual) -> Vec<Seed> {
    let mut all = Vec::new();
    for (step, _) in c.steps() {
        let mut bed = Bed::new(manual, c, step.file);
        let mut walk = ItemWalk { bed: &mut bed, group: None, top: None };
        walk.group(&step.front, &STEP);
        all.append(&mut bed.seeds);
    }
    let settings = &c.manual().front;
    let mut bed = Bed::new(manual, c, settings.span.file);
    let mut walk = ItemWalk { bed: &mut bed, group: Some(Group::Tables), top: None };
    walk.group(settings, &MANUAL);
    all.append(&mut bed.seeds);
    all
}

struct ItemWalk<'a, 'b> {
    bed: &'a mut Bed<'b>,
    /// Of the key at the top that it is in.
    group: Option<Group>,
    /// The item of the list at the top that it is in.
    top: Option<Range<usize>>,
}

impl ItemWalk<'_, '_> {
    fn group(&mut self, node: &Node, form: &'static Form) {
        let NodeKind::Mapping(entries) = &node.kind else { return };
        let at_top = self.top.is_none();
        let settings = std::ptr::eq(form, &MANUAL);
        for (i, (name, value)) in entries.iter().enumerate() {
            let Some(key) = form.key(&name.value).filter(|k| !(at_top && is_for_the_compiler(k.name))) else {
                continue;
            };
            let before = self.group;
            if at_top && !settings {
                self.group = Some(Group::of_key(key.name));
            }
            if !is_needed(form, key.name) {
                self.key_out(node, form, key, entries, i);
            }
            self.value(value, key, key.holds, (name, value));
            self.group = before;
        }
    }

    fn value(&mut self, node: &Node, key: &'static Key, holds: Holds, entry: (&Spanned<String>, &Node)) {
        match (&node.kind, holds) {
            (NodeKind::Sequence(nodes), _) => {
                self.sequence(node, nodes, key, entry);
                for inner in nodes {
                    let around = self.top.clone();
                    self.top = around.clone().or_else(|| Some(inner.span.range()));
                    if let Some(form) = holds.inner() {
                        self.group(inner, form);
                    }
                    self.top = around;
                }
            }
            (NodeKind::Mapping(_), Holds::Items(form) | Holds::Group(form)) => {
                let around = self.top.clone();
                self.top = around.clone().or_else(|| Some(node.span.range()));
                self.group(node, form);
                self.top = around;
            }
            (NodeKind::Mapping(entries), Holds::Entries(_, held)) => {
                for (name, value) in entries {
                    let around = self.top.clone();
                    self.top = Some(name.span.range().start..value.span.range().end);
                    self.value(value, key, *held, (name, value));
                    self.top = around;
                }
            }
            _ => {}
        }
    }

    fn group_of(&self, holds: Holds) -> Group {
        match holds {
            Holds::Condition => Group::Conditions,
            Holds::Hand => Group::Hands,
            _ => self.group.unwrap_or(Group::Tables),
        }
    }

    /// A key left out that an item can do without. What is only said in words can be missed by no one.
    fn key_out(
        &mut self,
        node: &Node,
        form: &'static Form,
        key: &'static Key,
        entries: &[(Spanned<String>, Node)],
        i: usize,
    ) {
        // Nobody forgets a whole list.
        let many = match &entries[i].1.kind {
            NodeKind::Sequence(nodes) => nodes.len() > 1,
            NodeKind::Mapping(_) => true,
            _ => false,
        };
        if many && self.top.is_none() || matches!(key.holds, Holds::Words | Holds::Plain) {
            return;
        }
        let at = match self.is_flow(node, '{') {
            true => {
                let ends: Vec<Range<usize>> =
                    entries.iter().map(|(k, v)| k.span.range().start..self.outer(v).end).collect();
                between(&ends, i)
            }
            false => self.lines(entries[i].0.span.range().start),
        };
        // The key that an item of a list begins with can't be taken out alone.
        if self.bed.text[at.clone()].trim_start().starts_with("- ") && !self.is_flow(node, '{') {
            return;
        }
        let label = match (key.holds, self.top.is_some()) {
            (Holds::Condition, true) => "only of an item".to_owned(),
            (_, true) => format!("{} {}", of_form(form), key.name),
            (_, false) => key.name.to_owned(),
        };
        let item = self.top.clone().unwrap_or_else(|| at.clone());
        self.bed.put(self.group_of(key.holds), format!("{label}: left out"), item, at, "");
    }

    fn sequence(&mut self, node: &Node, nodes: &[Node], key: &'static Key, entry: (&Spanned<String>, &Node)) {
        let group = self.group_of(key.holds);
        let flow = self.is_flow(node, '[');
        let outer: Vec<Range<usize>> = nodes.iter().map(|n| self.outer(n)).collect();
        for (i, inner) in nodes.iter().enumerate() {
            let lines = self.lines(inner.span.range().start);
            let item = self.top.clone().unwrap_or_else(|| inner.span.range());
            let out = match (flow, nodes.len()) {
                // The key goes with its only item, but not out of the middle of a line.
                (_, 1) if self.starts_line(entry.0.span.range().start) => self.lines(entry.0.span.range().start),
                (_, 1) => continue,
                (true, _) => between(&outer, i),
                (false, _) => lines.clone(),
            };
            self.bed.put(group, format!("{}: one left out", key.name), item.clone(), out, "");
            let (at, twice) = match flow {
                true => (outer[i].clone(), format!("{0}, {0}", &self.bed.text[outer[i].clone()])),
                false => (lines.clone(), self.bed.text[lines.clone()].repeat(2)),
            };
            self.bed.put(group, format!("{}: one twice", key.name), item.clone(), at, twice);
            // Where the order says something.
            if let Some(next) = nodes.get(i + 1).filter(|_| matches!(key.name, "stack" | "run" | "legs" | "angle")) {
                let text = self.bed.text;
                let (a, b) = match flow {
                    true => (outer[i].clone(), outer[i + 1].clone()),
                    false => (lines.clone(), self.lines(next.span.range().start)),
                };
                let swapped = format!("{}{}{}", &text[b.clone()], &text[a.end..b.start], &text[a.clone()]);
                self.bed.put(group, format!("{}: two in the other order", key.name), item, a.start..b.end, swapped);
            }
        }
    }

    /// Whether a list or a group is written in its brackets.
    fn is_flow(&self, node: &Node, bracket: char) -> bool {
        self.bed.text[node.span.range().start..].starts_with(bracket)
    }

    /// A node with the quotes around it.
    fn outer(&self, node: &Node) -> Range<usize> {
        let range = node.span.range();
        let text = self.bed.text;
        let quoted = matches!(&node.kind, NodeKind::Scalar { quoted: true, .. })
            && text[..range.start].ends_with(['"', '\''])
            && text[range.end..].starts_with(['"', '\'']);
        if quoted { range.start - 1..range.end + 1 } else { range }
    }

    fn starts_line(&self, at: usize) -> bool {
        let line = self.bed.text[..at].rfind('\n').map_or(0, |i| i + 1);
        self.bed.text[line..at].trim().is_empty()
    }

    /// The line of a place with all lines below that are indented deeper.
    fn lines(&self, at: usize) -> Range<usize> {
        let text = self.bed.text;
        let start = text[..at].rfind('\n').map_or(0, |i| i + 1);
        let indent = |line: &str| line.len() - line.trim_start().len();
        let own = indent(text[start..].lines().next().unwrap_or(""));
        let mut end = start;
        for (i, line) in text[start..].split_inclusive('\n').enumerate() {
            if i > 0 && !line.trim().is_empty() && indent(line) <= own {
                break;
            }
            end += line.len();
        }
        start..end
    }
}

/// The range of one of several entries in a row, with the comma that goes with it.
fn between(all: &[Range<usize>], i: usize) -> Range<usize> {
    match all.get(i + 1) {
        Some(next) => all[i].start..next.start,
        None if i > 0 => all[i - 1].end..all[i].end,
        None => all[i].clone(),
    }
}
