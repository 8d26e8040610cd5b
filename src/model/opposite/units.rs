//! A step as lines of text, for putting two steps side by side.

use super::step::plain;
use crate::model::{CalloutTarget, Step};
use crate::syntax::markdown::{Block, BlockKind};

/// What a step says, a line each, with what the line is. Two steps made alike have lines that go together.
pub fn step_units(step: &Step) -> Vec<(&'static str, String)> {
    let mut out: Vec<(&'static str, String)> = Vec::new();
    let noted = |note: &Option<String>| note.as_ref().map_or_else(String::new, |n| format!(" ({n})"));
    out.push(("title", step.title.value.clone()));
    if let Some(hand) = step.hand {
        out.push(("hand", hand.value.to_string()));
    }
    out.extend(step.after.iter().map(|a| ("after", a.value.value.to_string())));
    out.extend(step.makes.iter().map(|m| ("makes", m.value.value.to_string())));
    out.extend(step.safety.iter().map(|s| (s.word.word(), s.text.value.clone())));
    for p in &step.parts {
        out.push(("part", format!("{} x {} {}{}", p.quantity, p.part.value, p.action.word(), noted(&p.note))));
        out.extend(p.becomes.iter().map(|(piece, n)| ("becomes", format!("{n} x {}", piece.value))));
    }
    out.extend(step.assemblies.iter().map(|a| ("assembly", a.assembly.value.to_string())));
    out.extend(step.hardware.iter().map(|h| ("hardware", format!("{} x {}{}", h.quantity, h.hardware.value, noted(&h.note)))));
    for j in &step.joints {
        let stack: Vec<_> = j.stack.iter().map(|m| m.part.value.to_string()).collect();
        let id = j.id.as_ref().map_or("", |i| i.value.as_str());
        out.push(("joint", format!("{id} {} through {}{}", j.fastener.value, stack.join(", "), noted(&j.note))));
    }
    for c in &step.cuts {
        let mut line = format!("{} {}", c.part.value, c.kind.word());
        if let Some(end) = &c.end {
            line.push_str(&format!(", end {}", end.value.word()));
        }
        if let Some(onto) = &c.onto {
            line.push_str(&format!(", onto {}", onto.value));
        }
        if let Some(angle) = &c.angle {
            line.push_str(&format!(", {}", angle.value));
        }
        if let Some(clock) = &c.long_point {
            line.push_str(&format!(", long point at {}", clock.value));
        }
        if let Some(offset) = &c.offset {
            line.push_str(&format!(", offset {} in", offset.value.as_inches()));
        }
        if let Some(length) = &c.length {
            line.push_str(&format!(", length {} in", length.value.as_inches()));
        }
        out.push(("cut", line + &noted(&c.note)));
    }
    for h in &step.holes {
        let name = h.hole.as_ref().map_or("", |n| n.value.as_str());
        let from = h.from.as_ref().map_or_else(String::new, |f| format!(" from {}", f.value));
        out.push(("hole", format!("{} x {} {name}: {}{from}{}", h.count, h.part.value, h.action.word(), noted(&h.note))));
    }
    for f in &step.figures {
        out.push(("figure", f.figure.value.to_string()));
        out.extend(f.alt.iter().map(|a| ("alt", a.value.clone())));
        out.extend(f.caption.iter().map(|c| ("caption", c.clone())));
        out.extend(f.view.iter().map(|v| ("view", v.clone())));
        out.extend(f.forward.iter().map(|v| ("forward", v.clone())));
        for c in &f.callouts {
            let to = match &c.target {
                CalloutTarget::Part(p) => p.value.to_string(),
                CalloutTarget::Hardware(h) => h.value.to_string(),
                CalloutTarget::Assembly(a) => a.value.to_string(),
                CalloutTarget::Text(t) => t.clone(),
            };
            let at = c.at.map_or_else(String::new, |p| format!(" at {} {}", p.value.0, p.value.1));
            out.push(("callout", format!("{} {to}{at}", c.number.value)));
        }
    }
    out.extend(step.measures.iter().map(|m| ("measure", m.what.value.clone() + &noted(&m.note))));
    out.extend(step.inspects.iter().map(|i| ("inspect", format!("{}: {}", i.what.value, i.look_for))));
    out.extend(step.closes.iter().map(|c| ("closes", c.value.value.to_string())));
    out.extend(step.sign_off.iter().map(|s| ("sign-off", s.value.clone())));
    blocks(&step.body, &mut out);
    out
}

fn blocks(body: &[Block], out: &mut Vec<(&'static str, String)>) {
    for block in body {
        match &block.kind {
            BlockKind::Paragraph(content) | BlockKind::Heading { content, .. } => out.push(("text", plain(content))),
            BlockKind::List { items, .. } => items.iter().for_each(|i| blocks(&i.blocks, out)),
            BlockKind::Quote(inner)
            | BlockKind::Safety { blocks: inner, .. }
            | BlockKind::FootnoteDefinition { blocks: inner, .. }
            | BlockKind::Only { blocks: inner, .. } => blocks(inner, out),
            BlockKind::Table { head, rows, .. } => {
                for row in std::iter::once(head).chain(rows) {
                    out.push(("row", row.iter().map(|cell| plain(cell)).collect::<Vec<_>>().join(" | ")));
                }
            }
            BlockKind::Code(text) => out.push(("text", text.clone())),
            BlockKind::Rule => {}
        }
    }
}
