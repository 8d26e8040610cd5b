//! Pictures of pixels made smaller and turned upright.
//!
//! Owns: the sums. Must not know: files, formats.

/// Samples of eight bits, rows from the top: grey, grey and opacity, three colours, or three colours and opacity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Samples {
    pub width: usize,
    pub height: usize,
    /// Samples of a pixel: 1 to 4. Of 2 and 4 the last is the opacity.
    pub channels: usize,
    pub bytes: Vec<u8>,
}

impl Samples {
    /// The picture `width` by `height`, each pixel the mean of what it covers: exact sums, so the same on every machine.
    /// What can't be seen does not colour its neighbours. None where it would become larger, or where samples are missing.
    pub fn shrunk(&self, width: usize, height: usize) -> Option<Self> {
        let fits = (1..=self.width).contains(&width) && (1..=self.height).contains(&height);
        let row = self.width * self.channels;
        if !fits || !(1..=4).contains(&self.channels) || self.bytes.len() != row * self.height {
            return None;
        }
        let clear = self.channels.is_multiple_of(2);
        let mut bytes = Vec::with_capacity(width * height * self.channels);
        let mut sums = vec![0_u64; row];
        for y in 0..height {
            sums.fill(0);
            for (source, share) in covered(y, height, self.height) {
                let pixels = self.bytes[source * row..(source + 1) * row].chunks_exact(self.channels);
                for (sum, pixel) in sums.chunks_exact_mut(self.channels).zip(pixels) {
                    add(
                        sum,
                        pixel.iter().map(|&v| u64::from(v)),
                        share,
                        clear.then(|| pixel[self.channels - 1].into()),
                    );
                }
            }
            for x in 0..width {
                let mut whole = [0_u64; 4];
                for (source, share) in covered(x, width, self.width) {
                    let pixel = &sums[source * self.channels..(source + 1) * self.channels];
                    add(&mut whole, pixel.iter().copied(), share, None);
                }
                let area = (self.width * self.height) as u64;
                let opacity = whole[self.channels - 1];
                for (i, &sum) in whole[..self.channels].iter().enumerate() {
                    let parts = if clear && i + 1 < self.channels { opacity } else { area };
                    bytes.push((sum + parts / 2).checked_div(parts).unwrap_or(0).min(255) as u8);
                }
            }
        }
        Some(Self { width, height, channels: self.channels, bytes })
    }

    /// The picture as it is seen: `turn` is 1 to 8 after Exif 2.32, tag Orientation.
    pub fn upright(self, turn: u8) -> Self {
        let (w, h) = (self.width, self.height);
        let from: fn(usize, usize, usize, usize) -> (usize, usize) = match turn {
            2 => |x, y, w, _| (w - 1 - x, y),
            3 => |x, y, w, h| (w - 1 - x, h - 1 - y),
            4 => |x, y, _, h| (x, h - 1 - y),
            5 => |x, y, _, _| (y, x),
            6 => |x, y, _, h| (y, h - 1 - x),
            7 => |x, y, w, h| (w - 1 - y, h - 1 - x),
            8 => |x, y, w, _| (w - 1 - y, x),
            _ => return self,
        };
        let (width, height) = if turn > 4 { (h, w) } else { (w, h) };
        let mut bytes = Vec::with_capacity(self.bytes.len());
        for y in 0..height {
            for x in 0..width {
                let (x, y) = from(x, y, w, h);
                let at = (y * w + x) * self.channels;
                bytes.extend_from_slice(&self.bytes[at..at + self.channels]);
            }
        }
        Self { width, height, channels: self.channels, bytes }
    }
}

/// Adds a pixel `share` times; its colours times their opacity where one is given.
fn add(sum: &mut [u64], pixel: impl Iterator<Item = u64>, share: u64, opacity: Option<u64>) {
    let last = sum.len() - 1;
    for (i, (sum, value)) in sum.iter_mut().zip(pixel).enumerate() {
        *sum += value * share * opacity.filter(|_| i < last).unwrap_or(1);
    }
}

/// Which of `of` pixels in a row the pixel `at` of `count` covers, each with its share; the shares come to `of`.
fn covered(at: usize, count: usize, of: usize) -> impl Iterator<Item = (usize, u64)> {
    let (start, end) = (at * of, (at + 1) * of);
    (start / count..end.div_ceil(count)).map(move |i| {
        let share = end.min((i + 1) * count) - start.max(i * count);
        (i, share as u64)
    })
}

#[cfg(test)]
mod tests {
    use image::{GrayImage, RgbImage, imageops};

    use super::*;

    fn samples(width: usize, height: usize, channels: usize) -> Samples {
        let value = |i: usize| ((i * 37 + i / 11 * 5) % 256) as u8;
        Samples { width, height, channels, bytes: (0..width * height * channels).map(value).collect() }
    }

    /// The image crate's box filter over whole pixels is the same mean.
    #[test]
    fn a_mean_is_the_one_of_an_image_library() {
        let picture = samples(96, 60, 3);
        let made = picture.shrunk(24, 20).unwrap();
        let whole = RgbImage::from_raw(96, 60, picture.bytes).unwrap();
        let theirs = imageops::thumbnail(&whole, 24, 20).into_raw();
        assert!(made.bytes.iter().zip(&theirs).all(|(a, b)| a.abs_diff(*b) <= 1), "{:?} {theirs:?}", made.bytes);
    }

    #[test]
    fn parts_of_pixels_count_as_parts() {
        // Three pixels onto two: each covers one and a half.
        let picture = Samples { width: 3, height: 1, channels: 1, bytes: vec![0, 90, 240] };
        assert_eq!(picture.shrunk(2, 1).unwrap().bytes, [30, 190]);
        assert!(picture.shrunk(4, 1).is_none() && picture.shrunk(0, 1).is_none());
        assert!(Samples { bytes: vec![0; 2], ..picture }.shrunk(1, 1).is_none());
        let plain = Samples { width: 70, height: 31, channels: 4, bytes: vec![255; 70 * 31 * 4] };
        assert!(plain.shrunk(13, 7).unwrap().bytes.iter().all(|&v| v == 255));
    }

    #[test]
    fn what_can_not_be_seen_does_not_colour_its_neighbours() {
        let picture = Samples { width: 2, height: 1, channels: 4, bytes: vec![200, 100, 50, 255, 0, 255, 0, 0] };
        assert_eq!(picture.shrunk(1, 1).unwrap().bytes, [200, 100, 50, 128]);
        let clear = Samples { width: 2, height: 1, channels: 2, bytes: vec![9, 0, 7, 0] };
        assert_eq!(clear.shrunk(1, 1).unwrap().bytes, [0, 0]);
    }

    /// The image crate turns by the same tag.
    #[test]
    fn a_turn_is_the_one_of_an_image_library() {
        let picture = samples(7, 4, 1);
        for turn in 0..=9 {
            let made = picture.clone().upright(turn);
            let mut theirs: image::DynamicImage =
                GrayImage::from_raw(7, 4, picture.bytes.clone()).expect("a picture").into();
            if let Some(turn) = image::metadata::Orientation::from_exif(turn) {
                theirs.apply_orientation(turn);
            }
            assert_eq!((made.width as u32, made.height as u32), (theirs.width(), theirs.height()), "{turn}");
            assert_eq!(made.bytes, theirs.into_bytes(), "{turn}");
        }
    }
}
