//! Every place of a manual where something is called by its name.

use super::walk::{KeyLeaf, Named, names, walk, walk_table};
use super::{MANUAL, PAGE, STEP, TABLES, Thing, Use};
use crate::model::{Manual, Page, Step};
use crate::source::{Span, Spanned};
use crate::syntax::Condition;
use crate::syntax::markdown::{self, MdBlock, MdBlockKind};
use crate::units::{Designation, PartNumber};

/// A place where a name is used.
#[derive(Clone, Copy, Debug)]
pub struct Mention<'a> {
    pub thing: Thing,
    pub name: &'a str,
    pub span: Span,
    pub how: Use,
    pub step: Option<&'a Step>,
}

/// All places of a manual where something is called by its name, in reading order: steps, pages, tables, settings.
pub fn mentions(manual: &Manual) -> Vec<Mention<'_>> {
    let mut all = Vec::new();
    for step in &manual.steps {
        names_in_step(step, &mut |named, _| all.extend(each_part(manual, of(manual, named, Some(step)))));
    }
    for page in &manual.pages {
        names_in_page(page, &mut |named| all.extend(each_part(manual, of(manual, named, None))));
    }
    names_in_tables(manual, &mut |_, named| all.push(of(manual, named, None)));
    names_in_settings(manual, &mut |named| all.push(of(manual, named, None)));
    all
}

/// Where a text says a role, each part that has it is meant.
fn each_part<'a>(manual: &'a Manual, mention: Mention<'a>) -> Vec<Mention<'a>> {
    let parts = if mention.thing == Thing::Part { manual.roles.parts(mention.name) } else { &[] };
    if parts.is_empty() {
        return vec![mention];
    }
    parts.iter().map(|part| Mention { name: part.number.as_str(), ..mention }).collect()
}

/// What a name is the name of: what may be a part or hardware is what the lists say it is.
pub fn thing_of(manual: &Manual, named: &Named) -> Thing {
    match named.thing {
        Thing::Item if manual.parts.contains_key(&PartNumber::new(named.name)) => Thing::Part,
        Thing::Item if manual.hardware.contains_key(&Designation::new(named.name)) => Thing::Hardware,
        // What is sent is hardware as a rule.
        Thing::Item if named.how == Use::Sent => Thing::Hardware,
        other => other,
    }
}

fn of<'a>(manual: &Manual, named: Named<'a>, step: Option<&'a Step>) -> Mention<'a> {
    let thing = thing_of(manual, &named);
    Mention { thing, name: named.name, span: named.span, how: named.how, step }
}

/// A condition and where it is written.
#[derive(Clone, Copy, Debug)]
pub struct Under<'a> {
    pub condition: &'a Condition,
    pub span: Span,
}

impl<'a> From<&'a Spanned<Condition>> for Under<'a> {
    fn from(only: &'a Spanned<Condition>) -> Self {
        Self { condition: &only.value, span: only.span }
    }
}

/// What a name in a step stands in.
#[derive(Debug)]
pub struct Within<'a, 'w> {
    /// The value of the front matter; none in the text.
    pub leaf: Option<&'w KeyLeaf<'a, 'w>>,
    /// The conditions around it, the outermost first; that of a whole step is among them for its front matter alone.
    pub only: &'w [Under<'a>],
}

/// The names in a step: of its front matter, then of its text.
pub fn names_in_step<'a>(step: &'a Step, visit: &mut dyn FnMut(Named<'a>, &Within<'a, '_>)) {
    walk(&step.front, &STEP, &mut |leaf| {
        let under = |span: &Span| Some(Under { condition: step.conditions.get(span)?, span: *span });
        let only: Vec<Under> = leaf.only.iter().filter_map(under).collect();
        let within = Within { leaf: Some(leaf), only: &only };
        if let Some(condition) = step.condition(leaf) {
            in_condition(condition, &mut |named| visit(named, &within));
        }
        leaf.names().into_iter().for_each(|named| visit(named, &within));
    });
    by_kind(step, visit);
    names_in_text(&step.body, &mut Vec::new(), &mut |named, only| visit(named, &Within { leaf: None, only }));
}

/// The hardware that joints have from their kinds: it stands where the kind is named.
fn by_kind<'a>(step: &'a Step, visit: &mut dyn FnMut(Named<'a>, &Within<'a, '_>)) {
    for joint in &step.joints {
        let Some(kind) = &joint.kind else { continue };
        let only: Vec<Under> = step.only.iter().chain(&joint.only).map(Under::from).collect();
        for item in joint.with_fastener().filter(|item| item.span == kind.span) {
            let named =
                Named { thing: Thing::Hardware, name: item.as_str(), span: item.span, how: Use::ByKind, count: None };
            visit(named, &Within { leaf: None, only: &only });
        }
    }
}

/// The names in a page of text.
pub fn names_in_page<'a>(page: &'a Page, visit: &mut dyn FnMut(Named<'a>)) {
    walk(&page.front, &PAGE, &mut |leaf| leaf.names().into_iter().for_each(&mut *visit));
    if let Some(only) = &page.only {
        in_condition(&only.value, visit);
    }
    names_in_text(&page.body, &mut Vec::new(), &mut |named, _| visit(named));
}

/// The names in a text: where its links lead, and in its conditions.
fn names_in_text<'a>(blocks: &'a [MdBlock], only: &mut Vec<Under<'a>>, visit: &mut dyn FnMut(Named<'a>, &[Under<'a>])) {
    for block in blocks {
        let own = match &block.kind {
            MdBlockKind::Only { condition, condition_span, .. } => Some(Under { condition, span: *condition_span }),
            _ => None,
        };
        if let Some(under) = own {
            in_condition(under.condition, &mut |named| visit(named, only));
            only.push(under);
        }
        for run in block.runs() {
            markdown::each_link(run, &mut |to| {
                if let Some((scheme, name, span)) = markdown::reference(to)
                    && let Some(thing) = Thing::of_scheme(scheme)
                {
                    visit(Named { thing, name, span, how: Use::InText, count: None }, only);
                }
            });
        }
        block.children().for_each(|inner| names_in_text(inner, only, visit));
        if own.is_some() {
            only.pop();
        }
    }
}

fn in_condition<'a>(condition: &'a Condition, visit: &mut dyn FnMut(Named<'a>)) {
    for (name, variant_only) in condition.names() {
        let thing = if variant_only { Thing::Variant } else { Thing::Condition };
        visit(Named { thing, name: &name.value, span: name.span, how: Use::InCondition, count: None });
    }
}

/// The names in the tables, each with the name that its row has.
pub fn names_in_tables<'a>(manual: &'a Manual, visit: &mut dyn FnMut(&'a str, Named<'a>)) {
    for form in TABLES {
        let Some(table) = manual.tables.get(form.name) else { continue };
        walk_table(table, form, &mut |key, cell, row| {
            let first = row.cells.first().map_or("", |c| c.value.as_str());
            names(key.holds, &cell.value, cell.span).into_iter().for_each(|named| visit(first, named));
        });
    }
}

/// The names in `manual.yaml`.
pub fn names_in_settings<'a>(manual: &'a Manual, visit: &mut dyn FnMut(Named<'a>)) {
    walk(&manual.front, &MANUAL, &mut |leaf| leaf.names().into_iter().for_each(&mut *visit));
    for option in manual.settings.options.values() {
        if let Some(only) = &option.only {
            in_condition(&only.value, visit);
        }
    }
}
