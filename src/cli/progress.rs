//! A line on the terminal while the work goes on.

use std::io::{IsTerminal as _, Write as _};
use std::sync::Mutex;
use std::time::{Duration, Instant};

use crate::compile::Stage;

/// Work shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_millis(250);

/// One line that is written over and wiped in the end. Silent where nobody watches.
pub(super) struct Progress {
    watched: bool,
    began: Instant,
    shown: Mutex<bool>,
}

impl Progress {
    pub fn new() -> Self {
        let dumb = std::env::var_os("TERM").is_some_and(|t| t == "dumb");
        Self { watched: std::io::stderr().is_terminal() && !dumb, began: Instant::now(), shown: Mutex::new(false) }
    }

    pub fn at(&self, stage: Stage) {
        // Documents are the long part, so they are announced at once.
        let long = matches!(stage, Stage::Documents { .. }) || self.began.elapsed() > PATIENCE;
        if !self.watched || !long {
            return;
        }
        let line = match stage {
            Stage::Reading => "reading".to_owned(),
            Stage::Checking => "checking".to_owned(),
            Stage::Documents { configuration, number, of } => {
                format!("{configuration}: making documents ({number} of {of})")
            }
        };
        self.write(&format!("\r\x1b[2K{line}"), true);
    }

    /// Wipes the line.
    pub fn end(&self) {
        let shown = self.shown.lock().is_ok_and(|s| *s);
        if shown {
            self.write("\r\x1b[2K", false);
        }
    }

    fn write(&self, text: &str, shows: bool) {
        let mut err = std::io::stderr().lock();
        // A terminal that is gone is no reason to stop.
        let _ = err.write_all(text.as_bytes()).and_then(|()| err.flush());
        if let Ok(mut shown) = self.shown.lock() {
            *shown = shows;
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.end();
    }
}
