//! A file in the folder `releases` that can't be read as a release.
//!
//! It matters because kits were built from it: what changed since then, and which kits a change concerns, can no longer
//! be told.
//!
//! Wrong: a release file that was edited by hand. Right: the file as `kitwright release` wrote it, from version control.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "broken-release",
    level: Level::Error,
    summary: "a release that can't be read",
    source: "common practice: what was issued is never edited",
    bending: Leave::Refused,
    file: include_str!("broken_release.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    ctx.past.broken.clone()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_release_is_whole() {
        let damage = |text: String| text.replacen("letter A", "letter I", 1);
        assert_eq!(sound().since(&sound(), damage).findings(), ["broken-release releases/A.release"]);
        assert_eq!(sound().since(&sound(), |text| text).findings(), [""; 0]);
    }
}
