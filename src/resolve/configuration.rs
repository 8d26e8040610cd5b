//! Configurations: a variant, an exact set of options and perhaps a serial; which of them are allowed.

use std::collections::BTreeSet;

use super::effectivity::{Facts, holds};
use crate::model::{Deviation, Manual, Settings};
use crate::units::{OptionName, VariantName};

/// What a manual is resolved for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Configuration {
    pub variant: VariantName,
    pub options: BTreeSet<OptionName>,
    pub serial: Option<u32>,
    /// Converted from a kit of this variant; none for a kit that is built as it is.
    pub from: Option<VariantName>,
    /// What is otherwise in one kit than its release says: a kit is its configuration with these.
    pub deviations: Vec<Deviation>,
}

impl Configuration {
    /// A variant with options, as every kit of it is.
    pub fn of(variant: VariantName, options: BTreeSet<OptionName>) -> Self {
        Self { variant, options, serial: None, from: None, deviations: Vec::new() }
    }

    /// The same without what is otherwise in one kit.
    pub fn without_deviations(&self) -> Self {
        Self { deviations: Vec::new(), ..self.clone() }
    }

    /// `ICE`, `ICE+brake`, `kit-0147`: the name of the output folder too. Options in the manual's order.
    pub fn name(&self, settings: &Settings) -> String {
        if let Some(serial) = self.serial {
            return format!("kit-{serial:04}");
        }
        self.plain_name(settings)
    }

    /// The variant and options, whatever the serial.
    pub fn plain_name(&self, settings: &Settings) -> String {
        let mut name = self.variant.to_string();
        for option in settings.options.keys().filter(|o| self.options.contains(*o)) {
            name.push('+');
            name.push_str(option.as_str());
        }
        name
    }

    /// The variant and its options in words: `Ice yacht on runners, with claw brake`.
    pub fn title(&self, settings: &Settings) -> String {
        let variant = settings.variants.get(&self.variant).map_or(self.variant.as_str(), |v| v.title.as_str());
        let options: Vec<_> = settings
            .options
            .iter()
            .filter(|(name, _)| self.options.contains(*name))
            .map(|(_, o)| lower_first(&o.title))
            .collect();
        let title = match &options[..] {
            [] => variant.to_owned(),
            [one] => format!("{variant}, with {one}"),
            [most @ .., last] => format!("{variant}, with {} and {last}", most.join(", ")),
        };
        match self.serial {
            Some(serial) => format!("{title}, serial {serial}"),
            None => title,
        }
    }
}

/// What stands for the serial number in a kit's name: `0147` in `kit-0147`, in the older spelling `kit:0147` too. None where
/// the name is that of a configuration.
pub fn kit_serial(name: &str) -> Option<&str> {
    let number = |rest: &&str| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit());
    name.strip_prefix("kit:").or_else(|| name.strip_prefix("kit-").filter(number))
}

/// A capital at the start of a title becomes small inside a sentence, unless the word is all capitals.
fn lower_first(title: &str) -> String {
    let mut chars = title.chars();
    match (chars.next(), title.chars().nth(1)) {
        (Some(first), Some(second)) if first.is_uppercase() && second.is_lowercase() => {
            first.to_lowercase().chain(chars).collect()
        }
        _ => title.to_owned(),
    }
}

/// Why a set of options can't be carried, in words for the author.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ConfigurationRefusal {
    UnknownVariant(VariantName),
    UnknownOption(OptionName),
    NotForVariant(OptionName),
    Excludes(OptionName, OptionName),
    Requires(OptionName, OptionName),
    /// None of a group of which one is needed, by its title and members.
    NoneOf(String, Vec<OptionName>),
    /// More than one of a group.
    TooManyOf(String, Vec<OptionName>),
}

impl std::fmt::Display for ConfigurationRefusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let list = |names: &[OptionName]| names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ");
        match self {
            Self::UnknownVariant(v) => write!(f, "there is no variant `{v}`"),
            Self::UnknownOption(o) => write!(f, "there is no option `{o}`"),
            Self::NotForVariant(o) => write!(f, "option `{o}` does not go on this variant"),
            Self::Excludes(a, b) => write!(f, "option `{a}` excludes `{b}`"),
            Self::Requires(a, b) => write!(f, "option `{a}` requires `{b}`"),
            Self::NoneOf(title, names) => write!(f, "one of {} is needed ({title})", list(names)),
            Self::TooManyOf(title, names) => write!(f, "only one of {} can be carried ({title})", list(names)),
        }
    }
}

/// A configuration or why it is refused.
pub type Choice = Result<Configuration, ConfigurationRefusal>;

/// Whether `options` go together on `variant`.
///
/// # Errors
/// The first reason why not.
pub fn allowed(
    settings: &Settings,
    variant: &VariantName,
    options: &BTreeSet<OptionName>,
) -> Result<(), ConfigurationRefusal> {
    if !settings.variants.contains_key(variant) {
        return Err(ConfigurationRefusal::UnknownVariant(variant.clone()));
    }
    for name in options {
        let Some(option) = settings.options.get(name) else {
            return Err(ConfigurationRefusal::UnknownOption(name.clone()));
        };
        if !fits(settings, variant, name) {
            return Err(ConfigurationRefusal::NotForVariant(name.clone()));
        }
        if let Some(other) = option.excludes.iter().find(|o| options.contains(&o.value)) {
            return Err(ConfigurationRefusal::Excludes(name.clone(), other.value.clone()));
        }
        if let Some(other) = option.requires.iter().find(|o| !options.contains(&o.value)) {
            return Err(ConfigurationRefusal::Requires(name.clone(), other.value.clone()));
        }
    }
    for group in &settings.groups {
        let possible: Vec<_> =
            group.members.iter().map(|m| m.value.clone()).filter(|m| fits(settings, variant, m)).collect();
        let chosen: Vec<_> = possible.iter().filter(|m| options.contains(*m)).cloned().collect();
        if chosen.len() > 1 {
            return Err(ConfigurationRefusal::TooManyOf(group.title.clone(), chosen));
        }
        if group.required && chosen.is_empty() && !possible.is_empty() {
            return Err(ConfigurationRefusal::NoneOf(group.title.clone(), possible));
        }
    }
    Ok(())
}

/// Whether a variant may carry an option.
fn fits(settings: &Settings, variant: &VariantName, option: &OptionName) -> bool {
    let Some(def) = settings.options.get(option) else { return false };
    let bare = Configuration::of(variant.clone(), BTreeSet::new());
    def.only.as_ref().is_none_or(|only| holds(&only.value, &Facts { settings, configuration: &bare }))
}

/// The declared configurations that are allowed, in order. Those that are not are a rule's business.
pub fn declared(settings: &Settings) -> Vec<Configuration> {
    let mut list = Vec::new();
    for c in &settings.configurations {
        let options: BTreeSet<_> = c.options.iter().map(|o| o.value.clone()).collect();
        if allowed(settings, &c.variant.value, &options).is_ok() {
            let configuration = Configuration::of(c.variant.value.clone(), options);
            if !list.contains(&configuration) {
                list.push(configuration);
            }
        }
    }
    list
}

/// How many configurations are checked one by one.
const MOST: usize = 64;

/// The configurations that `check` goes through: every allowed combination up to 64; beyond that the declared
/// ones, each option alone where that is allowed, and those in the kit register.
pub fn configurations(manual: &Manual) -> Vec<Configuration> {
    let settings = &manual.settings;
    if let Some(all) = every(settings, MOST) {
        return all;
    }
    let mut list = declared(settings);
    for variant in settings.variants.keys() {
        let alone = settings.options.keys().map(|o| BTreeSet::from([o.clone()]));
        for options in std::iter::once(BTreeSet::new()).chain(alone) {
            if allowed(settings, variant, &options).is_ok() {
                list.push(Configuration::of(variant.clone(), options));
            }
        }
    }
    for kit in &manual.kits {
        if let Ok(configuration) = parse_configuration(settings, &kit.configuration.value) {
            list.push(configuration);
        }
    }
    let mut seen = BTreeSet::new();
    list.retain(|c| seen.insert(c.clone()));
    list
}

/// Every allowed combination, or none where there are more than `most` or too many options to try.
fn every(settings: &Settings, most: usize) -> Option<Vec<Configuration>> {
    let mut list = Vec::new();
    for variant in settings.variants.keys() {
        let possible: Vec<_> = settings.options.keys().filter(|o| fits(settings, variant, o)).collect();
        if possible.len() > 12 {
            return None;
        }
        for mask in 0_u32..1 << possible.len() {
            let options: BTreeSet<_> =
                possible.iter().enumerate().filter(|(i, _)| mask >> i & 1 == 1).map(|(_, o)| (*o).clone()).collect();
            if allowed(settings, variant, &options).is_ok() {
                list.push(Configuration::of(variant.clone(), options));
                if list.len() > most {
                    return None;
                }
            }
        }
    }
    Some(list)
}

/// Reads `VARIANT+option+option`, as written on the command line or in the kit register.
///
/// # Errors
/// Why it is no allowed configuration.
pub fn parse_configuration(settings: &Settings, text: &str) -> Choice {
    let mut names = text.split('+').map(str::trim);
    let variant = VariantName::new(names.next().unwrap_or(""));
    let options: BTreeSet<_> = names.map(OptionName::new).collect();
    allowed(settings, &variant, &options)?;
    Ok(Configuration::of(variant, options))
}

/// The configuration that a person means by `ICE` or `SAND+hitch`: an option without which there is none, and of which there is but one
/// to choose, need not be said.
///
/// # Errors
/// As of [`parse_configuration`].
pub fn meant_configuration(settings: &Settings, text: &str) -> Choice {
    let mut text = text.trim().to_owned();
    loop {
        match parse_configuration(settings, &text) {
            Err(ConfigurationRefusal::NoneOf(_, only)) if only.len() == 1 => text = format!("{text}+{}", only[0]),
            choice => return choice,
        }
    }
}
