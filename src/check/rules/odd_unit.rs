//! A length written in millimetres among lengths written in inches, or the other way round: in one column of parts.csv, or
//! among the measures, cuts and offsets of one step.
//!
//! It matters because a unit that slipped in makes a part 25 times too short, and because who reads the column takes the row for
//! one of the others.
//!
//! It is a question: a bought part may come in the other unit. At least four others must stand in the one unit, and no second one
//! in the other.
//!
//! Wrong: `40`, `36 1/2`, `914 mm`, `28`, `12 3/4` in the column `cut length`. Right: `36` there.
//!
//! To accept: `accept: [{ rule: odd-unit, about: KW-101, reason: ... }]` in manual.yaml or the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::Step;
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "odd-unit",
    level: Level::Question,
    summary: "one length in another unit than all others beside it",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("odd_unit.rs"),
    run: Run::Manual(run),
};

/// How many others have to agree.
const LEAST_OTHERS: usize = 4;

fn run(ctx: &Context) -> Sink {
    let parts = || ctx.manual.parts.values();
    let cut = parts().filter_map(|p| Some((p.cut_length.as_ref()?.span, p.number.to_string())));
    let blank = parts().filter_map(|p| Some((p.blank_length.as_ref()?.span, p.number.to_string())));
    let mut sink = Sink::new();
    sink.extend(odd(ctx, &cut.collect::<Vec<_>>()));
    sink.extend(odd(ctx, &blank.collect::<Vec<_>>()));
    for step in ctx.manual.written_steps() {
        let of_step: Vec<_> = lengths(step).into_iter().map(|span| (span, step.id.value.to_string())).collect();
        sink.extend(odd(ctx, &of_step));
    }
    sink
}

/// Where a step gives lengths that are measured off.
fn lengths(step: &Step) -> Vec<Span> {
    let cuts = step.cuts.iter().flat_map(|c| c.length.iter().chain(&c.offset)).map(|l| l.span);
    let measures = step.measures.iter().flat_map(|m| m.target.iter().chain(&m.min).chain(&m.max)).map(|v| v.span);
    let cables = step.cables.iter().filter_map(|c| c.length.as_ref()).map(|l| l.span);
    cuts.chain(measures).chain(cables).collect()
}

fn odd(ctx: &Context, list: &[(Span, String)]) -> Option<Diagnostic> {
    let metric = |span: Span| -> Option<bool> {
        let text = ctx.sources.slice(span);
        let number = text.contains(|c: char| c.is_ascii_digit());
        let other =
            text.contains(|c: char| c.is_ascii_alphabetic()) && !["mm", "in", "ft"].iter().any(|u| text.ends_with(u));
        (number && !other).then(|| text.ends_with("mm"))
    };
    let told: Vec<(bool, &(Span, String))> = list.iter().filter_map(|item| Some((metric(item.0)?, item))).collect();
    let (mm, inches): (Vec<_>, Vec<_>) = told.into_iter().partition(|(metric, _)| *metric);
    let (one, others) = match (mm.as_slice(), inches.as_slice()) {
        ([one], others) | (others, [one]) => (one.1, others.len()),
        _ => return None,
    };
    if others < LEAST_OTHERS {
        return None;
    }
    let text = ctx.sources.slice(one.0);
    Some(
        RULE.found(format!("is {text} right, where all {others} others beside it are in another unit?"))
            .at(one.0, "the only one in this unit")
            .help("write it in the unit of the others, or correct the number")
            .about(&one.1),
    )
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_among_many() {
        let asked =
            sound().edit("parts.csv", "Short piece,,,T-1,8,", "Short piece,,,T-1,203.2 mm,").questions("odd-unit");
        assert_eq!(asked, ["odd-unit parts.csv `203.2 mm`"]);
        let two = sound().edit("parts.csv", "Short piece,,,T-1,8,", "Short piece,,,T-1,203.2 mm,").edit(
            "parts.csv",
            "Rail,,,T-1,20,",
            "Rail,,,T-1,508 mm,",
        );
        assert_eq!(two.questions("odd-unit"), [""; 0]);
    }
}
