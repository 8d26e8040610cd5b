//! Tables by column name: the columns that a table may have, and cells read as values.

use crate::diag::{Diagnostic, Level, Sink, nearest};
use crate::source::Spanned;
use crate::syntax::{Row, Table};
use crate::units::Unreadable;

use super::fields::{Key, value};

/// A table whose columns are known by name, whatever their case and order.
pub(super) struct Columns<'a> {
    table: &'a Table,
    /// Lower case, single spaces.
    names: Vec<String>,
}

impl<'a> Columns<'a> {
    /// `keys` are the columns that mean something, `extra` those named by the manual (variants, options).
    ///
    /// A heading one slip away from a column that the table lacks is an error, and is read as that column, so that
    /// nothing else follows from it. Other headings are named once, as a hint, and kept; a missing column of `required` is an error.
    pub fn new(table: &'a Table, keys: &[Key], extra: &[String], required: &[&str], sink: &mut Sink) -> Self {
        let mut names: Vec<String> = table.columns.iter().map(|c| normal(&c.value)).collect();
        let known: Vec<String> = keys.iter().map(|k| k.name.to_owned()).chain(extra.iter().map(|e| normal(e))).collect();
        for (at, heading) in table.columns.iter().enumerate() {
            if names[at].is_empty() || known.contains(&names[at]) {
                continue;
            }
            let lacks = |k: &&String| !names.iter().any(|n| n == *k || n.strip_prefix('+') == Some(k));
            let lacking = known.iter().filter(lacks).map(String::as_str);
            let Some(near) = nearest(&names[at], lacking).map(str::to_owned) else {
                sink.push(
                    Diagnostic::new("unknown-column", Level::Hint, format!("column `{}` means nothing here", heading.value))
                        .at(heading.span, "not a known column")
                        .help("the column is kept and not used; see README.md for the columns that mean something")
                        .about(&heading.value),
                );
                continue;
            };
            let shown = extra.iter().find(|e| normal(e) == near).unwrap_or(&near);
            sink.push(
                Diagnostic::error("misspelt-column", format!("there is no column `{shown}`, and `{}` is close to it", heading.value))
                    .at(heading.span, "not a known column")
                    .help(format!("write `{shown}`, if that is what was meant; else give the column a heading less like it"))
                    .about(&heading.value),
            );
            names[at] = near;
        }
        for wanted in required {
            if !names.iter().any(|n| n == wanted) {
                let near = nearest(wanted, names.iter().map(String::as_str));
                let mut d = Diagnostic::error("missing-column", format!("the table has no column `{wanted}`"))
                    .help(match near {
                        Some(near) => format!("rename the column `{near}` to `{wanted}`, if that is what it is"),
                        None => format!("add a column headed `{wanted}`"),
                    });
                if let Some(first) = table.columns.first() {
                    d = d.at(first.span, "the headings");
                }
                sink.push(d);
            }
        }
        Self { table, names }
    }

    pub fn rows(&self) -> impl Iterator<Item = &'a Row> + use<'a> {
        self.table.rows.iter()
    }

    /// The cell of a row, where the column is there.
    pub fn cell(&self, row: &'a Row, name: &str) -> Option<&'a Spanned<String>> {
        let at = self.names.iter().position(|n| n == name)?;
        row.cells.get(at)
    }

    /// The cell of a row where something stands in it.
    pub fn filled(&self, row: &'a Row, name: &str) -> Option<&'a Spanned<String>> {
        self.cell(row, name).filter(|c| !c.value.is_empty())
    }

    pub fn text(&self, row: &'a Row, name: &str) -> String {
        self.cell(row, name).map_or_else(String::new, |c| c.value.clone())
    }

    pub fn value<T>(
        &self,
        row: &'a Row,
        name: &str,
        form: &str,
        read: impl Fn(&str) -> Result<T, Unreadable>,
        sink: &mut Sink,
    ) -> Option<Spanned<T>> {
        let cell = self.filled(row, name)?;
        value(cell, form, read, sink).map(|v| Spanned::new(v, cell.span))
    }

    /// The cell of a column by the name of a variant or option, which may be written with a leading `+`.
    pub fn named(&self, row: &'a Row, name: &str) -> Option<&'a Spanned<String>> {
        let name = normal(name);
        let at = self.names.iter().position(|n| *n == name || n.strip_prefix('+') == Some(&name))?;
        row.cells.get(at).filter(|c| !c.value.is_empty())
    }
}

/// The form in which headings are compared.
pub(super) fn normal(heading: &str) -> String {
    heading.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
