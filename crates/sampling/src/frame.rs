use crate::region::Region;
use geo_types::MultiPolygon;
use std::fmt;
use survey::Code;
use units::{Metres, SquareMetres};

/// Anything that knows the depth at a place; a closure `Fn(x, y) -> Option<Metres>` does.
///
/// None means the depth is not known there, which is not zero.
pub trait DepthAt: Sync {
    /// Depth at a place in metres of the working system.
    fn depth_at(&self, x: f64, y: f64) -> Option<Metres>;
}

impl<F: Fn(f64, f64) -> Option<Metres> + Sync> DepthAt for F {
    fn depth_at(&self, x: f64, y: f64) -> Option<Metres> {
        self(x, y)
    }
}

/// A named outline in metres of the working system: a zone, a sub-area, a treatment area.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneArea {
    /// Its code.
    pub code: Code,
    /// Its outline.
    pub polygon: MultiPolygon<f64>,
}

/// A place to keep clear of: dam, swim area buoy, wreck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeepAway {
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
    /// No site nearer than this.
    pub distance: Metres,
}

/// What is known of a place where a site may lie.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// The zone it lies in.
    pub zone: Option<Code>,
    /// Depth there, where known.
    pub depth: Option<Metres>,
}

/// Why a site may not lie at a place.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyNot {
    /// Not in the water: on shore or on an island.
    Land,
    /// In none of the chosen zones.
    OtherZone,
    /// Within the distance to keep from a hazard.
    Hazard,
    /// In an area taken out.
    Excluded,
    /// Shallower than the least depth; the depth there.
    TooShallow(Metres),
    /// Deeper than the greatest depth; the depth there.
    TooDeep(Metres),
    /// A depth limit is set and the depth is not known there.
    DepthUnknown,
}

impl fmt::Display for WhyNot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Land => f.write_str("on land"),
            Self::OtherZone => f.write_str("outside the chosen zones"),
            Self::Hazard => f.write_str("too near a hazard"),
            Self::Excluded => f.write_str("in an area taken out"),
            Self::TooShallow(depth) => write!(f, "too shallow, {:.1} m", depth.metres()),
            Self::TooDeep(depth) => write!(f, "too deep, {:.1} m", depth.metres()),
            Self::DepthUnknown => f.write_str("where the depth is not known"),
        }
    }
}

/// A square of water that may hold a site.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// East, of its centre.
    pub x: f64,
    /// North, of its centre.
    pub y: f64,
    /// Index into [`Frame::zones`].
    pub zone: Option<u32>,
    /// Depth at its centre, where known.
    pub depth: Option<Metres>,
}

/// A frame that holds no site.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FrameError {
    /// No polygon, or one without area.
    #[error(
        "the lake has no outline with water inside\n\
         hint: add the shore line first (`quillwort add BOOK outline FILE`)"
    )]
    NoWater,
    /// A zone asked for is not one of the lake's.
    #[error(
        "zone `{found}` is not a zone of this lake, which has {known}\n\
         hint: choose among these, or add the zone first (`quillwort add BOOK zones FILE`)"
    )]
    UnknownZone {
        /// Asked for.
        found: Code,
        /// The lake's zones, listed.
        known: String,
    },
    /// A zone has no outline with area.
    #[error(
        "zone `{code}` has an outline without area\n\
         hint: look at it on the map and draw it again"
    )]
    FlatZone {
        /// The zone.
        code: Code,
    },
    /// Depth limits on a lake without depths.
    #[error(
        "a depth limit is set and the depths of this lake are not known\n\
         hint: add soundings or contours (`quillwort add BOOK depths FILE`), or leave the limit out \
         and lay squares or shore sections: they need no depths, but sites may then fall where no \
         plant can grow and the littoral area stays unknown"
    )]
    DepthUnknown,
    /// The shallow limit is not below the deep one.
    #[error(
        "the depth limits `{least:.2}` m to `{most:.2}` m leave nothing between them\n\
         hint: give the shallow limit first and the deep limit second"
    )]
    DepthLimits {
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
}

/// Where sites may lie.
///
/// Made from the water; each `with_` step narrows it. All coordinates are metres in one projected
/// system.
#[derive(Clone)]
pub struct Frame<'a> {
    water: MultiPolygon<f64>,
    region: Region,
    zones: Vec<(Code, Region)>,
    chosen: Vec<u32>,
    depth: Option<&'a dyn DepthAt>,
    least_depth: Option<Metres>,
    most_depth: Option<Metres>,
    keep_away: Vec<KeepAway>,
    excluded: Vec<Region>,
}

impl fmt::Debug for Frame<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Frame")
            .field("area", &self.region.area())
            .field("zones", &self.zones.len())
            .field("depth", &self.depth.is_some())
            .field("least_depth", &self.least_depth)
            .field("most_depth", &self.most_depth)
            .finish_non_exhaustive()
    }
}

impl<'a> Frame<'a> {
    /// All the water of a lake, islands as holes.
    ///
    /// # Errors
    /// [`FrameError::NoWater`] when the polygon has no area.
    pub fn new(water: MultiPolygon<f64>) -> Result<Self, FrameError> {
        let region = Region::new(&water).ok_or(FrameError::NoWater)?;
        Ok(Self {
            water,
            region,
            zones: Vec::new(),
            chosen: Vec::new(),
            depth: None,
            least_depth: None,
            most_depth: None,
            keep_away: Vec::new(),
            excluded: Vec::new(),
        })
    }

    /// Names the zones of the lake; sites get the code of the first zone that holds them.
    ///
    /// # Errors
    /// [`FrameError::FlatZone`] when an outline has no area.
    pub fn with_zones(mut self, zones: &[ZoneArea]) -> Result<Self, FrameError> {
        self.zones = zones
            .iter()
            .map(|zone| {
                let region = Region::new(&zone.polygon);
                let code = zone.code.clone();
                region.map(|region| (code.clone(), region)).ok_or(FrameError::FlatZone { code })
            })
            .collect::<Result<_, _>>()?;
        self.chosen = Vec::new();
        Ok(self)
    }

    /// Keeps to these zones; none chosen means the whole lake.
    ///
    /// # Errors
    /// [`FrameError::UnknownZone`] when one is not a zone of the lake.
    pub fn within_zones(mut self, codes: &[Code]) -> Result<Self, FrameError> {
        self.chosen = codes
            .iter()
            .map(|code| {
                let index = self.zones.iter().position(|(known, _)| known == code);
                index.map(|index| index as u32).ok_or_else(|| FrameError::UnknownZone {
                    found: code.clone(),
                    known: list(self.zones.iter().map(|(known, _)| known)),
                })
            })
            .collect::<Result<_, _>>()?;
        Ok(self)
    }

    /// Says who knows the depths.
    pub fn with_depth(mut self, depth: &'a dyn DepthAt) -> Self {
        self.depth = Some(depth);
        self
    }

    /// Keeps to depths from `least` to `most`, both included.
    ///
    /// # Errors
    /// [`FrameError::DepthUnknown`] without depths, [`FrameError::DepthLimits`] when nothing lies
    /// between the limits.
    pub fn between_depths(
        mut self,
        least: Option<Metres>,
        most: Option<Metres>,
    ) -> Result<Self, FrameError> {
        if (least.is_some() || most.is_some()) && self.depth.is_none() {
            return Err(FrameError::DepthUnknown);
        }
        if let (Some(least), Some(most)) = (least, most)
            && least >= most
        {
            return Err(FrameError::DepthLimits { least: least.metres(), most: most.metres() });
        }
        self.least_depth = least;
        self.most_depth = most;
        Ok(self)
    }

    /// Keeps clear of hazards.
    pub fn away_from(mut self, hazards: &[KeepAway]) -> Self {
        self.keep_away.extend_from_slice(hazards);
        self
    }

    /// Takes areas out: private water, a swim area.
    pub fn without(mut self, areas: &[MultiPolygon<f64>]) -> Self {
        self.excluded.extend(areas.iter().filter_map(Region::new));
        self
    }

    /// The water it was made from.
    pub fn water(&self) -> &MultiPolygon<f64> {
        &self.water
    }

    /// The water, indexed.
    pub fn region(&self) -> &Region {
        &self.region
    }

    /// Codes of the zones, in the order given.
    pub fn zones(&self) -> impl ExactSizeIterator<Item = &Code> {
        self.zones.iter().map(|(code, _)| code)
    }

    /// Codes of the zones sites are kept to: those chosen, else all.
    pub fn chosen_zones(&self) -> impl Iterator<Item = &Code> {
        let all = self.chosen.is_empty();
        let chosen = move |index: usize| all || self.chosen.contains(&(index as u32));
        self.zones().enumerate().filter(move |(index, _)| chosen(*index)).map(|(_, code)| code)
    }

    /// Code of a zone by its index in a [`Cell`].
    pub fn zone_code(&self, index: u32) -> Option<&Code> {
        self.zones.get(index as usize).map(|(code, _)| code)
    }

    /// True when depths are known for this lake.
    pub fn knows_depth(&self) -> bool {
        self.depth.is_some()
    }

    /// The depth limits set.
    pub fn depth_limits(&self) -> (Option<Metres>, Option<Metres>) {
        (self.least_depth, self.most_depth)
    }

    /// What is known of a place, or why no site may lie there.
    ///
    /// # Errors
    /// The first reason that applies.
    pub fn place(&self, x: f64, y: f64) -> Result<Place, WhyNot> {
        let (zone, depth) = self.look(x, y)?;
        Ok(Place { zone: zone.and_then(|index| self.zone_code(index)).cloned(), depth })
    }

    /// What is known of a place whether or not a site may lie there.
    pub fn describe(&self, x: f64, y: f64) -> Place {
        Place {
            zone: self.zone_at(x, y).and_then(|index| self.zone_code(index)).cloned(),
            depth: self.depth.and_then(|depth| depth.depth_at(x, y)),
        }
    }

    /// True when a site may lie at a place.
    pub fn holds(&self, x: f64, y: f64) -> bool {
        self.look(x, y).is_ok()
    }

    fn zone_at(&self, x: f64, y: f64) -> Option<u32> {
        // a chosen zone goes before the others
        let holds = |index: &u32| self.zones[*index as usize].1.contains(x, y);
        let chosen = self.chosen.iter().copied().find(holds);
        chosen.or_else(|| (0..self.zones.len() as u32).find(holds))
    }

    fn look(&self, x: f64, y: f64) -> Result<(Option<u32>, Option<Metres>), WhyNot> {
        if !self.region.contains(x, y) {
            return Err(WhyNot::Land);
        }
        let zone = self.zone_at(x, y);
        if !self.chosen.is_empty() && !zone.is_some_and(|index| self.chosen.contains(&index)) {
            return Err(WhyNot::OtherZone);
        }
        let near =
            |hazard: &KeepAway| (x - hazard.x).hypot(y - hazard.y) < hazard.distance.metres();
        if self.keep_away.iter().any(near) {
            return Err(WhyNot::Hazard);
        }
        if self.excluded.iter().any(|area| area.contains(x, y)) {
            return Err(WhyNot::Excluded);
        }
        let depth = self.depth.and_then(|depth| depth.depth_at(x, y));
        if self.least_depth.is_some() || self.most_depth.is_some() {
            let depth = depth.ok_or(WhyNot::DepthUnknown)?;
            if self.least_depth.is_some_and(|least| depth < least) {
                return Err(WhyNot::TooShallow(depth));
            }
            if self.most_depth.is_some_and(|most| depth > most) {
                return Err(WhyNot::TooDeep(depth));
            }
        }
        Ok((zone, depth))
    }

    /// Squares of side `side` whose centres may hold a site, row by row from the north-west.
    ///
    /// The squares stand on whole multiples of the side from the south-west corner of the box
    /// around the water, so that the same lake gives the same squares.
    pub fn cells(&self, side: Metres) -> Vec<Cell> {
        let side = side.metres();
        let bounds = self.region.bounds();
        let n_columns = (bounds.width() / side).ceil().max(1.0) as usize;
        let n_rows = (bounds.height() / side).ceil().max(1.0) as usize;
        let mut cells = Vec::new();
        for row in (0..n_rows).rev() {
            let y = bounds.min().y + (row as f64 + 0.5) * side;
            for column in 0..n_columns {
                let x = bounds.min().x + (column as f64 + 0.5) * side;
                if let Ok((zone, depth)) = self.look(x, y) {
                    cells.push(Cell { x, y, zone, depth });
                }
            }
        }
        cells
    }

    /// Area where sites may lie: of the whole water exact, else counted on about 40,000 squares.
    pub fn area(&self) -> SquareMetres {
        let unlimited = self.chosen.is_empty()
            && self.keep_away.is_empty()
            && self.excluded.is_empty()
            && self.least_depth.is_none()
            && self.most_depth.is_none();
        if unlimited {
            return SquareMetres::new(self.region.area());
        }
        let side = (self.region.area() / 40_000.0).sqrt();
        SquareMetres::new(self.cells(Metres::new(side)).len() as f64 * side * side)
    }

    /// What narrows the frame, as parameters to store with a layout.
    pub fn parameters(&self) -> Vec<(String, String)> {
        let mut all = Vec::new();
        let mut put = |name: &str, value: String| all.push((name.to_owned(), value));
        if !self.chosen.is_empty() {
            let codes = self.chosen.iter().filter_map(|index| self.zone_code(*index));
            put("zones", codes.map(Code::as_str).collect::<Vec<_>>().join(","));
        }
        if let Some(depth) = self.least_depth {
            put("least_depth_m", depth.metres().to_string());
        }
        if let Some(depth) = self.most_depth {
            put("most_depth_m", depth.metres().to_string());
        }
        for hazard in &self.keep_away {
            let value = format!("{},{} within {} m", hazard.x, hazard.y, hazard.distance.metres());
            put("keep_away", value);
        }
        if !self.excluded.is_empty() {
            put("areas_taken_out", self.excluded.len().to_string());
        }
        all
    }

    /// Shallowest and deepest water met in the zones chosen, whatever the limits.
    pub fn depth_range(&self) -> Option<(Metres, Metres)> {
        let open = Self { least_depth: None, most_depth: None, ..self.clone() };
        let side = (self.region.area() / 40_000.0).sqrt();
        let mut depths = open.cells(Metres::new(side)).into_iter().filter_map(|cell| cell.depth);
        let first = depths.next()?;
        Some(depths.fold((first, first), |(least, most), d| (least.min(d), most.max(d))))
    }
}

/// Codes in a sentence: `A, B, C`, cut after twelve.
pub(crate) fn list<'c>(codes: impl ExactSizeIterator<Item = &'c Code>) -> String {
    let n_codes = codes.len();
    if n_codes == 0 {
        return "none".to_owned();
    }
    let first = codes.take(12).map(|code| format!("`{code}`")).collect::<Vec<_>>().join(", ");
    if n_codes > 12 { format!("{first} and {} more", n_codes - 12) } else { first }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::polygon;

    fn square(side: f64) -> MultiPolygon<f64> {
        polygon![(x: 0.0, y: 0.0), (x: side, y: 0.0), (x: side, y: side), (x: 0.0, y: side)].into()
    }

    #[expect(clippy::unnecessary_wraps, reason = "the shape of a depth function")]
    fn slope(x: f64, _: f64) -> Option<Metres> {
        Some(Metres::new(x / 10.0))
    }

    #[test]
    fn a_place_outside_the_frame_says_why() {
        let zone = ZoneArea { code: Code::new("W").unwrap(), polygon: square(60.0) };
        let frame = Frame::new(square(100.0))
            .unwrap()
            .with_zones(&[zone])
            .unwrap()
            .within_zones(&[Code::new("W").unwrap()])
            .unwrap()
            .with_depth(&slope)
            .between_depths(Some(Metres::new(1.0)), Some(Metres::new(4.0)))
            .unwrap()
            .away_from(&[KeepAway { x: 30.0, y: 30.0, distance: Metres::new(5.0) }])
            .without(&[polygon![(x: 20.0, y: 0.0), (x: 25.0, y: 0.0), (x: 25.0, y: 9.0)].into()]);
        assert_eq!(frame.place(-1.0, 5.0), Err(WhyNot::Land));
        assert_eq!(frame.place(80.0, 5.0), Err(WhyNot::OtherZone));
        assert_eq!(frame.place(31.0, 31.0), Err(WhyNot::Hazard));
        assert_eq!(frame.place(24.0, 2.0), Err(WhyNot::Excluded));
        assert_eq!(frame.place(5.0, 50.0), Err(WhyNot::TooShallow(Metres::new(0.5))));
        assert_eq!(frame.place(50.0, 50.0), Err(WhyNot::TooDeep(Metres::new(5.0))));
        let place = frame.place(30.0, 50.0).unwrap();
        assert_eq!(place.zone.unwrap().as_str(), "W");
        // 30 m of depth range by 60 m less a 5 m circle and a triangle
        let want = 30.0 * 60.0 - std::f64::consts::PI * 25.0 - 22.5;
        assert!((frame.area().square_metres() / want - 1.0).abs() < 0.01, "{:?}", frame.area());
    }

    #[test]
    fn an_unknown_zone_is_named_beside_the_known_ones() {
        let zone = ZoneArea { code: Code::new("W1").unwrap(), polygon: square(60.0) };
        let frame = Frame::new(square(100.0)).unwrap().with_zones(&[zone]).unwrap();
        let error = frame.within_zones(&[Code::new("X9").unwrap()]).unwrap_err().to_string();
        assert!(error.contains("`X9`") && error.contains("`W1`") && error.contains("hint:"));
    }

    #[test]
    fn a_depth_limit_without_depths_says_what_to_lay_instead() {
        let frame = Frame::new(square(100.0)).unwrap();
        let error = frame.between_depths(None, Some(Metres::new(4.0))).unwrap_err().to_string();
        assert!(error.contains("squares or shore sections"), "{error}");
    }
}
