//! Figures as values for their component: the picture, its marks and its lines of text.

use tera::Value;

use super::blocks::{Writer, map, markup};
use super::inline::without_links;
use super::marks::{line_id, mark_id};
use crate::document::{Callout, Figure};
use crate::emit::EmitError;
use crate::figure::{FigureFile, FigureKind};

impl Writer<'_> {
    pub fn figure(&mut self, figure: &Figure) -> Result<Value, EmitError> {
        self.figures += 1;
        let (path, file) =
            self.site.picture(&figure.name).ok_or_else(|| EmitError::MissingFigure(figure.name.clone()))?;
        let (path, width, height, screen) = (path.to_owned(), file.width, file.height, screen_width(file));
        let marks: Result<Vec<Value>, EmitError> =
            figure.callouts.iter().enumerate().map(|(position, callout)| self.mark(position, callout)).collect();
        Ok(map([
            ("path", path.into()),
            ("width", width.into()),
            ("height", height.into()),
            ("screen_width", screen.into()),
            ("label", Value::normal_string(&figure.label)),
            ("alt", Value::normal_string(&figure.alt)),
            ("caption", markup(&self.line(&figure.caption)?)),
            ("view", markup(&self.line(&figure.view)?)),
            // On paper a figure has the width it was drawn for; on the screen it takes the room there is.
            ("print_width", figure.width.map(|width| format!("{:.3}in", width.to_f64())).into()),
            ("marks", marks?.into()),
        ]))
    }

    fn mark(&mut self, position: usize, callout: &Callout) -> Result<Value, EmitError> {
        let href = match &callout.to {
            Some(to) => Value::from(self.site.href(self.leaf, to)?),
            None => Value::none(),
        };
        let (across, down) = callout.at;
        Ok(map([
            ("number", callout.number.into()),
            ("id", mark_id(self.figures, position).into()),
            ("line_id", line_id(self.figures, position).into()),
            ("text", markup(&self.line(&without_links(&callout.text))?)),
            ("left", percent(across).into()),
            ("top", percent(down).into()),
            ("name", self.plain(&callout.text).into()),
            ("href", href),
        ]))
    }
}

/// The widest a picture gets: as wide as leaves it at most 40 rem high, and where it is made of pixels at most
/// one and a half times as wide as it is.
fn screen_width(file: &FigureFile) -> String {
    let rem = 40.0 * f64::from(file.width) / f64::from(file.height.max(1));
    let rem = match file.kind {
        FigureKind::Svg => rem,
        FigureKind::Png | FigureKind::Jpeg => rem.min(f64::from(file.width) * 1.5 / 16.0),
    };
    format!("{rem:.1}rem")
}

/// A place in percent that stays inside the picture.
fn percent(at: f64) -> String {
    let at = if at.is_finite() { at.clamp(0.0, 100.0) } else { 0.0 };
    format!("{at:.2}")
}
