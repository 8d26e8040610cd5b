//! A kit as it was shipped: the rows of today's register as they apply to the release of the kit, and what the builder has
//! at hand by them.

use crate::model::{Deviation, DeviationKind, Kit, Manual};
use crate::resolve::{HardwareAccount, Listed, Resolved};
use crate::units::{Designation, PartNumber, Rational};

/// The rows about a kit. What was sent later as something else, or under another release than the kit's, came in addition.
pub fn deviations(today: &Manual, kit: &Kit) -> Vec<Deviation> {
    let letter = kit.release.as_ref().map(|r| &r.value);
    let rows = today.deviations_of(kit.serial.value).cloned();
    rows.map(|mut row| {
        let under_another = row.release.as_ref().is_some_and(|r| Some(&r.value) != letter);
        if row.kind == DeviationKind::SentLater && (row.with.is_some() || under_another) {
            row.kind = DeviationKind::InAddition;
            if let Some(with) = row.with.take() {
                row.item = with;
            }
        }
        row
    })
    .collect()
}

/// Adds to the lists of a release what the rows name and they lack, as today's lists have it.
pub fn complete(manual: &mut Manual, today: &Manual, rows: &[Deviation]) {
    for name in rows.iter().flat_map(|d| [Some(&d.item), d.with.as_ref()]).flatten() {
        let (number, designation) = (PartNumber::new(&name.value), Designation::new(&name.value));
        if manual.is_listed(&name.value) {
            continue;
        }
        if let Some(part) = today.parts.get(&number) {
            manual.parts.insert(number, part.clone());
        } else if let Some(row) = today.hardware.get(&designation) {
            manual.hardware.insert(designation, row.clone());
        }
    }
}

/// Counts a kit as its builder has it: without what is on back order still, with what came in addition.
pub fn at_hand(manual: &Manual, resolved: &mut Resolved) {
    let zero = Rational::from_integer(0);
    let Resolved { counts, listed, ledger, .. } = resolved;
    for (name, count) in counts.iter().filter(|(_, c)| c.owed != zero || c.in_addition != zero) {
        let there = count.in_its_bag();
        if manual.is_part(name) {
            let nothing = Listed { count: 0, cells: Vec::new() };
            listed.entry(PartNumber::new(name)).or_insert(nothing).count = there.value.to_integer();
        } else {
            let account = ledger.hardware.entry(Designation::new(name));
            let nothing = || HardwareAccount { need: there, taken: Vec::new(), steps: Vec::new() };
            account.or_insert_with(nothing).need = there;
        }
    }
    listed.retain(|_, l| l.count > 0);
    ledger.hardware.retain(|_, a| a.need.value > zero);
}

/// Each row in words: `2 x AN4-15A replaced by AN4-16A`.
pub fn in_words(rows: &[Deviation], plain: &Resolved) -> Vec<String> {
    let said = |d: &Deviation| {
        let all = plain.total(&d.item.value).map_or(Rational::from_integer(0), |q| q.value);
        let quantity = d.quantity.as_ref().map_or(all, |q| Rational::from_integer(q.value));
        let what = match (d.kind, &d.with) {
            (DeviationKind::Substituted, Some(with)) => format!(" replaced by {}", with.value),
            (DeviationKind::Substituted, None) | (DeviationKind::Lot, _) => String::new(),
            (DeviationKind::BackOrder, _) => {
                let later = |s: &&Deviation| s.kind == DeviationKind::SentLater && s.item.value == d.item.value;
                let sent: Rational = rows
                    .iter()
                    .filter(later)
                    .map(|s| s.quantity.as_ref().map_or(all, |q| Rational::from_integer(q.value)))
                    .sum();
                let open = (quantity - sent).max(Rational::from_integer(0));
                if open == quantity {
                    " on back order".to_owned()
                } else {
                    format!(" on back order, {open} of them not sent yet")
                }
            }
            (DeviationKind::SentLater, _) => " sent later".to_owned(),
            (DeviationKind::InAddition, _) => " sent in addition".to_owned(),
        };
        let lot = d.lot.as_ref().map_or_else(String::new, |lot| format!(" from lot {}", lot.value));
        let at: Vec<String> = d.places.iter().map(|p| p.to_string()).collect();
        let at = if at.is_empty() { String::new() } else { format!(" at {}", at.join(", ")) };
        format!("{quantity} x {}{lot}{what}{at}", d.item.value)
    };
    rows.iter().map(said).collect()
}
