//! Benchmarks live in a crate of their own so that their dependencies never touch the product.
