//! The demonstration's releases A to D are frozen: kits that were shipped with them read them for good. Later
//! releases and their files come beside them.

use kitwright::change::{Release, body, hex_digest, normalise, restore};
use kitwright::source::{Disk, Files, Memory};

use crate::outside;

/// Digests and paths as `sha256sum` writes them (FIPS 180-4).
const FROZEN: &str = include_str!("frozen.sha256");

/// The demonstration with its releases, in memory.
pub(super) fn demonstration() -> Memory {
    let disk = Disk::open(&outside::project().join("manual-src")).expect("the folder is there");
    let mut files = Memory::new();
    for entry in disk.list().expect("it can be listed") {
        files.insert(entry.path.clone(), disk.read(&entry.path).expect("it can be read"));
    }
    files
}

/// What of the list is missing or changed, and files of the store that are not what their name says.
fn faults(list: &str, files: &dyn Files) -> Vec<String> {
    let mut faults = Vec::new();
    for line in list.lines() {
        let (digest, path) = line.split_once("  ").expect("a digest and a path");
        match files.read(path) {
            Err(_) => faults.push(format!("{path} is gone")),
            Ok(bytes) if hex_digest(&bytes) != digest => faults.push(format!("{path} is not what it was")),
            Ok(_) => {}
        }
    }
    for entry in files.list().expect("memory can be listed") {
        let Some(name) = entry.path.strip_prefix("releases/files/") else { continue };
        if hex_digest(&files.read(&entry.path).expect("it is listed")) != name {
            faults.push(format!("{} holds other bytes than its name says", entry.path));
        }
    }
    faults
}

#[test]
fn releases_a_to_d_are_what_they_were() {
    let files = demonstration();
    assert_eq!(faults(FROZEN, &files), [""; 0]);
    for letter in ["A", "B", "C", "D"] {
        assert!(FROZEN.contains(&format!("  releases/{letter}.release\n")), "{letter}");
    }
    if let Some(sha256sum) = outside::program("sha256sum", "the digests of the releases") {
        let list = outside::project().join("tests/changes/frozen.sha256");
        let mut command = std::process::Command::new(sha256sum);
        outside::run(
            command
                .args(["--check", "--strict", "--quiet"])
                .arg(list)
                .current_dir(outside::project().join("manual-src")),
        );
    }
}

#[test]
fn a_release_that_was_touched_is_found() {
    let sound = demonstration();
    let with = |path: &str, change: &dyn Fn(&mut Vec<u8>)| {
        let mut files = sound.clone();
        let mut bytes = sound.read(path).expect("it is there");
        change(&mut bytes);
        files.insert(path, bytes);
        faults(FROZEN, &files)
    };
    assert_eq!(with("releases/B.release", &|b| b.push(b'\n')), ["releases/B.release is not what it was"]);
    let stored = FROZEN.lines().last().and_then(|l| l.split_once("  ")).expect("a file of the store").1;
    assert_eq!(
        with(stored, &|b| b[0] ^= 1),
        [format!("{stored} is not what it was"), format!("{stored} holds other bytes than its name says")]
    );
    let mut files: Memory = sound.clone();
    assert!(files.remove("releases/A.release"));
    assert_eq!(faults(FROZEN, &files), ["releases/A.release is gone"]);
}

/// The sources of each release, made again from it, have the normal form that it holds.
#[test]
fn releases_a_to_c_made_again_are_the_same() {
    let files = demonstration();
    for letter in ["A", "B", "C"] {
        let text = files.read(&format!("releases/{letter}.release")).expect("it is there");
        let release = Release::read_whole(std::str::from_utf8(&text).expect("UTF-8")).expect("it can be read");
        let restored = restore(&release.lines().expect("it can be read"), &files);
        assert!(restored.missing.is_empty(), "{letter}: {:?}", restored.missing);
        let again = body(&normalise(&restored.files).expect("memory can be listed"));
        let differs = again.lines().zip(release.body.lines()).find(|(a, b)| a != b);
        assert!(again == release.body, "{letter}: {differs:?}");
    }
}
