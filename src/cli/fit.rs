//! `fit`: which fastener of a series fits a stack, with which washers.

use super::failure::Failure;
use crate::joint::{Items, choices};
use crate::model::Manual;
use crate::trade::fit::{Layer, Solution, Stack, each_bolt, lengths_known};
use crate::trade::{
    BlindRivet, Cited, Decoded, Drill, ItemForm, Normalised, Profile, ReamedHole, Source, decode, hole_for, normalise,
    reamed_hole, rivet_dash, rivet_diameters, rivet_length,
};
use crate::units::{Length, Rational, UnitStyle, decimal_text, plain};

/// How many combinations are shown beside the best of each bolt.
const SHOWN: usize = 12;

/// Diameters in which solid rivets are made, 32nds of an inch (common practice).
const MADE: [i64; 6] = [2, 3, 4, 5, 6, 8];

/// What is asked for.
#[derive(Debug)]
pub(super) struct FitWanted {
    fastener: Decoded,
    nut: Option<Decoded>,
    layers: Vec<Layer>,
    stack: Length,
    /// How far the parts may be off together.
    tolerance: Length,
    units: UnitStyle,
}

/// Understands what was typed.
///
/// # Errors
/// A designation that is not built in, or a member that is no thickness.
///
/// `units` are the manual's; where there is none, a number without a unit is read as the fastener is made.
pub(super) fn wanted(
    fastener: &str,
    stack: &[String],
    nut: Option<&str>,
    units: Option<UnitStyle>,
) -> Result<FitWanted, Failure> {
    let fastener = known(fastener)?;
    let units = units.unwrap_or_else(|| fastener.native_style());
    let mut tolerance = Length::ZERO;
    let mut layers = Vec::new();
    for text in stack {
        let (member, off) = match text.split_once('\u{b1}').or_else(|| text.split_once("+-")) {
            Some((member, off)) => (member.trim(), off_by(text, off, units)?),
            None => (text.as_str(), Length::ZERO),
        };
        layers.push(layer(member, units)?);
        tolerance = tolerance + off;
    }
    let stack = Stack::of(&layers).thickness;
    let nut = nut.map(known).transpose()?;
    Ok(FitWanted { fastener, nut, layers, stack, tolerance, units })
}

/// How far a member may be off: what stands behind `+-`.
fn off_by(text: &str, off: &str, units: UnitStyle) -> Result<Length, Failure> {
    match layer(off, units) {
        Ok(Layer::Flat(off)) => Ok(off),
        _ => Err(Failure::new(
            format!("`{text}` has no tolerance behind its sign"),
            "write it as a thickness and how far it may be off, for example \"5 +- 0.2\"",
        )),
    }
}

fn known(designation: &str) -> Result<Decoded, Failure> {
    let corrected = match normalise(designation) {
        Normalised::Corrected { to, .. } => decode(&to),
        _ => None,
    };
    decode(designation).or(corrected).ok_or_else(|| {
        Failure::new(
            format!("`{designation}` is not a designation that is built in"),
            "write one of a standard series, for example AN4-10A, MS20470AD4-5 or ISO 4014 M6x30",
        )
    })
}

/// `.090`, `tube 1.250x.058`, `tube 1.250`, `wall .058`, `tube 30x2`, `5 mm`. The unit of a tube stands behind its wall.
fn layer(text: &str, units: UnitStyle) -> Result<Layer, Failure> {
    let bare = |text: &str| !text.contains(|c: char| c.is_alphabetic() || matches!(c, '"' | '\''));
    let behind = text.trim_start_matches("tube ").rsplit('x').next().unwrap_or(text).trim();
    let unit = match behind.find(char::is_alphabetic) {
        Some(at) if !behind.starts_with("wall") => behind[at..].trim(),
        _ if units == UnitStyle::Millimetre => "mm",
        _ => "in",
    };
    let length = |text: &str| {
        let text = text.trim();
        let read = if bare(text) { Length::parse(&format!("{text} {unit}")) } else { Length::parse(text) };
        read.ok().filter(|l| *l > Length::ZERO)
    };
    let words = text.trim();
    let read = if let Some(tube) = words.strip_prefix("tube ") {
        match tube.split_once('x') {
            Some((outside, wall)) => length(outside)
                .zip(length(wall))
                .map(|(outside_diameter, wall)| Layer::Tube { outside_diameter, wall: Some(wall) }),
            None => length(tube).map(|outside_diameter| Layer::Tube { outside_diameter, wall: None }),
        }
    } else if let Some(wall) = words.strip_prefix("wall ") {
        length(wall).map(Layer::Wall)
    } else {
        length(words).map(Layer::Flat)
    };
    read.ok_or_else(|| {
        Failure::new(
            format!("`{text}` is no member of a stack"),
            if units == UnitStyle::Millimetre {
                "write a thickness such as 2.5, \"tube 30x2\" for right through a tube, or \"wall 2\""
            } else {
                "write a thickness such as .090, \"tube 1.250x.058\" for right through a tube, or \"wall .058\""
            },
        )
    })
}

/// The trade that a fastener is of, where no manual says one.
fn usual(fastener: &Decoded) -> Profile {
    if fastener.native_style() == UnitStyle::Millimetre { Profile::metric_general() } else { Profile::aircraft_inch() }
}

/// The answer, in plain text.
pub(super) fn fit(manual: Option<&Manual>, wanted: &FitWanted) -> String {
    let words = |length: Length| plain(&length.pieces(wanted.units));
    // In millimetres no inches stand beside a drill.
    let drill = |drill: Drill| match wanted.units {
        UnitStyle::Millimetre if matches!(drill, Drill::Millimetre(_)) => drill.to_string(),
        UnitStyle::Millimetre => format!("{drill} ({})", words(drill.size().value)),
        _ => format!("{drill} ({})", drill.decimal()),
    };
    let mut out = format!("stack {}", words(wanted.stack));
    if wanted.tolerance > Length::ZERO {
        out.push_str(&format!(" \u{b1} {}", words(wanted.tolerance)));
    }
    out.push('\n');
    if let Some(hole) = hole_for(&wanted.fastener) {
        out.push_str(&format!("hole  {}, {}\n", drill(hole.value.drill), hole.source.words()));
    }
    if let Some(hole) = reamed_hole(&wanted.fastener) {
        let ReamedHole { drill: before, reamer } = hole.value;
        out.push_str(&format!(
            "      where it is reamed: drill {}, reamer {}, {}\n",
            drill(before),
            drill(reamer),
            hole.source.words()
        ));
    }
    if let Some(thread) = wanted.fastener.thread {
        out.push_str(&format!(
            "tap   for its thread {}: drill {}, common practice\n",
            thread.value,
            drill(thread.value.tap_drill())
        ));
    }
    match wanted.fastener.form {
        ItemForm::SolidRivet(_) => solid_rivet(&mut out, wanted, words),
        ItemForm::BlindRivet(_) => blind_rivet(&mut out, wanted, words),
        form if form.drawn() => bolt(&mut out, manual, wanted),
        form => out.push_str(&format!("\nnothing is chosen by its length for a {}\n", form.words())),
    }
    out
}

fn bolt(out: &mut String, manual: Option<&Manual>, wanted: &FitWanted) {
    let items = manual.map(Items::new);
    // Without a manual metric bolts are held against general metric practice.
    let rules = match manual {
        Some(manual) => manual.settings.fastening.fit(Some(&wanted.fastener)),
        None => usual(&wanted.fastener).fit,
    };
    let stack = Cited::new(wanted.stack, Source::Published("as given"));
    let all =
        choices(manual.zip(items.as_ref()), &wanted.fastener, stack, wanted.nut.as_ref(), &rules, wanted.tolerance);
    if !lengths_known(&wanted.fastener) {
        out.push_str(
            "\nthe lengths of this series are not in the table; write a bolt of another series, or look them up\n",
        );
        return;
    }
    if all.is_empty() {
        out.push_str("\nno bolt of this series fits with the washers that are known\n");
        return;
    }
    let inches = |value: Rational| match wanted.units {
        UnitStyle::Millimetre => format!("{} mm", decimal_text(value * Rational::new(127, 5), 2)),
        _ => format!("{} in", decimal_text(value, 3)),
    };
    // What holds only with a grip as long as the table says, is said.
    let worst = |found: &Solution| {
        let short = Rational::from_integer(0) - found.worst;
        if short > Rational::from_integer(0) {
            format!(", but {} short where the grip is off by its tolerance", inches(short))
        } else {
            String::new()
        }
    };
    out.push('\n');
    let mut heading = None;
    // Every bolt once, then what else there is.
    let mut best = each_bolt(&all);
    best.sort_by_key(|s| !s.at_hand);
    for &found in &best {
        if manual.is_some() && heading != Some(found.at_hand) {
            heading = Some(found.at_hand);
            out.push_str(if found.at_hand { "in this manual:\n" } else { "others:\n" });
        }
        let threads = found.fit.threads_past.map_or_else(String::new, |threads| {
            let memory = if threads.source == Source::FromMemory { " (from memory)" } else { "" };
            format!(", {} threads past the nut{memory}", decimal_text(threads.value, 1))
        });
        out.push_str(&format!("  {}: margin {}{threads}{}\n", found.words(), inches(found.margin), worst(found)));
    }
    let others: Vec<_> = all.iter().filter(|s| !best.contains(s)).collect();
    if !others.is_empty() {
        out.push_str("with other washers:\n");
    }
    for found in others.iter().take(SHOWN) {
        out.push_str(&format!("  {}: margin {}{}\n", found.words(), inches(found.margin), worst(found)));
    }
    if others.len() > SHOWN {
        out.push_str(&format!("  and {} more\n", others.len() - SHOWN));
    }
    if wanted.nut.as_ref().and_then(|n| n.height).is_none() {
        out.push_str("\nthe threads past the nut are not counted: name a nut of known height with --nut\n");
    }
}

fn solid_rivet(out: &mut String, wanted: &FitWanted, words: impl Fn(Length) -> String) {
    let Some(diameter) = wanted.fastener.diameter else { return };
    let (length, dash) = (rivet_length(wanted.stack, diameter.value), rivet_dash(wanted.stack, diameter.value));
    let lead = wanted.fastener.designation.rsplit_once('-').map_or("", |(lead, _)| lead);
    out.push_str(&format!(
        "\n{lead}-{}: the rule asks for {} ({})\n",
        dash.value,
        words(length.value),
        length.source.words()
    ));
    let flat =
        wanted.layers.iter().filter_map(|l| if let Layer::Flat(t) | Layer::Wall(t) = l { Some(*t) } else { None });
    if let Some(thickest) = flat.max() {
        let range = rivet_diameters(thickest);
        let (least, most) = (words(range.value.0), words(range.value.1));
        let made: Vec<String> = MADE
            .into_iter()
            .map(|n| Length::inches(n, 32))
            .filter(|d| *d >= range.value.0 && *d <= range.value.1)
            .map(&words)
            .collect();
        let made = if made.is_empty() { "none is made".to_owned() } else { format!("made: {}", made.join(", ")) };
        out.push_str(&format!(
            "diameter for the thickest sheet: {least} to {most} ({}); {made}\n",
            range.source.words()
        ));
    }
}

fn blind_rivet(out: &mut String, wanted: &FitWanted, words: impl Fn(Length) -> String) {
    let Some(diameter) = wanted.fastener.diameter else { return };
    match BlindRivet::holding(diameter.value, wanted.stack) {
        Some(rivet) => {
            let grip = rivet.grip();
            let least = grip.value.least.map_or_else(String::new, |l| format!("{} to ", words(l)));
            out.push_str(&format!(
                "\nnumber {}: grip {least}{} ({})\n",
                rivet.number,
                words(grip.value.most),
                grip.source.words()
            ));
        }
        None => out.push_str("\nno blind rivet of this diameter in the table fits it\n"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(fastener: &str, stack: &[&str], nut: Option<&str>) -> String {
        let stack: Vec<String> = stack.iter().map(|s| (*s).to_owned()).collect();
        fit(None, &wanted(fastener, &stack, nut, None).expect("understood"))
    }

    /// The published AN bolt tables: AN4-17A has grip 1 7/16 in. NAVEDTRA 14018: grip + 1.5 D.
    #[test]
    fn a_fastener_is_named() {
        let text = asked("an4-10a", &[".090", "tube 1.250x.058", "tube 1.125x.058", ".090"], Some("MS21044N4"));
        assert!(text.starts_with("stack 1.43 in\n") && text.contains("AN4-17A, AN960-416"), "{text}");
        let rivet = asked("MS20470AD4-3", &["1/16", "1/16"], None);
        assert!(
            rivet.contains("MS20470AD4-5") && rivet.contains("made: 1/16 in, 3/32 in, 1/8 in, 5/32 in, 3/16 in"),
            "{rivet}"
        );
        assert!(asked("MS20600AD4-2", &[".063", ".058"], None).contains("number 42"));
    }

    /// A metric fastener, or a manual in millimetres, is asked for in millimetres.
    #[test]
    fn metric_stacks_are_in_millimetres() {
        let text = asked("ISO 4017 M6x30 8.8", &["tube 20x2"], Some("ISO 7040 M6"));
        assert!(
            text.starts_with("stack 20 mm\n") && text.contains("ISO 4017 M6x30 8.8") && !text.contains(" in"),
            "{text}"
        );
        let stack = ["tube 30x2".to_owned()];
        let inch = wanted("AN4-20A", &stack, None, Some(UnitStyle::Millimetre)).expect("understood");
        assert!(fit(None, &inch).starts_with("stack 30 mm\n"));
        let both = wanted("AN4-20A", &["tube 1.250x.058 in".to_owned()], None, Some(UnitStyle::Millimetre));
        assert_eq!(both.expect("understood").stack, Length::parse("1.250").expect("a length"));
    }

    /// What the parts are off is counted, and nothing is offered that does not hold with it.
    #[test]
    fn the_tolerance_of_the_parts_is_counted() {
        let text = asked("ISO 4014 M6x30 8.8", &["10 +- 0.5", "10 \u{b1} 0.5"], Some("ISO 7040 M6"));
        assert!(text.starts_with("stack 20 mm \u{b1} 1 mm\n") && !text.contains("short where"), "{text}");
        let stack = ["10 +-".to_owned()];
        assert!(wanted("ISO 4014 M6x30", &stack, None, None).is_err());
    }

    #[test]
    fn a_series_without_lengths_is_told() {
        assert!(asked("AN7-10A", &["1"], None).contains("not in the table"));
    }

    #[test]
    fn what_is_not_understood_is_said() {
        assert!(wanted("bolt", &["1".to_owned()], None, None).is_err());
        for member in ["0", "-1", "tube", "tube x", "thick"] {
            assert!(wanted("AN4-10A", &[member.to_owned()], None, None).is_err(), "{member}");
        }
    }
}
