//! Hours of a step that are ten times the usual of its section, or a tenth.
//!
//! It matters because the sum of the hours is what a builder buys the kit by, and a point that slipped is not seen in it.
//!
//! The usual is the middle one of all steps of the section that give hours, where there are at least five. It is a question.
//!
//! Wrong: `hours: 15` where the others have 1 to 2. Right: `hours: 1.5`.
//!
//! To accept: `accept: [{ rule: hours-unusual, about: keel-join, reason: ... }]` in the step's file.

use std::collections::BTreeMap;

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::Step;
use crate::units::{Rational, SectionId, decimal_text};

pub const RULE: Rule = Rule {
    id: "hours-unusual",
    level: Level::Question,
    summary: "hours ten times the usual of a section, or a tenth",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("hours_unusual.rs"),
    run: Run::Manual(run),
};

const LEAST_STEPS: usize = 5;
const TIMES: i64 = 10;

fn run(ctx: &Context) -> Sink {
    let mut sections: BTreeMap<&SectionId, Vec<(&Step, Rational)>> = BTreeMap::new();
    for step in ctx.manual.written_steps() {
        let hours = step.hours.as_ref().map(|h| h.value).filter(|h| *h > Rational::from_integer(0));
        sections.entry(&step.section.value).or_default().extend(hours.map(|h| (step, h)));
    }
    let mut sink = Sink::new();
    for steps in sections.values().filter(|s| s.len() >= LEAST_STEPS) {
        let mut all: Vec<Rational> = steps.iter().map(|(_, hours)| *hours).collect();
        all.sort();
        let usual = all[all.len() / 2];
        for (step, hours) in steps {
            let times = Rational::from_integer(TIMES);
            let Some(written) = step.hours.as_ref().filter(|_| *hours >= usual * times || *hours * times <= usual)
            else {
                continue;
            };
            sink.push(
                RULE.found(format!("are {} hours right for step `{}`?", decimal_text(*hours, 2), step.id.value))
                    .at(written.span, format!("half of the section's steps take {} or less", decimal_text(usual, 2)))
                    .help("correct the number, or accept this with the reason")
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    fn with(hours: [&str; 5]) -> Case {
        let files = ["10-keel", "20-left", "21-right", "30-plates", "40-paint"];
        files.into_iter().zip(hours).fold(sound(), |case, (file, hours)| {
            case.edit(
                &format!("steps/frame/{file}.md"),
                "section: frame\n",
                &format!("section: frame\nhours: {hours}\n"),
            )
        })
    }

    #[test]
    fn a_point_that_slipped() {
        assert_eq!(with(["1", "1.5", "1", "2", "0.5"]).questions("hours-unusual"), [""; 0]);
        let asked = with(["1", "15", "1", "2", "0.5"]).questions("hours-unusual");
        assert_eq!(asked, ["hours-unusual steps/frame/20-left.md `15`"]);
        let asked = with(["1", "1.5", "1", "2", "0.05"]).questions("hours-unusual");
        assert_eq!(asked, ["hours-unusual steps/frame/40-paint.md `0.05`"]);
    }
}
