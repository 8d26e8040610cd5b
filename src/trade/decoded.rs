//! What a designation says, value by value, and in words.

use super::{Cited, Class, Drill, Source, Thread};
use crate::units::{Length, Measure, UnitStyle, plain};

/// A standard item of hardware, as its designation tells it. What the designation and the built-in tables do
/// not tell is `None` and is left to the hardware list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decoded {
    /// The designation in its usual spelling.
    pub designation: String,
    pub form: ItemForm,
    /// Nominal diameter of shank or pin; for a washer, of the bolt it belongs to.
    pub diameter: Option<Cited<Length>>,
    pub thread: Option<Cited<Thread>>,
    /// Nominal length under the head; for a countersunk head, over all.
    pub length: Option<Cited<Length>>,
    /// Unthreaded length under the head; for a clevis pin, from the head to its hole.
    pub grip: Option<Cited<Length>>,
    /// Thickness that a blind rivet holds.
    pub grip_range: Option<Cited<GripRange>>,
    /// Thickness of a washer.
    pub thickness: Option<Cited<Length>>,
    /// Height of a nut.
    pub height: Option<Cited<Length>>,
    /// Inside and outside diameter of a washer.
    pub bore_and_rim: Option<Cited<(Length, Length)>>,
    pub material: Option<Cited<&'static str>>,
    /// Property class of metric hardware, as far as it is written.
    pub class: Option<Cited<Class>>,
    /// What it bears without giving, where the hardware list says it.
    pub strength: Option<Cited<Measure>>,
    pub shank: Option<Cited<Drilled>>,
    pub head: Option<Cited<Drilled>>,
    /// The drill and the reamer for its hole, where the hardware list has its own.
    pub hole: Option<Cited<Drill>>,
    pub reamer: Option<Cited<Drill>>,
}

/// Thickness that a blind rivet holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct GripRange {
    /// `None` where it is not known.
    pub least: Option<Length>,
    pub most: Length,
}

/// Whether a hole is there for a cotter pin or safety wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Drilled {
    Drilled,
    NotDrilled,
}

/// What kind of item it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ItemForm {
    Bolt,
    /// A bolt that is threaded up to its head.
    FullThreadBolt,
    ClevisBolt,
    Eyebolt,
    SocketScrew,
    /// Flush; its length is over all.
    CountersunkScrew,
    ButtonScrew,
    /// A bolt with a square neck under a round head, for wood.
    CoachBolt,
    /// A wood screw with a hexagon head.
    CoachScrew,
    WoodScrew,
    Nut(NutForm),
    Washer(WasherForm),
    SolidRivet(RivetHead),
    BlindRivet(RivetHead),
    ClevisPin,
    CotterPin,
}

/// The forms of nuts that a rule tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NutForm {
    /// Castle nut for bolts in tension or shear; needs a cotter pin.
    Castle,
    /// Thin castle nut, for bolts in shear only.
    CastleShear,
    /// No lock of its own.
    Plain,
    /// Thin, against another nut.
    Check,
    /// Self-locking with an elastic insert, full height.
    Elastic,
    /// Self-locking with an elastic insert, thin: for bolts in shear only.
    ElasticShear,
    /// Self-locking, all metal.
    AllMetal,
}

impl NutForm {
    pub fn words(self) -> &'static str {
        match self {
            Self::Castle => "castle nut",
            Self::CastleShear => "castle nut, thin, for shear",
            Self::Plain => "plain nut",
            Self::Check => "check nut, thin",
            Self::Elastic => "self-locking nut, elastic insert",
            Self::ElasticShear => "self-locking nut, elastic insert, thin, for shear",
            Self::AllMetal => "self-locking nut, all metal",
        }
    }

    /// Whether it holds by friction and so may not be used where the joint turns (FAA AC 43.13-1B, 7-64a).
    pub fn self_locking(self) -> bool {
        matches!(self, Self::Elastic | Self::ElasticShear | Self::AllMetal)
    }

    /// Whether it takes a cotter pin and so needs a drilled shank.
    pub fn castellated(self) -> bool {
        matches!(self, Self::Castle | Self::CastleShear)
    }

    /// Whether it is made for bolts in shear only.
    pub fn shear_only(self) -> bool {
        matches!(self, Self::CastleShear | Self::ElasticShear | Self::Check)
    }

    /// Whether its lock is an elastic insert, not for places above 250 F (FAA AC 43.13-1B, 7-64f).
    pub fn elastic(self) -> bool {
        matches!(self, Self::Elastic | Self::ElasticShear)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WasherForm {
    Plain,
    /// About half as thick, for adjusting grip.
    Thin,
    /// With a wide rim.
    LargeArea,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RivetHead {
    /// Universal head, solid rivets.
    Universal,
    /// Protruding (domed) head, blind rivets.
    Protruding,
    /// Flush, 100 degrees.
    Flush100,
    /// Countersunk, 120 degrees.
    Flush120,
}

impl ItemForm {
    /// Whether it is a screw that is drawn tight, by its head or by a nut on it.
    pub fn drawn(self) -> bool {
        matches!(
            self,
            Self::Bolt
                | Self::FullThreadBolt
                | Self::ClevisBolt
                | Self::Eyebolt
                | Self::SocketScrew
                | Self::CountersunkScrew
                | Self::ButtonScrew
                | Self::CoachBolt
        )
    }

    /// Whether it cuts its own way into wood.
    pub fn into_wood(self) -> bool {
        matches!(self, Self::CoachScrew | Self::WoodScrew)
    }

    /// A screw of metal that is threaded up to its head, or may be where its grip is not known.
    pub fn full_thread(self) -> bool {
        matches!(self, Self::FullThreadBolt | Self::SocketScrew | Self::CountersunkScrew | Self::ButtonScrew)
    }

    /// The item's name in lower case.
    pub fn words(self) -> &'static str {
        match self {
            Self::Bolt => "bolt",
            Self::FullThreadBolt => "bolt threaded to the head",
            Self::ClevisBolt => "clevis bolt",
            Self::Eyebolt => "eyebolt",
            Self::SocketScrew => "socket head screw",
            Self::CountersunkScrew => "countersunk screw",
            Self::ButtonScrew => "button head screw",
            Self::CoachBolt => "coach bolt",
            Self::CoachScrew => "coach screw",
            Self::WoodScrew => "wood screw",
            Self::Nut(form) => form.words(),
            Self::Washer(WasherForm::Plain) => "washer",
            Self::Washer(WasherForm::Thin) => "washer, thin",
            Self::Washer(WasherForm::LargeArea) => "washer, large area",
            Self::SolidRivet(RivetHead::Universal | RivetHead::Protruding) => "solid rivet, universal head",
            Self::SolidRivet(RivetHead::Flush100) => "solid rivet, flush head 100°",
            Self::SolidRivet(RivetHead::Flush120) => "solid rivet, flush head 120°",
            Self::BlindRivet(RivetHead::Universal | RivetHead::Protruding) => "blind rivet, protruding head",
            Self::BlindRivet(RivetHead::Flush100) => "blind rivet, flush head 100°",
            Self::BlindRivet(RivetHead::Flush120) => "blind rivet, countersunk head 120°",
            Self::ClevisPin => "clevis pin",
            Self::CotterPin => "cotter pin",
        }
    }
}

/// A piece of a description. Lengths stay values, so that a document writes them in its own units; but metric
/// hardware is called by its millimetres everywhere, and those are text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Words {
    Text(String),
    Length(Length),
}

impl Decoded {
    /// An item of which only the form is known yet.
    pub fn new(designation: String, form: ItemForm) -> Self {
        Self {
            designation,
            form,
            diameter: None,
            thread: None,
            length: None,
            grip: None,
            grip_range: None,
            thickness: None,
            height: None,
            bore_and_rim: None,
            material: None,
            class: None,
            strength: None,
            shank: None,
            head: None,
            hole: None,
            reamer: None,
        }
    }

    /// Whether it is inch hardware of the aircraft standards.
    pub fn of_aircraft_standard(&self) -> bool {
        ["AN", "MS", "NAS"].iter().any(|lead| {
            self.designation.strip_prefix(lead).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
        })
    }

    /// The strongest source of what is said of it; `None` where nothing is but its form.
    fn strongest(&self) -> Option<Source> {
        let lengths = [self.diameter, self.length, self.grip, self.thickness, self.height];
        let holes = [self.shank, self.head];
        lengths
            .into_iter()
            .flatten()
            .map(|cited| cited.source)
            .chain(holes.into_iter().flatten().map(|cited| cited.source))
            .chain(self.thread.map(|cited| cited.source))
            .chain(self.grip_range.map(|cited| cited.source))
            .chain(self.material.map(|cited| cited.source))
            .max()
    }

    /// The description as a document shows it: "bolt, 1/4-28, grip 11/16 in, shank not drilled". A value from
    /// memory is marked so; where all are, the mark stands once, at the end.
    pub fn pieces(&self) -> Vec<Words> {
        let all_from_memory = self.strongest() == Some(Source::FromMemory);
        let mut line = DecodedLine { words: Vec::new(), marks: !all_from_memory, style: self.native_style() };
        line.push(self.form.words());
        match (self.thread, self.diameter) {
            (Some(thread), _) => line.text(thread.value.to_string(), thread.source),
            (None, Some(diameter)) => match numbered_size(diameter.value) {
                Some(number) => line.text(format!("No. {number}"), diameter.source),
                None => line.length("diameter", diameter),
            },
            (None, None) => {}
        }
        match (self.grip, self.grip_range, self.length) {
            (Some(grip), ..) => line.length("grip", grip),
            (_, Some(range), _) => line.range("grip", range),
            (.., Some(length)) => line.length("length", length),
            _ => {}
        }
        if let Some(thickness) = self.thickness {
            line.length("thickness", thickness);
        }
        if let Some(material) = self.material {
            line.text(material.value.to_owned(), material.source);
        }
        if let Some(shank) = self.shank {
            let words = match shank.value {
                Drilled::Drilled => "shank drilled",
                Drilled::NotDrilled => "shank not drilled",
            };
            line.text(words.to_owned(), shank.source);
        }
        if let Some(head) = self.head.filter(|head| head.value == Drilled::Drilled) {
            line.text("head drilled".to_owned(), head.source);
        }
        if all_from_memory {
            line.push(" (all from memory)");
        }
        line.words
    }

    /// The columns of the hardware list that have to say what neither designation nor tables tell, and that a
    /// joint can't be judged without.
    pub fn missing(&self) -> Vec<&'static str> {
        let bolt = self.form.drawn() && self.form != ItemForm::ClevisBolt;
        let pin = matches!(self.form, ItemForm::ClevisBolt | ItemForm::ClevisPin);
        // A bolt that is threaded to its head has no grip.
        let grip = matches!(
            self.form,
            ItemForm::Bolt | ItemForm::ClevisBolt | ItemForm::ClevisPin | ItemForm::Eyebolt | ItemForm::CoachBolt
        );
        let blind = matches!(self.form, ItemForm::BlindRivet(_));
        [
            ("thread", bolt && self.thread.is_none()),
            ("diameter", self.diameter.is_none()),
            ("length", (bolt || pin && self.grip.is_none()) && self.length.is_none()),
            ("grip", grip && self.grip.is_none() || blind && self.grip_range.is_none()),
            ("thickness", matches!(self.form, ItemForm::Washer(_)) && self.thickness.is_none()),
            ("height", matches!(self.form, ItemForm::Nut(_)) && self.height.is_none()),
        ]
        .into_iter()
        .filter_map(|(column, missing)| missing.then_some(column))
        .collect()
    }

    /// The units the item is made in: millimetres for metric hardware, else inch fractions.
    pub fn native_style(&self) -> UnitStyle {
        let metric = matches!(self.thread, Some(Cited { value: Thread::Metric { .. }, .. }));
        let standard = ["ISO ", "EN ", "DIN "].iter().any(|of| self.designation.starts_with(of));
        if metric || standard { UnitStyle::Millimetre } else { UnitStyle::InchFraction }
    }

    /// The description as plain text, lengths in the units the item is made in.
    pub fn words(&self) -> String {
        let style = self.native_style();
        self.pieces()
            .into_iter()
            .map(|piece| match piece {
                Words::Text(text) => text,
                Words::Length(length) => plain(&length.pieces(style)),
            })
            .collect()
    }
}

/// The number of a numbered size, .060 in and .013 in a number. No. 5 is 1/8 in and goes by that name.
fn numbered_size(diameter: Length) -> Option<i64> {
    [2, 3, 4, 6, 8, 10, 12].into_iter().find(|number| Length::inches(60 + 13 * number, 1000) == diameter)
}

/// A description being written.
struct DecodedLine {
    words: Vec<Words>,
    /// Whether values from memory are marked one by one.
    marks: bool,
    style: UnitStyle,
}

impl DecodedLine {
    fn push(&mut self, text: impl Into<String>) {
        let text = text.into();
        match self.words.last_mut() {
            Some(Words::Text(last)) => last.push_str(&text),
            _ => self.words.push(Words::Text(text)),
        }
    }

    fn measure(&mut self, length: Length) {
        match self.style {
            UnitStyle::Millimetre => self.push(plain(&length.pieces(UnitStyle::Millimetre))),
            _ => self.words.push(Words::Length(length)),
        }
    }

    fn mark(&mut self, source: Source) {
        if self.marks && source == Source::FromMemory {
            self.push(" (from memory)");
        }
    }

    fn text(&mut self, text: String, source: Source) {
        self.push(format!(", {text}"));
        self.mark(source);
    }

    fn length(&mut self, name: &str, length: Cited<Length>) {
        self.push(format!(", {name} "));
        self.measure(length.value);
        self.mark(length.source);
    }

    fn range(&mut self, name: &str, range: Cited<GripRange>) {
        self.push(format!(", {name} "));
        match range.value.least {
            Some(least) => {
                self.measure(least);
                self.push(" to ");
            }
            None => self.push("up to "),
        }
        self.measure(range.value.most);
        self.mark(range.source);
    }
}
