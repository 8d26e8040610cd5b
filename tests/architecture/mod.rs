//! The shape of the code: which module may know which, and what only one place may use.

mod layers;
mod places;
mod rust_text;
