use serde::Serialize;
use utoipa::ToSchema;

/// The lake books of a folder.
#[derive(Debug, Clone, Default, Serialize, ToSchema)]
pub struct ShelfView {
    /// Name of the folder; none when this server has one book and no folder.
    pub folder: Option<String>,
    /// Its books, by file name.
    pub books: Vec<ShelfBookView>,
}

/// A lake book among others.
#[derive(Debug, Clone, Default, Serialize, ToSchema)]
pub struct ShelfBookView {
    /// Its file, which is its name in the address.
    pub file: String,
    /// Name of the lake.
    pub name: String,
    /// State or region code; empty when none.
    pub region: String,
    /// Number of surveys.
    pub surveys: usize,
    /// Last write, RFC 3339 in UTC.
    pub last_write: Option<String>,
    /// Why it cannot be opened; empty when it can.
    pub problem: String,
}
