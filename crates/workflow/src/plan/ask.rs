//! A plan as asked for by a command or a screen: plain values, SI units in their names.

use super::{Denser, GridChoice, GridTurn, LayoutChoice, PartChoice, PlanRequest, StrataChoice};
use crate::error::{Error, Result};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use survey::Code;
use units::{LonLat, Metres, SquareMetres, UnitSystem};
use utoipa::ToSchema;

/// Bands of depth for strata by depth: thirds of the usual littoral zone (common practice).
const BANDS: [Metres; 2] = [Metres::from_feet(5.0), Metres::from_feet(10.0)];
/// The same where people read metres.
const BANDS_METRIC: [Metres; 2] = [Metres::new(1.5), Metres::new(3.0)];

/// How to lay the sites of a survey. Each layout looks at the fields it knows; what is left out takes its
/// usual value.
#[derive(Debug, Clone, Default, PartialEq, Deserialize, ToSchema)]
#[serde(default, deny_unknown_fields)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of its own")]
pub struct PlanAsk {
    /// Name of the survey; may be empty for a look at the plan.
    pub survey: String,
    /// `point-grid`, `sub-areas`, `shore-sections`, `squares`, `balanced`, `panel`, `given` or `again`.
    pub layout: String,
    /// Number of sites: points of a grid, parts, or sites of a sample.
    pub sites: Option<usize>,
    /// Distance between the points of a grid.
    pub spacing_m: Option<f64>,
    /// Length of a shore section.
    pub length_m: Option<f64>,
    /// Side of a square.
    pub side_m: Option<f64>,
    /// Area of a sub-area; for shore sections, of the parts beyond them.
    pub area_m2: Option<f64>,
    /// Partial squares smaller than this share of a square join a neighbour; kept when left out.
    pub merge: Option<f64>,
    /// Corners of shore sections fall on landmarks.
    pub at_landmarks: bool,
    /// Turn of a grid, degrees clockwise.
    pub rotation_deg: Option<f64>,
    /// Turn the grid so that its points are spread best.
    pub best_rotation: bool,
    /// Draw the origin of a grid with the seed; else the grid starts in the middle of the lake.
    pub random_origin: bool,
    /// Draws a sample, or a grid's origin; 1 when left out.
    pub seed: Option<u64>,
    /// Spare sites of a balanced sample.
    pub spares: usize,
    /// `zone` or `depth`: sample each for itself.
    pub strata: Option<String>,
    /// Limits of the bands of depth, shallow first.
    pub depth_limits_m: Vec<f64>,
    /// The same number of sites to each stratum, not in proportion to its water.
    pub equal_strata: bool,
    /// Spread the sample by random tessellation, so that spares may replace sites in order without loss of spread.
    pub tessellation: bool,
    /// Of a panel's sites, those visited every year.
    pub every_year: usize,
    /// Years until a panel's turn is round; 3 when left out.
    pub years: Option<u16>,
    /// Earlier survey whose sites are visited again.
    pub earlier: Option<String>,
    /// Points with their numbers, for the layout `given`.
    pub points: Vec<PointAsk>,
    /// File of points, by command only.
    #[serde(skip)]
    #[schema(ignore)]
    pub file: Option<PathBuf>,
    /// System of the file's coordinates.
    #[serde(skip)]
    #[schema(ignore)]
    pub crs: Option<String>,
    /// Shallowest water to lay sites in.
    pub min_depth_m: Option<f64>,
    /// Deepest water to lay sites in.
    pub max_depth_m: Option<f64>,
    /// Zones to lay sites in, by code; all when empty.
    pub zones: Vec<String>,
    /// Distance to keep from hazards; 15 m when left out.
    pub keep_away_m: Option<f64>,
    /// So many times as many sites inside treatment areas.
    pub denser_in_treatments: Option<f64>,
    /// So many times as many sites near launches.
    pub denser_near_launches: Option<f64>,
    /// How near a launch; 100 m when left out.
    pub denser_within_m: Option<f64>,
    /// Rating scale; that of the last survey when left out.
    pub scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on.
    pub scale_reason: String,
    /// Rake throws a site.
    pub throws: Option<u8>,
    /// Purpose of the survey, such as `baseline` or `early-detection`.
    pub purpose: Option<String>,
    /// Lay the sites again although some are there and none is visited yet.
    pub again: bool,
}

/// A point that has its number.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize, ToSchema)]
pub struct PointAsk {
    /// Its number or code.
    pub code: String,
    /// Longitude.
    pub lon: f64,
    /// Latitude.
    pub lat: f64,
}

fn missing(layout: &str, what: &str, hint: &str) -> Error {
    Error::input(format!("the layout `{layout}` needs {what}")).hint(hint)
}

impl PlanAsk {
    /// What is asked, in the program's own words.
    ///
    /// # Errors
    /// A layout nobody knows, a value the layout needs and that is missing, or one that cannot be.
    pub fn request(&self, units: UnitSystem) -> Result<PlanRequest> {
        let purpose = self
            .purpose
            .as_ref()
            .map(|text| text.parse().map_err(|error| Error::input(format!("purpose {error}"))))
            .transpose()?;
        Ok(PlanRequest {
            min_depth: self.min_depth_m.map(Metres::new),
            max_depth: self.max_depth_m.map(Metres::new),
            zones: self.zones.clone(),
            keep_away: self.keep_away_m.map(Metres::new),
            denser: Denser {
                in_treatments: self.denser_in_treatments,
                near_launches: self.denser_near_launches,
                within: self.denser_within_m.map(Metres::new),
            },
            crs: self.crs.clone(),
            scale: self.scale.clone(),
            scale_reason: self.scale_reason.clone(),
            throws: self.throws,
            purpose,
            again: self.again,
            ..PlanRequest::new(&self.survey, self.choice(units)?)
        })
    }

    fn choice(&self, units: UnitSystem) -> Result<LayoutChoice> {
        let layout = self.layout.as_str();
        let seed = self.seed.unwrap_or(1);
        Ok(match layout {
            "point-grid" => self.grid(seed)?,
            "sub-areas" => match (self.area_m2, self.sites) {
                (Some(area), _) => {
                    LayoutChoice::CutSubAreas { size: PartChoice::Area(SquareMetres::new(area)) }
                }
                (None, Some(sites)) => {
                    LayoutChoice::CutSubAreas { size: PartChoice::Number(sites) }
                }
                (None, None) => LayoutChoice::SubAreas,
            },
            "shore-sections" => LayoutChoice::ShoreSections {
                length: self.length_m.map(Metres::new).ok_or_else(|| {
                    missing(layout, "the length of a section", "say `--length 200ft`")
                })?,
                offshore: self.area_m2.map(SquareMetres::new),
                at_landmarks: self.at_landmarks,
            },
            "squares" => LayoutChoice::Squares {
                side: self
                    .side_m
                    .map(Metres::new)
                    .ok_or_else(|| missing(layout, "the side of a square", "say `--side 250ft`"))?,
                rotation: self.rotation_deg.unwrap_or(0.0),
                merge: self.merge,
            },
            "balanced" => LayoutChoice::Balanced {
                sites: self.number()?,
                spares: self.spares,
                strata: self.strata(units)?,
                equal_strata: self.equal_strata,
                tessellation: self.tessellation,
                seed,
            },
            "panel" => self.panel(seed)?,
            "again" => LayoutChoice::Again(self.earlier.clone().ok_or_else(|| {
                missing(layout, "the earlier survey", "say `--layout again 2025-summer`")
            })?),
            "given" => self.given()?,
            _ => {
                return Err(Error::input(format!("there is no layout `{layout}`")).hint(
                    "choose point-grid, sub-areas, shore-sections, squares, balanced, panel, given or again",
                ));
            }
        })
    }

    fn number(&self) -> Result<usize> {
        self.sites.ok_or_else(|| {
            missing(
                &self.layout,
                "its number of sites",
                "say `--sites 90`; `effort` says how many are enough",
            )
        })
    }

    fn grid(&self, seed: u64) -> Result<LayoutChoice> {
        let size = match (self.spacing_m, self.sites) {
            (Some(spacing), None) => GridChoice::Spacing(Metres::new(spacing)),
            (None, Some(sites)) => GridChoice::Sites(sites),
            (Some(_), Some(_)) => {
                return Err(Error::input("a grid has either a spacing or a number of sites")
                    .hint("leave `--spacing` or `--sites` out"));
            }
            (None, None) => {
                return Err(missing(
                    &self.layout,
                    "its spacing or its number of sites",
                    "say `--spacing 70m` or `--sites 90`",
                ));
            }
        };
        let rotation = match (self.rotation_deg, self.best_rotation) {
            (Some(_), true) => {
                return Err(Error::input(
                    "a grid is turned as told, or as its points are spread best",
                )
                .hint("leave `--rotation` or `--best-rotation` out"));
            }
            (_, true) => GridTurn::Best,
            (degrees, false) => GridTurn::Degrees(degrees.unwrap_or(0.0)),
        };
        Ok(LayoutChoice::PointGrid { size, rotation, seed: self.random_origin.then_some(seed) })
    }

    fn strata(&self, units: UnitSystem) -> Result<StrataChoice> {
        Ok(match self.strata.as_deref() {
            None | Some("") => StrataChoice::None,
            Some("zone") => StrataChoice::Zones,
            Some("depth") if self.depth_limits_m.is_empty() => StrataChoice::Depths(match units {
                UnitSystem::Us => BANDS.to_vec(),
                UnitSystem::Metric => BANDS_METRIC.to_vec(),
            }),
            Some("depth") => {
                StrataChoice::Depths(self.depth_limits_m.iter().copied().map(Metres::new).collect())
            }
            Some(other) => {
                return Err(Error::input(format!("there are no strata by `{other}`"))
                    .hint("sample each `zone` or each band of `depth` for itself"));
            }
        })
    }

    fn panel(&self, seed: u64) -> Result<LayoutChoice> {
        let sites = self.number()?;
        if self.every_year > sites {
            return Err(Error::input(format!(
                "`{}` sites every year are more than the `{sites}` sites of a year",
                self.every_year
            ))
            .hint("give `--every-year` at most as many as `--sites`"));
        }
        Ok(LayoutChoice::Panel {
            every_year: self.every_year,
            in_turn: sites - self.every_year,
            years: self.years.unwrap_or(3),
            seed,
        })
    }

    fn given(&self) -> Result<LayoutChoice> {
        if let Some(file) = &self.file {
            return Ok(LayoutChoice::Given(file.clone()));
        }
        if self.points.is_empty() {
            return Err(missing(
                &self.layout,
                "the points with their numbers",
                "say `--layout given POINTS.csv`",
            ));
        }
        let point = |(index, point): (usize, &PointAsk)| {
            let fault = |error: &dyn std::fmt::Display| {
                Error::input(format!("point {}, `{}`: {error}", index + 1, point.code))
            };
            let code = Code::new(&point.code).map_err(|error| fault(&error))?;
            let place = LonLat::new(point.lon, point.lat).map_err(|error| fault(&error))?;
            Ok((code, place))
        };
        Ok(LayoutChoice::Points(self.points.iter().enumerate().map(point).collect::<Result<_>>()?))
    }
}
