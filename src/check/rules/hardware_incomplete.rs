//! Hardware of a joint of which neither the designation nor the hardware list tells what the joint is judged by: a
//! bolt's length or grip, a washer's thickness, a nut's height.
//!
//! It matters because such a joint is not checked at all, and nothing says so where the bolt is fitted.
//!
//! Wrong: a made-to-order bolt with empty cells. Right: its `thread`, `length` and `grip` in the hardware list.
//!
//! To accept: `accept: [{ rule: hardware-incomplete, about: PB-1, reason: ... }]`.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::HardwareKind;
use crate::trade::fit::lengths_known;
use crate::trade::{ItemForm, Undecoded, read};
use crate::units::Designation;
use std::collections::BTreeMap;

pub const RULE: Rule = Rule {
    id: "hardware-incomplete",
    level: Level::Warning,
    summary: "hardware of a joint without the measures it is judged by",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hardware_incomplete.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    // Only what a nut is screwed on needs all of it.
    let mut named: BTreeMap<&Designation, bool> = BTreeMap::new();
    for seen in &ctx.joints {
        let joint = seen.joint;
        let nutted = joint.nut.is_some();
        *named.entry(&joint.fastener.value).or_default() |=
            nutted || !seen.reading.form().is_some_and(|form| form.full_thread() || form.into_wood());
        if nutted {
            for item in joint.nut.iter().chain(joint.under_head.iter().chain(&joint.under_nut).map(|w| &w.0)) {
                named.insert(&item.value, true);
            }
        }
    }
    let mut sink = Sink::new();
    for (name, needed) in named {
        let Some(row) = ctx.manual.hardware.get(name).filter(|_| needed) else { continue };
        // That there is no such item is another finding.
        if matches!(read(name.as_str()), Err(Undecoded::NoSuch(_))) {
            continue;
        }
        let missing = match ctx.items.get(name) {
            Some(decoded) if matches!(decoded.form, ItemForm::CotterPin) => Vec::new(),
            Some(decoded) => decoded.missing(),
            None => {
                let (what, help) = match row.kind {
                    HardwareKind::Nut => (
                        "what sort of nut it is",
                        "write as its `kind`: plain nut, castle nut, check nut, elastic nut or all-metal nut; or give it a standard designation",
                    ),
                    _ => ("what it is", "write its `kind` into the hardware list, or give it a standard designation"),
                };
                sink.push(
                    RULE.found(format!("{name}: it is not known {what}"))
                        .at(row.designation.span, "joints with it are not checked")
                        .help(help)
                        .about(name),
                );
                continue;
            }
        };
        if !missing.is_empty() {
            let columns: Vec<String> = missing.iter().map(|c| format!("`{c}`")).collect();
            let by_table = read(name.as_str()).is_ok() && ctx.items.get(name).is_some_and(|item| !lengths_known(item));
            let headline = if by_table && missing.iter().any(|m| matches!(*m, "length" | "grip")) {
                format!(
                    "the lengths of this series are not in the table, so of {name} it is not known: {}",
                    missing.join(", ")
                )
            } else {
                format!("of {name} it is not known: {}", missing.join(", "))
            };
            sink.push(
                RULE.found(headline)
                    .at(row.designation.span, "joints with it are not checked")
                    .help(format!(
                        "fill in {} in the hardware list, or give it a standard designation",
                        columns.join(", ")
                    ))
                    .about(name),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn an_unknown_bolt_is_asked_for() {
        let mut case = sound().edit_all("hardware.csv", "AN4-10A", "PB-1");
        for path in
            ["steps/frame/20-left.md", "steps/frame/21-right.md", "steps/frame/30-plates.md", "steps/frame/40-paint.md"]
        {
            case = case.edit_all(path, "AN4-10A", "PB-1");
        }
        assert_eq!(case.findings(), ["hardware-incomplete hardware.csv `PB-1`"]);
    }

    /// Of AN7 and above the lengths are not in the published tables that were read.
    #[test]
    fn a_series_without_lengths_is_told() {
        let found = sound()
            .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN7-10A,Bolt,bolt,each\n")
            .edit("steps/frame/20-left.md", "fastener: AN4-10A", "fastener: AN7-10A")
            .check()
            .0;
        assert!(
            found.iter().any(|d| d.rule == "hardware-incomplete" && d.headline.contains("not in the table")),
            "{found:?}"
        );
        assert!(!found.iter().any(|d| d.rule == "bolt-does-not-fit"), "{found:?}");
    }

    /// A maker's own nut is judged by its kind; as a mere nut it is asked for, and is not taken for a missing one.
    #[test]
    fn a_nut_of_the_makers_own_has_a_kind() {
        let step = "steps/frame/20-left.md";
        let with = |kind: &str| {
            let row = format!("AN365-428A,Nut,nut,each\nNUT-1,Nut,{kind},each\n");
            sound().edit("hardware.csv", "AN365-428A,Nut,nut,each\n", &row).edit(step, "nut: AN365-428A", "nut: NUT-1")
        };
        let rules = |kind: &str| with(kind).findings();
        // The torque rests on the nut too, and is asked for.
        assert_eq!(
            rules("nut"),
            ["hardware-incomplete hardware.csv `NUT-1`", "torque-required steps/frame/20-left.md `AN4-10A`"]
        );
        assert!(rules("plain nut").iter().any(|f| f.starts_with("nut-does-not-suit")), "{:?}", rules("plain nut"));
        assert!(!rules("elastic nut").iter().any(|f| f.starts_with("nut-does-not-suit")), "{:?}", rules("elastic nut"));
    }
}
