//! Two parts that are each other's opposite and are no mirror images: another length, another stock, other holes, or
//! end cuts that differ in more than the way the clock runs.
//!
//! It matters because one of the two is then wrong, and the craft is built skew.
//!
//! Wrong: `KW-103-L` 20 in long and `KW-103-R` 21. Of a saddle that sits 1/8 in aside, the opposite sits as much to the
//! other side: `offset: 1/8` on both is the same part twice.
//!
//! To accept: `accept: [{ rule: opposites-differ, about: KW-103-L, reason: ... }]` in manual.yaml.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{BendUse, Cut, Part};
use crate::resolve::Resolved;
use crate::source::Span;
use crate::units::{Hand, Length, PartNumber};

pub const RULE: Rule = Rule {
    id: "opposites-differ",
    level: Level::Error,
    summary: "opposite parts that are no mirror images of one another",
    source: "geometry: in a mirror a clock runs the other way and an offset changes its side",
    bending: Leave::Allowed,
    file: include_str!("opposites_differ.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, resolved: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for left in ctx.manual.parts.values().filter(|p| p.hand == Some(Hand::Left)) {
        let Some(right) = left.opposite.as_ref().and_then(|o| ctx.manual.parts.get(&o.value)) else { continue };
        if right.hand != Some(Hand::Right) {
            continue;
        }
        let drilled = resolved
            .steps
            .iter()
            .flat_map(|s| &s.step.holes)
            .any(|h| [left, right].iter().any(|p| p.number.value == h.part.value));
        let holes = if drilled { None } else { in_holes(left, right) };
        let found = in_list(left, right)
            .or(holes)
            .or_else(|| in_cuts(resolved, &left.number.value, &right.number.value))
            .or_else(|| in_bends(resolved, &left.number.value, &right.number.value));
        sink.extend(found.map(|d| d.about(&left.number.value).about(&right.number.value)));
    }
    sink
}

fn differ(what: &str, left: (&Part, Span), right: (&Part, Span)) -> Diagnostic {
    RULE.found(format!("{} and {} are opposites and differ in their {what}", left.0.number.value, right.0.number.value))
        .at(right.1, format!("not the {what} of the other"))
        .note(left.1, "the other hand")
        .help("make both alike, or take the opposite out of the list")
}

fn in_list(left: &Part, right: &Part) -> Option<Diagnostic> {
    let found = |what: &str, a: Span, b: Span| differ(what, (left, a), (right, b));
    let length = |p: &Part| p.cut_length.map(|l| l.value);
    if length(left) != length(right) {
        let at = |p: &Part| p.cut_length.map_or(p.number.span, |l| l.span);
        return Some(found("length", at(left), at(right)));
    }
    let stock = |p: &Part| p.stock.as_ref().map(|s| s.value.clone());
    if stock(left) != stock(right) {
        let at = |p: &Part| p.stock.as_ref().map_or(p.number.span, |s| s.span);
        return Some(found("stock", at(left), at(right)));
    }
    None
}

/// Where a step works on the holes of either, its own rules compare list and work.
fn in_holes(left: &Part, right: &Part) -> Option<Diagnostic> {
    let found = |what: &str, a: Span, b: Span| differ(what, (left, a), (right, b));
    let holes = |p: &Part| {
        let mut all = (p.supplied.pilot_holes.clone(), p.supplied.holes.clone());
        all.0.sort();
        all.1.sort();
        all
    };
    if holes(left) != holes(right) {
        let at = |p: &Part| p.supplied.span.unwrap_or(p.number.span);
        return Some(found("holes", at(left), at(right)));
    }
    None
}

/// An end's cut as its opposite has it.
type MirroredEnd = (Option<&'static str>, &'static str, Option<crate::units::Angle>, Option<u8>, Length);

fn in_cuts(resolved: &Resolved, left: &PartNumber, right: &PartNumber) -> Option<Diagnostic> {
    let cuts = |of: &PartNumber| -> Vec<&Cut> {
        resolved.steps.iter().flat_map(|s| &s.step.cuts).filter(|c| c.part.value == *of).map(|c| &c.value).collect()
    };
    let (ours, theirs) = (cuts(left), cuts(right));
    // A part that no step cuts on one side is another finding.
    if ours.is_empty() || theirs.is_empty() {
        return None;
    }
    let plain = |c: &Cut| (c.end.map(|e| e.value.word()), c.kind.word(), c.angle.map(|a| a.value), hour(c), offset(c));
    let mirrored = |c: &Cut| -> MirroredEnd {
        let (end, kind, angle, hour, offset) = plain(c);
        (end, kind, angle, hour.map(|h| if h == 12 { 12 } else { 12 - h }), Length::ZERO - offset)
    };
    let wrong = theirs.iter().find(|t| !ours.iter().any(|o| mirrored(o) == plain(t)))?;
    let other = ours.iter().find(|o| o.end.map(|e| e.value) == wrong.end.map(|e| e.value)).or(ours.first())?;
    let span = wrong
        .offset
        .map(|o| o.span)
        .filter(|_| offset(wrong) != Length::ZERO - offset(other))
        .unwrap_or(wrong.part.span);
    Some(
        RULE.found(format!("the cuts of {left} and {right} are no mirror images"))
            .at(span, "not the mirror image of the other hand's cut")
            .note(other.offset.map_or(other.part.span, |o| o.span), "the other hand")
            .help("mirror it: 3 o'clock becomes 9, an offset changes its sign; or write the step once with `opposite: yes`"),
    )
}

/// Legs, angles and radii are the same; the clock runs the other way.
fn in_bends(resolved: &Resolved, left: &PartNumber, right: &PartNumber) -> Option<Diagnostic> {
    let of = |part: &PartNumber| resolved.steps.iter().flat_map(|s| &s.step.bends).find(|b| b.part.value == *part);
    let (ours, theirs) = (of(left)?, of(right)?);
    let values = |b: &BendUse| {
        let legs: Vec<_> = b.legs.iter().map(|l| l.value).collect();
        let bends: Vec<_> = b.angles.iter().map(|a| a.value).collect();
        (legs, bends, b.radii.iter().map(|r| r.value).collect::<Vec<_>>())
    };
    let toward = |b: &BendUse| b.toward.iter().map(|c| c.value).collect::<Vec<_>>();
    let mirrored: Vec<_> = toward(ours).iter().map(|c| c.from_other_end()).collect();
    if values(ours) == values(theirs) && mirrored == toward(theirs) {
        return None;
    }
    Some(
        RULE.found(format!("the bends of {left} and {right} are no mirror images"))
            .at(theirs.part.span, "not the mirror image of the other hand's bends")
            .note(ours.part.span, "the other hand")
            .help("mirror them: the same legs, angles and radii, and 3 o'clock becomes 9; or write the step once with `opposite: yes`"),
    )
}

fn hour(cut: &Cut) -> Option<u8> {
    cut.long_point.map(|c| c.value.hour())
}

fn offset(cut: &Cut) -> Length {
    cut.offset.map_or(Length::ZERO, |o| o.value)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    fn found(case: Case) -> Vec<String> {
        case.findings().into_iter().filter(|f| f.starts_with("opposites-differ")).collect()
    }

    #[test]
    fn opposites_are_mirror_images() {
        assert_eq!(found(sound()), [""; 0]);
        let cuts = |right: &str| {
            sound()
                .edit("steps/frame/20-left.md", "hand: left\n", "hand: left\ncuts: [{ part: KW-103-L, end: A, cut: saddle, onto: KW-105, angle: 60, long-point: 3, offset: 1/8 }]\n")
                .edit("steps/frame/21-right.md", "hand: right\n", &format!("hand: right\ncuts: [{{ part: KW-103-R, end: A, cut: saddle, onto: KW-105, angle: 60, {right} }}]\n"))
        };
        assert_eq!(found(cuts("long-point: 9, offset: -1/8")), [""; 0]);
        assert_eq!(found(cuts("long-point: 9, offset: 1/8")), ["opposites-differ steps/frame/21-right.md `1/8`"]);
        assert_eq!(found(cuts("long-point: 3, offset: -1/8")), ["opposites-differ steps/frame/21-right.md `KW-103-R`"]);
        let bends = |right: &str| {
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "hand: left\n",
                    "hand: left\nbends: [{ part: KW-103-L, legs: [2, 3], angle: 90, radius: 1, toward: 12 }]\n",
                )
                .edit(
                    "steps/frame/21-right.md",
                    "hand: right\n",
                    &format!("hand: right\nbends: [{{ part: KW-103-R, {right} }}]\n"),
                )
        };
        assert_eq!(found(bends("legs: [2, 3], angle: 90, radius: 1, toward: 12")), [""; 0]);
        assert_eq!(
            found(bends("legs: [2, 4], angle: 90, radius: 1, toward: 12")),
            ["opposites-differ steps/frame/21-right.md `KW-103-R`"]
        );
        assert_eq!(
            found(bends("legs: [2, 3], angle: 90, radius: 1, toward: 6")),
            ["opposites-differ steps/frame/21-right.md `KW-103-R`"]
        );
    }
}
