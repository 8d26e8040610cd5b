//! Mistakes in the tables: in a cell by what its column holds, in a row, in a heading.

use std::ops::Range;

use kitwright::model::schema::{Holds, Key, Named, TABLES, TableForm, Thing, Use, column_of};
use kitwright::source::Spanned;
use kitwright::syntax::{SourceRow, SourceTable};

use super::keys::{Slot, Written};
use super::labels::Group;
use super::manuals::CleanManual;
use super::seed::{Bed, Seed};
use super::values;

pub fn seeds(manual: usize, c: &CleanManual) -> Vec<Seed> {
    let mut all = Vec::new();
    for form in TABLES {
        let Some(table) = c.manual().tables.get(form.name) else { continue };
        let mut bed = Bed::new(manual, c, table.file);
        headings(&mut bed, form, table);
        for (i, row) in table.rows.iter().enumerate() {
            of_row(&mut bed, form, row, table.rows.get(i + 1));
            for (column, (heading, cell)) in table.columns.iter().zip(&row.cells).enumerate() {
                let next = table.rows.get(i + 1).and_then(|r| r.cells.get(column));
                of_cell(&mut bed, form, row, heading, (cell, next));
            }
        }
        all.append(&mut bed.seeds);
    }
    all
}

fn headings(bed: &mut Bed, form: &TableForm, table: &SourceTable) {
    for (i, heading) in table.columns.iter().enumerate() {
        let at = heading.span.range();
        if let Some(new) = values::mistyped(&heading.value) {
            bed.put(Group::Tables, format!("{}.csv: a heading mistyped", form.name), at.clone(), at.clone(), new);
        }
        if let Some(next) = table.columns.get(i + 1) {
            let text = bed.text;
            let (a, b) = (at, next.span.range());
            let swapped = format!("{}{}{}", &text[b.clone()], &text[a.end..b.start], &text[a.clone()]);
            let both = a.start..b.end;
            bed.put(Group::Tables, format!("{}.csv: two headings swapped", form.name), both.clone(), both, swapped);
        }
    }
}

fn of_row(bed: &mut Bed, form: &TableForm, row: &SourceRow, next: Option<&SourceRow>) {
    let range = row.span.range();
    let with_end = range.start..(range.end + 1).min(bed.text.len());
    let line = bed.text[with_end.clone()].to_owned();
    bed.put(Group::Tables, format!("{}.csv: a row left out", form.name), range.clone(), with_end.clone(), "");
    bed.put(Group::Tables, format!("{}.csv: a row twice", form.name), range.clone(), with_end, line.repeat(2));
    if let Some(next) = next {
        let text = bed.text;
        let b = next.span.range();
        let swapped = format!("{}{}{}", &text[b.clone()], &text[range.end..b.start], &text[range.clone()]);
        let both = range.start..b.end;
        bed.put(Group::Tables, format!("{}.csv: two rows in the other order", form.name), both.clone(), both, swapped);
    }
}

fn of_cell(
    bed: &mut Bed,
    form: &'static TableForm,
    row: &SourceRow,
    heading: &Spanned<String>,
    (cell, next): (&Spanned<String>, Option<&Spanned<String>>),
) {
    let at = outer(bed.text, cell.span.range());
    let item = row.span.range();
    let key = column_of(form, &heading.value).map(|(key, _)| key);
    let counts = form.counts && key.is_none() && is_count_column(bed, &heading.value);
    if key.is_none() && !counts {
        return;
    }
    let name = key.map_or("quantity", |k| k.name);
    let label = format!("{}.csv {name}", form.name);
    let group = if name == "hand" || name == "opposite" { Group::Hands } else { Group::Tables };
    // A cell that slipped into the row below, and that one into this.
    if let Some(next) = next.filter(|n| n.value != cell.value && name != "number" && name != "designation") {
        let text = bed.text;
        let b = outer(text, next.span.range());
        let swapped = format!("{}{}{}", &text[b.clone()], &text[at.end..b.start], &text[at.clone()]);
        let both = at.start..b.end;
        bed.put(group, format!("{label}: a row further down"), both.clone(), both, swapped);
    }
    if cell.value.is_empty() {
        return;
    }
    if matches!(key.map(|k| k.holds), Some(Holds::Name(_, Use::Named)))
        && let Some(new) = values::mistyped(&cell.value)
    {
        bed.put(group, format!("{label}: mistyped"), item.clone(), cell.span.range(), new);
    }
    match key {
        Some(key) => {
            let quoted = at != cell.span.range();
            let written = Written::Cell { quoted };
            let slot =
                Slot { at: cell.span.range(), item: item.clone(), label: &label, group, text: &cell.value, written };
            slot.seed(bed, key.holds, &named(key, cell));
        }
        None => {
            for (less, what) in [(false, "one more"), (true, "one less")] {
                if let Some(new) = values::by_one(&cell.value, less) {
                    bed.put(group, format!("{label}: {what}"), item.clone(), at.clone(), new);
                }
            }
        }
    }
    if !form.needs.contains(&name) && !matches!(key.map(|k| k.holds), Some(Holds::Words)) {
        bed.put(group, format!("{label}: blank"), item, at, "");
    }
}

fn is_count_column(bed: &Bed, heading: &str) -> bool {
    let name = heading.trim_start_matches('+');
    [Thing::Variant, Thing::Option].iter().any(|t| bed.c.names(*t).iter().any(|n| n == name))
}

/// The name that a cell holds; that of a row names the row.
fn named<'a>(key: &Key, cell: &'a Spanned<String>) -> Vec<Named<'a>> {
    match key.holds {
        Holds::Name(thing, how) | Holds::NameOr(_, thing, how) if how != Use::Named => {
            vec![Named { thing, name: &cell.value, span: cell.span, how, count: None }]
        }
        _ => Vec::new(),
    }
}

/// A cell with the quotes around it.
fn outer(text: &str, cell: Range<usize>) -> Range<usize> {
    let quoted = text[..cell.start].ends_with('"') && text[cell.end..].starts_with('"');
    if quoted { cell.start - 1..cell.end + 1 } else { cell }
}
