//! A section of manual.yaml of which there is no step.
//!
//! It matters because it is a chapter that was planned and forgotten, or a name that steps spell in another way.
//!
//! Wrong: `- { section: rig, title: Rig }` and no step with `section: rig`. Right: a step in it, or no such section.
//!
//! To accept: `accept: [{ rule: empty-section, about: rig, reason: ... }]` in manual.yaml.

use crate::check::names::Kind;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Section;

pub const RULE: Rule = Rule {
    id: "empty-section",
    level: Level::Warning,
    summary: "a section without steps",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("empty_section.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    // A step that names no known section may have meant this one.
    if ctx.excuses.steps_unread || ctx.names.unknown(Kind::Section).next().is_some() {
        return Sink::new();
    }
    let empty = |s: &&Section| ctx.names.mentions(Kind::Section, s.id.as_str()).is_empty();
    let sections = ctx.manual.settings.sections.iter().filter(empty);
    sections
        .map(|section| {
            RULE.found(format!("the section `{}` has no step", section.id.value))
                .at(section.id.span, "no step names it")
                .help("write a step with this `section`, or take the section out")
                .about(&section.id.value)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_section_needs_a_step() {
        assert_eq!(
            sound().edit("manual.yaml", "hand-suffixes", "  - { section: rig, title: Rig }\nhand-suffixes").findings(),
            ["empty-section manual.yaml `rig`"]
        );
    }
}
