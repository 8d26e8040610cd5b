//! `opposite`: a step and the one made for the other hand, side by side.

use super::failure::Failure;
use crate::diag::{did_you_mean, nearest};
use crate::model::{Manual, Opposite, Step, step_units};

/// Width of one side in characters.
const SIDE: usize = 46;

/// The two texts, with every word that changed in brackets.
///
/// # Errors
/// There is no such step, or it stands for one hand only.
pub(super) fn opposite(manual: &Manual, id: &str) -> Result<String, Failure> {
    let (written, made) = pair(manual, id)?;
    let (one, other) = (step_units(written), step_units(made));
    let mut out = head(&written.id.value.to_string(), &made.id.value.to_string());
    // The two were made alike, so their lines go together.
    for ((label, a), (_, b)) in one.iter().zip(&other) {
        if a == b {
            out.push_str(&columns(label, a, "="));
        } else {
            let (a, b) = marked(a, b);
            out.push_str(&columns(label, &a, &b));
        }
    }
    Ok(out)
}

fn pair<'a>(manual: &'a Manual, id: &str) -> Result<(&'a Step, &'a Step), Failure> {
    let with = |id: &str| manual.steps.iter().find(|s| s.id.value.as_str() == id);
    let Some(step) = with(id) else {
        let known = manual.steps.iter().map(|s| s.id.value.as_str());
        let help = match nearest(id, known) {
            Some(near) => did_you_mean(near),
            None => "name a step's id".to_owned(),
        };
        return Err(Failure::new(format!("there is no step `{id}`"), help));
    };
    let made_of = |id: &str| manual.steps.iter().find(|s| matches!(&s.opposite, Opposite::Of(w) if w.as_str() == id));
    let found = match &step.opposite {
        Opposite::Of(written) => with(written.as_str()).map(|written| (written, step)),
        Opposite::None | Opposite::Made { .. } => made_of(id).map(|made| (step, made)),
    };
    found.ok_or_else(|| {
        Failure::new(
            format!("step `{id}` is for one hand only"),
            "a step with `hand: left` and `opposite: yes` stands for both",
        )
    })
}

fn head(a: &str, b: &str) -> String {
    let rule = "-".repeat(SIDE);
    format!("{:10}{a:SIDE$}  {b}\n{:10}{rule}  {rule}\n", "", "")
}

/// The words that differ in brackets; word by word, which is how they were made.
fn marked(a: &str, b: &str) -> (String, String) {
    let (ours, theirs): (Vec<&str>, Vec<&str>) = (a.split_whitespace().collect(), b.split_whitespace().collect());
    if ours.len() != theirs.len() {
        return (a.to_owned(), format!("[{b}]"));
    }
    let mark = |words: &[&str], others: &[&str]| {
        let words: Vec<String> =
            words.iter().zip(others).map(|(w, o)| if w == o { (*w).to_owned() } else { format!("[{w}]") }).collect();
        words.join(" ")
    };
    (mark(&ours, &theirs), mark(&theirs, &ours))
}

fn columns(label: &str, a: &str, b: &str) -> String {
    let (left, right) = (textwrap::wrap(a, SIDE), textwrap::wrap(b, SIDE));
    let mut out = String::new();
    for i in 0..left.len().max(right.len()) {
        let label = if i == 0 { label } else { "" };
        let (l, r) = (left.get(i).map_or("", |l| l), right.get(i).map_or("", |r| r));
        out.push_str(format!("{label:10}{l:SIDE$}  {r}").trim_end());
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_words_are_in_brackets() {
        let (a, b) = marked("Mark the left end", "Mark the right end");
        assert_eq!((a.as_str(), b.as_str()), ("Mark the [left] end", "Mark the [right] end"));
        assert_eq!(columns("text", "a", "="), format!("text      a{}  =\n", " ".repeat(SIDE - 1)));
    }
}
