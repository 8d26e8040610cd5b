//! A designer's torque that differs from the table without a reason, or that stands where no table applies without saying
//! why it is right there. One that is past the table's limit is another rule's, `torque-too-high`.
//!
//! It matters because a table value across an unbushed tube crushes it, and a wrong figure is followed to the letter.
//!
//! With `trade: metric-general` a metric joint needs no reason: no table has a torque for any of them, and what they bear is
//! held against their class.
//!
//! The designer's value always wins and is what the documents print; the reason is for those who check it.
//!
//! Wrong: `torque: 50..70 in-lb` for a bolt right through a tube. Right: the designer's value for that tube, with
//! `torque-reason:`.
//!
//! To accept: `accept: [{ rule: torque-unlike-table, about: keel-bolts, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called, torque_words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::joint::Tightening;
use crate::trade::{Against, torque_for};

pub const RULE: Rule = Rule {
    id: "torque-unlike-table",
    level: Level::Warning,
    summary: "a designer's torque that differs from the table, or stands where none applies, without a reason",
    source: "FAA AC 43.13-1B CHG 1, Table 7-1",
    bending: Leave::Allowed,
    file: include_str!("torque_unlike_table.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let Tightening::Designer { table, against, .. } = &seen.reading.tightening else { continue };
        let Some(torque) = &seen.joint.torque else { continue };
        let wanted = ctx.manual.settings.fastening.torque_wants_reason(seen.reading.fastener.as_deref());
        let reason = seen.joint.torque_reason.is_some() || !wanted;
        let known = table.ok().or_else(|| seen.reading.nut.as_deref().and_then(torque_for));
        let range = known.map_or(String::new(), |t| {
            let words = |n| torque_words(ctx, n);
            let (least, most, limit) = (words(t.value.least), words(t.value.most), words(t.value.limit));
            format!("the table has {least} to {most}, never above {limit}")
        });
        let (headline, help) = match (table, against) {
            (_, Some(Against::PastLimit)) => continue,
            (Ok(_), Some(against)) if *against != Against::Within && !reason => (
                format!("the torque of {} is not the table's", called(seen)),
                format!("{range}; correct the value, or add `torque-reason:`"),
            ),
            (Err(why), _) if !reason => (
                format!("the torque of {} has no reason, and no table applies here: {}", called(seen), why.words()),
                "give the designer's value for this place and add `torque-reason:`".to_owned(),
            ),
            _ => continue,
        };
        let d = RULE.found(headline).at(torque.span, "the designer's value").help(help);
        sink.push(about_joint(d, seen));
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// FAA AC 43.13-1B, Table 7-1: 1/4-28, tension nut: 50 to 70 in-lb, limit 100.
    #[test]
    fn the_table_is_compared() {
        let with = |torque: &str| {
            sound()
                .edit("steps/frame/20-left.md", "    places: 2\n", &format!("    places: 2\n    torque: {torque}\n"))
                .findings()
        };
        assert_eq!(with("50..70 in-lb"), [""; 0]);
        assert_eq!(with("30..40 in-lb"), ["torque-unlike-table steps/frame/20-left.md `30..40 in-lb`"]);
        assert_eq!(with("90..95 in-lb\n    torque-reason: The drawing says so"), [""; 0]);
    }
}
