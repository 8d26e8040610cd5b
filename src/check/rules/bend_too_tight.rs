//! Sheet that is bent sharper than the published table allows for its alloy and thickness.
//!
//! It matters because the sheet cracks along the bend, sometimes where nobody sees it.
//!
//! Wrong: 2024-T3 of .063 in about 1/16 in; the table has 3 thicknesses, about 3/16 in. Right: the table's radius or more.
//! The table is for bends of 90 degrees; other bends are held against it too. An alloy that the table does not have is
//! not judged, and the step's table says so.
//!
//! To accept: `accept: [{ rule: bend-too-tight, about: PART, reason: ... }]` in the step.

use crate::check::fastened::decimal_words;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::plan::bent_piece;

pub const RULE: Rule = Rule {
    id: "bend-too-tight",
    level: Level::Error,
    summary: "sheet bent sharper than the table allows",
    source: "FAA AC 43.13-1B Table 4-6",
    bending: Leave::Allowed,
    file: include_str!("bend_too_tight.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let words = |inches| decimal_words(ctx, inches);
    for step in ctx.manual.written_steps() {
        for piece in step.bends.iter().filter_map(|b| bent_piece(ctx.manual, b).ok()) {
            let Some(smallest) = piece.smallest else { continue };
            let Some(bend) = piece.bends.iter().position(|b| b.inside_radius < smallest.value.least) else { continue };
            let radii = &piece.work.radii;
            let at = radii.get(bend).or(radii.first()).map_or(piece.work.part.span, |r| r.span);
            let number = &piece.part.number.value;
            sink.push(
                RULE.found(format!(
                    "{number} is bent about {}, and the table allows no less than {}",
                    words(piece.bends[bend].inside_radius.to_f64()),
                    words(smallest.value.least.to_f64())
                ))
                .at(at, format!("{} of {} cracks at this radius", piece.part.material, words(piece.thickness.to_f64())))
                .help(format!("use {} or more, which the table calls safe", words(smallest.value.safe.to_f64())))
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

    /// FAA AC 43.13-1B Table 4-6: 6061-T6 of .058 takes the column of .064, 1 to 2 thicknesses.
    #[test]
    fn the_table_has_the_last_word() {
        let found = |radius: &str| {
            let bends = format!(
                "bends:\n  - {{ part: KW-104, legs: [2, 3], angle: 90, radius: {radius}, by: maker }}\ntools: [saw]"
            );
            let case = sound().edit("parts.csv", "KW-104,Plate,,,S-2", "KW-104,Plate,,,S-2").edit(
                "steps/frame/10-keel.md",
                "tools: [saw]",
                &bends,
            );
            case.findings().into_iter().filter(|f| f.starts_with("bend-")).collect::<Vec<_>>()
        };
        assert_eq!(found(".050"), ["bend-too-tight steps/frame/10-keel.md `.050`"]);
        assert_eq!(found(".080"), ["bend-radius-tight steps/frame/10-keel.md `.080`"]);
        assert_eq!(found(".125"), [""; 0]);
    }
}
