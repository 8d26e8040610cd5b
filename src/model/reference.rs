//! The reference of keys and columns, made from the schema.

use std::collections::BTreeSet;

use super::schema::{Form, Holds, Key, MANUAL, PAGE, STEP, TABLES};

/// The reference as Markdown: every key of `manual.yaml`, of a step and of a page, every column of the tables, each with
/// its form, an example and what holds where it is not written.
pub fn reference() -> String {
    let mut out = String::new();
    let mut done = BTreeSet::new();
    form(&mut out, "manual.yaml", &MANUAL, &mut done);
    form(&mut out, "The front matter of a step", &STEP, &mut done);
    form(&mut out, "The front matter of a page", &PAGE, &mut done);
    for table in TABLES {
        keys(&mut out, &format!("{}.csv{}", table.name, table.more), table.columns);
    }
    out
}

/// A table of the keys of a form, then those of the lists and groups in it.
fn form(out: &mut String, title: &str, form_: &'static Form, done: &mut BTreeSet<*const Form>) {
    if !done.insert(std::ptr::from_ref(form_)) {
        return;
    }
    keys(out, title, form_.keys);
    for key in form_.keys {
        let Some(inner) = key.holds.inner() else { continue };
        let title = match key.holds {
            Holds::Items(_) => format!("An item of `{}`", key.name),
            Holds::Entries(..) => format!("The keys of an entry of `{}`", key.name),
            _ => format!("The keys of `{}`", key.name),
        };
        form(out, &title, inner, done);
    }
}

fn keys(out: &mut String, title: &str, keys: &[Key]) {
    out.push_str(&format!(
        "### {title}\n\n| key | meaning | form | example | where it is not written |\n|---|---|---|---|---|\n"
    ));
    for key in keys {
        let example = key.example();
        let example = if example.is_empty() { String::new() } else { format!("`{}`", cell(example)) };
        let form = cell(&key.holds.form());
        out.push_str(&format!("| `{}` | {} | {form} | {example} | {} |\n", key.name, cell(key.doc), cell(key.usual)));
    }
    out.push('\n');
}

/// A `|` would end the cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}
