//! `why`: why a step, a part, an item of hardware or a line of a file is in a configuration or out of it.
//!
//! Owns: the wording of the reasons. The reasons themselves are those that resolving used.

mod condition;
mod hardware;
mod line;
mod part;
mod step;

use super::failure::Failure;
use crate::change::deviations;
use crate::compile::Checked;
use crate::diag::{did_you_mean, nearest};
use crate::model::Manual;
use crate::resolve::{Configuration, Facts, Resolved, kit_serial, meant_configuration, resolve};
use crate::source::SourceMap;
use crate::units::{Designation, PartNumber, StepId};

/// What a reason is drawn from.
struct WhyCase<'a> {
    manual: &'a Manual,
    sources: &'a SourceMap,
    resolved: &'a Resolved,
    facts: Facts<'a>,
}

/// Says why, in plain text.
///
/// # Errors
/// There is no such configuration, or nothing of that name.
pub(super) fn why(checked: &Checked, manual: &Manual, id: &str, configuration: &str) -> Result<String, Failure> {
    let configuration = find(manual, configuration)?;
    let resolved = resolve(manual, &configuration);
    let case = WhyCase {
        manual,
        sources: &checked.sources,
        resolved: &resolved,
        facts: Facts { settings: &manual.settings, configuration: &configuration },
    };
    let mut text = Vec::new();
    if let Some(step) = manual.steps.iter().find(|s| s.id.value == StepId::new(id)) {
        text.push(step::why(&case, step));
    }
    if let Some(part) = manual.parts.get(&PartNumber::new(id)) {
        text.push(part::why(&case, part));
    }
    if let Some(hardware) = manual.hardware.get(&Designation::new(id)) {
        text.push(hardware::why(&case, hardware));
    }
    if text.is_empty()
        && let Some((path, number)) = id.rsplit_once(':')
        && let Ok(number) = number.parse()
    {
        text.push(line::why(&case, path, number)?);
    }
    if text.is_empty() { Err(unknown(manual, id)) } else { Ok(text.join("\n")) }
}

/// A configuration by its name, or a kit's by its serial: `kit-0147`.
fn find(manual: &Manual, name: &str) -> Result<Configuration, Failure> {
    let settings = &manual.settings;
    let kit = kit_serial(name).and_then(|serial| serial.parse::<u32>().ok());
    let (written, serial, rows) = match kit {
        None => (name, None, Vec::new()),
        Some(serial) => {
            let found = manual.kits.iter().find(|k| k.serial.value == serial).ok_or_else(|| {
                Failure::new(
                    format!("there is no kit {serial} in the kit register"),
                    "look up its serial number in kits.csv",
                )
            })?;
            (found.configuration.value.as_str(), Some(serial), deviations(manual, found))
        }
    };
    let refused = |refusal| {
        let declared = crate::compile::declared_names(manual);
        let help = match nearest(written, declared.iter().map(String::as_str)) {
            Some(near) => did_you_mean(near),
            None if declared.is_empty() => "write a variant and its options, for example BASIC+hook".to_owned(),
            None => format!("write a variant and its options, for example {}", declared.join(", ")),
        };
        Failure::new(format!("`{written}` is no configuration: {refusal}"), help)
    };
    let configuration = meant_configuration(settings, written).map_err(refused)?;
    Ok(Configuration { serial, deviations: rows, ..configuration })
}

fn unknown(manual: &Manual, id: &str) -> Failure {
    let steps = manual.steps.iter().map(|s| s.id.value.as_str());
    let parts = manual.parts.keys().map(PartNumber::as_str);
    let hardware = manual.hardware.keys().map(Designation::as_str);
    let help = match nearest(id, steps.chain(parts).chain(hardware)) {
        Some(near) => did_you_mean(near),
        None => "name a step's id, a part number, a designation, or a place such as steps/frame/keel.md:31".to_owned(),
    };
    Failure::new(format!("there is no step, part or hardware `{id}`"), help)
}
