//! A condition on serial numbers while manual.yaml names no current serial.
//!
//! It matters because a manual that is made for no certain kit could not tell whether the condition applies, and would
//! leave out what stands under it.
//!
//! Wrong: `only: serial 100..149` and no `serial` in manual.yaml. Right: `serial: 120` in manual.yaml.
//!
//! It can't be accepted.

use crate::check::MOST_NOTES;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "serial-without-number",
    level: Level::Error,
    summary: "a condition on serials while the manual has no serial",
    source: "a condition must be decidable",
    bending: Leave::Refused,
    file: include_str!("serial_without_number.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    if ctx.manual.settings.serial.is_some() {
        return Sink::new();
    }
    let mut places = ctx.conditions.all().filter(|p| p.condition.asks_serial());
    let Some(first) = places.next() else { return Sink::new() };
    let d = RULE
        .found("a condition asks for the serial, and the manual has none")
        .at(first.span, "can't be decided without a serial")
        .help("add `serial:` and the current serial number to manual.yaml")
        .about("serial");
    vec![places.take(MOST_NOTES).fold(d, |d, p| d.note(p.span, "and here"))]
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_serial_is_needed() {
        assert_eq!(
            sound()
                .edit("manual.yaml", "serial: 12\n", "")
                .edit("steps/frame/30-plates.md", "only: LONG and not rack", "only: not serial 1..9")
                .findings(),
            ["serial-without-number steps/frame/30-plates.md `not serial 1..9`"]
        );
        assert_eq!(
            sound().edit("steps/frame/30-plates.md", "only: LONG and not rack", "only: not serial 1..9").findings(),
            [""; 0]
        );
    }
}
