//! A designation of a known series with a number that does not exist: the dash of an AN bolt counts eighths of an inch
//! as tens and units, so there is no dash 8 or 9.
//!
//! It matters because nobody can buy it, and what is bought in its place is a guess.
//!
//! Where only memory says that there is none, it is a warning.
//!
//! Wrong: `AN4-8A`. Right: `AN4-7A` or `AN4-10A`.
//!
//! To accept: `accept: [{ rule: no-such-designation, about: AN4-8A, reason: ... }]`.

use crate::check::fastened::no_stronger_than;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::{Normalised, Undecoded, normalise, read};

pub const RULE: Rule = Rule {
    id: "no-such-designation",
    level: Level::Error,
    summary: "a designation of a known series that does not exist",
    source: "the standards' own tables",
    bending: Leave::Allowed,
    file: include_str!("no_such_designation.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for row in ctx.manual.hardware.values() {
        let name = row.designation.as_str();
        let meant = match normalise(name) {
            Normalised::Corrected { to, .. } => to,
            _ => name.to_owned(),
        };
        let Err(Undecoded::NoSuch(no_such)) = read(&meant) else { continue };
        let help = if no_such.neighbours.is_empty() {
            "look the item up in its standard and correct the designation here and in the steps".to_owned()
        } else {
            format!("write {}, here and in the steps", no_such.neighbours.join(" or "))
        };
        let d = RULE
            .found(format!("there is no {meant}: {}", no_such.reason))
            .at(row.designation.span, "does not exist")
            .help(help)
            .about(name);
        sink.push(no_stronger_than(d, no_such.source));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;
    use crate::diag::Level;

    /// The published AN bolt tables have no dash 8 or 9.
    #[test]
    fn neighbours_are_named() {
        let found = sound()
            .edit("hardware.csv", "AN380-2-2", "AN4-8A,Bolt,bolt,each\nAN380-2-2")
            .edit("steps/frame/40-paint.md", "hardware:\n", "hardware:\n  - AN4-8A\n")
            .only();
        assert_eq!((found.rule, found.level), ("no-such-designation", Level::Error));
        assert!(found.help.contains("AN4-7A or AN4-10A"), "{found:?}");
    }
}
