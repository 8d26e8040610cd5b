//! How time and memory grow: `cargo bench --bench growth -- [STEPS]`, 1,000 steps where none is named.
//!
//! The program checks and compiles a manual of so many steps and one of ten times as many, on disk. Printed are the
//! least time of several runs, the most memory of a run (VmHWM of proc(5), Linux only), and how many times the large
//! manual takes what the small one takes.

mod synthetic;

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use kitwright::source::Files;

use synthetic::Size;

const TIMES: usize = 10;
/// How often the memory of a run is looked at.
const LOOK: Duration = Duration::from_millis(5);

fn main() {
    let steps = std::env::args().skip(1).find_map(|a| a.parse().ok()).unwrap_or(1_000);
    let folder = tempfile::tempdir().expect("a folder for the manuals can be made");
    let sizes = [steps, steps * TIMES];
    for steps in sizes {
        write(steps, &folder.path().join(steps.to_string()));
    }
    for (task, runs) in [("check", 7), ("compile", 2)] {
        let mut small: Option<Cost> = None;
        for steps in sizes {
            let cost = least(task, runs, &folder.path().join(steps.to_string()));
            println!("{task:<8} {steps:>7} steps {:>9.2} s {:>6} MB", cost.time.as_secs_f64(), cost.memory >> 10);
            match &small {
                None => small = Some(cost),
                Some(small) => {
                    let times = cost.time.as_secs_f64() / small.time.as_secs_f64();
                    let memory = cost.memory as f64 / small.memory.max(1) as f64;
                    println!(
                        "{task:<8} {TIMES:>7} times the steps: {times:.1} times the time, {memory:.1} times the memory"
                    );
                }
            }
        }
    }
}

/// What a run took: time, and kB of memory.
struct Cost {
    time: Duration,
    memory: u64,
}

fn write(steps: usize, folder: &Path) {
    let files = synthetic::manual(Size { steps, photographs: 50, pixels: (1600, 1200) });
    for entry in files.list().expect("memory can be listed") {
        let path = folder.join(&entry.path);
        std::fs::create_dir_all(path.parent().expect("a file is in a folder")).expect("a folder can be made");
        std::fs::write(&path, files.read(&entry.path).expect("it is listed")).expect("a file can be written");
    }
}

/// The least of some runs in time, the most in memory.
fn least(task: &str, runs: usize, folder: &Path) -> Cost {
    let mut least = Cost { time: Duration::MAX, memory: 0 };
    for _ in 0..runs {
        let out = folder.with_extension("out");
        let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
        command.arg(task).arg(folder).stdout(Stdio::null()).stderr(Stdio::null());
        if task == "compile" {
            // From nothing: no photographs are kept from the run before.
            let _ = std::fs::remove_dir_all(&out);
            command.arg("--out").arg(&out);
        }
        let start = Instant::now();
        let mut child = command.spawn().expect("the program can be started");
        let memory = watch(&mut child);
        least = Cost { time: least.time.min(start.elapsed()), memory: least.memory.max(memory) };
    }
    least
}

/// Waits for a run, and returns the most memory it held.
fn watch(child: &mut Child) -> u64 {
    let mut most = 0;
    loop {
        let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let held = status.lines().find_map(|l| l.strip_prefix("VmHWM:")).and_then(|l| l.split_whitespace().next());
        most = most.max(held.and_then(|kb| kb.parse().ok()).unwrap_or(0));
        match child.try_wait().expect("a run can be waited for") {
            Some(status) => {
                assert!(status.success(), "the measured manual has findings");
                return most;
            }
            None => std::thread::sleep(LOOK),
        }
    }
}
