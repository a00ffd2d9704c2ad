//! The steps of the job as functions: what the command line and the server both do.

pub mod views;
