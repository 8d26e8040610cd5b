//! A kind of joint that `joint-kinds` in manual.yaml does not name.
//!
//! It matters because the joint then has neither the nut nor the pin that the kind would give it.
//!
//! Wrong: `kind: pivott`. Right: `kind: pivot`, with `pivot:` under `joint-kinds`.
//!
//! It can't be accepted: with a name of nothing no document is true.

use crate::check::names::Kind;
use crate::check::unknown::unknown;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};

pub const RULE: Rule = Rule {
    id: "unknown-joint-kind",
    level: Level::Error,
    summary: "a kind of joint that manual.yaml does not name",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_joint_kind.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let otherwise = "correct the name, or add the kind under `joint-kinds` in manual.yaml";
    unknown(ctx, &RULE, Kind::JointKind, |name| format!("no kind of joint is called {name}"), otherwise)
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    const STEP: &str = "steps/frame/20-left.md";
    const WRITTEN: &str = "    under-nut: [AN960-416]\n    nut: AN365-428A\n";

    fn of_kind(kind: &str) -> Case {
        sound().add("manual.yaml", "joint-kinds: { bolted: { under-nut: [AN960], nut: AN365 } }\n").edit(
            STEP,
            WRITTEN,
            &format!("    kind: {kind}\n"),
        )
    }

    /// The sizes follow the bolt: the joint by its kind is the joint as it was written.
    #[test]
    fn a_joint_has_what_its_kind_says() {
        assert_eq!(of_kind("bolted").findings(), [""; 0]);
        let found = of_kind("boltet").findings();
        assert!(found.contains(&format!("unknown-joint-kind {STEP} `boltet`")), "{found:?}");
    }

    /// What a kind gives and the hardware list lacks is found where the joint names its kind.
    #[test]
    fn hardware_of_a_kind_must_be_listed() {
        let case = sound().add("manual.yaml", "joint-kinds: { bolted: { under-nut: [AN960], nut: MS21044 } }\n").edit(
            STEP,
            WRITTEN,
            "    kind: bolted\n",
        );
        let found = case.findings();
        assert_eq!(found, [format!("unknown-hardware {STEP} `bolted`")]);
    }

    /// What a joint says itself wins over its kind.
    #[test]
    fn a_joint_overrules_its_kind() {
        let kinds = "joint-kinds: { bolted: { under-nut: [3 x AN960], nut: AN365, turns: yes, critical: yes } }\n";
        let own = "    kind: bolted\n    under-nut: [AN960-416]\n    turns: no\n    critical: no\n";
        assert_eq!(sound().add("manual.yaml", kinds).edit(STEP, WRITTEN, own).findings(), [""; 0]);
    }
}
