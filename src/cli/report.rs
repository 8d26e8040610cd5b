//! Showing findings and text on standard output, and remarks on standard error.

use std::io::Write as _;

use super::command::{HowMuch, Voice};
use super::failure::Failure;
use crate::compile::Checked;
use crate::diag::{self, Colour, Diagnostics};
use crate::source::SourceMap;

/// Writes text to standard output. A reader who has gone has seen enough, and changes nothing in how the run ends.
///
/// # Errors
/// The system's words.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = anstream::AutoStream::auto(std::io::stdout().lock());
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Failure::new(format!("the text can't be written out: {error}"), "check where the output is sent to"))
        }
        _ => Ok(()),
    }
}

/// Says why the program could not run. Where standard error is gone there is nobody left to tell.
pub(super) fn complain(failure: &Failure) {
    let mut err = std::io::stderr().lock();
    let _ = write!(err, "{failure}").and_then(|()| err.flush());
}

/// A remark beside the findings: on standard error, so that a program that reads the findings is not disturbed.
pub(super) fn remark(line: &str) {
    let mut err = std::io::stderr().lock();
    // Nobody is left to be told that this failed.
    let _ = writeln!(err, "{line}");
}

/// Shows findings, and a last line that counts them.
///
/// # Errors
/// See [`print`].
pub(super) fn findings(found: &Diagnostics, sources: &SourceMap, voice: Voice) -> Result<(), Failure> {
    let choice = anstream::AutoStream::choice(&std::io::stdout());
    let colour = if choice == anstream::ColorChoice::Never { Colour::Off } else { Colour::On };
    print(&diag::render(found, sources, voice.format, colour))
}

/// What was assumed and looked at.
pub(super) fn detail(checked: &Checked, voice: Voice) {
    if voice.detail == HowMuch::Usual {
        return;
    }
    for line in &checked.assumed {
        remark(line);
    }
    let names: Vec<_> = checked.resolved.iter().map(|r| r.name.as_str()).collect();
    if !names.is_empty() {
        remark(&format!("checked {}: {}", names.len(), names.join(", ")));
    }
}
