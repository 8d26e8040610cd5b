//! One leaf as a page: its blocks, and how it lies among the others.

use tera::{Context, Value};

use super::blocks::{PageWriter, map, markup};
use super::data::units_word;
use super::digest::digest;
use super::inline::without_links;
use super::site::Site;
use super::templates::Templates;
use crate::document::{BlockKind, Leaf, LeafRole, Purpose};
use crate::emit::EmitError;
use crate::units::StepId;

/// The page of a leaf.
pub fn render(site: &Site<'_>, leaf: usize, templates: &Templates) -> Result<String, EmitError> {
    let mut writer = PageWriter::new(site, leaf);
    let blocks = writer.page()?;
    let mut context = Context::new();
    context.insert_value("meta", meta(site));
    context.insert_value("leaf", this(&mut writer)?);
    context.insert_value("blocks", blocks);
    context.insert_value("crumbs", crumbs(&mut writer)?);
    let last = site.document.leaves.len() - 1;
    context.insert_value("previous", writer.optional_entry(leaf.checked_sub(1))?);
    context.insert_value("next", writer.optional_entry((leaf < last).then_some(leaf + 1))?);
    context.insert_value("up", writer.optional_entry(above(site, leaf))?);
    context.insert_value("progress", progress(site, leaf));
    context.insert_value("way_in", if leaf == 0 { writer.way_in()? } else { Value::none() });
    templates.page(&context)
}

fn meta(site: &Site<'_>) -> Value {
    let document = site.document;
    let meta = &document.meta;
    let purpose = match document.purpose {
        Purpose::Manual => "manual",
        Purpose::ShopCopy => "shop-copy",
        Purpose::PickLists => "pick-lists",
        Purpose::Receiving => "receiving",
        Purpose::Templates => "templates",
        Purpose::Report => "report",
    };
    map([
        ("title", Value::normal_string(&meta.title)),
        ("subtitle", Value::normal_string(&meta.subtitle)),
        ("maker", Value::normal_string(&meta.maker)),
        ("number", Value::normal_string(&meta.number)),
        ("configuration", Value::normal_string(&meta.configuration)),
        ("configuration_title", Value::normal_string(&meta.configuration_title)),
        ("release", Value::normal_string(&meta.release)),
        ("language", Value::normal_string(&meta.language)),
        ("name", Value::normal_string(&document.name)),
        ("purpose", purpose.into()),
        ("home", site.file(0).into()),
        ("units", units_word(meta.units).into()),
    ])
}

fn this(writer: &mut PageWriter<'_>) -> Result<Value, EmitError> {
    let leaf = &writer.site.document.leaves[writer.leaf];
    let has_head = leaf.blocks.iter().any(|block| matches!(block.kind, BlockKind::StepHead(_)));
    Ok(map([
        ("role", role_word(leaf.role).into()),
        ("number", leaf.number.as_deref().map(Value::normal_string).into()),
        ("title", markup(&writer.line(&leaf.title)?)),
        ("title_text", writer.plain(&leaf.title).into()),
        ("has_head", has_head.into()),
        ("anchor", Value::normal_string(leaf.anchor.as_str())),
        ("file", writer.site.file(writer.leaf).into()),
        ("step", step_id(leaf).map(|id| Value::normal_string(id.as_str())).into()),
        ("digest", step_id(leaf).map(|_| digest(writer.site, leaf)).into()),
    ]))
}

/// The step that a leaf is of.
pub fn step_id(leaf: &Leaf) -> Option<&StepId> {
    let head = leaf.blocks.iter().find(|block| matches!(block.kind, BlockKind::StepHead(_)));
    head.and_then(|block| block.origin.step.as_ref()).filter(|_| leaf.role == LeafRole::Step)
}

/// A link to another page.
pub fn entry(writer: &mut PageWriter<'_>, leaf: usize) -> Result<Value, EmitError> {
    let site = writer.site;
    let to = &site.document.leaves[leaf];
    let is_step = |leaf: &&usize| site.document.leaves[**leaf].role == LeafRole::Step;
    let steps = site.children(leaf).iter().filter(is_step).count();
    Ok(map([
        ("href", site.file(leaf).into()),
        ("number", to.number.as_deref().map(Value::normal_string).into()),
        ("title", markup(&writer.line(&without_links(&to.title))?)),
        ("role", role_word(to.role).into()),
        ("steps", steps.into()),
    ]))
}

/// The leaf above; the first page stands above all that name none.
fn above(site: &Site<'_>, leaf: usize) -> Option<usize> {
    site.parent(leaf).or((leaf != 0).then_some(0))
}

/// The pages from the first one down to the one above this.
fn crumbs(writer: &mut PageWriter<'_>) -> Result<Value, EmitError> {
    let mut line = Vec::new();
    let mut at = site_above(writer, writer.leaf);
    while let Some(leaf) = at {
        line.push(entry(writer, leaf)?);
        at = site_above(writer, leaf);
    }
    line.reverse();
    Ok(line.into())
}

fn site_above(writer: &PageWriter<'_>, leaf: usize) -> Option<usize> {
    above(writer.site, leaf)
}

/// Where a step stands among those of its section.
fn progress(site: &Site<'_>, leaf: usize) -> Value {
    let Some(section) = site.parent(leaf).filter(|_| site.document.leaves[leaf].role == LeafRole::Step) else {
        return Value::none();
    };
    let steps = site.children(section);
    let Some(before) = steps.iter().position(|step| *step == leaf) else { return Value::none() };
    map([("at", (before + 1).into()), ("of", steps.len().into())])
}

pub fn role_word(role: LeafRole) -> &'static str {
    match role {
        LeafRole::Title => "title",
        LeafRole::Text => "text",
        LeafRole::Contents => "contents",
        LeafRole::Section => "section",
        LeafRole::Step => "step",
        LeafRole::Index => "index",
        LeafRole::Results => "results",
        LeafRole::Card => "card",
    }
}
