//! The steps of a configuration take more of a part than the parts list has, or fewer.
//!
//! It matters because a builder who is one bracket short waits for the post, and one with a bracket left over takes
//! the aircraft apart to find out why.
//!
//! Only the first taking counts: a part that is fitted on trial, removed, finished and refitted is taken once. A step
//! that only works on a part again says `do: use`.
//!
//! Pieces that are cut and then only worked on, clamped or spoken of count as used.
//!
//! Too many taken: the quantity is marked in the step where the running total first exceeds the list. Too few: the
//! cell of the parts list is marked.
//!
//! Wrong: `2` in the parts list, `3 x KW-104` in the step. Right: the same number in both.
//!
//! To accept, for example a spare that ships loose: `accept: [{ rule: quantity-mismatch, about: KW-104, reason: ...
//! }]` in manual.yaml.

use super::unused_part::is_unused;
use crate::check::names::{Kind, Use};
use crate::check::{Context, Leave, Rule, Run};
use crate::check::{MOST_NOTES, Misfit};
use crate::diag::{Diagnostic, did_you_mean};
use crate::diag::{Level, Sink};
use crate::model::Part;
use crate::resolve::{PartAccount, Pull, Resolved};
use crate::source::Span;
use crate::units::PartNumber;

pub const RULE: Rule = Rule {
    id: "quantity-mismatch",
    level: Level::Error,
    summary: "steps take more or fewer of a part than the parts list has",
    source: "common practice: what is in the crate is what the steps take",
    bending: Leave::Allowed,
    file: include_str!("quantity_mismatch.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for variant in &ctx.balance.empty_variants {
        let span = ctx.manual.settings.variants[*variant].name.span;
        sink.push(
            RULE.found(format!("no part has a quantity for {variant}"))
                .at(span, "no cell is filled in for it")
                .help(format!("add a column headed `{variant}` to the parts list and fill it in"))
                .about(variant),
        );
    }
    for (number, part) in &ctx.manual.parts {
        if ctx.excuses.parts.contains(number) {
            continue;
        }
        let misfits = || ctx.resolved.iter().filter_map(|r| Some((r, ctx.balance.misfit(&r.name, number)?)));
        let short: Vec<_> = misfits().filter(|(_, m)| !m.is_left_over()).collect();
        let over: Vec<_> = misfits().filter(|(_, m)| m.is_left_over()).collect();
        if let Some(&(first, misfit)) = short.first() {
            let d = too_few(ctx, part, first, misfit);
            sink.push(short.iter().fold(d, |d, (r, _)| d.in_configuration(&r.name)));
        }
        if let Some(&(first, misfit)) = over.first()
            && !ctx.swaps.is_meant(number)
            && !ctx.excuses.steps_unread
            && !is_unused(ctx, number)
        {
            let d = left_over(ctx, part, first, misfit);
            sink.push(over.iter().fold(d, |d, (r, _)| d.in_configuration(&r.name)));
        }
    }
    sink
}

/// More is taken than there is.
fn too_few(ctx: &Context, part: &Part, r: &Resolved, misfit: Misfit) -> Diagnostic {
    let number = &part.number.value;
    let account = &r.ledger.parts[number];
    let meant = ctx.swaps.meant_by(number);
    let there = if account.piece { "are cut" } else { "are in the parts list" };
    let headline = format!("steps take {} of {number}, and {} {there}", misfit.taken, misfit.listed);
    let Some(at) = exceeding(ctx, account, misfit.listed, meant) else {
        return RULE
            .found(format!("the quantities of {number} add up to {}", misfit.listed))
            .at(cell(ctx, part, r, |m| !m.is_left_over()), "this takes away more than there is")
            .help("correct the quantity of the option in the parts list")
            .about(number);
    };
    let mut d = RULE.found(headline).at(at.span, format!("{} taken here", at.count)).about(number);
    d = match meant {
        Some(other) => {
            let d = d.help(format!("{} It is left over", did_you_mean(other)));
            ctx.manual.parts.get(other).map_or(d.clone(), |p| d.note(p.number.span, "left over")).about(other)
        }
        None => d.help("correct one of the two; a step that only works on a part again says `do: use`"),
    };
    for pull in account.pulled.iter().filter(|p| p.span != at.span).take(MOST_NOTES) {
        d = d.note(pull.span, format!("{} taken in step `{}`", pull.count, pull.step));
    }
    let cells = r.listed.get(number).map_or(&[][..], |l| &l.cells);
    d = cells.iter().fold(d, |d, span| d.note(*span, "listed here"));
    if cells.is_empty() && !account.piece {
        d = d.note(part.number.span, format!("no quantity for {} in this row", r.name));
    }
    d
}

/// Whether a finding of this rule says that something is left over.
pub fn says_left_over(d: &Diagnostic) -> bool {
    d.label.ends_with("left over")
}

/// The taking with which the total first exceeds the list. Where another part was probably meant: the one taking in a
/// step that speaks of that part too, or the one taking of as many as are too many.
fn exceeding<'a>(ctx: &Context, account: &'a PartAccount, listed: i64, meant: Option<&PartNumber>) -> Option<&'a Pull> {
    if let Some(meant) = meant {
        let places = ctx.names.mentions(Kind::Part, meant.as_str());
        let speaks = |pull: &&Pull| places.iter().any(|m| m.step.is_some_and(|s| s.id.value == pull.step));
        let excess = account.taken() - listed;
        let only = |pulls: &[&'a Pull]| if let [one] = pulls { Some(*one) } else { None };
        let speaking: Vec<_> = account.pulled.iter().filter(speaks).collect();
        let equal: Vec<_> = account.pulled.iter().filter(|p| p.count == excess).collect();
        if let Some(one) = only(&speaking).or_else(|| only(&equal)) {
            return Some(one);
        }
    }
    let mut total = 0;
    account.pulled.iter().find(|pull| {
        total += pull.count;
        total > listed
    })
}

/// Less is taken than there is.
fn left_over(ctx: &Context, part: &Part, r: &Resolved, misfit: Misfit) -> Diagnostic {
    let number = &part.number.value;
    let account = &r.ledger.parts[number];
    let (listed, taken) = (misfit.listed, misfit.taken);
    let d = if account.piece {
        let cut = ctx.names.mentions(Kind::Part, number.as_str()).iter().find(|m| m.how == Use::CutOut);
        RULE.found(format!("steps cut {listed} of {number} and take {taken}"))
            .at(cut.map_or(part.number.span, |m| m.span), format!("{listed} cut"))
            .help("correct the number of pieces, or add them to the step that uses them")
    } else {
        RULE.found(format!("the parts list has {listed} of {number}, and steps take {taken}"))
            .at(cell(ctx, part, r, |m| m.is_left_over()), format!("{} left over", listed - taken))
            .help("correct the quantity here or in a step, or add the part to the step that uses it")
    };
    let pulls = account.pulled.iter().take(MOST_NOTES);
    pulls.fold(d, |d, pull| d.note(pull.span, format!("{} taken in step `{}`", pull.count, pull.step))).about(number)
}

/// The cell to blame: one that counts where it does not fit and nowhere where it does.
fn cell(ctx: &Context, part: &Part, r: &Resolved, same: impl Fn(Misfit) -> bool) -> Span {
    let number = &part.number.value;
    let cells = r.listed.get(number).map_or(&[][..], |l| &l.cells);
    let fits = |span: &&Span| {
        ctx.resolved.iter().any(|r| {
            !ctx.balance.misfit(&r.name, number).is_some_and(&same)
                && r.listed.get(number).is_some_and(|l| l.cells.contains(span))
        })
    };
    *cells.iter().find(|s| !fits(s)).or(cells.first()).unwrap_or(&part.number.span)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn too_many_taken() {
        assert_eq!(
            sound()
                .edit("steps/frame/30-plates.md", "quantity: 2, do: trial fit", "quantity: 3, do: trial fit")
                .findings(),
            ["quantity-mismatch steps/frame/30-plates.md `3`"]
        );
        assert_eq!(
            sound().edit("steps/finish/30-close.md", "2 x KW-202", "3 x KW-202").findings(),
            ["quantity-mismatch steps/finish/30-close.md `3`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "holes C,2,3", "holes C,1,3").findings(),
            ["quantity-mismatch steps/frame/30-plates.md `2`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "only: brake\n", "").findings(),
            ["quantity-mismatch steps/finish/20-brake.md `KW-300`"]
        );
    }

    #[test]
    fn too_few_taken() {
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "quantity: 1, do: trial fit", "quantity: 1, do: use").findings(),
            ["quantity-mismatch parts.csv `3`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "holes C,2,3", "holes C,2,4").findings(),
            ["quantity-mismatch parts.csv `4`"]
        );
        assert_eq!(
            sound().edit("parts.csv", "finished,,,1", "finished,,,2").findings(),
            ["quantity-mismatch parts.csv `2`"]
        );
        assert_eq!(
            sound().edit("steps/finish/30-close.md", "2 x KW-202", "1 x KW-202").findings(),
            ["quantity-mismatch steps/finish/10-cross.md `KW-202`"]
        );
    }

    #[test]
    fn another_part_taken() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "- KW-105", "- KW-104").findings(),
            ["quantity-mismatch steps/frame/10-keel.md `KW-104`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "- KW-300", "- KW-200").findings(),
            ["quantity-mismatch steps/finish/20-brake.md `KW-200`"]
        );
    }
}
