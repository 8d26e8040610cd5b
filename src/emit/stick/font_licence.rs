//! The licence of a font as the font file itself states it, in its table of names (ISO/IEC 14496-22, `name`).

use super::UsedFont;

/// Names in the table: copyright, full name, licence, where the licence is to be found.
const COPYRIGHT: u16 = 0;
const FULL_NAME: u16 = 4;
const LICENCE: u16 = 13;
const LICENCE_ADDRESS: u16 = 14;

/// The licences of the fonts, one after another, in plain text.
pub fn text(fonts: &[UsedFont<'_>]) -> String {
    let mut out = String::from(
        "The documents on this stick carry letters of these fonts. What follows is what the font files say.\r\n",
    );
    for font in fonts {
        let names = FontNames::read(font.bytes).unwrap_or_default();
        let say = |id| names.get(id).map(|text| text.replace("\r\n", "\n").replace(['\r', '\n'], "\r\n"));
        let title = say(FULL_NAME).unwrap_or_else(|| font.name.to_owned());
        out.push_str(&format!("\r\n{title}\r\n{}\r\n", "-".repeat(title.chars().count())));
        let told: Vec<String> = [COPYRIGHT, LICENCE, LICENCE_ADDRESS].into_iter().filter_map(say).collect();
        if told.is_empty() {
            out.push_str("The font file states no licence. Ask the maker of the kit.\r\n");
        }
        for words in told {
            out.push_str(&format!("{words}\r\n"));
        }
    }
    out
}

#[derive(Default)]
struct FontNames {
    found: std::collections::BTreeMap<u16, String>,
}

impl FontNames {
    fn get(&self, id: u16) -> Option<&str> {
        self.found.get(&id).map(String::as_str)
    }

    /// The names in Unicode; English (United States) wins. None where the file has no such table.
    fn read(font: &[u8]) -> Option<Self> {
        let u16_at = |at: usize| Some(u16::from_be_bytes(font.get(at..at + 2)?.try_into().ok()?));
        let u32_at = |at: usize| Some(u32::from_be_bytes(font.get(at..at + 4)?.try_into().ok()?) as usize);
        let tables = usize::from(u16_at(4)?);
        let record = (0..tables).map(|i| 12 + 16 * i).find(|at| font.get(*at..at + 4) == Some(b"name"))?;
        let table = u32_at(record + 8)?;
        let (count, storage) = (usize::from(u16_at(table + 2)?), table + usize::from(u16_at(table + 4)?));
        let mut names = Self::default();
        for i in 0..count {
            let at = table + 6 + 12 * i;
            let (platform, language, id) = (u16_at(at)?, u16_at(at + 4)?, u16_at(at + 6)?);
            let (length, offset) = (usize::from(u16_at(at + 8)?), usize::from(u16_at(at + 10)?));
            if !matches!(platform, 0 | 3) || (names.found.contains_key(&id) && language != 0x0409) {
                continue;
            }
            let bytes = font.get(storage + offset..storage + offset + length)?;
            let units: Vec<u16> = bytes.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
            names.found.insert(id, String::from_utf16_lossy(&units));
        }
        Some(names)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_built_in_font_states_its_licence() {
        let font = UsedFont { name: "text", bytes: dejavu::sans_condensed::regular() };
        let text = text(&[font]);
        for words in ["DejaVu Sans Condensed", "Copyright", "Bitstream", "Permission is hereby granted", "dejavu"] {
            assert!(text.contains(words), "{words}: {text}");
        }
    }

    #[test]
    fn a_broken_font_is_said_to_state_none() {
        let whole = dejavu::sans_condensed::regular();
        for bytes in [&b""[..], b"abc", &whole[..200]] {
            assert!(text(&[UsedFont { name: "Own", bytes }]).contains("states no licence"));
        }
    }
}
