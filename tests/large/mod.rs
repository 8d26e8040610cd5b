//! The made-up manuals of the benchmark are what they say, and the number of threads does not show in their documents.

use std::collections::BTreeMap;

use kitwright::compile::{check, declared_names, documents};
use kitwright::document::PrintScale;
use kitwright::source::{Collected, Files as _, Memory};

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

fn compiled(files: &Memory, threads: usize) -> BTreeMap<String, Vec<u8>> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads can be started");
    pool.install(|| {
        let checked = check(files, &|_| ()).expect("memory can be listed");
        let found: Vec<_> = checked.findings.iter().map(|d| &d.headline).collect();
        assert!(found.is_empty(), "{found:?}");
        let out = Collected::new();
        let names = declared_names(checked.manual.as_ref().expect("there is a manual"));
        documents(&checked, files, &names, PrintScale::TRUE, &out, &|_| ()).expect("memory takes every file");
        out.into_files()
    })
}
