//! The integration tests, by subject.

mod architecture;
mod cli;
mod outside;
mod random;
