//! Figures of a step: the picture, its crop, its callouts and arrows.

use super::needs_keys;
use crate::diag::{Diagnostic, Sink};
use crate::figure::Crop;
use crate::model::lower::fields::{Fields, count};
use crate::model::lower::items::{items, named};
use crate::model::step::*;
use crate::source::Spanned;
use crate::syntax::{Node, NodeKind};
use crate::units::{AssemblyId, Designation, FigureName, PartNumber};

pub(super) fn short(text: Spanned<String>, _: &mut Sink) -> Option<FigureUse> {
    Some(FigureUse {
        figure: text.map(FigureName::new),
        alt: None,
        caption: None,
        view: None,
        up: None,
        forward: None,
        width: None,
        opposite: FigureOpposite::Usual,
        crop: None,
        callouts: Vec::new(),
        arrows: Vec::new(),
    })
}

pub(super) fn figure(f: &Fields, sink: &mut Sink) -> Option<FigureUse> {
    let words = |name, sink: &mut Sink| f.text(name, sink).map(|t| t.value);
    Some(FigureUse {
        figure: named(f, "figure", sink)?.map(FigureName::new),
        alt: f.text("alt", sink),
        caption: words("caption", sink),
        view: words("view", sink),
        up: words("up", sink),
        forward: words("forward", sink),
        width: f.length("width", sink),
        opposite: match f.text("opposite", sink) {
            None => FigureOpposite::Usual,
            Some(word) if word.value == "same" => FigureOpposite::Same,
            Some(name) => FigureOpposite::Other(name.map(FigureName::new)),
        },
        crop: f.get("crop").and_then(|node| crop(node, sink)),
        callouts: items(f, "callouts", sink, needs_keys, callout),
        arrows: items(f, "arrows", sink, needs_keys, arrow),
    })
}

fn callout(f: &Fields, sink: &mut Sink) -> Option<CalloutUse> {
    let number = named(f, "callout", sink)?;
    let number = Spanned::new(count(&number, sink)?, number.span);
    let at = f.get("at").and_then(|node| point(node, sink));
    let target = if let Some(part) = f.text("part", sink) {
        CalloutTarget::Part(part.map(PartNumber::new))
    } else if let Some(hardware) = f.text("hardware", sink) {
        CalloutTarget::Hardware(hardware.map(Designation::new))
    } else if let Some(assembly) = f.text("assembly", sink) {
        CalloutTarget::Assembly(assembly.map(AssemblyId::new))
    } else if let Some(text) = f.text("text", sink) {
        CalloutTarget::Text(text.value)
    } else {
        sink.push(
            Diagnostic::error("missing-key", format!("callout {} points at nothing", number.value))
                .at(number.span, "what it shows is missing")
                .help("add `part:`, `hardware:`, `assembly:` or `text:`"),
        );
        return None;
    };
    Some(CalloutUse { number, at, target })
}

/// The keys `from` and `to` of an arrow. One that lacks either is reported and left out.
fn arrow(f: &Fields, sink: &mut Sink) -> Option<ArrowUse> {
    let mut end = |name: &str| match f.get(name) {
        Some(node) => point(node, sink),
        None => {
            sink.push(
                Diagnostic::error("missing-key", format!("an arrow has no `{name}`"))
                    .at(f.span, format!("`{name}` is missing here"))
                    .help(format!(
                        "add `{name}:` with percent of the width and of the height, for example `{name}: [40, 62]`"
                    )),
            );
            None
        }
    };
    let (from, to) = (end("from"), end("to"));
    Some(ArrowUse { from: from?, to: to? })
}

/// `[10, 20, 50, 60]`: left, top, width and height in percent of the picture.
fn crop(node: &Node, sink: &mut Sink) -> Option<Spanned<Crop>> {
    if let [left, top, width, height] = numbers(node)[..]
        && let Some(crop) = Crop::new(left, top, width, height)
    {
        return Some(Spanned::new(crop, node.span));
    }
    sink.push(
        Diagnostic::error("unreadable-value", "the crop of a figure can't be read")
            .at(node.span, "not a part of the picture")
            .help("write left, top, width and height in percent of the picture, for example `[10, 20, 50, 60]`; left and width together are at most 100, and so are top and height"),
    );
    None
}

/// `[40, 62]`: percent across and down. Whether it lies in the figure is a rule's business.
fn point(node: &Node, sink: &mut Sink) -> Option<Spanned<(f64, f64)>> {
    if let [x, y] = numbers(node)[..] {
        return Some(Spanned::new((x, y), node.span));
    }
    sink.push(
        Diagnostic::error("unreadable-value", "a place in a figure can't be read")
            .at(node.span, "not two numbers")
            .help("write percent of the width and of the height from the top left, for example `[40, 62]`"),
    );
    None
}

/// The numbers of a list; none of them where one is no number.
fn numbers(node: &Node) -> Vec<f64> {
    let NodeKind::Sequence(nodes) = &node.kind else { return Vec::new() };
    let number = |n: &Node| match &n.kind {
        NodeKind::Scalar { text, .. } => text.trim().parse().ok().filter(|v: &f64| v.is_finite()),
        _ => None,
    };
    nodes.iter().map(number).collect::<Option<_>>().unwrap_or_default()
}
