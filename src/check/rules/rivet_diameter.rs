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
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::trade::fit::Layer;
use crate::trade::{ItemForm, rivet_diameters, rivet_through_tube};

pub const RULE: Rule = Rule {
    id: "rivet-diameter",
    level: Level::Warning,
    summary: "a solid rivet whose diameter does not go with the sheet or tube",
    source: "NAVEDTRA 14018; FAA AC 43.13-1B, 4-58a",
    bending: Leave::Allowed,
    file: include_str!("rivet_diameter.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Some(ItemForm::SolidRivet(_)) = seen.reading.form() else { continue };
        let Some(diameter) = seen.reading.fastener.as_ref().and_then(|r| r.diameter) else { continue };
        let layers: Vec<Layer> = seen.reading.members.iter().filter_map(|m| m.layer.ok()).collect();
        let tube = layers
            .iter()
            .filter_map(|l| if let Layer::Tube { outside_diameter, .. } = l { Some(*outside_diameter) } else { None })
            .max();
        let sheet =
            layers.iter().filter_map(|l| if let Layer::Flat(t) | Layer::Wall(t) = l { Some(*t) } else { None }).max();
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
            Some(most) if diameter.value > most => {
                format!("take a rivet of {} to {}", words(ctx, least), words(ctx, most))
            }
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

    /// The worked example of FAA AC 43.13-1B, p. 4-27: two sheets of .032 in, a joint 10 in wide, 1/8 in rivets of 2117, and
    /// 4.9 x .75 = 3.7 of them to the inch: 37. They are of the right diameter; by NAVEDTRA 14018 (grip + 1.5 D) a quarter
    /// inch long; and do not go into one row, 2 D from the edges and 3 D apart, but into two.
    #[test]
    fn the_worked_example_is_without_findings() {
        let with = |dash: u8, rows: &str| {
            sound()
                .edit("stock.csv", "S-2,6061-T6,sheet,,.058", "S-2,2024-T3,sheet,,.032")
                .edit("parts.csv", "finished; holes C", "finished; no holes")
                .edit("hardware.csv", "AN380-2-2", &format!("MS20470AD4-{dash},Rivet,solid rivet,each\nAN380-2-2"))
                .edit("steps/frame/40-paint.md", "consumables:", &format!("tools: [drill]\nholes:\n  - {{ part: KW-104, hole: row, count: 74, do: drill, drill: \"#30\", for: MS20470AD4-{dash} }}\njoints:\n  - {{ fastener: MS20470AD4-{dash}, stack: [KW-104, KW-104], places: 37, carries: shear }}\nconsumables:"))
                .edit("steps/frame/40-paint.md", "2. Rivet", "2. Drill the row.\n3. Rivet")
                .add("holes.csv", &format!("part,hole,count,along,across,pitch,edge\n{rows}"))
                .findings()
        };
        let two = "KW-104,row,19,1/2,1/4,1/2,1/4\nKW-104,row,18,3/4,5/8,1/2,1/4\n";
        assert_eq!(with(4, two), [""; 0]);
        assert_eq!(with(6, two), ["rivet-length steps/frame/40-paint.md `MS20470AD4-6`"]);
        // 9.5 in between the first and the last of 37 in a row: 36 pitches.
        assert_eq!(with(4, "KW-104,row,37,1/4,1/4,.2639,1/4\n"), ["fastener-spacing holes.csv `.2639`"]);
    }

    /// FAA AC 43.13-1B, 4-58a: an eighth of the outside diameter: 3/32 in is too thin for a 1 in tube. NAVEDTRA 14018:
    /// at least the thickest sheet, here 1/2 in.
    #[test]
    fn the_diameter_follows_sheet_and_tube() {
        let with = |stack: &str| {
            sound()
                .edit("hardware.csv", "AN380-2-2", "MS20470AD3-5,Rivet,solid rivet,each\nAN380-2-2")
                .edit(
                    "steps/frame/20-left.md",
                    "    places: 2\n",
                    &format!("    places: 2\n  - {{ fastener: MS20470AD3-5, stack: [{stack}] }}\n"),
                )
                .check()
                .0
                .into_iter()
                .any(|d| d.rule == "rivet-diameter")
        };
        assert!(with("{ part: KW-101, through: tube }") && with("KW-103-L"));
        assert!(!with("{ part: KW-101, through: wall }"));
    }
}
