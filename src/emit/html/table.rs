//! Tables as values for their component.

use std::collections::BTreeMap;

use tera::Value;

use super::blocks::{PageWriter, map, markup};
use super::data::exact;
use crate::document::{CellAlign, Column, ColumnKind, CureTimes, Inline, LeafRole, Table, TableRole, TableRow};
use crate::emit::EmitError;
use crate::units::Measure;

impl PageWriter<'_> {
    /// A table: its head, and its rows in bodies, each with the subheading above them where there is one.
    pub fn table(&mut self, table: &Table) -> Result<Value, EmitError> {
        let columns: Result<Vec<Value>, EmitError> = table
            .columns
            .iter()
            .map(|column| {
                let title = self.line(&column.title)?;
                Ok(map([("title", markup(&title)), ("align", align_class(column.align))]))
            })
            .collect();
        let labels: Vec<String> = table.columns.iter().map(|column| self.plain(&column.title)).collect();

        let mut items = BTreeMap::new();
        let mut bodies: Vec<(Value, Vec<Value>)> = Vec::new();
        for row in &table.rows {
            if is_subheading(row, table.columns.len()) {
                let text = self.line_in_row(&row.cells[0].content, row.anchor.as_ref())?;
                let head = map([("text", markup(&text)), ("id", id(row))]);
                bodies.push((head, Vec::new()));
                continue;
            }
            let changed = self.bar(&row.origin).is_some();
            let cells = self.cells(row, &table.columns, &labels)?;
            let record = self.record(table, row, &mut items);
            let value = map([("id", id(row)), ("changed", changed.into()), ("cells", cells), ("record", record)]);
            match bodies.last_mut() {
                Some((_, rows)) => rows.push(value),
                None => bodies.push((Value::none(), vec![value])),
            }
        }
        let bodies: Vec<Value> =
            bodies.into_iter().map(|(head, rows)| map([("head", head), ("rows", rows.into())])).collect();

        let caption = if table.caption.is_empty() { Value::none() } else { markup(&self.line(&table.caption)?) };
        Ok(map([
            ("role", table.role.word().into()),
            ("caption", caption),
            ("labelled_by", self.group_id.as_deref().filter(|_| table.caption.is_empty()).into()),
            ("columns", columns?.into()),
            ("width", table.columns.len().into()),
            ("bodies", bodies.into()),
        ]))
    }

    /// What the builder's record may say of a row: the kind, the name of the item, and the limits of a measure.
    /// `items` counts the names, so that a second row of the same name has one of its own.
    fn record(&self, table: &Table, row: &TableRow, items: &mut BTreeMap<String, usize>) -> Value {
        let leaf = &self.site.document.leaves[self.leaf];
        let kind = match (table.role, leaf.role) {
            (TableRole::Parts | TableRole::Hardware, LeafRole::Step) => "pull",
            (TableRole::Measures, LeafRole::Step) => "measure",
            (TableRole::Bonds, LeafRole::Step) => "glued",
            (TableRole::Cured, LeafRole::Step) => "cured",
            (TableRole::Owed, _) => "arrived",
            (TableRole::Receiving, _) => "receive",
            _ => return Value::none(),
        };
        let named =
            table.columns.iter().position(|column| column.kind == ColumnKind::Name).and_then(|at| row.cells.get(at));
        let mut item = named.map_or_else(String::new, |cell| self.plain(&cell.content));
        // An assembly's first cell says only that it is one.
        if table.role == TableRole::Parts && row.cells.len() > 1 && item == "assembly" {
            item = self.plain(&row.cells[1].content);
        }
        let seen = items.entry(item.clone()).or_default();
        *seen += 1;
        if *seen > 1 {
            item.push_str(&format!(" ({seen})"));
        }
        let limits = row.origin.step.as_ref().filter(|_| kind == "measure");
        let limits = limits.and_then(|step| self.site.bench.limits.get(&(step.clone(), row.origin.item)));
        let cures = row.origin.step.as_ref().filter(|_| matches!(kind, "glued" | "cured"));
        let cures =
            cures.and_then(|step| self.site.bench.cures.get(&(step.clone(), row.origin.field, row.origin.item)));
        let bound = |of: Option<Measure>| -> Value { of.map(|m| exact(m.value)).into() };
        let unit = limits.and_then(|l| l.low.or(l.high).or(l.target)).map(|m| m.unit.word());
        map([
            ("kind", kind.into()),
            ("item", item.into()),
            ("low", bound(limits.and_then(|l| l.low))),
            ("high", bound(limits.and_then(|l| l.high))),
            ("unit", unit.into()),
            ("cures", cures.map(cure_words).into()),
            ("least", cures.and_then(|c| c.least).map(exact).into()),
        ])
    }

    /// The marks of the page's figures that are tied to a row, where the row does not show them itself.
    fn row_marks(&self, row: &TableRow) -> Vec<Value> {
        let Some(anchor) = row.anchor.as_ref().filter(|_| !row.cells.iter().any(|cell| shows_callout(&cell.content)))
        else {
            return Vec::new();
        };
        // Where several figures have marks, the number alone would not say which is meant.
        let several = self.marks.figures > 1;
        let marks = self.marks.all_of_row(anchor).iter();
        marks
            .map(|mark| {
                let short = mark.figure.rsplit(' ').next().filter(|_| several);
                map([
                    ("number", mark.number.into()),
                    ("id", Value::normal_string(&mark.id)),
                    ("figure", Value::normal_string(mark.figure)),
                    ("figure_number", short.map(Value::normal_string).into()),
                ])
            })
            .collect()
    }

    fn cells(&mut self, row: &TableRow, columns: &[Column], labels: &[String]) -> Result<Value, EmitError> {
        let mut at = 0;
        let mut marks = self.row_marks(row);
        let mut changed = self.bar(&row.origin);
        let mut cells = Vec::with_capacity(row.cells.len());
        for cell in &row.cells {
            let column = columns.get(at);
            let span = usize::from(cell.span.max(1));
            let names_row = column.is_some_and(|c| c.kind == ColumnKind::Name);
            let html = self.line_in_row(&cell.content, row.anchor.as_ref())?;
            cells.push(map([
                ("text", markup(&html)),
                ("span", if span > 1 { span.into() } else { Value::none() }),
                ("names_row", names_row.into()),
                ("changed", changed.take().map(Value::normal_string).into()),
                ("marks", if names_row { std::mem::take(&mut marks).into() } else { Value::none() }),
                ("align", column.map_or(Value::none(), |c| align_class(c.align))),
                ("label", labels.get(at).map(|label| Value::normal_string(label)).into()),
            ]));
            at += span;
        }
        Ok(cells.into())
    }
}

/// Whether a run shows the number of a callout.
fn shows_callout(inlines: &[Inline]) -> bool {
    inlines.iter().any(|inline| matches!(inline, Inline::Callout(_)) || shows_callout(inline.children()))
}

fn is_subheading(row: &TableRow, columns: usize) -> bool {
    columns > 1 && matches!(row.cells.as_slice(), [cell] if usize::from(cell.span) >= columns)
}

fn id(row: &TableRow) -> Value {
    row.anchor.as_ref().map(|anchor| Value::normal_string(anchor.as_str())).into()
}

fn align_class(align: CellAlign) -> Value {
    match align {
        CellAlign::Start => Value::none(),
        CellAlign::Center => "center".into(),
        CellAlign::End => "end".into(),
    }
}

/// `15/1:720:10080 20/1:480:7200`: degrees Celsius and minutes; a state that is not told is empty.
pub fn cure_words(cures: &CureTimes) -> String {
    let times = cures.times.iter().map(|(at, minutes)| {
        let minutes = minutes.iter().map(|m| m.map_or_else(String::new, |m| m.to_string()));
        std::iter::once(exact(*at)).chain(minutes).collect::<Vec<_>>().join(":")
    });
    times.collect::<Vec<_>>().join(" ")
}
