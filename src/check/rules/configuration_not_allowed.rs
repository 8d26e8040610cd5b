//! A configuration in manual.yaml, or one in the kit register, whose options do not go together or not with its
//! variant; or no configuration at all.
//!
//! It matters because no document is made for it.
//!
//! Wrong: `configurations: [BASE+brake+rack]`, where rack excludes brake. Right: `configurations: [BASE+brake]`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::model::Configured;
use crate::resolve::{ConfigurationRefusal, allowed, parse_configuration};
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "configuration-not-allowed",
    level: Level::Error,
    summary: "a declared configuration or a shipped kit that the options do not allow",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("configuration_not_allowed.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let settings = &ctx.manual.settings;
    let mut sink = Sink::new();
    for configured in &settings.configurations {
        let options = configured.options.iter().map(|o| o.value.clone()).collect();
        if let Err(refusal) = allowed(settings, &configured.variant.value, &options) {
            let last = configured.options.last().map_or(configured.variant.span, |o| o.span);
            sink.extend(finding(configured.variant.span.to(last), name(configured), &refusal));
        }
    }
    for kit in &ctx.manual.kits {
        if let Err(refusal) = parse_configuration(settings, &kit.configuration.value) {
            sink.extend(finding(kit.configuration.span, kit.configuration.value.clone(), &refusal));
        }
    }
    if settings.configurations.is_empty() {
        sink.push(
            RULE.found("no configuration is declared")
                .in_file("manual.yaml")
                .help("add `configurations:` with those to be built, for example `[BASE, BASE+brake]`"),
        );
    }
    sink
}

fn name(configured: &Configured) -> String {
    let options = configured.options.iter().map(|o| format!("+{}", o.value));
    format!("{}{}", configured.variant.value, options.collect::<String>())
}

/// An unknown name is another rule's finding.
fn finding(span: Span, name: String, refusal: &ConfigurationRefusal) -> Option<Diagnostic> {
    if matches!(refusal, ConfigurationRefusal::UnknownVariant(_) | ConfigurationRefusal::UnknownOption(_)) {
        return None;
    }
    let help = "correct the configuration, or the rules of its options in manual.yaml";
    Some(
        RULE.found(format!("{name} can't be built: {refusal}"))
            .at(span, "not an allowed configuration")
            .help(help)
            .about(name),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn options_must_go_together() {
        assert_eq!(
            sound().edit("manual.yaml", "LONG+brake]", "LONG+brake+rack]").findings(),
            ["configuration-not-allowed manual.yaml `LONG+brake+rack`"]
        );
        assert_eq!(
            sound().add("kits.csv", "serial,configuration\n7,BASE+rack+brake\n8,BASE+rack\n").findings(),
            ["configuration-not-allowed kits.csv `BASE+rack+brake`"]
        );
        assert_eq!(
            sound().edit("manual.yaml", "configurations: [BASE, LONG+brake]\n", "").findings(),
            ["configuration-not-allowed manual.yaml"]
        );
    }
}
