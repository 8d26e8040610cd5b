//! `manual.yaml`.

use indexmap::IndexMap;

use super::fields::{Fields, scalar, share, value};
use crate::diag::{Diagnostic, Level, Sink, did_you_mean};
use crate::model::HardwareKind;
use crate::model::manual::Accept;
use crate::model::schema::MANUAL;
use crate::model::settings::*;
use crate::source::{FileId, Span, Spanned};
use crate::syntax::Node;
use crate::trade::SlideLimits;
use crate::units::{
    ConsumableId, FigureName, Length, OptionName, Paper, Rational, SectionId, StepStart, ToolId, UnitStyle,
    UnreadableNumber, VariantName,
};

/// The settings, and the acceptances that stand in `manual.yaml`.
pub(super) fn settings(node: &Node, sink: &mut Sink) -> (Settings, Vec<Accept>) {
    let f = Fields::new(node, &MANUAL, sink);
    let title = f.required("title", "manual.yaml", "add `title: ` and the name of the product", sink);
    let plain = |name, sink: &mut Sink| f.text(name, sink).map_or_else(String::new, |t| t.value);
    let settings = Settings {
        title: title.map_or_else(String::new, |t| t.value),
        subtitle: plain("subtitle", sink),
        maker: plain("maker", sink),
        number: plain("number", sink),
        language: f.text("language", sink).map_or_else(|| "en".to_owned(), |t| t.value),
        variants: variants(&f, sink),
        options: options(&f, sink),
        groups: groups(&f, sink),
        configurations: configurations(&f, sink),
        serial: f.text("serial", sink).and_then(|t| serial(&t, sink)),
        sections: sections(&f, sink),
        units: choice(&f, "units", UNITS, sink),
        paper: choice(&f, "paper", PAPERS, sink),
        paper_thickness: f.length("paper-thickness", sink).map_or(Length::millimetres(1, 10), |l| l.value),
        side_words: f
            .pairs("side-words", sink)
            .iter()
            .filter_map(|(word, node)| Some((word.value.clone(), scalar(node, &word.value, sink)?.value)))
            .collect(),
        opposite_keep: f.texts("opposite-keep", sink).into_iter().map(|t| t.value).collect(),
        everyday_words: f
            .pairs("everyday-words", sink)
            .iter()
            .filter_map(|(word, node)| Some((word.value.clone(), scalar(node, &word.value, sink)?.value)))
            .collect(),
        step_start: choice(&f, "step-start", STEP_STARTS, sink),
        duplex: f.yes_no("duplex", sink).is_some_and(|yes| yes.value),
        hatching: f.yes_no("hatching", sink).is_none_or(|yes| yes.value),
        hand_suffixes: suffixes(&f, sink),
        fastening: super::fastening::fastening(&f, sink),
        joint_kinds: super::joint_kinds::joint_kinds(&f, sink),
        kerf: f.length("kerf", sink).map_or(Length::ZERO, |l| l.value),
        datums: named(&f, "datums", sink).into_iter().collect(),
        bending: bending(&f, sink),
        telescoping: telescoping(&f, sink),
        finish_thickness: f
            .pairs("finish-thickness", sink)
            .iter()
            .filter_map(|(finish, node)| {
                let text = scalar(node, &finish.value, sink)?;
                Some((finish.value.clone(), value(&text, super::fields::LENGTH, Length::parse, sink)?))
            })
            .collect(),
        spares: f
            .pairs("spares", sink)
            .iter()
            .filter_map(|(name, node)| {
                let kind = HardwareKind::from_word(&name.value);
                if kind.is_none() {
                    let words: Vec<_> = HardwareKind::ALL.iter().map(|k| k.word()).collect();
                    super::parts::unknown_word(name, "spares", &words, sink);
                }
                let text = scalar(node, &name.value, sink)?;
                let form = "write a percentage, or a least number, or both: `5 %, at least 2`";
                Some((kind?, value(&text, form, spare, sink)?))
            })
            .collect(),
        spares_bag: f.text("spares-bag", sink).map_or_else(String::new, |t| t.value),
        signal_words: choice(&f, "signal-words", WORDS, sink),
        tools: named(&f, "tools", sink).into_iter().map(|(k, v)| (ToolId::new(k), v)).collect(),
        consumables: named(&f, "consumables", sink).into_iter().map(|(k, v)| (ConsumableId::new(k), v)).collect(),
        adhesives: super::adhesives::adhesives(&f, sink),
        accent: accent(&f, sink),
        font: f.group("fonts", sink).and_then(|fonts| fonts.text("body", sink)),
        stick_size: stick_size(&f, sink),
        levels: levels(&f, sink),
    };
    let accepts = accepts(&f, None, sink);
    (settings, accepts)
}

/// `5 %`, `at least 2`, `5 %, at least 2`.
fn spare(text: &str) -> Result<Spare, UnreadableNumber> {
    let (share_text, least) = match text.split_once("at least") {
        Some((share, least)) => (share.trim().trim_end_matches(','), Some(least.trim())),
        None => (text, None),
    };
    let unreadable = || UnreadableNumber(format!("`{}` is no number of spares", text.trim()));
    let nothing = Rational::from_integer(0);
    let share = if share_text.is_empty() && least.is_some() { nothing } else { share(share_text)? };
    let least = least.map_or(Ok(0), |n| n.parse::<u32>().map(i64::from).map_err(|_| unreadable()))?;
    if share < nothing || share > Rational::from_integer(10) || least > 100_000 {
        return Err(unreadable());
    }
    Ok(Spare { share, least })
}

fn bending(f: &Fields, sink: &mut Sink) -> NeutralAxis {
    let Some(f) = f.group("bending", sink) else { return NeutralAxis::default() };
    let part = |name, usual: crate::units::Rational, sink: &mut Sink| {
        let form = "write a part of the thickness, for example `0.4475`";
        let Some(read) = f.value(name, form, Length::parse, sink) else { return usual };
        let part = read.value.as_inches();
        if part > crate::units::Rational::from_integer(0) && part < crate::units::Rational::from_integer(1) {
            return part;
        }
        sink.push(
            Diagnostic::error("unreadable-value", format!("`{name}` is not between 0 and 1"))
                .at(read.span, "no part of the thickness")
                .help(form.to_owned()),
        );
        usual
    };
    let usual = NeutralAxis::default();
    NeutralAxis { sheet: part("sheet", usual.sheet, sink), tube: part("tube", usual.tube, sink) }
}

fn telescoping(f: &Fields, sink: &mut Sink) -> SlideLimits {
    let usual = SlideLimits::default();
    let Some(f) = f.group("telescoping", sink) else { return usual };
    let limit = |name, usual: Length, sink: &mut Sink| f.length(name, sink).map_or(usual, |l| l.value);
    SlideLimits { tight: limit("tight", usual.tight, sink), loose: limit("loose", usual.loose, sink) }
}

const UNITS: &[(&str, UnitStyle)] = &[
    ("inch-fraction", UnitStyle::InchFraction),
    ("inch-decimal", UnitStyle::InchDecimal),
    ("mm", UnitStyle::Millimetre),
    ("both", UnitStyle::Both),
];
const PAPERS: &[(&str, Paper)] = &[("letter", Paper::Letter), ("a4", Paper::A4)];
const STEP_STARTS: &[(&str, StepStart)] =
    &[("where-it-fits", StepStart::WhereItFits), ("new-page", StepStart::NewPage)];
const WORDS: &[(&str, SignalWords)] = &[("ansi", SignalWords::Ansi), ("aviation", SignalWords::Aviation)];

fn choice<T: Copy + Default>(f: &Fields, name: &str, words: &[(&'static str, T)], sink: &mut Sink) -> T {
    f.word(name, words, |w| w.0, sink).map_or_else(T::default, |w| w.value.1)
}

/// `accept` of a file. `in_file` limits it to findings in that file.
pub(super) fn accepts(f: &Fields, in_file: Option<FileId>, sink: &mut Sink) -> Vec<Accept> {
    let mut accepts = Vec::new();
    for a in f.groups("accept", sink) {
        let rule = a.required("rule", "this acceptance", "write the rule's id, as the finding shows it", sink);
        let help = "write `reason:` and why this is right as it is";
        let reason = a.required("reason", "this acceptance", help, sink);
        let about = a.text("about", sink);
        if let (Some(rule), Some(reason)) = (rule, reason) {
            accepts.push(Accept { rule, about, reason: reason.value, span: a.span, in_file });
        }
    }
    accepts
}

fn variants(f: &Fields, sink: &mut Sink) -> IndexMap<VariantName, VariantDef> {
    let mut variants = IndexMap::new();
    for (name, node) in f.pairs("variants", sink) {
        folder_name(name, "a variant", sink);
        let v = f.entry("variants", node, sink);
        let id = VariantName::new(&name.value);
        let def = VariantDef {
            name: Spanned::new(id.clone(), name.span),
            title: v.text("title", sink).map_or_else(|| name.value.clone(), |t| t.value),
            based_on: v.text("based-on", sink).map(|t| t.map(VariantName::new)),
            inherits_conditions: v.yes_no("inherits-conditions", sink),
            supported_only: v.yes_no("supported-only", sink).is_some_and(|y| y.value),
            figure: v.text("figure", sink).map(|t| t.map(FigureName::new)),
            alt: v.text("alt", sink),
        };
        variants.insert(id, def);
    }
    if variants.is_empty() {
        sink.push(
            Diagnostic::error("missing-key", "manual.yaml names no variant")
                .at(f.head(), "`variants` is missing here")
                .help("add `variants:` with one line for each model, for example `BASIC: { title: Basic model }`"),
        );
    }
    for def in variants.values() {
        let Some(base) = &def.based_on else { continue };
        if !variants.contains_key(&base.value) {
            let near = crate::diag::nearest(base.as_str(), variants.keys().map(VariantName::as_str));
            sink.push(
                Diagnostic::error("unknown-variant", format!("unknown variant `{}`", base.value))
                    .at(base.span, "there is no such variant")
                    .help(near.map_or_else(|| "name a variant of this manual".to_owned(), did_you_mean))
                    .about(&base.value),
            );
        } else if circle(&variants, &def.name.value) {
            sink.push(
                Diagnostic::error("variant-circle", format!("variant `{}` is based on itself", def.name.value))
                    .at(base.span, "this leads back to it")
                    .help("base each variant on one that does not lead back")
                    .about(&def.name.value),
            );
        }
    }
    variants
}

/// Names of variants and options make the names of output folders, and stand in conditions.
fn folder_name(name: &Spanned<String>, kind: &str, sink: &mut Sink) {
    if is_usable_name(&name.value) {
        return;
    }
    sink.push(
        Diagnostic::error("unusable-name", format!("`{}` can't name {kind}", name.value))
            .at(name.span, "names a folder of the output and stands in conditions")
            .help(USABLE_NAME)
            .about(&name.value),
    );
}

fn circle(variants: &IndexMap<VariantName, VariantDef>, start: &VariantName) -> bool {
    let mut at = start;
    for _ in 0..=variants.len() {
        match variants.get(at).and_then(|v| v.based_on.as_ref()) {
            Some(base) if base.value == *start => return true,
            Some(base) => at = &base.value,
            None => return false,
        }
    }
    false
}

fn options(f: &Fields, sink: &mut Sink) -> IndexMap<OptionName, OptionDef> {
    let mut options = IndexMap::new();
    for (name, node) in f.pairs("options", sink) {
        folder_name(name, "an option", sink);
        let o = f.entry("options", node, sink);
        let id = OptionName::new(&name.value);
        let names = |key, sink: &mut Sink| o.texts(key, sink).into_iter().map(|t| t.map(OptionName::new)).collect();
        let def = OptionDef {
            name: Spanned::new(id.clone(), name.span),
            title: o.text("title", sink).map_or_else(|| name.value.clone(), |t| t.value),
            only: o.only(sink),
            excludes: names("excludes", sink),
            requires: names("requires", sink),
        };
        options.insert(id, def);
    }
    options
}

fn groups(f: &Fields, sink: &mut Sink) -> Vec<OptionGroup> {
    let mut groups = Vec::new();
    for g in f.groups("option-groups", sink) {
        let required = g.get("one-of").is_some();
        let names = if required { "one-of" } else { "at-most-one-of" };
        groups.push(OptionGroup {
            title: g.text("title", sink).map_or_else(String::new, |t| t.value),
            members: g.texts(names, sink).into_iter().map(|t| t.map(OptionName::new)).collect(),
            required,
        });
    }
    groups
}

fn configurations(f: &Fields, sink: &mut Sink) -> Vec<Configured> {
    f.texts("configurations", sink).into_iter().map(|text| configured(&text)).collect()
}

/// Splits `ICE+brake+tow`.
pub(super) fn configured(text: &Spanned<String>) -> Configured {
    let mut start = text.span.start;
    let mut names = text.value.split('+').map(|name| {
        let lead = (name.len() - name.trim_start().len()) as u32;
        let span = Span { start: start + lead, end: start + lead + name.trim().len() as u32, ..text.span };
        start += name.len() as u32 + 1;
        Spanned::new(name.trim(), span)
    });
    let variant =
        names.next().map_or_else(|| Spanned::new(VariantName::new(""), text.span), |n| n.map(VariantName::new));
    Configured { variant, options: names.map(|n| n.map(OptionName::new)).collect() }
}

fn sections(f: &Fields, sink: &mut Sink) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    for s in f.groups("sections", sink) {
        let help = "write `section:` and a short id, for example `section: frame`";
        let Some(id) = s.required("section", "this section", help, sink) else { continue };
        if let Some(first) = sections.iter().find(|other| other.id.as_str() == id.value) {
            sink.push(
                Diagnostic::error("duplicate-id", format!("section `{}` is there twice", id.value))
                    .at(id.span, "the second one")
                    .note(first.id.span, "the first one")
                    .help("give each section an id of its own")
                    .about(&id.value),
            );
            continue;
        }
        let title = s.text("title", sink).map_or_else(|| id.value.clone(), |t| t.value);
        let intro = s.text("intro", sink).map(|t| t.value);
        let hands = s.word("hands", &[("together", false), ("apart", true)], |w| w.0, sink);
        sections.push(Section {
            id: id.map(SectionId::new),
            title,
            intro,
            hands_apart: hands.is_some_and(|h| h.value.1),
        });
    }
    if sections.is_empty() {
        sink.push(
            Diagnostic::error("missing-key", "manual.yaml names no section")
                .at(f.head(), "`sections` is missing here")
                .help("add `sections:` in build order, for example `- { section: frame, title: Frame }`"),
        );
    }
    sections
}

fn suffixes(f: &Fields, sink: &mut Sink) -> Option<(String, String)> {
    let s = f.group("hand-suffixes", sink)?;
    Some((s.text("left", sink)?.value, s.text("right", sink)?.value))
}

/// `id: title` pairs.
fn named(f: &Fields, name: &str, sink: &mut Sink) -> Vec<(String, Spanned<String>)> {
    f.pairs(name, sink)
        .iter()
        .filter_map(|(id, node)| Some((id.value.clone(), Spanned::new(scalar(node, &id.value, sink)?.value, id.span))))
        .collect()
}

/// A quiet blue-green that prints well in grey.
const ACCENT: u32 = 0x1F_5F_6B;

fn accent(f: &Fields, sink: &mut Sink) -> u32 {
    let Some(text) = f.group("colours", sink).and_then(|c| c.text("accent", sink)) else { return ACCENT };
    let digits = text.value.strip_prefix('#').filter(|d| d.len() == 6);
    let colour = digits.and_then(|d| u32::from_str_radix(d, 16).ok());
    colour.unwrap_or_else(|| {
        sink.push(
            Diagnostic::error("unreadable-value", format!("`{}` is not a colour", text.value))
                .at(text.span, "can't be read")
                .help("write six hexadecimal digits in quotes, for example \"#1f5f6b\""),
        );
        ACCENT
    })
}

fn levels(f: &Fields, sink: &mut Sink) -> std::collections::BTreeMap<String, Spanned<Option<Level>>> {
    let level = |word: &str| match word {
        "off" => Some(None),
        _ => Level::ALL.into_iter().find(|l| l.word() == word).map(Some),
    };
    let mut levels = std::collections::BTreeMap::new();
    for (rule, node) in f.pairs("levels", sink) {
        let Some(text) = scalar(node, &rule.value, sink) else { continue };
        match level(&text.value) {
            Some(level) => {
                levels.insert(rule.value.clone(), Spanned::new(level, rule.span));
            }
            None => sink.push(
                Diagnostic::error("unknown-word", format!("`{}` is no level", text.value))
                    .at(text.span, "not one of the words")
                    .help("write one of: error, warning, hint, question, off"),
            ),
        }
    }
    levels
}

/// 1 GB, which the smallest stick still sold holds many times.
const STICK_SIZE: u64 = 1000;

fn stick_size(f: &Fields, sink: &mut Sink) -> u64 {
    let Some(text) = f.text("stick-size", sink) else { return STICK_SIZE };
    match text.value.trim().trim_end_matches("MB").trim().parse::<u64>() {
        Ok(size) if (1..=1_000_000).contains(&size) => size,
        _ => {
            sink.push(
                Diagnostic::error("unreadable-value", format!("`{}` is not a size in MB", text.value))
                    .at(text.span, "here")
                    .help("write a whole number of megabytes, for example `stick-size: 1000`"),
            );
            STICK_SIZE
        }
    }
}

pub(super) fn serial(text: &Spanned<String>, sink: &mut Sink) -> Option<u32> {
    let digits = text.value.trim();
    let value = (!digits.is_empty() && digits.len() <= 9).then(|| digits.parse().ok()).flatten();
    if value.is_none() {
        sink.push(
            Diagnostic::error("unreadable-value", format!("`{}` is not a serial number", text.value))
                .at(text.span, "can't be read")
                .help("write a whole number of at most nine digits"),
        );
    }
    value
}
