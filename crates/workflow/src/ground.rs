//! The lake's ground as the book holds it: outline and depth model, built when they are needed.

use crate::error::{Error, Result};
use geo_types::{Coord, Geometry};
use lakebed::{Crs, DepthData, DepthModel, DepthOptions, DepthRaster, Littoral, Outline, coord_of};
use lakebook::{DataSetContent, DepthGrid, LakeBook, Surface};
use survey::check::LakeMap;
use survey::{Lake, Survey, Zone};
use units::{LonLat, Metres, UnitSystem};

/// Outline, depths and their system.
#[derive(Debug)]
pub struct Ground {
    /// The lake's header.
    pub lake: Lake,
    /// System computation happens in.
    pub crs: Crs,
    /// The shore, once it is added.
    pub outline: Option<Outline>,
    /// The bed, once depths are added.
    pub model: Option<DepthModel>,
    /// How many depths the model rests on.
    pub soundings: usize,
    /// Where the depths come from, in words.
    pub depth_source: Option<String>,
    /// Zones.
    pub zones: Vec<Zone>,
    /// The raster of depths, in metres of its own system, when the model rests on one alone.
    pub raster: Option<Raster>,
    /// Depths of the contours, when the model rests on contours alone.
    pub contour_depths: Vec<Metres>,
}

/// A raster of depths with the system its cells lie in.
#[derive(Debug)]
pub struct Raster {
    /// The cells, in metres.
    pub depths: DepthRaster,
    /// System of the cells, `EPSG:n`.
    pub crs: String,
    /// The water surface the depths count from, when the cells are elevations in 32 bits.
    surface: Option<Surface>,
}

impl Raster {
    /// A level of the water as the raster can tell it: where elevations are kept in 32 bits, the
    /// elevation of the water is rounded to 32 bits before cells are compared with it.
    #[expect(clippy::cast_possible_truncation, reason = "rounded as the raster's own numbers are")]
    pub fn level(&self, level: Metres) -> Metres {
        let Some(Surface { elevation, metres_per_unit }) = self.surface else { return level };
        let water = elevation + level.metres() / metres_per_unit;
        Metres::new((f64::from(water as f32) - elevation) * metres_per_unit)
    }
}

fn lakebed_error(what: &str, message: impl std::fmt::Display, hint: &str) -> Error {
    Error::input(format!("{what}: {message}")).hint(hint)
}

impl Ground {
    /// A word that changes whenever what the ground is built from does.
    ///
    /// # Errors
    /// When the book cannot be read.
    pub fn version(book: &LakeBook) -> Result<Option<String>> {
        use lakebook::Entity;
        let kinds = [Entity::Lake, Entity::Outline, Entity::Zone, Entity::DataSet];
        Ok(book.last_event_of(&kinds)?)
    }

    /// Reads shore and depths and builds the model.
    ///
    /// # Errors
    /// When the book cannot be read, or holds an outline or depths that no longer fit together.
    pub fn of(book: &LakeBook) -> Result<Self> {
        Self::read(book, true)
    }

    /// Reads the shore alone, for steps that need no depths.
    ///
    /// # Errors
    /// As [`Ground::of`].
    pub fn shore_of(book: &LakeBook) -> Result<Self> {
        Self::read(book, false)
    }

    fn read(book: &LakeBook, with_depths: bool) -> Result<Self> {
        let lake = book.lake()?;
        let zones = book.zones()?;
        let shore = book.outline()?;
        let crs = match &shore {
            Some(shore) => working_crs(&lake, Some(&shore.area))?,
            // a scanned map may be there before the shore
            None => working_crs(&lake, book.backgrounds()?.first().map(|one| &one.footprint))?,
        };
        let outline = match &shore {
            Some(shore) => {
                let (outline, _) = Outline::new(&shore.area, &crs)
                    .map_err(|error| Error::fault(format!("the outline in the book: {error}")))?;
                Some(outline)
            }
            None => None,
        };
        let mut ground = Self {
            lake,
            crs,
            outline,
            model: None,
            soundings: 0,
            depth_source: None,
            zones,
            raster: None,
            contour_depths: Vec::new(),
        };
        if with_depths {
            ground.build_model(book, None)?;
        }
        Ok(ground)
    }

    /// The ground as it would be with one more set of depths.
    pub(crate) fn with_candidate(book: &LakeBook, set: &lakebook::DataSet) -> Result<Self> {
        let mut ground = Self::read(book, false)?;
        ground.build_model(book, Some(set))?;
        Ok(ground)
    }

    fn build_model(
        &mut self,
        book: &LakeBook,
        candidate: Option<&lakebook::DataSet>,
    ) -> Result<()> {
        let Some(outline) = &self.outline else { return Ok(()) };
        let mut data = DepthData::default();
        let mut sources = Vec::new();
        let mut contents = Vec::new();
        for info in book.data_sets()? {
            let content = book.load_data_set(&info.sha256)?;
            let part = depth_data(&content, &self.crs)
                .map_err(|error| lakebed_error(&info.name, &error, error.hint()))?;
            if part.is_empty() {
                continue;
            }
            self.soundings += part.soundings.len();
            contents.push(content);
            sources.push(format!(
                "{} ({} {})",
                info.name,
                units::with_thousands(info.count as f64, 0),
                info.kind.key()
            ));
            data.merge(part);
        }
        if let Some(set) = candidate {
            let part = depth_data(&set.content, &self.crs)
                .map_err(|error| lakebed_error(&set.name, &error, error.hint()))?;
            data.merge(part);
            contents.push(set.content.clone());
        }
        if data.is_empty() {
            return Ok(());
        }
        self.raster = match contents.as_slice() {
            [DataSetContent::Raster(bytes)] => DepthGrid::from_bytes(bytes).and_then(in_metres),
            _ => None,
        };
        if data.soundings.is_empty() {
            self.contour_depths =
                data.contours.iter().map(|contour| Metres::new(contour.depth)).collect();
        }
        let model = DepthModel::build(outline, &data, &DepthOptions::default())
            .map_err(|error| lakebed_error("the depths", &error, error.hint()))?;
        self.model = Some(model);
        self.depth_source = Some(sources.join("; "));
        Ok(())
    }

    /// The limits plants are looked for between.
    pub fn littoral(&self) -> Littoral {
        Littoral { min_depth: self.lake.littoral.0, max_depth: self.lake.littoral.1 }
    }

    /// The shore, or a sentence that says how to add it.
    ///
    /// # Errors
    /// When the book has none yet.
    pub fn need_outline(&self) -> Result<&Outline> {
        self.outline.as_ref().ok_or_else(|| {
            Error::input(format!("`{}` has no outline yet", self.lake.name))
                .hint("add the shoreline with `quillwort add BOOK outline FILE`")
        })
    }

    /// A place in metres of the working system.
    ///
    /// # Errors
    /// When the system cannot hold it.
    pub fn project(&self, place: LonLat) -> Result<Coord<f64>> {
        self.crs.project(place).map_err(|error| Error::input(error.to_string()).hint(error.hint()))
    }

    /// A place in longitude and latitude.
    ///
    /// # Errors
    /// When the system cannot hold it.
    pub fn unproject(&self, at: Coord<f64>) -> Result<LonLat> {
        self.crs.unproject(at).map_err(|error| Error::input(error.to_string()).hint(error.hint()))
    }

    /// The zones in use in a year; those in use now when no year is said.
    pub fn zones_of(&self, year: Option<i16>) -> impl Iterator<Item = &Zone> {
        self.zones.iter().filter(move |zone| match year {
            Some(year) => zone.in_use(year),
            None => zone.until.is_none(),
        })
    }

    /// The zone of a year, or of now, a place lies in.
    pub fn zone_at(&self, place: LonLat, year: Option<i16>) -> Option<&Zone> {
        use geo::Intersects;
        let at = coord_of(place);
        self.zones_of(year).find(|zone| zone.area.intersects(&at))
    }
}

/// The system named in the book, else the UTM zone of the lake.
fn working_crs(lake: &Lake, area: Option<&geo_types::MultiPolygon<f64>>) -> Result<Crs> {
    use geo::BoundingRect;
    if lake.working_epsg != 0 {
        return Crs::from_epsg(lake.working_epsg)
            .map_err(|error| Error::input(error.to_string()).hint(error.hint()));
    }
    let middle = area.and_then(BoundingRect::bounding_rect).map(geo_types::Rect::center);
    let place = middle.and_then(|at| LonLat::new(at.x, at.y).ok());
    Ok(place.map_or_else(Crs::wgs84, Crs::utm_for))
}

fn depth_data(content: &DataSetContent, crs: &Crs) -> Result<DepthData, lakebed::CrsError> {
    match content {
        DataSetContent::Soundings(points) => {
            let (places, depths): (Vec<LonLat>, Vec<f64>) = points
                .iter()
                .filter_map(|&(longitude, latitude, depth)| {
                    Some((LonLat::new(longitude, latitude).ok()?, depth))
                })
                .unzip();
            Ok(DepthData::from_soundings(crs.project_all(&places)?.into_iter().zip(depths)))
        }
        DataSetContent::Contours(shapes) => {
            let mut data = DepthData::default();
            for (shape, depth) in shapes {
                add_contour(&mut data, &crs.project_geometry(shape)?, *depth);
            }
            Ok(data)
        }
        DataSetContent::Raster(bytes) => match DepthGrid::from_bytes(bytes) {
            Some(grid) => grid_depths(&grid, crs),
            // a picture
            None => Ok(DepthData::default()),
        },
    }
}

/// The cells under water at the reference level, as points in the working system.
fn grid_depths(grid: &DepthGrid, crs: &Crs) -> Result<DepthData, lakebed::CrsError> {
    let own = Crs::from_epsg(grid.epsg)?;
    let columns = grid.columns as usize;
    let mut placed = Vec::new();
    for (index, &depth) in grid.depths.iter().enumerate() {
        if depth.is_finite() && 0.0 <= depth {
            let centre = Coord {
                x: grid.corner.0 + ((index % columns) as f64 + 0.5) * grid.cell.0,
                y: grid.corner.1 - ((index / columns) as f64 + 0.5) * grid.cell.1,
            };
            placed.push((crs.project(own.native_to_lon_lat(centre)?)?, depth));
        }
    }
    Ok(DepthData::from_soundings(placed))
}

/// The same raster with its places in metres.
pub(crate) fn in_metres(grid: DepthGrid) -> Option<Raster> {
    let crs = Crs::from_epsg(grid.epsg).ok()?;
    let unit = crs.metres_per_unit();
    Some(Raster {
        crs: crs.label(),
        surface: grid.surface,
        depths: DepthRaster {
            corner: Coord { x: grid.corner.0 * unit, y: grid.corner.1 * unit },
            cell_width: grid.cell.0 * unit,
            cell_height: grid.cell.1 * unit,
            columns: grid.columns as usize,
            depths: grid.depths,
        },
    })
}

fn add_contour(data: &mut DepthData, shape: &Geometry<f64>, depth: f64) {
    match shape {
        Geometry::LineString(line) => data.add_contour(line.clone(), depth),
        Geometry::MultiLineString(lines) => {
            lines.iter().for_each(|line| data.add_contour(line.clone(), depth));
        }
        Geometry::Polygon(polygon) => data.add_contour_polygon(polygon, depth),
        Geometry::MultiPolygon(polygons) => {
            polygons.iter().for_each(|polygon| data.add_contour_polygon(polygon, depth));
        }
        Geometry::GeometryCollection(all) => {
            all.iter().for_each(|one| add_contour(data, one, depth));
        }
        _ => {}
    }
}

impl LakeMap for Ground {
    fn depth_at(&self, position: LonLat) -> Option<Metres> {
        let at = self.crs.project(position).ok()?;
        self.model.as_ref()?.depth_at(at)
    }

    fn deepest(&self) -> Option<Metres> {
        self.model.as_ref().map(DepthModel::max_depth)
    }

    fn distance(&self, from: LonLat, to: LonLat) -> Metres {
        use geo::{Distance, Geodesic, Point};
        let point = |place| Point(coord_of(place));
        Metres::new(Geodesic.distance(point(from), point(to)))
    }
}

/// The year whose zones a survey keeps; none while it is only planned.
pub(crate) fn year_of(survey: &Survey) -> Option<i16> {
    survey.start.or(survey.end).map(jiff::civil::Date::year)
}

/// A length on the ground as people say it: whole feet or metres, miles or kilometres when it is long.
pub(crate) fn ground_words(system: UnitSystem, length: Metres) -> String {
    match system {
        UnitSystem::Us if length < Metres::from_feet(1_000.0) => {
            format!("{} ft", units::decimals(length.feet(), 0))
        }
        UnitSystem::Metric if length < Metres::new(500.0) => {
            format!("{} m", units::decimals(length.metres(), 0))
        }
        _ => system.distance(length),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_way_is_told_in_feet_or_metres_a_long_one_in_miles_or_kilometres() {
        // 1 ft = 0.3048 m, 1 mi = 1,609.344 m (yard and pound agreement of 1959)
        for (system, metres, want) in [
            (UnitSystem::Us, 15.24, "50 ft"),
            (UnitSystem::Us, 1_609.344, "1.00 mi"),
            (UnitSystem::Metric, 15.24, "15 m"),
            (UnitSystem::Metric, 1_500.0, "1.50 km"),
        ] {
            assert_eq!(ground_words(system, Metres::new(metres)), want);
        }
    }
}
