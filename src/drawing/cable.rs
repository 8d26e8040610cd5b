//! A cable as a strip: its pins, thimbles, sleeves with their presses, turnbuckles, and what it is led through. Not to
//! scale along the cable.

use super::path::Path;
use super::scene::{Align, ArrowSide, Drawing, LineType, Mark, Word};
use crate::model::{CableEnd, GuideKind, ThreadHand};
use crate::plan::CableRun;
use crate::units::{Length, UnitStyle, plain};

const WIDTH: f64 = 136.0;
/// The cable.
const AXIS: f64 = 26.0;
/// The pins, from the left and the right edge.
const PIN: f64 = 10.0;
/// Where the words begin, and how far apart their lines are.
const WORDS: f64 = 44.0;
const APART: f64 = 4.8;

/// The drawing of a cable.
pub fn cable(run: &CableRun, units: UnitStyle) -> Drawing {
    let lines = [0, 1].map(|end| run.ends[end].map_or_else(Vec::new, |(e, _)| end_words(e)));
    let rows = lines[0].len().max(lines[1].len()) as f64;
    let mut drawing = Drawing::new(WIDTH, WORDS + APART * (rows + 1.0), says(run, units));
    let mut reach = [PIN, WIDTH - PIN];
    for (end, letter) in [(0, "A"), (1, "B")] {
        let way = if end == 0 { 1.0 } else { -1.0 };
        let pin = reach[end];
        reach[end] = match run.ends[end] {
            Some((e, _)) => fittings(&mut drawing, e, pin, way),
            None => pin,
        };
        drawing.path(Path::circle((pin, AXIS), 1.4), LineType::Thick);
        drawing.path(Path::line((pin, AXIS - 6.0), (pin, AXIS + 6.0)), LineType::Centre);
        let align = if end == 0 { Align::Start } else { Align::End };
        let x = if end == 0 { 1.0 } else { WIDTH - 1.0 };
        drawing.text((x, WORDS - APART), align, format!("End {letter}"));
        for (i, words) in lines[end].iter().enumerate() {
            drawing.words((x, WORDS + APART * i as f64), align, words.clone());
        }
    }
    drawing.path(Path::line((reach[0], AXIS), (reach[1], AXIS)), LineType::Thick);
    guides(&mut drawing, run, (reach[0], reach[1]));
    let dimension = |drawing: &mut Drawing, words: Vec<Word>| {
        drawing.marks.push(Mark::Level {
            from: (PIN, AXIS),
            to: (WIDTH - PIN, AXIS),
            away: -16.0,
            arrows: ArrowSide::Inside,
            words,
        });
    };
    dimension(&mut drawing, vec![Word::Length(run.length), Word::text(" from pin to pin")]);
    if let Some(cut) = run.cut_length() {
        let at = (WIDTH / 2.0, WORDS + APART * rows);
        drawing.words(at, Align::Middle, vec![Word::text("Cut the cable to "), Word::Length(cut)]);
    }
    drawing
}

/// Draws what stands between a pin and the bare cable; returns where that begins.
fn fittings(drawing: &mut Drawing, end: &CableEnd, pin: f64, way: f64) -> f64 {
    let mut x = pin;
    if end.turnbuckle.is_some() {
        // A fork, the barrel, and the eye that holds the thimble.
        let box_at = |from: f64, to: f64, half: f64| {
            let (a, b) = (pin + way * from, pin + way * to);
            Path::polygon(&[(a, AXIS - half), (b, AXIS - half), (b, AXIS + half), (a, AXIS + half)])
        };
        drawing.path(box_at(-2.5, 5.0, 2.4), LineType::Thick);
        drawing.path(box_at(5.0, 8.0, 1.0), LineType::Thick);
        drawing.path(box_at(8.0, 22.0, 2.0), LineType::Thick);
        drawing.path(box_at(13.0, 17.0, 0.9), LineType::Thin);
        drawing.path(box_at(22.0, 25.0, 1.0), LineType::Thick);
        if let Some(thread) = end.thread {
            let (near, far) = match thread.value {
                ThreadHand::Left => ("LH", "RH"),
                ThreadHand::Right => ("RH", "LH"),
            };
            drawing.text((pin + way * 23.5, AXIS - 3.4), Align::Middle, near);
            drawing.text((pin + way * 6.5, AXIS - 3.4), Align::Middle, far);
        }
        x += way * 25.0;
    }
    if end.thimble.is_some() {
        let radius = 3.4;
        let centre = (x + way * if end.turnbuckle.is_some() { radius } else { 0.0 }, AXIS);
        let tip = centre.0 + way * 10.0;
        // Tangents from the tip to the circle.
        let angle = libm::acos(radius / 10.0);
        let touch = |side: f64| (centre.0 + way * radius * libm::cos(angle), AXIS + side * radius * libm::sin(angle));
        let (from, to) = if way > 0.0 {
            (angle.to_degrees(), 360.0 - angle.to_degrees())
        } else {
            (180.0 + angle.to_degrees(), 540.0 - angle.to_degrees())
        };
        drawing.path(Path::arc(centre, radius, from, to), LineType::Thick);
        for side in [-1.0, 1.0] {
            drawing.path(Path::line(touch(side), (tip, AXIS)), LineType::Thick);
        }
        drawing.path(Path::circle(centre, radius - 1.3), LineType::Thin);
        x = tip;
    }
    if end.sleeve.is_some() {
        for _ in 0..end.sleeves.clamp(1, 3) {
            let (a, b) = (x, x + way * 9.0);
            drawing.marks.push(Mark::Cover(Path::polygon(&[
                (a, AXIS - 2.2),
                (b, AXIS - 2.2),
                (b, AXIS + 2.2),
                (a, AXIS + 2.2),
            ])));
            drawing.path(
                Path::polygon(&[(a, AXIS - 2.2), (b, AXIS - 2.2), (b, AXIS + 2.2), (a, AXIS + 2.2)]),
                LineType::Thick,
            );
            let presses = end.crimps.unwrap_or(0).clamp(0, 6);
            for i in 0..presses {
                let middle = a + way * 9.0 * (i as f64 + 0.5) / presses as f64;
                for off in [-0.5, 0.5] {
                    drawing.path(Path::line((middle + off, AXIS - 2.2), (middle + off, AXIS + 2.2)), LineType::Thin);
                }
            }
            x = b;
        }
        if end.tail.is_some() {
            drawing.path(Path::line((x, AXIS + 1.2), (x + way * 2.0, AXIS + 1.2)), LineType::Thick);
        }
    }
    x
}

/// The run in its order from end A, and where the cable is broken off.
fn guides(drawing: &mut Drawing, run: &CableRun, (left, right): (f64, f64)) {
    let step = (right - left) / (run.run.len() as f64 + 1.0);
    for (i, guide) in run.run.iter().enumerate() {
        let x = left + step * (i as f64 + 1.0);
        match guide.kind {
            GuideKind::Pulley => {
                drawing.path(Path::circle((x, AXIS + 3.5), 3.5), LineType::Thick);
                drawing.path(Path::circle((x, AXIS + 3.5), 0.8), LineType::Thick);
            }
            GuideKind::Fairlead => {
                for y in [AXIS - 2.8, AXIS + 0.8] {
                    drawing.path(Path::rectangle(x - 2.0, y, 4.0, 2.0), LineType::Thick);
                }
            }
        }
        drawing.text((x, AXIS - 4.4), Align::Middle, (i + 1).to_string());
    }
    let x = left + step * 0.5;
    drawing.marks.push(Mark::Cover(Path::rectangle(x - 0.9, AXIS - 1.0, 1.8, 2.0)));
    for x in [x - 0.9, x + 0.9] {
        let points = [(x - 0.8, AXIS + 2.4), (x + 0.3, AXIS + 0.6), (x - 0.3, AXIS - 0.6), (x + 0.8, AXIS - 2.4)];
        drawing.path(Path::through(&points), LineType::Thin);
    }
}

/// An end in words, a line each.
fn end_words(end: &CableEnd) -> Vec<Vec<Word>> {
    let mut lines = Vec::new();
    let held: Vec<_> = end.thimble.iter().chain(&end.sleeve).map(|d| d.value.to_string()).collect();
    if !held.is_empty() {
        lines.push(vec![Word::text(held.join(", "))]);
    }
    if let Some(crimps) = end.crimps {
        let each = if end.sleeves > 1 { format!("{} sleeves, ", end.sleeves) } else { String::new() };
        let presses = if crimps == 1 { "press" } else { "presses" };
        lines.push(vec![Word::text(format!("{each}{crimps} {presses}"))]);
    }
    let mut lengths = Vec::new();
    if let Some(l) = &end.loop_ {
        lengths.extend([Word::text("loop "), Word::Length(l.value)]);
    }
    if let Some(t) = &end.tail {
        lengths.extend([Word::text(if lengths.is_empty() { "tail " } else { ", tail " }), Word::Length(t.value)]);
    }
    if !lengths.is_empty() {
        lines.push(lengths);
    }
    if let Some(t) = &end.turnbuckle {
        lines.push(vec![Word::text(t.value.to_string())]);
    }
    if let Some(r) = end.reach.filter(|r| r.value != Length::ZERO) {
        lines.push(vec![Word::text("pin to thimble "), Word::Length(r.value)]);
    }
    lines
}

fn says(run: &CableRun, units: UnitStyle) -> String {
    let length = |l: Length| plain(&l.pieces(units));
    let mut out = format!("The cable {} as a strip, not to scale: {} from pin to pin.", run.id, length(run.length));
    if let Some(cut) = run.cut_length() {
        out.push_str(&format!(" It is cut to {}.", length(cut)));
    }
    for (letter, end) in ["A", "B"].iter().zip(&run.ends) {
        let Some((end, _)) = end else { continue };
        let words: Vec<_> = end_words(end).iter().map(|w| super::plain_words(w, units)).collect();
        out.push_str(&format!(" End {letter}: {}.", words.join(", ")));
        if let Some(thread) = end.thread {
            out.push_str(&format!(
                " The turnbuckle's end towards the cable has a {}-hand thread, the other the other.",
                thread.value.word()
            ));
        }
    }
    for (i, guide) in run.run.iter().enumerate() {
        out.push_str(&format!(" Place {} is the {} {}.", i + 1, guide.kind.word(), guide.name.value));
    }
    out
}
