//! Grey photographs, kept for the configurations that follow in the same run.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use crate::emit::pdf;

/// A shelf in memory.
#[derive(Debug, Default)]
pub(super) struct Shelf {
    kept: Mutex<BTreeMap<String, Vec<u8>>>,
}

impl pdf::Shelf for Shelf {
    fn get(&self, key: &str) -> Option<Vec<u8>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned()
    }

    fn put(&self, key: &str, bytes: &[u8]) {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner).insert(key.to_owned(), bytes.to_vec());
    }
}
