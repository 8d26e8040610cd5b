//! Lettering or a line of a drawing that hardly stands out once it is grey: a contrast of less than 4.5 to 1 for
//! letters and 3 to 1 for lines.
//!
//! It matters because the shop copy is printed on a poor printer and read under a poor lamp: yellow on white is
//! white there.
//!
//! What is under a line counts: the area that was drawn last below it, or the paper. The edge of an area is no line.
//!
//! Wrong: a dimension in `#ffd200`, 1.5 to 1 on white. Right: the dimension in black, on a yellow area if it must be.
//!
//! To accept: `accept: [{ rule: faint-in-grey, about: cables.svg, reason: ... }]` in the step's file.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::figure::{LEAST_LETTERING, LEAST_LINE};

pub const RULE: Rule = Rule {
    id: "faint-in-grey",
    level: Level::Warning,
    summary: "lettering or a line of a drawing too faint in a grey print",
    source: "WCAG 2.2, 1.4.3 and 1.4.11",
    bending: Leave::Allowed,
    file: include_str!("faint_in_grey.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (figure, greyed) in ctx.greyed() {
        let name = &figure.value;
        for faint in &greyed.faint {
            let (what, least) = if faint.lettering { ("lettering", LEAST_LETTERING) } else { ("a line", LEAST_LINE) };
            let better = faint.suggestion(least);
            let d = RULE
                .found(format!("{what} in {name} is too faint in grey"))
                .at(
                    figure.span,
                    format!(
                        "#{:06x} on #{:06x} is {:.1} to 1, and {least} to 1 is needed",
                        faint.color,
                        faint.ground,
                        (faint.contrast * 10.0).floor() / 10.0
                    ),
                )
                .help(format!("draw it as #{better:06x}, or put something of another lightness under it"));
            sink.push(d.about(name));
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn what_is_faint() {
        let line = |color: &str| {
            let line = format!("<path d=\"M10 9H90\" stroke=\"{color}\" stroke-width=\"2\" fill=\"none\"/></svg>");
            sound().edit("figures/bracket.svg", "</svg>", &line)
        };
        assert_eq!(line("#ffd200").findings(), ["faint-in-grey steps/frame/20-left.md `bracket.svg`"]);
        let help = line("#ffd200").only().help;
        let better = help.split_whitespace().find(|w| w.starts_with('#')).unwrap().trim_end_matches(',').to_owned();
        assert_eq!(line(&better).findings(), [""; 0], "{help}");
    }
}
