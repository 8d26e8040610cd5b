//! A small sound manual on disk, to be spoilt.

use std::path::PathBuf;
use std::process::Command;

const SETTINGS: &str = "title: Trolley\nmaker: Nobody\nnumber: T-1\nvariants:\n  ONE: { title: One }\nconfigurations: [ONE]\n\
    sections:\n  - { section: frame, title: Frame }\ntools:\n  spanner: Spanner\n";
const PARTS: &str = "number,name,weight,ONE\n0104,Plate,0.4 lb,1\nT-2,Rail,,2\n";
const HARDWARE: &str = "designation,name,kind,unit\nAN3-5A,Bolt,bolt,each\n";
const STEP: &str = "---\nstep: rail\ntitle: Fit the rails\nsection: frame\nparts: [0104, 2 x T-2]\nhardware: [2 x AN3-5A]\n\
    tools: [spanner]\nfigures:\n  - figure: rail.svg\n    alt: A rail on its plate.\n    caption: Rail\n    view: looking down\n\
    ---\n\n1. Bolt the rails to the plate.\n";
const FIGURE: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"384\" height=\"192\" viewBox=\"0 0 384 192\">\
    <path d=\"M10 10H300\" stroke=\"#000\"/></svg>\n";

pub const STEP_PATH: &str = "steps/frame/10-rail.md";

/// The manual in a folder of its own, with an older output beside it.
pub struct Desk {
    folder: tempfile::TempDir,
}

impl Desk {
    pub fn new() -> Self {
        let desk = Self { folder: tempfile::tempdir().expect("a folder can be made") };
        for (path, text) in [
            ("manual.yaml", SETTINGS),
            ("parts.csv", PARTS),
            ("hardware.csv", HARDWARE),
            (STEP_PATH, STEP),
            ("figures/rail.svg", FIGURE),
        ] {
            desk.put(path, text);
        }
        desk
    }

    pub fn path(&self, path: &str) -> PathBuf {
        self.folder.path().join("manual-src").join(path)
    }

    pub fn put(&self, path: &str, bytes: impl AsRef<[u8]>) {
        let path = self.path(path);
        std::fs::create_dir_all(path.parent().expect("a parent")).expect("a folder can be made");
        std::fs::write(path, bytes).expect("it can be written");
    }

    /// Replaces the one `old` in a file.
    #[track_caller]
    pub fn edit(&self, path: &str, old: &str, new: &str) {
        let text = std::fs::read_to_string(self.path(path)).expect("it is there");
        assert_eq!(text.matches(old).count(), 1, "{old:?} in {path}");
        self.put(path, text.replacen(old, new, 1));
    }

    /// Compiles over an older output; returns the exit code and the findings, each as `file:line: level: rule`
    /// or, in a table, `file row 4, number: level: rule`, and all that
    /// was said.
    fn compile(&self) -> (i32, Vec<String>, String) {
        let out = self.folder.path().join("out");
        std::fs::create_dir_all(&out).expect("a folder can be made");
        std::fs::write(out.join("older"), "older").expect("it can be written");
        let run = Command::new(env!("CARGO_BIN_EXE_kitwright"))
            .args(["compile", "--format", "json"])
            .current_dir(self.folder.path())
            .output()
            .expect("the program runs");
        let said = format!("{}{}", String::from_utf8_lossy(&run.stdout), String::from_utf8_lossy(&run.stderr));
        let found = said.lines().filter_map(|l| serde_json::from_str::<serde_json::Value>(l).ok());
        let found = found
            .filter(|d| d["rule"].is_string())
            .map(|d| {
                let text = |key: &str| d[key].as_str().unwrap_or("").to_owned();
                let place = match (d["row"].as_u64(), d["line"].as_u64()) {
                    (Some(row), _) => format!(" row {row}, {}", text("heading")),
                    (None, Some(line)) => format!(":{line}"),
                    (None, None) => String::new(),
                };
                format!("{}{place}: {}: {}", text("file"), text("level"), text("rule"))
            })
            .collect();
        (run.status.code().expect("not ended by a signal"), found, said)
    }

    /// It compiles with these findings, none of them an error.
    #[track_caller]
    pub fn compiles(&self, findings: &[&str]) {
        let (code, found, said) = self.compile();
        assert_eq!(found, findings, "{said}");
        assert_eq!(code, 0, "{said}");
    }

    /// It does not compile, these are the findings, the words are said, and the output is what it was.
    #[track_caller]
    pub fn refused(&self, findings: &[&str], words: &str) {
        let (found, said) = self.refusal(words);
        assert_eq!(found, findings, "{said}");
    }

    /// It does not compile, this is one of the findings, the words are said, and the output is what it was.
    #[track_caller]
    pub fn refused_with(&self, finding: &str, words: &str) {
        let (found, said) = self.refusal(words);
        assert!(found.iter().any(|f| f == finding), "{said}");
    }

    #[track_caller]
    pub fn refusal(&self, words: &str) -> (Vec<String>, String) {
        let (code, found, said) = self.compile();
        assert_eq!(code, 1, "{said}");
        assert!(said.contains(words), "{words:?} is not in: {said}");
        let out: Vec<_> = std::fs::read_dir(self.folder.path().join("out"))
            .expect("it is there")
            .map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        assert_eq!(out, ["older"]);
        (found, said)
    }
}

#[test]
fn the_manual_to_be_spoilt_is_sound() {
    Desk::new().compiles(&[]);
}
