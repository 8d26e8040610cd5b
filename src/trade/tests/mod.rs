//! Tests of the tables against their publications.

mod bolts;
mod designations;
mod fits;
mod strengths;
mod tables;

/// The rows of a table in `published/`, without its source line and its head.
pub(super) fn rows(table: &'static str) -> Vec<Vec<&'static str>> {
    let rows: Vec<_> =
        table.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect()).collect();
    assert!(!rows.is_empty());
    rows
}
