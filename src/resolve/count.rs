//! What lies in the crates of a kit, item by item: needed + spares - on back order + sent in addition; and which steps wait
//! for what is on back order.
//!
//! Owns: the one sum that every list is made from. Must not know: crates, bags, documents.

use std::collections::BTreeMap;

use super::ledger::Ledger;
use super::shipped::{ShippedFault, ShippedFaultKind};
use crate::model::{Deviation, DeviationKind, Hardware, HardwareKind, Manual};
use crate::trade::{self, ItemForm, NutForm};
use crate::units::{Date, Designation, PartNumber, Quantity, Rational, StepId, Unit};

/// Of one part or item of hardware.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoxCount {
    /// What the steps take, or what the parts list says.
    pub needed: Quantity,
    /// More of it, to lose some. In the unit of what is needed, as is all that follows.
    pub spares: Rational,
    /// On back order and not sent yet.
    pub owed: Rational,
    pub in_addition: Rational,
    /// When the last of what is on back order is expected.
    pub expected: Option<Date>,
}

impl BoxCount {
    fn of(needed: Quantity) -> Self {
        let none = Rational::from_integer(0);
        Self { needed, spares: none, owed: none, in_addition: none, expected: None }
    }

    /// What lies in the crates.
    pub fn in_the_box(&self) -> Quantity {
        Quantity { value: self.needed.value + self.spares - self.owed + self.in_addition, ..self.needed }
    }

    /// The same without the spares, which lie by themselves.
    pub fn in_its_bag(&self) -> Quantity {
        Quantity { value: self.needed.value - self.owed + self.in_addition, ..self.needed }
    }
}

/// What a step waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    pub item: String,
    /// How much of it is not there.
    pub quantity: Quantity,
    pub expected: Option<Date>,
}

/// The sum of each item. What is wrong with a row goes to `faults`.
pub(super) fn counts(
    manual: &Manual,
    ledger: &Ledger,
    rows: &[Deviation],
    faults: &mut Vec<ShippedFault>,
) -> BTreeMap<String, BoxCount> {
    let mut counts = BTreeMap::new();
    for (number, account) in ledger.parts.iter().filter(|(_, a)| !a.piece && a.listed != 0) {
        counts.insert(number.to_string(), BoxCount::of(Quantity::each(account.listed)));
    }
    for (designation, account) in &ledger.hardware {
        let mut count = BoxCount::of(account.need);
        count.spares =
            manual.hardware.get(designation).map_or_else(Default::default, |row| spares(manual, row, account.need));
        counts.insert(designation.to_string(), count);
    }
    let zero = Rational::from_integer(0);
    let mut sent: BTreeMap<&str, Rational> = BTreeMap::new();
    for row in rows {
        let item = row.item.value.as_str();
        let all = counts.get(item).map_or(Quantity::each(0), |c| c.needed);
        let asked = row.quantity.as_ref().map_or(all.value, |q| Rational::from_integer(q.value));
        let span = row.quantity.as_ref().map_or(row.item.span, |q| q.span);
        let mut fault = |kind| faults.push(ShippedFault { kind, serial: row.serial.value, span });
        match row.kind {
            DeviationKind::BackOrder => {
                let Some(count) = counts.get_mut(item).filter(|c| c.owed + asked <= c.needed.value && asked > zero)
                else {
                    fault(ShippedFaultKind::TooMany { item: item.to_owned(), asked, there: all });
                    continue;
                };
                count.owed += asked;
                count.expected = count.expected.max(row.expected.as_ref().map(|e| e.value));
            }
            DeviationKind::InAddition if row.places.is_empty() => {
                let count = counts.entry(item.to_owned()).or_insert_with(|| BoxCount::of(nothing_of(manual, item)));
                count.in_addition += asked;
            }
            DeviationKind::SentLater => *sent.entry(item).or_default() += asked,
            DeviationKind::InAddition | DeviationKind::Substituted | DeviationKind::Lot => {}
        }
    }
    // Whatever the order of the rows: what was sent later is no longer owed.
    for (item, sent) in sent {
        let Some(count) = counts.get_mut(item) else { continue };
        let ordered_back = count.owed;
        if sent <= ordered_back {
            count.owed -= sent;
            continue;
        }
        count.owed = zero;
        let later = |d: &&Deviation| d.kind == DeviationKind::SentLater && d.item.value == item;
        if let Some(row) = rows.iter().rfind(later).filter(|_| ordered_back > zero) {
            let span = row.quantity.as_ref().map_or(row.item.span, |q| q.span);
            let kind = ShippedFaultKind::SentTwice { item: item.to_owned(), sent, owed: ordered_back };
            faults.push(ShippedFault { kind, serial: row.serial.value, span });
        }
    }
    counts
}

fn nothing_of(manual: &Manual, item: &str) -> Quantity {
    if manual.is_part(item) {
        return Quantity::each(0);
    }
    Quantity::none(manual.hardware.get(&Designation::new(item)).map_or(Unit::Each, |h| h.unit))
}

/// The spares of an item, rounded up once, on what the whole kit needs: to pieces, whole feet and metres, and of what is
/// weighed or measured out to a hundredth of its unit.
fn spares(manual: &Manual, row: &Hardware, need: Quantity) -> Rational {
    let kind = kind(row);
    let by_kind = &manual.settings.spares;
    let all_nuts = || by_kind.get(&HardwareKind::Nut).filter(|_| kind.is_nut());
    let Some(spare) = by_kind.get(&kind).or_else(all_nuts) else { return Rational::from_integer(0) };
    let whole = matches!(need.unit, Unit::Each | Unit::Foot | Unit::Metre);
    let parts = Rational::from_integer(if whole { 1 } else { 100 });
    let share = (need.value * spare.share * parts).ceil() / parts;
    if *need.value.numer() > 0 { share.max(Rational::from_integer(spare.least)) } else { Rational::from_integer(0) }
}

/// The kind that the list gives it, else the one that its designation tells.
pub(super) fn kind(row: &Hardware) -> HardwareKind {
    use HardwareKind as K;
    if row.kind != K::Other {
        return row.kind;
    }
    let Some(decoded) = trade::decode(row.designation.as_str()) else { return K::Other };
    match decoded.form {
        ItemForm::Bolt | ItemForm::ClevisBolt | ItemForm::CoachBolt => K::Bolt,
        ItemForm::FullThreadBolt
        | ItemForm::SocketScrew
        | ItemForm::CountersunkScrew
        | ItemForm::ButtonScrew
        | ItemForm::CoachScrew
        | ItemForm::WoodScrew => K::Screw,
        ItemForm::Eyebolt => K::Eyebolt,
        ItemForm::Nut(NutForm::Castle | NutForm::CastleShear) => K::CastleNut,
        ItemForm::Nut(NutForm::Plain) => K::PlainNut,
        ItemForm::Nut(NutForm::Check) => K::CheckNut,
        ItemForm::Nut(NutForm::Elastic | NutForm::ElasticShear) => K::ElasticNut,
        ItemForm::Nut(NutForm::AllMetal) => K::MetalNut,
        ItemForm::Washer(_) => K::Washer,
        ItemForm::SolidRivet(_) => K::SolidRivet,
        ItemForm::BlindRivet(_) => K::BlindRivet,
        ItemForm::ClevisPin => K::ClevisPin,
        ItemForm::CotterPin => K::CotterPin,
    }
}

/// The steps that wait: those that the rows name, else those for which none of the item is left.
pub(super) fn waits(
    ledger: &Ledger,
    counts: &BTreeMap<String, BoxCount>,
    rows: &[Deviation],
) -> BTreeMap<StepId, Vec<Wait>> {
    let mut waits: BTreeMap<StepId, Vec<Wait>> = BTreeMap::new();
    let zero = Rational::from_integer(0);
    for (item, count) in counts.iter().filter(|(_, c)| c.owed > zero) {
        let of_item = rows.iter().filter(|d| d.kind == DeviationKind::BackOrder && d.item.value == *item);
        let named: Vec<&StepId> = of_item.flat_map(|d| d.places.iter().map(|p| &p.step.value)).collect();
        let mut there = count.in_its_bag().value;
        for (step, n) in taken(ledger, item) {
            let lacks = if named.is_empty() {
                let lacks = (n - there).max(zero);
                there = (there - n).max(zero);
                lacks
            } else if named.contains(&&step) {
                n
            } else {
                zero
            };
            if lacks > zero {
                let quantity = Quantity { value: lacks, ..count.needed };
                waits.entry(step).or_default().push(Wait { item: item.clone(), quantity, expected: count.expected });
            }
        }
    }
    waits
}

/// What each step takes out of the crates of an item, in the order of the steps.
fn taken(ledger: &Ledger, item: &str) -> Vec<(StepId, Rational)> {
    if let Some(account) = ledger.parts.get(&PartNumber::new(item)) {
        return account.pulled.iter().map(|p| (p.step.clone(), Rational::from_integer(p.count))).collect();
    }
    let account = ledger.hardware.get(&Designation::new(item));
    account.map_or_else(Vec::new, |a| a.taken.iter().map(|(step, _, q)| (step.clone(), q.value)).collect())
}

#[cfg(test)]
mod tests {
    use crate::model;
    use crate::resolve::{configurations, resolve};
    use crate::source::Memory;

    /// 5 % of 30 bolts are 1.5: two; 10 % of 30 washers are three, and at least four are sent; nuts of every kind go by `nut`; of
    /// half a pound of rivets a twentieth is .03 lb, rounded up to a hundredth.
    #[test]
    fn spares_are_rounded_up_once() {
        let mut files = Memory::new();
        let spares = "{ bolt: 5 %, nut: 10 %, washer: \"10 %, at least 4\", solid rivet: 5 % }";
        files.insert(
            "manual.yaml",
            format!("title: T\nvariants:\n  A: {{ title: A }}\nsections:\n  - {{ section: s, title: S }}\nspares: {spares}\n"),
        );
        files.insert("parts.csv", "number,name,A\n");
        files.insert(
            "hardware.csv",
            "designation,name,kind,unit\nAN4-17A,Bolt,,\nAN960-416,Washer,washer,\nAN310-4,Nut,castle nut,\nMS20470AD4-5,Rivet,solid rivet,lb\nPAD-1,Pad,,\n",
        );
        let step = |id: &str| {
            format!(
                "---\nstep: {id}\ntitle: T\nsection: s\nhardware:\n  - {{ hardware: AN4-17A, quantity: 15 }}\n  - {{ hardware: AN960-416, quantity: 15 }}\n  - {{ hardware: AN310-4, quantity: 5 }}\n  - {{ hardware: MS20470AD4-5, quantity: 0.25 lb }}\n  - PAD-1\n---\n\nText.\n"
            )
        };
        files.insert("steps/1.md", step("one"));
        files.insert("steps/2.md", step("two"));
        let manual = model::read(&files).expect("listed").manual.expect("a manual");
        let resolved = resolve(&manual, &configurations(&manual)[0]);
        let spares = |item: &str| resolved.counts[item].spares.to_string();
        let all = ["AN4-17A", "AN960-416", "AN310-4", "MS20470AD4-5", "PAD-1"].map(spares);
        assert_eq!(all, ["2", "4", "1", "3/100", "0"]);
        assert_eq!(resolved.counts["AN4-17A"].in_the_box().to_string(), "32");
        assert_eq!(resolved.counts["AN4-17A"].in_its_bag().to_string(), "30");
    }
}
