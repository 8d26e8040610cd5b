//! A line of stock without the sizes that its shape needs: a tube without its diameter or wall, a sheet without its
//! thickness, a cable without its diameter, or a line with sizes and without a shape.
//!
//! It matters because templates, drawings of cuts, lengths of rivets and bolts and weights all come from these sizes:
//! without them they are left out, and nothing is checked.
//!
//! Only lines that a part is made of are looked at.
//!
//! Wrong: `T-1,4130 steel,round tube,1.000,,144`. Right: with its wall, `T-1,4130 steel,round tube,1.000,.058,144`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Stock, StockShape};

pub const RULE: Rule = Rule {
    id: "stock-incomplete",
    level: Level::Error,
    summary: "a line of stock without the sizes that its shape needs",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("stock_incomplete.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (id, stock) in &ctx.manual.stock {
        let used = ctx.manual.parts.values().any(|p| p.stock.as_ref().is_some_and(|s| s.value == *id));
        let missing = missing(stock);
        // Sizes that could not be read are reported where they stand.
        let mut of_it = ctx.manual.parts.values().filter(|p| p.stock.as_ref().is_some_and(|s| s.value == *id));
        let unread = of_it.any(|p| ctx.excuses.sizes.contains(&p.number.value));
        if !used || missing.is_empty() || unread {
            continue;
        }
        let what = missing.join(" and ");
        sink.push(
            RULE.found(format!("the line of stock {id} does not give its {what}"))
                .at(stock.id.span, format!("{what} missing"))
                .help(format!("fill in {what} in this row"))
                .about(id),
        );
    }
    sink
}

/// The columns that have to say what a shape is not known without.
pub fn missing(stock: &Stock) -> Vec<&'static str> {
    let (across, thick) = match stock.shape {
        StockShape::RoundTube | StockShape::SquareTube | StockShape::Angle => (true, true),
        StockShape::Bar | StockShape::Cable => (true, false),
        StockShape::Sheet => (false, true),
        StockShape::Fabric => (false, false),
        StockShape::Other => {
            let sized = stock.outside_diameter.is_some() || stock.wall.is_some();
            return if sized { vec!["shape"] } else { Vec::new() };
        }
    };
    let needed =
        [("outside diameter", across && stock.outside_diameter.is_none()), ("wall", thick && stock.wall.is_none())];
    needed.into_iter().filter(|(_, lacks)| *lacks).map(|(what, _)| what).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_shape_has_its_sizes() {
        let with = |row: &str| sound().edit("stock.csv", "T-1,4130,round tube,1,.058,144", row).findings();
        assert_eq!(with("T-1,4130,round tube,1,,144"), ["stock-incomplete stock.csv `T-1`"]);
        assert_eq!(with("T-1,4130,round tube,,.058,144"), ["stock-incomplete stock.csv `T-1`"]);
        assert_eq!(with("T-1,4130,,1,.058,144"), ["stock-incomplete stock.csv `T-1`"]);
        assert_eq!(
            sound().edit("stock.csv", "S-1,6061-T6,sheet,,1/2,48", "S-1,6061-T6,sheet,,,48").findings(),
            ["stock-incomplete stock.csv `S-1`"]
        );
        assert_eq!(sound().add("stock.csv", "T-9,4130,round tube,,,\n").findings(), [""; 0]);
    }
}
