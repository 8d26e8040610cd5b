//! Files of the manual's folder that are not read though they look as if they should be: without a word they would be missing.
//!
//! Owns: which files those are. Must not know: what the files that are read hold.

use std::collections::BTreeSet;

use super::read::{table_names, unreadable};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Files, LoadError};

/// The folders that are read.
const FOLDERS: [&str; 5] = ["steps", "pages", "figures", "releases", "templates"];

/// Whether a list of the manual is among the files that are not read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Strayed {
    Nothing,
    Lists,
}

/// What programs leave beside the file that they have open: no part of the manual.
pub(super) fn is_by_the_way(path: &str) -> bool {
    let name = path.rsplit('/').next().unwrap_or(path);
    name.starts_with("~$")
        || name.ends_with('~')
        || ["thumbs.db", "desktop.ini"].contains(&name.to_lowercase().as_str())
}

/// Reports the files that are not read and seem to be meant.
pub(super) fn find(files: &dyn Files, paths: &[String], faults: &mut Sink) -> Strayed {
    let mut strayed = Strayed::Nothing;
    let mut folders = BTreeSet::new();
    for path in paths {
        let (folder, name) = path
            .split_once('/')
            .map_or(("", path.as_str()), |(folder, rest)| (folder, rest.rsplit('/').next().unwrap_or(rest)));
        let lower = name.to_lowercase();
        let (stem, end) = lower
            .split_once('.')
            .map_or((lower.as_str(), ""), |(stem, _)| (stem, lower.rsplit('.').next().unwrap_or("")));
        if ["steps", "pages"].contains(&folder) {
            // Without an ending it can be a link to a folder.
            match end.is_empty().then(|| files.read(path)) {
                Some(Err(error @ LoadError::NotAFile)) => faults.push(unreadable(path, &error)),
                _ if end == "md" => {}
                _ => faults.push(no_text(path, folder, end)),
            }
        } else if folder.is_empty() && ["steps", "pages", "figures", "templates"].contains(&name) {
            faults.push(unread(
                path,
                format!("{path} is a file or a link, and no folder: nothing in it is read"),
                "put the folder itself in its place".to_owned(),
            ));
        } else if let Some(meant) = FOLDERS.into_iter().find(|f| f.eq_ignore_ascii_case(folder)) {
            if meant != folder && folders.insert(folder) {
                faults.push(unread(
                    folder,
                    format!("the folder is not read: its name is `{meant}`"),
                    format!("rename it to `{meant}`"),
                ));
            }
        } else if table_names().any(|n| n == stem)
            && is_list(end)
            && *path != format!("{stem}.csv")
            && !(folder.is_empty() && end == "xlsx")
        {
            strayed = Strayed::Lists;
            let help = format!("save it as `{stem}.csv` beside manual.yaml, or give it a name that is none of a list");
            faults.push(unread(path, "the file is not read, and has the name of a list".to_owned(), help));
        } else if folder.is_empty() && ["xls", "xlsm", "ods", "numbers"].contains(&end) {
            let help = "if it holds lists of this manual, save it as .xlsx, else move it out of the folder";
            faults.push(unread(path, "this kind of workbook is not read".to_owned(), help.to_owned()));
        } else if end == "md" && files.read(path).is_ok_and(|bytes| begins_a_step(&bytes)) {
            faults.push(unread(
                path,
                "a step outside the folder steps is not read".to_owned(),
                "move it into the folder steps".to_owned(),
            ));
        }
    }
    strayed
}

fn unread(path: &str, headline: String, help: String) -> Diagnostic {
    Diagnostic::error("unread-file", headline).in_file(path).help(help)
}

fn is_list(end: &str) -> bool {
    ["csv", "tsv", "tab", "txt", "xls", "xlsx", "xlsm", "ods", "numbers"].contains(&end)
}

/// Front matter with the key of a step.
fn begins_a_step(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(400)]).into_owned();
    head.starts_with("---") && head.lines().any(|line| line.starts_with("step:"))
}

/// A file among the steps or pages that is no text of theirs.
fn no_text(path: &str, folder: &str, end: &str) -> Diagnostic {
    let word = folder.trim_end_matches('s');
    let help = match end {
        "docx" | "doc" | "odt" | "rtf" => {
            format!(
                "copy its text into a plain text file whose name ends in `.md`, and move this one out of the folder {folder}"
            )
        }
        "txt" | "markdown" | "text" | "" => {
            format!("rename it so that it ends in `.md`; if it is no {word}, move it out of the folder {folder}")
        }
        _ => format!("move it out of the folder {folder}; pictures belong into the folder figures"),
    };
    unread(path, format!("the file is not read: a {word} ends in `.md`"), help)
}

#[cfg(test)]
mod tests {
    use super::{Strayed, find};
    use crate::source::{Files as _, Memory};

    fn stray(path: &str, text: &str) -> (Strayed, Vec<String>) {
        let mut files = Memory::new();
        files.insert(path, text);
        let paths: Vec<String> = files.list().unwrap().into_iter().map(|e| e.path).collect();
        let mut sink = Vec::new();
        let strayed = find(&files, &paths, &mut sink);
        (strayed, sink.into_iter().map(|d| d.help).collect())
    }

    #[test]
    fn what_seems_meant_and_is_not_read_is_said() {
        for (path, strayed, help) in [
            ("steps/a.txt", Strayed::Nothing, "rename it so that it ends in `.md`"),
            ("steps/frame/a.md.docx", Strayed::Nothing, "copy its text"),
            ("Steps/a.md", Strayed::Nothing, "rename it to `steps`"),
            ("Parts.CSV", Strayed::Lists, "save it as `parts.csv`"),
            ("stock.ods", Strayed::Lists, "save it as `stock.csv`"),
            ("lists/holes.csv", Strayed::Lists, "save it as `holes.csv` beside manual.yaml"),
            ("lists.xls", Strayed::Nothing, "save it as .xlsx"),
            ("steps", Strayed::Nothing, "put the folder itself in its place"),
            ("10-keel.md", Strayed::Nothing, "move it into the folder steps"),
        ] {
            let (found, said) = stray(path, "---\nstep: keel\n---\n");
            assert_eq!(found, strayed, "{path}");
            assert!(said.len() == 1 && said[0].contains(help), "{path}: {said:?}");
        }
        for path in [
            "parts.csv",
            "parts.xlsx",
            "steps/a.md",
            "figures/raw/a.txt",
            "parts-old.csv",
            "drawings/keel.dwg",
            "notes.txt",
            "parts.csv.bak",
        ] {
            assert_eq!(stray(path, "x"), (Strayed::Nothing, Vec::new()), "{path}");
        }
        assert_eq!(stray("README.md", "# Notes\n").1, [""; 0]);
    }
}
