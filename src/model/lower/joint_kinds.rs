//! `joint-kinds` of `manual.yaml`.

use super::fields::Fields;
use super::items::counted;
use super::step::tightened;
use crate::diag::Sink;
use crate::model::joint_kind::{JointKind, JointKinds};
use crate::model::step::{Carries, ClampsStill, ThreadedInto};
use crate::source::Spanned;

pub(super) fn joint_kinds(f: &Fields, sink: &mut Sink) -> JointKinds {
    let mut all = JointKinds::default();
    for (name, node) in f.pairs("joint-kinds", sink) {
        let f = f.entry("joint-kinds", node, sink);
        all.kinds.insert(name.value.clone(), kind(name, &f, sink));
    }
    all
}

fn kind(name: &Spanned<String>, f: &Fields, sink: &mut Sink) -> JointKind {
    let washers = |name, sink: &mut Sink| -> Vec<(Spanned<String>, i64)> {
        f.texts(name, sink).iter().filter_map(|t| counted(t, sink)).map(|(name, n, _)| (name, n)).collect()
    };
    let yes = |name, sink: &mut Sink| f.yes_no(name, sink).is_some_and(|y| y.value);
    let (torque, condition) = tightened(f, sink);
    JointKind {
        name: name.clone(),
        under_head: washers("under-head", sink),
        under_nut: washers("under-nut", sink),
        nut: f.text("nut", sink),
        pin: f.text("pin", sink),
        turns: yes("turns", sink),
        clamps: f.word("clamps", ClampsStill::ALL, ClampsStill::word, sink),
        critical: yes("critical", sink),
        carries: f.word("carries", Carries::ALL, Carries::word, sink),
        locked_by: f.text("locked-by", sink),
        into: f.word("into", ThreadedInto::ALL, ThreadedInto::word, sink),
        torque,
        condition,
        drag_included: yes("drag-included", sink),
        torque_reason: f.text("torque-reason", sink).map(|t| t.value),
    }
}
