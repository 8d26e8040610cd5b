//! Swapping finished folders in for old ones, so that whatever becomes of a run, the output is whole: the old or the new.
//!
//! The new folders come out of `.kitwright-new`, the old ones go to `.kitwright-replaced`. Everything new is on the disk
//! before `.kitwright-plan` is written, which names the folders that are put in place and those that go. While there is a
//! plan, where a folder lies says how far it has come:
//!
//! 1. the new one in `.kitwright-new`, the old one in its place,
//! 2. the new one in `.kitwright-new`, the old one in `.kitwright-replaced` or never there,
//! 3. the new one in its place, the old one in `.kitwright-replaced` or never there.
//!
//! From each of these a run can go on, and so can the next one. A run that meets an error goes back to 1 and takes the
//! plan away. When all are at 3, files that the program did not write move from the old folders to the new ones; then
//! `.kitwright-replaced` gets a name of trash, and the plan goes. Only trash is ever deleted.
//!
//! Each configuration's folder holds `.kitwright`: the list of what was written there. All else in it is foreign.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::foreign::{self, MARKER, MARKER_HEAD};
use super::lasting::{self, rename, sync_folder, there};
use super::staged::Written;

/// What becomes of folders of configurations that were not made in this run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Delisted {
    Keep,
    /// They are no longer declared: what the program wrote there goes away.
    Remove,
}

/// Where a run writes.
pub(super) fn new_folder(out: &Path) -> PathBuf {
    out.join(".kitwright-new")
}

/// Where old folders wait until the new ones are in place.
fn replaced(out: &Path) -> PathBuf {
    out.join(".kitwright-replaced")
}

fn plan_path(out: &Path) -> PathBuf {
    out.join(".kitwright-plan")
}

const TRASH: &str = ".kitwright-trash-";

/// What a swap does. It is written down before it begins.
#[derive(Debug, Default, PartialEq, Eq)]
struct Plan {
    put: BTreeSet<String>,
    take: BTreeSet<String>,
}

const PLAN_HEAD: &str = "kitwright plan";
const PLAN_END: &str = "end";

impl Plan {
    fn text(&self) -> String {
        let put = self.put.iter().map(|name| format!("put {name}\n"));
        let take = self.take.iter().map(|name| format!("take {name}\n"));
        format!("{PLAN_HEAD}\n{}{PLAN_END}\n", put.chain(take).collect::<String>())
    }

    /// None where it is not whole.
    fn parse(text: &str) -> Option<Self> {
        let lines = text.strip_prefix(PLAN_HEAD)?.strip_prefix('\n')?.strip_suffix('\n')?.strip_suffix(PLAN_END)?;
        let mut plan = Self::default();
        for line in lines.lines() {
            let (what, name) = line.split_once(' ')?;
            let plain = !name.is_empty() && !name.starts_with('.') && !name.contains(['/', '\\']);
            match what {
                "put" if plain => plan.put.insert(name.to_owned()),
                "take" if plain => plan.take.insert(name.to_owned()),
                _ => return None,
            };
        }
        Some(plan)
    }

    fn read(out: &Path) -> io::Result<Option<Self>> {
        match fs::read(plan_path(out)) {
            Ok(bytes) => Ok(Self::parse(&String::from_utf8_lossy(&bytes))),
            Err(e) if e.kind() == ErrorKind::NotFound => Ok(None),
            Err(e) => Err(e),
        }
    }
}

/// Refuses to work where something that no run makes stands under a name of the program's own: a pipe would keep it waiting,
/// and a link would lead it elsewhere.
///
/// # Errors
/// It is named.
pub(super) fn own_names_are_free(out: &Path, lock: &Path) -> Result<(), Failure> {
    let own = [(lock, "file"), (&plan_path(out), "file"), (&new_folder(out), "folder"), (&replaced(out), "folder")];
    for (path, word) in own {
        let Ok(meta) = fs::symlink_metadata(path) else { continue };
        if !(if word == "file" { meta.is_file() } else { meta.is_dir() }) {
            return Err(Failure::new(
                format!("{} is no {word}", path.display()),
                "move it away, for kitwright needs this name; or name another folder with --out",
            ));
        }
    }
    Ok(())
}

/// Clears up after a run that broke off: finishes a swap that was begun, and throws away what was not ready for one.
///
/// # Errors
/// The system's words.
pub(super) fn recover(out: &Path) -> io::Result<()> {
    if let Some(plan) = Plan::read(out)? {
        forward(out, &plan)?;
        finish(out, &plan)?;
    } else {
        // Without a plan nothing was moved. Were it so all the same, nothing of it may be lost.
        put_back(out, &names(&replaced(out))?)?;
        discard(out, &replaced(out))?;
        remove(&plan_path(out))?;
    }
    discard(out, &new_folder(out))?;
    lasting::clear_beside(out)?;
    empty_trash(out);
    Ok(())
}

/// Puts the folders of `written` in the place of what was there.
///
/// # Errors
/// Foreign files stand in the way; the system's words. Either way the output is whole, or the next run makes it so.
pub(super) fn swap(out: &Path, written: &Written, delisted: Delisted) -> Result<(), Failure> {
    for (name, files) in written {
        foreign::stands_in_the_way(&out.join(name), files)?;
        let marker = new_folder(out).join(name).join(MARKER);
        let list: String = files.iter().map(|f| format!("{f}\n")).collect();
        fs::write(&marker, format!("{MARKER_HEAD}\n{list}")).map_err(|e| Failure::write(&marker, &e))?;
    }
    let failed = |e: io::Error| Failure::write(out, &e);
    sync_tree(&new_folder(out)).and_then(|()| sync_folder(out)).map_err(failed)?;
    let put: BTreeSet<String> = written.keys().cloned().collect();
    let take = match delisted {
        Delisted::Keep => BTreeSet::new(),
        Delisted::Remove => foreign::ours(out).map_err(failed)?.difference(&put).cloned().collect(),
    };
    let plan = Plan { put, take };
    let done = lasting::write_over(&plan_path(out), plan.text().as_bytes()).and_then(|()| forward(out, &plan));
    if let Err(error) = done {
        return Err(match backward(out, &plan) {
            Ok(()) => Failure::write(out, &error),
            Err(second) => Failure::new(
                format!(
                    "{} can't be written: {error}; putting the old output back failed too: {second}",
                    out.display()
                ),
                "nothing is lost: run the command again once the folder can be written, and the swap is finished",
            ),
        });
    }
    finish(out, &plan).map_err(|error| {
        Failure::new(
            format!("the new output is in place, but what was there before can't be cleared up: {error}"),
            format!("run the command again once {} can be written", out.display()),
        )
    })?;
    empty_trash(out);
    Ok(())
}

/// Moves every folder of the plan as far as it goes.
fn forward(out: &Path, plan: &Plan) -> io::Result<()> {
    let (new, old) = (new_folder(out), replaced(out));
    lasting::make_folder(&old)?;
    for name in &plan.take {
        if there(&out.join(name))? && !there(&old.join(name))? {
            rename(&out.join(name), &old.join(name))?;
        }
    }
    for name in &plan.put {
        if there(&new.join(name))? {
            if there(&out.join(name))? {
                rename(&out.join(name), &free_name(&old, name)?)?;
            }
            rename(&new.join(name), &out.join(name))?;
        }
    }
    // Had someone taken `.kitwright-new` away, what was there before is better than nothing.
    put_back(out, &plan.put)
}

/// Moves every folder of the plan back to where it was, and takes the plan away.
fn backward(out: &Path, plan: &Plan) -> io::Result<()> {
    let (new, old) = (new_folder(out), replaced(out));
    for name in &plan.put {
        if !there(&new.join(name))? && there(&out.join(name))? {
            rename(&out.join(name), &new.join(name))?;
        }
    }
    put_back(out, &plan.put)?;
    put_back(out, &plan.take)?;
    if there(&old)? {
        fs::remove_dir(&old)?;
    }
    remove(&plan_path(out))
}

/// Moves old folders back where nothing is in their place.
fn put_back(out: &Path, which: &BTreeSet<String>) -> io::Result<()> {
    for name in which {
        let old = replaced(out).join(name);
        if there(&old)? && !there(&out.join(name))? {
            rename(&old, &out.join(name))?;
        }
    }
    Ok(())
}

/// Moves foreign files on, throws the old folders away and takes away the plan.
fn finish(out: &Path, plan: &Plan) -> io::Result<()> {
    for name in names(&replaced(out))? {
        let planned = || plan.put.iter().chain(&plan.take);
        let target = planned().find(|p| **p == name).or_else(|| planned().find(|p| is_free_name(&name, p)));
        foreign::move_on(&replaced(out).join(&name), &out.join(target.unwrap_or(&name)))?;
    }
    discard(out, &replaced(out))?;
    remove(&plan_path(out))
}

/// A name in a folder that is not taken: the name itself, else with a number. The second is needed only where someone has
/// put a folder into the place of one that a swap had just taken away.
fn free_name(folder: &Path, name: &str) -> io::Result<PathBuf> {
    let mut path = folder.join(name);
    let mut number = 1_u32;
    while there(&path)? {
        path = folder.join(format!("{name}~{number}"));
        number += 1;
    }
    Ok(path)
}

fn is_free_name(name: &str, of: &str) -> bool {
    let number = name.strip_prefix(of).and_then(|rest| rest.strip_prefix('~'));
    number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
}

/// Gives a folder a name of trash, where it is there.
fn discard(out: &Path, folder: &Path) -> io::Result<()> {
    if !there(folder)? {
        return Ok(());
    }
    let mut number = 0_u32;
    loop {
        let trash = out.join(format!("{TRASH}{number}"));
        if !there(&trash)? {
            return rename(folder, &trash);
        }
        number += 1;
    }
}

/// Throws away what was not put in place; what can't be thrown away now is so by the next run.
pub(super) fn abandon(out: &Path) {
    // With a plan it is not ours to throw away: the next run finishes it.
    if matches!(there(&plan_path(out)), Ok(false)) {
        let _ = discard(out, &new_folder(out));
    }
    empty_trash(out);
}

/// Deletes trash. What can't be deleted is no fault: the next run tries again.
fn empty_trash(out: &Path) {
    for name in names(out).unwrap_or_default() {
        let number = name.strip_prefix(TRASH);
        if number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit())) {
            let _ = fs::remove_dir_all(out.join(name));
        }
    }
}

/// Puts every file and every folder below one on the disk.
fn sync_tree(folder: &Path) -> io::Result<()> {
    use rayon::prelude::*;
    let entries: Vec<walkdir::DirEntry> =
        walkdir::WalkDir::new(folder).contents_first(true).into_iter().collect::<Result<_, _>>()?;
    let (folders, files): (Vec<_>, Vec<_>) = entries.iter().partition(|e| e.file_type().is_dir());
    // Opened for writing, without which some systems put nothing on the disk.
    files
        .par_iter()
        .try_for_each(|e| fs::File::options().write(true).open(e.path()).and_then(|f| lasting::sync(&f)))?;
    folders.iter().try_for_each(|e| sync_folder(e.path()))
}

/// The names in a folder, in order; none where there is no folder. Names that are not text are not ours and are
/// passed over.
pub(super) fn names(folder: &Path) -> io::Result<BTreeSet<String>> {
    let entries: Vec<fs::DirEntry> = match fs::read_dir(folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(BTreeSet::new()),
        entries => entries?.collect::<io::Result<_>>()?,
    };
    Ok(entries.iter().filter_map(|e| e.file_name().to_str().map(str::to_owned)).collect())
}

/// Removes a file, where it is there, and its entry from the disk.
fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(e) if e.kind() == ErrorKind::NotFound => Ok(()),
        done => done.and_then(|()| sync_folder(lasting::folder_of(path))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_is_read_whole_or_not_at_all() {
        let set = |names: &[&str]| names.iter().map(|n| (*n).to_owned()).collect::<BTreeSet<String>>();
        let plan = Plan { put: set(&["ICE", "ICE+claw"]), take: set(&["SAND"]) };
        let text = plan.text();
        assert_eq!(Plan::parse(&text), Some(plan));
        assert!((0..text.len()).all(|at| Plan::parse(&text[..at]).is_none()));
        assert_eq!(Plan::parse("kitwright plan\nput ../ICE\nend\n"), None);
    }

    #[test]
    fn what_someone_put_in_the_way_meanwhile_is_kept() {
        let out = tempfile::tempdir().unwrap();
        let write = |path: &str, text: &str| {
            let path = out.path().join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        };
        let marker = format!("{MARKER_HEAD}\nmanual.pdf\n");
        for (folder, age) in [(".kitwright-new/ICE", "new"), (".kitwright-replaced/ICE", "old")] {
            write(&format!("{folder}/.kitwright"), &marker);
            write(&format!("{folder}/manual.pdf"), age);
        }
        write(".kitwright-replaced/ICE/notes.txt", "first");
        write("ICE/notes.txt", "second");
        write(".kitwright-plan", &Plan { put: ["ICE".to_owned()].into(), take: BTreeSet::new() }.text());
        recover(out.path()).unwrap();
        let read = |path: &str| fs::read_to_string(out.path().join(path)).unwrap();
        assert_eq!(read("ICE/manual.pdf"), "new");
        let notes = [read("ICE/notes.txt"), read("ICE/notes-kept-1.txt")];
        assert!(notes.contains(&"first".to_owned()) && notes.contains(&"second".to_owned()));
        assert_eq!(names(out.path()).unwrap(), ["ICE".to_owned()].into());
    }
}
