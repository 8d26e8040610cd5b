//! How an input is damaged: bytes, words, numbers and whole stretches, as slips, cuts and hostile hands do it.

use crate::dice::Dice;

/// Numbers at which counting goes wrong.
const NUMBERS: [&str; 14] = [
    "0",
    "-1",
    "1e9",
    "1e-9",
    "-1e38",
    "NaN",
    "1e400",
    "255",
    "65536",
    "4294967296",
    "-2147483649",
    "0.0000001",
    "1/0",
    "99999999999999999999",
];

/// Damages bytes a few times. `words` are what the form knows.
pub fn bytes(input: &[u8], others: &[Vec<u8>], words: &[&str], dice: &mut Dice) -> Vec<u8> {
    let mut out = input.to_vec();
    for _ in 0..dice.between(1, 6) {
        once(&mut out, others, words, dice);
        out.truncate(1 << 18);
    }
    out
}

fn once(out: &mut Vec<u8>, others: &[Vec<u8>], words: &[&str], dice: &mut Dice) {
    let at = dice.below(out.len() + 1);
    let end = (at + dice.below(40)).min(out.len());
    match dice.below(12) {
        0 if at < out.len() => out[at] ^= 1 << dice.below(8),
        1 if at < out.len() => out[at] = *dice.pick(&[0, 1, 0x7F, 0x80, 0xFE, 0xFF, b'\n', b'"', b'<', b'{']),
        2 => drop(out.drain(at..end)),
        3 => out.truncate(at),
        4 => insert(out, at, dice.pick(words).as_bytes()),
        5 => number(out, dice),
        6 => {
            let part = out[at..end].to_vec();
            insert(out, at, &part.repeat(dice.between(1, 4)));
        }
        // Deep or long: the same again and again.
        7 => {
            let part = out[at..end.min(at + 12)].to_vec();
            insert(out, at, &part.repeat(dice.between(50, 3000)));
        }
        8 => {
            let other = dice.pick(others);
            let from = dice.below(other.len() + 1);
            let to = (from + dice.below(300)).min(other.len());
            insert(out, at, &other[from..to]);
        }
        9 => {
            let word = dice.pick(words).as_bytes();
            insert(out, at, &word.repeat(dice.between(2, 500)));
        }
        10 => {
            // Two stretches change places.
            let to = dice.below(out.len() + 1);
            let part: Vec<u8> = out.drain(at..end).collect();
            let to = to.min(out.len());
            insert(out, to, &part);
        }
        _ => {
            let c =
                *dice.pick(&['\u{202E}', '\u{FEFF}', '\0', '\u{1B}', '\u{FFFD}', 'é', '\u{10FFFF}', '\u{85}', '\t']);
            insert(out, at, c.to_string().as_bytes());
        }
    }
}

fn insert(out: &mut Vec<u8>, at: usize, part: &[u8]) {
    drop(out.splice(at..at, part.iter().copied()));
}

/// Puts another number in the place of one.
fn number(out: &mut Vec<u8>, dice: &mut Dice) {
    let starts: Vec<usize> =
        (0..out.len()).filter(|&i| out[i].is_ascii_digit() && (i == 0 || !out[i - 1].is_ascii_digit())).collect();
    if starts.is_empty() {
        return;
    }
    let at = *dice.pick(&starts);
    let end = out[at..].iter().position(|b| !b.is_ascii_digit()).map_or(out.len(), |n| at + n);
    drop(out.splice(at..end, dice.pick(&NUMBERS).bytes()));
}

/// Gives the chunks of a PNG the check sums that go with what is in them.
pub fn right_sums(png: &mut [u8]) {
    let mut at = 8;
    while let Some(&[a, b, c, d]) = png.get(at..at + 4).and_then(|l| l.first_chunk()) {
        let length = u32::from_be_bytes([a, b, c, d]) as usize;
        let Some(end) = at.checked_add(length + 8).filter(|end| end + 4 <= png.len()) else { return };
        let mut sum = flate2::Crc::new();
        sum.update(&png[at + 4..end]);
        png[end..end + 4].copy_from_slice(&sum.sum().to_be_bytes());
        at = end + 4;
    }
}

/// Unpacks a workbook, damages one of its files, and packs it again.
pub fn inside_archive(input: &[u8], words: &[&str], dice: &mut Dice) -> Option<Vec<u8>> {
    use std::io::{Cursor, Read as _, Write as _};
    let mut archive = zip::ZipArchive::new(Cursor::new(input)).ok()?;
    let spoilt = dice.below(archive.len().max(1));
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for i in 0..archive.len() {
        let mut entry = archive.by_index(i).ok()?;
        let name = entry.name().ok()?.into_owned();
        let mut data = Vec::new();
        entry.read_to_end(&mut data).ok()?;
        if i == spoilt || name.contains("sheet") && dice.percent(30) {
            data = bytes(&data, &[data.clone()], words, dice);
        }
        writer.start_file(name, zip::write::SimpleFileOptions::default()).ok()?;
        writer.write_all(&data).ok()?;
    }
    Some(writer.finish().ok()?.into_inner())
}
