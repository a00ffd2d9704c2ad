//! Times the heavy parts of the crate on made-up squares of water.
//! Run with `cargo run --release -p sampling --example speed`.
#![expect(clippy::print_stdout, reason = "an example talks to its reader")]

use sampling::design::{local_pivotal, tessellation};
use std::time::Instant;

fn main() {
    for (n_cells, limit) in [(100_000_usize, "60 ms"), (1_000_000, "1.5 s")] {
        let side = (n_cells as f64).sqrt() as usize;
        let cells: Vec<(f64, f64)> =
            (0..n_cells).map(|k| ((k % side) as f64, (k / side) as f64)).collect();
        let chances = vec![1_000.0 / n_cells as f64; n_cells];
        for seed in 0..3 {
            let start = Instant::now();
            let n_sites = local_pivotal(&cells, &chances, seed).len();
            let took = start.elapsed();
            println!("local pivotal: {n_sites} of {n_cells} cells in {took:?} (aim under {limit})");
        }
        let start = Instant::now();
        let n_sites = tessellation(&cells, &chances, 1).len();
        println!("tessellation: {n_sites} of {n_cells} cells in {:?}", start.elapsed());
    }
}
