//! A link in the text whose destination is of no known kind.
//!
//! It matters because a page opened from a stick has nothing beside it but the manual: a link to a file, or with a
//! kind that is misspelt, leads nowhere.
//!
//! Wrong: `[bracket](prt:KW-103-L)`, `[plan](plan.pdf)`. Right: `[bracket](part:KW-103-L)`. The kinds are part,
//! hardware, step, figure, tool and consumable; in a step also joint, hole, cut, bend, cable, bond, wire and measure, and for
//! a value torque, drill, length, angle, count and target, each of the step itself. `https:`, `http:`, `mailto:` and `tel:` lead outside and are kept.
//!
//! It can't be accepted.

use super::outside_folder;
use crate::check::prose;
use crate::check::{Context, Leave, Rule, Run};
use crate::diag::{Level, Sink};
use crate::diag::{did_you_mean, nearest};
use crate::model::OwnLink;

pub const RULE: Rule = Rule {
    id: "unknown-link",
    level: Level::Error,
    summary: "a link in the text that leads to nothing the manual has",
    source: "common practice",
    bending: Leave::Refused,
    file: include_str!("unknown_link.rs"),
    run: Run::Manual(run),
};

const KINDS: [&str; 6] = ["part", "hardware", "step", "figure", "tool", "consumable"];
const OUTSIDE: [&str; 4] = ["https", "http", "mailto", "tel"];

fn run(ctx: &Context) -> Sink {
    let steps = ctx.manual.steps.iter().map(|s| (&s.body, true));
    let pages = ctx.manual.pages.iter().map(|p| (&p.body, false));
    let mut sink = Sink::new();
    let links = steps.chain(pages).flat_map(|(body, step)| prose::links(body).into_iter().map(move |to| (to, step)));
    for (to, in_step) in links {
        let scheme = to.value.split_once(':').map_or("", |(scheme, _)| scheme);
        let own = in_step && OwnLink::of(&to.value).is_some();
        let known = own || KINDS.contains(&scheme) || OUTSIDE.contains(&scheme.to_ascii_lowercase().as_str());
        if known || outside_folder::leaves(&to.value) {
            continue;
        }
        let of_step = OwnLink::ALL.iter().map(|kind| kind.word()).filter(|_| in_step);
        let kinds: Vec<&str> = KINDS.into_iter().chain(of_step).collect();
        let all = kinds.join(", ");
        let help = match nearest(scheme, kinds.iter().copied()).filter(|_| !scheme.is_empty()) {
            Some(near) => format!("{} The kinds are {all}", did_you_mean(format_args!("{near}:"))),
            None => format!("write the kind before the name, for example `part:KW-101`; the kinds are {all}"),
        };
        sink.push(
            RULE.found(format!("the link `{}` leads nowhere", to.value))
                .at(to.span, "not a known kind")
                .help(help)
                .about(&to.value),
        );
    }
    sink
}

#[cfg(test)]
mod tests {
    use crate::check::testing::sound;

    #[test]
    fn a_link_needs_a_kind() {
        assert_eq!(
            sound().edit("steps/frame/10-keel.md", "part:KW-101", "prt:KW-101").findings(),
            ["unknown-link steps/frame/10-keel.md `prt:KW-101`"]
        );
        assert_eq!(
            sound().add("steps/frame/10-keel.md", "\nSee [plan](plan.pdf).\n").findings(),
            ["unknown-link steps/frame/10-keel.md `plan.pdf`"]
        );
        assert_eq!(sound().add("steps/frame/10-keel.md", "\nSee [us](https://example.org).\n").findings(), [""; 0]);
    }
}
