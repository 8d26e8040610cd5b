//! Names of things. Each kind is a type of its own, so that a step's id is never taken for a part number.

use std::cmp::Ordering;
use std::sync::Arc;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => { $(
        $(#[$doc])*
        ///
        /// Ordered naturally: digits compare as numbers.
        #[derive(Clone, Debug, PartialEq, Eq, Hash)]
        pub struct $name(Arc<str>);

        impl $name {
            pub fn new(text: impl AsRef<str>) -> Self {
                Self(text.as_ref().into())
            }

            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self::new(text)
            }
        }

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> Ordering {
                super::natural_cmp(&self.0, &other.0)
            }
        }

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                Some(self.cmp(other))
            }
        }
    )* };
}

ids! {
    /// The number of a part in the bill of materials.
    PartNumber;
    /// The designation of an item of hardware.
    Designation;
    /// The permanent id of a step.
    StepId;
    /// The id of a section.
    SectionId;
    /// The file name of a figure, relative to the figures folder.
    FigureName;
    /// The id of a tool.
    ToolId;
    /// The id of a consumable.
    ConsumableId;
    /// The id of an assembly.
    AssemblyId;
    /// The name of a variant.
    VariantName;
    /// The name of an option.
    OptionName;
    /// The id of a stock item.
    StockId;
}
