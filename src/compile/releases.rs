//! What the kit register says of releases, held against the releases that there are.

use crate::change::History;
use crate::diag::{Diagnostic, nearest};
use crate::model::Manual;

/// Kits that were shipped with a release that does not exist. One whose file is there and can't be read is `broken`
/// and is not reported again as missing.
pub(super) fn of_kits(manual: &Manual, history: &History, broken: &[Diagnostic]) -> Vec<Diagnostic> {
    let letters: Vec<String> = history.releases().map(|r| r.letter.to_string()).collect();
    let is_broken = |letter: &str| {
        broken.iter().any(|d| d.file.as_deref() == Some(&format!("{}{letter}.release", crate::change::RELEASES)))
    };
    let unknown = manual.kits.iter().filter_map(|kit| {
        let letter = kit.release.as_ref()?;
        if history.get(&letter.value).is_some() || is_broken(&letter.value) {
            return None;
        }
        let help = match nearest(&letter.value, letters.iter().map(String::as_str)) {
            Some(near) => format!("write `{near}`, if that is what was meant"),
            None if letters.is_empty() => "nothing was released yet; `kitwright release` makes the first release".to_owned(),
            None => format!("the releases are {}", letters.join(", ")),
        };
        Some(
            Diagnostic::error("unknown-release", format!("there is no release `{}`", letter.value))
                .at(letter.span, format!("kit {} was shipped with it", kit.serial.value))
                .help(help)
                .about(&letter.value),
        )
    });
    unknown.collect()
}
