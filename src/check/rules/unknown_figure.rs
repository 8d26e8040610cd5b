//! A figure that is not in the folder of figures.
//!
//! It matters because the page would have a hole where the picture should be. However often a wrong name is used,
//! it is one finding: at its first place, with notes at the others.
//!
//! Wrong: `figure: braket.svg` while the file is `bracket.svg`. Right: `figure: bracket.svg`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Bending, Context, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-figure",
    level: Level::Error,
    summary: "a figure that is not in the folder of figures",
    source: "common practice",
    bending: Bending::Refused,
    file: include_str!("unknown_figure.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut found = unknown(ctx, &RULE, Kind::Figure, |name| format!("there is no figure {name}"), OTHERWISE);
    // A name that leaves the folder is another rule's finding.
    found.retain(|d| !d.about.iter().any(|name| super::outside_folder::leaves(name)));
    found
}

const OTHERWISE: &str = "correct the file name, or put the picture into the folder figures";

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(sound().remove("figures/bracket.svg").findings(), ["unknown-figure steps/frame/20-left.md `bracket.svg`"]);
        assert_eq!(sound().edit("steps/finish/20-brake.md", "brake.svg", "Brake.svg").findings(), ["unknown-figure steps/finish/20-brake.md `Brake.svg`"]);
    }
}
