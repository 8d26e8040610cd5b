//! A part whose material is not that of the line of stock it is cut from.
//!
//! It matters because the shop cuts from the stock, and the part's place in the craft was chosen for its material: an
//! aluminium tube where the list says steel.
//!
//! Wrong: `6061-T6` in the column material and a line of stock of 4130 steel. Right: the same in both, or an empty cell in
//! the parts list.
//!
//! It can't be accepted: empty the cell of the parts list where the stock tells the material.

use indexmap::IndexMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Part, Stock};
use crate::source::Spanned;
use crate::units::StockId;

pub const RULE: Rule = Rule {
    id: "material-differs",
    level: Level::Error,
    summary: "a part of another material than its line of stock",
    source: "common practice: a material stands in one place, or says the same in both",
    bending: Leave::Refused,
    file: include_str!("material_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut of_stock: IndexMap<&StockId, Vec<(&Part, &Spanned<StockId>)>> = IndexMap::new();
    for part in ctx.manual.parts.values() {
        if let Some(stock) = &part.stock {
            of_stock.entry(&stock.value).or_default().push((part, stock));
        }
    }
    let mut sink = Sink::new();
    for (id, parts) in of_stock {
        let Some(stock) = ctx.manual.stock.get(id).filter(|s| !s.material.is_empty()) else { continue };
        let told: Vec<_> = parts.into_iter().filter(|(part, _)| !part.material.is_empty()).collect();
        let other: Vec<_> = told.iter().filter(|(part, _)| differs(part, stock)).collect();
        // Where all parts of a line agree against it, the line is the wrong one.
        if let [first, _, ..] = other.as_slice()
            && other.len() == told.len()
            && other.iter().all(|(part, _)| part.material.eq_ignore_ascii_case(&first.0.material))
        {
            let d = RULE
                .found(format!("the line of stock {id} is {}, and its parts are {}", stock.material, first.0.material))
                .at(stock.id.span, format!("{} in its column material", stock.material))
                .help("correct the material here, or give the parts another line of stock")
                .about(id);
            sink.push(
                other.iter().take(MOST_NOTES).fold(d, |d, (part, cell)| {
                    d.note(cell.span, format!("{} for {}", part.material, part.number.value))
                }),
            );
            continue;
        }
        sink.extend(other.into_iter().map(|(part, cell)| {
            RULE.found(format!(
                "{} is {}, and its line of stock is {}",
                part.number.value, part.material, stock.material
            ))
            .at(cell.span, format!("stock of {}", stock.material))
            .note(stock.id.span, "the line of stock")
            .help("correct the material or the stock of the part")
            .about(&part.number.value)
        }));
    }
    sink
}

/// Whether a part says another material than its line of stock.
pub fn differs(part: &Part, stock: &Stock) -> bool {
    let (own, listed) = (part.material.as_str(), stock.material.as_str());
    !own.is_empty() && !listed.is_empty() && !own.eq_ignore_ascii_case(listed)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    #[test]
    fn a_part_is_of_what_it_is_cut_from() {
        let with = |keel: &str, rail: &str| -> Case {
            let case = sound()
                .edit_all("parts.csv", ",,,T-1,", ",,,T-1,,")
                .edit_all("parts.csv", ",S-1,", ",S-1,,")
                .edit_all("parts.csv", ",,,S-2,", ",,,S-2,,");
            let case = case.edit("parts.csv", ",,,,,,finished,,,1,", ",,,,,,,finished,,,1,").edit(
                "parts.csv",
                "stock,cut length",
                "stock,material,cut length",
            );
            case.edit("parts.csv", "Keel tube,,,T-1,,", &format!("Keel tube,,,T-1,{keel},")).edit(
                "parts.csv",
                "Rail,,,T-1,,",
                &format!("Rail,,,T-1,{rail},"),
            )
        };
        assert_eq!(with("4130", "4130").findings(), [""; 0]);
        assert_eq!(with("4130", "6061-T6").findings(), ["material-differs parts.csv `T-1`"]);
        assert_eq!(with("6061-T6", "6061-T6").findings(), ["material-differs stock.csv `T-1`"]);
    }
}
