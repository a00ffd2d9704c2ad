//! What a map shows, as plain data. Coordinates are metres in one projected system, y to the north.

use geo_types::{LineString, MultiLineString, MultiPolygon};
use units::{LonLat, Metres, SquareMetres};

/// Everything a map can show of a lake.
///
/// All but the outline may be empty. Nothing here is computed again: bands, contours and zones come
/// as they were cut.
#[derive(Debug, Clone, PartialEq)]
pub struct MapData {
    /// The name of the lake.
    pub title: String,
    /// The shore, islands as holes.
    pub outline: MultiPolygon<f64>,
    /// Depth bands, shallowest first.
    pub bands: Vec<DepthBand>,
    /// Contours to draw; those with a figure are the ones a boat looks for.
    pub contours: Vec<Contour>,
    /// The limit of plants, drawn stronger than a contour.
    pub plant_limit: Option<Contour>,
    /// The deepest place, if it should be written on the map.
    pub deepest: Option<(f64, f64, Metres)>,
    /// Zones.
    pub zones: Vec<ZoneShape>,
    /// Sub-areas.
    pub sub_areas: Vec<SubAreaShape>,
    /// Beds that were or will be treated.
    pub treated: Vec<TreatedBed>,
    /// Landmarks, launches and hazards.
    pub landmarks: Vec<LandmarkMark>,
    /// Sites.
    pub sites: Vec<SiteMark>,
    /// The coordinates written along the frame.
    pub grid: GridReference,
}

/// Water between two depths.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthBand {
    /// Its shallow edge.
    pub from: Metres,
    /// Its deep edge.
    pub to: Metres,
    /// Its water.
    pub area: MultiPolygon<f64>,
}

/// A line of equal depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    /// The depth.
    pub depth: Metres,
    /// Its lines.
    pub lines: MultiLineString<f64>,
}

/// A zone of the lake.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneShape {
    /// Short code such as `W1`.
    pub code: String,
    /// Name in words.
    pub name: String,
    /// Its water.
    pub area: MultiPolygon<f64>,
    /// True when it is a conservation area.
    pub conservation: bool,
}

/// A sub-area of a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct SubAreaShape {
    /// Short code such as `W1-04`.
    pub code: String,
    /// Its water.
    pub area: MultiPolygon<f64>,
}

/// A bed treated or to be treated.
#[derive(Debug, Clone, PartialEq)]
pub struct TreatedBed {
    /// Its name.
    pub name: String,
    /// Its size.
    pub size: SquareMetres,
    /// Its water.
    pub area: MultiPolygon<f64>,
}

/// What a landmark is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LandmarkKind {
    /// Something to steer by.
    Landmark,
    /// Where boats go in.
    Launch,
    /// Something to keep clear of.
    Hazard,
}

/// A landmark on the map.
#[derive(Debug, Clone, PartialEq)]
pub struct LandmarkMark {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: LandmarkKind,
    /// East, metres.
    pub x: f64,
    /// North, metres.
    pub y: f64,
}

/// A site on the map.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteMark {
    /// Its code.
    pub code: String,
    /// East, metres.
    pub x: f64,
    /// North, metres.
    pub y: f64,
    /// What is known of it.
    pub mark: Mark,
}

/// What is known of a site.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// It is to be visited.
    Planned,
    /// It is to be visited, but not with this paper.
    PlannedElsewhere,
    /// Found, at step `step` of a scale with `of` steps above none (1 is the least).
    Found {
        /// The step, from 1.
        step: u8,
        /// How many steps the scale has.
        of: u8,
    },
    /// Looked for, not found.
    NotFound,
    /// Nobody could look.
    NotReached,
    /// A count, such as kinds of plant at the place; none is drawn as not found.
    Count(u32),
}

/// Which coordinates are written along the frame.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum GridReference {
    /// None.
    #[default]
    None,
    /// The map's own metres, with the name of the system.
    Projected {
        /// For example `NAD83 / UTM zone 16N`.
        name: String,
    },
    /// Latitude and longitude.
    Geographic {
        /// Three or more places, not in one line, known in both systems: the corners of the lake's
        /// bounding box do. Between them a plane is fitted, good to a few metres over 20 km.
        control: Vec<(f64, f64, LonLat)>,
        /// The datum, for example `NAD83`.
        datum: String,
    },
}

/// A rectangle in projected metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// West.
    pub min_x: f64,
    /// South.
    pub min_y: f64,
    /// East.
    pub max_x: f64,
    /// North.
    pub max_y: f64,
}

impl Extent {
    /// The rectangle round some points, none when there are no finite points.
    pub fn of(points: impl IntoIterator<Item = (f64, f64)>) -> Option<Self> {
        points.into_iter().filter(|(x, y)| x.is_finite() && y.is_finite()).fold(
            None,
            |extent: Option<Self>, (x, y)| {
                let old = extent.unwrap_or(Self { min_x: x, min_y: y, max_x: x, max_y: y });
                Some(Self {
                    min_x: old.min_x.min(x),
                    min_y: old.min_y.min(y),
                    max_x: old.max_x.max(x),
                    max_y: old.max_y.max(y),
                })
            },
        )
    }

    /// East to west.
    pub const fn width(self) -> f64 {
        self.max_x - self.min_x
    }

    /// North to south.
    pub const fn height(self) -> f64 {
        self.max_y - self.min_y
    }

    /// Grown by a length on each side.
    pub const fn grown(self, by: f64) -> Self {
        Self {
            min_x: self.min_x - by,
            min_y: self.min_y - by,
            max_x: self.max_x + by,
            max_y: self.max_y + by,
        }
    }
}

impl MapData {
    /// The rectangle round the lake and all its sites: a grid may reach past a generalised shore.
    pub(super) fn extent_with_sites(&self) -> Option<Extent> {
        let extent = self.extent()?;
        let corners = [(extent.min_x, extent.min_y), (extent.max_x, extent.max_y)];
        // a site far off is a fault in the data; it must not shrink the lake to a dot
        let near = extent.grown(0.15 * extent.width().max(extent.height()));
        let is_near = |place: &(f64, f64)| {
            (near.min_x..=near.max_x).contains(&place.0)
                && (near.min_y..=near.max_y).contains(&place.1)
        };
        let sites = self.sites.iter().map(|site| (site.x, site.y)).filter(is_near);
        Extent::of(corners.into_iter().chain(sites))
    }

    /// The rectangle round the lake, none when the outline has no extent.
    pub fn extent(&self) -> Option<Extent> {
        let rings = self.outline.iter().map(geo_types::Polygon::exterior);
        Extent::of(rings.flat_map(LineString::coords).map(|place| (place.x, place.y)))
            .filter(|extent| extent.width() > 0.0 && extent.height() > 0.0)
    }
}
