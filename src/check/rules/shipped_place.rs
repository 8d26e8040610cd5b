//! A row of shipped.csv about a step or a joint that the kit has not, or that has none of the item.
//!
//! It matters because the step where the other bolt goes in would show the usual one, and another would be judged in its place.
//!
//! Places are those of the kit: its configuration, in the release that it was shipped with. A joint is written with its
//! step, `STEP/JOINT`; the step for the other hand has an id of its own, `STEP:right`.
//!
//! Wrong: `lug-bolt`. Right: `join-keel/lug-bolt`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink, did_you_mean_or};
use crate::resolve::{Resolved, ShippedFault, ShippedFaultKind};

pub const RULE: Rule = Rule {
    id: "shipped-place",
    level: Level::Error,
    summary: "a row of shipped.csv about a place that the kit has not, or that has none of the item",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("shipped_place.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    r.shipped.faults.iter().filter_map(found).collect()
}

/// The finding of a fault, where it is one of these.
pub fn found(fault: &ShippedFault) -> Option<Diagnostic> {
    let kit = fault.serial;
    let d = match &fault.kind {
        ShippedFaultKind::NoSuchPlace { place, near } => {
            let help = "write a step of this kit, or `STEP/JOINT` for one of its joints; `kitwright why` shows a step as the kit has it";
            RULE.found(format!("there is no `{place}` in kit {kit}"))
                .at(fault.span, "no such place in its configuration at its release")
                .help(near.as_ref().map_or_else(|| help.to_owned(), |near| did_you_mean_or(near, help)))
        }
        ShippedFaultKind::NotAtPlace { item, place } => RULE
            .found(format!("`{place}` of kit {kit} has no {item}"))
            .at(fault.span, "the item is not there")
            .help(format!("name the places that take {item}; `kitwright where {item}` lists them")),
        _ => return None,
    };
    Some(d.about(kit))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn places_are_those_of_the_kit() {
        let with = |place: &str| {
            let row = format!(
                "serial,item,what,with,where,approved\n7,AN4-10A,substituted,AN4H10A,{place},D-31 2026-03-02\n"
            );
            sound()
                .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4H10A,Bolt,bolt,each\n")
                .add("kits.csv", "serial,configuration\n7,BASE\n")
                .add("shipped.csv", &row)
                .shipped()
        };
        assert_eq!(with("left-brackett"), ["shipped-place shipped.csv `left-brackett`"]);
        assert_eq!(with("left-bracket/bolt"), ["shipped-place shipped.csv `bolt`"]);
        assert_eq!(with("keel"), ["shipped-place shipped.csv `keel`"]);
        assert_eq!(with("left-bracket"), [""; 0]);
    }
}
