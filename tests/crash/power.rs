//! What a power cut can leave of a run: a model of a disk on which nothing is certain that was not put there by a sync.
//!
//! The calls of a run, as `disk.rs` wrote them down, are replayed up to the cut. What is in a file is certain as far as it
//! was synced; the rest is lost, or half of it, or there. An entry of a folder (made, moved, removed) is certain once
//! every folder that it concerns was synced after it; of the others each may have come to the disk or not. A move is one
//! thing: it came to the disk or it did not (POSIX leaves it open; every file system with a journal keeps to it).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// A call that changed the disk.
#[derive(Clone, Debug)]
pub struct Call {
    pub what: String,
    pub paths: Vec<PathBuf>,
    bytes: Vec<u8>,
}

/// Reads what the library wrote down.
pub fn calls(log: &[u8]) -> Vec<Call> {
    let (mut calls, mut rest) = (Vec::new(), log);
    while let Some(end) = rest.iter().position(|b| *b == b'\n') {
        let line = String::from_utf8(rest[..end].to_vec()).expect("the log is text but for the bytes");
        let mut fields: Vec<&str> = line.split('\t').collect();
        let length: usize = fields.pop().and_then(|f| f.parse().ok()).expect("a line ends with a length");
        let bytes = rest[end + 1..end + 1 + length].to_vec();
        let what = fields.remove(0).to_owned();
        calls.push(Call { what, paths: fields.into_iter().map(PathBuf::from).collect(), bytes });
        rest = &rest[end + 1 + length..];
    }
    calls
}

/// How much of what is not certain is there after the cut.
#[derive(Clone, Copy, Debug)]
pub enum Luck {
    None,
    All,
    /// Every entry came to the disk, and nothing of the contents.
    Entries,
    /// By chance, from this number on.
    Chance(u64),
}

impl Luck {
    fn entry(&mut self) -> bool {
        match self {
            Self::None => false,
            Self::All | Self::Entries => true,
            Self::Chance(state) => next(state).is_multiple_of(2),
        }
    }

    /// How many of `unsure` bytes are there.
    fn bytes(&mut self, unsure: usize) -> usize {
        match self {
            Self::None | Self::Entries => 0,
            Self::All => unsure,
            Self::Chance(state) => [0, unsure / 2, unsure][(next(state) % 3) as usize],
        }
    }
}

/// A generator of numbers that look like chance (Vigna, splitmix64).
pub fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[derive(Clone)]
enum Node {
    Folder,
    /// A place in the list of contents.
    File(usize),
}

#[derive(Default)]
struct Content {
    bytes: Vec<u8>,
    certain: usize,
}

/// The tree of a folder, as paths below it.
#[derive(Clone, Default)]
struct Tree(BTreeMap<PathBuf, Node>);

impl Tree {
    /// What an entry's change makes of the tree; one that can't be, because what it rests on was lost, is lost too.
    fn apply(&mut self, call: &Call, made: Option<usize>) {
        let path = &call.paths[0];
        let has_parent = |tree: &Self, path: &Path| path.parent().is_some_and(|p| tree.0.contains_key(p));
        match call.what.as_str() {
            "mkdir" if has_parent(self, path) => drop(self.0.entry(path.clone()).or_insert(Node::Folder)),
            "create" if has_parent(self, path) => {
                if let Some(made) = made {
                    self.0.insert(path.clone(), Node::File(made));
                }
            }
            "unlink" | "rmdir" if !self.0.keys().any(|p| p.starts_with(path) && p != path) => {
                self.0.remove(path);
            }
            "link" => {
                if let (Some(node), true) = (self.0.get(path).cloned(), has_parent(self, &call.paths[1])) {
                    self.0.insert(call.paths[1].clone(), node);
                }
            }
            "rename" if self.0.contains_key(path) && has_parent(self, &call.paths[1]) => {
                let to = &call.paths[1];
                let moved: Vec<PathBuf> = self.0.keys().filter(|p| p.starts_with(path)).cloned().collect();
                if matches!(self.0.get(path), Some(Node::File(_))) {
                    self.0.remove(to);
                }
                for from in moved {
                    if let (Some(node), Ok(rest)) = (self.0.remove(&from), from.strip_prefix(path)) {
                        let to = if rest.as_os_str().is_empty() { to.clone() } else { to.join(rest) };
                        self.0.insert(to, node);
                    }
                }
            }
            _ => {}
        }
    }
}

/// Writes what is left of `before` and the first `cut` calls below `root` into the folder `to`.
pub fn leave(before: &Path, root: &Path, calls: &[Call], cut: usize, mut luck: Luck, to: &Path) {
    let (mut start, mut contents) = (Tree::default(), Vec::<Content>::new());
    for above in root.ancestors() {
        start.0.insert(above.to_owned(), Node::Folder);
    }
    for entry in walkdir::WalkDir::new(before).min_depth(1) {
        let entry = entry.expect("can be read");
        let path = root.join(entry.path().strip_prefix(before).expect("inside"));
        if entry.file_type().is_dir() {
            start.0.insert(path, Node::Folder);
        } else {
            let bytes = fs::read(entry.path()).expect("can be read");
            start.0.insert(path, Node::File(contents.len()));
            contents.push(Content { certain: bytes.len(), bytes });
        }
    }
    // What the program sees, and each change of an entry with the folders that were not synced since.
    let mut seen = start.clone();
    let mut changes: Vec<(&Call, Option<usize>, Vec<PathBuf>)> = Vec::new();
    for call in &calls[..cut] {
        let path = &call.paths[0];
        let file = match seen.0.get(path) {
            Some(Node::File(at)) => Some(*at),
            _ => None,
        };
        match (call.what.as_str(), file) {
            ("write", Some(at)) => contents[at].bytes.extend_from_slice(&call.bytes),
            ("sync", Some(at)) => contents[at].certain = contents[at].bytes.len(),
            ("sync", None) => changes.iter_mut().for_each(|(_, _, unsure)| unsure.retain(|folder| folder != path)),
            ("write", None) => {}
            ("create", Some(at)) => contents[at] = Content::default(),
            (what, _) => {
                let made = (what == "create").then(|| {
                    contents.push(Content::default());
                    contents.len() - 1
                });
                seen.apply(call, made);
                let mut folders: Vec<PathBuf> = match what {
                    "link" => vec![call.paths[1].clone()],
                    _ => call.paths.clone(),
                };
                for folder in &mut folders {
                    folder.pop();
                }
                changes.push((call, made, folders));
            }
        }
    }
    let mut left = start;
    for (call, made, unsure) in changes {
        if unsure.is_empty() || luck.entry() {
            left.apply(call, made);
        }
    }
    fs::create_dir_all(to).expect("a folder");
    for (path, node) in &left.0 {
        let Some(path) = path.strip_prefix(root).ok().filter(|p| !p.as_os_str().is_empty()) else { continue };
        match node {
            Node::Folder => fs::create_dir_all(to.join(path)).expect("a folder"),
            Node::File(at) => {
                let content = &contents[*at];
                let certain = content.certain.min(content.bytes.len());
                let there = certain + luck.bytes(content.bytes.len() - certain);
                fs::write(to.join(path), &content.bytes[..there]).expect("written");
            }
        }
    }
}
