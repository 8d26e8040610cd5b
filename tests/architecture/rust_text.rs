//! Rust sources as text: the files of `src`, and their code without comments, strings and tests.

use std::ops::Range;
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
    pub fn new(path: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        Self { path: path.into(), code: blank(&text), text }
    }

    /// The modules this file is, from the crate down: `src/emit/html/mod.rs` is `emit`, `html`.
    pub fn modules(&self) -> Vec<&str> {
        let inner = self.path.trim_start_matches("src/").trim_end_matches(".rs");
        inner.split('/').filter(|part| !matches!(*part, "mod" | "lib" | "main")).collect()
    }

    /// It is made up of tests: a `tests.rs` or a file below a `tests` folder.
    pub fn is_test(&self) -> bool {
        self.modules().contains(&"tests")
    }

    /// The texts in quotes that are part of the program, each with its line: without those of tests and in comments.
    pub fn texts(&self) -> Vec<(usize, String)> {
        let chars: Vec<char> = self.text.chars().collect();
        let inside: std::collections::BTreeSet<usize> = self.lines_outside_tests().map(|(line, _)| line).collect();
        let (mut out, mut at, mut line) = (Vec::new(), 0, 1);
        while at < chars.len() {
            let end = skipped(&chars, at).max(at + 1);
            let text: String = chars[at..end].iter().collect();
            let quoted = matches!(chars[at], '"' | 'r') && end > at + 1;
            if quoted && inside.contains(&line) {
                out.push((line, text.trim_start_matches('r').trim_matches('#').trim_matches('"').to_owned()));
            }
            line += text.matches('\n').count();
            at = end;
        }
        out
    }

    /// The lines of the code that are part of the program, from 1: without those of what stands below `#[cfg(test)]`,
    /// wherever in the file it stands, and none of a file of tests.
    pub fn lines_outside_tests(&self) -> impl Iterator<Item = (usize, &str)> {
        let code = if self.is_test() { "" } else { &self.code };
        let tests = test_items(&self.path, code);
        let mut at = 0;
        code.split_inclusive('\n').enumerate().filter_map(move |(i, line)| {
            let start = at;
            at += line.len();
            let apart = tests.iter().any(|item| item.contains(&start) || (start < item.start && item.start < at));
            (!apart).then(|| (i + 1, line.trim_end_matches('\n')))
        })
    }
}

/// Where the items below `#[cfg(test)]` stand, in bytes: from the attribute to the item's closing brace or semicolon.
fn test_items(path: &str, code: &str) -> Vec<Range<usize>> {
    const MARK: &str = "#[cfg(test)]";
    const STARTS: [&str; 14] = [
        "pub",
        "mod",
        "use",
        "fn",
        "const",
        "static",
        "struct",
        "enum",
        "type",
        "trait",
        "impl",
        "macro_rules",
        "extern",
        "async",
    ];
    let mut items: Vec<Range<usize>> = Vec::new();
    for (start, _) in code.match_indices(MARK) {
        if items.last().is_some_and(|item| item.contains(&start)) {
            continue;
        }
        let mut at = start + MARK.len();
        // Further attributes of the same item.
        loop {
            at += code[at..].len() - code[at..].trim_start().len();
            if !code[at..].starts_with("#[") {
                break;
            }
            at += 1 + matching(&code[at + 1..]);
        }
        let word: String = code[at..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        assert!(
            STARTS.contains(&word.as_str()),
            "{path}: `{MARK}` stands before `{word}`, of which it is not known where it ends"
        );
        let end = item_end(&code[at..]);
        items.push(start..at + end);
    }
    items
}

/// Where the item that a text begins with ends: at its first block, or at the `;` where it has none.
fn item_end(text: &str) -> usize {
    let mut depth = 0;
    for (i, c) in text.char_indices() {
        match c {
            '[' | '(' => depth += 1,
            ']' | ')' => depth -= 1,
            ';' if depth == 0 => return i + 1,
            '{' if depth == 0 => return i + matching(&text[i..]),
            _ => {}
        }
    }
    text.len()
}

/// The length of a text that begins with an opening bracket, up to and with the one that closes it.
fn matching(text: &str) -> usize {
    let mut depth = 0;
    for (i, c) in text.char_indices() {
        match c {
            '{' | '[' | '(' => depth += 1,
            '}' | ']' | ')' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return i + c.len_utf8();
        }
    }
    text.len()
}

/// Every Rust file of `src`, by path.
pub fn sources() -> Vec<RustFile> {
    let files = rust_files("src");
    assert!(files.len() > 40, "only {} files were found in src", files.len());
    files
}

/// Every Rust file of a folder of the project, by path.
pub fn rust_files(folder: &str) -> Vec<RustFile> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths: Vec<PathBuf> = walkdir::WalkDir::new(root.join(folder))
        .into_iter()
        .map(|entry| entry.expect("the folder can be read").into_path())
        .filter(|path| path.extension().is_some_and(|e| e == "rs"))
        .collect();
    paths.sort();
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).expect("a source file can be read");
        let parts: Vec<_> = path.strip_prefix(root).expect("it is below").iter().map(|p| p.to_string_lossy()).collect();
        RustFile::new(parts.join("/"), text)
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

/// A test item in the middle of a file hides nothing that follows it.
#[test]
fn leaves_out_tests_and_nothing_after_them() {
    let text = "use a;\n#[cfg(test)]\nmod testing;\nfn b() {}\n#[cfg(test)]\n#[allow(dead_code)]\npub fn c(x: [u8; 2]) {\n    \
                d(\"}\");\n}\nfn e() {}\n#[cfg(test)]\nmod tests {\n    fn f() {}\n}\n\nfn g() {}\n";
    let file = RustFile::new("src/x/y.rs", text);
    let kept: Vec<_> = file.lines_outside_tests().filter(|(_, l)| !l.is_empty()).collect();
    assert_eq!(kept, [(1, "use a;"), (4, "fn b() {}"), (10, "fn e() {}"), (16, "fn g() {}")]);
    assert_eq!(RustFile::new("src/x/tests.rs", text).lines_outside_tests().count(), 0);
}

#[test]
#[should_panic(expected = "of which it is not known where it ends")]
fn refuses_a_test_mark_that_it_cannot_follow() {
    RustFile::new("src/x/y.rs", "struct A {\n    #[cfg(test)]\n    field: u8,\n}\n").lines_outside_tests().count();
}
