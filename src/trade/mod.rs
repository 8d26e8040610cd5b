//! The trade's tables and algorithms, pure: signal words, designations, drills, fits.
//!
//! Owns: published values with their sources. Must not know: any manual.

mod bend;
mod blind_rivet;
mod cable;
mod cable_end;
mod ceiling;
mod cited;
mod decoded;
mod designation;
mod drill;
pub mod fit;
mod hole;
mod lock;
mod material;
mod pin_size;
mod profile;
mod safety;
mod series;
mod solid_rivet;
mod strength;
mod thread;
mod tool;
mod torque;
mod tube;
mod wire;

pub use bend::{BendRadius, bend_radius};
pub use blind_rivet::{BlindRivet, Grip};
pub use cable::{CableWire, cable_strength, cable_wire, proof_load};
pub use cable_end::{
    OvalSleeve, SleeveFault, SleeveMetal, cable_size, double_shear, oval_sleeve, sleeve_faults, sleeve_metal,
    turnbuckle_strength,
};
pub use ceiling::{Ceiling, Friction, UnderCeiling, Weakest, ceiling};
pub use cited::{Cited, Source};
pub use decoded::{Decoded, Drilled, GripRange, ItemForm, NutForm, RivetHead, WasherForm, Words};
pub use designation::{DesignationFault, NoSuch, Normalised, Undecoded, decode, normalise, read};
pub use drill::Drill;
pub use hole::{FastenerHole, ReamedHole, hole_for, reamed_hole};
pub use lock::{
    ELASTIC_LIMIT_F, JointPlace, JointUse, Load, LockFault, Locked, LockingNut, Motion, ThreadEnd, lock_faults,
    smallest_bolt, washer_of_another_size,
};
pub use material::{Family, MaterialFamily, Substance, density, family, material_family, substance};
pub use pin_size::{CotterFault, cotter_diameter, cotter_faults};
pub use profile::Profile;
pub use safety::SafetyWord;
pub use series::{of_its_size, of_series};
pub use solid_rivet::{
    RivetLength, Spacing, judge_rivet_length, rivet_dash, rivet_diameters, rivet_length, rivet_through_tube,
};
pub use strength::{Class, proof_load_of, reduced_head, stress_area};
pub use thread::Thread;
pub use tool::{ToolKind, ToolWords, tool_words};
pub use torque::{
    Against, Clamped, NoTableTorque, NutLoad, ThreadState, Torque, adds_run_down_drag, compare_torque, inch_pounds,
    newton_metres, nut_load, table_torque, torque, torque_for,
};
pub use tube::{Slide, SlideLimits, slide, tube_weight};
pub use wire::{Protector, WireSize, allowed_drop};

#[cfg(test)]
mod tests;
