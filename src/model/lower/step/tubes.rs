//! Bends, flattened ends, cables, rows of holes and setting out of a step file.

use super::{by, needs_keys};
use crate::diag::{Diagnostic, Sink};
use crate::model::bend::{BendUse, Flattened};
use crate::model::cable::{CableEnd, CableFor, CableKind, CableLead, CableUse, Guide, GuideKind, ThreadHand};
use crate::model::lower::fields::{Fields, LENGTH, count, value};
use crate::model::lower::items::{counted, items, named};
use crate::model::setting_out::{DrilledFrom, Offset, OneJig, Side};
use crate::model::step::{HoleRow, Stations, TubeEnd};
use crate::source::Spanned;
use crate::units::{Angle, Clock, Designation, Length, PartNumber, UnreadableNumber};

/// The values of a list, or of a single value.
fn values<T>(
    f: &Fields,
    name: &str,
    form: &str,
    read: impl Fn(&str) -> Result<T, UnreadableNumber> + Copy,
    sink: &mut Sink,
) -> Vec<Spanned<T>> {
    f.texts(name, sink).iter().filter_map(|t| Some(Spanned::new(value(t, form, read, sink)?, t.span))).collect()
}

/// A length that must be there.
fn needed(f: &Fields, name: &str, sink: &mut Sink) -> Option<Spanned<Length>> {
    let text = f.required(name, "this item", &format!("add `{name}:` and a length"), sink)?;
    Some(Spanned::new(value(&text, LENGTH, Length::parse, sink)?, text.span))
}

pub(super) fn bend(f: &Fields, sink: &mut Sink) -> Option<BendUse> {
    let part = named(f, "part", sink)?.map(PartNumber::new);
    Some(BendUse {
        legs: values(f, "legs", LENGTH, Length::parse, sink),
        angles: values(f, "angle", "write degrees, for example `90`", Angle::parse, sink),
        radii: values(f, "radius", LENGTH, Length::parse, sink),
        toward: values(f, "toward", "write a whole hour from 1 to 12", Clock::parse, sink),
        neutral: f
            .value("neutral", "write a part of the thickness, for example `0.4475`", Length::parse, sink)
            .map(|n| n.map(Length::as_inches)),
        by: by(f, sink),
        part,
    })
}

pub(super) fn flattened(f: &Fields, sink: &mut Sink) -> Option<Flattened> {
    let part = named(f, "part", sink)?.map(PartNumber::new);
    Some(Flattened {
        end: f.word("end", TubeEnd::ALL, TubeEnd::word, sink),
        length: needed(f, "length", sink)?,
        transition: f.length("transition", sink),
        faces: f.clock("faces", sink),
        by: by(f, sink),
        part,
    })
}

pub(super) fn cable(f: &Fields, sink: &mut Sink) -> Option<CableUse> {
    let cable = named(f, "cable", sink)?;
    let end = |name: &str, sink: &mut Sink| f.group(name, sink).map(|end| cable_end(&end, sink));
    Some(CableUse {
        part: f.text("part", sink).map(|t| t.map(PartNumber::new)),
        construction: f.text("construction", sink),
        kind: f.word("kind", CableKind::ALL, CableKind::word, sink).map_or(CableKind::Rope, |k| k.value),
        for_: f.word("for", CableFor::ALL, CableFor::word, sink).map_or(CableFor::Other, |k| k.value),
        sheath: f.text("sheath", sink),
        sheath_length: f.length("sheath-length", sink),
        length: f.length("length", sink),
        label: f.text("label", sink),
        run: items(f, "run", sink, needs_keys, guide),
        proof_load: f.measure("proof-load", sink),
        end_a: end("end-a", sink),
        end_b: end("end-b", sink),
        thread: thread(f, sink),
        cable,
    })
}

fn guide(f: &Fields, sink: &mut Sink) -> Option<Guide> {
    let at = f.text("at", sink).map(|t| t.value);
    for &kind in GuideKind::ALL {
        if let Some(name) = f.text(kind.word(), sink) {
            return Some(Guide { kind, name, at });
        }
    }
    sink.push(
        Diagnostic::error("missing-key", "a place of a cable's run has neither `fairlead` nor `pulley`")
            .at(f.span, "what leads the cable is missing here")
            .help("write `{ fairlead: PART }` or `{ pulley: DESIGNATION }`"),
    );
    None
}

fn thread(f: &Fields, sink: &mut Sink) -> Option<CableLead> {
    let node = f.get("thread")?;
    if matches!(node.kind, crate::syntax::NodeKind::Sequence(_)) {
        return Some(CableLead::These(f.texts("thread", sink)));
    }
    f.yes_no("thread", sink).filter(|y| y.value).map(|y| CableLead::All(y.span))
}

fn cable_end(f: &Fields, sink: &mut Sink) -> CableEnd {
    let designation = |name, sink: &mut Sink| f.text(name, sink).map(|t| t.map(Designation::new));
    CableEnd {
        span: f.span,
        thimble: designation("thimble", sink),
        sleeve: designation("sleeve", sink),
        sleeves: f.count("sleeves", f.span, sink).0,
        crimps: f.text("crimps", sink).and_then(|t| count(&t, sink)),
        loop_: f.length("loop", sink),
        tail: f.length("tail", sink),
        reach: f.length("reach", sink),
        turnbuckle: designation("turnbuckle", sink),
        turnbuckle_ends: f.texts("turnbuckle-ends", sink).into_iter().map(|t| t.map(Designation::new)).collect(),
        thread: f.word("thread", ThreadHand::ALL, ThreadHand::word, sink),
        wraps: f.text("wraps", sink).and_then(|t| Some(Spanned::new(count(&t, sink)?, t.span))),
        nipple: designation("nipple", sink),
        ferrule: designation("ferrule", sink),
        maker_value: f.measure("maker-value", sink),
        pin_through: f.texts("pin-through", sink).into_iter().map(|t| t.map(PartNumber::new)).collect(),
        safety: f.text("safety", sink),
        fittings: f
            .texts("fittings", sink)
            .iter()
            .filter_map(|t| counted(t, sink))
            .map(|(name, n, _)| (name.map(Designation::new), n))
            .collect(),
    }
}

/// The row of a hole item; none where it has no places.
pub(super) fn hole_row(f: &Fields, sink: &mut Sink) -> Option<HoleRow> {
    let from = f.word("from-end", TubeEnd::ALL, TubeEnd::word, sink).map_or(TubeEnd::A, |e| e.value);
    let line = f.clock("line", sink);
    let (first, last) = (f.length("first", sink), f.length("last", sink));
    let at = values(f, "stations", LENGTH, Length::parse, sink);
    let stations = match (first, last) {
        _ if !at.is_empty() => Stations::At(at),
        (Some(first), Some(last)) => Stations::Spaced { first, last },
        (Some(one), None) | (None, Some(one)) => {
            sink.push(
                Diagnostic::error("missing-key", "a row of holes has only one of `first` and `last`")
                    .at(one.span, "the other is missing")
                    .help("write both, or `stations` with the place of each hole"),
            );
            return None;
        }
        (None, None) => return None,
    };
    Some(HoleRow { span: f.span, from, line, stations })
}

pub(super) fn offset(f: &Fields, sink: &mut Sink) -> Option<Offset> {
    let place = named(f, "place", sink)?;
    let from = f.required("from", "this item", "add `from:` and the id of a datum of manual.yaml", sink)?;
    let away: Vec<_> = Side::ALL.iter().filter_map(|&side| Some((side, f.length(side.word(), sink)?))).collect();
    if away.is_empty() {
        sink.push(
            Diagnostic::error("missing-key", "an offset does not say how far and to which side")
                .at(place.span, "no side is written here")
                .help("add a side and a length, for example `left: 24`"),
        );
        return None;
    }
    Some(Offset { place, from, away })
}

pub(super) fn one_jig(f: &Fields, sink: &mut Sink) -> Option<OneJig> {
    let node = f.get("one-jig")?;
    let jig = f.group("one-jig", sink)?;
    let face_up = jig.required(
        "face-up",
        "`one-jig`",
        "add `face-up:` and the face of the part that is up, for example `outer face`",
        sink,
    )?;
    Some(OneJig {
        span: node.span,
        face_up,
        opposite_face_up: jig.text("opposite-face-up", sink),
        drilled_from: jig
            .word("drilled-from", DrilledFrom::ALL, DrilledFrom::word, sink)
            .map_or(DrilledFrom::Above, |d| d.value),
    })
}
