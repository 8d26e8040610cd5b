//! The reference of keys and columns, made from the tables that reading uses.

use super::lower::{
    HARDWARE_COLUMNS, HOLE_COLUMNS, KIT_COLUMNS, Key, MANUAL_KEYS, PART_COLUMNS, SHIPPED_COLUMNS, STEP_ITEM_KEYS,
    STEP_KEYS, STOCK_COLUMNS,
};

/// The reference as Markdown: every key of `manual.yaml` and of a step, every column of the tables.
pub fn reference() -> String {
    let mut out = String::new();
    table(&mut out, "manual.yaml", MANUAL_KEYS);
    table(&mut out, "A step's front matter", STEP_KEYS);
    out.push_str("#### Items of a step's lists\n\n| list | keys of an item |\n|---|---|\n");
    for (list, keys) in STEP_ITEM_KEYS {
        let keys: Vec<_> = keys.iter().map(|k| format!("`{}` ({})", k.name, k.doc)).collect();
        out.push_str(&format!("| `{list}` | {} |\n", keys.join("; ")));
    }
    out.push('\n');
    table(&mut out, "parts.csv, and one column for each variant and option", PART_COLUMNS);
    table(&mut out, "hardware.csv", HARDWARE_COLUMNS);
    table(&mut out, "stock.csv", STOCK_COLUMNS);
    table(&mut out, "holes.csv, where parts come with holes or holes have a place", HOLE_COLUMNS);
    table(&mut out, "kits.csv", KIT_COLUMNS);
    table(&mut out, "shipped.csv", SHIPPED_COLUMNS);
    out
}

fn table(out: &mut String, title: &str, keys: &[Key]) {
    out.push_str(&format!("#### {title}\n\n| key | meaning |\n|---|---|\n"));
    for key in keys {
        out.push_str(&format!("| `{}` | {} |\n", key.name, key.doc));
    }
    out.push('\n');
}
