//! What the columns of a file of records mean, kept for the next file of the same shape.

use crate::canonical::sha256_hex;

/// A column map the book remembers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptColumns {
    /// Headers in their order, lower case, as a reader without any map finds them.
    pub headers: Vec<String>,
    /// Those of the headers that name a plant: they may differ from year to year.
    pub plants: Vec<String>,
    /// Row of the header, from 1.
    pub header_row: u32,
    /// The column map, TOML.
    pub map: String,
    /// File it was last used for.
    pub source_file: String,
    /// Survey that file was recorded into.
    pub survey: String,
    /// When, ISO.
    pub kept_at: String,
}

impl KeptColumns {
    /// Its key: a checksum of the headers that are no plants, whatever their order.
    pub(crate) fn key(&self) -> String {
        let mut fixed: Vec<&str> = self
            .headers
            .iter()
            .filter(|header| !self.plants.contains(header))
            .map(String::as_str)
            .collect();
        fixed.sort_unstable();
        sha256_hex(fixed.join("\n").as_bytes())
    }
}
