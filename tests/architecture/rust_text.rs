//! Rust sources as text: the files of `src`, and their code without comments, strings and tests.

use std::path::{Path, PathBuf};

/// A source file.
pub struct RustFile {
    /// Relative to the project's folder, with `/`.
    pub path: String,
    pub text: String,
    /// The text with comments, strings and characters blanked out; lines stay where they are.
    pub code: String,
}

impl RustFile {
    /// The modules this file is, from the crate down: `src/emit/html/mod.rs` is `emit`, `html`.
    pub fn modules(&self) -> Vec<&str> {
        let inner = self.path.trim_start_matches("src/").trim_end_matches(".rs");
        inner.split('/').filter(|part| !matches!(*part, "mod" | "lib" | "main")).collect()
    }

    /// It is made up of tests: a `tests.rs` or a file below a `tests` folder.
    pub fn is_test(&self) -> bool {
        self.modules().contains(&"tests")
    }

    /// The lines of the code from 1, up to the module of tests at the end of the file.
    pub fn lines_before_tests(&self) -> impl Iterator<Item = (usize, &str)> {
        let lines: Vec<&str> = self.code.lines().collect();
        let end = lines.iter().position(|l| l.trim() == "#[cfg(test)]").unwrap_or(lines.len());
        let end = if self.is_test() { 0 } else { end };
        lines.into_iter().enumerate().map(|(i, l)| (i + 1, l)).take(end)
    }
}

/// Every Rust file of `src`, by path.
pub fn sources() -> Vec<RustFile> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths: Vec<PathBuf> = walkdir::WalkDir::new(root.join("src"))
        .into_iter()
        .map(|entry| entry.expect("the folder src can be read").into_path())
        .filter(|path| path.extension().is_some_and(|e| e == "rs"))
        .collect();
    paths.sort();
    assert!(paths.len() > 40, "only {} files were found in src", paths.len());
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).expect("a source file can be read");
        let parts: Vec<_> = path.strip_prefix(root).expect("it is below").iter().map(|p| p.to_string_lossy()).collect();
        RustFile { path: parts.join("/"), code: blank(&text), text }
    };
    paths.into_iter().map(read).collect()
}

/// Blanks out comments, strings and character literals.
pub fn blank(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < chars.len() {
        let end = skipped(&chars, at);
        if end == at {
            out.push(chars[at]);
            at += 1;
        } else {
            out.extend(chars[at..end].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
            at = end;
        }
    }
    out
}

/// Where the comment or literal that starts at `at` ends; `at` where none starts.
fn skipped(chars: &[char], at: usize) -> usize {
    let starts = |from: usize, with: &str| with.chars().enumerate().all(|(i, c)| chars.get(from + i) == Some(&c));
    let find = |from: usize, what: &str| (from..chars.len()).find(|&i| starts(i, what)).unwrap_or(chars.len());
    let in_word = at > 0 && (chars[at - 1].is_alphanumeric() || chars[at - 1] == '_');
    match chars[at] {
        '/' if starts(at, "//") => find(at, "\n"),
        '/' if starts(at, "/*") => (find(at + 2, "*/") + 2).min(chars.len()),
        'r' if !in_word => {
            let hashes = chars[at + 1..].iter().take_while(|&&c| c == '#').count();
            if chars.get(at + 1 + hashes) != Some(&'"') {
                return at;
            }
            let close = format!("\"{}", "#".repeat(hashes));
            (find(at + 2 + hashes, &close) + close.len()).min(chars.len())
        }
        '"' => quoted(chars, at, '"'),
        // A character, not a lifetime: 'x' or '\n'.
        '\'' if chars.get(at + 2) == Some(&'\'') || chars.get(at + 1) == Some(&'\\') => quoted(chars, at, '\''),
        _ => at,
    }
}

fn quoted(chars: &[char], at: usize, close: char) -> usize {
    let mut i = at + 1;
    while i < chars.len() && chars[i] != close {
        i += if chars[i] == '\\' { 2 } else { 1 };
    }
    (i + 1).min(chars.len())
}

#[test]
fn blanks_what_is_not_code() {
    let text = "let a = \"crate::x\"; // crate::y\nlet b = '\"'; /* crate::z */ let c = r#\"crate::w\"#; fn f<'a>() {}";
    let code = blank(text);
    assert!(!code.contains("crate"), "{code}");
    assert!(code.contains("let b =") && code.contains("fn f<'a>() {}"), "{code}");
    assert_eq!(code.lines().count(), 2);
    assert_eq!(blank("b\"\\\"crate\" + 1"), "b          + 1");
}
