//! Links in the text of a step to what the step itself says in its front matter.
//!
//! Must not know: what is printed of it.

use super::hardware::words;

words! {
    /// What such a link names, and what for: the first eight tie an action to its data, the others print a value of it.
    OwnLink {
        Joint = "joint",
        Hole = "hole",
        Cut = "cut",
        Bend = "bend",
        Cable = "cable",
        Bond = "bond",
        Wire = "wire",
        Measure = "measure",
        Torque = "torque",
        Drill = "drill",
        Length = "length",
        Angle = "angle",
        Count = "count",
        Target = "target",
    }
}

impl OwnLink {
    /// The kind and the name of a destination like `joint:keel-bolt`; none where it names something else.
    pub fn of(to: &str) -> Option<(Self, &str)> {
        let (scheme, name) = to.split_once(':')?;
        let kind = Self::ALL.iter().copied().find(|k| k.word() == scheme)?;
        Some((kind, name))
    }

    /// Whether the value itself is printed.
    pub fn prints(self) -> bool {
        matches!(self, Self::Torque | Self::Drill | Self::Length | Self::Angle | Self::Count | Self::Target)
    }
}
