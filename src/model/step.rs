//! Steps: what the author wrote, item by item.

use std::collections::BTreeMap;

use crate::diag::Sink;
use crate::figure::Crop;
use crate::source::{FileId, Span, Spanned};
use crate::syntax::{Condition, Node, StepFile, markdown};
use crate::trade::{Drill, SafetyWord};
use crate::units::{
    Angle, AssemblyId, Clock, ConsumableId, Designation, FigureName, Hand, Length, Measure, PartNumber, Quantity,
    Rational, SectionId, StepId, ToolId,
};

use super::bend::{BendUse, Flattened};
use super::bond::{Bond, Cured};
use super::cable::CableUse;
use super::hardware::words;
use super::schema::{Holds, KeyLeaf};
use super::setting_out::{Offset, OneJig};
use super::wire::Wire;

/// A step. In a configuration the same type, with every condition decided and taken out.
#[derive(Clone, Debug)]
pub struct Step {
    pub file: FileId,
    pub path: String,
    pub id: Spanned<StepId>,
    pub title: Spanned<String>,
    pub section: Spanned<SectionId>,
    pub only: Option<Spanned<Condition>>,
    pub hand: Option<Spanned<Hand>>,
    /// How the step for the other hand comes about.
    pub opposite: Opposite,
    pub after: Vec<StepItem<Spanned<StepId>>>,
    pub makes: Vec<StepItem<Spanned<AssemblyId>>>,
    pub parts: Vec<StepItem<PartUse>>,
    pub assemblies: Vec<StepItem<AssemblyUse>>,
    pub hardware: Vec<StepItem<HardwareUse>>,
    pub joints: Vec<StepItem<Joint>>,
    pub cuts: Vec<StepItem<Cut>>,
    pub bends: Vec<StepItem<BendUse>>,
    pub flattened: Vec<StepItem<Flattened>>,
    pub cables: Vec<StepItem<CableUse>>,
    pub bonds: Vec<StepItem<Bond>>,
    /// Bonds that must have cured before the step begins.
    pub cured: Vec<StepItem<Cured>>,
    pub wires: Vec<StepItem<Wire>>,
    pub holes: Vec<StepItem<Hole>>,
    pub offsets: Vec<StepItem<Offset>>,
    pub one_jig: Option<OneJig>,
    pub tools: Vec<StepItem<Spanned<ToolId>>>,
    pub consumables: Vec<StepItem<Spanned<ConsumableId>>>,
    pub safety: Vec<StepItem<Safety>>,
    pub figures: Vec<StepItem<FigureUse>>,
    pub measures: Vec<StepItem<MeasureUse>>,
    pub inspects: Vec<StepItem<Inspect>>,
    pub closes: Vec<StepItem<Spanned<AssemblyId>>>,
    /// For kits in which the step was done as it was before a release: what to do then.
    pub already_built: Vec<StepItem<AlreadyBuilt>>,
    /// One or two roles.
    pub sign_off: Vec<Spanned<String>>,
    pub hours: Option<Spanned<Rational>>,
    pub body: Vec<markdown::MdBlock>,
    /// The conditions of the front matter, by where they are written.
    pub conditions: std::sync::Arc<BTreeMap<Span, Condition>>,
    /// The front matter as written, conditions and all: what is compared between two releases, new keys included.
    pub front: std::sync::Arc<Node>,
}

impl Step {
    /// The step as another tree of its front matter says it, with another text. Faults were reported when it was written.
    pub fn read_again(&self, front: Node, body: Vec<markdown::MdBlock>) -> Self {
        let file = StepFile { file: self.file, front: Some(front), body, body_start: 0 };
        let read = super::lower::read_step(file, &self.path, &mut Sink::new());
        let read = read.map_or_else(|| self.clone(), |(step, _)| step);
        // Who waits for a step that stands for two waits for the made one too, which no tree names: it stands at the same place.
        let mut after = read.after.clone();
        for item in &self.after {
            let written = read.after.iter().find(|a| a.span == item.span && a.value.value != item.value.value);
            if written.is_some() && !after.iter().any(|a| a.value.value == item.value.value) {
                after.push(StepItem { only: None, ..item.clone() });
            }
        }
        Self {
            after,
            only: None,
            id: self.id.clone(),
            opposite: self.opposite.clone(),
            conditions: self.conditions.clone(),
            front: self.front.clone(),
            ..read
        }
    }

    /// The condition that stands in a value of the front matter; none where the value is another.
    pub fn condition(&self, leaf: &KeyLeaf) -> Option<&Condition> {
        if matches!(leaf.holds, Holds::Condition) { self.conditions.get(&leaf.span) } else { None }
    }
}

/// The step for the other hand.
#[derive(Clone, Debug, Default)]
pub enum Opposite {
    /// There is none, or it is written by hand.
    #[default]
    None,
    /// `opposite: yes`: it is made from this step. Phrases that stay as they are in it, and phrases that change.
    Made { at: Span, keep: Vec<String>, swap: Vec<String> },
    /// This is the made one; the step it was made from.
    Of(StepId),
}

/// An item of a front-matter list, with its effectivity.
#[derive(Clone, Debug)]
pub struct StepItem<T> {
    pub value: T,
    pub only: Option<Spanned<Condition>>,
    /// The item as written.
    pub span: Span,
    /// Its number in its list as written, from 0.
    pub index: usize,
    pub note: Option<String>,
}

impl<T> std::ops::Deref for StepItem<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

words! {
    /// What is done with a part.
    PartAction {
        Pull = "pull",
        TrialFit = "trial fit",
        Remove = "remove",
        Finish = "finish",
        Refit = "refit",
        Use = "use",
    }
}

#[derive(Clone, Debug)]
pub struct PartUse {
    pub part: Spanned<PartNumber>,
    pub quantity: i64,
    /// Where the quantity stands; the part's span where it is one by default.
    pub quantity_span: Span,
    pub action: PartAction,
    /// The pieces it is cut into.
    pub becomes: Vec<(Spanned<PartNumber>, i64)>,
}

#[derive(Clone, Debug)]
pub struct AssemblyUse {
    pub assembly: Spanned<AssemblyId>,
}

words! {
    /// What is done with hardware.
    HardwareAction {
        Fit = "fit",
        FitTemporarily = "fit temporarily",
        Remove = "remove",
        Refit = "refit",
    }
}

#[derive(Clone, Debug)]
pub struct HardwareUse {
    pub hardware: Spanned<Designation>,
    pub quantity: Quantity,
    pub quantity_span: Span,
    pub action: HardwareAction,
}

/// A fastened place, or several alike.
#[derive(Clone, Debug)]
pub struct Joint {
    pub id: Option<Spanned<String>>,
    pub fastener: Spanned<Designation>,
    /// From the head.
    pub stack: Vec<StepItem<StackMember>>,
    pub under_head: Vec<(Spanned<Designation>, i64)>,
    pub under_nut: Vec<(Spanned<Designation>, i64)>,
    pub nut: Option<Spanned<Designation>>,
    pub pin: Option<Spanned<Designation>>,
    pub places: i64,
    pub turns: bool,
    /// Where it is said that there is no room behind.
    pub closed_behind: Option<Span>,
    /// What locks the nut beside itself and a cotter pin.
    pub locked_by: Option<Spanned<String>>,
    /// Hotter than an elastic nut bears.
    pub hot: bool,
    /// Least distance from the middle of a hole to an edge.
    pub edge: Option<Spanned<Length>>,
    /// Least distance from hole to hole, middle to middle.
    pub pitch: Option<Spanned<Length>>,
    pub carries: Option<Spanned<Carries>>,
    /// The designer's value.
    pub torque: Option<Spanned<TorqueRange>>,
    pub torque_reason: Option<String>,
    pub action: HardwareAction,
    /// The kind of joint of `manual.yaml` that the rest is taken from.
    pub kind: Option<Spanned<String>>,
    /// Steering, brakes, rig: where it is said that a person's life hangs on it.
    pub critical: Option<Span>,
    /// Whether the torque is for dry or for greased threads.
    pub condition: Option<Spanned<ThreadCondition>>,
    /// The designer's value holds the drag of a self-locking nut already.
    pub drag_included: bool,
    /// What its thread goes into, in place of a nut: the last member of the stack.
    pub into: Option<Spanned<ThreadedInto>>,
    /// What bolt and nut clamp in a joint whose parts turn: then they stand still themselves.
    pub clamps: Option<Spanned<ClampsStill>>,
    /// The keys with a yes or a no that are written in the joint itself.
    pub said: Vec<&'static str>,
}

impl Joint {
    /// Whether bolt or nut turn with the parts.
    pub fn bolt_turns(&self) -> bool {
        self.turns && self.clamps.is_none()
    }

    /// How much thinner or thicker its parts may come together.
    pub fn tolerance(&self) -> Length {
        self.stack.iter().filter_map(|m| m.tolerance.as_ref()).fold(Length::ZERO, |sum, t| sum + t.value)
    }

    /// The fastener, nut, cotter pin and washers, in the order in which they are written.
    pub fn with_fastener(&self) -> impl Iterator<Item = &Spanned<Designation>> {
        let washers = self.under_head.iter().chain(&self.under_nut).map(|w| &w.0);
        [&self.fastener].into_iter().chain(&self.nut).chain(&self.pin).chain(washers)
    }
}

words! {
    /// The state of threads that a torque is for.
    ThreadCondition {
        Dry = "dry",
        Greased = "greased",
    }
}

words! {
    /// What a thread goes into.
    ThreadedInto {
        TappedHole = "tapped hole",
        ThreadedInsert = "threaded insert",
    }
}

words! {
    /// What stands still between head and nut while parts turn round it.
    ClampsStill {
        Spacer = "spacer",
        InnerRace = "inner race",
    }
}

words! {
    /// What a joint carries.
    Carries {
        Shear = "shear",
        Tension = "tension",
        Both = "both",
    }
}

/// A torque as the designer gives it; both ends in the same unit, in-lb or N m.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TorqueRange {
    pub least: Measure,
    pub most: Measure,
}

#[derive(Clone, Debug)]
pub struct StackMember {
    pub part: Spanned<PartNumber>,
    pub through: Through,
    /// As the author gives it, in place of what the parts list tells.
    pub thickness: Option<Spanned<Length>>,
    /// How much thinner or thicker it may come.
    pub tolerance: Option<Spanned<Length>>,
    /// The hole that it has for the fastener of itself: a spacer's or a bearing's bore.
    pub bore: Option<Spanned<Length>>,
    /// Countersunk for the head.
    pub countersunk: Option<Span>,
}

words! {
    /// How a fastener passes a member of its stack.
    Through {
        Thickness = "thickness",
        Wall = "wall",
        Tube = "tube",
        BushedTube = "bushed tube",
        Length = "length",
    }
}

words! {
    /// An end of a tube.
    TubeEnd {
        A = "A",
        B = "B",
        Both = "both",
    }
}

words! {
    /// How a tube ends.
    CutKind {
        Square = "square",
        Mitre = "mitre",
        Saddle = "saddle",
    }
}

words! {
    /// Who does a thing.
    By {
        Builder = "builder",
        Maker = "maker",
    }
}

#[derive(Clone, Debug)]
pub struct Cut {
    pub part: Spanned<PartNumber>,
    pub end: Option<Spanned<TubeEnd>>,
    pub kind: CutKind,
    /// Off square for a mitre, between the axes for a saddle.
    pub angle: Option<Spanned<Angle>>,
    pub long_point: Option<Spanned<Clock>>,
    pub onto: Option<Spanned<PartNumber>>,
    pub offset: Option<Spanned<Length>>,
    pub length: Option<Spanned<Length>>,
    pub trim: Option<Spanned<Length>>,
    pub by: By,
    /// What to do when it goes wrong.
    pub if_wrong: Option<String>,
}

impl Cut {
    /// What lies at the clock position of the cut: `long point at 3 o'clock`. A saddle may be longest elsewhere, beside
    /// the tube that it sits on, so its position is said by how the two tubes lie. None without a position.
    pub fn clock_words(&self) -> Option<String> {
        let clock = self.long_point.as_ref()?.value;
        let square = self.angle.is_some_and(|a| a.value == Angle::degrees(90, 1));
        Some(match self.kind {
            CutKind::Saddle if square => format!("other tube runs to {} and {}", clock.hour(), clock.across().hour()),
            CutKind::Saddle => format!("obtuse side at {clock}"),
            CutKind::Mitre | CutKind::Square => format!("long point at {clock}"),
        })
    }
}

words! {
    /// What is done to a hole.
    HoleAction {
        Drill = "drill",
        MatchDrill = "match-drill",
        OpenUp = "open up",
        Ream = "ream",
        Deburr = "deburr",
        Prime = "prime",
    }
}

#[derive(Clone, Debug)]
pub struct Hole {
    pub part: Spanned<PartNumber>,
    pub hole: Option<Spanned<String>>,
    pub count: i64,
    pub action: HoleAction,
    pub from: Option<Spanned<PartNumber>>,
    pub drill: Option<Spanned<Drill>>,
    /// What brings it to its size after the drill.
    pub reamer: Option<Spanned<Drill>>,
    pub for_: Option<Spanned<Designation>>,
    pub row: Option<HoleRow>,
    pub by: By,
    /// What to do when it goes wrong.
    pub if_wrong: Option<String>,
    /// What the bare edge is touched up with, where it goes through a finish.
    pub touch_up: Option<Spanned<ConsumableId>>,
}

/// Where the holes of a row are, along a part.
#[derive(Clone, Debug)]
pub struct HoleRow {
    pub span: Span,
    /// The end that all are measured from.
    pub from: TubeEnd,
    /// The line of the tube they are on, as a clock position looking at that end.
    pub line: Option<Spanned<Clock>>,
    pub stations: Stations,
}

#[derive(Clone, Debug)]
pub enum Stations {
    /// Equally spaced between the first and the last.
    Spaced {
        first: Spanned<Length>,
        last: Spanned<Length>,
    },
    At(Vec<Spanned<Length>>),
}

#[derive(Clone, Debug)]
pub struct Safety {
    pub word: SafetyWord,
    pub text: Spanned<String>,
}

#[derive(Clone, Debug)]
pub struct FigureUse {
    pub figure: Spanned<FigureName>,
    pub alt: Option<Spanned<String>>,
    pub caption: Option<String>,
    pub view: Option<String>,
    pub up: Option<String>,
    pub forward: Option<String>,
    pub width: Option<Spanned<Length>>,
    /// What the opposite step shows in its place.
    pub opposite: FigureOpposite,
    /// The part of the picture that is shown.
    pub crop: Option<Spanned<Crop>>,
    pub callouts: Vec<StepItem<CalloutUse>>,
    pub arrows: Vec<StepItem<ArrowUse>>,
}

/// An arrow over a figure. Both ends in percent of the whole picture, across and down.
#[derive(Clone, Debug)]
pub struct ArrowUse {
    pub from: Spanned<(f64, f64)>,
    pub to: Spanned<(f64, f64)>,
}

/// What an opposite step shows in place of a figure.
#[derive(Clone, Debug, Default)]
pub enum FigureOpposite {
    /// A drawing is mirrored, a photograph shown as it is.
    #[default]
    Usual,
    /// It is shown as it is, with a line that says so.
    Same,
    /// Another figure.
    Other(Spanned<FigureName>),
}

#[derive(Clone, Debug)]
pub struct CalloutUse {
    pub number: Spanned<i64>,
    /// Percent of the whole picture, across and down.
    pub at: Option<Spanned<(f64, f64)>>,
    pub target: CalloutTarget,
}

#[derive(Clone, Debug)]
pub enum CalloutTarget {
    Part(Spanned<PartNumber>),
    Hardware(Spanned<Designation>),
    Assembly(Spanned<AssemblyId>),
    Text(String),
}

#[derive(Clone, Debug)]
pub struct MeasureUse {
    pub what: Spanned<String>,
    pub target: Option<Spanned<Measure>>,
    pub tolerance: Option<Spanned<Measure>>,
    pub min: Option<Spanned<Measure>>,
    pub max: Option<Spanned<Measure>>,
}

#[derive(Clone, Debug)]
pub struct Inspect {
    pub what: Spanned<AssemblyId>,
    pub look_for: String,
}

/// What the builder does who has done the step as it was before a release.
#[derive(Clone, Debug)]
pub struct AlreadyBuilt {
    /// The letter of the release that changes the step.
    pub release: Spanned<String>,
    pub inspect: Option<String>,
    pub undo: Option<String>,
    pub redo: Option<String>,
    /// What is needed on top of what the change itself adds: parts or hardware, by name.
    pub send: Vec<(Spanned<String>, Quantity)>,
}
