//! Cuts of which nothing, or not a whole piece, is left: the two ends of a piece meet or cross, or a tube's wall
//! leaves no bore.
//!
//! It matters because there is no such piece: it can't be drawn, and no template can be made for it.
//!
//! Wrong: two mitres of 70 degrees with their long points on one line, on a piece 2 in long. Right: a longer piece.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::geometry::Impossible;
use crate::plan::{TubeFault, TubeWork};
use crate::resolve::Resolved;
use crate::units::PartNumber;
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "cut-impossible",
    level: Level::Error,
    summary: "a piece of tube whose end cuts meet or cross, or that is no tube",
    source: "geometry: along each line of the tube something must be left between the two cuts",
    bending: Leave::Refused,
    file: include_str!("cut_impossible.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    let tubes = TubeWork::new(ctx.manual, resolved);
    let mut seen: BTreeSet<&PartNumber> = BTreeSet::new();
    for step in resolved.steps.iter().map(|s| &s.step) {
        for cut in step.cuts.iter().filter(|c| seen.insert(&c.part.value)) {
            let number = &cut.part.value;
            let (why, at) = match tubes.piece(number) {
                Err(TubeFault::Piece { why }) => (why, cut.length.map_or(cut.part.span, |l| l.span)),
                Err(TubeFault::Cut { cut, why }) => (why, cut.part.span),
                Ok(_) | Err(TubeFault::Unknown) => continue,
            };
            // Angles and saddles that miss are other rules' findings.
            if matches!(why, Impossible::Angle { .. } | Impossible::Misses { .. }) {
                continue;
            }
            sink.push(
                RULE.found(format!("{number} can't be cut: {why}"))
                    .at(at, "no such piece")
                    .help("correct the length, the angles, the clock positions of the long points, or the stock")
                    .about(number)
                    .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn something_is_left_between_the_cuts() {
        let steep = sound().edit(
            "steps/frame/10-keel.md",
            "end: A, cut: mitre, angle: 22.5",
            "end: both, cut: mitre, angle: 75",
        );
        assert_eq!(steep.findings(), [""; 0]);
        // A 75 degree mitre rises 3.73 in on a 1 in tube.
        let short =
            steep.edit("steps/frame/10-keel.md", "length: 40", "length: 7").edit("parts.csv", "T-1,40,42", "T-1,7,9");
        assert_eq!(short.findings(), ["cut-impossible steps/frame/10-keel.md `7`"]);
        assert!(short.only().headline.contains("meet or cross, by 0.46"), "{}", short.only().headline);
    }
}
