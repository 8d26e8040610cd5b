//! A release of which this version of kitwright makes other steps or quantities than the version that made it.
//!
//! It matters because a kit was packed and built by what the release said then. The release is whole: its digest is
//! right, so the difference comes from the program.
//!
//! Wrong: the manual of an old kit printed with a new version, unread. Right: the same with the version that made the
//! release, or the difference read and judged first.

use crate::check::{Leave, Rule, Run};
use crate::diag::Level;

pub const RULE: Rule = Rule {
    id: "release-otherwise",
    level: Level::Warning,
    summary: "a release of which this version makes something else than the version that made it",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("release_otherwise.rs"),
    run: Run::OnPaper,
};
