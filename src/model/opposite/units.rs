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
    out.extend(
        step.hardware.iter().map(|h| ("hardware", format!("{} x {}{}", h.quantity, h.hardware.value, noted(&h.note)))),
    );
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
        if let Some(words) = c.clock_words() {
            line.push_str(&format!(", {words}"));
        }
        if let Some(offset) = &c.offset {
            line.push_str(&format!(", offset {} in", offset.value.as_inches()));
        }
        if let Some(length) = &c.length {
            line.push_str(&format!(", length {} in", length.value.as_inches()));
        }
        out.push(("cut", line + &noted(&c.note)));
    }
    for b in &step.bends {
        let clocks: Vec<_> = b.toward.iter().map(|c| c.value.to_string()).collect();
        let toward = if clocks.is_empty() { String::new() } else { format!(", toward {}", clocks.join(", ")) };
        out.push(("bend", format!("{}, {} legs{toward}{}", b.part.value, b.legs.len(), noted(&b.note))));
    }
    for x in &step.flattened {
        let faces = x.faces.map_or_else(String::new, |c| format!(", facing {}", c.value));
        out.push(("flattened", format!("{} {} in{faces}{}", x.part.value, x.length.value.as_inches(), noted(&x.note))));
    }
    for c in &step.cables {
        let part = c.part.as_ref().map_or_else(String::new, |p| format!(" of {}", p.value));
        let label = c.label.as_ref().map_or_else(String::new, |l| format!(", label {}", l.value));
        out.push(("cable", format!("{}{part}{label}{}", c.cable.value, noted(&c.note))));
        for g in &c.run {
            let at = g.at.as_ref().map_or_else(String::new, |a| format!(" at {a}"));
            out.push(("run", format!("{} {}{at}", g.kind.word(), g.name.value)));
        }
        for (letter, end) in ["A", "B"].iter().zip(c.ends()) {
            let Some(end) = end else { continue };
            let thread = end.thread.map_or_else(String::new, |t| format!(", {}-hand thread", t.value.word()));
            let safety = end.safety.as_ref().map_or_else(String::new, |s| format!(", {}", s.value));
            out.push(("end", format!("{letter}{thread}{safety}")));
        }
    }
    for o in &step.offsets {
        let away: Vec<_> =
            o.away.iter().map(|(side, l)| format!("{} in {}", l.value.as_inches(), side.words())).collect();
        out.push(("offset", format!("{}: {} {}{}", o.place.value, away.join(", "), o.from.value, noted(&o.note))));
    }
    if let Some(jig) = &step.one_jig {
        out.push(("one-jig", format!("{} up, drilled from {}", jig.face_up.value, jig.drilled_from.word())));
    }
    for h in &step.holes {
        let name = h.hole.as_ref().map_or("", |n| n.value.as_str());
        let from = h.from.as_ref().map_or_else(String::new, |f| format!(" from {}", f.value));
        let line = h.row.as_ref().and_then(|r| r.line).map_or_else(String::new, |c| format!(" on line {}", c.value));
        out.push((
            "hole",
            format!("{} x {} {name}: {}{from}{line}{}", h.count, h.part.value, h.action.word(), noted(&h.note)),
        ));
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
