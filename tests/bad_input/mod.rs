//! Bad input, one thing at a time: what is said, where, how the program ends, and that nothing is half written.
//!
//! What concerns folders, limits and writing stands in `cli`.

mod desk;
mod limits;
mod pictures;
mod tables;
mod texts;
