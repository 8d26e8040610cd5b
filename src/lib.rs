//! kitwright: a compiler for build manuals.
//!
//! Sources in, checks, then the documents of every configuration out. The stages are modules, each with
//! one public function or few: load, parse, lower, resolve, check, compose, emit.

pub mod action;
pub mod change;
pub mod check;
pub mod cli;
pub mod compile;
pub mod diag;
pub mod document;
pub mod drawing;
pub mod emit;
pub mod figure;
pub mod geometry;
pub mod joint;
pub mod layout;
pub mod model;
pub mod plan;
pub mod resolve;
pub mod source;
pub mod syntax;
pub mod trade;
pub mod typeface;
pub mod units;
