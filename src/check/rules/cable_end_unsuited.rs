//! A sleeve or thimble that does not go with its cable: for another size, of a metal that corrodes on it, pressed another
//! number of times than the table says, or on a single strand. Or an item of another kind in the place of a thimble, a sleeve
//! or a turnbuckle.
//!
//! It matters because a sleeve that does not hold looks like one that does, until the load comes.
//!
//! What size an item is for is told by its diameter in the hardware list, by its code (AN100-C4) or by the fraction in its
//! designation or name (`CS-1/8`). Copper goes on galvanised cable, tin-plated copper on stainless; aluminium on no cable
//! that a craft hangs on. The presses are from memory, so that they only warn: the maker of the tool knows.
//!
//! Wrong: `crimps: 1` on a 1/8 in cable, a sleeve for 3/32 in. Right: the sleeve of the cable's size, pressed three times.
//!
//! To accept: `accept: [{ rule: cable-end-unsuited, about: left-shroud, reason: ... }]` in the step.

use crate::check::fastened::{no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run, written_cables};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{CableEnd, HardwareKind};
use crate::plan::CableRun;
use crate::resolve::Resolved;
use crate::source::Spanned;
use crate::trade::{CableWire, SleeveFault, cable_size, cable_wire, oval_sleeve, sleeve_faults, sleeve_metal};
use crate::units::{Designation, Length};

pub const RULE: Rule = Rule {
    id: "cable-end-unsuited",
    level: Level::Error,
    summary: "a sleeve or thimble that does not go with its cable",
    source: "FAA AC 43.13-1B, 7-148; common practice; presses from memory",
    bending: Leave::Allowed,
    file: include_str!("cable_end_unsuited.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for cable in written_cables(ctx.manual, resolved) {
        for (end, step) in cable.ends.into_iter().flatten() {
            let ours = |d: Diagnostic| d.about(cable.id).about(&step.step.id.value);
            sink.extend(found(ctx, &cable, end).into_iter().map(ours));
        }
    }
    sink
}

fn found(ctx: &Context, cable: &CableRun, end: &CableEnd) -> Vec<Diagnostic> {
    let mut all = of_another_kind(ctx, cable, end);
    if !all.is_empty() {
        return all;
    }
    let mut sized = true;
    if let Some(diameter) = cable.diameter {
        for (what, item) in [("thimble", &end.thimble), ("sleeve", &end.sleeve)] {
            let Some(item) = item else { continue };
            let Some(size) = size(ctx, item).filter(|size| *size != diameter) else { continue };
            sized = false;
            let (ours, theirs) = (words(ctx, diameter), words(ctx, size));
            all.push(
                RULE.found(format!("the {what} {} is for {theirs} cable, and {} is {ours}", item.value, cable.id))
                    .at(item.span, format!("for {theirs} cable"))
                    .help(format!("name the {what} for {ours} cable")),
            );
        }
    }
    let Some(sleeve) = &end.sleeve else { return all };
    let metal = ctx.manual.hardware.get(&sleeve.value).and_then(|row| sleeve_metal(&row.material));
    let construction = cable.use_.construction.as_ref().map_or("", |c| c.value.as_str());
    for fault in sleeve_faults(metal, wire(ctx, cable), construction) {
        // The value of the maker who allows it stands beside it.
        if fault.value == SleeveFault::SingleStrand && end.maker_value.is_some() {
            continue;
        }
        let d = RULE
            .found(format!("the sleeve {} of {}: {}", sleeve.value, cable.id, fault.value.words()))
            .at(sleeve.span, fault.source.words())
            .help("take copper on galvanised cable, tin-plated copper on stainless, and for a single strand what its maker gives");
        all.push(d);
    }
    let table = cable.diameter.filter(|_| sized).and_then(oval_sleeve);
    if let (Some(presses), Some(table)) = (end.crimps, table)
        && presses != table.value.presses
        && pressed_alike(ctx, &sleeve.value, presses)
    {
        let d = RULE
            .found(format!(
                "the sleeve {} of {} is pressed {presses} times, and the table has {} for this cable (from memory)",
                sleeve.value, cable.id, table.value.presses
            ))
            .at(sleeve.span, format!("pressed {presses} times"))
            .help("compare it with what the maker of sleeve and tool prescribes, and correct `crimps` or accept this with that as the reason");
        all.push(no_stronger_than(d, table.source));
    }
    all
}

/// A thimble is a thimble, a sleeve a sleeve, a turnbuckle a turnbuckle.
fn of_another_kind(ctx: &Context, cable: &CableRun, end: &CableEnd) -> Vec<Diagnostic> {
    let places = [
        (&end.thimble, HardwareKind::Thimble),
        (&end.sleeve, HardwareKind::Sleeve),
        (&end.turnbuckle, HardwareKind::Turnbuckle),
    ];
    let found = places.into_iter().filter_map(|(item, kind)| {
        let item = item.as_ref()?;
        let listed = ctx.manual.hardware.get(&item.value)?.kind;
        if listed == kind || matches!(listed, HardwareKind::Other | HardwareKind::CableFitting) {
            return None;
        }
        let (wanted, is) = (kind.word(), listed.word());
        Some(
            RULE.found(format!("the {wanted} of {} is {}, a {is}", cable.id, item.value))
                .at(item.span, format!("a {is} by hardware.csv"))
                .help(format!("name a {wanted} here, or correct its kind in hardware.csv")),
        )
    });
    found.collect()
}

/// Whether a sleeve is pressed as often wherever it stands; where it is not, that is the finding.
fn pressed_alike(ctx: &Context, sleeve: &Designation, presses: i64) -> bool {
    let ends = ctx.manual.steps.iter().flat_map(|s| &s.cables).flat_map(|c| c.ends()).flatten();
    ends.filter(|e| e.sleeve.as_ref().is_some_and(|s| s.value == *sleeve))
        .all(|e| e.crimps.is_none_or(|n| n == presses))
}

/// The cable size that an item is for.
fn size(ctx: &Context, item: &Spanned<Designation>) -> Option<Length> {
    let row = ctx.manual.hardware.get(&item.value)?;
    row.diameter.map(|d| d.value).or_else(|| cable_size(item.value.as_str(), &row.name))
}

fn wire(ctx: &Context, cable: &CableRun) -> Option<CableWire> {
    let part = cable.part?;
    let stock = part.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value));
    stock.and_then(|s| cable_wire(&s.material)).or_else(|| cable_wire(&part.material))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};
    use crate::diag::Level;

    fn with(end: &str, sleeve: &str) -> Case {
        let cable = format!(
            "cables:\n  - {{ cable: stay, part: KW-200, construction: 7x19, length: 20, end-a: {end}, end-b: {end} }}\ntools: [saw]"
        );
        sound()
            .edit("stock.csv", "T-1,4130,round tube,1,.058,144", "T-1,316 stainless,cable,1/8,,144")
            .edit("steps/frame/10-keel.md", "tools: [saw]", &cable)
            .edit("hardware.csv", "designation,name,kind,unit\n", "designation,name,kind,unit,material\n")
            .add("hardware.csv", &format!("{sleeve}\n"))
    }

    fn found(case: &Case) -> Vec<(Level, String)> {
        let all = case.check().0.into_iter().filter(|d| d.rule == "cable-end-unsuited");
        all.map(|d| (d.level, d.headline)).collect()
    }

    /// FAA AC 43.13-1B, 7-148: copper sleeves of the cable's size.
    #[test]
    fn the_sleeve_suits_the_cable() {
        let end = "{ loop: 2, sleeve: CS-1/8, crimps: 3 }";
        assert_eq!(found(&with(end, "CS-1/8,Sleeve,sleeve,each,copper tinned")), []);
        let bare = found(&with(end, "CS-1/8,Sleeve,sleeve,each,copper"));
        assert!(bare.iter().all(|f| f.0 == Level::Error && f.1.contains("bare copper")) && bare.len() == 2, "{bare:?}");
        let soft = found(&with(end, "CS-1/8,Sleeve,sleeve,each,aluminium"));
        assert!(soft.iter().all(|f| f.0 == Level::Error && f.1.contains("aluminium")) && soft.len() == 2, "{soft:?}");
        let other = "{ loop: 2, sleeve: CS-3/32, crimps: 1 }";
        let small = found(&with(other, "CS-3/32,Sleeve,sleeve,each,copper tinned"));
        assert!(small.iter().all(|f| f.1.contains("is for 3/32 in cable")) && small.len() == 2, "{small:?}");
    }

    /// What the maker of the end gives takes the place of the rule against a sleeve on a single strand.
    #[test]
    fn a_single_strand_needs_its_makers_value() {
        let strand = |end: &str| {
            let case = with(end, "CS-1/8,Sleeve,sleeve,each,copper tinned");
            found(&case.edit("steps/frame/10-keel.md", "construction: 7x19", "construction: 1x19"))
        };
        let bare = strand("{ loop: 2, sleeve: CS-1/8, crimps: 3 }");
        assert!(bare.iter().all(|f| f.1.contains("single strand")) && bare.len() == 2, "{bare:?}");
        assert_eq!(strand("{ loop: 2, sleeve: CS-1/8, crimps: 3, maker-value: 1500 lb }"), []);
    }

    #[test]
    fn a_thimble_is_a_thimble() {
        let end = "{ thimble: CS-1/8, loop: 2, sleeve: CS-1/8, crimps: 3 }";
        let found = found(&with(end, "CS-1/8,Sleeve,sleeve,each,copper tinned"));
        assert!(
            found.iter().all(|f| f.1 == "the thimble of stay is CS-1/8, a sleeve") && found.len() == 2,
            "{found:?}"
        );
    }

    #[test]
    fn presses_are_counted() {
        let found = found(&with("{ loop: 2, sleeve: CS-1/8, crimps: 1 }", "CS-1/8,Sleeve,sleeve,each,copper tinned"));
        assert!(
            found.iter().all(|f| f.0 == Level::Warning && f.1.contains("pressed 1 times")) && found.len() == 2,
            "{found:?}"
        );
    }
}
