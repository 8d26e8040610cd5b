//! A chain of `replaced by` that comes back to where it began.
//!
//! It matters because no list can say then what is to be sent: each part stands in the place of the other.
//!
//! Wrong: SK-112 is replaced by SK-114, and SK-114 by SK-112. Right: the one that is still made has no `replaced by`.
//!
//! It can't be accepted.

use std::collections::BTreeSet;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "replaced-in-circle",
    level: Level::Error,
    summary: "parts or hardware that are replaced by one another in a circle",
    source: "logic",
    bending: Leave::Refused,
    file: include_str!("replaced_in_circle.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let parts = ctx.manual.parts.iter().filter_map(|(n, p)| Some((n.as_str(), p.replaced_by.as_ref()?)));
    let hardware = ctx.manual.hardware.iter().filter_map(|(d, h)| Some((d.as_str(), h.replaced_by.as_ref()?)));
    let mut sink = circles(parts.map(|(n, to)| (n, to.as_str(), to.span)).collect());
    sink.extend(circles(hardware.map(|(n, to)| (n, to.as_str(), to.span)).collect()));
    sink
}

/// One finding a circle, at its first row.
fn circles(links: Vec<(&str, &str, Span)>) -> Sink {
    let mut sink = Sink::new();
    let mut told: BTreeSet<&str> = BTreeSet::new();
    for (start, _, span) in &links {
        let (mut path, mut at) = (vec![*start], *start);
        while let Some((_, to, _)) = links.iter().find(|(from, ..)| *from == at) {
            if to == start {
                break;
            }
            // A circle further on is told at its own first row.
            if path.contains(to) {
                path.clear();
                break;
            }
            path.push(to);
            at = to;
        }
        let closes = links.iter().any(|(from, to, _)| *from == at && to == start);
        if path.is_empty() || !closes || told.contains(start) {
            continue;
        }
        told.extend(&path);
        let d = RULE
            .found(format!("{} are replaced by one another", path.join(", ")))
            .at(*span, "leads back to this row")
            .help("take `replaced by` out of the row of the one that is still supplied");
        sink.push(path.iter().fold(d, |d, name| d.about(name)));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_chain_has_an_end() {
        let case = |rows: [&str; 3]| {
            let [a, b, c] = rows;
            sound()
                .edit_all("parts.csv", "\n", ",\n")
                .edit("parts.csv", "brake,cut from,", "brake,cut from,replaced by")
                .edit("parts.csv", "KW-105,Rail,,,T-1,20,,cut,1,,,,", &format!("KW-105,Rail,,,T-1,20,,cut,1,,,,{a}"))
                .add("parts.csv", &format!("KW-106,Rail,,,T-1,20,,cut,,,,,{b}\nKW-107,Rail,,,T-1,20,,cut,,,,,{c}\n"))
                .findings()
        };
        assert_eq!(case(["KW-106", "KW-107", ""]), [""; 0]);
        assert_eq!(case(["KW-106", "KW-107", "KW-105"]), ["replaced-in-circle parts.csv `KW-106`"]);
        assert_eq!(case(["KW-106", "KW-107", "KW-106"]), ["replaced-in-circle parts.csv `KW-107`"]);
        assert_eq!(case(["KW-106", "KW-107", "KW-107"]), ["replaced-in-circle parts.csv `KW-107`"]);
        assert_eq!(case(["KW-106", "KW-107", "KW-109"]), ["unknown-part parts.csv `KW-109`"]);
    }
}
