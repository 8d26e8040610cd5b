//! Hardware in a place of a joint where its kind can't stand: a bolt as the nut, a washer as the bolt, a nut as the cotter pin.
//!
//! It matters because the builder finds the item in the bag and nothing to do with it, and the nut is missing.
//!
//! It looks at the kind that the designation or the hardware list tells. It does not look at items of which neither tells it.
//!
//! Wrong: `nut: AN6-11`. Right: `nut: AN310-6`.
//!
//! To accept: `accept: [{ rule: item-of-another-kind, about: AN6-11, reason: ... }]` in the step's file.

use crate::check::fastened::{about_joint, called};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::source::Spanned;
use crate::trade::ItemForm;
use crate::units::Designation;

pub const RULE: Rule = Rule {
    id: "item-of-another-kind",
    level: Level::Error,
    summary: "a bolt as a nut, a washer as a bolt: hardware in a place of a joint where its kind can't stand",
    source: "common practice",
    bending: Leave::Allowed,
    file: include_str!("item_of_another_kind.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for seen in &ctx.joints {
        let joint = seen.joint;
        let mut look = |item: &Spanned<Designation>, place: &str, suits: fn(ItemForm) -> bool| {
            let Some(form) = ctx.items.get(&item.value).map(|i| i.form).filter(|form| !suits(*form)) else { return };
            let d = RULE
                .found(format!("{}: {} is {}, and stands as {place}", called(seen), item.value, what(form)))
                .at(item.span, format!("not {place}"))
                .help("name the item that was meant")
                .about(&item.value);
            sink.push(about_joint(d, seen));
        };
        look(&joint.fastener, "the fastener", |form| {
            !matches!(form, ItemForm::Nut(_) | ItemForm::Washer(_) | ItemForm::CotterPin)
        });
        if let Some(nut) = &joint.nut {
            look(nut, "the nut", |form| matches!(form, ItemForm::Nut(_)));
        }
        if let Some(pin) = &joint.pin {
            look(pin, "the cotter pin", |form| matches!(form, ItemForm::CotterPin));
        }
        for (washer, _) in joint.under_head.iter().chain(&joint.under_nut) {
            look(washer, "a washer", |form| matches!(form, ItemForm::Washer(_)));
        }
    }
    sink
}

fn what(form: ItemForm) -> &'static str {
    match form {
        ItemForm::Nut(_) => "a nut",
        ItemForm::Washer(_) => "a washer",
        ItemForm::SolidRivet(_) | ItemForm::BlindRivet(_) => "a rivet",
        ItemForm::ClevisPin => "a clevis pin",
        ItemForm::CotterPin => "a cotter pin",
        _ => "a bolt or screw",
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    const STEP: &str = "steps/frame/20-left.md";

    #[test]
    fn each_place_has_its_kind() {
        let found = |old: &str, new: &str| {
            let (found, _) = sound().edit(STEP, old, new).check();
            found.iter().filter(|d| d.rule == "item-of-another-kind").map(|d| d.headline.clone()).collect::<Vec<_>>()
        };
        assert_eq!(found("nut: AN365-428A", "nut: AN365-428A"), [""; 0]);
        assert_eq!(found("nut: AN365-428A", "nut: AN4-10A").len(), 1);
        assert_eq!(found("under-nut: [AN960-416]", "under-nut: [AN365-428A]").len(), 1);
        assert_eq!(found("fastener: AN4-10A", "fastener: AN960-416").len(), 1);
    }
}
