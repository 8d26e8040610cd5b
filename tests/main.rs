//! The integration tests, by subject.

mod architecture;
mod bad_input;
mod changes;
mod cli;
mod commonmark;
mod crash;
mod dependencies;
mod fasteners;
mod large;
mod mistakes;
mod outputs;
mod outside;
mod paged;
mod published;
mod random;
mod readme;
mod seeds;
mod stick;
mod words;
mod workbook;

#[path = "benches/synthetic.rs"]
mod synthetic;
