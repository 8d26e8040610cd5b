//! A part whose cut length is more than its stock's bar, than the blank in which it is supplied, or than the part it
//! is cut from; a blank longer than the bar; a cut of a step that needs more than the blank.
//!
//! It matters because a tube that is too short is scrap.
//!
//! Wrong: `cut length` 150 from a bar of 144. Right: a longer bar, or a joint in the tube.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::Diagnostic;
use crate::diag::{Level, Sink};
use crate::model::Part;
use crate::source::Spanned;
use crate::units::{Length, plain};
use std::collections::BTreeSet;

pub const RULE: Rule = Rule {
    id: "cut-too-long",
    level: Level::Error,
    summary: "a part longer than the bar, the blank or the part it comes from",
    source: "arithmetic",
    bending: Leave::Refused,
    file: include_str!("cut_too_long.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut blamed = BTreeSet::new();
    for (number, part) in &ctx.manual.parts {
        if let Some(d) = in_list(ctx, part) {
            blamed.insert(number);
            sink.push(d.about(number));
        }
    }
    for (step, cut) in ctx.cuts() {
        let Some(part) = ctx.manual.parts.get(&cut.part.value) else { continue };
        let (Some(length), Some(blank)) = (&cut.length, part.blank_length) else { continue };
        let needed = length.value + cut.trim.map_or(Length::ZERO, |t| t.value);
        if needed > blank.value && blamed.insert(&part.number.value) {
            sink.push(
                RULE.found(format!(
                    "the cut of {} needs {}, and the blank has {}",
                    cut.part.value,
                    text(ctx, needed),
                    text(ctx, blank.value)
                ))
                .at(length.span, "with its trim allowance more than the blank")
                .note(blank.span, "the blank")
                .help("correct the length or the trim here, or the blank in the parts list")
                .about(&cut.part.value)
                .about(&step.id.value),
            );
        }
    }
    sink
}

/// What is too long in a row of the parts list.
fn in_list(ctx: &Context, part: &Part) -> Option<Diagnostic> {
    let number = &part.number.value;
    let stock = part.stock.as_ref().and_then(|s| ctx.manual.stock.get(&s.value));
    let bar = stock.and_then(|s| s.bar_length);
    let from = part.cut_from.as_ref().and_then(|from| ctx.manual.parts.get(&from.value));
    let source = from.and_then(|p| p.blank_length.or(p.cut_length));
    let more =
        |a: Option<Spanned<Length>>, b: Option<Spanned<Length>>| Some((a?, b?)).filter(|(a, b)| a.value > b.value);
    let (long, short, what, than) = if let Some((blank, bar)) = more(part.blank_length, bar) {
        (blank, bar, "blank", "the bar")
    } else if let Some((cut, blank)) = more(part.cut_length, part.blank_length) {
        (cut, blank, "cut length", "its blank")
    } else if let Some((cut, source)) = more(part.cut_length, source) {
        (cut, source, "cut length", "the part it is cut from")
    } else {
        let (cut, bar) = more(part.cut_length, bar)?;
        (cut, bar, "cut length", "the bar")
    };
    let headline =
        format!("the {what} of {number} is {}, and {than} has {}", text(ctx, long.value), text(ctx, short.value));
    let d = RULE.found(headline).at(long.span, format!("longer than {than}")).note(short.span, than);
    Some(d.help("correct one of the two lengths"))
}

pub fn text(ctx: &Context, length: Length) -> String {
    plain(&length.pieces(ctx.manual.settings.units))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn nothing_is_longer_than_what_it_comes_from() {
        assert_eq!(
            sound().edit("parts.csv", "T-1,20,,cut", "T-1,150,,cut").findings(),
            ["cut-too-long parts.csv `150`"]
        );
        assert_eq!(sound().edit("parts.csv", "T-1,40,42", "T-1,40,145").findings(), ["cut-too-long parts.csv `145`"]);
        assert_eq!(sound().edit("parts.csv", "T-1,40,42", "T-1,40,39").findings(), ["cut-too-long parts.csv `40`"]);
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "trim: 2", "trim: 2 1/16").findings(),
            ["cut-too-long steps/frame/10-keel.md `40`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "Cross piece,,,T-1,12", "Cross piece,,,T-1,31").findings(),
            ["cut-too-long parts.csv `31`"]
        );
    }
}
