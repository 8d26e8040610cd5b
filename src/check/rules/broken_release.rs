//! A release that is not as it was made: a file in the folder `releases` that can't be read, was changed or cut short, is
//! gone although a later release was made after it, or a picture of it that is damaged or gone.
//!
//! It matters because kits were built from it: a changed figure, length or torque would be printed as if it had been
//! released, and what changed since then can no longer be told.
//!
//! A release ends with the digest (SHA-256, FIPS 180-4) of all its lines, and its pictures, templates and fonts lie under
//! their digests in `releases/files`. Nothing is taken from a file whose digest differs. The finding says what can still
//! be trusted.
//!
//! Wrong: a release file that was edited by hand. Right: the file as `kitwright release` wrote it, from version control. A
//! picture whose source has not changed since is put back by `kitwright release --seal`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "broken-release",
    level: Level::Error,
    summary: "a release that is not as it was made",
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
