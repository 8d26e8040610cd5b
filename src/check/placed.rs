//! Figures as they are printed: how wide, and so how fine.

use crate::figure::{Crop, FigureFile, FigureKind};
use crate::layout::{least_width, text_width};
use crate::model::Manual;
use crate::source::{Span, Spanned};
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

/// A figure of a step at the least width that it is printed in.
pub struct LeastPrinted<'a> {
    pub step: &'a StepId,
    pub figure: &'a Spanned<FigureName>,
    pub file: &'a FigureFile,
    /// Of the part that is shown, in points.
    pub shown: f64,
    /// Of the whole picture, which is larger than a part of it, in points.
    pub whole: f64,
}

/// Every figure of every step that is there: as wide as the step asks for, else as wide as the text, and then as small as it may be
/// made to fill a page well.
pub fn least_printed(manual: &Manual) -> impl Iterator<Item = LeastPrinted<'_>> {
    let paper = manual.settings.paper;
    let all = manual.steps.iter().flat_map(|step| step.figures.iter().map(move |figure| (step, figure)));
    all.filter_map(move |(step, figure)| {
        let file = manual.figures.get(&figure.figure.value)?;
        let crop = figure.crop.map_or(Crop::WHOLE, |c| c.value);
        let shown = least_width(file, crop, figure.width.map(|w| w.value.to_f64() * 72.0), paper);
        let whole = shown * f64::from(file.width.max(1)) / crop.size_of(file).0;
        Some(LeastPrinted { step: &step.id.value, figure: &figure.figure, file, shown, whole })
    })
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
