//! A bag that lies in two crates.
//!
//! It matters because the bag in the hand says only its own name: the builder who has one of the two looks in it for
//! what lies in the other, or takes the wrong bag of that name to the bench.
//!
//! Bags of one manual have names of their own, whatever crate they are in. All such bags are one finding.
//!
//! Wrong: `P3` with crate 2 in one row and crate 3 in another. Right: `P3` in crate 2, `P8` in crate 3.
//!
//! To accept: `accept: [{ rule: bag-in-two-crates, about: P3, reason: Each bag says its crate as well }]` in manual.yaml.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Span;
use crate::units::natural_cmp;

pub const RULE: Rule = Rule {
    id: "bag-in-two-crates",
    level: Level::Warning,
    summary: "one bag name in two crates",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("bag_in_two_crates.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let parts = ctx.manual.parts.values().map(|p| (&p.bag, &p.crate_, p.number.span));
    let hardware = ctx.manual.hardware.values().map(|h| (&h.bag, &h.crate_, h.designation.span));
    let mut bags: BTreeMap<&str, BTreeMap<&str, Span>> = BTreeMap::new();
    for (bag, crate_, span) in parts.chain(hardware).filter(|(bag, crate_, _)| !bag.is_empty() && !crate_.is_empty()) {
        bags.entry(bag).or_default().entry(crate_).or_insert(span);
    }
    let mut twice: Vec<_> = bags.into_iter().filter(|(_, crates)| crates.len() > 1).collect();
    twice.sort_by(|a, b| natural_cmp(a.0, b.0));
    let mut sink = Sink::new();
    let Some(((bag, crates), more)) = twice.split_first() else { return sink };
    let words = |crates: &BTreeMap<&str, Span>| crates.keys().copied().collect::<Vec<_>>().join(" and ");
    let others = match more.len() {
        0 => String::new(),
        1 => ", and so is one bag more".to_owned(),
        n => format!(", and so are {n} bags more"),
    };
    let Some(span) = crates.values().last() else { return sink };
    let d = RULE
        .found(format!("bag {bag} is in crates {}{others}", words(crates)))
        .at(*span, "the first row with another crate")
        .help("give the bag of one of the crates another name, in all its rows")
        .about(bag);
    sink.push(more.iter().take(MOST_NOTES).fold(d, |d, (bag, crates)| {
        let span = crates.values().last().copied();
        span.into_iter().fold(d, |d, span| d.note(span, format!("bag {bag} is in crates {}", words(crates))))
    }));
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_bag_lies_in_one_crate() {
        let with = |bolt: &str, nut: &str| {
            let case = sound().edit("hardware.csv", "kind,unit\n", "kind,unit,bag,crate\n").edit_all(
                "hardware.csv",
                "each\n",
                "each,P1,1\n",
            );
            let case =
                case.edit("hardware.csv", "AN4-10A,Bolt,bolt,each,P1,1", &format!("AN4-10A,Bolt,bolt,each,{bolt}"));
            case.edit("hardware.csv", "rivet,lb\n", &format!("rivet,lb,{nut}\n")).findings()
        };
        assert_eq!(with("P2,2", "P2,2"), [""; 0]);
        assert_eq!(with("P1,2", "P2,2"), ["bag-in-two-crates hardware.csv `AN4-10A`"]);
        // One finding, at the row that is out of line last.
        assert_eq!(with("P1,2", "P1,3"), ["bag-in-two-crates hardware.csv `MS20470AD4-5`"]);
    }
}
