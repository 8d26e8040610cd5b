//! The sources as they are against the last release, for every configuration that documents or kits are made of.

use rayon::prelude::*;

use super::compared::{State, released_state, working_state};
use super::freeze::Refused;
use super::pictures::Pictures;
use crate::change::{History, Impact, Pair, impact, kits_touched};
use crate::model::Manual;
use crate::resolve::{Configuration, Resolved, declared, parse_configuration, resolve};
use crate::source::Files;
use crate::units::UnitStyle;

/// What the sources as they are change against the last release, and the units in which the manual shows lengths.
///
/// # Errors
/// Nothing was released yet; the sources or the release can't be read.
pub fn impacts(files: &dyn Files) -> Result<(Impact, UnitStyle), Refused> {
    let history = History::last_head(files)?;
    let last = history.last().ok_or_else(|| {
        Refused::new("nothing was released yet", "make the first release with `kitwright release`; then changes can be followed")
    })?;
    let (after, before) = rayon::join(
        || working_state(files, Pictures::Drawings),
        || released_state(files, &history, last.letter.as_str(), Pictures::Drawings),
    );
    let (after, before) = (after?, before?);
    let style = after.manual.settings.units;
    if after.lines == before.lines {
        return Ok((Impact { since: last.letter.to_string(), ..Impact::default() }, style));
    }
    let names = made(&after.manual);
    let old = made(&before.manual);
    let kept: Vec<&Configuration> = names.iter().filter(|c| allowed(&before.manual, &after.manual, c)).collect();
    let resolved = |state: &State| -> Vec<Resolved> { kept.par_iter().map(|c| resolve(&state.manual, c)).collect() };
    let (a, b) = rayon::join(|| resolved(&before), || resolved(&after));
    let pairs: Vec<Pair> = a.iter().zip(&b).map(|(x, y)| Pair { before: before.side(x), after: after.side(y) }).collect();
    let mut impact = impact(last.letter.as_str(), &pairs);
    let name = |manual: &Manual, c: &Configuration| c.name(&manual.settings);
    impact.new = names.iter().filter(|c| !kept.contains(c)).map(|c| name(&after.manual, c)).collect();
    impact.gone = old
        .iter()
        .map(|c| name(&before.manual, c))
        .filter(|n| !names.iter().any(|c| name(&after.manual, c) == *n))
        .collect();
    impact.kits = kits_touched(&after.manual, &impact.documents);
    Ok((impact, style))
}

/// The configurations that are declared, then those of kits.
fn made(manual: &Manual) -> Vec<Configuration> {
    let mut list = declared(&manual.settings);
    for kit in &manual.kits {
        if let Ok(configuration) = parse_configuration(&manual.settings, &kit.configuration.value)
            && !list.contains(&configuration)
        {
            list.push(configuration);
        }
    }
    list
}

fn allowed(before: &Manual, after: &Manual, configuration: &Configuration) -> bool {
    parse_configuration(&before.settings, &configuration.name(&after.settings)).is_ok()
}
