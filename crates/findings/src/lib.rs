//! What a survey found, and what may be said about it.
//!
//! The arithmetic stands in [`stats`], one family of methods a file, each with its formula, its
//! source and the published figures it reproduces. Nothing here reads a file, asks for the time or
//! draws a random number of its own.

pub mod stats;
