//! A link, a figure or a font whose path leaves the manual's folder.
//!
//! It matters because such a file is not on the stick, and because a manual must not reach for other files of the
//! machine it is made on.
//!
//! Wrong: `figure: ../photos/bracket.png`. Right: a copy of the picture in the folder figures, and `figure:
//! bracket.png`.
//!
//! It can't be accepted.

use crate::check::names::Kind;
use crate::check::prose;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Span;

pub const RULE: Rule = Rule {
    id: "outside-folder",
    level: Level::Error,
    summary: "a path that leaves the manual's folder",
    source: "the documents may hold nothing but the manual's own files",
    bending: Leave::Refused,
    file: include_str!("outside_folder.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let mut report = |what: &str, path: &str, span: Span| {
        sink.push(
            RULE.found(format!("the {what} `{path}` leaves the manual's folder"))
                .at(span, "outside the folder")
                .help("copy the file into the manual's folder and write its path there")
                .about(path),
        );
    };
    for (name, mentions) in ctx.names.unknown(Kind::Figure) {
        if leaves(name) {
            report("figure", name, mentions[0].span);
        }
    }
    let bodies = ctx.manual.steps.iter().map(|s| &s.body).chain(ctx.manual.pages.iter().map(|p| &p.body));
    for to in bodies.flat_map(|body| prose::links(body)) {
        if !to.value.starts_with("figure:") && leaves(&to.value) {
            report("link", &to.value, to.span);
        }
    }
    if let Some(font) = ctx.manual.settings.font.as_ref().filter(|f| leaves(&f.value)) {
        report("font", &font.value, font.span);
    }
    sink
}

/// Whether a path, or a link, points out of the manual's folder. `a/../b` counts: it is never needed.
pub fn leaves(path: &str) -> bool {
    let lower = path.to_ascii_lowercase();
    let windows_drive = matches!(lower.as_bytes(), [b'a'..=b'z', b':', b'/' | b'\\', ..]);
    let outside = ["http://", "https://", "mailto:", "tel:"].iter().any(|scheme| lower.starts_with(scheme));
    !outside
        && (lower.starts_with("file:")
            || lower.starts_with(['/', '\\'])
            || windows_drive
            || lower.split(['/', '\\']).any(|name| name == ".." || name == "%2e%2e"))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn paths_stay_inside() {
        assert_eq!(
            sound().add("steps/frame/10-keel.md", "\nSee [x](../secret.txt).\n").findings(),
            ["outside-folder steps/frame/10-keel.md `../secret.txt`"]
        );
        assert_eq!(
            sound().edit("steps/finish/20-brake.md", "figure: brake.svg", "figure: ../brake.svg").findings(),
            ["outside-folder steps/finish/20-brake.md `../brake.svg`"]
        );
        assert_eq!(
            sound().add("manual.yaml", "fonts: { body: /etc/font.ttf }\n").findings(),
            ["outside-folder manual.yaml `/etc/font.ttf`"]
        );
        assert_eq!(
            sound().add("steps/frame/10-keel.md", "\nSee [x](https://example.org/a/../b).\n").findings(),
            [""; 0]
        );
    }
}
