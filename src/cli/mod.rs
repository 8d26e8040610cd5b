//! The command line: what was typed, what it means, and what is shown.
//!
//! Owns: the terminal, the output folder, the exit status. Must not know: how a manual is read, checked or composed
//! beyond what `compile` offers.
//!
//! Exit status: 0 no errors (warnings and hints may have been shown), 1 errors in the manual (or what was asked is not so:
//! `release --check`, `verify`), 2 could not run.

mod command;
mod failure;
mod fit;
mod foreign;
mod kept;
mod lasting;
mod opposite;
mod place;
#[cfg(test)]
mod planted;
mod progress;
mod reference;
mod register;
mod release;
mod rename;
mod report;
mod run;
mod runnable;
mod shipped;
mod slip;
mod staged;
mod start;
mod swap;
mod typed;
mod used;
mod variant;
mod verify;
mod where_used;
mod why;

use std::process::ExitCode;

use clap::Parser as _;

pub use typed::Typed;

use command::Command;
use failure::Failure;

/// How a run ended, where it ran.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    Clean,
    Faults,
}

/// Runs the program with what was typed.
pub fn main() -> ExitCode {
    let typed = match Typed::try_parse() {
        Ok(typed) => typed,
        Err(refused) => return reject(&refused),
    };
    let ended = survive_size_limit().and_then(|()| Command::from_typed(typed)).and_then(run::run);
    match ended {
        Ok(Ending::Clean) => ExitCode::SUCCESS,
        Ok(Ending::Faults) => ExitCode::from(1),
        Err(failure) => {
            report::complain(&failure);
            ExitCode::from(2)
        }
    }
}

/// Shows what is wrong with what was typed, or the help that was asked for.
fn reject(refused: &clap::Error) -> ExitCode {
    let _ = refused.print();
    ExitCode::from(u8::try_from(refused.exit_code()).unwrap_or(2))
}

/// A write beyond the system's limit on file sizes is to come back as an error, not to end the program: only so can
/// the old output be kept and the cause be named.
fn survive_size_limit() -> Result<(), Failure> {
    #[cfg(unix)]
    signal_hook::flag::register(signal_hook::consts::SIGXFSZ, std::sync::Arc::default()).map_err(|e| {
        Failure::new(format!("the system refuses a signal handler: {e}"), "free system resources and try again")
    })?;
    Ok(())
}
