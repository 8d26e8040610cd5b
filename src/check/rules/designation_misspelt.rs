//! A designation in the hardware list that is not written as usual: a stray space, lower case, no dash, the
//! letter O for a zero.
//!
//! It matters because the store orders and labels by what is written, and two spellings of one bolt are two bags.
//!
//! Wrong: `AN4 1OA`. Right: `AN4-10A`.
//!
//! To accept: `accept: [{ rule: designation-misspelt, about: AN4 1OA, reason: ... }]`.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::{Normalised, normalise};

pub const RULE: Rule = Rule {
    id: "designation-misspelt",
    level: Level::Warning,
    summary: "a designation of standard hardware in another spelling",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("designation_misspelt.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for row in ctx.manual.hardware.values() {
        let name = row.designation.as_str();
        let d = match normalise(name) {
            Normalised::AsWritten | Normalised::NotBuiltIn => continue,
            Normalised::Corrected { to, faults } => {
                let faults: Vec<_> = faults.iter().map(|f| f.words()).collect();
                RULE.found(format!("`{name}` is read as {to}: {}", faults.join(", ")))
                    .help(format!("write `{to}` here and in the steps"))
            }
            Normalised::Ambiguous(all) => RULE
                .found(format!("`{name}` may be {}", all.join(" or ")))
                .help("write the one that is meant, here and in the steps"),
        };
        sink.push(d.at(row.designation.span, "not the usual spelling").about(name));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_near_miss_is_understood_and_reported() {
        let case = |name: &str| {
            sound().edit("hardware.csv", "AN380-2-2", name).edit_all("steps/frame/30-plates.md", "AN380-2-2", name)
        };
        for (name, to) in [("an380-2-2", "AN380-2-2"), ("AN38O-2-2", "AN380-2-2")] {
            let found = case(name).only();
            assert!(found.rule == "designation-misspelt" && found.help.contains(to), "{found:?}");
        }
    }
}
