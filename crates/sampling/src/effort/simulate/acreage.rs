//! A virtual bed, the grid laid over it, and what the grid makes of its acreage and edge.

use super::VirtualLake;
use crate::effort::bed_grid_spacing;
use crate::random::Draw;
use std::collections::HashSet;
use units::SquareMetres;

/// Fine points across the box round a bed, for its true area and the fault of its edge.
const FINE: usize = 40;
/// Waves of the edge of a bed; each is this share of the radius at most.
const WAVES: [f64; 4] = [0.0, 0.12, 0.08, 0.05];
/// A bed is about so many times as long as wide.
const RATIO: f64 = 2.0;

/// A grid over virtual beds, made ready.
#[derive(Debug)]
pub(crate) struct Acreage {
    area: f64,
    margin: f64,
    seen: f64,
    water: HashSet<(i64, i64)>,
}

/// What one grid made of one bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Measured {
    /// Acreage by the grid over the true one.
    pub(crate) ratio: f64,
    /// How far the drawn edge lies from the true one on average, metres.
    pub(crate) edge: f64,
    /// Within the margin.
    pub(crate) success: bool,
}

/// An oblong bed with a wavy edge.
struct Bed {
    middle: (f64, f64),
    sin_cos: (f64, f64),
    radius: f64,
    waves: [(f64, f64); 4],
}

impl Bed {
    /// Draws a bed of an area, turned at random.
    fn draw(area: f64, middle: (f64, f64), draw: &mut Draw) -> Self {
        let sin_cos = (draw.unit() * std::f64::consts::TAU).sin_cos();
        let waves = WAVES.map(|most| (most * draw.unit(), draw.unit() * std::f64::consts::TAU));
        // the waves add half the sum of their squares to the area of the unit circle
        let swell = 1.0 + waves.iter().map(|(size, _)| size * size / 2.0).sum::<f64>();
        Self { middle, sin_cos, radius: (area / std::f64::consts::PI / swell).sqrt(), waves }
    }

    fn edge(&self, angle: f64) -> f64 {
        let waves = self.waves.iter().zip(2_u8..);
        let sum: f64 = waves
            .map(|((size, shift), number)| size * (f64::from(number) * angle + shift).cos())
            .sum();
        self.radius * (1.0 + sum)
    }

    /// The bed is a wavy circle drawn out to twice its width.
    fn holds(&self, x: f64, y: f64) -> bool {
        let (x, y) = (x - self.middle.0, y - self.middle.1);
        let (sin, cos) = self.sin_cos;
        let (along, across) =
            ((x * cos + y * sin) / RATIO.sqrt(), (y * cos - x * sin) * RATIO.sqrt());
        let away = along.hypot(across);
        away < 0.7 * self.radius
            || (away < 1.3 * self.radius && away < self.edge(across.atan2(along)))
    }

    /// How far it reaches from its middle.
    fn reach(&self) -> f64 {
        1.3 * self.radius * RATIO.sqrt()
    }

    fn perimeter(&self) -> f64 {
        let (sin, cos) = self.sin_cos;
        let corner = |k: u32| {
            let angle = f64::from(k) / 96.0 * std::f64::consts::TAU;
            let edge = self.edge(angle);
            let (along, across) =
                (edge * angle.cos() * RATIO.sqrt(), edge * angle.sin() / RATIO.sqrt());
            (along * cos - across * sin, along * sin + across * cos)
        };
        (0..96)
            .map(|k| {
                let (a, b) = (corner(k), corner(k + 1));
                (a.0 - b.0).hypot(a.1 - b.1)
            })
            .sum()
    }
}

impl Acreage {
    pub(crate) fn new(lake: &VirtualLake, area: SquareMetres, margin: f64, seen: f64) -> Self {
        let water = lake.places().iter().map(|&(x, y)| lake.square(x, y)).collect();
        Self { area: area.square_metres(), margin, seen, water }
    }

    /// Draws a bed somewhere in the water, lays a grid of about so many points on and around it, and measures it.
    pub(crate) fn measure(&self, lake: &VirtualLake, n_sites: usize, draw: &mut Draw) -> Measured {
        let places = lake.places();
        let middle = places[draw.below(places.len())];
        let bed = Bed::draw(self.area, middle, draw);
        let grows = |x: f64, y: f64| bed.holds(x, y) && self.water.contains(&lake.square(x, y));
        let spacing = bed_grid_spacing(SquareMetres::new(self.area), n_sites);
        let (sin, cos) = (draw.unit() * std::f64::consts::TAU).sin_cos();
        let origin = (draw.unit() * spacing, draw.unit() * spacing);
        let reach = bed.reach();
        let half = (reach / spacing).ceil() as i64 + 2;
        let width = (2 * half + 1) as usize;
        let mut found = vec![false; width * width];
        let mut hits = 0_u32;
        for row in -half..=half {
            for column in -half..=half {
                let (u, v) = (column as f64 * spacing + origin.0, row as f64 * spacing + origin.1);
                let (x, y) = (middle.0 + u * cos - v * sin, middle.1 + u * sin + v * cos);
                if grows(x, y) && draw.chance(self.seen) {
                    hits += 1;
                    found[(row + half) as usize * width + (column + half) as usize] = true;
                }
            }
        }
        // the bed as drawn: the squares round the points where the plant came up
        let drawn = |x: f64, y: f64| {
            let (x, y) = (x - middle.0, y - middle.1);
            let (u, v) = (x * cos + y * sin - origin.0, y * cos - x * sin - origin.1);
            let (column, row) = ((u / spacing).round() as i64, (v / spacing).round() as i64);
            column.abs() <= half
                && row.abs() <= half
                && found[(row + half) as usize * width + (column + half) as usize]
        };
        let step = 2.0 * (reach + spacing) / FINE as f64;
        let (mut inside, mut wrong) = (0_u32, 0_u32);
        for row in 0..FINE {
            for column in 0..FINE {
                let x = middle.0 + (column as f64 + 0.5 - FINE as f64 / 2.0) * step;
                let y = middle.1 + (row as f64 + 0.5 - FINE as f64 / 2.0) * step;
                let (there, shown) = (grows(x, y), drawn(x, y));
                inside += u32::from(there);
                wrong += u32::from(there != shown);
            }
        }
        let truth = f64::from(inside.max(1)) * step * step;
        // throws that miss the plant are made up for by their known share
        let ratio = f64::from(hits) * spacing * spacing / self.seen / truth;
        Measured {
            ratio,
            edge: f64::from(wrong) * step * step / bed.perimeter(),
            success: (ratio - 1.0).abs() <= self.margin,
        }
    }
}
