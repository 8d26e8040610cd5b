//! A line of stock whose id gives a size that its columns do not have.
//!
//! It matters because the shop takes the bar by its id, and everything that is worked out goes by the columns.
//!
//! Decimal sizes in the id are looked at: `T-1.250x.058-4130` is 1.250 in across and .058 in thick.
//!
//! Wrong: `S-.063-6061` with a wall of .090. Right: .063, or another id.
//!
//! To accept: `accept: [{ rule: stock-name-differs, about: S-.063-6061, reason: ... }]` in manual.yaml.

use super::stock_incomplete::missing;
use crate::check::fastened::words;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::material_family;
use crate::units::Length;

pub const RULE: Rule = Rule {
    id: "stock-name-differs",
    level: Level::Warning,
    summary: "a line of stock whose id gives another size than its columns",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("stock_name_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (id, stock) in &ctx.manual.stock {
        let columns: Vec<Length> =
            [stock.outside_diameter, stock.wall].into_iter().flatten().map(|l| l.value).collect();
        let differs = |&(_, inches, mm): &(&str, Length, Length)| !columns.contains(&inches) && !columns.contains(&mm);
        let Some((written, ..)) = sizes(id.as_str(), &stock.material)
            .into_iter()
            .find(differs)
            .filter(|_| missing(stock).is_empty() && !columns.is_empty())
        else {
            continue;
        };
        let has: Vec<_> = columns.iter().map(|l| words(ctx, *l)).collect();
        sink.push(
            RULE.found(format!(
                "the line of stock {id} says {written} by its id, and its columns say {}",
                has.join(" and ")
            ))
            .at(stock.id.span, format!("{written} is neither its outside diameter nor its wall"))
            .help("correct the columns of this row, or its id")
            .about(id),
        );
    }
    sink
}

/// The decimal numbers in an id, each as inches and as millimetres. The number of a material, such as 1.4301, or one that is
/// part of the material's name, is no size.
fn sizes<'a>(id: &'a str, material: &str) -> Vec<(&'a str, Length, Length)> {
    let of_material = |n: &str| {
        let number = n
            .split_once('.')
            .is_some_and(|(group, rest)| group.len() == 1 && rest.len() == 4 && !rest.starts_with('0'));
        number && material_family(n).is_some() || material.split_whitespace().any(|word| word == n)
    };
    let numbers = id.split(|c: char| !c.is_ascii_digit() && c != '.');
    let numbers = numbers.filter(|n| n.contains('.') && n.len() > 1 && !of_material(n));
    let read = |n| Some((n, Length::parse(n).ok()?, Length::parse(&format!("{n} mm")).ok()?));
    numbers.filter_map(read).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    #[test]
    fn the_id_and_the_columns_say_one_size() {
        let with = |id: &str| -> Case {
            sound().edit("stock.csv", "S-1,", &format!("{id},")).edit_all("parts.csv", ",S-1,", &format!(",{id},"))
        };
        assert_eq!(with("S-.500-6061").findings(), [""; 0]);
        assert_eq!(with("S-12.7-6061").findings(), [""; 0]);
        assert_eq!(with("S-6061-T6").findings(), [""; 0]);
        // 1.4301 is the number of a steel.
        assert_eq!(with("S-.500-1.4301").findings(), [""; 0]);
        assert_eq!(with("S-.063-6061").findings(), ["stock-name-differs stock.csv `S-.063-6061`"]);
    }
}
