//! Kinds of joint: what joints of a manual have in common, named once. What a joint does not say itself it has from its kind;
//! nuts, washers and pins that a kind names by their series get the size of the bolt.

use indexmap::IndexMap;

use super::step::{Carries, ClampsStill, Joint, Step, ThreadCondition, ThreadedInto, TorqueRange};
use crate::source::{Span, Spanned};
use crate::trade::{Decoded, decode, of_its_size, of_series};
use crate::units::{Designation, natural_cmp};

/// A kind of joint as it is written.
#[derive(Clone, Debug)]
pub struct JointKind {
    pub name: Spanned<String>,
    pub under_head: Vec<(Spanned<String>, i64)>,
    pub under_nut: Vec<(Spanned<String>, i64)>,
    pub nut: Option<Spanned<String>>,
    pub pin: Option<Spanned<String>>,
    pub turns: bool,
    pub clamps: Option<Spanned<ClampsStill>>,
    pub critical: bool,
    pub carries: Option<Spanned<Carries>>,
    pub locked_by: Option<Spanned<String>>,
    pub into: Option<Spanned<ThreadedInto>>,
    pub torque: Option<Spanned<TorqueRange>>,
    pub condition: Option<Spanned<ThreadCondition>>,
    pub drag_included: bool,
    pub torque_reason: Option<String>,
}

/// The kinds of a manual, and the hardware that their series are looked up in.
#[derive(Clone, Debug, Default)]
pub struct JointKinds {
    pub kinds: IndexMap<String, JointKind>,
    /// What the hardware list has, as far as its designations tell what it is.
    pub listed: Vec<Decoded>,
    /// Every designation of the list.
    pub names: Vec<String>,
}

impl JointKinds {
    /// Looks series up in these designations from now on.
    pub fn list<'a>(&mut self, designations: impl Iterator<Item = &'a Designation>) {
        self.names = designations.map(|d| d.as_str().to_owned()).collect();
        self.names.sort_by(|a, b| natural_cmp(a, b));
        self.listed = self.names.iter().filter_map(|name| decode(name)).collect();
    }

    /// Gives the joints of a step what they have from their kinds.
    pub fn fill(&self, step: &mut Step) {
        for joint in &mut step.joints {
            let Some(kind) = joint.kind.as_ref() else { continue };
            let span = kind.span;
            if let Some(kind) = self.kinds.get(&kind.value) {
                self.fill_joint(kind, span, &mut joint.value);
            }
        }
    }

    /// `at` is where the joint names its kind: what it has from there stands there.
    fn fill_joint(&self, kind: &JointKind, at: Span, joint: &mut Joint) {
        let bolt = decode(joint.fastener.as_str());
        let sized = |series: &Spanned<String>| {
            let name = self.sized(&series.value, bolt.as_ref());
            Spanned::new(Designation::new(name), at)
        };
        let washers = |list: &[(Spanned<String>, i64)]| list.iter().map(|(w, n)| (sized(w), *n)).collect();
        if joint.under_head.is_empty() {
            joint.under_head = washers(&kind.under_head);
        }
        if joint.under_nut.is_empty() {
            joint.under_nut = washers(&kind.under_nut);
        }
        joint.nut = joint.nut.take().or_else(|| kind.nut.as_ref().map(&sized));
        joint.pin = joint.pin.take().or_else(|| kind.pin.as_ref().map(&sized));
        let unsaid = |key: &str| !joint.said.contains(&key);
        if kind.turns && unsaid("turns") {
            joint.turns = true;
        }
        if kind.critical && unsaid("critical") {
            joint.critical = Some(at);
        }
        joint.clamps = joint.clamps.or(kind.clamps);
        joint.into = joint.into.or(kind.into);
        joint.carries = joint.carries.or(kind.carries);
        joint.locked_by = joint.locked_by.take().or_else(|| kind.locked_by.clone());
        // A value of its own has a reason and a condition of its own.
        if joint.torque.is_none() && joint.torque_reason.is_none() {
            joint.torque = kind.torque;
            joint.condition = joint.condition.or(kind.condition);
            joint.torque_reason.clone_from(&kind.torque_reason);
            if kind.drag_included && unsaid("drag-included") {
                joint.drag_included = true;
            }
        }
    }

    /// The item of a series that goes with a bolt, as the hardware list has it; else as the standard names it, else the name
    /// as it is written: the list does not have it, which is found.
    fn sized(&self, series: &str, bolt: Option<&Decoded>) -> String {
        let series = series.trim();
        if self.names.iter().any(|name| name == series) {
            return series.to_owned();
        }
        let Some(bolt) = bolt else { return series.to_owned() };
        let mut listed = self.listed.iter().filter(|item| is_of(&item.designation, series) && of_its_size(item, bolt));
        if let Some(item) = listed.next() {
            return item.designation.clone();
        }
        of_series(series, bolt).map_or_else(|| series.to_owned(), |item| item.designation)
    }
}

/// Whether a designation is of a series: `AN960-416` of `AN960` and not of `AN96`; `ISO 7040 M6 8` of `ISO 7040`.
fn is_of(designation: &str, series: &str) -> bool {
    let rest = designation.strip_prefix(series);
    rest.is_some_and(|rest| {
        !rest.starts_with(|c: char| c.is_ascii_digit()) || !series.ends_with(|c: char| c.is_ascii_digit())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(listed: &[&str]) -> JointKinds {
        let mut kinds = JointKinds::default();
        let names: Vec<Designation> = listed.iter().map(|n| Designation::new(*n)).collect();
        kinds.list(names.iter());
        kinds
    }

    /// Dash numbers of AN310, AN960 and AN365: by bolt size in 16ths, washers in 16ths and a 16, nuts by their thread.
    #[test]
    fn a_series_gets_the_size_of_the_bolt() {
        let kinds = kinds(&["AN960-416L", "AN960-416", "AN960-516", "AN310-4", "AN310-5", "AN380-2-2", "AN380-3-3"]);
        let sized = |series: &str, bolt: &str| kinds.sized(series, decode(bolt).as_ref());
        assert_eq!(sized("AN310", "AN4-10"), "AN310-4");
        assert_eq!(sized("AN310", "AN5-10"), "AN310-5");
        assert_eq!(sized("AN960", "AN4-10"), "AN960-416");
        assert_eq!(sized("AN380", "AN4-10"), "AN380-2-2");
        // Not listed: as the standard names it.
        assert_eq!(sized("AN310", "AN6-10"), "AN310-6");
        assert_eq!(sized("AN365", "AN4-10A"), "AN365-428A");
        assert_eq!(sized("MS21044", "AN3-10A"), "MS21044N3");
        assert_eq!(sized("ISO 7040", "ISO 4014 M6x40 8.8"), "ISO 7040 M6");
        assert_eq!(sized("ISO 7089", "ISO 4014 M6x40 8.8"), "ISO 7089 6");
        // What no standard knows stays as it is written.
        assert_eq!(sized("KW-NUT", "AN4-10"), "KW-NUT");
    }
}
