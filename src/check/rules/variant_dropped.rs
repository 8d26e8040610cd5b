//! A variant or an option that is gone while kits with it are in the field.
//!
//! It matters because their builders still need manuals, notices and spares, and none can be made for them.
//!
//! Wrong: DUO is taken out of `variants` while kit 29 is a DUO. Right: `supported-only: yes` keeps the variant and says that
//! it is no longer sold.
//!
//! It can't be accepted: change the kit's row, if it was never such a kit.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Span;
use crate::units::{OptionName, VariantName};

pub const RULE: Rule = Rule {
    id: "variant-dropped",
    level: Level::Error,
    summary: "a variant or option that is gone while kits with it are in the field",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("variant_dropped.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let Some(last) = &ctx.past.last else { return sink };
    let now = &ctx.manual.settings;
    let before = &last.manual.settings;
    let mut told: Vec<(&str, Vec<u32>, Span)> = Vec::new();
    for kit in &ctx.manual.kits {
        for (i, name) in kit.configuration.value.split('+').map(str::trim).enumerate() {
            let gone = if i == 0 {
                let variant = VariantName::new(name);
                before.variants.contains_key(&variant) && !now.variants.contains_key(&variant)
            } else {
                let option = OptionName::new(name);
                before.options.contains_key(&option) && !now.options.contains_key(&option)
            };
            match told.iter_mut().find(|t| t.0 == name) {
                Some((_, serials, _)) if gone => serials.push(kit.serial.value),
                None if gone => told.push((name, vec![kit.serial.value], kit.configuration.span)),
                _ => {}
            }
        }
    }
    for (name, serials, span) in told {
        let kits: Vec<_> = serials.iter().map(ToString::to_string).collect();
        let kits =
            if kits.len() == 1 { format!("kit {} is", kits[0]) } else { format!("kits {} are", kits.join(", ")) };
        sink.push(
            RULE.found(format!("`{name}` is gone, and {kits} in the field with it"))
                .at(span, format!("release {} still has it", last.letter))
                .help("put it back with its steps and quantities; `supported-only: yes` says of a variant that it is no longer sold")
                .about(name),
        );
    }
    sink
}

/// Whether this rule says of a name that it is gone.
pub fn is_dropped(ctx: &Context, name: &str) -> bool {
    run(ctx).iter().any(|d| d.about.iter().any(|a| a == name))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn kits_keep_their_variant() {
        let kits = "serial,configuration,release\n7,BASE+rack,A\n8,BASE,A\n";
        let without = sound().edit("manual.yaml", "  rack: { title: Rack, excludes: [brake] }\n", "").edit(
            "steps/frame/30-plates.md",
            "LONG and not rack",
            "LONG",
        );
        assert_eq!(
            without.clone().add("kits.csv", kits).since(&sound(), |t| t).findings(),
            ["variant-dropped kits.csv `BASE+rack`"]
        );
        assert_eq!(without.since(&sound(), |t| t).findings(), [""; 0]);
    }
}
