//! A variant that is based on another, where conditions name that one and nothing says whether they mean the new one too.
//!
//! It matters because what stands under such a condition is silently missing from the new variant: a sentence, a figure, a
//! measure, a part of a stack. What is found of the variant only because of such places waits for the answer and is counted
//! here; the level is that of the gravest of it.
//!
//! It looks at conditions that name the variant it is based on and not the variant itself. It does not look at a variant
//! that says `inherits-conditions`, nor at one that is based on none.
//!
//! Wrong: `CAB: { based-on: SAND }` and `only: SAND` in a step that CAB has too. Right: `only: SAND or CAB` where CAB has
//! it, and `inherits-conditions: no` once every place is looked at; or `inherits-conditions: yes` where CAB is like SAND in
//! all of them. `kitwright variant CAB` lists the places and writes the answers.
//!
//! It can't be accepted: say of the variant whether it inherits.

use crate::check::{Context, Leave, MOST_NOTES, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::{in_words, undecided};

pub const RULE: Rule = Rule {
    id: "variant-conditions",
    level: Level::Hint,
    summary: "a variant of which it is not said whether conditions of the one it is based on mean it too",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("variant_conditions.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let settings = &ctx.manual.settings;
    let mut sink = Sink::new();
    for def in settings.variants.values() {
        let Some(base) = &def.based_on else { continue };
        let places = undecided(settings, ctx.conditions.all().cloned(), &def.name.value);
        let (variant, base) = (&def.name.value, &base.value);
        let headline = match places.len() {
            0 => continue,
            1 => format!("one condition names {base} and not {variant}: it is not said whether it means {variant} too"),
            n => {
                format!("{n} conditions name {base} and not {variant}: it is not said whether they mean {variant} too")
            }
        };
        let mut d = RULE
            .found(headline)
            .at(def.name.span, format!("based on {base}"))
            .help(format!(
                "`kitwright variant {variant}` lists the places and writes your answers; or write `inherits-conditions: yes` or `no` here for all of them"
            ))
            .about(variant);
        for place in places.iter().take(MOST_NOTES) {
            d = d.note(place.span, format!("only: {}", in_words(place.condition)));
        }
        sink.push(d);
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};
    use crate::diag::Level;

    /// A third variant, based on one that conditions name.
    fn cab(more: &str) -> Case {
        sound().edit(
            "manual.yaml",
            "  LONG: {",
            &format!("  CAB: {{ title: With a cab, based-on: LONG{more} }}\n  LONG: {{"),
        )
    }

    #[test]
    fn a_new_variant_is_asked_about_once() {
        let (found, _) = cab("").check();
        let found: Vec<_> = found.iter().filter(|d| d.level != Level::Question).collect();
        let said: Vec<_> = found.iter().map(|d| (d.rule, d.headline.as_str())).collect();
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].0 == "variant-conditions" && said[0].1.contains("not said"), "{said:?}");
    }

    #[test]
    fn an_answer_for_all_places_is_enough() {
        assert_eq!(cab(", inherits-conditions: yes").findings(), [""; 0]);
        let (found, _) = cab(", inherits-conditions: no").check();
        assert!(found.iter().all(|d| d.rule != "variant-conditions"));
        // The condition that leaves the part out is named, and the part is not to be added somewhere.
        let said: Vec<_> = found.iter().map(|d| format!("{} | {}", d.headline, d.help)).collect();
        assert!(said.iter().any(|s| s.contains("`only: ") && s.contains("or CAB")), "{said:?}");
    }
}
