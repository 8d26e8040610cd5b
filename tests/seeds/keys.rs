//! Mistakes in the values of front matter and of `manual.yaml`, by what the schema says that each key holds.

use std::ops::Range;

use kitwright::model::schema::{Form, Holds, KeyLeaf, Lateral, MANUAL, Named, STEP, Thing, Use, walk};
use kitwright::syntax::{Node, NodeKind};

use super::labels::{Group, is_for_the_compiler, label};
use super::manuals::CleanManual;
use super::seed::{Bed, Seed};
use super::values;

/// In all steps and in the settings.
pub fn seeds(manual: usize, c: &CleanManual) -> Vec<Seed> {
    let mut all = Vec::new();
    for (step, _) in c.steps() {
        let mut bed = Bed::new(manual, c, step.file);
        walk(&step.front, &STEP, &mut |leaf| of_leaf(&mut bed, leaf, Group::of_key(leaf.list)));
        all.append(&mut bed.seeds);
    }
    let settings = &c.manual().front;
    let mut bed = Bed::new(manual, c, settings.span.file);
    walk(settings, &MANUAL, &mut |leaf| of_leaf(&mut bed, leaf, Group::Tables));
    all.append(&mut bed.seeds);
    all
}

fn of_leaf(bed: &mut Bed, leaf: &KeyLeaf, group: Group) {
    if is_for_the_compiler(leaf.list) {
        return;
    }
    // The item that it stands in; at the top its own line.
    let item = leaf.within.get(1).map_or(leaf.span.range(), |node| node.span.range());
    let label = label(leaf);
    let quoted = bed.text[..leaf.span.range().start].ends_with(['"', '\'']);
    let slot = Slot {
        at: leaf.span.range(),
        item: item.clone(),
        label: &label,
        group,
        text: leaf.text,
        written: Written::Yaml { quoted },
    };
    slot.seed(bed, leaf.holds, &leaf.names());
    if let Holds::Away(lateral) = leaf.holds {
        let (other, turned) = match (lateral, leaf.key.name) {
            (Lateral::Left, _) => ("right", Group::Hands),
            (Lateral::Right, _) => ("left", Group::Hands),
            (_, "forward") => ("aft", group),
            (_, "aft") => ("forward", group),
            (_, "up") => ("down", group),
            _ => ("up", group),
        };
        if let Some(key) = leaf.within.last().and_then(|node| key_range(node, leaf.key.name)) {
            bed.put(turned, format!("{label}: to the other side"), item, key, other);
        }
    }
}

fn key_range(node: &Node, name: &str) -> Option<Range<usize>> {
    let NodeKind::Mapping(entries) = &node.kind else { return None };
    entries.iter().find(|(key, _)| key.value == name).map(|(key, _)| key.span.range())
}

/// How a value is written where it stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Written {
    Yaml { quoted: bool },
    Cell { quoted: bool },
}

/// A value in its place.
pub struct Slot<'a> {
    pub at: Range<usize>,
    pub item: Range<usize>,
    pub label: &'a str,
    pub group: Group,
    pub text: &'a str,
    pub written: Written,
}

impl Slot<'_> {
    /// Puts all mistakes in its place that can be made with what it holds.
    pub fn seed(&self, bed: &mut Bed, holds: Holds, names: &[Named]) {
        for named in names {
            self.name(bed, named);
        }
        let text = self.text;
        let manual_unit = match bed.c.manual().settings.units {
            kitwright::units::UnitStyle::Millimetre => "mm",
            _ => "in",
        };
        let mut dice = bed.dice(self.at.start, self.label);
        let bare = if matches!(holds, Holds::Length | Holds::Away(_) | Holds::Offset | Holds::Measure) {
            manual_unit
        } else {
            ""
        };
        match holds {
            Holds::Counted(..) => {
                let count = names.first().and_then(|n| n.count);
                self.count(bed, count);
            }
            Holds::Condition => self.condition(bed),
            Holds::Words => self.words(bed),
            Holds::Plain | Holds::Supplied | Holds::Drill | Holds::WireSize | Holds::FaceUp | Holds::OtherFaceUp => {
                self.anothers(bed, self.group);
            }
            Holds::Word(all) => {
                let others: Vec<&str> = all.iter().copied().filter(|w| !w.eq_ignore_ascii_case(text)).collect();
                let group = if all.contains(&"left") { Group::Hands } else { self.group };
                self.put(bed, group, "another word", dice.pick::<&str>(&others));
            }
            Holds::YesNo => {
                let turned = if matches!(text, "yes" | "true") { "no" } else { "yes" };
                self.put(bed, self.group, "turned", turned);
            }
            Holds::Hand => {
                let turned = if text == "left" { "right" } else { "left" };
                self.put(bed, Group::Hands, "turned", turned);
            }
            Holds::Clock => {
                self.maybe(bed, self.group, "the other side of the clock", values::across_the_clock(text));
                self.maybe(bed, Group::Hands, "seen from the other end", values::mirrored_clock(text));
            }
            Holds::Length | Holds::Away(_) | Holds::Offset | Holds::Measure | Holds::Torque | Holds::Quantity => {
                self.maybe(bed, self.group, "ten times", values::ten_times(text));
                self.maybe(bed, self.group, "another unit", values::other_unit(text, bare, 0));
                self.maybe(bed, self.group, "a digit", values::digit(text, 0));
            }
            Holds::Angle => {
                self.maybe(bed, self.group, "the complement", values::complement(text));
                self.maybe(bed, self.group, "a digit", values::digit(text, 0));
            }
            Holds::Weight | Holds::Number | Holds::Spare => {
                self.maybe(bed, self.group, "ten times", values::ten_times(text));
                self.maybe(bed, self.group, "a digit", values::digit(text, 0));
            }
            Holds::Period | Holds::Temperature => {
                self.maybe(bed, self.group, "ten times", values::ten_times(text));
                self.maybe(bed, self.group, "another unit", values::other_unit(text, "", 0));
            }
            Holds::Count => self.count(bed, Some(text)),
            Holds::Point => {
                let mirrored = values::value(text).map(|v| values::typed(100.0 - v));
                self.maybe(bed, self.group, "on the other side of the picture", mirrored);
            }
            Holds::Name(..)
            | Holds::NameOr(..)
            | Holds::Configuration(_)
            | Holds::Colour
            | Holds::Date
            | Holds::Crop
            | Holds::File
            | Holds::Items(_)
            | Holds::Group(_)
            | Holds::Entries(..) => {}
        }
    }

    fn name(&self, bed: &mut Bed, named: &Named) {
        // Where a thing gets its name: another name is that of another thing.
        if named.how == Use::Named {
            return;
        }
        let at = named.span.range();
        let mut dice = bed.dice(at.start, self.label);
        let kind = |what: &str| format!("{}: {what}", self.label);
        if let Some(other) = bed.another(named.thing, named.name, &mut dice) {
            bed.put(self.group, kind("another"), self.item.clone(), at.clone(), other);
        }
        if let Some(other) = bed.c.opposite(named.name) {
            bed.put(Group::Hands, kind("of the other hand"), self.item.clone(), at.clone(), other);
        }
        if let Some(other) = values::mistyped(named.name).filter(|n| !bed.c.names(named.thing).contains(n)) {
            bed.put(self.group, format!("a {} mistyped", named.thing.word()), self.item.clone(), at, other);
        }
    }

    /// A count alone, or before a name; where none is written it is one.
    fn count(&self, bed: &mut Bed, count: Option<&str>) {
        match count {
            Some(count) => {
                let Some(start) = bed.text[self.at.clone()].find(count).map(|i| self.at.start + i) else { return };
                let at = start..start + count.len();
                for (less, what) in [(false, "one more"), (true, "one less")] {
                    if let Some(new) = values::by_one(count, less) {
                        bed.put(self.group, format!("{}: {what}", self.label), self.item.clone(), at.clone(), new);
                    }
                }
                if let (Some(new), false) = (values::ten_times(count), count.parse::<u32>().is_ok()) {
                    bed.put(self.group, format!("{}: ten times", self.label), self.item.clone(), at, new);
                }
            }
            None => self.put(bed, self.group, "one more", &format!("2 x {}", self.text)),
        }
    }

    fn condition(&self, bed: &mut Bed) {
        let variants = bed.c.names(Thing::Variant).to_vec();
        let text = self.text;
        let missing: Vec<&String> = variants.iter().filter(|v| !values::words(text, v).any(|_| true)).collect();
        let mut dice = bed.dice(self.at.start, self.label);
        let kind = |what: &str| format!("{}: {what}", condition_label(self.label));
        let mut put = |what: &str, new: String| {
            bed.put(Group::Conditions, kind(what), self.item.clone(), self.at.clone(), new);
        };
        if let Some(other) = (!missing.is_empty()).then(|| *dice.pick(&missing)) {
            put("another variant", other.clone());
            put("a variant more", format!("{text} or {other}"));
        }
        if let Some((first, _)) = text.split_once(" or ") {
            put("a variant less", first.to_owned());
        }
        put("turned", format!("not ({text})"));
    }

    fn words(&self, bed: &mut Bed) {
        let text_group = if self.group == Group::Figures || self.group == Group::Measures || self.group == Group::Tables
        {
            self.group
        } else {
            Group::Text
        };
        let raw = bed.text[self.at.clone()].to_owned();
        let which = bed.dice(self.at.start, self.label).below(12);
        self.anothers(bed, text_group);
        let mut slip = |what: &str, group: Group, new: Option<String>| {
            if let Some(new) = new {
                bed.put(group, format!("{}: {what}", self.label), self.item.clone(), self.at.clone(), new);
            }
        };
        slip("left for right", Group::Hands, values::turned(&raw, &values::SIDES, true, which));
        slip("another direction", text_group, values::turned(&raw, &values::DIRECTIONS, true, which));
        slip("a digit", text_group, values::digit(&raw, which));
        slip("a sentence out", text_group, values::sentence_out(&raw, which));
        slip("a not less or more", text_group, values::not_out(&raw));
    }

    /// What stands under the same key elsewhere.
    fn anothers(&self, bed: &mut Bed, group: Group) {
        let all = bed.c.values.get(self.label).map_or(&[][..], Vec::as_slice);
        let others: Vec<&String> = all.iter().filter(|v| *v != self.text).collect();
        if !others.is_empty() {
            let other = (*bed.dice(self.at.start, self.label).pick(&others)).clone();
            self.put(bed, group, "another's", &other);
        }
    }

    fn maybe(&self, bed: &mut Bed, group: Group, what: &str, new: Option<String>) {
        if let Some(new) = new {
            self.put(bed, group, what, &new);
        }
    }

    /// Replaces the whole value.
    fn put(&self, bed: &mut Bed, group: Group, what: &str, new: &str) {
        let new = self.as_written(&bed.text[self.at.clone()], new);
        bed.put(group, format!("{}: {what}", self.label), self.item.clone(), self.at.clone(), new);
    }

    fn as_written(&self, raw: &str, new: &str) -> String {
        let plain = new.replace('"', "'");
        match self.written {
            // A text over several lines that is quoted or folded begins with its mark.
            Written::Yaml { quoted: false } if raw.starts_with(['"', '\'', '>', '|']) => format!("\"{plain}\""),
            Written::Yaml { quoted: false } if is_unsafe(&plain) => format!("\"{plain}\""),
            Written::Cell { quoted: false } if plain.contains(',') => format!("\"{plain}\""),
            Written::Yaml { quoted: true } => plain.replace('\\', "/").replace('\'', ""),
            _ => plain,
        }
    }
}

/// Whether a text means something else in YAML where it is not quoted.
fn is_unsafe(text: &str) -> bool {
    let marks = [": ", " #", ",", "[", "]", "{", "}"];
    marks.iter().any(|m| text.contains(m))
        || text.starts_with(['#', '&', '*', '!', '|', '>', '\'', '"', '%', '@', '`', '-', '?'])
        || text.ends_with(':')
}

/// Conditions of all items of a list are one kind, that of a whole step another.
fn condition_label(label: &str) -> String {
    if label == "only" { "only of a step".to_owned() } else { format!("only of {}", label.trim_end_matches(" only")) }
}

/// Whether an item without this key still says what it must.
pub fn is_needed(form: &Form, name: &str) -> bool {
    form.needs.iter().any(|any| any.contains(&name))
}
