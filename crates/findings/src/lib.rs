//! findings
