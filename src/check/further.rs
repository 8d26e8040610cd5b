//! What is built besides the configurations that are checked: kits of other serial numbers, and kits made into another
//! variant.
//!
//! Their parts are not held against the parts list, which knows variants and options alone.

use std::collections::BTreeSet;

use rayon::prelude::*;

use crate::change::{Side, conversion};
use crate::model::Manual;
use crate::resolve::{
    Configuration, Resolved, SerialRange, conditions, declared, in_turn, parse_configuration, resolve, serial_ranges,
};
use crate::source::{FileId, SourceMap};
use crate::syntax::Condition;
use crate::units::VariantName;

/// How many of each kind are checked one by one.
const MOST: usize = 64;

/// A configuration of that kind.
#[derive(Debug)]
pub struct Further {
    pub resolved: Resolved,
    /// The files whose findings count; none where all do. The rest of a conversion is checked as what it is: steps of
    /// the configurations that it leads from and to.
    pub files: Option<BTreeSet<FileId>>,
}

/// All of them, those of serial numbers first.
pub fn further(manual: &Manual, sources: &SourceMap) -> Vec<Further> {
    let mut list = of_serials(manual);
    list.extend(converted(manual, sources));
    list
}

/// The declared configurations and those of kits, for the serial numbers at which something is otherwise than in those
/// that are built now.
fn of_serials(manual: &Manual) -> Vec<Further> {
    let settings = &manual.settings;
    let is_now = |range: &SerialRange| settings.serial.is_some_and(|serial| range.has(serial));
    let ranges = serial_ranges([manual]);
    if ranges.len() == 1 {
        return Vec::new();
    }
    let mut wanted: Vec<(SerialRange, Configuration)> = Vec::new();
    for range in ranges.into_iter().filter(|range| !is_now(range)) {
        let kits = manual.kits.iter().filter(|kit| range.has(kit.serial.value));
        let of_kits = kits.filter_map(|kit| parse_configuration(settings, &kit.configuration.value).ok());
        let mut all = declared(settings);
        all.extend(of_kits);
        for configuration in all {
            let one = (range, Configuration { serial: Some(range.first), ..configuration });
            if !wanted.contains(&one) {
                wanted.push(one);
            }
        }
    }
    wanted.truncate(MOST);
    let make = |(range, configuration): (SerialRange, Configuration)| {
        let name = range.name(&configuration, settings);
        Further { resolved: Resolved { name, ..resolve(manual, &configuration) }, files: None }
    };
    wanted.into_par_iter().map(make).collect()
}

/// Each declared configuration of a variant that there are steps or texts for converting from, built and then converted.
fn converted(manual: &Manual, sources: &SourceMap) -> Vec<Further> {
    let settings = &manual.settings;
    let all = conditions(manual);
    let pair = |leaf: &Condition| match leaf {
        Condition::Conversion { from, to } => Some((VariantName::new(&from.value), VariantName::new(&to.value))),
        _ => None,
    };
    let pairs: BTreeSet<(VariantName, VariantName)> =
        all.iter().flat_map(|placed| placed.condition.leaves()).filter_map(pair).collect();
    if pairs.is_empty() {
        return Vec::new();
    }
    let files: BTreeSet<FileId> =
        all.iter().filter(|placed| placed.condition.asks_conversion()).map(|placed| placed.span.file).collect();
    let declared = declared(settings);
    let of = |variant: &VariantName| declared.iter().filter(|c| c.variant == *variant).cloned().collect::<Vec<_>>();
    let ways = pairs.iter().flat_map(|(from, to)| {
        let targets = of(to);
        of(from)
            .into_iter()
            .flat_map(move |a| targets.clone().into_iter().map(move |b| (a.clone(), b)))
            .collect::<Vec<_>>()
    });
    let ways: Vec<(Configuration, Configuration)> = ways.take(MOST).collect();
    let make = |(from, to): (Configuration, Configuration)| {
        let plain = resolve(manual, &to);
        let as_converted = resolve(manual, &Configuration { from: Some(from.variant.clone()), ..to });
        let built = resolve(manual, &from);
        let name = format!("{} to {}", built.name, plain.name);
        let side = |resolved| Side { name: "", manual, sources, resolved, lines: &[] };
        let done = conversion(&side(&built), &side(&as_converted), &plain).resolved;
        let resolved =
            Resolved { order_faults: as_converted.order_faults.clone(), ..in_turn(manual, &built, &done, name) };
        Further { resolved, files: Some(files.clone()) }
    };
    ways.into_par_iter().map(make).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{Case, sound};

    /// A step that bolts the left bracket once more, through the holes that are there.
    fn with(only: &str, bolt: &str) -> Case {
        let step = format!(
            "---\nstep: once-more\ntitle: Bolt the bracket once more\nsection: finish\nonly: {only}\nparts:\n  - {{ part: KW-103-L, do: use }}\n\
             joints:\n  - fastener: {bolt}\n    stack: [KW-103-L, {{ part: KW-101, through: wall }}]\n    under-nut: [AN960-416]\n\
             \x20   nut: AN365-428A\n    places: 2\n---\n\n1. Bolt it.\n"
        );
        sound()
            .edit("hardware.csv", "AN4-10A,Bolt,bolt,each\n", "AN4-10A,Bolt,bolt,each\nAN4-7A,Bolt,bolt,each\n")
            .add("steps/finish/05-more.md", &step)
    }

    /// The published AN bolt table: AN4-7A has grip 7/16 in, the stack is .558 in.
    #[test]
    fn a_joint_of_a_conversion_or_of_other_serials_is_judged() {
        // Built now is serial 12; the register and the settings say nothing of conversions.
        for only in ["from BASE to LONG", "serial 1..9", "LONG and from BASE to LONG"] {
            let found = |bolt: &str, rule: &str| with(only, bolt).check().0.iter().filter(|d| d.rule == rule).count();
            assert_eq!((found("AN4-10A", "bolt-does-not-fit"), found("AN4-7A", "bolt-does-not-fit")), (0, 1), "{only}");
            // The pilot holes are opened for two bolts, not for four.
            assert_eq!(found("AN4-10A", "hole-too-small"), 1, "{only}");
        }
    }

    /// What a conversion does to a kit that was built: a part is taken off that the source has and the target has not.
    #[test]
    fn a_conversion_begins_with_the_kit_as_it_was_built() {
        let remove = |quantity: u8| {
            let step = format!(
                "---\nstep: strip\ntitle: Take it off\nsection: frame\nonly: from LONG to BASE\nparts:\n  - {{ part: KW-300, quantity: {quantity}, do: remove }}\n---\n\n1. Take it off.\n"
            );
            sound().add("steps/frame/90-strip.md", &step).findings()
        };
        assert_eq!(remove(1), [""; 0]);
        assert_eq!(remove(2), ["refit-without-removal steps/frame/90-strip.md `KW-300`"]);
    }
}
