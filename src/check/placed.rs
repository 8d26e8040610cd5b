//! Figures as they are printed: how wide, and so how fine.

use crate::figure::{Crop, FigureKind};
use crate::layout::text_width;
use crate::model::Manual;
use crate::source::Span;
use crate::units::{FigureName, StepId};

/// A figure in its place on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureOnPaper {
    pub name: FigureName,
    pub step: StepId,
    /// Where the step names it.
    pub span: Span,
    /// Printed width in inches.
    pub width: f64,
    /// Pixels across that width.
    pub pixels: u32,
}

/// The pictures of pixels as they would be printed, where no layout was made: as wide as the step asks for, else
/// as wide as the text.
pub fn estimate(manual: &Manual) -> Vec<FigureOnPaper> {
    let text_width = text_width(manual.settings.paper);
    let mut placed = Vec::new();
    for step in &manual.steps {
        for figure in &step.figures {
            let Some(file) = manual.figures.get(&figure.figure.value) else { continue };
            if file.kind == FigureKind::Svg {
                continue;
            }
            placed.push(FigureOnPaper {
                name: figure.figure.value.clone(),
                step: step.id.value.clone(),
                span: figure.figure.span,
                width: figure.width.map_or(text_width, |w| w.value.to_f64().min(text_width)),
                pixels: figure.crop.map_or(Crop::WHOLE, |c| c.value).size_of(file).0 as u32,
            });
        }
    }
    placed
}
