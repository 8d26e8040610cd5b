//! Grey for colours and photographs.
//!
//! Owns: luminance, the grey of a colour, contrast stretch. Must not know: what is printed.

use std::sync::Arc;

use super::Undrawable;
use super::raster::{Pixels, Raster};

/// The share of pixels that the stretch may make plain black or white, at both ends together.
const CLIPPED: f64 = 0.005;

/// JPEG quality of a converted photograph.
const QUALITY: u8 = 88;

/// Counts the ways in which photographs were converted: what is kept of an earlier way is not taken. Raised whenever
/// the same photograph gives other bytes.
pub const GREY_WAY: u32 = 1;

/// WCAG 2.2 relative luminance of an sRGB colour 0xRRGGBB, 0 to 1.
pub fn luminance(color: u32) -> f64 {
    let channel = |shift: u32| {
        let v = f64::from((color >> shift) & 0xFF) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) }
    };
    0.2126 * channel(16) + 0.7152 * channel(8) + 0.0722 * channel(0)
}

/// The grey of a colour, 0 black to 1 white: the sRGB value of the same luminance (IEC 61966-2-1).
pub fn grey_of(color: u32) -> f64 {
    let y = luminance(color);
    if y <= 0.003_130_8 { y * 12.92 } else { 1.055 * libm::pow(y, 1.0 / 2.4) - 0.055 }
}

/// A picture of pixels in grey, its contrast stretched to the whole range without losing more than 0.5 % of its
/// pixels to plain black or white. A photograph stays a JPEG.
///
/// # Errors
/// A photograph that can't be decoded.
pub fn grey_raster(raster: &Raster) -> Result<Raster, Undrawable> {
    let (luma, photograph) = match &raster.pixels {
        Pixels::Jpeg { bytes, .. } => (decode_luma(bytes)?, true),
        Pixels::Grey(grey) => (grey.to_vec(), false),
        Pixels::Rgb(rgb) => (rgb.chunks_exact(3).map(|p| luma(p[0], p[1], p[2])).collect(), false),
    };
    if luma.len() != raster.width as usize * raster.height as usize {
        return Err(Undrawable("its pixels do not fill it".to_owned()));
    }
    let stretched = stretch(luma, raster.alpha.as_deref());
    let pixels = if photograph {
        Pixels::Jpeg { bytes: encode(&stretched, raster.width, raster.height)?, components: 1 }
    } else {
        Pixels::Grey(stretched.into())
    };
    Ok(Raster { pixels, alpha: raster.alpha.clone(), ..*raster })
}

/// Luma after ITU-R BT.601, the one that JPEG itself uses.
fn luma(r: u8, g: u8, b: u8) -> u8 {
    ((u32::from(r) * 299 + u32::from(g) * 587 + u32::from(b) * 114 + 500) / 1000) as u8
}

fn decode_luma(bytes: &[u8]) -> Result<Vec<u8>, Undrawable> {
    use zune_jpeg::zune_core::bytestream::ZCursor;
    use zune_jpeg::zune_core::colorspace::ColorSpace;
    let options = super::jpeg::strictly().jpeg_set_out_colorspace(ColorSpace::Luma);
    if let Ok(luma) = zune_jpeg::JpegDecoder::new_with_options(ZCursor::new(bytes), options).decode() {
        return Ok(luma);
    }
    let (rgb, ..) = super::raster::decode_jpeg(bytes)?;
    Ok(rgb.chunks_exact(3).map(|p| luma(p[0], p[1], p[2])).collect())
}

/// Maps the range that holds all but [`CLIPPED`] of the visible pixels to black to white.
fn stretch(mut luma: Vec<u8>, alpha: Option<&[u8]>) -> Vec<u8> {
    let mut counts = [0u64; 256];
    match alpha {
        Some(alpha) => luma.iter().zip(alpha).filter(|(_, a)| **a > 0).for_each(|(v, _)| counts[usize::from(*v)] += 1),
        None => luma.iter().for_each(|v| counts[usize::from(*v)] += 1),
    }
    let total: u64 = counts.iter().sum();
    let limit = (total as f64 * CLIPPED / 2.0) as u64;
    let low = end_of_range(counts.iter().copied(), limit);
    let high = 255 - end_of_range(counts.iter().rev().copied(), limit);
    if high <= low {
        return luma;
    }
    let table: Vec<u8> = (0..256usize)
        .map(|v| ((v.clamp(low, high) - low) * 255 + (high - low) / 2).checked_div(high - low).unwrap_or(v) as u8)
        .collect();
    for v in &mut luma {
        *v = table[usize::from(*v)];
    }
    luma
}

/// The first value that can't be given up without clipping more than `limit` pixels.
fn end_of_range(counts: impl Iterator<Item = u64>, limit: u64) -> usize {
    let mut sum = 0;
    for (value, count) in counts.enumerate() {
        sum += count;
        if sum > limit {
            return value;
        }
    }
    255
}

fn encode(luma: &[u8], width: u32, height: u32) -> Result<Arc<[u8]>, Undrawable> {
    let too_large = || Undrawable("a JPEG can't be larger than 65,535 pixels either way".to_owned());
    let (w, h) = (u16::try_from(width).map_err(|_| too_large())?, u16::try_from(height).map_err(|_| too_large())?);
    let mut out = Vec::new();
    jpeg_encoder::Encoder::new(&mut out, QUALITY)
        .encode(luma, w, h, jpeg_encoder::ColorType::Luma)
        .map_err(|e| Undrawable(e.to_string()))?;
    Ok(out.into())
}

#[cfg(test)]
mod tests {
    use sha2::Digest;

    use super::*;

    /// CIE L* from a grey, by CIE 15 from its luminance.
    fn lightness(grey: f64) -> f64 {
        let y = if grey <= 0.04045 { grey / 12.92 } else { libm::pow((grey + 0.055) / 1.055, 2.4) };
        if y > 216.0 / 24389.0 { 116.0 * libm::cbrt(y) - 16.0 } else { y * 24389.0 / 27.0 }
    }

    /// Luminance after WCAG 2.2 and L* after CIE 17-23-076 of the same colours, computed apart from this program.
    #[test]
    fn grey_keeps_luminance_and_lightness() {
        for (color, y, l) in [
            (0x76_76_76, 0.181_164, 49.637),
            (0x59_59_59, 0.099_899, 37.824),
            (0xFF_00_00, 0.212_600, 53.233),
            (0x00_00_FF, 0.072_200, 32.303),
            (0xFF_FF_00, 0.927_800, 97.138),
            (0xF9_A8_00, 0.481_450, 74.916),
            (0xD0_5D_29, 0.213_987, 53.383),
            (0x9B_24_23, 0.083_517, 34.705),
            (0x00_53_87, 0.079_358, 33.849),
            (0x23_7F_52, 0.161_453, 47.164),
        ] {
            assert!((luminance(color) - y).abs() < 1e-5, "{color:06x}");
            assert!((lightness(grey_of(color)) - l).abs() < 0.01, "{color:06x}");
        }
    }

    #[test]
    fn stretch_clips_at_most_half_a_percent() {
        let luma: Vec<u8> =
            (0..20_000u32).map(|i| 60 + (i * 7919 % 120) as u8).chain(std::iter::repeat_n(0, 40)).collect();
        let before: Vec<u8> = luma.clone();
        let after = stretch(luma, None);
        let plain = |v: &[u8]| v.iter().filter(|p| **p == 0 || **p == 255).count();
        let extremes = before.iter().filter(|v| **v <= 60 || **v == 179).count();
        assert!(plain(&after) <= extremes, "only the ends of the range become plain");
        assert_eq!((after.iter().min(), after.iter().max()), (Some(&0), Some(&255)));
        assert_eq!(stretch(vec![77; 100], None), vec![77; 100], "a flat picture stays as it is");
    }

    /// What was kept of earlier runs is taken only while the same photograph gives the same bytes.
    #[test]
    fn another_way_of_converting_has_another_number() {
        let rgb: Vec<u8> = (0..64 * 48 * 3u32).map(|i| (40 + i * 31 % 150) as u8).collect();
        let mut jpeg = Vec::new();
        jpeg_encoder::Encoder::new(&mut jpeg, 90).encode(&rgb, 64, 48, jpeg_encoder::ColorType::Rgb).unwrap();
        let grey = grey_raster(&super::super::raster::read_jpeg(&jpeg).unwrap()).unwrap();
        let Pixels::Jpeg { bytes, .. } = grey.pixels else { panic!("a photograph stays a JPEG") };
        let digest: String = sha2::Sha256::digest(&bytes)[..8].iter().map(|b| format!("{b:02x}")).collect();
        assert_eq!((GREY_WAY, digest.as_str()), (1, "6032d058cb408b0a"), "raise GREY_WAY and set the digest anew");
    }
}
