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
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-figure",
    level: Level::Error,
    summary: "a figure that is not in the folder of figures",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_figure.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut found = unknown(ctx, &RULE, Kind::Figure, |name| format!("there is no figure {name}"), OTHERWISE);
    // A name that leaves the folder is another rule's finding.
    found.retain(|d| !d.about.iter().any(|name| super::outside_folder::leaves(name)));
    for d in &mut found {
        let Some(name) = d.about.first() else { continue };
        if ctx.manual.paths.contains(&format!("figures/{name}")) {
            "the file is there, and its kind is not read: save the picture as JPEG or PNG, a drawing as SVG, and write that name".clone_into(&mut d.help);
        } else if let Some(file) = ctx.manual.figures.keys().find(|f| alike(f.as_str(), name)) {
            d.help = format!(
                "the file's name looks the same and holds other signs for its accents: rename the file, typing `{name}` again, best without accents"
            );
            d.about.push(file.to_string());
        }
    }
    found
}

/// Whether two names differ only in how their accents are written: as signs of their own behind the letter, or with it in one.
fn alike(a: &str, b: &str) -> bool {
    let accent = |c: char| ('\u{300}'..='\u{36F}').contains(&c);
    let bare = |name: &str| {
        let mut out = String::new();
        for c in name.chars() {
            if accent(c) {
                out.pop();
            } else if c.is_ascii() {
                out.push(c);
            }
        }
        out
    };
    a != b && (a.contains(accent) || b.contains(accent)) && bare(a) == bare(b)
}

const OTHERWISE: &str = "correct the file name, or put the picture into the folder figures";

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn one_finding_at_the_first_place() {
        assert_eq!(sound().findings(), [""; 0]);
        assert_eq!(
            sound().remove("figures/bracket.svg").findings(),
            ["unknown-figure steps/frame/20-left.md `bracket.svg`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "brake.svg", "Brake.svg").findings(),
            ["unknown-figure steps/finish/20-brake.md `Brake.svg`"]
        );
        // A photograph of a kind that is not read, and a name whose accent is a sign of its own (Unicode normalization form D).
        let named =
            |name: &str| sound().edit("steps/finish/20-brake.md", "figure: brake.svg", &format!("figure: {name}"));
        let found = named("IMG_1.heic").add("figures/IMG_1.heic", "x").remove("figures/brake.svg").only();
        assert!(found.help.contains("save the picture as JPEG"), "{}", found.help);
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10\" height=\"10\"/>";
        let (found, _) = named("tu\u{308}r.svg").add("figures/t\u{FC}r.svg", svg).remove("figures/brake.svg").check();
        assert!(
            found.iter().any(|d| d.rule == "unknown-figure" && d.help.contains("other signs for its accents")),
            "{found:?}"
        );
    }
}
