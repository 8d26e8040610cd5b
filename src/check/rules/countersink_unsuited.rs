//! A member of a stack that is countersunk for a head that is none, or that is thinner than the head is deep.
//!
//! It matters because a head that does not sit in its cone works loose, and a cone that goes right through leaves an edge like a
//! knife, which cracks.
//!
//! A countersunk head is taken for half as deep as its shank is thick at 90 degrees, and for two fifths at 100 (from memory).
//! Thinner sheet is dimpled, or clamped with a washer for countersunk heads.
//!
//! Wrong: `countersunk: yes` on the sheet, and a hexagon bolt. Right: a screw with a countersunk head.
//!
//! To accept: `accept: [{ rule: countersink-unsuited, about: hinge, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::fit::CountedAs;
use crate::trade::{ItemForm, RivetHead, Source};
use crate::units::{Length, Rational};

pub const RULE: Rule = Rule {
    id: "countersink-unsuited",
    level: Level::Warning,
    summary: "a countersink without a head for it, or deeper than its sheet",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("countersink_unsuited.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(fastener) = seen.reading.fastener.as_deref() else { continue };
        for (at, member) in seen.joint.stack.iter().enumerate() {
            let Some(countersunk) = member.countersunk else { continue };
            let part = &member.part.value;
            let Some(depth) = depth(fastener.form) else {
                let d = RULE
                    .found(format!(
                        "{}: {part} is countersunk, and {} has no head for it",
                        called(seen),
                        fastener.designation
                    ))
                    .at(countersunk, "countersunk here")
                    .help("name a fastener with a countersunk head, or take `countersunk` out")
                    .about(part);
                sink.push(about_joint(d, seen));
                continue;
            };
            if at > 0 {
                let d = RULE
                    .found(format!("{}: {part} is countersunk, and the head lies on another part", called(seen)))
                    .at(countersunk, "not the first of the stack")
                    .help("write the stack from the head on, or take `countersunk` out")
                    .about(part);
                sink.push(about_joint(d, seen));
                continue;
            }
            let thickness = seen.reading.members.first().and_then(|m| m.counted);
            let (Some(CountedAs::As(thickness)), Some(diameter)) = (thickness, fastener.diameter) else { continue };
            let deep = Length::from_inches(diameter.value.as_inches() * depth);
            if thickness < deep {
                let d = RULE
                    .found(format!(
                        "{}: {part} is {} thick, and the head goes {} deep",
                        called(seen),
                        words(ctx, thickness),
                        words(ctx, deep)
                    ))
                    .at(countersunk, "the cone goes right through")
                    .help("dimple the sheet, or use a protruding head or a washer for countersunk heads")
                    .about(part);
                sink.push(about_joint(no_stronger_than(d, Source::FromMemory), seen));
            }
        }
    }
    sink
}

/// How deep a countersunk head is, in diameters; none for other heads.
fn depth(form: ItemForm) -> Option<Rational> {
    match form {
        ItemForm::CountersunkScrew | ItemForm::WoodScrew => Some(Rational::new(1, 2)),
        ItemForm::SolidRivet(RivetHead::Flush100 | RivetHead::Flush120)
        | ItemForm::BlindRivet(RivetHead::Flush100 | RivetHead::Flush120) => Some(Rational::new(2, 5)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_countersink_has_its_head() {
        let step = "steps/frame/20-left.md";
        let found =
            sound().edit(step, "stack: [KW-103-L, {", "stack: [{ part: KW-103-L, countersunk: yes }, {").findings();
        assert_eq!(found, [format!("countersink-unsuited {step} `yes`")]);
    }

    #[test]
    fn a_thin_sheet_has_no_room_for_it() {
        let step = "steps/frame/20-left.md";
        let flush = |thickness: &str| {
            sound()
                .edit(
                    "hardware.csv",
                    "AN4-10A,Bolt,bolt,each\n",
                    "AN4-10A,Bolt,bolt,each\nISO 10642 M6x20 8.8,Screw,screw,each\nISO 7040 M6 8,Nut,nut,each\n",
                )
                .edit(step, "fastener: AN4-10A", "fastener: ISO 10642 M6x20 8.8")
                .edit(step, "nut: AN365-428A", "nut: ISO 7040 M6 8")
                .edit(
                    step,
                    "stack: [KW-103-L, {",
                    &format!("stack: [{{ part: KW-103-L, countersunk: yes, thickness: {thickness} }}, {{"),
                )
                .findings()
                .into_iter()
                .filter(|f| f.starts_with("countersink"))
                .collect::<Vec<_>>()
        };
        assert_eq!(flush("2 mm"), [format!("countersink-unsuited {step} `yes`")]);
        assert_eq!(flush("4 mm"), [""; 0]);
    }
}
