//! A bend that may go wrong: sheet between the least radius of the published table and the one it calls safe, or tube
//! bent about less than three diameters of its centre line.
//!
//! It matters because sheet may crack and tube may fold: it should be tried on scrap first.
//!
//! Wrong: a 1 in tube bent about 2 in of its centre line. Right: 3 in, or a shop that bends it over a mandrel, and the
//! finding accepted.
//!
//! To accept: `accept: [{ rule: bend-radius-tight, about: PART, reason: ... }]` in the step.

use crate::check::fastened::decimal_words;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::plan::{BentPiece, BentShape, bent_piece};
use crate::units::Length;

pub const RULE: Rule = Rule {
    id: "bend-radius-tight",
    level: Level::Warning,
    summary: "a bend that should be tried on scrap first",
    source: "sheet: FAA AC 43.13-1B Table 4-6; tube: common practice",
    bending: Leave::Allowed,
    file: include_str!("bend_radius_tight.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let words = |inches| decimal_words(ctx, inches);
    for step in ctx.manual.written_steps() {
        for piece in step.bends.iter().filter_map(|b| bent_piece(ctx.manual, b).ok()) {
            let Some((least, safe)) = limits(&piece) else { continue };
            let Some(bend) = piece.bends.iter().position(|b| (least..safe).contains(&b.inside_radius)) else {
                continue;
            };
            let radii = &piece.work.radii;
            let at = radii.get(bend).or(radii.first()).map_or(piece.work.part.span, |r| r.span);
            let number = &piece.part.number.value;
            sink.push(
                RULE.found(format!(
                    "{number} is bent about {}, where {} is safe",
                    words(piece.bends[bend].inside_radius.to_f64()),
                    words(safe.to_f64())
                ))
                .at(at, "a tight inside radius")
                .help("use the larger radius, or accept it with the reason: a trial on scrap, a mandrel")
                .about(number)
                .about(&step.id.value),
            );
        }
    }
    sink
}

/// The inside radii from which on a bend can be made, and is safe.
fn limits(piece: &BentPiece) -> Option<(Length, Length)> {
    match (piece.shape, piece.smallest) {
        (BentShape::Sheet, Some(smallest)) => Some((smallest.value.least, smallest.value.safe)),
        (BentShape::Sheet, None) => None,
        // Three diameters to the centre line are two and a half to the inside.
        (BentShape::Round, _) => {
            Some((Length::ZERO, Length::from_inches(piece.thickness.as_inches() * crate::units::Rational::new(5, 2))))
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_tube_is_bent_about_three_diameters() {
        let found = |radius: &str| {
            let bends = format!(
                "bends:\n  - {{ part: KW-101, legs: [19, 22], angle: 90, radius: {radius}, by: maker }}\ntools: [saw]"
            );
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &bends);
            case.findings().into_iter().filter(|f| f.starts_with("bend-radius")).collect::<Vec<_>>()
        };
        assert_eq!(found("2 1/2"), [""; 0]);
        assert_eq!(found("2"), ["bend-radius-tight steps/frame/10-keel.md `2`"]);
    }
}
