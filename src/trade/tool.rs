//! What a tool is for, told by the plain words of its title. Common practice: tools have no designations.
//!
//! A title that says nothing here is not judged: the maker's own name of a tool wins everywhere.

use std::collections::BTreeSet;

use super::{Drill, inch_pounds};
use crate::units::{Length, Measure, MeasureUnit, Rational};

/// A thing that a tool does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ToolKind {
    /// The machine, or a hand drill.
    Drill,
    DrillBit,
    Reamer,
    TorqueWrench,
    /// Any other wrench, socket, key or screwdriver.
    Wrench,
    /// A gun or squeezer for solid rivets.
    RivetSetter,
    /// What stands behind a solid rivet; a squeezer needs none.
    BuckingBar,
    BlindRiveter,
    /// Presses sleeves on cable.
    Swager,
    SleeveGauge,
    CableCutter,
    /// Reads a length to a few thousandths of an inch.
    FineLength,
    /// Reads a length.
    Length,
    /// Shows that something is straight or flat; a gap beside it is judged by eye.
    Straight,
    Angle,
    /// Shows 90 degrees.
    Square,
    Scale,
    CableTension,
}

impl ToolKind {
    /// What it is called in a message.
    pub fn words(self) -> &'static str {
        match self {
            Self::Drill => "drill",
            Self::DrillBit => "drill bit",
            Self::Reamer => "reamer",
            Self::TorqueWrench => "torque wrench",
            Self::Wrench => "wrench",
            Self::RivetSetter => "tool that sets solid rivets",
            Self::BuckingBar => "bucking bar",
            Self::BlindRiveter => "tool for blind rivets",
            Self::Swager => "tool that presses sleeves",
            Self::SleeveGauge => "gauge for pressed sleeves",
            Self::CableCutter => "cable cutter",
            Self::FineLength => "fine gauge or caliper",
            Self::Length => "tape or rule",
            Self::Straight => "straightedge",
            Self::Angle => "protractor or angle gauge",
            Self::Square => "square",
            Self::Scale => "scale",
            Self::CableTension => "tension gauge",
        }
    }
}

/// What the title of a tool tells.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ToolWords {
    pub kinds: BTreeSet<ToolKind>,
    /// Sizes of holes in the title, for a drill bit or a reamer; none for a set.
    pub sizes: Vec<Drill>,
    /// The range of a torque wrench, in-lb.
    pub torque: Option<(Rational, Rational)>,
}

impl ToolWords {
    /// Whether it does this for a hole of a size; one without a size of its own does it for any.
    pub fn does(&self, kind: ToolKind, size: Length) -> bool {
        self.kinds.contains(&kind) && (self.sizes.is_empty() || self.sizes.iter().any(|s| s.size().value == size))
    }
}

/// Reads the title of a tool.
///
/// ```
/// use kitwright::trade::{ToolKind, tool_words};
/// let bit = tool_words("Drill bit, No. 30");
/// assert!(bit.kinds.contains(&ToolKind::DrillBit));
/// assert_eq!(bit.sizes[0].to_string(), "No. 30");
/// assert!(tool_words("Drill jig for the plates").kinds.is_empty());
/// ```
pub fn tool_words(title: &str) -> ToolWords {
    let lower = title.to_lowercase();
    let words: BTreeSet<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let any = |list: &[&str]| list.iter().any(|w| words.contains(w));
    let begins = |start: &str| words.iter().any(|w| w.starts_with(start));
    let sizes = sizes(title);
    let mut kinds = BTreeSet::new();
    let mut is = |kind: ToolKind, told: bool| {
        if told {
            kinds.insert(kind);
        }
    };
    // A jig, a pin or a holder is for a hole and makes none.
    let makes_holes = !any(&["jig", "holder", "holders", "pin", "pins", "guide", "stop", "bush", "bushing", "gauge"]);
    if makes_holes {
        let bit = any(&["bit", "bits", "drills"]) || words.contains("drill") && !sizes.is_empty();
        is(ToolKind::DrillBit, bit);
        is(ToolKind::Drill, words.contains("drill") && (!bit || words.contains("with")));
        is(ToolKind::Reamer, any(&["reamer", "reamers"]));
    }
    let wrench = any(&["wrench", "wrenches", "screwdriver", "screwdrivers", "socket", "sockets", "driver"])
        || any(&["key", "keys"]) && any(&["hex", "hexagon", "socket"]);
    let torque = words.contains("torque") && wrench;
    is(ToolKind::TorqueWrench, torque);
    is(ToolKind::Wrench, wrench && !torque);
    let rivets = begins("rivet");
    let blind = rivets && any(&["blind", "puller", "pulling", "pull"]);
    is(ToolKind::BlindRiveter, blind);
    is(ToolKind::RivetSetter, rivets && !blind && any(&["gun", "squeezer", "hammer", "set", "sets"]));
    is(ToolKind::BuckingBar, words.contains("bucking") || words.contains("squeezer"));
    let gauge = any(&["gauge", "gauges", "gage"]);
    let sleeve = begins("swag") || any(&["sleeve", "sleeves"]);
    is(ToolKind::Swager, sleeve && !gauge && (begins("swag") || begins("press") || begins("crimp")));
    is(ToolKind::SleeveGauge, sleeve && gauge);
    is(ToolKind::CableCutter, any(&["cable", "cables", "rope"]) && any(&["cutter", "cutters", "shears"]));
    let fine =
        any(&["caliper", "calipers", "calliper", "callipers", "micrometer", "feeler", "feelers", "dial", "depth"]);
    is(ToolKind::FineLength, fine);
    let tape = any(&["tape", "rule", "ruler"]) && !any(&["masking", "adhesive", "duct"]);
    is(ToolKind::Length, fine || tape);
    is(ToolKind::Straight, any(&["straightedge", "board", "string"]));
    let tension = words.contains("tension");
    is(ToolKind::CableTension, tension && (gauge || words.contains("meter")));
    let level = words.contains("digital") && words.contains("level");
    is(ToolKind::Angle, level || any(&["protractor", "bevel", "inclinometer"]) || gauge && any(&["angle", "travel"]));
    is(ToolKind::Square, words.contains("square"));
    is(ToolKind::Scale, any(&["scale", "scales", "dynamometer"]) && !words.contains("steel"));
    // A set, or a row of sizes from one to another, has those between as well.
    let set = any(&["set", "sets", "index", "assortment", "adjustable", "to"]);
    ToolWords { kinds, sizes: if set { Vec::new() } else { sizes }, torque: torque.then(|| range(&lower)).flatten() }
}

/// Sizes of holes in a title: `No. 30`, `1/4 in`, `6.5 mm`.
fn sizes(title: &str) -> Vec<Drill> {
    let tokens: Vec<&str> = title.split_whitespace().map(|t| t.trim_matches([',', '(', ')', ';'])).collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        // The longest reading first: `1 1/8 in` is one size. A single letter is a word.
        let read = (1..=3.min(tokens.len() - at)).rev().find_map(|n| {
            let text = tokens[at..at + n].join(" ");
            let word = text.len() == 1 && !text.starts_with('#');
            Drill::parse(&text).ok().filter(|_| !word).map(|drill| (drill, n))
        });
        at += read.map_or(1, |(drill, n)| {
            found.push(drill);
            n
        });
    }
    found
}

/// `10 to 200 in-lb` in in-lb.
fn range(title: &str) -> Option<(Rational, Rational)> {
    let (low, high) = title.split_once(" to ")?;
    let low = low.split_whitespace().last()?;
    let words: Vec<&str> = high.split_whitespace().collect();
    let high = (2..=3.min(words.len())).find_map(|n| {
        // Units keep their case in what is read: N m.
        let text = words[..n].join(" ").trim_end_matches([',', ')']).replace("n m", "N m").replace("nm", "N m");
        Measure::parse(&text).ok().and_then(|m| Some((inch_pounds(m)?, m)))
    })?;
    let low = Measure::parse(low).ok().filter(|m| m.unit == MeasureUnit::Length)?;
    let low = inch_pounds(Measure { value: low.value, unit: high.1.unit })?;
    Some((low, high.0))
}

#[cfg(test)]
mod tests {
    use super::ToolKind::{
        Angle, BlindRiveter, BuckingBar, CableCutter, CableTension, Drill as Machine, DrillBit, FineLength, Length,
        Reamer, RivetSetter, Scale, SleeveGauge, Square, Straight, Swager, TorqueWrench, Wrench,
    };
    use super::*;

    #[test]
    fn plain_words_tell_what_a_tool_does() {
        let cases: [(&str, &[ToolKind]); 31] = [
            ("Hand drill", &[Machine]),
            ("Drill press", &[Machine]),
            ("Drill bit, 1/4 in", &[DrillBit]),
            ("Drill with a 6.5 mm bit", &[Machine, DrillBit]),
            ("Drill jig for the hoop plates", &[]),
            ("Sheet holders for No. 30 holes", &[]),
            ("Reamer, 5/16 in", &[Reamer]),
            ("Torque wrench, 10 to 200 in-lb", &[TorqueWrench]),
            ("Wrench, 7/16 in", &[Wrench]),
            ("Hex key, 5 mm", &[Wrench]),
            ("Rivet gun with 1/8 in universal set", &[RivetSetter]),
            ("Rivet squeezer", &[RivetSetter, BuckingBar]),
            ("Bucking bar", &[BuckingBar]),
            ("Blind rivet tool", &[BlindRiveter]),
            ("Hand swaging tool with 1/8 in die", &[Swager]),
            ("Go gauge for the 1/8 in sleeve", &[SleeveGauge]),
            ("Cable cutter", &[CableCutter]),
            ("Side cutters", &[]),
            ("Cable tension gauge", &[CableTension]),
            ("Feeler gauges, .002 to .030 in", &[FineLength, Length]),
            ("Slide caliper, 6 in", &[FineLength, Length]),
            ("Dial gauge with stand, .001 in", &[FineLength, Length]),
            ("Steel tape, 16 ft", &[Length]),
            ("Straightedge, 48 in", &[Straight]),
            ("Protractor or bevel gauge", &[Angle]),
            ("Digital angle gauge", &[Angle]),
            ("Engineer's square, 6 in", &[Square]),
            ("Spring scale, 0 to 10 lb", &[Scale]),
            ("Spirit level, 24 in", &[]),
            ("Hacksaw, 24 teeth per inch", &[]),
            ("Draw bolt, 1/2 in rod 12 in long with two nuts", &[]),
        ];
        for (title, kinds) in cases {
            assert_eq!(tool_words(title).kinds.into_iter().collect::<Vec<_>>(), kinds, "{title}");
        }
    }

    #[test]
    fn sizes_and_ranges() {
        let sizes = |title| tool_words(title).sizes.iter().map(ToString::to_string).collect::<Vec<_>>();
        assert_eq!(sizes("Drill bit, No. 30"), ["No. 30"]);
        assert_eq!(sizes("Drill with a 6.5 mm bit"), ["6.5 mm"]);
        assert_eq!(sizes("Drill bits, 1 1/8 in and #40").len(), 2);
        assert_eq!(sizes("Set of drill bits, 1/16 to 1/2 in"), [""; 0]);
        let range = |title| tool_words(title).torque.map(|(low, high)| (low.round(), high.round()));
        let whole = Rational::from_integer;
        assert_eq!(range("Torque wrench, 10 to 200 in-lb"), Some((whole(10), whole(200))));
        assert_eq!(range("Torque wrench, 2 to 25 N m"), Some((whole(18), whole(221))));
        assert_eq!(range("Torque wrench"), None);
    }
}
