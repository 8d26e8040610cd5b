//! `start`: a small manual to begin from.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

use super::failure::Failure;

macro_rules! files {
    ($($path:literal,)*) => { &[$(($path, include_str!(concat!("../../templates/start/", $path))),)*] };
}

/// Every file, in the order written: the settings last, since they make the folder a manual.
const FILES: &[(&str, &str)] = files![
    "parts.csv",
    "hardware.csv",
    "stock.csv",
    "holes.csv",
    "steps/frame/10-handle.md",
    "steps/frame/20-board.md",
    "steps/running-gear/10-axle.md",
    "steps/running-gear/20-wheels.md",
    "figures/axle.svg",
    "manual.yaml",
];

/// Writes the manual and returns the number of files.
///
/// # Errors
/// The folder is there and not empty; the system's words.
pub(super) fn start(folder: &Path) -> Result<usize, Failure> {
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
    for (i, (path, text)) in FILES.iter().enumerate() {
        let path = folder.join(path);
        if let Err(error) = write(&path, text) {
            // Half a manual is worse than none. What can't be removed either is left.
            for (path, _) in &FILES[..=i] {
                let _ = fs::remove_file(folder.join(path));
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
        let mut written: Vec<_> = FILES.iter().map(|f| f.0.to_owned()).collect();
        written.sort();
        assert_eq!(written, there);
    }
}
