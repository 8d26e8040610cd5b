//! A library that is loaded before the system's own (`LD_PRELOAD`) and stands between a program and the disk: it counts
//! the calls that change files below one folder, writes down what they did, and ends the program or fails a call where
//! it is told to. The program under test knows nothing of it.
//!
//! Built by the tests with `rustc --crate-type cdylib`. Settings, from the environment:
//! `DISK_ROOT` the folder, `DISK_LOG` where to write the calls down, `DISK_KILL` the number of the call before which the
//! program is ended, `DISK_FAIL` the number of the call that fails and, after a colon, the number of the error. Where
//! `DISK_READS` is set, the calls that look are counted in the place of those that change.
//!
//! The calls are those of POSIX (IEEE Std 1003.1) that Rust's library uses on Linux. Numbers of errors and flags are those
//! of Linux on x86-64 and AArch64.

use std::cell::Cell;
use std::collections::HashMap;
use std::ffi::{CStr, c_char, c_int, c_uint, c_void};
use std::fs::File;
use std::io::Write as _;
use std::os::unix::ffi::OsStrExt as _;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock};

unsafe extern "C" {
    fn dlsym(handle: *mut c_void, name: *const c_char) -> *mut c_void;
    fn __errno_location() -> *mut c_int;
    fn kill(process: c_int, signal: c_int) -> c_int;
    fn getpid() -> c_int;
    fn dirfd(folder: *mut c_void) -> c_int;
}

const NEXT: *mut c_void = -1_isize as *mut c_void;
const WRITABLE: c_int = 0o3;
const CREATE: c_int = 0o100;
const TRUNCATE: c_int = 0o1000;
const SIGKILL: c_int = 9;
const HERE: c_int = -100;
const REMOVE_FOLDER: c_int = 0x200;

thread_local! {
    /// Set while this library itself works, whose own calls pass.
    static INSIDE: Cell<bool> = const { Cell::new(false) };
}

struct State {
    root: PathBuf,
    log: Option<File>,
    /// Whether the calls that look are counted, and not those that change.
    reads: bool,
    kill: u64,
    fail: (u64, c_int),
    count: u64,
    open: HashMap<c_int, PathBuf>,
}

fn state() -> Option<&'static Mutex<State>> {
    static STATE: OnceLock<Option<Mutex<State>>> = OnceLock::new();
    let make = || {
        let number = |name: &str| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(0);
        let fail = std::env::var("DISK_FAIL").ok().and_then(|v| {
            let (call, error) = v.split_once(':')?;
            Some((call.parse().ok()?, error.parse().ok()?))
        });
        Some(Mutex::new(State {
            root: PathBuf::from(std::env::var_os("DISK_ROOT")?),
            log: std::env::var_os("DISK_LOG").and_then(|path| File::create(path).ok()),
            reads: std::env::var_os("DISK_READS").is_some(),
            kill: number("DISK_KILL"),
            fail: fail.unwrap_or((0, 0)),
            count: 0,
            open: HashMap::new(),
        }))
    };
    STATE.get_or_init(make).as_ref()
}

/// The whole path of a name below an open folder.
unsafe fn whole(folder: c_int, name: *const c_char) -> PathBuf {
    let name = Path::new(std::ffi::OsStr::from_bytes(unsafe { CStr::from_ptr(name) }.to_bytes())).to_owned();
    if name.is_absolute() {
        return name;
    }
    let base =
        if folder == HERE { std::env::current_dir() } else { std::fs::read_link(format!("/proc/self/fd/{folder}")) };
    let mut path = base.unwrap_or_default();
    for part in name.components() {
        match part {
            std::path::Component::CurDir => {}
            other => path.push(other),
        }
    }
    path
}

impl State {
    /// Counts a call that is meant, and ends the program before it where it is told to; whether it is to fail.
    fn counted(&mut self) -> bool {
        self.count += 1;
        if self.count == self.kill {
            unsafe { kill(getpid(), SIGKILL) };
        }
        let fails = self.count == self.fail.0;
        if fails {
            unsafe { *__errno_location() = self.fail.1 };
        }
        fails
    }
}

/// A call that only looks at a path; `failed` is what it gives where it fails.
fn look<T>(path: &Path, failed: T, act: impl FnOnce() -> T) -> T {
    let Some(state) = state() else { return act() };
    let mut state = state.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    if !state.reads || !path.starts_with(&state.root) {
        drop(state);
        return act();
    }
    if let Some(log) = &mut state.log {
        let _ = log.write_all(format!("look\t{}\t0\n", path.to_string_lossy()).as_bytes());
    }
    if state.counted() { failed } else { act() }
}

/// A call that changes the disk: what it is, its paths, its bytes. `act` is the system's own; its result below zero is a
/// failure.
fn change(what: &str, paths: &[&Path], bytes: &[u8], act: impl FnOnce() -> isize) -> isize {
    let Some(state) = state() else { return act() };
    let mut state = state.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    if state.reads || !paths.iter().any(|path| path.starts_with(&state.root)) {
        return act();
    }
    if state.counted() {
        return -1;
    }
    let result = act();
    let error = unsafe { *__errno_location() };
    if result >= 0 {
        let length = if what == "write" { result as usize } else { 0 };
        if let Some(log) = &mut state.log {
            let mut line = what.to_owned();
            for path in paths {
                line.push('\t');
                line.push_str(&path.to_string_lossy());
            }
            line.push_str(&format!("\t{length}\n"));
            let mut all = line.into_bytes();
            all.extend_from_slice(&bytes[..length.min(bytes.len())]);
            let _ = log.write_all(&all);
        }
    }
    unsafe { *__errno_location() = error };
    result
}

/// Runs `ours` unless this library itself is at work: then the system's own call.
fn guarded<T>(ours: impl FnOnce() -> T, own: impl FnOnce() -> T) -> T {
    if INSIDE.with(|inside| inside.replace(true)) {
        return own();
    }
    let result = ours();
    INSIDE.with(|inside| inside.set(false));
    result
}

fn note(fd: c_int, path: Option<PathBuf>) {
    let Some(state) = state() else { return };
    let mut state = state.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    match path.filter(|path| path.starts_with(&state.root)) {
        Some(path) => drop(state.open.insert(fd, path)),
        None => drop(state.open.remove(&fd)),
    }
}

fn path_of(fd: c_int) -> Option<PathBuf> {
    let state = state()?.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    state.open.get(&fd).cloned()
}

macro_rules! own {
    ($name:literal, $kind:ty) => {{
        static FOUND: OnceLock<usize> = OnceLock::new();
        let address = *FOUND.get_or_init(|| unsafe { dlsym(NEXT, concat!($name, "\0").as_ptr().cast()) } as usize);
        unsafe { std::mem::transmute::<usize, $kind>(address) }
    }};
}

unsafe fn opened(folder: c_int, name: *const c_char, flags: c_int, act: impl Fn() -> c_int) -> c_int {
    guarded(
        || {
            let path = unsafe { whole(folder, name) };
            let makes = flags & TRUNCATE != 0 || flags & CREATE != 0 && !path.exists();
            let what = if path.exists() && flags & TRUNCATE == 0 { "open" } else { "create" };
            let fd = if makes && flags & WRITABLE != 0 {
                change(what, &[&path], &[], || act() as isize) as c_int
            } else {
                look(&path, -1, &act)
            };
            let error = unsafe { *__errno_location() };
            if fd >= 0 {
                note(fd, Some(path));
            }
            unsafe { *__errno_location() = error };
            fd
        },
        &act,
    )
}

type Open = unsafe extern "C" fn(*const c_char, c_int, c_uint) -> c_int;
type OpenAt = unsafe extern "C" fn(c_int, *const c_char, c_int, c_uint) -> c_int;

#[unsafe(no_mangle)]
pub unsafe extern "C" fn open(name: *const c_char, flags: c_int, mode: c_uint) -> c_int {
    let own = own!("open", Open);
    unsafe { opened(HERE, name, flags, || own(name, flags, mode)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn open64(name: *const c_char, flags: c_int, mode: c_uint) -> c_int {
    let own = own!("open64", Open);
    unsafe { opened(HERE, name, flags, || own(name, flags, mode)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn openat(folder: c_int, name: *const c_char, flags: c_int, mode: c_uint) -> c_int {
    let own = own!("openat", OpenAt);
    unsafe { opened(folder, name, flags, || own(folder, name, flags, mode)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn openat64(folder: c_int, name: *const c_char, flags: c_int, mode: c_uint) -> c_int {
    let own = own!("openat64", OpenAt);
    unsafe { opened(folder, name, flags, || own(folder, name, flags, mode)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn close(fd: c_int) -> c_int {
    let own = own!("close", unsafe extern "C" fn(c_int) -> c_int);
    guarded(
        || {
            note(fd, None);
            unsafe { own(fd) }
        },
        || unsafe { own(fd) },
    )
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn write(fd: c_int, bytes: *const c_void, length: usize) -> isize {
    let own = own!("write", unsafe extern "C" fn(c_int, *const c_void, usize) -> isize);
    guarded(
        || match path_of(fd) {
            Some(path) => {
                let data = unsafe { std::slice::from_raw_parts(bytes.cast::<u8>(), length) };
                change("write", &[&path], data, || unsafe { own(fd, bytes, length) })
            }
            None => unsafe { own(fd, bytes, length) },
        },
        || unsafe { own(fd, bytes, length) },
    )
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn read(fd: c_int, bytes: *mut c_void, length: usize) -> isize {
    let own = own!("read", unsafe extern "C" fn(c_int, *mut c_void, usize) -> isize);
    let act = || unsafe { own(fd, bytes, length) };
    guarded(|| path_of(fd).map_or_else(act, |path| look(&path, -1, act)), act)
}

type StatX = unsafe extern "C" fn(c_int, *const c_char, c_int, c_uint, *mut c_void) -> c_int;

#[unsafe(no_mangle)]
pub unsafe extern "C" fn statx(
    folder: c_int,
    name: *const c_char,
    flags: c_int,
    mask: c_uint,
    to: *mut c_void,
) -> c_int {
    let own = own!("statx", StatX);
    let act = || unsafe { own(folder, name, flags, mask, to) };
    // Rust's library asks once without a name whether the call is known.
    guarded(|| if name.is_null() { act() } else { look(&unsafe { whole(folder, name) }, -1, act) }, act)
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn realpath(name: *const c_char, to: *mut c_char) -> *mut c_char {
    let own = own!("realpath", unsafe extern "C" fn(*const c_char, *mut c_char) -> *mut c_char);
    let act = || unsafe { own(name, to) };
    guarded(|| look(&unsafe { whole(HERE, name) }, std::ptr::null_mut(), act), act)
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn opendir(name: *const c_char) -> *mut c_void {
    let own = own!("opendir", unsafe extern "C" fn(*const c_char) -> *mut c_void);
    let act = || unsafe { own(name) };
    let ours = || {
        let path = unsafe { whole(HERE, name) };
        let folder = look(&path, std::ptr::null_mut(), act);
        if !folder.is_null() {
            note(unsafe { dirfd(folder) }, Some(path));
        }
        folder
    };
    guarded(ours, act)
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn readdir64(folder: *mut c_void) -> *mut c_void {
    let own = own!("readdir64", unsafe extern "C" fn(*mut c_void) -> *mut c_void);
    let act = || unsafe { own(folder) };
    guarded(|| path_of(unsafe { dirfd(folder) }).map_or_else(act, |path| look(&path, std::ptr::null_mut(), act)), act)
}

#[repr(C)]
pub struct Piece {
    begin: *const c_void,
    length: usize,
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn writev(fd: c_int, pieces: *const Piece, count: c_int) -> isize {
    let own = own!("writev", unsafe extern "C" fn(c_int, *const Piece, c_int) -> isize);
    guarded(
        || match path_of(fd) {
            Some(path) => {
                let pieces_read = unsafe { std::slice::from_raw_parts(pieces, count.max(0) as usize) };
                let data: Vec<u8> = pieces_read
                    .iter()
                    .flat_map(|p| unsafe { std::slice::from_raw_parts(p.begin.cast::<u8>(), p.length) }.to_vec())
                    .collect();
                change("write", &[&path], &data, || unsafe { own(fd, pieces, count) })
            }
            None => unsafe { own(fd, pieces, count) },
        },
        || unsafe { own(fd, pieces, count) },
    )
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn fsync(fd: c_int) -> c_int {
    let own = own!("fsync", unsafe extern "C" fn(c_int) -> c_int);
    guarded(
        || match path_of(fd) {
            Some(path) => change("sync", &[&path], &[], || unsafe { own(fd) } as isize) as c_int,
            None => unsafe { own(fd) },
        },
        || unsafe { own(fd) },
    )
}

/// A call with one path.
unsafe fn one(what: &str, folder: c_int, name: *const c_char, act: impl Fn() -> c_int) -> c_int {
    guarded(|| change(what, &[&unsafe { whole(folder, name) }], &[], || act() as isize) as c_int, &act)
}

/// A call with two paths.
unsafe fn two(what: &str, from: (c_int, *const c_char), to: (c_int, *const c_char), act: impl Fn() -> c_int) -> c_int {
    guarded(
        || {
            let (from, to) = unsafe { (whole(from.0, from.1), whole(to.0, to.1)) };
            change(what, &[&from, &to], &[], || act() as isize) as c_int
        },
        &act,
    )
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn rename(from: *const c_char, to: *const c_char) -> c_int {
    let own = own!("rename", unsafe extern "C" fn(*const c_char, *const c_char) -> c_int);
    unsafe { two("rename", (HERE, from), (HERE, to), || own(from, to)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn linkat(a: c_int, from: *const c_char, b: c_int, to: *const c_char, flags: c_int) -> c_int {
    let own = own!("linkat", unsafe extern "C" fn(c_int, *const c_char, c_int, *const c_char, c_int) -> c_int);
    unsafe { two("link", (a, from), (b, to), || own(a, from, b, to, flags)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn unlink(name: *const c_char) -> c_int {
    let own = own!("unlink", unsafe extern "C" fn(*const c_char) -> c_int);
    unsafe { one("unlink", HERE, name, || own(name)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn unlinkat(folder: c_int, name: *const c_char, flags: c_int) -> c_int {
    let own = own!("unlinkat", unsafe extern "C" fn(c_int, *const c_char, c_int) -> c_int);
    let what = if flags & REMOVE_FOLDER != 0 { "rmdir" } else { "unlink" };
    unsafe { one(what, folder, name, || own(folder, name, flags)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn mkdir(name: *const c_char, mode: c_uint) -> c_int {
    let own = own!("mkdir", unsafe extern "C" fn(*const c_char, c_uint) -> c_int);
    unsafe { one("mkdir", HERE, name, || own(name, mode)) }
}

#[unsafe(no_mangle)]
pub unsafe extern "C" fn rmdir(name: *const c_char) -> c_int {
    let own = own!("rmdir", unsafe extern "C" fn(*const c_char) -> c_int);
    unsafe { one("rmdir", HERE, name, || own(name)) }
}
