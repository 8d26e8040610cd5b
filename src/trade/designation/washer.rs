//! Washers: AN960, NAS1149, AN970.

use super::{DesignationReading, digits, no_such};
use crate::trade::cited::mils;
use crate::trade::{Cited, Decoded, ItemForm, Source, WasherForm};
use crate::units::{Length, natural_cmp};

const CROSS: Source = Source::Published("published NAS1149 / AN960 cross-references");
const DIGITS: Source = Source::Published("NAS1149 number, whose last digits are the thickness");

/// A size of AN960: code, bolt diameter, thickness, source of the thickness; thin thickness and its source.
/// Lengths in thousandths of an inch.
struct WasherSize {
    code: &'static str,
    bolt: i64,
    plain: (i64, Source),
    thin: Option<(i64, Source)>,
    /// Inside and outside diameter, from memory.
    rings: Option<(i64, i64)>,
}

const fn size(
    code: &'static str,
    bolt: i64,
    plain: (i64, Source),
    thin: Option<(i64, Source)>,
    rings: Option<(i64, i64)>,
) -> WasherSize {
    WasherSize { code, bolt, plain, thin, rings }
}

use Source::FromMemory as Memory;

const AN960: [WasherSize; 13] = [
    size("4", 112, (32, CROSS), Some((16, CROSS)), None),
    size("6", 138, (32, Memory), Some((16, Memory)), None),
    size("8", 164, (32, CROSS), Some((16, Memory)), None),
    size("10", 190, (63, CROSS), Some((32, CROSS)), Some((203, 438))),
    size("416", 250, (63, CROSS), Some((32, CROSS)), Some((265, 500))),
    size("516", 312, (63, Memory), Some((32, Memory)), Some((328, 562))),
    size("616", 375, (63, CROSS), Some((32, Memory)), Some((390, 625))),
    size("716", 437, (63, CROSS), Some((32, Memory)), Some((453, 750))),
    size("816", 500, (63, Memory), Some((32, Memory)), Some((515, 875))),
    size("916", 562, (63, CROSS), Some((32, Memory)), None),
    size("1016", 625, (63, Memory), Some((32, Memory)), None),
    size("1216", 750, (90, Memory), None, None),
    size("1616", 1000, (90, Memory), None, None),
];

/// Large-area washers by bolt diameter in sixteenths: inside, outside, thickness; from memory.
const AN970: [(&str, i64, (i64, i64), i64); 4] =
    [("3", 190, (203, 875), 63), ("4", 250, (265, 1125), 63), ("5", 312, (328, 1375), 63), ("6", 375, (390, 1625), 63)];

pub(super) fn read(text: &str) -> DesignationReading {
    if let Some(rest) = text.strip_prefix("AN960") {
        return an960(text, rest);
    }
    if let Some(rest) = text.strip_prefix("AN970") {
        return an970(text, rest);
    }
    text.strip_prefix("NAS1149").and_then(|rest| nas1149(text, rest))
}

/// Splits the letters of the material off; where there are any, the dash may be left out.
fn material(rest: &str) -> Option<(Option<&'static str>, &str)> {
    let letters = rest.bytes().take_while(u8::is_ascii_uppercase).count();
    let (code, after) = rest.split_at(letters);
    let material = match code {
        "" => Some("cadmium-plated steel"),
        "C" => Some("corrosion-resistant steel"),
        "B" => Some("brass"),
        "D" | "PD" | "JD" | "KD" | "XD" => Some("aluminium"),
        _ => return None,
    };
    let after = match after.strip_prefix('-') {
        Some(after) => after,
        None if letters > 0 => after,
        None => return None,
    };
    Some((material, after))
}

fn an960(text: &str, rest: &str) -> DesignationReading {
    let (material, after) = material(rest)?;
    let (code, thin) = match after.strip_suffix('L') {
        Some(code) => (code, true),
        None => (after, false),
    };
    if code.is_empty() || !code.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let lead = &text[..text.len() - after.len()];
    let Some(size) = AN960.iter().find(|s| s.code == code) else {
        return no_such(format!("AN960 washers have no size {code}"), near(lead, code, AN960.iter().map(|s| s.code)));
    };
    let (thickness, source) = if thin {
        match size.thin {
            Some(thin) => thin,
            None => return no_such(format!("AN960-{code} has no thin washer"), [format!("{lead}{code}")]),
        }
    } else {
        size.plain
    };
    let form = if thin { WasherForm::Thin } else { WasherForm::Plain };
    let mut washer = Decoded::new(text.to_owned(), ItemForm::Washer(form));
    washer.diameter = Some(Cited::from_memory(bolt(size.bolt)));
    // The cross-references are for the steel washers; that the others are as thick is from memory.
    let source = if lead == "AN960-" { source } else { Memory };
    washer.thickness = Some(Cited::new(mils(thickness), source));
    washer.bore_and_rim = size.rings.map(|(bore, rim)| Cited::from_memory((mils(bore), mils(rim))));
    washer.material = material.map(Cited::from_memory);
    Some(Ok(washer))
}

/// Bolt diameter of thousandths that stand for sixteenths where they are rounded.
fn bolt(thousandths: i64) -> Length {
    let sixteenths = (thousandths * 16 + 500) / 1000;
    let exact = Length::inches(sixteenths, 16);
    if (exact - mils(thousandths)).to_f64().abs() < 0.001 { exact } else { mils(thousandths) }
}

fn near<'a>(lead: &str, code: &str, codes: impl Iterator<Item = &'a str>) -> Vec<String> {
    let (mut below, mut above) = (None, None);
    for candidate in codes {
        if natural_cmp(candidate, code).is_lt() {
            below = Some(candidate);
        } else if above.is_none() {
            above = Some(candidate);
        }
    }
    below.into_iter().chain(above).map(|code| format!("{lead}{code}")).collect()
}

/// `NAS1149F0463P`: material, bolt diameter in sixteenths (`N` and a number for numbered sizes below No. 10),
/// thickness in thousandths, finish.
fn nas1149(text: &str, rest: &str) -> DesignationReading {
    let (letter, after) = rest.split_at_checked(1)?;
    let material = match letter {
        "F" => "cadmium-plated steel",
        "C" | "E" => "corrosion-resistant steel",
        "D" => "aluminium",
        _ => return None,
    };
    let (bolt, after) = match after.strip_prefix('N') {
        Some(after) => {
            let (number, after) = after.split_at_checked(1)?;
            match number {
                "2" | "3" | "4" | "5" | "6" | "8" => (60 + 13 * number.parse::<i64>().ok()?, after),
                _ => return None,
            }
        }
        None => {
            let (sixteenths, after) = after.split_at_checked(2)?;
            if !sixteenths.bytes().all(|b| b.is_ascii_digit()) {
                return None;
            }
            match sixteenths.parse::<i64>().ok()? {
                3 => (190, after),
                n @ 4..=32 => (n * 1000 / 16, after),
                _ => return None,
            }
        }
    };
    let (thickness, finish) = after.split_at_checked(2)?;
    if !thickness.bytes().all(|b| b.is_ascii_digit()) || !matches!(finish, "P" | "R" | "H" | "J" | "K" | "E" | "B") {
        return None;
    }
    let thickness: i64 = thickness.parse().ok()?;
    if !matches!(thickness, 16 | 32 | 63 | 90) {
        let lead = &text[..text.len() - 2 - finish.len()];
        let near = super::around([16, 32, 63, 90], thickness as u32);
        return no_such(
            format!("NAS1149 washers are not made .0{thickness:02} in thick"),
            near.into_iter().map(|t| format!("{lead}{t}{finish}")),
        );
    }
    let form = if thickness <= 32 && bolt >= 190 { WasherForm::Thin } else { WasherForm::Plain };
    let mut washer = Decoded::new(text.to_owned(), ItemForm::Washer(form));
    let diameter = self::bolt(bolt);
    washer.diameter = Some(Cited::new(diameter, CROSS));
    washer.thickness = Some(Cited::new(mils(thickness), DIGITS));
    washer.bore_and_rim = AN960
        .iter()
        .find(|size| self::bolt(size.bolt) == diameter)
        .and_then(|size| size.rings)
        .map(|(bore, rim)| Cited::from_memory((mils(bore), mils(rim))));
    washer.material = Some(Cited::from_memory(material));
    Some(Ok(washer))
}

fn an970(text: &str, rest: &str) -> DesignationReading {
    let code = rest.strip_prefix('-')?;
    let (_, end) = digits(code)?;
    if !end.is_empty() {
        return None;
    }
    let Some(&(_, diameter, (bore, rim), thickness)) = AN970.iter().find(|row| row.0 == code) else {
        let near = near("AN970-", code, AN970.iter().map(|row| row.0));
        return no_such(format!("AN970 washers have no size {code} in the built-in table"), near);
    };
    let mut washer = Decoded::new(text.to_owned(), ItemForm::Washer(WasherForm::LargeArea));
    washer.diameter = Some(Cited::from_memory(bolt(diameter)));
    washer.thickness = Some(Cited::from_memory(mils(thickness)));
    washer.bore_and_rim = Some(Cited::from_memory((mils(bore), mils(rim))));
    washer.material = Some(Cited::from_memory("cadmium-plated steel"));
    Some(Ok(washer))
}
