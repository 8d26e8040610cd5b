//! `fit`: which fastener of a series fits a stack, with which washers.

use super::failure::Failure;
use crate::joint::{Items, choices};
use crate::model::Manual;
use crate::trade::fit::{FitRules, Layer, Stack, each_bolt};
use crate::trade::{
    BlindRivet, Cited, Decoded, ItemForm, Normalised, ReamedHole, Source, decode, hole_for, normalise, reamed_hole,
    rivet_dash, rivet_diameters, rivet_length,
};
use crate::units::{Length, decimal_text, plain};

/// How many combinations are shown beside the best of each bolt.
const SHOWN: usize = 12;

/// What is asked for.
#[derive(Debug)]
pub(super) struct FitWanted {
    fastener: Decoded,
    nut: Option<Decoded>,
    layers: Vec<Layer>,
    stack: Length,
}

/// Understands what was typed.
///
/// # Errors
/// A designation that is not built in, or a member that is no thickness.
pub(super) fn wanted(fastener: &str, stack: &[String], nut: Option<&str>) -> Result<FitWanted, Failure> {
    let layers = stack.iter().map(|text| layer(text)).collect::<Result<Vec<_>, _>>()?;
    let stack = Stack::of(&layers).thickness;
    let nut = nut.map(known).transpose()?;
    Ok(FitWanted { fastener: known(fastener)?, nut, layers, stack })
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

/// `.090`, `tube 1.250x.058`, `tube 1.250`, `wall .058`.
fn layer(text: &str) -> Result<Layer, Failure> {
    let length = |text: &str| Length::parse(text.trim()).ok().filter(|l| *l > Length::ZERO);
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
            "write a thickness such as .090, \"tube 1.250x.058\" for right through a tube, or \"wall .058\"",
        )
    })
}

/// The answer, in plain text.
pub(super) fn fit(manual: Option<&Manual>, wanted: &FitWanted) -> String {
    // Without a manual in the units the fastener is made in.
    let words = |length: Length| {
        plain(&length.pieces(manual.map_or_else(|| wanted.fastener.native_style(), |m| m.settings.units)))
    };
    let mut out = format!("stack {}\n", words(wanted.stack));
    if let Some(hole) = hole_for(&wanted.fastener) {
        let drill = hole.value.drill;
        out.push_str(&format!("hole  {drill} ({}), {}\n", drill.decimal(), hole.source.words()));
    }
    if let Some(hole) = reamed_hole(&wanted.fastener) {
        let ReamedHole { drill, reamer } = hole.value;
        out.push_str(&format!(
            "      where it is reamed: drill {drill} ({}), reamer {reamer} ({}), {}\n",
            drill.decimal(),
            reamer.decimal(),
            hole.source.words()
        ));
    }
    if let Some(thread) = wanted.fastener.thread {
        let drill = thread.value.tap_drill();
        out.push_str(&format!(
            "tap   for its thread {}: drill {drill} ({}), common practice\n",
            thread.value,
            drill.decimal()
        ));
    }
    match wanted.fastener.form {
        ItemForm::SolidRivet(_) => solid_rivet(&mut out, wanted, words),
        ItemForm::BlindRivet(_) => blind_rivet(&mut out, wanted, words),
        ItemForm::Bolt
        | ItemForm::FullThreadBolt
        | ItemForm::ClevisBolt
        | ItemForm::Eyebolt
        | ItemForm::SocketScrew => bolt(&mut out, manual, wanted),
        form => out.push_str(&format!("\nnothing is chosen by its length for a {}\n", form.words())),
    }
    out
}

fn bolt(out: &mut String, manual: Option<&Manual>, wanted: &FitWanted) {
    let items = manual.map(Items::new);
    let rules = manual.map_or_else(FitRules::default, |m| m.settings.fastening.fit);
    let stack = Cited::new(wanted.stack, Source::Published("as given"));
    let all = choices(manual.zip(items.as_ref()), &wanted.fastener, stack, wanted.nut.as_ref(), &rules);
    if all.is_empty() {
        out.push_str("\nno bolt of this series fits with the washers that are known\n");
        return;
    }
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
        out.push_str(&format!("  {}: margin {} in{threads}\n", found.words(), decimal_text(found.margin, 3)));
    }
    let others: Vec<_> = all.iter().filter(|s| !best.contains(s)).collect();
    if !others.is_empty() {
        out.push_str("with other washers:\n");
    }
    for found in others.iter().take(SHOWN) {
        out.push_str(&format!("  {}: margin {} in\n", found.words(), decimal_text(found.margin, 3)));
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
        out.push_str(&format!("diameter for the thickest sheet: {least} to {most} ({})\n", range.source.words()));
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
        fit(None, &wanted(fastener, &stack, nut).expect("understood"))
    }

    /// The published AN bolt tables: AN4-17A has grip 1 7/16 in. NAVEDTRA 14018: grip + 1.5 D.
    #[test]
    fn a_fastener_is_named() {
        let text = asked("an4-10a", &[".090", "tube 1.250x.058", "tube 1.125x.058", ".090"], Some("MS21044N4"));
        assert!(text.starts_with("stack 1.43 in\n") && text.contains("AN4-17A, AN960-416"), "{text}");
        assert!(asked("MS20470AD4-3", &["1/16", "1/16"], None).contains("MS20470AD4-5"));
        assert!(asked("MS20600AD4-2", &[".063", ".058"], None).contains("number 42"));
    }

    #[test]
    fn what_is_not_understood_is_said() {
        assert!(wanted("bolt", &["1".to_owned()], None).is_err());
        for member in ["0", "-1", "tube", "tube x", "thick"] {
            assert!(wanted("AN4-10A", &[member.to_owned()], None).is_err(), "{member}");
        }
    }
}
