//! Two mitres that are said to meet at a corner and do not: their angles differ, their tubes do, or the other part has
//! no mitre.
//!
//! It matters because the corner stays open on one side, and the frame comes out skew when it is pulled shut.
//!
//! Wrong: a mitre of 45 degrees `onto: KW-112`, whose ends are mitred at 40. Right: half the corner on each.
//!
//! To accept, for example a tube that meets a thicker one on purpose: `accept: [{ rule: corner-open, about: KW-110,
//! reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::{Cut, CutKind, StepItem};
use crate::plan::tube_size;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "corner-open",
    level: Level::Error,
    summary: "two mitres that meet at a corner and do not fit each other",
    source: "geometry: two equal tubes at a corner are each cut at half of what is missing to 180 degrees",
    bending: Leave::Allowed,
    file: include_str!("corner_open.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let cuts: Vec<(&StepItem<Cut>, &str)> =
        resolved.steps.iter().flat_map(|s| s.step.cuts.iter().map(|c| (c, s.step.id.value.as_str()))).collect();
    for &(cut, step) in cuts.iter().filter(|(c, _)| c.kind == CutKind::Mitre) {
        let (Some(onto), Some(angle)) = (&cut.onto, cut.angle) else { continue };
        if !ctx.manual.parts.contains_key(&onto.value) {
            continue;
        }
        let (here, there) = (&cut.part.value, &onto.value);
        let mitres: Vec<_> = cuts.iter().filter(|(c, _)| c.kind == CutKind::Mitre && c.part.value == *there).collect();
        let found = match (tube_size(ctx.manual, here), tube_size(ctx.manual, there)) {
            (Some(a), Some(b)) if a.0 != b.0 => RULE
                .found(format!("{here} and {there} meet at a mitred corner and are not equally thick"))
                .at(onto.span, "another diameter")
                .help("give both parts tube of one size, or saddle one of them onto the other"),
            _ if mitres.is_empty() => RULE
                .found(format!("the mitre on {here} meets {there}, which has no mitre"))
                .at(onto.span, "not mitred in this configuration")
                .help("add the mitre of the other part to a step's `cuts`, or take `onto` out"),
            _ if mitres.iter().any(|(c, _)| c.angle.is_none_or(|a| a.value == angle.value)) => continue,
            _ => {
                let other = mitres[0].0;
                let Some(theirs) = other.angle else { continue };
                RULE.found(format!(
                    "{here} is mitred at {} and {there}, which it meets, at {}",
                    angle.value, theirs.value
                ))
                .at(angle.span, "not the angle of the other part")
                .note(theirs.span, "the other part's mitre")
                .help("cut both at half of what the corner lacks to 180 degrees: a corner of 90 is two of 45")
            }
        };
        sink.push(found.about(here).about(step));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const KEEL: &str = "steps/frame/10-keel.md";

    /// The keel's mitre meets one of the rail.
    fn corner(rail: &str) -> Case {
        let both = format!(
            "angle: 22.5, onto: KW-105, length: 40, trim: 2, long-point: 12 }}\n  - {{ part: KW-105, end: A, cut: {rail} }}"
        );
        sound().edit(KEEL, "angle: 22.5, length: 40, trim: 2, long-point: 12 }", &both)
    }

    #[test]
    fn a_corner_closes() {
        assert!(!corner("mitre, angle: 22.5").findings().iter().any(|f| f.starts_with("corner-open")));
        let found =
            |case: Case| case.findings().into_iter().filter(|f| f.starts_with("corner-open")).collect::<Vec<_>>();
        assert_eq!(found(corner("mitre, angle: 30")), [format!("corner-open {KEEL} `22.5`")]);
        assert_eq!(found(corner("square")), [format!("corner-open {KEEL} `KW-105`")]);
        let thin = corner("mitre, angle: 22.5").add("stock.csv", "T-9,4130,round tube,3/4,.058,144\n").edit(
            "parts.csv",
            "Rail,,,T-1",
            "Rail,,,T-9",
        );
        assert_eq!(found(thin), [format!("corner-open {KEEL} `KW-105`")]);
    }
}
