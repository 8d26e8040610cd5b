//! The manual's accent colour, made readable on light and dark pages.

/// A colour as red, green and blue, 0 to 255.
type Rgb = [u8; 3];

/// The pages' grounds; the style sheet has the same values.
const PAPER: Rgb = [0xff, 0xff, 0xff];
const NIGHT: Rgb = [0x16, 0x1a, 0x1d];
/// Surfaces that lie on the grounds, where accented text stands too.
const PAPER_SURFACE: Rgb = [0xf1, 0xf2, 0xef];
const NIGHT_SURFACE: Rgb = [0x21, 0x27, 0x2b];

/// The least contrast of text: WCAG 2.2, 1.4.3.
const TEXT_CONTRAST: f64 = 4.5;

/// The style rules that hold the accent colour, 0xRRGGBB.
pub fn accent_rules(accent: u32) -> String {
    let accent = [(accent >> 16) as u8, (accent >> 8) as u8, accent as u8];
    let light = toward(accent, [0, 0, 0], &[PAPER, PAPER_SURFACE]);
    let dark = toward(accent, [0xff, 0xff, 0xff], &[NIGHT, NIGHT_SURFACE]);
    let rules = |colour: Rgb| format!("--accent:{};--on-accent:{}", hex(colour), hex(readable_on(colour)));
    format!(
        ":root{{{0}}}\n@media (prefers-color-scheme:dark){{:root{{{1}}}}}\n\
         :root[data-look=light]{{{0}}}\n:root[data-look=dark]{{{1}}}\n\
         :root[data-look=contrast]{{--accent:#000000;--on-accent:#ffffff}}\n\
         @media print{{:root,:root[data-look]{{{0}}}}}\n",
        rules(light),
        rules(dark)
    )
}

/// The colour, mixed with `end` as little as gives enough contrast with every ground.
fn toward(colour: Rgb, end: Rgb, grounds: &[Rgb]) -> Rgb {
    (0..=100)
        .map(|percent| mix(colour, end, percent))
        .find(|mixed| grounds.iter().all(|ground| contrast(*mixed, *ground) >= TEXT_CONTRAST))
        .unwrap_or(end)
}

fn mix(from: Rgb, to: Rgb, percent: u32) -> Rgb {
    let part = |a: u8, b: u8| ((u32::from(a) * (100 - percent) + u32::from(b) * percent) / 100) as u8;
    [part(from[0], to[0]), part(from[1], to[1]), part(from[2], to[2])]
}

/// Black or white, whichever is the better to read.
fn readable_on(ground: Rgb) -> Rgb {
    let (black, white) = ([0x10, 0x14, 0x16], [0xff, 0xff, 0xff]);
    if contrast(white, ground) >= contrast(black, ground) { white } else { black }
}

fn hex(colour: Rgb) -> String {
    format!("#{:02x}{:02x}{:02x}", colour[0], colour[1], colour[2])
}

/// The contrast ratio of two colours, 1 to 21 (WCAG 2.2, "contrast ratio").
fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance, 0 to 1 (WCAG 2.2, "relative luminance").
fn luminance(colour: Rgb) -> f64 {
    let [red, green, blue] = colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { libm::pow((part + 0.055) / 1.055, 2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rgb(hex: &str) -> Rgb {
        let part = |at: usize| u8::from_str_radix(&hex[at..at + 2], 16).expect("a hexadecimal colour");
        [part(1), part(3), part(5)]
    }

    #[test]
    fn contrast_is_that_of_published_pairs() {
        // W3C, Understanding SC 1.4.3: #767676 is the lightest grey with 4.5:1 on white; #777777 has 4.48:1.
        assert!((contrast(rgb("#767676"), PAPER) - 4.54).abs() < 0.005);
        assert!((contrast(rgb("#777777"), PAPER) - 4.48).abs() < 0.005);
        assert!((contrast([0, 0, 0], PAPER) - 21.0).abs() < 1e-9);
    }

    /// The value of a property in the style sheet's rule for a selector.
    fn rule<'a>(selector: &str, property: &str) -> Vec<&'a str> {
        let style = include_str!("../../../templates/style.css");
        let opening = format!("{selector} {{");
        let bodies = style.match_indices(&opening).map(|(at, _)| &style[at + opening.len()..]);
        let bodies = bodies.map(|rest| &rest[..rest.find('}').expect("a closed rule")]);
        let wanted = format!("{property}:");
        bodies
            .flat_map(|body| body.split(';'))
            .filter_map(|line| line.trim().strip_prefix(&wanted))
            .map(str::trim)
            .collect()
    }

    #[test]
    fn safety_panels_have_the_colours_of_iso_3864_and_can_be_read() {
        // ISO 3864-4 red, yellow, blue; ISO 3864-2 orange; ground and text as ANSI Z535.4 pairs them.
        for (word, ground) in
            [("danger", "#9B2423"), ("warning", "#D05D29"), ("caution", "#F9A800"), ("notice", "#005387")]
        {
            let panel = format!("\n.safety-{word} > .safety-word");
            let (found, text) = (rule(&panel, "background"), rule(&panel, "color"));
            assert_eq!(found[0].to_ascii_uppercase(), ground);
            assert!(contrast(rgb(text[0]), rgb(found[0])) >= TEXT_CONTRAST, "{word}");
            let dark_text = word == "warning" || word == "caution";
            assert_eq!(luminance(rgb(text[0])) < 0.1, dark_text, "{word}");
        }
    }

    #[test]
    fn text_can_be_read_on_every_ground_light_and_dark() {
        for (place, grounds) in [("\n:root", [PAPER, PAPER_SURFACE]), ("\n  :root", [NIGHT, NIGHT_SURFACE])] {
            assert_eq!([rgb(rule(place, "--paper")[0]), rgb(rule(place, "--surface")[0])], grounds);
            for ink in ["--ink", "--soft"] {
                let ink = rgb(rule(place, ink)[0]);
                assert!(grounds.iter().all(|ground| contrast(ink, *ground) >= TEXT_CONTRAST), "{place} {ink:?}");
            }
            // Frames of boxes to fill in: WCAG 2.2, 1.4.11.
            let line = rgb(rule(place, "--line")[0]);
            assert!(contrast(line, grounds[0]) >= 3.0, "{place} line");
        }
    }

    #[test]
    fn any_accent_can_be_read_on_both_grounds_and_under_its_own_text() {
        for accent in [0x2f6f73, 0xffff00, 0x000000, 0xffffff, 0x808080, 0xff0000, 0x0000ff] {
            let rules = accent_rules(accent);
            let colours: Vec<Rgb> = rules.match_indices('#').map(|(at, _)| rgb(&rules[at..at + 7])).collect();
            for (pair, grounds) in [(&colours[0..2], [PAPER, PAPER_SURFACE]), (&colours[2..4], [NIGHT, NIGHT_SURFACE])]
            {
                assert!(grounds.iter().all(|ground| contrast(pair[0], *ground) >= 4.5), "{rules}");
                assert!(contrast(pair[0], pair[1]) >= 4.5, "{rules}");
            }
        }
    }
}
