//! Showing findings and text on standard output, and remarks on standard error.

use std::io::Write as _;

use super::command::{HowMuch, Voice};
use super::failure::Failure;
use crate::compile::Checked;
use crate::diag::{self, Colour, Diagnostics, Format};
use crate::source::SourceMap;

/// Writes text to standard output.
///
/// # Errors
/// The reader has gone, or the system's words.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = anstream::AutoStream::auto(std::io::stdout().lock());
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|error| match error.kind() {
        std::io::ErrorKind::BrokenPipe => Failure::Closed,
        _ => Failure::new(format!("the text can't be written out: {error}"), "check where the output is sent to"),
    })
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

/// What a check looked at, in a line, where people read it.
///
/// # Errors
/// See [`print`].
pub(super) fn looked_at(checked: &Checked, voice: Voice) -> Result<(), Failure> {
    let Some(manual) = checked.manual.as_ref().filter(|_| voice.format == Format::Full) else { return Ok(()) };
    let counted = |n: usize, one: &str, more: &str| format!("{n} {}", if n == 1 { one } else { more });
    print(&format!(
        "checked {}, {} and {} in {}\n",
        counted(manual.steps.len(), "step", "steps"),
        counted(manual.parts.len(), "part", "parts"),
        counted(manual.hardware.len(), "item of hardware", "items of hardware"),
        counted(checked.resolved.len(), "configuration", "configurations"),
    ))
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
