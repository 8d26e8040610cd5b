//! A substitution in shipped.csv of which it is not said who allowed it, and when.
//!
//! It matters because the one who packs does not decide what holds a steering arm: a bolt that was at hand gets into the
//! kit, and every document would call it right.
//!
//! It does not count until it is approved: the kit's documents show what the release says. Write who allowed it, the
//! reference and the date; for a joint that lives hang on the reference is the designer's.
//!
//! Wrong: an empty cell, or `yes`. Right: `M. Orr, D-31, 2026-03-02`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::resolve::{Resolved, ShippedFault, ShippedFaultKind};

pub const RULE: Rule = Rule {
    id: "substitution-not-approved",
    level: Level::Error,
    summary: "a substitution in a kit that nobody has allowed",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("substitution_not_approved.rs"),
    run: Run::Configuration(run),
};

fn run(_: &Context, r: &Resolved) -> Sink {
    r.shipped.faults.iter().filter_map(found).collect()
}

/// The finding of a fault, where it is one of these.
pub fn found(fault: &ShippedFault) -> Option<Diagnostic> {
    let ShippedFaultKind::NotApproved { item, with } = &fault.kind else { return None };
    Some(
        RULE.found(format!("{with} in place of {item} in kit {} is not approved", fault.serial))
            .at(fault.span, "it is not said who allowed it, under which reference, when")
            .help("write name, reference and date into the column `approved`, for example `M. Orr, D-31, 2026-03-02`; until then the substitution does not count")
            .about(fault.serial),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn someone_allows_it() {
        let with = |approved: &str| {
            let row = format!("serial,item,what,with,approved\n7,AN4-10A,substituted,AN4H10A,{approved}\n");
            sound()
                .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4H10A,Bolt,bolt,each\n")
                .add("kits.csv", "serial,configuration\n7,BASE\n")
                .add("shipped.csv", &row)
                .shipped()
        };
        for (approved, at) in [("", "AN4H10A"), ("yes", "yes"), ("M. Orr", "M. Orr"), ("2026-03-02", "2026-03-02")] {
            assert_eq!(with(approved), [format!("substitution-not-approved shipped.csv `{at}`")], "{approved}");
        }
        assert_eq!(with("\"M. Orr, D-31, 2026-03-02\""), [""; 0]);
    }
}
