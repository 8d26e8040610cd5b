//! Tubes that slide into each other.

use crate::units::Length;

/// Diametral clearance of a tube inside another: bore less outside diameter, less `finish` on each of the four
/// surfaces that face each other (two walls, both sides). Negative where it does not go in.
pub fn clearance(inside_diameter: Length, outside_diameter: Length, wall: Length, finish: Length) -> Length {
    outside_diameter - wall * 2 - inside_diameter - finish * 4
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed: the next 1/8 in size down has .125 - 2 t.
    #[test]
    fn the_next_size_down_has_what_the_wall_leaves() {
        for (wall, expected) in [(".035", ".055"), (".049", ".027"), (".058", ".009"), (".065", "-.005")] {
            let inches = |text: &str| Length::parse(text).expect(text);
            let found = clearance(inches("1 1/8"), inches("1 1/4"), inches(wall), Length::ZERO);
            assert_eq!(found, inches(expected), "{wall}");
        }
    }

    #[test]
    fn finish_takes_from_both_sides_of_both_tubes() {
        let inches = |text: &str| Length::parse(text).expect(text);
        assert_eq!(clearance(inches("1"), inches("1 1/8"), inches(".058"), inches(".001")), inches(".005"));
    }
}
