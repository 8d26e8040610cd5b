//! A cable that does not say all that its maker must know: what it is made of, its construction, the loop at an end, the
//! sleeve of a thimble and how often it is pressed, the cotter pin of a clevis pin, the thread of a turnbuckle and how it
//! is kept from turning.
//!
//! It matters because without the loop no length to cut follows, an end without its sleeve or pin lets go, and a
//! turnbuckle that is not secured unscrews itself.
//!
//! Wrong: `end-b: { turnbuckle: TB-1/4 }`. Right: with `thread: left` and `safety: cotter pins`.
//!
//! To accept: `accept: [{ rule: cable-incomplete, about: ID, reason: ... }]` in the step.

use crate::check::{Context, Leave, Rule, Run, written_cables};
use crate::diag::{Level, Sink};
use crate::model::{CableEnd, CableKind};
use crate::resolve::Resolved;
use crate::trade::ItemForm;

pub const RULE: Rule = Rule {
    id: "cable-incomplete",
    level: Level::Warning,
    summary: "a cable that does not say all that its maker must know",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("cable_incomplete.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for cable in written_cables(ctx.manual, resolved) {
        let mut whole = Vec::new();
        // A part that is in no list is another finding.
        if cable.diameter.is_none() && (cable.use_.part.is_none() || cable.part.is_some()) {
            whole.push("a `part` whose stock is a cable with its diameter");
        }
        if cable.use_.construction.is_none() {
            whole.push("`construction`");
        }
        if cable.use_.kind == CableKind::Bowden {
            let lacks =
                [("`sheath`", cable.use_.sheath.is_none()), ("`sheath-length`", cable.use_.sheath_length.is_none())];
            whole.extend(lacks.into_iter().filter(|(_, lacks)| *lacks).map(|(what, _)| what));
        }
        let ends = cable.ends.into_iter().flatten().map(|(end, _)| {
            let turnbuckle = end.turnbuckle.is_some();
            let bowden = cable.use_.kind == CableKind::Bowden;
            let sleeveless =
                end.sleeve.is_none() && (end.thimble.is_some() || end.crimps.is_some() || end.tail.is_some());
            let lacks = [
                ("`sleeve`", sleeveless),
                ("a cotter pin for its clevis pin among its `fittings`", pins(ctx, end) > 0),
                // The jaw of a turnbuckle may have a pin of its own.
                ("a clevis pin for its cotter pin among its `fittings`", !turnbuckle && pins(ctx, end) < 0),
                ("`loop`", !bowden && end.loop_.is_none()),
                ("`nipple`", bowden && end.nipple.is_none() && end.sleeve.is_none()),
                ("`ferrule`", bowden && end.ferrule.is_none()),
                ("`wraps`", end.wraps.is_none() && end.safety.as_ref().is_some_and(|s| wired(&s.value))),
                ("`crimps`", end.sleeve.is_some() && end.crimps.is_none()),
                ("`thread`", turnbuckle && end.thread.is_none()),
                ("`safety`", turnbuckle && end.safety.is_none()),
                ("`reach`", turnbuckle && end.reach.is_none()),
            ];
            (end.span, lacks.into_iter().filter(|(_, lacks)| *lacks).map(|(what, _)| what).collect::<Vec<_>>())
        });
        for (at, missing) in
            std::iter::once((cable.use_.cable.span, whole)).chain(ends).filter(|(_, missing)| !missing.is_empty())
        {
            let what = missing.join(", ");
            sink.push(
                RULE.found(format!("the cable {} does not give {what}", cable.id))
                    .at(at, format!("{what} is missing here"))
                    .help(format!("add {what}"))
                    .about(cable.id)
                    .about(&cable.step.step.id.value),
            );
        }
    }
    sink
}

/// Whether words say that a wire keeps a turnbuckle from turning.
fn wired(safety: &str) -> bool {
    safety.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|word| matches!(word, "wire" | "wired" | "lockwire"))
}

/// How many clevis pins of an end have no cotter pin, or below zero how many cotter pins have no clevis pin. Fittings of
/// which it is not known what they are may be either.
fn pins(ctx: &Context, end: &CableEnd) -> i64 {
    let of = |wanted: Option<ItemForm>| {
        let alike = end.fittings.iter().filter(|(d, _)| ctx.items.get(&d.value).map(|i| i.form) == wanted);
        alike.map(|(_, n)| n).sum::<i64>()
    };
    let (clevis, cotter, unknown) = (of(Some(ItemForm::ClevisPin)), of(Some(ItemForm::CotterPin)), of(None));
    if clevis > cotter { (clevis - cotter - unknown).max(0) } else { (clevis + unknown - cotter).min(0) }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_shop_knows_how_to_make_it() {
        let found = |end: &str| {
            let cable = format!(
                "cables:\n  - {{ cable: stay, part: KW-200, construction: 7x7, length: 20, end-a: {{ loop: 2 }}, end-b: {end} }}\ntools: [saw]"
            );
            let case = sound().edit("stock.csv", "T-1,4130,round tube,1", "T-1,4130,cable,1").edit(
                "steps/frame/10-keel.md",
                "tools: [saw]",
                &cable,
            );
            let case = case.add("hardware.csv", "AN393-7,Pin,clevis pin,each\n");
            case.check().0.into_iter().filter(|f| f.rule == "cable-incomplete").map(|f| f.headline).collect::<String>()
        };
        assert_eq!(found("{ loop: 2, sleeve: AN960-416, crimps: 3 }"), "");
        assert!(found("{ loop: 2, thimble: AN960-416, crimps: 3 }").ends_with("does not give `sleeve`"));
        assert_eq!(found("{ loop: 2, fittings: [AN393-7, AN380-2-2] }"), "");
        assert!(found("{ loop: 2, fittings: [AN393-7] }").contains("a cotter pin for its clevis pin"));
        assert!(found("{ loop: 2, fittings: [AN380-2-2] }").contains("a clevis pin for its cotter pin"));
        assert!(found("{ sleeve: AN960-416 }").ends_with("does not give `loop`, `crimps`"));
        assert!(found("{ loop: 2, turnbuckle: AN4-10A }").ends_with("does not give `thread`, `safety`, `reach`"));
    }
}
