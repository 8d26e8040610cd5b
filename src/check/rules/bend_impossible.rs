//! A bend, or a flattened tube end, that can't be made: legs and bends that do not go together, a bend that has no
//! outside corner, a leg with nothing left beside its bends, a flat that takes more than the tube has.
//!
//! It matters because there is no such piece: it can't be laid out flat, and no marks can be given for it.
//!
//! Wrong: `legs: [1/4, 9, 1]` in .063 sheet bent about 1/4 in, where a leg must be over .313 in. Right: a longer leg or a
//! smaller radius.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::plan::{BendFault, bent_piece, flat_end};

pub const RULE: Rule = Rule {
    id: "bend-impossible",
    level: Level::Error,
    summary: "a bend or a flattened end that can't be made",
    source: "geometry: FAA AC 43.13-1B, setback tan(A/2) (R + T)",
    bending: Leave::Refused,
    file: include_str!("bend_impossible.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for step in ctx.manual.written_steps() {
        let bends = step.bends.iter().map(|b| (&b.part.value, bent_piece(ctx.manual, b).err()));
        let flats = step.flattened.iter().map(|f| (&f.part.value, flat_end(ctx.manual, f).err()));
        for (part, fault) in bends.chain(flats) {
            let Some(BendFault::Impossible { at, why }) = fault else { continue };
            sink.push(
                RULE.found(format!("{part} can't be bent: {why}"))
                    .at(at, "no such bend")
                    .help("correct the legs, the angle, the radius or the stock")
                    .about(part)
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
    fn a_leg_reaches_beyond_its_bends() {
        let bent = |keys: &str| {
            let bends = format!("bends:\n  - {{ part: KW-104, {keys}, by: maker }}\ntools: [saw]");
            let case = sound().edit("steps/frame/10-keel.md", "tools: [saw]", &bends);
            case.findings().into_iter().filter(|f| f.starts_with("bend-impossible")).collect::<Vec<_>>()
        };
        assert_eq!(bent("legs: [2, 3], angle: 90, radius: 1/4"), [""; 0]);
        assert_eq!(bent("legs: [1/4, 3], angle: 90, radius: 1/4"), ["bend-impossible steps/frame/10-keel.md `1/4`"]);
        assert_eq!(bent("legs: [2, 3], angle: 190, radius: 1/4"), ["bend-impossible steps/frame/10-keel.md `190`"]);
    }
}
