//! The pages of a stick that stand outside the manual.

use tera::{Context, Value};

use super::blocks::map;
use super::templates::Templates;
use crate::document::Meta;
use crate::emit::EmitError;

/// A document on the stick as its start page offers it.
pub struct Door<'a> {
    pub href: &'a str,
    pub title: &'a str,
    pub purpose: &'a str,
}

/// A page made by the template `name`. `files` are further files that it names, by what the template calls them.
///
/// # Errors
/// A template that fails.
pub fn stick_page(
    name: &str,
    meta: &Meta,
    doors: &[Door<'_>],
    files: &[(&'static str, &str)],
    templates: &Templates,
) -> Result<String, EmitError> {
    let mut context = Context::new();
    for (key, value) in [
        ("title", &meta.title),
        ("maker", &meta.maker),
        ("number", &meta.number),
        ("configuration", &meta.configuration),
        ("configuration_title", &meta.configuration_title),
        ("release", &meta.release),
        ("language", &meta.language),
    ] {
        context.insert_value(key, Value::normal_string(value));
    }
    let doors: Vec<Value> = doors
        .iter()
        .map(|door| map([("href", door.href.into()), ("title", door.title.into()), ("purpose", door.purpose.into())]))
        .collect();
    context.insert_value("entries", doors.into());
    for (key, file) in files {
        context.insert_value(*key, Value::normal_string(file));
    }
    templates.named(name, &context)
}
