//! A designer's proof load that is above 60 % of what the weakest member of a cable bears: the cable, a sleeve, a turnbuckle
//! or a pin.
//!
//! It matters because a proof that is too high damages the end that it should prove, and nobody sees it.
//!
//! The cable's strength is that of its construction, diameter and metal; what sleeves, turnbuckles and pins bear is from
//! memory. Members of which nothing is known are named in the help: their makers' values have to be looked up.
//!
//! Wrong: `proof-load: 1500 lb` on a 1/8 in stainless cable of 7x19, which breaks at 1760 lb. Right: 1056 lb or less.
//!
//! To accept: `accept: [{ rule: cable-proof-too-high, about: left-shroud, reason: ... }]` in the step.

use crate::check::fastened::no_stronger_than;
use crate::check::{Context, Leave, Rule, Run, written_cables};
use crate::diag::{Level, Sink};
use crate::model::{CableEnd, HardwareKind};
use crate::plan::CableRun;
use crate::resolve::Resolved;
use crate::trade::{Cited, Source, double_shear, oval_sleeve, proof_load, turnbuckle_strength};
use crate::units::{Designation, Measure, MeasureUnit, Rational, decimal_text};

pub const RULE: Rule = Rule {
    id: "cable-proof-too-high",
    level: Level::Error,
    summary: "a proof load above what the weakest member of a cable allows",
    source: "FAA AC 43.13-1B chapter 7 section 8: 60 % of the strength",
    bending: Leave::Allowed,
    file: include_str!("cable_proof_too_high.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for cable in written_cables(ctx.manual, resolved) {
        let Some(proof) = &cable.use_.proof_load else { continue };
        let Some(pounds) = force(proof.value) else { continue };
        let members = members(ctx, &cable);
        let known = members.iter().filter_map(|(name, strength)| Some((name, (*strength)?)));
        let Some((name, strength)) = known.min_by_key(|(_, strength)| strength.value) else { continue };
        let most = proof_load(strength);
        if pounds <= Rational::from_integer(most.value) {
            continue;
        }
        let unknown: Vec<&str> = members.iter().filter(|m| m.1.is_none()).map(|m| m.0.as_str()).collect();
        let looked = if unknown.is_empty() {
            String::new()
        } else {
            format!("; look up what {} {} too", unknown.join(", "), if unknown.len() == 1 { "bears" } else { "bear" })
        };
        let d = RULE
            .found(format!(
                "the proof of {} is {} lb, and {name} bears {} lb: {} lb is the most",
                cable.id,
                decimal_text(pounds, 0),
                strength.value,
                most.value
            ))
            .at(proof.span, format!("above 60 % of {} lb ({})", strength.value, strength.source.words()))
            .help(format!("lower the proof load, or take a stronger member{looked}"))
            .about(cable.id)
            .about(&cable.step.step.id.value);
        sink.push(no_stronger_than(d, strength.source));
    }
    sink
}

/// A load in pounds: one pound is 4.448 221 615 N.
fn force(load: Measure) -> Option<Rational> {
    match load.unit {
        MeasureUnit::PoundForce => Some(load.value),
        MeasureUnit::Newton => Some(load.value * Rational::new(1_000_000, 4_448_222)),
        _ => None,
    }
}

/// What the maker of an end gives for it, in whole pounds.
fn pounds(load: Measure) -> Option<Cited<i64>> {
    force(load).map(|value| Cited::new(*value.floor().numer(), Source::Published("the maker of the end")))
}

/// What the load goes through, each with what it bears where that is known. Each name once.
fn members(ctx: &Context, cable: &CableRun) -> Vec<(String, Option<Cited<i64>>)> {
    let mut all: Vec<(String, Option<Cited<i64>>)> = vec![("the cable itself".to_owned(), cable.strength)];
    for (end, _) in cable.ends.into_iter().flatten() {
        for (name, strength) in of_end(ctx, cable, end) {
            if all.iter().all(|m| m.0 != name.as_str()) {
                all.push((name.to_string(), strength));
            }
        }
    }
    all
}

fn of_end<'a>(ctx: &Context, cable: &CableRun, end: &'a CableEnd) -> Vec<(&'a Designation, Option<Cited<i64>>)> {
    let mut all = Vec::new();
    if let Some(sleeve) = &end.sleeve {
        let table = cable.diameter.and_then(oval_sleeve).map(|s| s.map(|s| s.strength));
        all.push((&sleeve.value, end.maker_value.as_ref().and_then(|v| pounds(v.value)).or(table)));
    }
    for part in end.turnbuckle.iter().chain(&end.turnbuckle_ends) {
        all.push((&part.value, turnbuckle_strength(part.value.as_str())));
    }
    for (fitting, _) in &end.fittings {
        // A cotter pin bears no load.
        let kind = ctx.manual.hardware.get(&fitting.value).map(|h| h.kind);
        if kind != Some(HardwareKind::CotterPin) {
            all.push((&fitting.value, ctx.items.get(&fitting.value).and_then(|item| double_shear(item))));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;
    use crate::diag::Level;

    /// FAA AC 43.13-1B Table 7-3: 7x19 of 1/8 in breaks at 1,760 lb in stainless; 60 % are 1,056.
    #[test]
    fn the_weakest_member_decides() {
        let found = |proof: &str, fitting: &str| {
            let end = format!("{{ loop: 2, sleeve: CS-1/8, crimps: 3, fittings: [{fitting}] }}");
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-200, construction: 7x19, length: 20, proof-load: {proof}, end-a: {end}, end-b: {end} }}\ntools: [saw]"
            );
            let case = sound()
                .edit("stock.csv", "T-1,4130,round tube,1,.058,144", "T-1,316 stainless,cable,1/8,,144")
                .edit("steps/frame/10-keel.md", "tools: [saw]", &cable)
                .add("hardware.csv", "CS-1/8,Sleeve,sleeve,each\nAN392-7,Pin,clevis pin,each\nAN394-9,Pin,clevis pin,each\nSH-5,Shackle,other,each\n");
            let all = case.check().0.into_iter().filter(|d| d.rule == "cable-proof-too-high");
            all.map(|d| (d.level, d.headline, d.help)).collect::<Vec<_>>()
        };
        assert_eq!(found("1056 lb", "AN394-9"), []);
        let high = found("1057 lb", "AN394-9");
        assert!(high.len() == 1 && high[0].0 == Level::Error && high[0].1.contains("the cable itself"), "{high:?}");
        assert_eq!(found("4690 N", "AN394-9"), []);
        assert_eq!(found("5000 N", "AN394-9").len(), 1);
        // A 1/8 in pin bears 1,840 lb in double shear, from memory: the cable is the weaker.
        let shackle = found("1500 lb", "SH-5");
        assert!(shackle.len() == 1 && shackle[0].2.contains("SH-5"), "{shackle:?}");
    }
}
