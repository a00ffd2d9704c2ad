use super::{LaidSite, Layout, LayoutError, Warning, number_code, put, site_at};
use crate::frame::Frame;
use crate::random::Draw;
use units::{Metres, bounds};

/// How close the points of a grid lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GridSize {
    /// This far apart along and across.
    Spacing(Metres),
    /// As near to this many points as a spacing can give.
    Number(usize),
}

/// Which way the grid is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rotation {
    /// Clockwise, in degrees; 0 has rows running east.
    Degrees(f64),
    /// The one of 0°, 5°, … 85° whose points are spread best over the water (least
    /// [balance](crate::balance)).
    Optimised,
}

/// Where the grid is anchored: one of its points lies there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin {
    /// The middle of the box around the water, to the whole metre.
    Middle,
    /// This place, e.g. the origin of an earlier survey.
    At(f64, f64),
    /// Drawn at random within one square of the grid; then each place of the water has the same
    /// chance to become a site.
    Random {
        /// Stored with the layout.
        seed: u64,
    },
}

/// What a point grid is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointGrid {
    /// How close.
    pub size: GridSize,
    /// Which way turned.
    pub rotation: Rotation,
    /// Where anchored.
    pub origin: Origin,
}

/// More points than any crew will ever visit; a slip of units gets here.
const MOST_SITES: usize = 1_000_000;

/// Points on a square grid, those where a site may lie.
///
/// Numbered 1, 2, 3 … row by row from the north-west, every second row backwards, so that the next
/// number is the next place for a boat. A point exactly on a shore follows the rule of
/// [`Region`](crate::Region): west and south shores are in, east and north shores out.
///
/// # Formula
/// With spacing `s` and water of area `A` a grid with random origin has `A / s²` points on average,
/// every place with the same chance; each point stands for `s²`, so no inclusion probability is
/// stored.
/// By number: of spacings from half to twice `√(A / n)` the one whose count is nearest to `n`.
/// # Errors
/// A spacing out of range or larger than the lake, more points than the water can hold, depth limits
/// or zones that leave no water.
pub fn point_grid(frame: &Frame<'_>, grid: &PointGrid) -> Result<Layout, LayoutError> {
    let degrees = match grid.rotation {
        Rotation::Degrees(degrees) => degrees,
        Rotation::Optimised => return best_rotation(frame, grid),
    };
    if !degrees.is_finite() {
        return Err(LayoutError::Parameter {
            word: "rotation",
            found: degrees.to_string(),
            expected: "a number of degrees".to_owned(),
            hint: "give the rotation clockwise in degrees, 0 for rows running east",
        });
    }
    let mut warnings = Vec::new();
    let lattice = match grid.size {
        GridSize::Spacing(spacing) => {
            let spacing = checked_spacing(frame, spacing)?;
            Lattice::new(frame, spacing, degrees, grid.origin)
        }
        GridSize::Number(number) => {
            let lattice = nearest_number(frame, number, degrees, grid.origin)?;
            let laid = lattice.count(frame);
            if laid != number && laid > 0 {
                warnings.push(Warning::NumberNotReached {
                    asked: number,
                    laid,
                    why: "no spacing gives the number exactly with this origin and rotation",
                });
            }
            lattice
        }
    };
    let points = lattice.points(frame);
    if points.is_empty() {
        return Err(nothing_fits(frame, lattice.spacing));
    }
    let sites: Vec<LaidSite> = points
        .iter()
        .enumerate()
        .map(|(index, &(x, y))| site_at(frame, number_code(index + 1), x, y))
        .collect();
    warnings.extend(zones_without_site(frame, &sites));
    let mut parameters = Vec::new();
    put(&mut parameters, "spacing_m", lattice.spacing);
    put(&mut parameters, "rotation_deg", degrees);
    put(&mut parameters, "origin_x_m", lattice.origin.0);
    put(&mut parameters, "origin_y_m", lattice.origin.1);
    if let GridSize::Number(number) = grid.size {
        put(&mut parameters, "number_asked", number);
    }
    if let Origin::Random { seed } = grid.origin {
        put(&mut parameters, "seed", seed);
    }
    parameters.extend(frame.parameters());
    Ok(Layout { name: "point-grid".to_owned(), parameters, sites, parts: Vec::new(), warnings })
}

/// A grid whose squares are divided inside some areas: treatment areas, water near a launch.
///
/// The fine grid holds the points of the plain one, so the places of a whole-lake survey stay the
/// same and the areas get `divisor`² times as many. A fine point stands for `(s / divisor)²` only: pool frequencies by area, not by counting points.
///
/// # Errors
/// As [`point_grid`]; a divisor outside 2..=20; no area; areas without any water.
pub fn point_grid_denser(
    frame: &Frame<'_>,
    grid: &PointGrid,
    areas: &[crate::ZoneArea],
    divisor: u32,
) -> Result<Layout, LayoutError> {
    if !(2..=20).contains(&divisor) {
        return Err(LayoutError::Parameter {
            word: "divisor of the spacing",
            found: divisor.to_string(),
            expected: "between 2 and 20".to_owned(),
            hint: "2 lays four times as many points inside the areas, 3 nine times as many",
        });
    }
    if areas.is_empty() {
        return Err(LayoutError::Nothing {
            what: "areas to look at more closely",
            hint: "give treatment areas, or leave the denser grid out",
        });
    }
    let mut layout = point_grid(frame, grid)?;
    let number = |name: &str| layout.parameter(name).and_then(|value| value.parse::<f64>().ok());
    let (Some(spacing), Some(degrees), Some(x), Some(y)) =
        (number("spacing_m"), number("rotation_deg"), number("origin_x_m"), number("origin_y_m"))
    else {
        return Ok(layout);
    };
    let regions: Vec<crate::Region> =
        areas.iter().filter_map(|area| crate::Region::new(&area.polygon)).collect();
    let fine = Lattice::new(frame, spacing / f64::from(divisor), degrees, Origin::At(x, y));
    let divisor = i64::from(divisor);
    let points = fine.points_where(frame, |column, row, x, y| {
        let plain = column.rem_euclid(divisor) == 0 && row.rem_euclid(divisor) == 0;
        plain || regions.iter().any(|region| region.contains(x, y))
    });
    layout.sites = points
        .iter()
        .enumerate()
        .map(|(index, &(x, y))| site_at(frame, number_code(index + 1), x, y))
        .collect();
    for (area, region) in areas.iter().zip(&regions) {
        if !layout.sites.iter().any(|site| region.contains(site.x, site.y)) {
            layout.warnings.push(Warning::ZoneWithoutSite { code: area.code.clone() });
        }
    }
    let codes: Vec<&str> = areas.iter().map(|area| area.code.as_str()).collect();
    let mut more = Vec::new();
    put(&mut more, "denser_in", codes.join(","));
    put(&mut more, "denser_divisor", divisor);
    layout.parameters.splice(4..4, more);
    "point-grid-denser".clone_into(&mut layout.name);
    Ok(layout)
}

/// The spacing at which a point stands for `area / number`.
///
/// # Formula
/// `s = √(A / n)`.
pub fn spacing_for(area: units::SquareMetres, number: usize) -> Metres {
    Metres::new((area.square_metres() / number.max(1) as f64).sqrt())
}

/// Lays the grid at each of eighteen rotations and keeps the best spread one, the number asked for
/// before the spread.
fn best_rotation(frame: &Frame<'_>, grid: &PointGrid) -> Result<Layout, LayoutError> {
    let mut best: Option<(usize, f64, Layout)> = None;
    let mut fault = None;
    for step in 0..18_u8 {
        let turned = PointGrid { rotation: Rotation::Degrees(f64::from(step) * 5.0), ..*grid };
        let layout = match point_grid(frame, &turned) {
            Ok(layout) => layout,
            Err(error) => {
                fault.get_or_insert(error);
                continue;
            }
        };
        let miss = match grid.size {
            GridSize::Number(number) => layout.sites.len().abs_diff(number),
            GridSize::Spacing(_) => 0,
        };
        let places: Vec<(f64, f64)> = layout.sites.iter().map(|site| (site.x, site.y)).collect();
        let Some(balance) = crate::balance::layout_balance(frame, &places, 4_000) else { continue };
        let better = best.as_ref().is_none_or(|(least, spread, _)| {
            miss < *least || (miss == *least && balance < *spread)
        });
        if better {
            best = Some((miss, balance, layout));
        }
    }
    match (best, fault) {
        (Some((_, balance, mut layout)), _) => {
            put(&mut layout.parameters, "rotation_chosen_by", "best balance of 0, 5, … 85 degrees");
            put(&mut layout.parameters, "balance", balance);
            Ok(layout)
        }
        (None, Some(fault)) => Err(fault),
        (None, None) => Err(nothing_fits(frame, 0.0)),
    }
}

fn checked_spacing(frame: &Frame<'_>, spacing: Metres) -> Result<f64, LayoutError> {
    let metres = spacing.metres();
    let extent = frame.region().extent();
    if metres > extent {
        let suggested = (frame.area().square_metres() / 100.0).sqrt().max(bounds::SPACING.least);
        let sites = (frame.area().square_metres() / suggested / suggested) as usize;
        return Err(LayoutError::SpacingTooLarge { spacing: metres, extent, suggested, sites });
    }
    bounds::SPACING.check(metres).map_err(|error| LayoutError::Parameter {
        word: "spacing",
        found: format!("{metres} m"),
        expected: format!("between {} m and {} m", error.bound.least, error.bound.most),
        hint: "give the distance between neighbouring points with its unit, e.g. `70m` or `210ft`",
    })?;
    let expected = frame.region().area() / metres / metres;
    if expected > MOST_SITES as f64 {
        return Err(LayoutError::Parameter {
            word: "spacing",
            found: format!("{metres} m"),
            expected: format!(
                "wide enough: it gives about {expected:.0} sites, the most is {MOST_SITES}"
            ),
            hint: "check the unit of the spacing",
        });
    }
    Ok(metres)
}

fn nearest_number(
    frame: &Frame<'_>,
    number: usize,
    degrees: f64,
    origin: Origin,
) -> Result<Lattice, LayoutError> {
    if number == 0 {
        return Err(LayoutError::Parameter {
            word: "number of sites",
            found: "0".to_owned(),
            expected: "at least 1".to_owned(),
            hint: "`quillwort effort BOOK` says how many sites the question needs",
        });
    }
    let area = frame.area().square_metres();
    if area <= 0.0 {
        return Err(nothing_fits(frame, 0.0));
    }
    let holds = (area / bounds::SPACING.least / bounds::SPACING.least) as usize;
    if number > holds.min(MOST_SITES) {
        return Err(LayoutError::TooManySites {
            asked: number,
            holds: holds.min(MOST_SITES),
            area,
            apart: bounds::SPACING.least,
        });
    }
    let middle = (area / number as f64).sqrt();
    let mut best: Option<(usize, Lattice)> = None;
    // the nearest spacing first, so that a tie goes to the plain √(A / n)
    for step in 0..=280_i32 {
        let offset = if step % 2 == 0 { step / 2 } else { -(step + 1) / 2 };
        let spacing = middle * 1.005_f64.powi(offset);
        let lattice = Lattice::new(frame, spacing, degrees, origin);
        let miss = lattice.count(frame).abs_diff(number);
        if best.as_ref().is_none_or(|(least, _)| miss < *least) {
            best = Some((miss, lattice));
        }
        if miss == 0 {
            break;
        }
    }
    best.map(|(_, lattice)| lattice).ok_or_else(|| nothing_fits(frame, middle))
}

/// Why no point lies anywhere, told apart by what would help.
pub(crate) fn nothing_fits(frame: &Frame<'_>, spacing: f64) -> LayoutError {
    let area = frame.area().square_metres();
    if area > 0.0 {
        let suggested = (area / 50.0).sqrt().max(bounds::SPACING.least);
        return LayoutError::NoPointFits { spacing, area, suggested };
    }
    let limited = frame.depth_limits() != (None, None);
    match frame.depth_range() {
        Some((shallowest, deepest)) if limited => LayoutError::NoWaterInDepthRange {
            shallowest: shallowest.metres(),
            deepest: deepest.metres(),
        },
        None if limited => LayoutError::Frame(crate::FrameError::DepthUnknown),
        _ => LayoutError::NothingLeft,
    }
}

/// Zones that were asked for, or all zones, that hold no site.
pub(crate) fn zones_without_site(frame: &Frame<'_>, sites: &[LaidSite]) -> Vec<Warning> {
    frame
        .chosen_zones()
        .filter(|code| !sites.iter().any(|site| site.zone.as_ref() == Some(code)))
        .map(|code| Warning::ZoneWithoutSite { code: code.clone() })
        .collect()
}

/// An endless square grid.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lattice {
    spacing: f64,
    origin: (f64, f64),
    /// Unit vectors along the rows and up the columns.
    along: (f64, f64),
    up: (f64, f64),
}

impl Lattice {
    fn new(frame: &Frame<'_>, spacing: f64, degrees: f64, origin: Origin) -> Self {
        // quarter turns exact, so that a grid turned by 90° has the very same points
        let (sin, cos) = match degrees.rem_euclid(360.0) {
            turned if turned.abs() < 1e-12 => (0.0, 1.0),
            turned if (turned - 90.0).abs() < 1e-12 => (1.0, 0.0),
            turned if (turned - 180.0).abs() < 1e-12 => (0.0, -1.0),
            turned if (turned - 270.0).abs() < 1e-12 => (-1.0, 0.0),
            turned => turned.to_radians().sin_cos(),
        };
        let (along, up) = ((cos, -sin), (sin, cos));
        let bounds = frame.region().bounds();
        let middle = (bounds.center().x.round(), bounds.center().y.round());
        let origin = match origin {
            Origin::Middle => middle,
            Origin::At(x, y) => (x, y),
            Origin::Random { seed } => {
                let mut draw = Draw::new(seed);
                let (u, v) = (draw.unit() * spacing, draw.unit() * spacing);
                (middle.0 + u * along.0 + v * up.0, middle.1 + u * along.1 + v * up.1)
            }
        };
        Self { spacing, origin, along, up }
    }

    fn at(&self, column: i64, row: i64) -> (f64, f64) {
        let (u, v) = (column as f64 * self.spacing, row as f64 * self.spacing);
        (
            self.origin.0 + u * self.along.0 + v * self.up.0,
            self.origin.1 + u * self.along.1 + v * self.up.1,
        )
    }

    /// Columns and rows that cover the water, first and last.
    fn range(
        &self,
        frame: &Frame<'_>,
    ) -> (std::ops::RangeInclusive<i64>, std::ops::RangeInclusive<i64>) {
        let bounds = frame.region().bounds();
        let (low, high) = (bounds.min(), bounds.max());
        let corners = [(low.x, low.y), (high.x, low.y), (low.x, high.y), (high.x, high.y)];
        let span = |axis: (f64, f64)| {
            let along = corners.map(|(x, y)| {
                ((x - self.origin.0) * axis.0 + (y - self.origin.1) * axis.1) / self.spacing
            });
            let least = along.iter().copied().fold(f64::INFINITY, f64::min);
            let most = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            // one more on each side keeps rounding away from the rim
            (least.floor() as i64 - 1)..=(most.ceil() as i64 + 1)
        };
        (span(self.along), span(self.up))
    }

    fn count(&self, frame: &Frame<'_>) -> usize {
        let (columns, rows) = self.range(frame);
        rows.map(|row| {
            columns
                .clone()
                .filter(|&column| {
                    let (x, y) = self.at(column, row);
                    frame.holds(x, y)
                })
                .count()
        })
        .sum()
    }

    /// Points where a site may lie, in the order of their numbers.
    fn points(&self, frame: &Frame<'_>) -> Vec<(f64, f64)> {
        self.points_where(frame, |_, _, _, _| true)
    }

    fn points_where(
        &self,
        frame: &Frame<'_>,
        wanted: impl Fn(i64, i64, f64, f64) -> bool,
    ) -> Vec<(f64, f64)> {
        let (columns, rows) = self.range(frame);
        let mut points = Vec::new();
        let mut backwards = false;
        for row in rows.rev() {
            let mut line: Vec<(f64, f64)> = columns
                .clone()
                .map(|column| (column, self.at(column, row)))
                .filter(|&(column, (x, y))| wanted(column, row, x, y) && frame.holds(x, y))
                .map(|(_, place)| place)
                .collect();
            if line.is_empty() {
                continue;
            }
            if backwards {
                line.reverse();
            }
            backwards = !backwards;
            points.append(&mut line);
        }
        points
    }
}

#[cfg(test)]
mod tests;
