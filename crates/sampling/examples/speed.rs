//! Times the heavy parts of the crate on made-up squares of water.
//! Run with `cargo run --release -p sampling --example speed`.
#![expect(clippy::print_stdout, reason = "an example talks to its reader")]

use geo_types::{MultiPolygon, Rect, coord};
use sampling::Frame;
use sampling::design::{local_pivotal, tessellation};
use sampling::effort::simulate::{Aim, Simulation, VirtualLake, Watch, simulate};
use std::time::Instant;

fn main() {
    for (n_cells, limit) in [(10_000_usize, "6 ms"), (100_000, "60 ms"), (1_000_000, "1.5 s")] {
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
    let water: MultiPolygon<f64> =
        Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 1_500.0, y: 900.0 }).to_polygon().into();
    let made = Frame::new(water).map(|frame| VirtualLake::new(&frame, 5_000));
    let Ok(Ok(mut lake)) = made else { return };
    for k in 0..20_u8 {
        match lake.with_even("species", 0.02 * f64::from(k + 1), 0.63) {
            Ok(more) => lake = more,
            Err(error) => return println!("{error}"),
        }
    }
    for aim in [Aim::Richness { share: 0.9 }, Aim::Estimate { species: 7, margin: 0.05 }] {
        let simulation =
            Simulation { runs: 10_000, threads: 2, ..Simulation::new(aim, vec![200], 1) };
        let start = Instant::now();
        match simulate(&lake, &simulation, Watch::default()) {
            Ok(result) => println!(
                "10,000 surveys of 200 sites, 20 species, {aim:?}: chance {:.3} in {:?} (aim under 5 s)",
                result.efforts[0].chance,
                start.elapsed()
            ),
            Err(error) => println!("{error}"),
        }
    }
}
