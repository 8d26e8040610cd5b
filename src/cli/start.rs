//! `start`: a small manual to begin from.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

use super::failure::Failure;
use crate::units::{Paper, UnitStyle};

/// A file of the small manual.
struct Template {
    path: &'static str,
    inch: &'static str,
    metric: &'static str,
}

macro_rules! templates {
    (in both units: $($path:literal,)* in one form: $($same:literal,)*) => {
        &[
            $(Template {
                path: $path,
                inch: include_str!(concat!("../../templates/start/", $path)),
                metric: include_str!(concat!("../../templates/start-mm/", $path)),
            },)*
            $(Template {
                path: $same,
                inch: include_str!(concat!("../../templates/start/", $same)),
                metric: include_str!(concat!("../../templates/start/", $same)),
            },)*
        ]
    };
}

/// Every file, in the order written: the settings last, since they make the folder a manual.
const FILES: &[Template] = templates![
    in both units:
    "parts.csv",
    "hardware.csv",
    "stock.csv",
    "holes.csv",
    "steps/frame/10-handle.md",
    "steps/frame/20-board.md",
    "steps/running-gear/10-axle.md",
    "steps/running-gear/20-wheels.md",
    in one form:
    "figures/axle.svg",
    "manual.yaml",
];

/// What the small manual is to be like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Beginning {
    pub units: UnitStyle,
    pub paper: Paper,
    /// The word of the trade; none where the usual limits are to hold.
    pub trade: Option<&'static str>,
}

impl Beginning {
    fn text(&self, file: &Template) -> String {
        let metric = self.units == UnitStyle::Millimetre;
        let mut text = if metric { file.metric } else { file.inch }.to_owned();
        if file.path != "manual.yaml" {
            return text;
        }
        if self.paper == Paper::A4 {
            text = text.replace("paper: letter", "paper: a4");
        }
        if metric {
            text = text.replace("units: inch-fraction", "units: mm").replace("kerf: 1/16", "kerf: 1.5 mm");
        }
        let mut more = String::new();
        if let Some(trade) = self.trade {
            more.push_str(&format!("\n# The trade whose usual limits joints are held against.\ntrade: {trade}\n"));
        }
        if metric {
            more.push_str(KINDS);
        }
        text.replace("\n# Every tool and", &format!("{more}\n# Every tool and"))
    }
}

/// A kind of joint, which the steps in millimetres name.
const KINDS: &str = "
# What joints have in common is named once. The sizes of nut and washers follow the bolt.
joint-kinds:
  through-wood:
    under-head: [ISO 7089]
    under-nut: [ISO 7089]
    nut: ISO 7040
    torque: 2..3 N m
    torque-reason: Until the washer begins to sink into the wood.
";

/// Writes the manual and returns the number of files.
///
/// # Errors
/// The folder is there and not empty; the system's words.
pub(super) fn start(folder: &Path, beginning: Beginning) -> Result<usize, Failure> {
    let failed = |path: &Path, e: &io::Error| {
        Failure::new(format!("{} can't be written: {e}", path.display()), "name a folder that can be written")
    };
    match fs::read_dir(folder) {
        Ok(mut entries) => {
            if entries.next().is_some() {
                return Err(Failure::new(
                    format!("the folder {} is not empty", folder.display()),
                    "name a new folder; nothing was changed",
                ));
            }
        }
        Err(e) if e.kind() == io::ErrorKind::NotFound => {}
        Err(e) => return Err(failed(folder, &e)),
    }
    for (i, file) in FILES.iter().enumerate() {
        let (path, text) = (folder.join(file.path), beginning.text(file));
        if let Err(error) = write(&path, &text) {
            // Half a manual is worse than none. What can't be removed either is left.
            for file in &FILES[..=i] {
                let _ = fs::remove_file(folder.join(file.path));
            }
            return Err(failed(&path, &error));
        }
    }
    Ok(FILES.len())
}

fn write(path: &Path, text: &str) -> io::Result<()> {
    if let Some(parent) = path.parent() {
        fs::create_dir_all(parent)?;
    }
    fs::File::create_new(path)?.write_all(text.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_of_the_template_is_written() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/start");
        let mut there: Vec<String> = walkdir::WalkDir::new(&folder)
            .into_iter()
            .map(|e| e.expect("the folder can be read"))
            .filter(|e| e.file_type().is_file())
            .map(|e| e.path().strip_prefix(&folder).expect("it is inside").to_string_lossy().replace('\\', "/"))
            .collect();
        there.sort();
        let mut written: Vec<_> = FILES.iter().map(|f| f.path.to_owned()).collect();
        written.sort();
        assert_eq!(written, there);
    }

    /// Every file in millimetres takes the place of one in inches, and no inches are left.
    #[test]
    fn the_metric_manual_is_metric() {
        let all = Beginning { units: UnitStyle::Millimetre, paper: Paper::A4, trade: Some("metric-general") };
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/start-mm");
        for entry in walkdir::WalkDir::new(&folder) {
            let entry = entry.expect("the folder can be read");
            let own = |f: &&Template| f.metric != f.inch && entry.path() == folder.join(f.path);
            assert!(!entry.file_type().is_file() || FILES.iter().any(|f| own(&f)), "{}", entry.path().display());
        }
        let settings = all.text(FILES.iter().find(|f| f.path == "manual.yaml").expect("it is there"));
        for line in ["units: mm\n", "paper: a4\n", "kerf: 1.5 mm\n", "trade: metric-general\n", "through-wood:\n"] {
            assert!(settings.contains(line), "{line}");
        }
        for Template { path, metric: text, .. } in FILES.iter().filter(|f| f.metric != f.inch) {
            assert!(!text.contains(" in,") && !text.contains("in-lb") && !text.contains("1/"), "{path}");
        }
    }
}
