//! Pages made from the code: help, man pages, completions, rules.

use std::process::Stdio;

use clap::CommandFactory as _;

use super::Desk;

/// Every command, as the program itself has them.
fn commands() -> Vec<String> {
    kitwright::cli::Typed::command().get_subcommands().map(|c| c.get_name().to_owned()).collect()
}

/// The commands that a help lacks.
fn lacking(help: &str, commands: &[String]) -> Vec<String> {
    let listed = |name: &String| help.lines().any(|l| l.split_whitespace().next() == Some(name));
    commands.iter().filter(|name| !listed(name)).cloned().collect()
}

#[test]
fn help_names_every_command_and_exit_code() {
    let desk = Desk::empty();
    let help = desk.run(&["--help"]).ends(0).out;
    let commands = commands();
    assert!(commands.len() >= 17, "{commands:?}");
    assert_eq!(lacking(&help, &commands), [""; 0]);
    for command in commands {
        let own = desk.run(&[&command, "--help"]).ends(0).out;
        assert!(own.contains(&format!("Usage: kitwright {command}")), "{own}");
    }
    assert!(
        help.contains("0 no errors") && help.contains("1 errors in the manual") && help.contains("2 could not run")
    );
}

#[test]
fn a_command_that_the_help_lacks_is_found() {
    let help = "Commands:\n  check    Checks, as compile does\n  checks   No such\n";
    let names = ["check", "compile"].map(str::to_owned);
    assert_eq!(lacking(help, &names), ["compile"]);
}

/// roff of groff(7): a page has a title line and the sections NAME and SYNOPSIS (man-pages(7)).
#[test]
fn there_is_a_man_page_for_the_program_and_each_command() {
    let desk = Desk::empty();
    let page = desk.run(&["man"]).ends(0).out;
    for line in [".TH kitwright 1", ".SH NAME", ".SH SYNOPSIS", ".SH OPTIONS"] {
        assert!(page.lines().any(|l| l.starts_with(line)), "{line}");
    }
    for command in commands() {
        let page = desk.run(&["man", &command]).ends(0).out;
        assert!(page.contains(&format!(".TH kitwright-{command} 1")), "{command}: {page}");
    }
}

/// bash itself must be able to read them.
#[test]
fn completions_can_be_read_by_the_shell() {
    let desk = Desk::empty();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let text = desk.run(&["completions", shell]).ends(0).out;
        assert!(text.contains("configuration"), "{shell}");
    }
    let text = desk.run(&["completions", "bash"]).out;
    desk.write("completions.bash", &text);
    let bash =
        std::process::Command::new("bash").arg("-n").arg(desk.path("completions.bash")).stdout(Stdio::null()).status();
    match bash {
        Ok(status) => assert!(status.success()),
        Err(error) => eprintln!("left out: bash can't be run: {error}"),
    }
}

#[test]
fn every_rule_has_a_page() {
    let desk = Desk::empty();
    let list = desk.run(&["rules"]).ends(0).out;
    let ids: Vec<_> = list.lines().filter_map(|l| l.split_whitespace().next()).collect();
    assert!(ids.len() >= 30, "{list}");
    for id in ids {
        let page = desk.run(&["rules", id]).ends(0).out;
        assert!(page.contains(id) && page.lines().count() > 5, "{id}: {page}");
    }
}
