//! A solid rivet that is too short or too long for what it holds: its length should be the stack and one and a half
//! diameters.
//!
//! It matters because a short rivet forms too small a head and a long one bends over.
//!
//! Half a size either way is let pass.
//!
//! Wrong: `MS20470AD4-4` through .126 in. Right: `MS20470AD4-5`.
//!
//! To accept: `accept: [{ rule: rivet-length, about: rib-rivets, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::{ItemForm, RivetLength, judge_rivet_length, rivet_dash, rivet_length};

pub const RULE: Rule = Rule {
    id: "rivet-length",
    level: Level::Error,
    summary: "a solid rivet too short or too long for what it holds",
    source: "NAVEDTRA 14018: grip and one and a half diameters",
    bending: Leave::Allowed,
    file: include_str!("rivet_length.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(ItemForm::SolidRivet(_)) = seen.reading.form() else { continue };
        let (Some(rivet), Some(stack)) = (&seen.reading.fastener, seen.reading.clamped_with_washers()) else {
            continue;
        };
        let (Some(length), Some(diameter)) = (rivet.length, rivet.diameter) else { continue };
        let judged = judge_rivet_length(length.value, stack.value, diameter.value);
        let by = match judged.value {
            RivetLength::Right => continue,
            RivetLength::Short(by) => format!("{} too short", words(ctx, by)),
            RivetLength::Long(by) => format!("{} too long", words(ctx, by)),
        };
        let fastener = &seen.joint.fastener;
        let wanted = words(ctx, rivet_length(stack.value, diameter.value).value);
        let dash = rivet_dash(stack.value, diameter.value).value;
        let lead = fastener.as_str().rsplit_once('-').map_or("", |(lead, _)| lead);
        let help = if lead.is_empty() {
            format!("take a rivet about {wanted} long")
        } else {
            format!("fit {lead}-{dash}; the rule asks for {wanted}")
        };
        let d = RULE
            .found(format!("{} is {by} for {}", fastener.value, called(seen)))
            .at(fastener.span, format!("stack {}", words(ctx, stack.value)))
            .help(help);
        let source = judged.source.min(length.source).min(diameter.source);
        sink.push(about_joint(no_stronger_than(d, source), seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// NAVEDTRA 14018: .558 + 1.5 x .125 is .7455 in, nearest to 12/16.
    #[test]
    fn the_length_follows_the_stack() {
        let with = |rivet: &str| {
            let joint = format!(
                "    places: 2\n  - {{ fastener: {rivet}, stack: [KW-103-L, {{ part: KW-101, through: wall }}] }}\n"
            );
            sound().edit("hardware.csv", "AN380-2-2", &format!("{rivet},Rivet,solid rivet,each\nAN380-2-2")).edit(
                "steps/frame/20-left.md",
                "    places: 2\n",
                &joint,
            )
        };
        let lengths =
            |rivet: &str| with(rivet).check().0.into_iter().filter(|d| d.rule == "rivet-length").collect::<Vec<_>>();
        assert!(lengths("MS20470AD4-12").is_empty());
        assert!(lengths("MS20470AD4-10")[0].help.contains("MS20470AD4-12"));
    }
}
