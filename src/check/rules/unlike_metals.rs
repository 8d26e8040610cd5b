//! A joint in which stainless steel meets aluminium, in a step without a sealant or primer; or a stainless bolt with a nut
//! or washers of plain steel, or the other way round.
//!
//! It matters because the aluminium corrodes around the hole, under the head, where nobody sees it until it breaks, and
//! the nut rusts where the bolt was chosen not to.
//!
//! The step names a consumable that keeps the metals apart: one of those that manual.yaml gives as `fastening: {
//! seal-with: [...] }`, else one with `seal`, `primer`, `jointing` or `barrier` in its title; or the holes of the
//! aluminium part were primed by then.
//!
//! Wrong: an `AN4C20A` through a 6061-T6 tube, and `consumables: [grease]`. Right: `consumables: [barrier-paste]`.
//!
//! To accept: `accept: [{ rule: unlike-metals, about: mast-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::joint::SeenJoint;
use crate::model::HardwareAction;
use crate::trade::{Family, family};
use crate::units::{ConsumableId, Designation, PartNumber};

pub const RULE: Rule = Rule {
    id: "unlike-metals",
    level: Level::Warning,
    summary: "stainless steel in aluminium without a sealant or primer, or on a bolt with plain steel",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unlike_metals.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in ctx.joints.iter().filter(|s| matches!(s.joint.action, HardwareAction::Fit | HardwareAction::Refit)) {
        sink.extend(mixed(ctx, seen));
        let Some((noble, base)) = pair(ctx, seen) else { continue };
        if sealed(ctx, seen) || primed(ctx, base) {
            continue;
        }
        let d = RULE
            .found(format!("{}: {noble} is stainless and {base} aluminium, and nothing keeps them apart", called(seen)))
            .at(seen.joint.fastener.span, "without a sealant or primer")
            .help("add a sealant or primer to the consumables of the step, or name those you use as `fastening: { seal-with: [...] }` in manual.yaml");
        sink.push(about_joint(d, seen));
    }
    sink
}

/// What is stainless in a joint, and a part of aluminium.
fn pair<'a>(ctx: &'a Context, seen: &'a SeenJoint) -> Option<(&'a str, &'a PartNumber)> {
    let of_part = |number: &PartNumber| {
        let part = ctx.manual.parts.get(number)?;
        let stock = part.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value));
        Some(if part.material.is_empty() {
            stock.map_or(Family::Other, |s| family(&s.material))
        } else {
            family(&part.material)
        })
    };
    let of_hardware = |name: &Designation| material(ctx, name).map(family);
    let joint = seen.joint;
    let parts = || joint.stack.iter().map(|m| &m.part.value);
    let base = parts().find(|p| of_part(p) == Some(Family::Aluminium))?;
    let washers = joint.under_head.iter().chain(&joint.under_nut).map(|w| &w.0);
    let mut hardware = [&joint.fastener].into_iter().chain(washers).chain(&joint.nut).map(|d| &d.value);
    let noble = hardware.find(|d| of_hardware(d) == Some(Family::Stainless)).map(|d| d.as_str());
    let noble = noble.or_else(|| parts().find(|p| of_part(p) == Some(Family::Stainless)).map(|p| p.as_str()))?;
    Some((noble, base))
}

/// What an item of hardware is made of, by the hardware list or else by its designation.
fn material<'a>(ctx: &'a Context, name: &Designation) -> Option<&'a str> {
    let listed = ctx.manual.hardware.get(name).map(|h| h.material.as_str()).filter(|m| !m.is_empty());
    listed.or_else(|| ctx.items.get(name).and_then(|i| i.material).map(|m| m.value))
}

/// A nut or washer of plain steel on a stainless bolt, or a stainless one on a bolt of plain steel.
fn mixed(ctx: &Context, seen: &SeenJoint) -> Option<Diagnostic> {
    let stainless = |name: &Designation| match material(ctx, name) {
        Some(m) if family(m) == Family::Stainless => Some(true),
        Some(m) if family(m) == Family::Other && m.to_lowercase().contains("steel") => Some(false),
        _ => None,
    };
    let joint = seen.joint;
    let bolt = stainless(&joint.fastener.value)?;
    let washers = joint.under_head.iter().chain(&joint.under_nut).map(|w| &w.0);
    let name = joint.nut.iter().chain(washers).find(|name| stainless(&name.value) == Some(!bolt))?;
    let words = |stainless| if stainless { "stainless" } else { "of plain steel" };
    let d = RULE
        .found(format!(
            "{}: {} is {}, and {} is {}",
            called(seen),
            joint.fastener.value,
            words(bolt),
            name.value,
            words(!bolt)
        ))
        .at(name.span, format!("{} on a bolt that is {}", words(!bolt), words(bolt)))
        .help("take nut and washers of the bolt's own metal");
    Some(about_joint(d, seen))
}

fn sealed(ctx: &Context, seen: &SeenJoint) -> bool {
    let Some(step) = ctx.step(seen.step) else { return true };
    let settings = &ctx.manual.settings;
    let with = &settings.fastening.seal_with;
    if with.iter().any(|c| !settings.consumables.contains_key(&c.value)) {
        return true;
    }
    let seals = |id: &ConsumableId| match settings.consumables.get(id) {
        // One that does not exist may be the one that was meant.
        None => true,
        Some(_) if !with.is_empty() => with.iter().any(|w| w.value == *id),
        Some(title) => {
            let title = title.value.to_lowercase();
            ["seal", "primer", "jointing", "barrier"].iter().any(|word| title.contains(word))
        }
    };
    step.consumables.iter().any(|c| seals(&c.value.value))
}

fn primed(ctx: &Context, part: &PartNumber) -> bool {
    ctx.built().any(|r| ctx.ledger(r).holes.values().any(|h| h.part == part && h.primed && h.bare.is_none()))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const STEP: &str = "steps/frame/20-left.md";

    /// The bracket is of 6061-T6 by its stock; AN4C is corrosion-resistant steel (published AN bolt code).
    fn stainless() -> Case {
        sound()
            .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4C10A,Bolt,bolt,each\n")
            .edit(STEP, "fastener: AN4-10A", "fastener: AN4C10A")
    }

    #[test]
    fn stainless_in_aluminium_is_sealed() {
        // That nut and washers are of plain steel is the other finding.
        let found = |case: Case| {
            case.check().0.into_iter().map(|d| d.headline).filter(|h| h.contains("aluminium")).collect::<Vec<_>>()
        };
        assert!(matches!(found(stainless()).as_slice(), [one] if one.contains("KW-103-L")), "{:?}", found(stainless()));
        let with = |consumable: &str| {
            stainless().edit(STEP, "tools: [drill]", &format!("tools: [drill]\nconsumables: [{consumable}]"))
        };
        assert_eq!(found(with("primer")), [""; 0]);
        let paste = |setting: &str| {
            with("paste").edit("manual.yaml", "  primer: Primer\n", "  primer: Primer\n  paste: Blue stuff\n").edit(
                "manual.yaml",
                "fastening: {",
                setting,
            )
        };
        assert_eq!(found(paste("fastening: { seal-with: [paste],")), [""; 0]);
        assert_eq!(found(paste("fastening: {")).len(), 1);
    }

    #[test]
    fn a_bolt_and_its_nut_are_of_one_metal() {
        let plain = || {
            sound().edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN310C4,Nut,nut,each\n")
        };
        let found = plain().edit(STEP, "nut: AN365-428A", "nut: AN310C4").findings();
        assert!(found.contains(&format!("unlike-metals {STEP} `AN310C4`")), "{found:?}");
    }
}
