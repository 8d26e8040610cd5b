//! Steps whose `after` leads round to themselves.
//!
//! It matters because there is no order in which such steps could be done.
//!
//! Wrong: `after: [b]` in step a and `after: [a]` in step b. Right: one of the two.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::resolve::OrderFault;
use crate::resolve::Resolved;

pub const RULE: Rule = Rule {
    id: "order-circle",
    level: Level::Error,
    summary: "steps that wait for one another",
    source: "a set of `after` must be free of circles, or there is no order",
    bending: Leave::Refused,
    file: include_str!("order_circle.rs"),
    run: Run::Configuration(run),
};

fn run(ctx: &Context, r: &Resolved) -> Sink {
    let mut sink = Sink::new();
    for fault in &r.order_faults {
        let OrderFault::Circle { steps, span } = fault else { continue };
        let round: Vec<_> = steps.iter().chain(steps.first()).map(|s| format!("`{s}`")).collect();
        let headline = match &steps[..] {
            [one] => format!("step `{one}` waits for itself"),
            _ => format!("steps wait for one another: {}", round.join(" after ")),
        };
        let mut d =
            RULE.found(headline).at(*span, "leads round to this step again").help("take one `after` of the circle out");
        for (i, id) in steps.iter().enumerate() {
            d = d.about(id);
            let next = &steps[(i + 1) % steps.len()];
            let after = ctx.step(id).and_then(|s| s.after.iter().find(|a| a.value.value == *next));
            if let Some(after) = after.filter(|a| a.value.span != *span) {
                d = d.note(after.value.span, format!("`{id}` waits for `{next}`"));
            }
        }
        sink.push(d);
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn two_steps_in_a_circle() {
        assert_eq!(
            sound()
                .edit("steps/frame/10-keel.md", "section: frame\n", "section: frame\nafter: [left-bracket]\n")
                .findings(),
            ["order-circle steps/frame/10-keel.md `left-bracket`"]
        );
        assert_eq!(
            sound()
                .edit("steps/finish/10-cross.md", "section: finish\n", "section: finish\nafter: [cross]\n")
                .findings(),
            ["order-circle steps/finish/10-cross.md `cross`"]
        );
    }
}
