//! sampling
