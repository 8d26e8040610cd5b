//! Directions around a tube.

/// Sine and cosine of an angle in degrees, exact at the quarters, so that 12, 3, 6 and 9 o'clock are.
pub(super) fn turn(degrees: f64) -> (f64, f64) {
    let degrees = degrees.rem_euclid(360.0);
    match degrees {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        _ => (libm::sin(degrees.to_radians()), libm::cos(degrees.to_radians())),
    }
}
