//! Sticks: the documents of a configuration with all that makes them a folder to be copied.

use std::collections::BTreeMap;

use super::documents::{MakingKit, WriteFailure};
use super::{Checked, Stage, Watch};
use crate::diag::{Diagnostic, Diagnostics};
use crate::document::{LiesIn, Meta, PrintScale, meta};
use crate::emit::stick::{UsedFont, archive, furnish, portable};
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::source::{Collected, Files, Output, Shelf};
use crate::typeface::Typeface;

/// The documents, held back until the stick is made of them.
struct Held<'a> {
    files: Collected,
    out: &'a dyn Output,
}

impl Output for Held<'_> {
    fn write(&self, path: &str, bytes: &[u8]) -> std::io::Result<()> {
        self.files.write(path, bytes)
    }

    fn shelf(&self) -> Option<&dyn Shelf> {
        self.out.shelf()
    }
}

/// FAT32 holds no larger file, in bytes.
const LARGEST_FILE: usize = u32::MAX as usize;

/// Makes the sticks of the configurations named in `wanted`. Each goes to a folder of its own: its files below
/// `ICE+claw/stick/`, and an archive of them in `ICE+claw/ICE+claw.zip`. Returns what was found on the way; with an
/// error among the findings the sticks are not fit for use.
///
/// # Errors
/// The output refuses a file.
pub fn sticks(
    checked: &Checked,
    files: &dyn Files,
    wanted: &[String],
    print_scale: PrintScale,
    out: &dyn Output,
    watch: Watch,
) -> Result<Diagnostics, WriteFailure> {
    let mut found: Vec<Diagnostic> = Vec::new();
    if let Some(manual) = &checked.manual
        && let Some(kit) = MakingKit::new(manual, &checked.sources, files, print_scale, LiesIn::Bags, &mut found)
    {
        for (i, name) in wanted.iter().enumerate() {
            let Some(resolved) = checked.resolved.iter().find(|r| r.name == *name) else { continue };
            watch(Stage::Documents { configuration: name, number: i + 1, of: wanted.len() });
            let made = Held { files: Collected::new(), out };
            kit.write(resolved, &made, &mut found)?;
            let prefix = format!("{name}/");
            let made = made.files.into_files();
            let made =
                made.into_iter().filter_map(|(path, bytes)| Some((path.strip_prefix(&prefix)?.to_owned(), bytes)));
            stick(&kit, manual, resolved, made.collect(), out, &mut found)?;
        }
    }
    Ok(super::settled(checked, found))
}

fn stick(
    kit: &MakingKit,
    manual: &Manual,
    resolved: &Resolved,
    documents: BTreeMap<String, Vec<u8>>,
    out: &dyn Output,
    found: &mut Vec<Diagnostic>,
) -> Result<(), WriteFailure> {
    let name = &resolved.name;
    let mut fonts: Vec<UsedFont> = [
        ("DejaVu Sans Condensed", Typeface::Condensed.bytes()),
        ("DejaVu Sans", Typeface::Sans.bytes()),
        ("DejaVu Sans Mono", Typeface::Mono.bytes()),
    ]
    .into_iter()
    .map(|(name, bytes)| UsedFont { name, bytes })
    .collect();
    if let (Some(bytes), Some(path)) = (&kit.author_font, &manual.settings.font) {
        fonts.push(UsedFont { name: &path.value, bytes });
    }
    let meta = Meta { release: kit.state().into(), ..meta(manual, resolved) };
    let files = match furnish(&meta, documents, &fonts, &kit.templates) {
        Ok(files) => files,
        Err(fault) => {
            found.push(super::problems::emit_fault(&fault, resolved));
            return Ok(());
        }
    };
    found.extend(faults(manual, resolved, &files));
    for (path, bytes) in &files {
        put(out, format!("{name}/stick/{path}"), bytes)?;
    }
    match archive(name, &files) {
        Ok(bytes) => put(out, format!("{name}/{name}.zip"), &bytes),
        Err(words) => {
            found.push(
                Diagnostic::error("stick-archive", format!("the archive of the stick can't be made: {words}"))
                    .in_configuration(name)
                    .help("make the figures smaller"),
            );
            Ok(())
        }
    }
}

/// What keeps a stick from being copied as it is.
fn faults(manual: &Manual, resolved: &Resolved, files: &BTreeMap<String, Vec<u8>>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    if let Err(bad) = portable(files.keys().map(String::as_str)) {
        let words = format!("the stick can't carry `{}`: it {}", bad.path, bad.reason);
        found.push(
            Diagnostic::error("stick-name", words)
                .help("rename the step, the figure or the configuration")
                .about(&bad.path),
        );
    }
    if let Some((path, _)) = files.iter().find(|(_, bytes)| bytes.len() > LARGEST_FILE) {
        let words = format!("{path} is larger than the 4 GiB that FAT32 can hold");
        found.push(Diagnostic::error("stick-file-size", words).help("make the figures smaller"));
    }
    let bytes: u64 = files.values().map(|bytes| bytes.len() as u64).sum();
    let limit = manual.settings.stick_size;
    if bytes > limit * 1_000_000 {
        let words = format!("the stick has {} MB, more than the {limit} MB of `stick-size`", bytes.div_ceil(1_000_000));
        let largest = files.iter().max_by_key(|(_, bytes)| bytes.len());
        let help = largest.map_or_else(String::new, |(path, bytes)| {
            format!(
                "make the figures smaller, or raise `stick-size` in manual.yaml; the largest file is {path} with {} MB",
                bytes.len() as u64 / 1_000_000
            )
        });
        found.push(Diagnostic::warning("stick-size", words).in_file("manual.yaml").help(help));
    }
    found.into_iter().map(|d| d.in_configuration(&resolved.name)).collect()
}

fn put(out: &dyn Output, path: String, bytes: &[u8]) -> Result<(), WriteFailure> {
    out.write(&path, bytes).map_err(|error| WriteFailure { path, error })
}
