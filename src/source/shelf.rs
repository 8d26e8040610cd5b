//! What is kept between runs so that it need not be made again: the `Shelf` trait.

/// Keeps what was made of pictures, by a key that names what it was made from and how. Only a saving of time: what is
/// kept may vanish at any moment, and the output is the same with it and without.
pub trait Shelf: Sync {
    /// What was kept under a key, whole and as it was put there; none where there is any doubt.
    fn get(&self, key: &str) -> Option<Vec<u8>>;

    /// Keeps bytes under a key: letters, digits, `-` and `.`. That it can't be done is no fault.
    fn put(&self, key: &str, bytes: &[u8]);
}
