//! Whether some system would run a file.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

/// Ends of names by which a system starts a file when it is opened, or on its own when a stick is put in.
const ENDS: [&str; 35] = [
    "apk", "app", "appimage", "bat", "chm", "cmd", "com", "command", "cpl", "deb", "desktop", "dll", "dmg", "exe",
    "hta", "inf", "jar", "js", "jse", "lnk", "msi", "pif", "pkg", "ps1", "py", "reg", "rpm", "scf", "scpt", "scr",
    "sh", "url", "vbe", "vbs", "wsf",
];

/// The first bytes of programs: DOS and Windows, Unix (System V ABI), scripts, Mach-O in its five forms.
const BEGINNINGS: [&[u8]; 8] = [
    b"MZ",
    b"\x7fELF",
    b"#!",
    b"\xfe\xed\xfa\xce",
    b"\xfe\xed\xfa\xcf",
    b"\xce\xfa\xed\xfe",
    b"\xcf\xfa\xed\xfe",
    b"\xca\xfe\xba\xbe",
];

/// Goes by the name and by the first bytes; the mode says nothing, for on a stick every file has the same.
pub(super) fn can_run(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    // A system that does not show it drops points and blanks at the end.
    let name = name.trim_end_matches(['.', ' ']);
    let end = name.rsplit_once('.').map(|(_, end)| end);
    // What an Apple system keeps beside a file has the file's name, and is none.
    if end.is_some_and(|end| ENDS.contains(&end)) && !name.starts_with("._") {
        return true;
    }
    let mut begin = Vec::new();
    let plain = std::fs::symlink_metadata(path).is_ok_and(|meta| meta.is_file());
    let read = plain && File::open(path).and_then(|file| file.take(4).read_to_end(&mut begin)).is_ok();
    read && BEGINNINGS.iter().any(|bytes| begin.starts_with(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_goes_by_name_and_by_the_first_bytes() {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, bytes: &[u8]| {
            std::fs::write(folder.path().join(name), bytes).unwrap();
            can_run(&folder.path().join(name))
        };
        assert!(write("autorun.inf", b"[autorun]") && write("Setup.EXE", b"") && write("photo.jpg.scr", b""));
        assert!(write("tool", b"\x7fELF\x02") && write("photo.jpg", b"MZ\x90") && write("run", b"#!/bin/sh\n"));
        assert!(
            !write("._setup.exe", b"\0\x05\x16\x07") && !write("Thumbs.db", b"\xd0\xcf") && !write("notes.txt", b"")
        );
    }
}
