//! The reference of keys and columns, made from the schema.

use std::collections::BTreeSet;

use super::schema::{Form, Holds, Key, MANUAL, PAGE, STEP, TABLES};

/// The reference as Markdown: every key of `manual.yaml`, of a step and of a page, every column of the tables, each with
/// its form, an example and what counts where it is not written.
pub fn reference() -> String {
    reference_sections().into_iter().map(|(_, text)| text).collect()
}

/// The same in pieces, each with the names by which it can be asked for: of a file, a list or a group.
pub fn reference_sections() -> Vec<(Vec<String>, String)> {
    let mut out = Vec::new();
    let mut done = BTreeSet::new();
    form(&mut out, &["manual.yaml"], "manual.yaml", &MANUAL, &mut done);
    form(&mut out, &["step"], "The front matter of a step", &STEP, &mut done);
    form(&mut out, &["page"], "The front matter of a page", &PAGE, &mut done);
    for table in TABLES {
        let (file, name) = (format!("{}.csv", table.name), table.name.to_owned());
        let text = keys(&format!("{file}{}", table.more), table.columns);
        // `parts` alone is the list of a step as well: both are shown.
        out.push((vec![file, name], text));
    }
    out
}

/// A table of the keys of a form, then those of the lists and groups in it.
fn form(
    out: &mut Vec<(Vec<String>, String)>,
    names: &[&str],
    title: &str,
    form_: &'static Form,
    done: &mut BTreeSet<*const Form>,
) {
    if !done.insert(std::ptr::from_ref(form_)) {
        return;
    }
    out.push((names.iter().map(|n| (*n).to_owned()).collect(), keys(title, form_.keys)));
    for key in form_.keys {
        let Some(inner) = key.holds.inner() else { continue };
        let title = match key.holds {
            Holds::Items(_) => format!("An item of `{}`", key.name),
            Holds::Entries(..) => format!("The keys of an entry of `{}`", key.name),
            _ => format!("The keys of `{}`", key.name),
        };
        form(out, &[key.name], &title, inner, done);
    }
}

fn keys(title: &str, keys: &[Key]) -> String {
    let head = "| key | meaning | form | example | where it is not written |\n|---|---|---|---|---|\n";
    let mut out = format!("### {title}\n\n{head}");
    for key in keys {
        let example = key.example();
        let example = if example.is_empty() { String::new() } else { format!("`{}`", cell(example)) };
        let form = cell(&key.holds.form());
        out.push_str(&format!("| `{}` | {} | {form} | {example} | {} |\n", key.name, cell(key.doc), cell(key.usual)));
    }
    out.push('\n');
    out
}

/// A `|` would end the cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}
