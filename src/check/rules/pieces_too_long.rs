//! Pieces that a step cuts from one part and that, with a saw kerf between each two, are longer than that part.
//!
//! It matters because the last piece comes out short, and there is no other tube in the crate.
//!
//! Wrong: three pieces of 10 in from a part of 30 in. Right: from one of 30 1/8 in, with a kerf of 1/16 in.
//!
//! It can't be accepted.

use super::cut_too_long::text;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::units::Length;

pub const RULE: Rule = Rule {
    id: "pieces-too-long",
    level: Level::Error,
    summary: "pieces that together are longer than what they are cut from",
    source: "arithmetic: the pieces and a kerf between each two of them must fit",
    bending: Leave::Refused,
    file: include_str!("pieces_too_long.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    let parts = &ctx.manual.parts;
    for step in &ctx.manual.steps {
        for item in step.parts.iter().filter(|p| !p.becomes.is_empty()) {
            let Some(from) = parts.get(&item.part.value) else { continue };
            let Some(length) = from.blank_length.or(from.cut_length) else { continue };
            let lengths =
                || item.becomes.iter().filter_map(|(piece, n)| Some((parts.get(&piece.value)?.cut_length?.value, *n)));
            // One piece that is too long by itself is another rule's finding.
            if lengths().any(|(piece, _)| piece > length.value) {
                continue;
            }
            let count: i64 = lengths().map(|(_, n)| n).sum();
            let pieces: Length = lengths().map(|(piece, n)| piece * n).sum();
            let needed = pieces + ctx.manual.settings.kerf * (count - 1).max(0);
            if needed <= length.value {
                continue;
            }
            let first = item.becomes[0].0.span;
            let last = item.becomes[item.becomes.len() - 1].0.span;
            sink.push(
                RULE.found(format!(
                    "the pieces of {} need {}, and it has {}",
                    from.number.value,
                    text(ctx, needed),
                    text(ctx, length.value)
                ))
                .at(first.to(last), format!("{count} pieces with {} kerfs", count - 1))
                .note(length.span, "the length they are cut from")
                .help("correct a length or the number of pieces")
                .about(&from.number.value)
                .about(&step.id.value),
            );
        }
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn pieces_and_kerfs_must_fit() {
        assert_eq!(
            sound().edit("parts.csv", "Short piece,,,T-1,8", "Short piece,,,T-1,9").findings(),
            ["pieces-too-long steps/finish/10-cross.md `KW-201, 2 x KW-202`"]
        );
        assert_eq!(sound().edit("parts.csv", "Short piece,,,T-1,8", "Short piece,,,T-1,8 15/16").findings(), [""; 0]);
        assert_eq!(
            sound().edit("parts.csv", "Short piece,,,T-1,8", "Short piece,,,T-1,8 61/64").findings(),
            ["pieces-too-long steps/finish/10-cross.md `KW-201, 2 x KW-202`"]
        );
    }
}
