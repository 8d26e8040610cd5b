//! A role that a variant has no part for, or more than one, or that is the number of a part.
//!
//! It matters because a step that says the role would pull nothing there, or leave the builder to choose.
//!
//! It looks at the column `called` of the parts list: by the quantities of the variants' columns, exactly one part has a
//! role in each variant, and one for each hand where it has parts of both. A variant whose steps do not say the role needs no
//! part. It does not look at what options add or take away.
//!
//! Wrong: `called: rail` for FT-101, of which LONG has none, and `- rail` in a step that LONG has. Right: `called: rail` for
//! FT-102 too, which LONG has.
//!
//! It can't be accepted: say which part is meant.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::RoleUse;
use crate::resolve::Resolved;
use crate::source::Spanned;
use crate::syntax::parse_condition;
use crate::units::{PartNumber, VariantName};

pub const RULE: Rule = Rule {
    id: "role-unclear",
    level: Level::Error,
    summary: "a role that names no part in a variant, or more than one",
    source: "logic",
    bending: Leave::Refused,
    file: include_str!("role_unclear.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (role, parts) in ctx.manual.roles.all() {
        if ctx.manual.parts.contains_key(&PartNumber::new(role)) {
            sink.push(
                RULE.found(format!("the role `{role}` is the number of a part"))
                    .at(parts[0].cell, "a step that says it could mean either")
                    .help("give the role a name of its own")
                    .about(role),
            );
        }
    }
    for variant in ctx.manual.settings.variants.keys() {
        twins(ctx, variant, &mut sink);
        without_part(ctx, variant, &mut sink);
    }
    sink
}

/// Two parts of a variant, and of one hand, in one role.
fn twins(ctx: &Context, variant: &VariantName, sink: &mut Sink) {
    for (role, parts) in ctx.manual.roles.all() {
        let here: Vec<_> = parts.iter().filter(|p| p.variants.contains(variant)).collect();
        for (i, part) in here.iter().enumerate() {
            let Some(twin) = here[..i].iter().find(|p| p.hand == part.hand) else { continue };
            sink.push(
                RULE.found(format!(
                    "{variant} has two parts in the role `{role}`: {} and {}",
                    twin.number, part.number
                ))
                .at(part.cell, "the second one")
                .note(twin.cell, "the first one")
                .help("give one of them another role, or correct the quantities")
                .about(role),
            );
        }
    }
}

/// Roles that steps of a variant say and that no part has there.
fn without_part(ctx: &Context, variant: &VariantName, sink: &mut Sink) {
    let built: Vec<&Resolved> = ctx.resolved.iter().filter(|r| r.configuration.variant == *variant).collect();
    let roles = &ctx.manual.roles;
    let lacking = |used: &&RoleUse| !roles.parts(&used.role).iter().any(|p| p.variants.contains(variant));
    let said = |used: &&RoleUse| built.iter().any(|r| is_said(ctx, used, r));
    let mut by_role: BTreeMap<&str, Vec<&RoleUse>> = BTreeMap::new();
    for used in roles.uses.iter().filter(lacking).filter(said) {
        by_role.entry(&used.role).or_default().push(used);
    }
    for (role, uses) in by_role {
        let mut d = RULE
            .found(format!("{variant} has no part in the role `{role}`"))
            .at(uses[0].span, "nothing stands here then")
            .help(format!(
                "write `{role}` under `called` for the part that {variant} has, or put this under a condition"
            ))
            .about(role)
            .about(variant);
        for used in uses.iter().skip(1).take(MOST_NOTES) {
            d = d.note(used.span, "nor here");
        }
        sink.push(d);
    }
}

/// Whether a configuration has a place where a role is said.
fn is_said(ctx: &Context, used: &RoleUse, r: &Resolved) -> bool {
    let applies = |only: &Spanned<String>| ctx.applies(&parse_condition(&only.value, only.span, &mut Sink::new()), r);
    r.steps.iter().any(|s| s.step.file == used.span.file) && used.only.as_ref().is_none_or(applies)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    /// Two rails, one for each variant, in one role that the steps say in place of the numbers.
    fn in_role(second: &str) -> Case {
        let rows = format!("KW-105,Rail,,,T-1,20,,cut,1,0,,,rail\nKW-106,Long rail,,,T-1,26,,cut,,1,,,{second}\n");
        sound()
            .add("manual.yaml", "levels: { ragged-row: off }\n")
            .edit("parts.csv", "brake,cut from\n", "brake,cut from,called\n")
            .edit("parts.csv", "KW-105,Rail,,,T-1,20,,cut,1,,,\n", &rows)
            .edit("steps/frame/10-keel.md", "  - KW-105\n", "  - rail\n")
            .edit(
                "steps/frame/10-keel.md",
                "The [](part:KW-101) comes long.",
                "The [](part:KW-101) comes long, the [](part:rail) cut.",
            )
            .edit("steps/finish/20-brake.md", "part: KW-105, do: use", "part: rail, do: use")
    }

    #[test]
    fn a_step_may_say_the_role() {
        assert_eq!(in_role("rail").findings(), [""; 0]);
    }

    #[test]
    fn a_variant_without_a_part_in_the_role_is_named() {
        let (found, _) = in_role("long rail").check();
        let said: Vec<_> = found.iter().filter(|d| d.rule == "role-unclear").map(|d| d.headline.as_str()).collect();
        assert_eq!(said, ["LONG has no part in the role `rail`"]);
    }

    #[test]
    fn two_parts_of_one_variant_are_not_in_one_role() {
        let two = in_role("rail").edit("parts.csv", "cut,1,0,,,rail", "cut,1,1,,,rail");
        let (found, _) = two.check();
        let said: Vec<_> = found.iter().filter(|d| d.rule == "role-unclear").map(|d| d.headline.as_str()).collect();
        assert_eq!(said, ["LONG has two parts in the role `rail`: KW-105 and KW-106"]);
    }

    /// Each hand has its own part in the role; a step says the one of its hand.
    #[test]
    fn a_step_of_a_hand_means_the_part_of_that_hand() {
        let mut case = sound()
            .add("manual.yaml", "levels: { ragged-row: off }\n")
            .edit("parts.csv", "brake,cut from\n", "brake,cut from,called\n")
            .edit("parts.csv", "KW-103-R,S-1,,,pilot holes A,1,,,\n", "KW-103-R,S-1,,,pilot holes A,1,,,,bracket\n")
            .edit("parts.csv", "KW-103-L,S-1,,,pilot holes A,1,,,\n", "KW-103-L,S-1,,,pilot holes A,1,,,,bracket\n");
        for (step, number) in [("steps/frame/20-left.md", "KW-103-L"), ("steps/frame/21-right.md", "KW-103-R")] {
            case = case
                .edit(step, &format!("  - {number}\n"), "  - bracket\n")
                .edit(step, &format!("stack: [{number}, "), "stack: [bracket, ")
                .edit(step, &format!("part: {number}, hole: A"), "part: bracket, hole: A")
                .edit(step, &format!("from: {number}"), "from: bracket");
        }
        assert_eq!(case.findings(), [""; 0]);
    }
}
