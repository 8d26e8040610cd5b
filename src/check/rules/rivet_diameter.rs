//! A solid rivet whose diameter does not go with what it holds: thinner than the thickest sheet or more than three times
//! as thick, or right through a tube and less than an eighth of its outside diameter.
//!
//! It matters because a thin rivet shears, and a thick one buckles the sheet when it is driven.
//!
//! The rule about tubes is for rivets right through both walls; one wall is taken as sheet.
//!
//! Wrong: a 3/32 in rivet right through a 1 in tube. Right: 1/8 in.
//!
//! To accept: `accept: [{ rule: rivet-diameter, about: rib-rivets, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, no_stronger_than, words};
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::fit::Layer;
use crate::trade::{Form, rivet_diameters, rivet_through_tube};

pub const RULE: Rule = Rule {
    id: "rivet-diameter",
    level: Level::Warning,
    summary: "a solid rivet whose diameter does not go with the sheet or tube",
    source: "NAVEDTRA 14018; FAA AC 43.13-1B, 4-58a",
    bending: Bending::Allowed,
    file: include_str!("rivet_diameter.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(Form::SolidRivet(_)) = seen.reading.form() else { continue };
        let Some(diameter) = seen.reading.fastener.as_ref().and_then(|r| r.diameter) else { continue };
        let layers: Vec<Layer> = seen.reading.members.iter().filter_map(|m| m.layer.ok()).collect();
        let tube = layers.iter().filter_map(|l| if let Layer::Tube { outside_diameter, .. } = l { Some(*outside_diameter) } else { None }).max();
        let sheet = layers.iter().filter_map(|l| if let Layer::Flat(t) | Layer::Wall(t) = l { Some(*t) } else { None }).max();
        let (least, most, source) = match (tube, sheet) {
            (Some(tube), _) => {
                let least = rivet_through_tube(tube);
                (least.value, None, least.source)
            }
            (None, Some(sheet)) => {
                let range = rivet_diameters(sheet);
                (range.value.0, Some(range.value.1), range.source)
            }
            (None, None) => continue,
        };
        let fastener = &seen.joint.fastener;
        let help = match most {
            _ if diameter.value < least => format!("take a rivet of at least {}", words(ctx, least)),
            Some(most) if diameter.value > most => format!("take a rivet of {} to {}", words(ctx, least), words(ctx, most)),
            _ => continue,
        };
        let d = RULE
            .found(format!("{} has {} and is no size for {}", fastener.value, words(ctx, diameter.value), called(seen)))
            .at(fastener.span, source.words())
            .help(help);
        sink.push(about_joint(no_stronger_than(d, source.min(diameter.source)), seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// FAA AC 43.13-1B, 4-58a: an eighth of the outside diameter: 3/32 in is too thin for a 1 in tube. NAVEDTRA 14018:
    /// at least the thickest sheet, here 1/2 in.
    #[test]
    fn the_diameter_follows_sheet_and_tube() {
        let with = |stack: &str| {
            sound()
                .edit("hardware.csv", "AN380-2-2", "MS20470AD3-5,Rivet,solid rivet,each\nAN380-2-2")
                .edit("steps/frame/20-left.md", "    places: 2\n", &format!("    places: 2\n  - {{ fastener: MS20470AD3-5, stack: [{stack}] }}\n"))
                .check()
                .0
                .into_iter()
                .any(|d| d.rule == "rivet-diameter")
        };
        assert!(with("{ part: KW-101, through: tube }") && with("KW-103-L"));
        assert!(!with("{ part: KW-101, through: wall }"));
    }
}
