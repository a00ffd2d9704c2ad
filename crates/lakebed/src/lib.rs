//! lakebed
