//! How large an SVG is, in user units of 1/96 inch (SVG 2, CSS Values 3).
//!
//! Owns: width, height, view box. Must not know: what is drawn.

use roxmltree::Node;

use super::FigureFault;

/// A size and the part of the drawing that is shown.
pub(super) struct Size {
    width: f64,
    height: f64,
    pub view_box: [f64; 4],
}

impl Size {
    pub(super) fn width_units(&self) -> u32 {
        self.width.ceil() as u32
    }

    pub(super) fn height_units(&self) -> u32 {
        self.height.ceil() as u32
    }
}

/// The largest side, in user units: more than 1,000 inches is a mistake.
const LARGEST: f64 = 100_000.0;

pub(super) fn read(root: Node<'_, '_>) -> Result<Size, FigureFault> {
    let number = |name: &str| root.attribute(name).and_then(length);
    let view_box = root.attribute("viewBox").map(view_box);
    let place = root.range().start..root.range().start + "<svg".len();
    let view_box = match view_box {
        Some(None) => {
            let fault = FigureFault::new(
                "the `viewBox` of the SVG is not four numbers of which the last two are larger than 0",
                "save it again from the drawing program",
            );
            return Err(fault.at(root.attribute_node("viewBox").map_or(place, |a| a.range())));
        }
        Some(found) => found,
        None => None,
    };
    let (width, height) = match (number("width"), number("height"), view_box) {
        (Some(width), Some(height), _) => (width, height),
        (Some(width), None, Some([.., w, h])) => (width, width * h / w),
        (None, Some(height), Some([.., w, h])) => (height * w / h, height),
        (None, None, Some([.., w, h])) => (w, h),
        _ => {
            let fault = FigureFault::new(
                "the SVG does not say how large it is",
                "give it `width` and `height` or a `viewBox`: save it again from the drawing program",
            );
            return Err(fault.at(place));
        }
    };
    let sides = [width, height];
    if sides.iter().any(|s| !s.is_finite() || *s <= 0.0 || *s > LARGEST) {
        let fault = FigureFault::new(
            format!("the SVG is {width} by {height} units large, which can't be shown"),
            "set the page size of the drawing to the drawing itself",
        );
        return Err(fault.at(place));
    }
    Ok(Size { width, height, view_box: view_box.unwrap_or([0.0, 0.0, width, height]) })
}

/// A length in user units; None for one that depends on where the drawing is shown.
fn length(text: &str) -> Option<f64> {
    let text = text.trim();
    let unit = text.find(|c: char| c.is_ascii_alphabetic() && c != 'e' && c != 'E' || c == '%').unwrap_or(text.len());
    // `em` begins like an exponent.
    let (number, unit) = match text.strip_suffix("em") {
        Some(_) => return None,
        None => text.split_at(unit),
    };
    let factor = match unit.trim() {
        "" | "px" => 1.0,
        "in" => 96.0,
        "cm" => 96.0 / 2.54,
        "mm" => 96.0 / 25.4,
        "pt" => 96.0 / 72.0,
        "pc" => 16.0,
        _ => return None,
    };
    number.trim().parse::<f64>().ok().map(|n| n * factor)
}

fn view_box(text: &str) -> Option<[f64; 4]> {
    let numbers: Vec<f64> = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|s| !s.is_empty())
        .map(|s| s.parse().ok().filter(|n: &f64| n.is_finite()))
        .collect::<Option<_>>()?;
    let box_: [f64; 4] = numbers.try_into().ok()?;
    (box_[2] > 0.0 && box_[3] > 0.0).then_some(box_)
}
