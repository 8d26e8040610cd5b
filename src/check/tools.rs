//! What a step needs tools for, as its holes, joints, cables and measures tell, and what the tools of a manual do.
//!
//! Must not know: which of it is a finding.

use std::collections::BTreeMap;

use super::{Context, prose};
use crate::joint::{SeenJoint, Tightening};
use crate::model::{By, CableKind, HardwareAction, HoleAction, MeasureUse, Step};
use crate::resolve::{Resolved, ResolvedStep};
use crate::source::{FileId, Span};
use crate::syntax::markdown::each_block;
use crate::trade::{Against, Drill, ItemForm, ToolKind, ToolWords, inch_pounds, tool_words};
use crate::units::{Length, MeasureUnit, Rational, ToolId};

/// Finest length that a tape or rule is read to, inches; a measure that is held closer asks for a gauge or a caliper
/// (common practice).
const READ_BY_EYE: (i64, i64) = (1, 64);

/// Something that can't be done without a tool.
#[derive(Clone, Debug)]
pub struct ToolNeed {
    pub span: Span,
    /// What is done there, for example `drilled with No. 30`.
    pub done: String,
    /// Each of these does it; the first is the one to name.
    pub kinds: Vec<ToolKind>,
    pub fits: ToolFit,
}

/// Which tool of a kind it has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToolFit {
    Any,
    Size(Drill),
    /// From the least to the most torque, in-lb.
    Torque(Rational, Rational),
}

impl ToolNeed {
    pub fn is_met_by(&self, tool: &ToolWords) -> bool {
        self.kinds.iter().any(|kind| match self.fits {
            ToolFit::Any => tool.kinds.contains(kind),
            ToolFit::Size(size) => tool.does(*kind, size.size().value),
            ToolFit::Torque(least, most) => {
                tool.kinds.contains(kind) && tool.torque.is_none_or(|(low, high)| low <= most && least <= high)
            }
        })
    }

    /// The tool in words, with its size.
    pub fn words(&self) -> String {
        let kind = self.kinds.first().map_or("", |k| k.words());
        match self.fits {
            ToolFit::Any => kind.to_owned(),
            ToolFit::Size(size) => format!("{kind}, {size}"),
            ToolFit::Torque(least, most) => format!("{kind} for {} to {} in-lb", least.round(), most.round()),
        }
    }
}

/// What each tool of the manual does, as far as its title tells.
pub fn known_tools<'a>(ctx: &Context<'a>) -> BTreeMap<&'a ToolId, ToolWords> {
    ctx.manual.settings.tools.iter().map(|(id, title)| (id, tool_words(&title.value))).collect()
}

/// The joints by the file of their step: a step and the one made of it for the other hand have them in common.
pub type JointsByFile<'c, 'a> = BTreeMap<FileId, Vec<&'c SeenJoint<'a>>>;

/// All joints, to be looked up step by step.
pub fn joints_by_file<'c, 'a>(ctx: &'c Context<'a>) -> JointsByFile<'c, 'a> {
    let mut by_file = JointsByFile::new();
    for seen in &ctx.joints {
        by_file.entry(seen.joint.span.file).or_default().push(seen);
    }
    by_file
}

/// What a step of a configuration needs tools for, in the order in which it is written.
pub fn tool_needs(joints_there: &JointsByFile, r: &Resolved, s: &ResolvedStep) -> Vec<ToolNeed> {
    let step = &s.step;
    let mut needs = Vec::new();
    holes(step, &mut needs);
    joints(joints_there, r, step, &mut needs);
    cables(step, &mut needs);
    needs.extend(step.measures.iter().filter_map(|m| measure(m)));
    needs
}

fn need(span: Span, done: impl Into<String>, kinds: &[ToolKind], fits: ToolFit) -> ToolNeed {
    ToolNeed { span, done: done.into(), kinds: kinds.to_vec(), fits }
}

fn holes(step: &Step, needs: &mut Vec<ToolNeed>) {
    for hole in step.holes.iter().filter(|h| h.by == By::Builder) {
        if !matches!(hole.action, HoleAction::Drill | HoleAction::MatchDrill | HoleAction::OpenUp | HoleAction::Ream) {
            continue;
        }
        if let Some(drill) = &hole.drill {
            let done = format!("drilled with {}", drill.value);
            needs.push(need(drill.span, done, &[ToolKind::DrillBit], ToolFit::Size(drill.value)));
            needs.push(need(drill.span, "drilled", &[ToolKind::Drill], ToolFit::Any));
        }
        if let Some(reamer) = &hole.reamer {
            let done = format!("reamed to {}", reamer.value);
            needs.push(need(reamer.span, done, &[ToolKind::Reamer], ToolFit::Size(reamer.value)));
        }
    }
}

fn joints(there: &JointsByFile, r: &Resolved, step: &Step, needs: &mut Vec<ToolNeed>) {
    let own = |j: &SeenJoint| step.joints.iter().any(|own| own.span == j.joint.span);
    let in_file = there.get(&step.file).into_iter().flatten();
    let here = in_file.filter(|j| own(j) && j.configurations.contains(&r.name.as_str()));
    for seen in here {
        let span = seen.joint.fastener.span;
        if seen.joint.action == HardwareAction::Remove {
            continue;
        }
        match seen.reading.form() {
            Some(ItemForm::SolidRivet(_)) => {
                needs.push(need(span, "set", &[ToolKind::RivetSetter], ToolFit::Any));
                needs.push(need(span, "set", &[ToolKind::BuckingBar], ToolFit::Any));
            }
            Some(ItemForm::BlindRivet(_)) => needs.push(need(span, "pulled", &[ToolKind::BlindRiveter], ToolFit::Any)),
            _ => {}
        }
        let range = match &seen.reading.tightening {
            Tightening::Table(torque) => Some(torque.value.inch_pounds()),
            // A torque that is too high is the finding, and no wrench is asked for it.
            Tightening::Designer { against: Some(Against::PastLimit), .. } => None,
            Tightening::Designer { range, .. } => Some((range.least, range.most)),
            Tightening::None | Tightening::Required(_) => None,
        };
        let range = range.and_then(|(least, most)| inch_pounds(least).zip(inch_pounds(most)));
        if let Some((least, most)) = range.filter(|_| seen.joint.action != HardwareAction::FitTemporarily) {
            needs.push(need(span, "drawn to its torque", &[ToolKind::TorqueWrench], ToolFit::Torque(least, most)));
        }
    }
}

fn cables(step: &Step, needs: &mut Vec<ToolNeed>) {
    for cable in step.cables.iter().filter(|c| c.kind == CableKind::Rope) {
        for end in cable.ends().into_iter().flatten() {
            let Some(sleeve) = end.sleeve.as_ref().filter(|_| end.crimps.is_some()) else { continue };
            needs.push(need(sleeve.span, "pressed", &[ToolKind::Swager], ToolFit::Any));
            needs.push(need(sleeve.span, "pressed", &[ToolKind::SleeveGauge], ToolFit::Any));
        }
        if let Some(part) = cable.part.as_ref().filter(|_| cable.defines()) {
            needs.push(need(part.span, "cut to its length", &[ToolKind::CableCutter], ToolFit::Any));
        }
    }
}

/// The instrument of a measure; none where its unit asks for one that is not told by its name.
fn measure(m: &MeasureUse) -> Option<ToolNeed> {
    use ToolKind::{Angle, CableTension, FineLength, Length as Tape, Scale, Square, Straight};
    let values = [&m.target, &m.min, &m.max, &m.tolerance];
    let unit = values.into_iter().flatten().next()?.value.unit;
    let name = m.what.value.to_lowercase();
    let kinds: &[ToolKind] = match unit {
        MeasureUnit::Length if held_to(m).is_some_and(|h| h <= Length::inches(READ_BY_EYE.0, READ_BY_EYE.1)) => {
            &[FineLength]
        }
        MeasureUnit::Length => &[Tape, Straight, Square],
        MeasureUnit::Degree if m.target.as_ref().is_some_and(|t| t.value.value == Rational::from_integer(90)) => {
            &[Angle, Square]
        }
        MeasureUnit::Degree => &[Angle],
        MeasureUnit::PoundForce | MeasureUnit::Newton if name.contains("tension") => &[CableTension, Scale],
        MeasureUnit::PoundForce | MeasureUnit::Newton => &[Scale],
        _ => return None,
    };
    let done = if kinds == [FineLength] { "measured to 1/64 in or closer" } else { "measured" };
    Some(need(m.what.span, done, kinds, ToolFit::Any))
}

/// How closely a length is held: its tolerance, half of what is between its limits, or its one limit.
fn held_to(m: &MeasureUse) -> Option<Length> {
    let limits = (m.min.as_ref().map(|v| v.value.value), m.max.as_ref().map(|v| v.value.value));
    let held = match (m.tolerance.as_ref(), limits) {
        (Some(tolerance), _) => tolerance.value.value,
        (None, (Some(min), Some(max))) => (max - min) / Rational::from_integer(2),
        (None, (None, Some(max))) => max,
        _ => return None,
    };
    Some(Length::from_inches(held))
}

/// What a step says in sentences, in lower case: its text, safety messages, captions and what is looked for.
pub fn said(step: &Step) -> String {
    let mut text = String::new();
    each_block(&step.body, &mut |block| {
        for run in block.runs() {
            run.iter().for_each(|inline| prose::plain_words(inline, &mut text));
            text.push(' ');
        }
    });
    let more = step.safety.iter().map(|s| s.text.value.as_str());
    let more = more.chain(step.figures.iter().filter_map(|f| f.caption.as_deref()));
    let more = more.chain(step.inspects.iter().map(|i| i.look_for.as_str()));
    for words in more.chain(std::iter::once(step.title.value.as_str())) {
        text.push_str(words);
        text.push(' ');
    }
    text.to_lowercase()
}
