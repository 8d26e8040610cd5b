//! How thick a stack is that a bolt goes through.
//!
//! Right through a tube the bolt spans its outside diameter, not two walls; of tubes that slide into each other only
//! the outermost counts.

use crate::units::Length;

/// A part of a stack, from the head on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// A flat part, a spacer or a bushing: its thickness or length.
    Flat(Length),
    /// One wall of a tube.
    Wall(Length),
    /// Right through a tube. Without a wall nothing is known to be inside of it.
    Tube { outside_diameter: Length, wall: Option<Length> },
}

/// How a layer counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedAs {
    As(Length),
    /// It slides in the tube at this place of the stack, and that one counts.
    Inside(usize),
}

/// A stack that was added up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stack {
    pub thickness: Length,
    /// For each layer, in order; a document says it, so that the reader can see what was taken for nested.
    pub layers: Vec<CountedAs>,
}

/// The largest diametral clearance of a tube that slides in the next one (common practice: the next eighth of an
/// inch down in the thinnest usual wall has .055 in). A tube that is looser in it is taken to stand beside it.
const SLIDING: (i64, i64) = (1, 16);

impl Stack {
    /// Adds up a stack.
    ///
    /// ```
    /// use kitwright::trade::fit::{Layer, Stack};
    /// use kitwright::units::Length;
    /// let inches = |text| Length::parse(text).unwrap();
    /// let tube = |od| Layer::Tube { outside_diameter: inches(od), wall: Some(inches(".058")) };
    /// let gusset = Layer::Flat(inches(".090"));
    /// assert_eq!(Stack::of(&[gusset, tube("1.250"), tube("1.125"), gusset]).thickness, inches("1.430"));
    /// ```
    pub fn of(layers: &[Layer]) -> Self {
        let counted: Vec<_> = layers.iter().enumerate().map(|(at, &layer)| count(layers, at, layer)).collect();
        let thickness = counted
            .iter()
            .map(|counted| match counted {
                CountedAs::As(thickness) => *thickness,
                CountedAs::Inside(_) => Length::ZERO,
            })
            .sum();
        Self { thickness, layers: counted }
    }
}

fn count(layers: &[Layer], at: usize, layer: Layer) -> CountedAs {
    let outside_diameter = match layer {
        Layer::Flat(thickness) | Layer::Wall(thickness) => return CountedAs::As(thickness),
        Layer::Tube { outside_diameter, .. } => outside_diameter,
    };
    let neighbours = [at.checked_sub(1), Some(at + 1)];
    let around = neighbours.into_iter().flatten().find(|&other| match layers.get(other) {
        Some(&Layer::Tube { outside_diameter: outer, wall: Some(wall) }) => {
            let clearance = outer - wall * 2 - outside_diameter;
            clearance >= Length::ZERO && clearance <= Length::inches(SLIDING.0, SLIDING.1)
        }
        _ => false,
    });
    around.map_or(CountedAs::As(outside_diameter), CountedAs::Inside)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> Length {
        Length::parse(text).expect(text)
    }

    fn tube(outside_diameter: &str, wall: &str) -> Layer {
        let wall = (!wall.is_empty()).then(|| inches(wall));
        Layer::Tube { outside_diameter: inches(outside_diameter), wall }
    }

    /// A 1 1/4 x .058 tube is 1.250 to a bolt right through it; nested tubes count the outer diameter once.
    #[test]
    fn tubes_count_their_outside_once() {
        for (layers, thickness) in [
            (vec![tube("1.25", ".058")], "1.25"),
            (vec![tube("1.25", ".058"), tube("1.125", ".058")], "1.25"),
            (vec![tube("1.125", ".058"), tube("1.25", ".058")], "1.25"),
            (vec![tube("1.25", ".058"), tube("1.125", ".058"), tube("1", ".058")], "1.25"),
            // Side by side: as large, too large to go in, or far too loose to be a sleeve.
            (vec![tube("1.25", ".058"), tube("1.25", ".058")], "2.5"),
            (vec![tube("1.25", ".065"), tube("1.125", ".058")], "2.375"),
            (vec![tube("1.5", ".058"), tube("3/4", ".058")], "2.25"),
            // Apart, or with an unknown wall.
            (vec![tube("1.25", ".058"), Layer::Flat(inches("1/8")), tube("1.125", ".058")], "2.5"),
            (vec![tube("1.25", ""), tube("1.125", ".058")], "2.375"),
            (vec![Layer::Wall(inches(".058")), Layer::Flat(inches(".063"))], ".121"),
            (vec![], "0"),
        ] {
            assert_eq!(Stack::of(&layers).thickness, inches(thickness), "{layers:?}");
        }
    }

    #[test]
    fn what_is_nested_is_said() {
        let stack = Stack::of(&[Layer::Flat(inches(".09")), tube("1.125", ".058"), tube("1.25", ".058")]);
        assert_eq!(stack.layers[1], CountedAs::Inside(2));
        assert_eq!(stack.layers[2], CountedAs::As(inches("1.25")));
    }
}
