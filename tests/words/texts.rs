//! The texts that people read, with their places.

use std::path::Path;

use crate::architecture::rust_text::RustFile;

pub struct Text {
    /// Relative to the project's folder, with `/`.
    pub path: String,
    /// Where it begins, from 1.
    pub line: usize,
    pub words: String,
}

/// The files and folders whose texts people read. The releases of the demonstration are never edited, the copies of
/// licences are others' words, `planted` is a test, and the everyday words are what people say in place of the manual's.
const READ: [&str; 6] = ["src", "templates", "manual-src", "README.md", ".readme", "DEVELOPERS.md"];
const LEFT_OUT: [&str; 5] = [
    "manual-src/releases",
    "src/emit/stick/crates.txt",
    "src/cli/planted.rs",
    "templates/terms.csv",
    "templates/everyday-words.csv",
];

/// Every text, in the order of the files.
pub fn texts() -> Vec<Text> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for entry in READ.iter().flat_map(|start| walkdir::WalkDir::new(root.join(start)).sort_by_file_name()) {
        let entry = entry.expect("it can be read");
        let below = entry.path().strip_prefix(root).expect("it is below");
        let path = below.iter().map(|p| p.to_string_lossy()).collect::<Vec<_>>().join("/");
        if entry.file_type().is_file() && !LEFT_OUT.iter().any(|out| path.starts_with(out)) {
            files.push((path, entry.into_path()));
        }
    }
    files.iter().flat_map(|(path, file)| of_file(path, &std::fs::read_to_string(file).unwrap_or_default())).collect()
}

/// The texts of a file, by the ending of its name.
pub fn of_file(path: &str, text: &str) -> Vec<Text> {
    let own = |(line, words): (usize, String)| Text { path: path.to_owned(), line, words };
    let found = match path.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "rs" => rust(path, text),
        "md" | "yaml" => paragraphs(text),
        "csv" => text.lines().enumerate().map(|(i, line)| (i + 1, line.to_owned())).collect(),
        "html" => vec![(1, without_tags(text))],
        "js" => scripts(text),
        _ => Vec::new(),
    };
    found.into_iter().filter(|(_, words)| words.contains(char::is_alphabetic)).map(own).collect()
}

/// What is in quotes, and the comments that become a page: of a rule, and of the command line's help.
fn rust(path: &str, text: &str) -> Vec<(usize, String)> {
    let file = RustFile::new(path, text);
    let quoted = file.texts().into_iter().map(|(line, words)| (line, spoken(&words)));
    let mark = match path {
        "src/cli/typed.rs" => "///",
        _ if path.starts_with("src/check/rules/") => "//!",
        _ => return quoted.collect(),
    };
    let blocks = runs(text, |line| line.trim_start().strip_prefix(mark).map(str::trim).filter(|l| !l.is_empty()));
    quoted.chain(blocks).collect()
}

/// A literal as it is shown: lines joined, signs written out.
fn spoken(literal: &str) -> String {
    let mut out = String::new();
    let mut chars = literal.chars().peekable();
    while let Some(c) = chars.next() {
        match (c, chars.peek()) {
            ('\\', Some('\n')) => while chars.next_if(|c| c.is_whitespace()).is_some() {},
            ('\\', Some(_)) => match chars.next() {
                Some('n') | None => out.push(' '),
                Some(sign) => out.push(sign),
            },
            _ => out.push(c),
        }
    }
    out
}

/// Paragraphs, headings, rows and keys: lines that stand together. What is fenced is code.
fn paragraphs(text: &str) -> Vec<(usize, String)> {
    let mut code = false;
    runs(text, move |line| {
        let fence = line.trim_start().starts_with("```");
        code ^= fence;
        (!code && !fence && !line.starts_with("    kitwright ")).then(|| line.trim()).filter(|l| !l.is_empty())
    })
}

/// Runs of lines of which something is kept, each with its first line.
fn runs<'a>(text: &'a str, mut keep: impl FnMut(&'a str) -> Option<&'a str>) -> Vec<(usize, String)> {
    let mut out: Vec<(usize, String)> = Vec::new();
    let mut goes_on = false;
    for (i, line) in text.lines().enumerate() {
        match (keep(line), out.last_mut()) {
            (Some(words), Some((_, run))) if goes_on => {
                run.push(' ');
                run.push_str(words);
                continue;
            }
            (Some(words), _) => out.push((i + 1, words.to_owned())),
            (None, _) => {
                goes_on = false;
                continue;
            }
        }
        goes_on = true;
    }
    out
}

/// What stands between the tags, and what is read out: labels.
fn without_tags(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(['<', '{']) {
        out.push_str(&rest[..at]);
        out.push(' ');
        rest = &rest[at..];
        let close = match rest.get(..2) {
            Some("{{") => "}}",
            Some("{%") => "%}",
            Some("{#") => "#}",
            _ if rest.starts_with('<') => ">",
            _ => "{",
        };
        let end = rest.find(close).map_or(rest.len(), |end| end + close.len());
        let label = rest[..end].split("aria-label=\"").nth(1).and_then(|l| l.split('"').next());
        out.push_str(label.unwrap_or_default());
        rest = &rest[end..];
    }
    out + rest
}

/// What is in double quotes, by lines; a remark at the end of a line is none.
fn scripts(text: &str) -> Vec<(usize, String)> {
    let quoted = |line: &str| {
        let parts: Vec<&str> = line.split('"').collect();
        parts.iter().skip(1).step_by(2).copied().collect::<Vec<_>>().join(" | ")
    };
    text.lines().enumerate().map(|(i, line)| (i + 1, quoted(line))).collect()
}
