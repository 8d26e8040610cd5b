//! PNG: size, and whether the picture is whole (ISO/IEC 15948).
//!
//! Owns: reading a PNG under limits. Must not know: where it is shown.

use super::FigureFault;
use super::probe::MOST_PIXELS;

/// The size of a PNG in pixels. The whole picture is read, a row at a time, and its check sums with it.
pub(super) fn read(bytes: &[u8]) -> Result<(u32, u32), FigureFault> {
    // The size stands at a fixed place in the first chunk; a size beyond the limit is refused before anything is read.
    let number = |at: usize| bytes.get(at..at + 4).map(|b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]));
    let (Some(width), Some(height)) = (number(16), number(20)) else { return Err(FigureFault::broken("PNG")) };
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(FigureFault::too_large(width.into(), height.into()));
    }
    let broken = |_| FigureFault::broken("PNG");
    let limits = png::Limits { bytes: 64 << 20 };
    let decoder = png::Decoder::new_with_limits(std::io::Cursor::new(bytes), limits);
    let mut reader = decoder.read_info().map_err(broken)?;
    while reader.next_row().map_err(broken)?.is_some() {}
    reader.finish().map_err(broken)?;
    if reader.info().animation_control().is_some() {
        return Err(FigureFault::new("the picture moves, and paper does not", "save one frame of it as PNG"));
    }
    Ok((width, height))
}
