//! The made-up manuals of the benchmark are what they say, and the number of threads does not show in their documents.

use std::collections::BTreeMap;
use std::sync::Mutex;

use kitwright::compile::{check, declared_names, documents};
use kitwright::document::PrintScale;
use kitwright::source::{Collected, Files as _, Memory, Output};

use crate::synthetic::{Size, manual};

const SIZE: Size = Size { steps: 24, photographs: 2, pixels: (640, 480) };

#[test]
fn a_step_has_what_is_measured() {
    let files = manual(SIZE);
    let step = String::from_utf8(files.read("steps/00/00001.md").expect("it is there")).expect("UTF-8");
    let (_, rest) = step.split_once("---\n").expect("front matter");
    let (front, body) = rest.split_once("---\n").expect("a text");
    let rows = |key: &str| {
        let list = front.lines().skip_while(|l| *l != format!("{key}:")).skip(1);
        list.take_while(|l| l.starts_with("  - ")).count()
    };
    assert_eq!((rows("parts"), rows("hardware")), (6, 4));
    assert_eq!(front.matches("caution:").count(), 1);
    let paragraphs: Vec<usize> = body.split("\n\n").map(|p| p.split_whitespace().count()).collect();
    assert_eq!(paragraphs, [60; 4]);
    let photograph = files.read("figures/photograph-01.jpg").expect("it is there");
    let size = image::ImageReader::new(std::io::Cursor::new(photograph)).with_guessed_format().expect("a format");
    assert_eq!(size.into_dimensions().expect("a size"), (640, 480));
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let files = manual(SIZE);
    let (one, two) = (compiled(&files, 1), compiled(&files, 2));
    assert!(one.len() > 30, "{} files", one.len());
    assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>());
    for (path, bytes) in &one {
        assert!(two[path] == *bytes, "{path} differs");
    }
}

/// An output that notes the order in which files come.
#[derive(Default)]
struct Noted(Mutex<Vec<String>>);

impl Output for Noted {
    fn write(&self, path: &str, _: &[u8]) -> std::io::Result<()> {
        self.0.lock().expect("no one fails").push(path.to_owned());
        Ok(())
    }
}

/// Memory is that of one large document only where none is begun before the last one is written.
#[test]
fn large_documents_are_made_one_after_another() {
    let noted = Noted::default();
    make(&manual(SIZE), 4, &noted);
    let paths = noted.0.into_inner().expect("no one fails");
    let turn = |path: &String| match path.as_str() {
        "ONE/manual.pdf" => Some(0),
        path if path.starts_with("ONE/manual/") => Some(0),
        "ONE/shop-copy.pdf" => Some(1),
        "ONE/pick-lists.pdf" => Some(2),
        _ => None,
    };
    let turns: Vec<u8> = paths.iter().filter_map(turn).collect();
    assert!(turns.is_sorted() && turns.contains(&1) && turns.contains(&2), "{paths:?}");
}

fn compiled(files: &Memory, threads: usize) -> BTreeMap<String, Vec<u8>> {
    let out = Collected::new();
    make(files, threads, &out);
    out.into_files()
}

fn make(files: &Memory, threads: usize, out: &dyn Output) {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be started");
    pool.install(|| {
        let checked = check(files, &|_| ()).expect("memory can be listed");
        let found: Vec<_> = checked.findings.iter().map(|d| &d.headline).collect();
        assert!(found.is_empty(), "{found:?}");
        let names = declared_names(checked.manual.as_ref().expect("there is a manual"));
        documents(&checked, files, &names, PrintScale::TRUE, out, &|_| ()).expect("memory takes every file");
    });
}
