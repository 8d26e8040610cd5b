//! The manual as typed values: what the author wrote, with spans, before any configuration is made.
//!
//! Owns: settings, parts, hardware, stock, steps, pages, kits, and lowering them from the trees.
//! Must not know: configurations, numbering, documents.

mod bend;
mod bond;
mod cable;
mod hardware;
mod joint_kind;
mod lower;
mod manual;
mod opposite;
mod own_link;
mod part;
mod reference;
mod replaced;
mod roles;
pub mod schema;
mod setting_out;
mod settings;
mod step;
mod wire;

pub use bend::{BendUse, Flattened};
pub use bond::{Adhesive, Bond, Cure, CureState, Cured, RatioBy};
pub use cable::{CableEnd, CableFor, CableKind, CableLead, CableUse, Guide, GuideKind, ThreadHand};
pub(crate) use hardware::words;
pub use hardware::{Hardware, HardwareKind, Stock, StockShape};
pub use joint_kind::{JointKind, JointKinds};
pub use lower::{Read, read, read_after};
pub use manual::{Accept, Approval, Deviation, DeviationKind, Kit, KitPlace, Manual, Page, PageKind};
pub use opposite::{Sides, Unclear, UnclearKind, sides, step_units, unclear};
pub use own_link::OwnLink;
pub use part::{Interchange, Interchangeable, ListedHole, MadeBy, Part, QuantityCell, Supplied, WhenRemoved};
pub use reference::{reference, reference_sections};
pub use replaced::{hardware_now, part_now};
pub use roles::{RolePart, RoleUse, Roles};
pub use setting_out::{DrilledFrom, Offset, OneJig, Side, other_face};
pub use settings::{
    Configured, DecidedBy, Fastening, NeutralAxis, OptionDef, OptionGroup, Section, Settings, SignalWords, Spare,
    USABLE_NAME, VariantDef, is_usable_name,
};
pub use step::*;
pub use wire::{WayBack, Wire};
