//! A step or page file: front matter between two `---` lines, then Markdown.

use super::markdown::Block;
use super::yaml::Node;
use crate::diag::Sink;
use crate::source::{FileId, SourceMap};

/// The two halves of a file.
#[derive(Clone, Debug)]
pub struct StepFile {
    pub file: FileId,
    /// None where it was missing or broken; the fault was reported.
    pub front: Option<Node>,
    pub body: Vec<Block>,
}

/// Splits and reads a file that is already in `sources`. Pure in `sources`, so files can be read side by side.
pub fn parse_step_file(file: FileId, sources: &SourceMap, sink: &mut Sink) -> StepFile {
    let _ = (file, sources, sink);
    todo!()
}
