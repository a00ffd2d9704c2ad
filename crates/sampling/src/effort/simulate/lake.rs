use super::super::EffortError;
use super::super::error::{above_zero, closed, positive};
use crate::frame::Frame;
use rstar::RTree;
use rstar::primitives::GeomWithData;
use units::{Metres, SquareMetres};

/// Places of a lake with the chance that each species grows there.
#[derive(Debug, Clone, PartialEq)]
pub struct VirtualLake {
    places: Vec<(f64, f64)>,
    depths: Vec<Option<Metres>>,
    side: f64,
    corner: (f64, f64),
    species: Vec<VirtualSpecies>,
}

/// A species of a virtual lake.
#[derive(Debug, Clone, PartialEq)]
pub struct VirtualSpecies {
    /// Its name.
    pub name: String,
    /// Chance that it grows at each place.
    pub chance: Vec<f64>,
    /// Chance of one throw to bring it up where it grows.
    pub detection: f64,
}

impl VirtualSpecies {
    /// Share of places where it grows, on average.
    pub fn frequency(&self) -> f64 {
        self.chance.iter().sum::<f64>() / self.chance.len().max(1) as f64
    }
}

/// Where a species grows by depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Habitat {
    /// Its name.
    pub name: String,
    /// Share of places at the best depth that have it.
    pub most: f64,
    /// Best depth.
    pub best: Metres,
    /// Standard deviation of the depths it grows at.
    pub spread: Metres,
    /// Chance of one throw to bring it up where it grows.
    pub detection: f64,
}

/// Where a species came up in a survey.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its name.
    pub name: String,
    /// Sites sampled: east, north, found or not.
    pub sites: Vec<(f64, f64, bool)>,
    /// Throws a site in that survey.
    pub throws: u32,
    /// Chance of one throw to bring it up where it grows.
    pub detection: f64,
}

/// Neighbouring sites a place takes its chance from.
const NEIGHBOURS: usize = 6;

impl VirtualLake {
    /// The water of a frame as about `n_places` places, without species yet; 5,000 are plenty.
    ///
    /// # Errors
    /// [`EffortError::NothingToSimulate`] when the frame holds no water.
    pub fn new(frame: &Frame<'_>, n_places: usize) -> Result<Self, EffortError> {
        let area = frame.area().square_metres();
        let side = (area / n_places.max(1) as f64).sqrt();
        let cells = if side > 0.0 { frame.cells(Metres::new(side)) } else { Vec::new() };
        if cells.is_empty() {
            return Err(EffortError::NothingToSimulate {
                what: "water where sites may lie",
                hint: "widen the depths or zones",
            });
        }
        let low = frame.region().bounds().min();
        Ok(Self {
            places: cells.iter().map(|cell| (cell.x, cell.y)).collect(),
            depths: cells.iter().map(|cell| cell.depth).collect(),
            side,
            corner: (low.x, low.y),
            species: Vec::new(),
        })
    }

    /// Adds a species that grows everywhere with one chance.
    ///
    /// # Errors
    /// A chance outside 0..=1.
    pub fn with_even(
        mut self,
        name: &str,
        frequency: f64,
        detection: f64,
    ) -> Result<Self, EffortError> {
        let chance = closed("share of places with the species", frequency)?;
        let detection = positive("chance of one throw", detection)?;
        let chance = vec![chance; self.places.len()];
        self.species.push(VirtualSpecies { name: name.to_owned(), chance, detection });
        Ok(self)
    }

    /// Adds a species by its habitat.
    ///
    /// # Formula
    /// At depth d the chance is `most · exp(−(d − best)² / (2·spread²))`; 0 where the depth is not known.
    /// # Errors
    /// A chance outside 0..=1, a spread that is not above 0, a lake without depths.
    pub fn with_habitat(mut self, habitat: &Habitat) -> Result<Self, EffortError> {
        let most = closed("share of places with the species", habitat.most)?;
        let detection = positive("chance of one throw", habitat.detection)?;
        let spread = above_zero("spread of depths", habitat.spread.metres())?;
        if self.depths.iter().all(Option::is_none) {
            return Err(EffortError::NothingToSimulate {
                what: "depths",
                hint: "add depths, or draw the virtual surveys from the last survey's pattern",
            });
        }
        let best = habitat.best.metres();
        let chance = self
            .depths
            .iter()
            .map(|depth| {
                depth.map_or(0.0, |depth| {
                    most * (-((depth.metres() - best) / spread).powi(2) / 2.0).exp()
                })
            })
            .collect();
        self.species.push(VirtualSpecies { name: habitat.name.clone(), chance, detection });
        Ok(self)
    }

    /// Adds a species by its habitat, scaled so that it grows at a share of all places. Where the scale would pass 1
    /// it is capped and the other places take the rest.
    ///
    /// # Errors
    /// As [`VirtualLake::with_habitat`].
    pub fn with_habitat_at(self, habitat: &Habitat, frequency: f64) -> Result<Self, EffortError> {
        let wanted = closed("share of places with the species", frequency)?;
        let mut lake = self.with_habitat(&Habitat { most: 1.0, ..habitat.clone() })?;
        if let Some(species) = lake.species.last_mut() {
            let mean = species.frequency();
            if mean <= 0.0 {
                return Err(EffortError::NothingToSimulate {
                    what: "place at the depths this species grows at",
                    hint: "give a best depth the lake has, or a wider spread of depths",
                });
            }
            let scaled = species.chance.iter().map(|chance| chance * wanted / mean).collect();
            species.chance = capped(scaled);
        }
        Ok(lake)
    }

    /// Adds a species by where it came up in a survey.
    ///
    /// # Formula
    /// A place takes the share found among its six nearest sites, each weighing `1/(d² + d₀²)`
    /// with d₀ the distance of a site to its nearest neighbour on average, over `1 − (1 − p)^K`, at most
    /// 1: what the rake missed is added again. What the cap cuts off is given to the other places in proportion, so
    /// that the frequency over the lake stays.
    /// # Errors
    /// A chance outside 0..=1, no sites.
    pub fn with_pattern(mut self, pattern: &Pattern) -> Result<Self, EffortError> {
        let detection = positive("chance of one throw", pattern.detection)?;
        let seen = 1.0 - (1.0 - detection).powi(pattern.throws.max(1) as i32);
        if pattern.sites.is_empty() {
            return Err(EffortError::NothingToSimulate {
                what: "sites in the last survey",
                hint: "choose a survey with sampled sites, or give habitats by depth",
            });
        }
        let tree = RTree::bulk_load(
            pattern
                .sites
                .iter()
                .map(|&(x, y, found)| GeomWithData::new([x, y], found))
                .collect::<Vec<_>>(),
        );
        let apart: f64 = pattern
            .sites
            .iter()
            .filter_map(|&(x, y, _)| tree.nearest_neighbor_iter_with_distance_2(&[x, y]).nth(1))
            .map(|(_, square)| square.sqrt())
            .sum::<f64>()
            / pattern.sites.len() as f64;
        let softening = (apart * apart).max(1.0);
        let chance = self
            .places
            .iter()
            .map(|&(x, y)| {
                let (mut found, mut all) = (0.0, 0.0);
                for (site, square) in
                    tree.nearest_neighbor_iter_with_distance_2(&[x, y]).take(NEIGHBOURS)
                {
                    let weight = 1.0 / (square + softening);
                    all += weight;
                    found += weight * f64::from(u8::from(site.data));
                }
                found / all / seen
            })
            .collect();
        let chance = capped(chance);
        self.species.push(VirtualSpecies { name: pattern.name.clone(), chance, detection });
        Ok(self)
    }

    /// Its species.
    pub fn species(&self) -> &[VirtualSpecies] {
        &self.species
    }

    /// Its places.
    pub fn places(&self) -> &[(f64, f64)] {
        &self.places
    }

    /// The place nearest to each point.
    pub(crate) fn nearest_places(&self, points: &[(f64, f64)]) -> Vec<u32> {
        let entries: Vec<GeomWithData<[f64; 2], u32>> = self
            .places
            .iter()
            .enumerate()
            .map(|(index, &(x, y))| GeomWithData::new([x, y], index as u32))
            .collect();
        let tree = RTree::bulk_load(entries);
        let nearest = |&(x, y): &(f64, f64)| tree.nearest_neighbor(&[x, y]).map(|one| one.data);
        points.iter().filter_map(nearest).collect()
    }

    /// Area of its places.
    pub fn area(&self) -> SquareMetres {
        SquareMetres::new(self.places.len() as f64 * self.side * self.side)
    }

    /// Side of the square a place stands for.
    pub(crate) fn side(&self) -> f64 {
        self.side
    }

    /// Column and row of the square that holds a point.
    pub(crate) fn square(&self, x: f64, y: f64) -> (i64, i64) {
        (
            ((x - self.corner.0) / self.side).floor() as i64,
            ((y - self.corner.1) / self.side).floor() as i64,
        )
    }
}

/// Brings chances above 1 down to 1 and raises the others in proportion, the sum kept where it can be.
fn capped(mut chance: Vec<f64>) -> Vec<f64> {
    let wanted: f64 = chance.iter().sum();
    for _ in 0..50 {
        for value in &mut chance {
            *value = value.min(1.0);
        }
        let full = chance.iter().filter(|value| **value >= 1.0).count() as f64;
        let rest: f64 = chance.iter().filter(|value| **value < 1.0).sum();
        let scale = (wanted - full) / rest;
        if rest <= 0.0 || scale <= 1.0 + 1e-9 {
            break;
        }
        for value in chance.iter_mut().filter(|value| **value < 1.0) {
            *value *= scale;
        }
    }
    for value in &mut chance {
        *value = value.min(1.0);
    }
    chance
}
