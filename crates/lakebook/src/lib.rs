//! lakebook
