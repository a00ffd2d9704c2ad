//! A question about effort as asked by a command or a screen: plain values, SI units in their names.

use super::EffortRequest;
use crate::error::{Error, Result};
use serde::Deserialize;
use units::{Metres, SquareMetres};
use utoipa::IntoParams;

/// A question about effort; what is left out takes the usual value of the purpose.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, IntoParams)]
#[serde(default, deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct EffortAsk {
    /// `richness`, `detect`, `estimate`, `change`, `delineate` or `treatment`.
    pub purpose: String,
    /// Share of sites where the species grows, 0 to 1.
    pub occupancy: Option<f64>,
    /// Chance of one throw to bring the plant up where it grows, 0 to 1.
    pub detection: Option<f64>,
    /// Throws a site.
    pub throws: Option<u32>,
    /// Confidence, 0 to 1.
    pub confidence: Option<f64>,
    /// Margin of the frequency, or relative margin of a bed's acreage, 0 to 1.
    pub margin: Option<f64>,
    /// Share of sites before, 0 to 1.
    pub from: Option<f64>,
    /// Share of sites after, 0 to 1.
    pub to: Option<f64>,
    /// Chance to show the change if it is there, 0 to 1.
    pub power: Option<f64>,
    /// Area of the bed to be found or measured.
    pub patch_area_m2: Option<f64>,
    /// A number of sites to judge.
    pub sites: Option<usize>,
    /// Numbers of sites the virtual surveys try, separated by commas; those around the formula's when left out.
    pub numbers: Option<String>,
    /// Species whose pattern in the last survey the virtual surveys draw from, by code.
    pub species: Option<String>,
    /// Depth the species likes best; together with `depth_spread_m`.
    pub best_depth_m: Option<f64>,
    /// Standard deviation of the depths it grows at.
    pub depth_spread_m: Option<f64>,
    /// Survey whose pattern of plants the virtual surveys draw from.
    pub survey: Option<String>,
    /// Shallow limit of the water asked about; the lake's littoral limit when left out.
    pub min_depth_m: Option<f64>,
    /// Deep limit.
    pub max_depth_m: Option<f64>,
    /// Zones asked about, by code, separated by commas.
    pub zones: Option<String>,
    /// Virtual surveys for each number of sites: 0 for the formula alone, 400 for a quick look, 2,000 or more for
    /// an answer to keep. 400 when left out.
    pub runs: Option<usize>,
    /// Draws the virtual surveys; 1 when left out.
    pub seed: Option<u64>,
}

/// Virtual surveys of a quick look.
const QUICK_LOOK: usize = 400;

/// Words separated by commas, blanks round them left off.
fn words(text: Option<&str>) -> impl Iterator<Item = &str> {
    text.unwrap_or_default().split(',').map(str::trim).filter(|word| !word.is_empty())
}

impl EffortAsk {
    /// What is asked, in the program's own words.
    ///
    /// # Errors
    /// A purpose nobody knows, numbers that are none, half a habitat.
    pub fn request(&self) -> Result<EffortRequest> {
        let numbers = words(self.numbers.as_deref())
            .map(|word| {
                word.parse::<usize>()
                    .ok()
                    .filter(|number| (1..=100_000).contains(number))
                    .ok_or_else(|| {
                        Error::input(format!("`{word}` is no number of sites"))
                            .hint("give whole numbers separated by commas, such as `30,60,90`")
                    })
            })
            .collect::<Result<Vec<usize>>>()?;
        let habitat = match (self.best_depth_m, self.depth_spread_m) {
            (Some(best), Some(spread)) => Some((Metres::new(best), Metres::new(spread))),
            (None, None) => None,
            _ => {
                return Err(Error::input("a habitat by depth needs both numbers")
                    .hint("give the best depth and how far the plant strays from it, such as `--best-depth 6ft --depth-spread 3ft`"));
            }
        };
        Ok(EffortRequest {
            occupancy: self.occupancy,
            detection: self.detection,
            throws: self.throws,
            confidence: self.confidence,
            margin: self.margin,
            from: self.from,
            to: self.to,
            power: self.power,
            patch_area: self.patch_area_m2.map(SquareMetres::new),
            sites: self.sites,
            numbers,
            species: self.species.clone().filter(|code| !code.trim().is_empty()),
            habitat,
            survey: self.survey.clone().filter(|name| !name.trim().is_empty()),
            min_depth: self.min_depth_m.map(Metres::new),
            max_depth: self.max_depth_m.map(Metres::new),
            zones: words(self.zones.as_deref()).map(str::to_owned).collect(),
            runs: self.runs.unwrap_or(QUICK_LOOK),
            seed: self.seed.unwrap_or(1),
            ..EffortRequest::new(super::purpose(&self.purpose)?)
        })
    }
}

/// Ways to lay sites, to be compared.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, IntoParams)]
#[serde(default, deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DesignsAsk {
    /// Number of sites each lays.
    pub sites: Option<usize>,
    /// Layouts separated by commas, of `simple-random`, `balanced`, `tessellation`, `point-grid`, `squares`,
    /// `shore-sections`, `sub-areas` and `again`; the first, second, fourth and fifth when left out.
    pub layouts: Option<String>,
    /// Chance of one throw to bring the plant up where it grows, 0 to 1.
    pub detection: Option<f64>,
    /// Throws a site.
    pub throws: Option<u32>,
    /// Area of the bed to be found; half an acre when left out.
    pub patch_area_m2: Option<f64>,
    /// Species whose frequency is estimated, by code; that whose frequency is nearest to one half when left out.
    pub species: Option<String>,
    /// Survey whose pattern of plants is drawn from, and whose sites `again` visits.
    pub survey: Option<String>,
    /// Shallow limit of the water; the lake's littoral limit when left out.
    pub min_depth_m: Option<f64>,
    /// Deep limit.
    pub max_depth_m: Option<f64>,
    /// Zones, by code, separated by commas.
    pub zones: Option<String>,
    /// Virtual surveys of each design; 1,000 when left out.
    pub runs: Option<usize>,
    /// Draws the virtual surveys; 1 when left out.
    pub seed: Option<u64>,
}

impl DesignsAsk {
    /// What is asked, in the program's own words.
    ///
    /// # Errors
    /// No number of sites.
    pub fn request(&self) -> Result<super::DesignsRequest> {
        let sites = self.sites.ok_or_else(|| {
            Error::input("designs are compared at one number of sites")
                .hint("give it, such as `--sites 90`")
        })?;
        let usual = super::DesignsRequest::new(sites);
        let layouts: Vec<String> = words(self.layouts.as_deref()).map(str::to_owned).collect();
        Ok(super::DesignsRequest {
            layouts: if layouts.is_empty() { usual.layouts } else { layouts },
            detection: self.detection.unwrap_or(usual.detection),
            throws: self.throws.unwrap_or(usual.throws),
            patch_area: self.patch_area_m2.map_or(usual.patch_area, SquareMetres::new),
            species: self.species.clone().filter(|code| !code.trim().is_empty()),
            survey: self.survey.clone().filter(|name| !name.trim().is_empty()),
            min_depth: self.min_depth_m.map(Metres::new),
            max_depth: self.max_depth_m.map(Metres::new),
            zones: words(self.zones.as_deref()).map(str::to_owned).collect(),
            runs: self.runs.unwrap_or(usual.runs),
            seed: self.seed.unwrap_or(usual.seed),
            ..usual
        })
    }
}
