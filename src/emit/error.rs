//! What can go wrong while a document is written.

use crate::document::Anchor;
use crate::units::FigureName;

/// Why a document could not be written. Each text says what and what to do.
#[derive(Debug)]
pub enum EmitError {
    /// A template that cannot be used, in the template engine's words, which name the file and the place.
    Template { words: String },
    /// A file in the manual's `templates` folder that nothing reads.
    UnknownTemplate { name: String, nearest: Option<String> },
    /// A figure the document shows that was not handed over.
    MissingFigure(FigureName),
    /// A link whose target is nowhere in the document.
    BrokenLink { page: Anchor, to: Anchor },
    /// Two places of the document with one name.
    DuplicateAnchor(Anchor),
    /// Blocks inside one another beyond what is written.
    TooDeep { page: Anchor, limit: usize },
    /// The output refused a file.
    Write { path: String, error: std::io::Error },
}

impl std::fmt::Display for EmitError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Template { words } => write!(f, "a template in the folder `templates` cannot be used: {words}"),
            Self::UnknownTemplate { name, nearest: Some(nearest) } => {
                write!(f, "templates/{name} is not read by anything; a file named `{nearest}` would be")
            }
            Self::UnknownTemplate { name, nearest: None } => {
                write!(f, "templates/{name} is not read by anything; remove it or give it the extension `html`")
            }
            Self::MissingFigure(name) => {
                write!(f, "figure `{name}` was not found; put the file into the figures folder")
            }
            Self::BrokenLink { page, to } => {
                write!(f, "the page `{}` links to `{}`, which is not in the document", page.as_str(), to.as_str())
            }
            Self::DuplicateAnchor(anchor) => {
                write!(f, "two places in the document are named `{}`", anchor.as_str())
            }
            Self::TooDeep { page, limit } => write!(
                f,
                "on the page `{}` lists or quotations stand inside one another more than {limit} deep; flatten them",
                page.as_str()
            ),
            Self::Write { path, error } => write!(f, "{path} could not be written: {error}"),
        }
    }
}

impl std::error::Error for EmitError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Write { error, .. } => Some(error),
            _ => None,
        }
    }
}
