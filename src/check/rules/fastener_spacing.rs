//! Holes too near an edge, an end or each other, in diameters of their fastener: by `edge:` or `pitch:` of a joint, or by
//! the places of the holes in holes.csv and of the rows of holes in steps.
//!
//! It matters because the sheet tears out between the hole and its edge, or from hole to hole.
//!
//! Two diameters to the edge, two and a half for flush heads, three from hole to hole in a row, two and a half from row to
//! row; settable under `fastening` in manual.yaml. Where nothing is said of a distance nothing is found. Holes without a
//! fastener are taken by their own size.
//!
//! Wrong: `edge: 3/8` for a 1/4 in bolt. Right: `edge: 1/2`.
//!
//! To accept: `accept: [{ rule: fastener-spacing, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::{Near, NearWhat, too_near};
use crate::resolve::Resolved;
use crate::trade::{ItemForm, RivetHead, Spacing};
use crate::units::{Length, decimal_text};

pub const RULE: Rule = Rule {
    id: "fastener-spacing",
    level: Level::Error,
    summary: "holes too near an edge or to each other",
    source: "FAA AC 43.13-1B ch. 4: 2 D to the edge, 2.5 D flush, 3 D pitch; settable",
    bending: Leave::Allowed,
    file: include_str!("fastener_spacing.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let spacing = &ctx.manual.settings.fastening.spacing;
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(diameter) = seen.reading.fastener.as_ref().and_then(|f| f.diameter) else { continue };
        let flush = matches!(
            seen.reading.form(),
            Some(
                ItemForm::SolidRivet(RivetHead::Flush100 | RivetHead::Flush120)
                    | ItemForm::BlindRivet(RivetHead::Flush100 | RivetHead::Flush120)
            )
        );
        let edge = if flush { spacing.flush_edge } else { spacing.edge };
        for (name, given, diameters) in [("edge", &seen.joint.edge, edge), ("pitch", &seen.joint.pitch, spacing.pitch)]
        {
            let Some(given) = given else { continue };
            let least = Spacing::least(diameters, diameter.value);
            if !Spacing::short(given.value, least.value) {
                continue;
            }
            let times = decimal_text(diameters.value, 2);
            let d = RULE
                .found(format!(
                    "{}: {name} distance {} is less than {times} diameters",
                    called(seen),
                    words(ctx, given.value)
                ))
                .at(given.span, format!("{times} × {} is {}", words(ctx, diameter.value), words(ctx, least.value)))
                .help(format!(
                    "keep at least {} ({}), or take a thinner fastener",
                    words(ctx, least.value),
                    least.source.words()
                ))
                .about(name);
            sink.push(about_joint(no_stronger_than(d, least.source.min(diameter.source)), seen));
        }
    }
    sink.extend(ctx.resolved.iter().flat_map(|r| places(ctx, r, |_| true)));
    // A kit that is converted uses holes again that are there, under the names of its new steps.
    let is_new = |n: &Near| n.distance != Length::ZERO || !matches!(n.what, NearWhat::InRow(_) | NearWhat::OtherRow(_));
    sink.extend(ctx.further.iter().flat_map(|f| places(ctx, &f.resolved, is_new)));
    sink
}

/// Holes by their places.
fn places(ctx: &Context, r: &Resolved, counts: impl Fn(&Near) -> bool) -> Sink {
    let near = too_near(ctx.manual, &ctx.items, r, ctx.ledger(r));
    near.into_iter()
        // Parts that are not there are another finding.
        .filter(|n| counts(n) && !ctx.excuses.parts.contains(n.part))
        .map(|n| {
            let hole = n.hole;
            let (is, from) = match n.what {
                NearWhat::Edge => ("is", "an edge".to_owned()),
                NearWhat::End => ("is", "an end".to_owned()),
                NearWhat::Beyond => ("lies beyond the end, by", String::new()),
                NearWhat::Next => ("is", "the next of its row".to_owned()),
                NearWhat::InRow(other) => ("is", format!("hole {other}")),
                NearWhat::OtherRow(other) => ("is", format!("hole {other} of another row")),
            };
            let times = decimal_text(n.times.value, 2);
            let distance = words(ctx, n.distance.max(Length::ZERO - n.distance));
            let of = n.fastener.map_or("the hole".to_owned(), ToOwned::to_owned);
            let headline = if n.what == NearWhat::Beyond {
                format!("hole {hole} of {} {is} {distance}", n.part)
            } else {
                format!("hole {hole} of {} {is} {distance} from {from}, less than {times} diameters", n.part)
            };
            let d = RULE
                .found(headline)
                .at(n.span, format!("{times} × {} of {of} is {}", words(ctx, n.diameter.value), words(ctx, n.least)))
                .help(format!(
                    "keep at least {} ({}), or take a thinner fastener",
                    words(ctx, n.least),
                    n.times.source.words()
                ))
                .about(hole)
                .about(n.part)
                .in_configuration(&r.name);
            no_stronger_than(d, n.times.source.min(n.diameter.source))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// FAA AC 43.13-1B ch. 4 and TM 10-5410-229-13P (rows, 2.5 D): for a 1/4 in bolt 1/2 in to the edge, 3/4 in in a
    /// row, 5/8 in from row to row.
    #[test]
    fn places_are_measured() {
        let step = "steps/frame/20-left.md";
        let with = |rows: &str| {
            sound()
                .edit(step, "drill: 1/4 }", "drill: 1/4, for: AN4-10A }")
                .add("holes.csv", &format!("part,hole,count,along,across,pitch,edge\n{rows}"))
                .findings()
        };
        for (rows, expected) in [
            ("KW-103-L,A,2,1,1/2,3/4,1/2\nKW-101,left,2,1/2,,3/4,\n", ""),
            ("KW-103-L,A,2,1,1/2,11/16,1/2\n", "fastener-spacing holes.csv `11/16`"),
            ("KW-103-L,A,2,1,1/2,3/4,7/16\n", "fastener-spacing holes.csv `7/16`"),
            ("KW-101,left,2,3/8,,3/4,\n", "fastener-spacing holes.csv `3/8`"),
            // 40 in long: the last is 1/4 in from end B.
            ("KW-101,left,2,39,,3/4,\n", "fastener-spacing holes.csv `39`"),
            ("KW-103-L,A,1,1,1/2,,\nKW-103-L,A,1,1 11/16,1/2,,\n", "fastener-spacing holes.csv `1`"),
            // 3/8 in along and 1/2 in aside are 5/8 in aslant, a 3-4-5 triangle.
            ("KW-103-L,A,1,1,1/2,,\nKW-103-L,A,1,1 3/8,1,,\n", ""),
            ("KW-103-L,A,1,1,1/2,,\nKW-103-L,A,1,1 11/32,1,,\n", "fastener-spacing holes.csv `1`"),
        ] {
            assert_eq!(with(rows).join("; "), expected, "{rows}");
        }
    }

    /// The same for a row that a step drills: 3/4 in for a 1/4 in bolt, 1/2 in from either end of a tube 40 in long.
    #[test]
    fn rows_of_steps_are_measured() {
        let with = |row: &str| {
            sound()
                .edit(
                    "steps/frame/20-left.md",
                    "drill: 1/4, for: AN4-10A }",
                    &format!("drill: 1/4, for: AN4-10A, {row} }}"),
                )
                .findings()
        };
        let found = |row| with(row).into_iter().filter(|f| f.starts_with("fastener-spacing")).count();
        for (row, expected) in [
            ("first: 1, last: 1 3/4, line: 12", 0),
            ("first: 1, last: 1 5/8, line: 12", 1),
            ("stations: [1, 1 3/4], from-end: B", 0),
            ("stations: [1/4, 1 3/4], from-end: B", 1),
        ] {
            assert_eq!(found(row), expected, "{row}: {:?}", with(row));
        }
    }

    /// FAA AC 43.13-1B ch. 4: two diameters to the edge, three from hole to hole: 1/2 and 3/4 in for a 1/4 in bolt.
    #[test]
    fn distances_are_in_diameters() {
        let with = |line: &str| {
            sound().edit("steps/frame/20-left.md", "    places: 2\n", &format!("    places: 2\n    {line}\n"))
        };
        assert_eq!(with("edge: 1/2\n    pitch: 3/4").findings(), [""; 0]);
        assert_eq!(with("edge: 3/8").findings(), ["fastener-spacing steps/frame/20-left.md `3/8`"]);
        assert_eq!(with("pitch: 1/2").findings(), ["fastener-spacing steps/frame/20-left.md `1/2`"]);
        let wide = with("edge: 1/2").edit("manual.yaml", "fastening: {", "fastening: { edge: 3,");
        assert_eq!(wide.findings(), ["fastener-spacing steps/frame/20-left.md `1/2`"]);
    }
}
