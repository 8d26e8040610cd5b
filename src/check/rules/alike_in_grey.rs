//! Two colours of a drawing that mean different things and are one in a grey print: less than 15 L* apart.
//!
//! It matters because the shop works from a copy in grey. A red cable and a green one that are the same grey there are
//! one cable.
//!
//! L* is the lightness of CIE 1976, 0 for black to 100 for white; a grey print keeps it. Areas are held against areas,
//! lines against lines. Tints of one colour count as one, and so do black, white and greys.
//!
//! Where `hatching` in manual.yaml is not `no`, areas get a hatch and unbroken lines get dashes by a fixed key that is
//! printed below the figure. Then only broken lines are found here, for their dashes are the author's.
//!
//! Wrong: `#c8102e` beside `#2e7d32`, 3.7 L* apart. Right: `#c8102e` beside `#1b5e20`, or one of the lines dashed.
//!
//! To accept: `accept: [{ rule: alike-in-grey, about: cables.svg, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::figure::{Alike, CLOSE};

pub const RULE: Rule = Rule {
    id: "alike-in-grey",
    level: Level::Warning,
    summary: "two colours of a drawing that are one in a grey print",
    source: "CIE 17-23-076 (lightness); 15 L* is common practice",
    bending: Leave::Allowed,
    file: include_str!("alike_in_grey.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let hatching = ctx.manual.settings.hatching;
    let mut sink = Sink::new();
    for (figure, greyed) in ctx.greyed() {
        let name = &figure.value;
        for Alike { colors: (a, b), hues, apart } in greyed.coloured.alike(hatching) {
            let (a_word, b_word) = (hues.0.word(), hues.1.word());
            let (old, new) = Alike { colors: (a, b), hues, apart }.suggestion();
            let d = RULE
                .found(format!("{a_word} and {b_word} in {name} are one grey"))
                .at(figure.span, format!("#{a:06x} and #{b:06x} are {apart:.1} L* apart, and {CLOSE:.0} are needed"))
                .help(format!("draw #{old:06x} as #{new:06x}, or draw one of them with other dashes"));
            sink.push(d.about(name));
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const LINES: &str = "<path d=\"M0 9H90\" stroke=\"#c8102e\" stroke-width=\"2\" fill=\"none\"/><path d=\"M0 29H90\" stroke=\"#2e7d32\" stroke-width=\"2\" fill=\"none\"/></svg>";

    #[test]
    fn lines_of_one_grey() {
        let two = |lines: &str| sound().edit("figures/bracket.svg", "</svg>", lines);
        assert_eq!(two(LINES).findings(), [""; 0], "dashes stand for them");
        let refused = two(LINES).add("manual.yaml", "hatching: no\n");
        assert_eq!(refused.findings(), ["alike-in-grey steps/frame/20-left.md `bracket.svg`"]);
        let help = refused.only().help;
        let better =
            help.split_whitespace().filter(|w| w.starts_with('#')).map(|w| w.trim_end_matches(',')).collect::<Vec<_>>();
        assert_eq!(
            two(&LINES.replace(better[0], better[1])).add("manual.yaml", "hatching: no\n").findings(),
            [""; 0],
            "{help}"
        );
        let dashed = LINES.replace("fill=\"none\"/>", "fill=\"none\" stroke-dasharray=\"6 3\"/>");
        assert_eq!(two(&dashed).findings(), ["alike-in-grey steps/frame/20-left.md `bracket.svg`"]);
    }
}
