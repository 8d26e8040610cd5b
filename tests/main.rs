//! The integration tests, by subject.

mod architecture;
mod outside;
mod random;
