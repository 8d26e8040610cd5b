//! A row of shipped.csv whose kit is not in the register, or whose item is neither a part nor hardware of the lists.
//!
//! It matters because the deviation would show in no manual and be found by no notice: the builder with the other bolt
//! would never hear of it.
//!
//! Wrong: item `SK-118A` while the parts list has `SK-118`. Right: a name from parts.csv or hardware.csv.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink, did_you_mean_or, nearest};

pub const RULE: Rule = Rule {
    id: "shipped-unknown",
    level: Level::Error,
    summary: "a row of shipped.csv about a kit or an item that there is not",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("shipped_unknown.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for row in &ctx.manual.deviations {
        if !ctx.manual.kits.iter().any(|k| k.serial.value == row.serial.value) {
            sink.push(
                RULE.found(format!("kit {} is not in the kit register", row.serial.value))
                    .at(row.serial.span, "no such serial number in kits.csv")
                    .help("correct the serial number, or add the kit to kits.csv")
                    .about(row.serial.value),
            );
        }
        for item in std::iter::once(&row.item).chain(&row.with) {
            if !ctx.manual.is_listed(&item.value) {
                let parts = ctx.manual.parts.keys().map(|p| p.as_str());
                let all = parts.chain(ctx.manual.hardware.keys().map(|h| h.as_str()));
                let help = match nearest(&item.value, all) {
                    Some(near) => did_you_mean_or(near, "add it to the lists"),
                    None => "write a number of parts.csv or a designation of hardware.csv, or add it there".to_owned(),
                };
                let d = RULE.found(format!("{} is neither a part nor hardware", item.value));
                sink.push(d.at(item.span, "there is no such name").help(help).about(&item.value));
            }
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn kit_and_item_are_there() {
        let with = |row: &str| {
            sound()
                .add("kits.csv", "serial,configuration\n7,BASE\n")
                .add("shipped.csv", &format!("serial,item,what,with\n{row}\n"))
                .findings()
        };
        assert_eq!(with("7,AN4-10A,back order,"), [""; 0]);
        assert_eq!(with("8,AN4-10A,back order,"), ["shipped-unknown shipped.csv `8`"]);
        assert_eq!(with("7,KW-1004,substituted,KW-104"), ["shipped-unknown shipped.csv `KW-1004`"]);
        assert_eq!(with("7,KW-104,substituted,KW-1004"), ["shipped-unknown shipped.csv `KW-1004`"]);
    }
}
