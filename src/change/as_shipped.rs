//! A kit as it was shipped: what the register says is otherwise in it, counted.

use crate::model::{Deviation, DeviationKind, Manual};
use crate::resolve::{HardwareAccount, Listed, Resolved};
use crate::units::{Designation, PartNumber, Quantity, Rational};

/// Counts what the register says of a kit into its configuration, and says each in words. `letter` is the release it was
/// shipped with.
///
/// A substitute is counted in the place of what it stands for. A back order counts when it was sent later. What was sent
/// later completes the kit where it is owed; it comes in addition where the kit has none of it, or where it was sent under
/// another release than the kit's. A lot changes no number.
pub fn as_shipped(
    manual: &Manual,
    resolved: &mut Resolved,
    deviations: &[&Deviation],
    letter: Option<&str>,
) -> Vec<String> {
    let zero = Rational::from_integer(0);
    let mut said = Vec::new();
    // As its release says, whatever the rows change on the way.
    let built: Vec<Rational> =
        deviations.iter().map(|d| resolved.total(&d.item.value).map_or(zero, |q| q.value)).collect();
    for (d, all) in deviations.iter().zip(built) {
        let item = d.item.value.as_str();
        let quantity = d.quantity.as_ref().map_or(all, |q| Rational::from_integer(q.value));
        let what = match (d.kind, &d.with) {
            (DeviationKind::Substituted, Some(with)) => {
                add(manual, resolved, item, -quantity.min(all));
                add(manual, resolved, &with.value, quantity);
                format!(" replaced by {}", with.value)
            }
            (DeviationKind::Substituted, None) => " replaced".to_owned(),
            (DeviationKind::Lot, _) => String::new(),
            (DeviationKind::BackOrder, _) => {
                let open = (quantity - of_kind(deviations, DeviationKind::SentLater, item, all)).max(zero);
                add(manual, resolved, item, -open.min(all));
                if open == quantity {
                    " on back order".to_owned()
                } else {
                    format!(" on back order, {open} of them not sent yet")
                }
            }
            (DeviationKind::SentLater, with) => {
                let name = with.as_ref().map_or(item, |w| &w.value);
                let under_another = d.release.as_ref().is_some_and(|r| Some(r.value.as_str()) != letter);
                let more = (quantity - of_kind(deviations, DeviationKind::BackOrder, item, all)).max(zero);
                if with.is_some() || under_another || all == zero {
                    add(manual, resolved, name, more);
                }
                with.as_ref().map_or_else(|| " sent later".to_owned(), |w| format!(" sent later as {}", w.value))
            }
        };
        let lot = d.lot.as_ref().map_or_else(String::new, |lot| format!(" from lot {}", lot.value));
        said.push(format!("{quantity} x {item}{lot}{what}"));
    }
    said
}

/// How many of an item are on rows of a kind.
fn of_kind(deviations: &[&Deviation], kind: DeviationKind, item: &str, all: Rational) -> Rational {
    let rows = deviations.iter().filter(|d| d.kind == kind && d.item.value == item && d.with.is_none());
    rows.map(|d| d.quantity.as_ref().map_or(all, |q| Rational::from_integer(q.value))).sum()
}

/// Adds to the number of a thing, or takes away from it; nothing of it stays where none is left.
fn add(manual: &Manual, resolved: &mut Resolved, item: &str, more: Rational) {
    let (number, designation) = (PartNumber::new(item), Designation::new(item));
    if resolved.listed.contains_key(&number) || manual.parts.contains_key(&number) {
        let listed = resolved.listed.entry(number.clone()).or_insert(Listed { count: 0, cells: Vec::new() });
        listed.count += more.to_integer();
        if listed.count <= 0 {
            resolved.listed.remove(&number);
        }
        return;
    }
    let unit = manual.hardware.get(&designation).map_or(crate::units::Unit::Each, |h| h.unit);
    let account = resolved.ledger.hardware.entry(designation.clone());
    let account =
        account.or_insert_with(|| HardwareAccount { need: Quantity::none(unit), taken: Vec::new(), steps: Vec::new() });
    account.need.value += more;
    if account.need.value <= Rational::from_integer(0) {
        resolved.ledger.hardware.remove(&designation);
    }
}
