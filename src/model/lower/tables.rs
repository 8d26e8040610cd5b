//! Tables by column name: the columns that a table may have, and cells read as values.

use crate::diag::{Diagnostic, Level, Sink, did_you_mean, did_you_mean_or, nearest};
use crate::source::Spanned;
use crate::syntax::{SourceRow, SourceTable};
use crate::units::{UnreadableNumber, with_unit};

use super::fields::value;
use crate::model::schema::{TableForm, column_of};

/// A table whose columns are known by name, whatever their case and order.
pub(super) struct Columns<'a> {
    table: &'a SourceTable,
    /// Lower case, single spaces, without a unit.
    names: Vec<String>,
    /// The unit that a heading gives for the bare numbers below it: `cut length (mm)`.
    units: Vec<Option<&'static str>>,
}

impl<'a> Columns<'a> {
    /// `form` has the columns that mean something, `extra` those named by the manual (variants, options).
    ///
    /// A heading one slip away from a column that the table lacks is an error, and is read as that column, so that
    /// nothing else follows from it. Other headings are named once, as a hint, and kept; a missing column that must be there is an error.
    pub fn new(table: &'a SourceTable, form: &'static TableForm, extra: &[String], sink: &mut Sink) -> Self {
        let (keys, required) = (form.columns, form.needs);
        let mut names: Vec<String> = table.columns.iter().map(|c| normal(&c.value)).collect();
        let known: Vec<String> =
            keys.iter().map(|k| k.name.to_owned()).chain(extra.iter().map(|e| normal(e))).collect();
        let mut units = vec![None; names.len()];
        for (name, unit) in names.iter_mut().zip(&mut units) {
            if let Some((key, found)) = column_of(form, name).filter(|_| !known.contains(name)) {
                *unit = found;
                *name = key.name.to_owned();
            }
        }
        for (at, heading) in table.columns.iter().enumerate() {
            if names[at].is_empty() || known.contains(&names[at]) {
                continue;
            }
            let lacks = |k: &&String| !names.iter().any(|n| n == *k || n.strip_prefix('+') == Some(k));
            let lacking = known.iter().filter(lacks).map(String::as_str);
            let Some(near) = nearest(&names[at], lacking).map(str::to_owned) else {
                let absent: Vec<&str> =
                    extra.iter().filter(|e| !e.starts_with('+') && lacks(&&normal(e))).map(String::as_str).collect();
                sink.push(unknown_column(table, at, &absent));
                continue;
            };
            let shown = extra.iter().find(|e| normal(e) == near).unwrap_or(&near);
            sink.push(
                Diagnostic::error(
                    "misspelt-column",
                    format!("there is no column `{shown}`, and `{}` is close to it", heading.value),
                )
                .at(heading.span, "not a known column")
                .help(did_you_mean_or(shown, "give the column a heading less like it"))
                .about(&heading.value),
            );
            names[at] = near;
        }
        for wanted in required {
            if !names.iter().any(|n| n == wanted) {
                let near = nearest(wanted, names.iter().map(String::as_str));
                let mut d = Diagnostic::error("missing-column", format!("the table has no column `{wanted}`")).help(
                    match near {
                        Some(near) => format!("{} The heading is now `{near}`", did_you_mean(wanted)),
                        None => format!("add a column headed `{wanted}`"),
                    },
                );
                if let Some(first) = table.columns.first() {
                    d = d.at(first.span, "the headings");
                }
                sink.push(d);
            }
        }
        Self { table, names, units }
    }

    pub fn rows(&self) -> impl Iterator<Item = &'a SourceRow> + use<'a> {
        self.table.rows.iter()
    }

    /// The cell of a row, where the column is there.
    pub fn cell(&self, row: &'a SourceRow, name: &str) -> Option<&'a Spanned<String>> {
        let at = self.names.iter().position(|n| n == name)?;
        row.cells.get(at)
    }

    /// The cell of a row where something stands in it.
    pub fn filled(&self, row: &'a SourceRow, name: &str) -> Option<&'a Spanned<String>> {
        self.cell(row, name).filter(|c| !c.value.is_empty())
    }

    pub fn text(&self, row: &'a SourceRow, name: &str) -> String {
        self.cell(row, name).map_or_else(String::new, |c| c.value.clone())
    }

    pub fn value<T>(
        &self,
        row: &'a SourceRow,
        name: &str,
        form: &str,
        read: impl Fn(&str) -> Result<T, UnreadableNumber>,
        sink: &mut Sink,
    ) -> Option<Spanned<T>> {
        let cell = self.filled(row, name)?;
        let unit = self.names.iter().position(|n| n == name).and_then(|at| self.units[at]);
        if let Some(unit) =
            unit.filter(|u| *u != "in" && cell.value.contains('/') && !cell.value.contains(char::is_alphabetic))
        {
            sink.push(
                Diagnostic::error("two-readings", format!("`{}` is a fraction under a heading in {unit}", cell.value))
                    .at(cell.span, "fractions are inches as a rule")
                    .help(format!("write `{} in`, or a decimal number of {unit}", cell.value)),
            );
            return None;
        }
        let cell = &cell.clone().map(|text| match unit {
            Some(unit) => with_unit(text, unit),
            None => text,
        });
        value(cell, form, read, sink).map(|v| Spanned::new(v, cell.span))
    }

    /// The cell of a column by the name of a variant or option, which may be written with a leading `+`.
    pub fn named(&self, row: &'a SourceRow, name: &str) -> Option<&'a Spanned<String>> {
        let name = normal(name);
        let at = self.names.iter().position(|n| *n == name || n.strip_prefix('+') == Some(&name))?;
        row.cells.get(at).filter(|c| !c.value.is_empty())
    }
}

/// A column without a meaning. One of counts is more than that where a variant or an option, of those `absent`, has no column.
fn unknown_column(table: &SourceTable, at: usize, absent: &[&str]) -> Diagnostic {
    let heading = &table.columns[at];
    let mut filled = table.rows.iter().filter_map(|r| r.cells.get(at)).filter(|c| !c.value.is_empty()).peekable();
    let counts = filled.peek().is_some() && filled.all(|c| c.value.parse::<i64>().is_ok());
    let d = if counts && !absent.is_empty() {
        let names = absent.join(", ");
        Diagnostic::warning("unknown-column", format!("column `{}` holds counts, and is no variant and no option", heading.value))
            .help(format!("if it is meant for one of those without a column ({names}), write that name as the heading, spelt as in manual.yaml"))
    } else {
        Diagnostic::new("unknown-column", Level::Hint, format!("column `{}` means nothing here", heading.value))
            .help("the column is kept and not used; `kitwright keys` lists the columns that mean something")
    };
    d.at(heading.span, "not a known column").about(&heading.value)
}

/// The form in which headings are compared.
pub(super) fn normal(heading: &str) -> String {
    heading.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
