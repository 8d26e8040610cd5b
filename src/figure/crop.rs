//! The part of a picture that is shown.
//!
//! Owns: the measures of a crop, and places in it. Must not know: how a picture is drawn.

use super::FigureFile;

/// A part of a picture in percent of its width and height, from its top left. It lies in the picture and is not empty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crop {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

impl Crop {
    pub const WHOLE: Self = Self { left: 0.0, top: 0.0, width: 100.0, height: 100.0 };

    /// The same part of the mirrored picture.
    pub fn mirrored(self) -> Self {
        Self { left: 100.0 - self.left - self.width, ..self }
    }

    /// None where the part is empty or reaches outside the picture.
    pub fn new(left: f64, top: f64, width: f64, height: f64) -> Option<Self> {
        let inside = |from: f64, length: f64| from >= 0.0 && length >= 1.0 && from + length <= 100.0;
        (inside(left, width) && inside(top, height)).then_some(Self { left, top, width, height })
    }

    /// A place in the whole picture as a place in this part, both in percent.
    pub fn place(self, at: (f64, f64)) -> (f64, f64) {
        ((at.0 - self.left) / self.width * 100.0, (at.1 - self.top) / self.height * 100.0)
    }

    /// Whether a place in the whole picture, in percent, is shown.
    pub fn shows(self, at: (f64, f64)) -> bool {
        let (x, y) = self.place(at);
        (0.0..=100.0).contains(&x) && (0.0..=100.0).contains(&y)
    }

    /// Width and height of this part of a file, in the file's pixels.
    pub fn size_of(self, file: &FigureFile) -> (f64, f64) {
        (f64::from(file.width.max(1)) * self.width / 100.0, f64::from(file.height.max(1)) * self.height / 100.0)
    }

    /// The whole picture around this part shown at a size: its left and top edge from the part's, its width and height.
    pub fn around(self, width: f64, height: f64) -> (f64, f64, f64, f64) {
        let (w, h) = (width * 100.0 / self.width, height * 100.0 / self.height);
        (-w * self.left / 100.0, -h * self.top / 100.0, w, h)
    }
}

#[cfg(test)]
mod tests {
    use super::Crop;

    #[test]
    fn places_follow_the_part() {
        let crop = Crop::new(50.0, 20.0, 25.0, 40.0).unwrap();
        assert_eq!(crop.place((50.0, 20.0)), (0.0, 0.0));
        assert_eq!(crop.place((62.5, 60.0)), (50.0, 100.0));
        assert!(crop.shows((75.0, 60.0)) && !crop.shows((76.0, 60.0)) && !crop.shows((62.5, 19.0)));
        assert_eq!(crop.around(100.0, 80.0), (-200.0, -40.0, 400.0, 200.0));
        assert_eq!(Crop::WHOLE.around(10.0, 20.0), (0.0, 0.0, 10.0, 20.0));
    }

    #[test]
    fn a_part_lies_in_the_picture() {
        for (left, top, width, height) in [
            (-1.0, 0.0, 50.0, 50.0),
            (60.0, 0.0, 50.0, 50.0),
            (0.0, 0.0, 0.0, 50.0),
            (0.0, 0.0, f64::NAN, 50.0),
            (0.0, 51.0, 50.0, 50.0),
        ] {
            assert_eq!(Crop::new(left, top, width, height), None);
        }
    }
}
