//! What goes wrong while documents are made, as findings for the author.

use crate::check::rules;
use crate::diag::{Diagnostic, Refusal, did_you_mean};
use crate::document::Origin;
use crate::emit::EmitError;
use crate::emit::pdf::PdfError;
use crate::layout::Problem;
use crate::model::Manual;
use crate::resolve::Resolved;
use crate::source::{FileId, LoadError, SourceMap, Span, Spanned};

const OWN_FAULT: &str = "this is an error in the program; report it with the manual's folder";

pub(super) fn unreadable_release(refused: &Refusal) -> Diagnostic {
    Diagnostic::error("broken-release", refused.headline.clone()).in_file("releases").help(refused.help.clone())
}

pub(super) fn release_otherwise(words: &str) -> Diagnostic {
    rules::release_otherwise::RULE
        .found(words)
        .in_file("releases")
        .help("compare what changed with the version that made the release; the release itself is as it was made")
}

pub(super) fn unreadable_font(path: &Spanned<String>, error: &LoadError) -> Diagnostic {
    Diagnostic::error("broken-font", format!("the font {} can't be read: {error}", path.value))
        .at(path.span, "this file")
        .help("put the font into the manual's folder and write its path from there, for example `fonts/Name.ttf`")
}

pub(super) fn unreadable_template(path: &str, words: &str) -> Diagnostic {
    Diagnostic::error("broken-template", format!("{path} can't be read: {words}"))
        .in_file(path)
        .help("correct or remove the file; without it the built-in one is used")
}

pub(super) fn template_fault(fault: &EmitError) -> Diagnostic {
    let words = fault.to_string();
    // The engine's words go over several lines: what, ` --> file:line:column`, then the line itself.
    let headline = words.lines().next().unwrap_or_default().to_owned();
    let place = words.lines().find_map(|l| l.trim_start().strip_prefix("--> "));
    let file = match (place, fault) {
        (Some(place), _) => place,
        (None, EmitError::UnknownTemplate { name, .. }) => name,
        (None, _) => "",
    };
    let help = match fault {
        EmitError::UnknownTemplate { nearest: Some(near), .. } => did_you_mean(near),
        _ => "correct or remove the file; without it the built-in one is used".to_owned(),
    };
    Diagnostic::error("broken-template", headline).in_file(format!("templates/{file}")).help(help)
}

/// A fault of the pages other than one of writing.
pub(super) fn emit_fault(fault: &EmitError, resolved: &Resolved) -> Diagnostic {
    let found = match fault {
        EmitError::Template { .. } | EmitError::UnknownTemplate { .. } => template_fault(fault),
        EmitError::TooDeep { .. } => {
            Diagnostic::error("too-deep", fault.to_string()).help("flatten the lists or quotations")
        }
        _ => Diagnostic::error("own-fault", fault.to_string()).help(OWN_FAULT),
    };
    found.in_configuration(&resolved.name)
}

pub(super) fn pdf_fault(fault: &PdfError, resolved: &Resolved) -> Diagnostic {
    let found = match fault {
        PdfError::Picture { name, .. } => Diagnostic::error("broken-figure", fault.to_string())
            .in_file(format!("figures/{name}"))
            .help("open it in a drawing or picture program and save it again")
            .about(name),
        PdfError::Font(_) => Diagnostic::error("broken-font", fault.to_string())
            .in_file("manual.yaml")
            .help("name another font under `fonts` in manual.yaml, or none"),
    };
    found.in_configuration(&resolved.name)
}

/// What layout had to do otherwise than asked. None where the cause was reported before.
pub(super) fn layout_problem(
    problem: &Problem,
    manual: &Manual,
    sources: &SourceMap,
    resolved: &Resolved,
) -> Option<Diagnostic> {
    let found = match problem {
        Problem::MissingGlyph { character, origin } => {
            let code = u32::from(*character);
            let found = rules::missing_character::RULE
                .found(format!("no font has the character U+{code:04X}"))
                .help("write it otherwise, or name a font that has it under `fonts` in manual.yaml; until then a box is printed")
                .about(format!("U+{code:04X}"));
            match written(*character, origin, manual, sources) {
                Some(span) => found.at(span, "printed as a box"),
                None => found.in_file("manual.yaml"),
            }
        }
        Problem::MissingFigure { .. } => return None,
        Problem::MissingAnchor { anchor, origin } => {
            let words = format!("a link leads to `{}`, which is not in the document", anchor.as_str());
            placed(Diagnostic::error("own-fault", words).help(OWN_FAULT), origin, manual)
        }
        Problem::SafetySplit { origin } => {
            let words = "a safety message is longer than a page and is split on paper";
            placed(
                rules::long_safety_message::RULE.found(words).help("make it shorter, or several messages of it"),
                origin,
                manual,
            )
        }
        Problem::TableTight { origin } => {
            let words = "a table is wider than the page; its words are broken to fit";
            placed(
                rules::wide_table::RULE.found(words).help("give the table fewer columns or shorter words"),
                origin,
                manual,
            )
        }
        Problem::BadFont { reason } => {
            let found = Diagnostic::error("broken-font", format!("the font can't be used: {reason}"))
                .help("name another font under `fonts` in manual.yaml, or none");
            // A bad font is the same in every document.
            return Some(match &manual.settings.font {
                Some(path) => found.at(path.span, "this font"),
                None => found.in_file("manual.yaml"),
            });
        }
    };
    Some(found.in_configuration(&resolved.name))
}

/// The finding at the step it comes from.
fn placed(found: Diagnostic, origin: &Origin, manual: &Manual) -> Diagnostic {
    let step = origin.step.as_ref().and_then(|id| manual.steps.iter().find(|s| s.id.value == *id));
    match step {
        Some(step) => found.at(step.id.span, "in this step").about(&step.id.value),
        None => found.in_file("manual.yaml"),
    }
}

/// Where a character is written: in the step it comes from, else in the first file that has it.
fn written(character: char, origin: &Origin, manual: &Manual, sources: &SourceMap) -> Option<Span> {
    let step = origin.step.as_ref().and_then(|id| manual.steps.iter().find(|s| s.id.value == *id));
    let find = |file: FileId| {
        let at = sources.text(file).find(character)?;
        Some(Span::new(file, at..at + character.len_utf8()))
    };
    step.and_then(|s| find(s.file)).or_else(|| sources.files().find_map(find))
}
