//! The pipeline: read, resolve, check, compose, emit.
//!
//! Owns: the order of the stages and which documents are made for which configuration.
//! Must not know: the terminal, the command line, where the files come from and go to.

mod before;
mod compared;
mod conversions;
mod documents;
mod edition;
mod for_kit;
mod freeze;
mod impacts;
mod imprints;
mod notices;
mod pictures;
mod problems;
mod prove;
mod reports;
mod seal;
mod stick;

use rayon::prelude::*;

use crate::change::Past;
use crate::check;
use crate::diag::{Diagnostic, Diagnostics, Level};
use crate::document::{LiesIn, PrintScale};
use crate::model::{self, Manual};
use crate::resolve::{Resolved, configurations, declared, resolve};
use crate::source::{Files, LoadError, Output, SourceMap};

pub use compared::{Compared, compared};
pub use conversions::{conversion_report, converted};
pub use documents::WriteFailure;
pub use for_kit::ForKit;
pub use freeze::{Frozen, freeze};
pub use impacts::impacts;
pub use notices::{NoticeWords, Notices, item_notice, kits_sheet, release_notice};
pub use prove::prove;
pub use reports::change_report;
pub use seal::seals;
pub use stick::sticks;

/// A manual that was read and checked, with everything that was found.
pub struct Checked {
    /// None where there was no readable manual.
    pub manual: Option<Manual>,
    pub sources: SourceMap,
    /// What was assumed of each table: encoding and separator.
    pub assumed: Vec<String>,
    /// Every configuration that was checked, in order.
    pub resolved: Vec<Resolved>,
    /// Without the questions.
    pub findings: Diagnostics,
    /// What may well be right, and is asked in a review.
    pub questions: Diagnostics,
}

/// What the pipeline is at, for whoever waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage<'a> {
    Reading,
    Checking,
    /// A configuration's documents: its number from 1, and how many there are.
    Documents {
        configuration: &'a str,
        number: usize,
        of: usize,
    },
}

/// Is told what the pipeline is at.
pub type Watch<'a> = &'a (dyn Fn(Stage) + Sync);

/// Reads the manual, resolves every configuration that is checked, and runs the rules.
///
/// # Errors
/// The folder can't be listed. Everything else is a finding.
pub fn check(files: &dyn Files, watch: Watch) -> Result<Checked, LoadError> {
    check_after(files, SourceMap::new(), watch)
}

/// The same; its texts are added to those that were read before.
fn check_after(files: &dyn Files, before: SourceMap, watch: Watch) -> Result<Checked, LoadError> {
    watch(Stage::Reading);
    let model::Read { manual, sources, mut faults, assumed } = model::read_after(files, before)?;
    if let Some(manual) = &manual {
        faults.extend(for_kit::row_faults(files, manual)?);
    }
    watch(Stage::Checking);
    let resolved: Vec<Resolved> = match &manual {
        Some(manual) => configurations(manual).par_iter().map(|c| resolve(manual, c)).collect(),
        None => Vec::new(),
    };
    let found = match &manual {
        Some(manual) => check::check_since(manual, &resolved, &[], &Past::read(files)?, &sources, faults),
        None => faults,
    };
    let (questions, found) = found.into_iter().partition(|d| d.level == Level::Question);
    let (findings, questions) = (Diagnostics::collect(found, &sources), Diagnostics::collect(questions, &sources));
    Ok(Checked { manual, sources, assumed, resolved, findings, questions })
}

/// The names of the configurations whose documents are made, in the manual's order.
pub fn declared_names(manual: &Manual) -> Vec<String> {
    declared(&manual.settings).iter().map(|c| c.name(&manual.settings)).collect()
}

/// Makes the documents of the configurations named in `wanted`, one configuration after another, and of one the large
/// documents one after another. Each goes to a folder of its own: `ICE+claw/manual.pdf`. Returns what was found on the way,
/// in order, whatever the number of threads; templates are rescaled by `print_scale`; with an error among the findings the documents are not fit for use.
///
/// # Errors
/// The output refuses a file.
pub fn documents(
    checked: &Checked,
    files: &dyn Files,
    wanted: &[String],
    print_scale: PrintScale,
    out: &dyn Output,
    watch: Watch,
) -> Result<Diagnostics, WriteFailure> {
    let mut found: Vec<Diagnostic> = Vec::new();
    if let Some(manual) = &checked.manual
        && let Some(kit) =
            documents::MakingKit::new(manual, &checked.sources, files, print_scale, LiesIn::Bins, &mut found)
    {
        for (i, name) in wanted.iter().enumerate() {
            let Some(resolved) = checked.resolved.iter().find(|r| r.name == *name) else { continue };
            watch(Stage::Documents { configuration: name, number: i + 1, of: wanted.len() });
            kit.write(resolved, out, &mut found)?;
        }
    }
    // Documents of several configurations meet the same causes; they are merged here.
    Ok(settled(checked, found))
}

/// What was found while documents were made, at the manual's levels.
fn settled(checked: &Checked, found: Vec<Diagnostic>) -> Diagnostics {
    let found = match &checked.manual {
        Some(manual) => check::settle_late(manual, found),
        None => found,
    };
    Diagnostics::collect(found, &checked.sources)
}
