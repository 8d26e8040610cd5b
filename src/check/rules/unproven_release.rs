//! A release of an earlier form, which does not carry the digest of itself.
//!
//! It matters because damage in it would not be noticed: a changed figure would be printed as if it had been released.
//!
//! Wrong: releases made by an early version of kitwright, as they are. Right: compare them with a copy that you trust, then
//! write their digests beside them: `kitwright release --seal --against FOLDER`. A seal holds from the day it is made; it
//! proves nothing of the time before. A later release proves those before it in the same way.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unproven-release",
    level: Level::Warning,
    summary: "a release that carries no digest of itself",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("unproven_release.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let letters = &ctx.past.unproven;
    let words = match &letters[..] {
        [] => return Sink::new(),
        [one] => format!("release {one} carries no digest of itself; damage in it would not be noticed"),
        more => {
            format!("releases {} carry no digest of themselves; damage in them would not be noticed", more.join(", "))
        }
    };
    let found = RULE.found(words).in_file("releases");
    [found.help("compare with a copy that you trust: `kitwright release --seal --against FOLDER`")]
        .into_iter()
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_release_of_an_earlier_form_is_said_to_be_unproven() {
        let earlier = |text: String| {
            let begin = format!("schema {}\n", crate::change::SCHEMA);
            let lines: Vec<_> = text.lines().filter(|l| !l.starts_with("program ")).collect();
            (lines.join("\n") + "\n").replacen(&begin, "schema 2\n", 1)
        };
        assert_eq!(sound().since(&sound(), earlier).findings(), ["unproven-release releases"]);
        assert_eq!(sound().since(&sound(), |text| text).findings(), [""; 0]);
    }
}
