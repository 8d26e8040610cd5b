//! Pages that come from the code itself: rules, completions, man pages.

use clap::CommandFactory as _;

use super::failure::Failure;
use super::place::aligned;
use super::typed::Typed;
use crate::check::{self, RULES, Rule};
use crate::diag::{did_you_mean, nearest};

/// Completions for a shell.
pub(super) fn completions(shell: clap_complete::Shell) -> String {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Typed::command(), "kitwright", &mut text);
    String::from_utf8_lossy(&text).into_owned()
}

/// The man page of the program, or of one of its commands.
///
/// # Errors
/// There is no such command.
pub(super) fn man(name: Option<&str>) -> Result<String, Failure> {
    let mut whole = Typed::command();
    whole.build();
    let command = match name {
        None => whole,
        Some(name) => match whole.get_subcommands().find(|c| c.get_name() == name) {
            Some(command) => command.clone(),
            None => {
                let names: Vec<_> = whole.get_subcommands().map(clap::Command::get_name).collect();
                let help = match nearest(name, names.iter().copied()) {
                    Some(near) => did_you_mean(near),
                    None => format!("name one of: {}", names.join(", ")),
                };
                return Err(Failure::new(format!("there is no command `{name}`"), help));
            }
        },
    };
    let mut text = Vec::new();
    clap_mangen::Man::new(command)
        .render(&mut text)
        .map_err(|e| Failure::new(format!("the page can't be made: {e}"), "report this"))?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}

/// The reference of all keys and columns, or of those of one file, list or group.
///
/// # Errors
/// There is nothing of that name.
pub(super) fn keys(name: Option<&str>) -> Result<String, Failure> {
    let all = crate::model::reference_sections();
    let Some(name) = name else { return Ok(all.into_iter().map(|(_, text)| text).collect()) };
    let found: String =
        all.iter().filter(|(names, _)| names.iter().any(|n| n == name)).map(|(_, t)| t.as_str()).collect();
    if !found.is_empty() {
        return Ok(found);
    }
    let known = all.iter().flat_map(|(names, _)| names).map(String::as_str);
    let help = match nearest(name, known) {
        Some(near) => did_you_mean(near),
        None => {
            "name a file, a list or a group, for example step, cuts, parts.csv or fastening; `kitwright keys` lists all"
                .to_owned()
        }
    };
    Err(Failure::new(format!("there are no keys of `{name}`"), help))
}

/// A line for each rule: its id, its level, what it finds.
pub(super) fn rules() -> String {
    let row = |r: &Rule| vec![r.id.to_owned(), r.level.word().to_owned(), r.summary.to_owned()];
    aligned(&RULES.iter().map(row).collect::<Vec<_>>())
}

/// A rule's page.
///
/// # Errors
/// There is no such rule.
pub(super) fn rule(name: &str) -> Result<String, Failure> {
    check::rule(name).map(|rule| check::reference::page(rule, 1)).ok_or_else(|| {
        let help = match nearest(name, RULES.iter().map(|r| r.id)) {
            Some(near) => did_you_mean(near),
            None => "`kitwright rules` lists them".to_owned(),
        };
        Failure::new(format!("there is no rule `{name}`"), help)
    })
}
