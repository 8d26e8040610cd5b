//! Figures as values for their component: the picture, its marks and its lines of text.

use tera::Value;

use super::blocks::{PageWriter, map, markup};
use super::inline::without_links;
use super::marks::{line_id, mark_id};
use crate::document::{Callout, Figure};
use crate::emit::EmitError;
use crate::figure::{Crop, FigureFile, FigureKind, SMALL_WIDTH};

impl PageWriter<'_> {
    pub fn figure(&mut self, figure: &Figure) -> Result<Value, EmitError> {
        self.figures += 1;
        let (path, file) =
            self.site.picture(&figure.name).ok_or_else(|| EmitError::MissingFigure(figure.name.clone()))?;
        let shown = figure.crop.unwrap_or(Crop::WHOLE).size_of(file);
        let (path, width, height, screen) = (path.to_owned(), file.width, file.height, screen_width(file, shown));
        let sources = match self.site.small(&figure.name).filter(|_| figure.crop.is_none()) {
            Some(small) => map([
                ("set", format!("{} {SMALL_WIDTH}w, {path} {width}w", small.path).into()),
                ("sizes", format!("(max-width: {screen}) 100vw, {screen}").into()),
            ]),
            None => Value::none(),
        };
        let marks: Result<Vec<Value>, EmitError> =
            figure.callouts.iter().enumerate().map(|(position, callout)| self.mark(position, callout)).collect();
        Ok(map([
            ("path", path.into()),
            ("width", width.into()),
            ("height", height.into()),
            ("screen_width", screen.as_str().into()),
            ("sources", sources),
            ("label", Value::normal_string(&figure.label)),
            ("alt", Value::normal_string(&figure.alt)),
            ("caption", markup(&self.line(&figure.caption)?)),
            ("view", markup(&self.line(&figure.view)?)),
            // On paper a figure has the width it was drawn for; on the screen it takes the room there is.
            ("print_width", figure.width.map(|width| format!("{:.3}in", width.to_f64())).into()),
            ("crop", figure.crop.map_or_else(Value::none, |crop| crop_style(crop, shown))),
            ("arrows", arrows(figure, shown)),
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

/// The widest a picture gets: as wide as leaves what is shown of it at most 40 rem high, and where it is made of
/// pixels at most one and a half times as wide as it is.
fn screen_width(file: &FigureFile, shown: (f64, f64)) -> String {
    let rem = 40.0 * shown.0 / shown.1;
    let rem = match file.kind {
        FigureKind::Svg => rem,
        FigureKind::Png | FigureKind::Jpeg => rem.min(shown.0 * 1.5 / 16.0),
    };
    format!("{rem:.1}rem")
}

/// The styles of the window and of the picture behind it.
fn crop_style(crop: Crop, shown: (f64, f64)) -> Value {
    let (left, top, width, _) = crop.around(100.0, 100.0);
    map([
        ("window", format!("padding-bottom:{:.3}%", 100.0 * shown.1 / shown.0).into()),
        ("picture", format!("left:{left:.3}%;top:{top:.3}%;width:{width:.3}%").into()),
    ])
}

/// The arrows in a box that is 1000 wide and as high as the picture: shafts as `x1,y1 x2,y2`, heads as three points.
fn arrows(figure: &Figure, shown: (f64, f64)) -> Value {
    let high = 1000.0 * shown.1 / shown.0;
    let list: Vec<Value> = figure
        .arrows
        .iter()
        .filter_map(|arrow| {
            let at = |p: (f64, f64)| (p.0 * 10.0, p.1 / 100.0 * high);
            let (from, to) = (at(arrow.from), at(arrow.to));
            let (dx, dy) = (to.0 - from.0, to.1 - from.1);
            let length = dx.hypot(dy);
            if length < 0.01 {
                return None;
            }
            let (dx, dy) = (dx / length, dy / length);
            let head = 28.0_f64.min(length);
            let neck = (to.0 - dx * head, to.1 - dy * head);
            let side = |s: f64| (neck.0 - dy * head * s, neck.1 + dx * head * s);
            let points =
                |list: &[(f64, f64)]| list.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect::<Vec<_>>().join(" ");
            Some(map([("shaft", points(&[from, neck]).into()), ("head", points(&[to, side(0.4), side(-0.4)]).into())]))
        })
        .collect();
    if list.is_empty() {
        return Value::none();
    }
    map([("box", format!("0 0 1000 {high:.1}").into()), ("list", list.into())])
}

/// A place in percent that stays inside the picture.
fn percent(at: f64) -> String {
    let at = if at.is_finite() { at.clamp(0.0, 100.0) } else { 0.0 };
    format!("{at:.2}")
}
