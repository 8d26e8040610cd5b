//! The integration tests, by subject.

mod architecture;
mod cli;
mod fasteners;
mod outside;
mod random;
