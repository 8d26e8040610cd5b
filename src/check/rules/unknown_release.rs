//! A release in the kit register that does not exist.
//!
//! It matters because nobody can say then with which manual and which parts the kit was shipped.
//!
//! Wrong: `C` in the column `release` of kits.csv or shipped.csv while the releases are A and B. Right: `B`.
//!
//! It can't be accepted.

use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink, did_you_mean, nearest};
use crate::source::Spanned;

pub const RULE: Rule = Rule {
    id: "unknown-release",
    level: Level::Error,
    summary: "a release in the kit register that does not exist",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_release.rs"),
    run: Run::Manual(run),
};

fn run(ctx: &Context) -> Sink {
    let kits = ctx.manual.kits.iter().filter_map(|k| Some((k.serial.value, k.release.as_ref()?)));
    let deviations = ctx.manual.deviations.iter().filter_map(|d| Some((d.serial.value, d.release.as_ref()?)));
    let letters = &ctx.past.letters;
    let is_broken = |letter: &str| {
        ctx.past
            .broken
            .iter()
            .any(|d| d.file.as_deref() == Some(&format!("{}{letter}.release", crate::change::RELEASES)))
    };
    let finding = |(serial, letter): (u32, &Spanned<String>)| {
        if letters.contains(&letter.value) || is_broken(&letter.value) {
            return None;
        }
        let help = match nearest(&letter.value, letters.iter().map(String::as_str)) {
            Some(near) => did_you_mean(near),
            None if letters.is_empty() => {
                "nothing was released yet; `kitwright release` makes the first release".to_owned()
            }
            None => format!("the releases are {}", letters.join(", ")),
        };
        let d = RULE.found(format!("there is no release `{}`", letter.value));
        Some(d.at(letter.span, format!("kit {serial} was shipped with it")).help(help).about(&letter.value))
    };
    kits.chain(deviations).filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn the_release_of_a_kit_exists() {
        let kits = "serial,configuration,release\n7,BASE,A\n8,BASE,C\n9,BASE,\n";
        let rows = sound().add("kits.csv", kits);
        assert_eq!(rows.clone().since(&sound(), |t| t).findings(), ["unknown-release kits.csv `C`"]);
        assert_eq!(rows.findings().len(), 2);
        let shipped = sound()
            .add("kits.csv", "serial,configuration\n7,BASE\n")
            .add("shipped.csv", "serial,item,what,release\n7,KW-104,back order,B\n");
        assert_eq!(shipped.since(&sound(), |t| t).findings(), ["unknown-release shipped.csv `B`"]);
    }
}
