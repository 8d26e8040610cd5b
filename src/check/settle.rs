//! The findings against the manual's `levels` and `accept`.

use super::rules::{not_begun, stale_acceptance, unbending_rule, unknown_rule};
use super::{Leave, Run, rule};
use crate::diag::{Diagnostic, Level, Sink};
use crate::model::{Accept, Manual};

/// Takes out what is accepted, sets levels, and reports settings that do nothing.
pub fn settle(manual: &Manual, found: Sink) -> Sink {
    let mut used = vec![false; manual.accepts.len()];
    let mut kept = Sink::new();
    for d in found {
        kept.extend(settled(manual, d, &mut used));
    }
    let mut kept = not_begun::gather(manual, kept);
    // Behind an error other findings may be held back, and so look as if they were gone.
    let clean = kept.iter().all(|d| d.level != Level::Error);
    let mut more = unknown_rule::find(manual);
    more.extend(unbending_rule::find(manual));
    if clean {
        let unused = manual.accepts.iter().zip(used).filter(|(_, used)| !used).map(|(accept, _)| accept);
        more.extend(stale_acceptance::find(unused));
    }
    for d in &mut more {
        if let Some(Some(level)) = manual.settings.levels.get(d.rule).filter(|_| bends(d)).map(|l| l.value) {
            d.level = level;
        }
    }
    kept.extend(more);
    kept.retain(|d| {
        let off = manual.settings.levels.get(d.rule).is_some_and(|l| l.value.is_none());
        !(off && bends(d))
    });
    kept
}

/// The same for what is found while documents are made. Acceptances that match nothing are not looked for: not all
/// documents may have been made. Nor are there questions: they are asked of the sources.
pub fn settle_late(manual: &Manual, found: Sink) -> Sink {
    let mut used = vec![false; manual.accepts.len()];
    let settled = found.into_iter().filter_map(|d| settled(manual, d, &mut used));
    settled.filter(|d| d.level != Level::Question).collect()
}

/// The finding at the level that it is to have; none where it is accepted or switched off.
fn settled(manual: &Manual, mut d: Diagnostic, used: &mut [bool]) -> Option<Diagnostic> {
    if !bends(&d) {
        return Some(d);
    }
    let mut accepted = false;
    for (accept, used) in manual.accepts.iter().zip(used) {
        if matches(accept, &d) {
            *used = true;
            accepted = true;
        }
    }
    if accepted {
        return None;
    }
    if let Some(level) = manual.settings.levels.get(d.rule) {
        d.level = level.value?;
    }
    Some(d)
}

/// Whether the author may lower or accept a finding. A fault of reading that is an error stays one.
fn bends(d: &Diagnostic) -> bool {
    let rule = rule(d.rule);
    debug_assert!(rule.is_some(), "`{}` has no page in src/check/rules", d.rule);
    rule.is_some_and(|rule| {
        rule.bending == Leave::Allowed && (d.level != Level::Error || !matches!(rule.run, Run::Reading))
    })
}

fn matches(accept: &Accept, d: &Diagnostic) -> bool {
    accept.rule.value == d.rule
        && accept.about.as_ref().is_none_or(|about| d.about.contains(&about.value))
        && accept.in_file.is_none_or(|file| d.span.is_some_and(|s| s.file == file))
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    /// Of one id of reading, what is a warning bends, and what is an error stays.
    #[test]
    fn an_error_of_reading_stays_one() {
        let close = "steps/finish/30-close.md";
        let off = sound().add("manual.yaml", "levels: { footnote: off }\n");
        let marked_nowhere = off.clone().add(close, "\n[^1]: A note.\n");
        assert_eq!(marked_nowhere.findings(), [""; 0]);
        let without_text = off.add(close, "\nAs marked.[^1]\n");
        assert_eq!(without_text.findings(), [format!("footnote {close} `[^1]`")]);
    }
}
