//! Numbers of shipped.csv that can't be: more replaced or on back order than the kit holds, places that take another
//! number, some replaced without saying where, more sent later than was owed, washers that don't go round.
//!
//! It matters because the packer counts by these numbers, and what is one short is missed in the middle of the work.
//!
//! Of an item that is needed seven times with three on back order, four lie in the kit. A substitution with a number and no
//! place stands for all of them; where it is for some, `where` says which joints or steps take these, and they must take
//! just as many.
//!
//! Wrong: `2` replaced at a joint with three places. Right: `3`, or two joints with ids of their own.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::resolve::{Resolved, ShippedFault, ShippedFaultKind};

pub const RULE: Rule = Rule {
    id: "shipped-count",
    level: Level::Error,
    summary: "numbers of shipped.csv that are not those of the kit",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("shipped_count.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    r.shipped.faults.iter().filter_map(found).collect()
}

/// The finding of a fault, where it is one of these.
pub fn found(fault: &ShippedFault) -> Option<Diagnostic> {
    let kit = fault.serial;
    let d = match &fault.kind {
        ShippedFaultKind::TooMany { item, asked, there } => RULE
            .found(format!("{asked} of {item} are more than kit {kit} holds"))
            .at(fault.span, format!("the kit holds {there}"))
            .help("correct the number; `kitwright where` lists the steps that take it"),
        ShippedFaultKind::DoesNotAddUp { item, asked, there } => RULE
            .found(format!("{asked} of {item} do not go into the places named for kit {kit}"))
            .at(fault.span, format!("these places take {there}"))
            .help(
                "correct the number or the places; a joint of which only some places differ is written as two joints",
            ),
        ShippedFaultKind::NotSaidWhere { item, asked, there } => RULE
            .found(format!("{asked} of {item} of kit {kit} are replaced, and it is not said where"))
            .at(fault.span, format!("the kit holds {there}"))
            .help("name the joints as `STEP/JOINT` in the column `where`"),
        ShippedFaultKind::NotForJoint { item, why } => RULE
            .found(format!("{item} can't be added in kit {kit}: {why}"))
            .at(fault.span, "sent in addition to a joint")
            .help("leave `where` empty for what is only sent along"),
        ShippedFaultKind::SentTwice { item, sent, owed } => RULE
            .found(format!("{sent} of {item} were sent later to kit {kit}, and {owed} were on back order"))
            .at(fault.span, "more than was owed")
            .help("delete the row that is there twice, or write `sent in addition`"),
        _ => return None,
    };
    Some(d.about(kit))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// The kit of serial 7 has six AN4-10A: two at each bracket, and two that hold the plates for a while.
    fn with(rows: &str) -> Vec<String> {
        sound()
            .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4H10A,Bolt,bolt,each\n")
            .add("kits.csv", "serial,configuration\n7,BASE\n")
            .add("shipped.csv", &format!("serial,item,what,with,quantity,where,approved\n{rows}"))
            .shipped()
    }

    #[test]
    fn numbers_add_up() {
        let substituted =
            |n: &str, place: &str| with(&format!("7,AN4-10A,substituted,AN4H10A,{n},{place},D-31 2026-03-02\n"));
        assert_eq!(substituted("6", ""), [""; 0]);
        assert_eq!(substituted("2", "left-bracket"), [""; 0]);
        assert_eq!(substituted("9", ""), ["shipped-count shipped.csv `9`"]);
        assert_eq!(substituted("2", ""), ["shipped-count shipped.csv `2`"]);
        assert_eq!(substituted("1", "left-bracket"), ["shipped-count shipped.csv `1`"]);
    }

    #[test]
    fn no_more_is_owed_than_is_needed_nor_sent_than_is_owed() {
        assert_eq!(with("7,AN4-10A,back order,,3,,\n"), [""; 0]);
        assert_eq!(with("7,AN4-10A,back order,,7,,\n"), ["shipped-count shipped.csv `7`"]);
        assert_eq!(with("7,AN4-10A,back order,,4,,\n7,AN4-10A,back order,,3,,\n"), ["shipped-count shipped.csv `3`"]);
        assert_eq!(with("7,AN4-10A,back order,,3,,\n7,AN4-10A,sent later,,3,,\n"), [""; 0]);
        assert_eq!(with("7,AN4-10A,sent later,,4,,\n7,AN4-10A,back order,,3,,\n"), ["shipped-count shipped.csv `4`"]);
        assert_eq!(with("7,AN960-416,sent in addition,,2,left-bracket,\n"), ["shipped-count shipped.csv `AN960-416`"]);
        assert_eq!(with("7,AN4-10A,sent in addition,,2,left-bracket,\n"), ["shipped-count shipped.csv `AN4-10A`"]);
    }
}
