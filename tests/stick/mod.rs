//! Sticks: what `kitwright stick` writes, copied to a FAT32 image and read back, checked and used by programs outside
//! the project.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

use crate::outside;

fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("stick").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder of the build can be made");
    folder
}

fn make(manual: &Path, configuration: &str, out: &Path) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kitwright"));
    command.args(["stick", "--format", "lines", "--configuration", configuration, "--out"]).arg(out).arg(manual);
    outside::run(&mut command);
}

/// The stick of one configuration of the demonstration manual: the folder that holds its files and its archive.
fn demonstration() -> &'static Path {
    static OUT: OnceLock<PathBuf> = OnceLock::new();
    OUT.get_or_init(|| {
        let out = scratch("demonstration");
        make(&outside::project().join("manual-src"), "ICE+claw", &out);
        out.join("ICE+claw")
    })
}

/// The stick of a box with a lid, whose work is worked out by hand.
fn of_the_box() -> &'static Path {
    static OUT: OnceLock<PathBuf> = OnceLock::new();
    OUT.get_or_init(|| {
        let out = scratch("box");
        make(&outside::project().join("tests/cases/box"), "PLAIN", &out);
        out.join("PLAIN/stick")
    })
}

/// A small stick, to be damaged: of the manual that `kitwright start` writes.
fn small(name: &str) -> PathBuf {
    let folder = scratch(name);
    let (manual, out) = (folder.join("manual"), folder.join("out"));
    outside::run(Command::new(env!("CARGO_BIN_EXE_kitwright")).arg("start").arg(&manual));
    make(&manual, "PLAIN", &out);
    out.join("PLAIN").join("stick")
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("the folder can be read"))
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).expect("it is inside").to_string_lossy().into_owned();
            (path, fs::read(entry.path()).expect("the file can be read"))
        })
        .collect()
}

fn verify(folder: &Path) -> (Option<i32>, String) {
    let Output { status, stdout, stderr } =
        Command::new(env!("CARGO_BIN_EXE_kitwright")).arg("verify").arg(folder).output().expect("it runs");
    (status.code(), String::from_utf8_lossy(&stdout).into_owned() + &String::from_utf8_lossy(&stderr))
}

/// The stick's files on a FAT32 image made with mkfs.fat, read back with mtools. None where they are not there.
fn through_fat32(check: &str) -> Option<PathBuf> {
    static BACK: OnceLock<PathBuf> = OnceLock::new();
    let format = ["/usr/sbin/mkfs.fat", "/sbin/mkfs.fat"].into_iter().map(PathBuf::from).find(|p| p.is_file());
    let format = format.or_else(|| outside::program("mkfs.fat", check))?;
    outside::program("mcopy", check)?;
    let back = BACK.get_or_init(|| {
        let folder = scratch("fat32");
        let image = folder.join("stick.img");
        fs::File::create(&image).and_then(|f| f.set_len(64 << 20)).expect("an image can be made");
        outside::run(Command::new(format).args(["-F", "32", "-n", "KIT"]).arg(&image));
        let back = folder.join("back");
        fs::create_dir(&back).expect("a folder of the build can be made");
        let mut to: Vec<_> = fs::read_dir(demonstration().join("stick"))
            .expect("it is there")
            .map(|e| e.expect("an entry").path())
            .collect();
        to.sort();
        outside::run(Command::new("mcopy").args(["-s", "-Q", "-i"]).arg(&image).args(&to).arg("::/"));
        outside::run(Command::new("mcopy").args(["-s", "-n", "-i"]).arg(&image).arg("::/*").arg(&back));
        back
    });
    Some(back.clone())
}

#[test]
fn a_fat32_stick_carries_every_name_and_byte() {
    let check = "a stick on a FAT32 image";
    let Some(back) = through_fat32(check) else { return };
    let (made, read) = (files(&demonstration().join("stick")), files(&back));
    assert_eq!(made.keys().collect::<Vec<_>>(), read.keys().collect::<Vec<_>>());
    assert!(made == read, "the bytes differ");
    if outside::program("sha256sum", check).is_some() {
        outside::run(Command::new("sha256sum").args(["-c", "--quiet", "SHA256SUMS.txt"]).current_dir(&back));
    }
    assert_eq!(verify(&back).0, Some(0));
}

#[test]
fn the_archive_holds_the_same_files() {
    let check = "the archive as unzip reads it";
    let Some(unzip) = outside::program("unzip", check) else { return };
    let archive = demonstration().join("ICE+claw.zip");
    outside::run(Command::new(&unzip).arg("-tq").arg(&archive));
    let folder = scratch("unzipped");
    outside::run(Command::new(&unzip).arg("-q").arg(&archive).arg("-d").arg(&folder));
    assert!(
        files(&folder.join("ICE+claw")) == files(&demonstration().join("stick")),
        "the archive differs from the folder"
    );
}

#[test]
fn the_same_sources_give_the_same_stick() {
    let (one, two) = (small("same-one"), small("same-two"));
    assert!(files(one.parent().expect("its folder")) == files(two.parent().expect("its folder")), "two runs differ");
}

#[test]
fn a_stick_carries_the_notices_of_the_program() {
    let folder = small("notices");
    let notices = fs::read_to_string(folder.join("licences/program.txt")).expect("they are there");
    for crate_of_ours in ["printpdf ", "serde_json ", "tera ", "Independent JPEG Group", "Permission is hereby granted"]
    {
        assert!(notices.contains(crate_of_ours), "{crate_of_ours}");
    }
    assert!(notices.lines().count() > 500 && notices.matches('\n').count() == notices.matches("\r\n").count());
    let start = fs::read_to_string(folder.join("START-HERE.html")).expect("it is there");
    assert!(start.contains("href=\"licences/program.txt\""));
}

#[test]
fn a_damaged_copy_names_what_is_wrong() {
    let folder = small("damaged");
    assert_eq!(verify(&folder).0, Some(0));
    fs::create_dir(folder.join("System Volume Information")).expect("what a system adds");
    fs::write(folder.join("System Volume Information/WPSettings.dat"), "x").expect("what a system adds");
    assert_eq!(verify(&folder).0, Some(0), "what a system adds is no fault");

    let page = folder.join("manual/index.html");
    let mut bytes = fs::read(&page).expect("the page");
    bytes[100] ^= 1;
    fs::write(&page, bytes).expect("it can be changed");
    fs::remove_file(folder.join("manual.pdf")).expect("it is there");
    fs::write(folder.join("manual/old-step.html"), "old").expect("it can be added");
    let (code, said) = verify(&folder);
    assert_eq!(code, Some(1), "{said}");
    for line in ["changed: manual/index.html\n", "missing: manual.pdf\n", "foreign: manual/old-step.html\n", "2 wrong"]
    {
        assert!(said.contains(line), "{line}: {said}");
    }
    assert_eq!(said.lines().count(), 6, "{said}");
}

#[test]
fn a_list_that_cannot_be_used_is_refused_and_leads_nowhere() {
    let folder = small("bad-list");
    let list = folder.join("SHA256SUMS.txt");
    let zero = "0".repeat(64);
    for text in [String::new(), "x".repeat(70), format!("{zero}  ../../etc/passwd\n"), format!("{zero}  /etc/passwd\n")]
    {
        fs::write(&list, &text).expect("it can be changed");
        let (code, said) = verify(&folder);
        assert_eq!(code, Some(2), "{text:?}: {said}");
        assert!(said.contains("SHA256SUMS.txt") && said.contains("line 1"), "{said}");
    }
    fs::remove_file(&list).expect("it is there");
    assert_eq!(verify(&folder).0, Some(2));
}

#[test]
fn pages_are_small() {
    for (path, bytes) in files(&demonstration().join("stick")) {
        if path.starts_with("manual/step-") && path.ends_with(".html") {
            assert!(bytes.len() < 60_000, "{path} has {} bytes", bytes.len());
        }
    }
}

#[test]
fn every_page_and_style_sheet_of_a_stick_is_valid() {
    let check = "the Nu HTML checker on a stick";
    let Some(modules) = outside::node_modules(check) else { return };
    let Some(shell) = outside::program("java", check).and(outside::program("sh", check)) else { return };
    let jar = modules.join("vnu-jar/build/dist/vnu.jar");
    outside::run(outside::script(&shell, "markup.sh").arg(jar).arg(demonstration().join("stick")));
}

/// Chrome 54 and Firefox 50 of 2016, after the data of npm `@mdn/browser-compat-data`.
#[test]
fn a_browser_of_ten_years_ago_is_enough() {
    let check = "what the pages ask of a browser";
    let (Some(_), Some(node)) = (outside::node_modules(check), outside::program("node", check)) else { return };
    println!("{}", outside::run(outside::script(&node, "baseline.cjs").arg(demonstration().join("stick/manual"))));
}

#[test]
fn the_script_searches_converts_and_reads_as_its_references_do() {
    let check = "the parts of the script, in node";
    let Some(node) = outside::program("node", check) else { return };
    let scripts = outside::project().join("templates/script");
    let printed = outside::run(
        outside::script(&node, "scripts.cjs")
            .arg(scripts)
            .args([demonstration().join("stick/manual"), of_the_box().join("manual")]),
    );
    println!("{printed}");
}

#[test]
fn a_builder_can_use_the_stick_in_chromium() {
    used("chromium", "chromium");
}

#[test]
fn a_builder_can_use_the_stick_in_firefox() {
    used("firefox", "firefox-esr");
}

/// Node with its modules, and a browser. None where they are not there.
fn node_and_browser(program: &str, check: &str) -> Option<(PathBuf, PathBuf)> {
    outside::node_modules(check)?;
    Some((outside::program("node", check)?, outside::program(program, check)?))
}

fn used(kind: &str, program: &str) {
    let check = format!("a builder's month with a stick in {kind}");
    let Some((node, browser)) = node_and_browser(program, &check) else { return };
    let Some(folder) = through_fat32(&check) else { return };
    let scratch = scratch(kind);
    let printed = outside::run(outside::script(&node, "stick.cjs").arg(folder).arg(&scratch).arg(kind).arg(browser));
    println!("{printed}");
    if outside::program("pdftotext", &check).is_some() {
        let pdf = scratch.join(format!("{kind}.pdf"));
        let words = outside::run(Command::new("pdftotext").arg(pdf).arg("-"));
        assert!(words.contains("Results sheet") && words.contains("measured"), "the printed record: {words}");
    }
}

#[test]
fn a_kit_is_built_from_its_own_stick_in_chromium() {
    of_a_kit("chromium", "chromium");
}

#[test]
fn a_kit_is_built_from_its_own_stick_in_firefox() {
    of_a_kit("firefox", "firefox-esr");
}

/// The demonstration with a kit that has a substitution and a back order, and the plain stick of its configuration.
fn of_a_kit(kind: &str, program: &str) {
    let check = format!("the stick of one kit in {kind}");
    let Some((node, browser)) = node_and_browser(program, &check) else { return };
    static STICKS: OnceLock<(PathBuf, PathBuf)> = OnceLock::new();
    let (plain, kit) = STICKS.get_or_init(|| {
        let scratch = scratch("of-a-kit");
        let manual = scratch.join("manual");
        for (path, bytes) in files(&outside::project().join("manual-src")) {
            if path.starts_with("releases/") {
                continue;
            }
            let to = manual.join(path);
            fs::create_dir_all(to.parent().expect("its folder")).expect("it can be made");
            fs::write(to, bytes).expect("it can be written");
        }
        fs::write(manual.join("kits.csv"), "serial,configuration\n147,SAND+brake+hitch\n").expect("it can be written");
        let rows = "serial,item,what,quantity,expected\n147,TB-1/4,back order,1,2026-04-10\n";
        fs::write(manual.join("shipped.csv"), rows).expect("it can be written");
        make(&manual, "SAND+brake+hitch", &scratch);
        make(&manual, "kit-0147", &scratch);
        (scratch.join("SAND+brake+hitch/stick"), scratch.join("kit-0147/stick"))
    });
    let to = scratch(&format!("kit-{kind}"));
    println!("{}", outside::run(outside::script(&node, "kit.cjs").arg(plain).arg(kit).arg(to).arg(kind).arg(browser)));
}

#[test]
fn a_box_is_built_action_by_action_in_chromium() {
    worked("chromium", "chromium");
}

#[test]
fn a_box_is_built_action_by_action_in_firefox() {
    worked("firefox", "firefox-esr");
}

fn worked(kind: &str, program: &str) {
    let check = format!("actions, today's work and search in {kind}");
    let Some((node, browser)) = node_and_browser(program, &check) else { return };
    let to = scratch(&format!("work-{kind}"));
    println!("{}", outside::run(outside::script(&node, "work.cjs").arg(of_the_box()).arg(to).arg(kind).arg(browser)));
}

#[test]
fn nobody_else_can_write_into_the_record_in_chromium() {
    trusted("chromium", "chromium");
}

#[test]
fn nobody_else_can_write_into_the_record_in_firefox() {
    trusted("firefox", "firefox-esr");
}

fn trusted(kind: &str, program: &str) {
    let check = format!("messages from strangers in {kind}");
    let Some((node, browser)) = node_and_browser(program, &check) else { return };
    let (folder, scratch) = (small(&format!("trusted-{kind}")), scratch(&format!("trust-{kind}")));
    println!("{}", outside::run(outside::script(&node, "trust.cjs").arg(folder).arg(scratch).arg(kind).arg(browser)));
}

#[test]
fn every_view_of_the_shell_can_be_read_by_everyone() {
    let check = "axe and widths on every view of the shell";
    let (Some(_), Some(node)) = (outside::node_modules(check), outside::program("node", check)) else { return };
    let Some(browser) = outside::program("chromium-headless-shell", check) else { return };
    let folder = demonstration().join("stick");
    outside::run(outside::script(&node, "shell.cjs").arg(folder).arg(scratch("shell")).arg(browser));
}

const NOTED: &str = "\
---
step: look-at-it
title: Look at it
section: running-gear
figures:
  - { figure: noted.jpg, alt: A photograph, view: looking down, up: toward the reader, forward: top }
  - { figure: noted.png, alt: The same saved otherwise, view: looking down, up: toward the reader, forward: top }
  - { figure: noted.svg, alt: A drawing that holds both, view: looking down, up: toward the reader, forward: top }
---

1. Hold the board up to the picture.
";

#[test]
fn no_picture_of_a_stick_tells_of_its_camera_its_author_or_its_place() {
    let check = "ExifTool on every picture of two sticks";
    let Some(python) = outside::python(check) else { return };
    if outside::package(&python, "PIL", check).is_none()
        || ["exiftool", "pdfimages"].iter().any(|p| outside::program(p, check).is_none())
    {
        return;
    }
    let folder = scratch("noted");
    let (manual, out) = (folder.join("manual"), folder.join("out"));
    outside::run(Command::new(env!("CARGO_BIN_EXE_kitwright")).arg("start").arg(&manual));
    outside::run(outside::script(&python, "notes.py").arg("make").arg(manual.join("figures")));
    fs::write(manual.join("steps/running-gear/90-look.md"), NOTED).expect("a step can be written");
    make(&manual, "PLAIN", &out);
    for stick in [out.join("PLAIN/stick"), demonstration().join("stick")] {
        println!("{}", outside::run(outside::script(&python, "notes.py").arg("look").arg(stick)));
    }
}
