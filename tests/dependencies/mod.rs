//! What the program is built from: the crates' licences, versions that are there twice, and the notices that go on a
//! stick. All of it is read from `cargo metadata`.
//!
//! These are tests in Rust and no script beside them: they read `Cargo.lock` as cargo itself does, share the table of
//! places with the tests of the code's shape, and are written anew with the same `KITWRIGHT_BLESS=1`.

mod doubled;
mod licences;
pub mod metadata;
mod notices;
mod texts;
