//! A measure or a kind in the hardware list that is not what the designation says.
//!
//! It matters because one of the two is of another item, and joints are judged by them.
//!
//! Where the designation's value is from memory, the list's is used and the finding is a warning.
//!
//! Wrong: `AN960-416` with a thickness of 1/8 in. Right: .063, or an empty cell.
//!
//! To accept: `accept: [{ rule: hardware-differs, about: AN960-416, reason: ... }]`.

use crate::check::fastened::{no_stronger_than, words};
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::model::HardwareKind;
use crate::trade::{ItemForm, decode};

pub const RULE: Rule = Rule {
    id: "hardware-differs",
    level: Level::Error,
    summary: "a measure or a kind in the hardware list that contradicts the designation",
    source: "the standards' own tables",
    bending: Leave::Allowed,
    file: include_str!("hardware_differs.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let mut sink = Sink::new();
    for (name, row) in &ctx.manual.hardware {
        if let Some(says) = decode(name.as_str())
            .map(|d| kind(d.form))
            .filter(|says| row.kind != HardwareKind::Other && !says.contains(&row.kind))
        {
            sink.push(
                RULE.found(format!(
                    "{name} is a {} by its designation, and the hardware list calls it a {}",
                    says[0].word(),
                    row.kind.word()
                ))
                .at(row.designation.span, format!("a {} in the column kind", row.kind.word()))
                .help(format!("write `{}` into the column kind, or correct the designation", says[0].word()))
                .about(name),
            );
            continue;
        }
        for conflict in ctx.items.item(name).map_or(&[][..], |i| &i.conflicts) {
            let (listed, says) = (words(ctx, conflict.listed), words(ctx, conflict.decoded.value));
            let d = RULE
                .found(format!("{name} has {} {says}, and the hardware list says {listed}", conflict.column))
                .at(conflict.span, format!("{says} by the designation ({})", conflict.decoded.source.words()))
                .help("empty the cell, or correct it or the designation")
                .about(name);
            sink.push(no_stronger_than(d, conflict.source));
        }
    }
    sink
}

/// The kinds that a form may be called.
fn kind(form: ItemForm) -> &'static [HardwareKind] {
    use HardwareKind as K;
    match form {
        ItemForm::Bolt | ItemForm::FullThreadBolt | ItemForm::ClevisBolt => &[K::Bolt, K::Screw],
        ItemForm::SocketScrew | ItemForm::CountersunkScrew | ItemForm::ButtonScrew | ItemForm::CoachBolt => {
            &[K::Screw, K::Bolt]
        }
        ItemForm::CoachScrew | ItemForm::WoodScrew => &[K::Screw],
        ItemForm::Eyebolt => &[K::Eyebolt, K::Bolt],
        ItemForm::Nut(_) => &[K::Nut],
        ItemForm::Washer(_) => &[K::Washer],
        ItemForm::SolidRivet(_) => &[K::SolidRivet],
        ItemForm::BlindRivet(_) => &[K::BlindRivet],
        ItemForm::ClevisPin => &[K::ClevisPin],
        ItemForm::CotterPin => &[K::CotterPin],
    }
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;
    use crate::diag::Level;

    #[test]
    fn the_list_and_the_designation_agree() {
        let with = |grip: &str| {
            sound()
                .edit_all("hardware.csv", "bolt,each", &format!("bolt,each,{grip}"))
                .edit_all("hardware.csv", "washer,each", "washer,each,")
                .edit_all("hardware.csv", "nut,each", "nut,each,")
                .edit_all("hardware.csv", "pin,each", "pin,each,")
                .edit_all("hardware.csv", "rivet,lb", "rivet,lb,")
                .edit("hardware.csv", "kind,unit", "kind,unit,grip")
        };
        // The published AN bolt tables: AN4-10, grip 9/16.
        assert_eq!(with("9/16").findings(), [""; 0]);
        let found = with("1/2").only();
        assert_eq!((found.rule, found.level), ("hardware-differs", Level::Error));
        assert_eq!(
            sound().edit("hardware.csv", "AN4-10A,Bolt,bolt", "AN4-10A,Bolt,nut").findings(),
            ["hardware-differs hardware.csv `AN4-10A`"]
        );
    }
}
