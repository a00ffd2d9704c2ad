//! Coordinate reference systems: what the numbers of a file mean on the ground.

mod recognise;
mod wkt;

pub(crate) use recognise::candidates;

use crate::at_once;
use geo::MapCoords;
use geo_types::Coord;
use proj4rs::Proj;
use std::fmt;
use std::sync::Arc;
use units::LonLat;

/// A coordinate reference system that Quillwort can turn into longitude and latitude and back.
///
/// Two kinds of numbers meet here. **Native** numbers are those of a file in this system: degrees,
/// metres or feet. **Metres** are what the rest of this crate works in: the native numbers of a
/// projected system times the metres in its unit, so a State Plane system in feet serves as a
/// working system without a foot ever entering an area or a depth.
///
/// # Assumptions
/// WGS 84 and every NAD83 realisation are treated as one datum, as the agencies' files do; they
/// part by one to two metres. Datums that part by more are refused, see
/// [`CrsError::DatumNeedsShift`].
#[derive(Clone)]
pub struct Crs {
    inner: Arc<Inner>,
}

struct Inner {
    code: Option<u32>,
    name: String,
    wkt: String,
    projection: Proj,
    degrees: Proj,
    definition: String,
    metres_per_unit: f64,
}

/// A coordinate reference system that cannot be used, or a place it cannot hold.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CrsError {
    /// No such code in the EPSG table.
    #[error("`EPSG:{code}` is not a coordinate reference system known here")]
    UnknownCode {
        /// The code asked for.
        code: u32,
    },
    /// The text of a .prj file or a well-known text that is not one.
    #[error("the text of the coordinate reference system cannot be read: {reason}")]
    UnreadableText {
        /// What is wrong with it.
        reason: String,
    },
    /// The system stands on a datum that lies tens to hundreds of metres from WGS 84.
    #[error(
        "`{name}` stands on the datum `{datum}`, which lies tens to hundreds of metres from WGS 84 and needs a shift grid that is not carried here"
    )]
    DatumNeedsShift {
        /// Name of the system.
        name: String,
        /// Name of its datum.
        datum: String,
    },
    /// A system whose projection is not supported.
    #[error("`{name}` cannot be used: {reason}")]
    Unsupported {
        /// Name of the system.
        name: String,
        /// What is missing.
        reason: String,
    },
    /// Metres were asked of a system in degrees.
    #[error("`{name}` is in degrees; lengths and areas need a projected system")]
    NotProjected {
        /// Name of the system.
        name: String,
    },
    /// A place the system cannot hold.
    #[error("the position `{x}, {y}` is outside what `{name}` can hold")]
    OutOfReach {
        /// Name of the system.
        name: String,
        /// First number.
        x: f64,
        /// Second number.
        y: f64,
    },
}

impl CrsError {
    /// What a person can do about it.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::UnknownCode { .. } => {
                "look the code up in the file's description; WGS 84 is EPSG:4326, UTM zone 16 north EPSG:32616"
            }
            Self::UnreadableText { .. } => {
                "give the system by its code instead, such as `--crs EPSG:3071`"
            }
            Self::DatumNeedsShift { .. } => {
                "save the file again in WGS 84 or NAD83 with a GIS that has the shift grid, then add that"
            }
            Self::Unsupported { .. } => "save the file again in longitude and latitude (EPSG:4326)",
            Self::NotProjected { .. } => {
                "choose a projected system, such as the UTM zone of the lake"
            }
            Self::OutOfReach { .. } => "check the order of the axes, the sign and the unit",
        }
    }
}

/// What must hold for a datum to be taken as WGS 84.
fn refuse_far_datum(name: &str, datum: Option<&str>) -> Result<(), CrsError> {
    let Some(datum) = datum else {
        return Err(CrsError::UnreadableText { reason: "it names no datum".to_owned() });
    };
    if wkt::is_near_wgs84(datum) {
        Ok(())
    } else {
        Err(CrsError::DatumNeedsShift { name: name.to_owned(), datum: datum.replace('_', " ") })
    }
}

const RADIANS: f64 = std::f64::consts::PI / 180.0;

impl Crs {
    /// The system with this EPSG code.
    ///
    /// # Errors
    /// [`CrsError::UnknownCode`], [`CrsError::DatumNeedsShift`] for NAD27, ED50 and other datums
    /// far from WGS 84, [`CrsError::Unsupported`].
    ///
    /// # Examples
    /// ```
    /// use lakebed::Crs;
    /// let wisconsin = Crs::from_epsg(3071).unwrap();
    /// assert_eq!(wisconsin.name(), "NAD83(HARN) / Wisconsin Transverse Mercator");
    /// let error = Crs::from_epsg(26_716).unwrap_err();
    /// assert!(error.to_string().contains("North American Datum 1927"));
    /// ```
    pub fn from_epsg(code: u32) -> Result<Self, CrsError> {
        let definition = u16::try_from(code)
            .ok()
            .and_then(crs_definitions::from_code)
            .ok_or(CrsError::UnknownCode { code })?;
        let tree = wkt::Node::parse(definition.wkt)?;
        let name = tree.name().unwrap_or_default().to_owned();
        refuse_far_datum(&name, tree.datum())?;
        Self::build(Some(code), name, definition.wkt.to_owned(), definition.proj4)
    }

    /// The system described by the text of a .prj file or an OGC well-known text.
    ///
    /// An EPSG code in the text wins over its parameters. Without one the name and the parameters
    /// are compared with the systems lake files come in (UTM, State Plane in metres, international
    /// and US survey feet, Wisconsin Transverse Mercator, Web Mercator), so that `code()` is known
    /// wherever it can be.
    ///
    /// # Errors
    /// [`CrsError::UnreadableText`], [`CrsError::DatumNeedsShift`], [`CrsError::Unsupported`].
    pub fn from_prj(text: &str) -> Result<Self, CrsError> {
        let tree = wkt::Node::parse(text)?;
        let name = tree.name().unwrap_or_default().to_owned();
        if wkt::is_web_mercator(&tree) {
            return Self::from_epsg(3857);
        }
        refuse_far_datum(&name, tree.datum())?;
        if let Some(code) = tree.epsg_code()
            && let Ok(crs) = Self::from_epsg(code)
        {
            return Ok(crs);
        }
        if tree.is_geographic() {
            let code = if wkt::is_nad83(tree.datum().unwrap_or_default()) { 4269 } else { 4326 };
            return Self::from_epsg(code);
        }
        let parameters = proj4wkt::wkt_to_projstring(text)
            .map_err(|error| CrsError::UnreadableText { reason: error.to_string() })?;
        if let Some(code) = recognise::code_of(&parameters, tree.datum().unwrap_or_default()) {
            return Self::from_epsg(code);
        }
        Self::build(None, name, text.trim().to_owned(), &parameters)
    }

    /// A system from a projection string alone, on its own ellipsoid, without any shift of datum.
    #[cfg(test)]
    fn from_projection(name: &str, definition: &str) -> Self {
        Self::build(None, name.to_owned(), String::new(), definition).unwrap()
    }

    fn build(
        code: Option<u32>,
        name: String,
        wkt: String,
        definition: &str,
    ) -> Result<Self, CrsError> {
        let unsupported = |error: proj4rs::errors::Error| CrsError::Unsupported {
            name: name.clone(),
            reason: error.to_string(),
        };
        let projection = Proj::from_proj_string(definition).map_err(unsupported)?;
        let degrees =
            Proj::from_proj_string("+proj=longlat +datum=WGS84 +no_defs").map_err(unsupported)?;
        let both_ways = projection.has_forward() && projection.has_inverse();
        if !(projection.is_latlong() || both_ways) {
            return Err(CrsError::Unsupported {
                name,
                reason: "its projection works in one direction only".to_owned(),
            });
        }
        let metres_per_unit = if projection.is_latlong() { 1.0 } else { projection.to_meter() };
        let inner = Inner {
            code,
            name,
            wkt,
            projection,
            degrees,
            definition: definition.to_owned(),
            metres_per_unit,
        };
        Ok(Self { inner: Arc::new(inner) })
    }

    /// Longitude and latitude on WGS 84, EPSG:4326.
    ///
    /// # Panics
    /// Never: the definition is part of the program.
    #[expect(clippy::unwrap_used, reason = "EPSG:4326 is in the table")]
    pub fn wgs84() -> Self {
        Self::from_epsg(4326).unwrap()
    }

    /// The UTM zone on WGS 84 that holds a place: EPSG:326zz in the north, 327zz in the south.
    ///
    /// # Formula
    /// `zone = floor((longitude + 180) / 6) + 1`, 180° east counting as zone 60. The widened zones of
    /// Norway and Svalbard are not followed; a lake there still projects well.
    ///
    /// # Examples
    /// ```
    /// use lakebed::Crs;
    /// use units::LonLat;
    /// let wingra = LonLat::new(-89.42, 43.05).unwrap();
    /// assert_eq!(Crs::utm_for(wingra).code(), Some(32_616));
    /// ```
    #[expect(clippy::missing_panics_doc, clippy::unwrap_used, reason = "120 codes, all tested")]
    pub fn utm_for(place: LonLat) -> Self {
        let zone = (((place.longitude() + 180.0) / 6.0).floor() as u32 + 1).clamp(1, 60);
        let base = if place.latitude() < 0.0 { 32_700 } else { 32_600 };
        Self::from_epsg(base + zone).unwrap()
    }

    /// Whether native numbers are degrees of longitude and latitude.
    pub fn is_geographic(&self) -> bool {
        self.inner.projection.is_latlong()
    }

    /// The EPSG code where one is known.
    pub fn code(&self) -> Option<u32> {
        self.inner.code
    }

    /// The name people know the system by.
    pub fn name(&self) -> &str {
        &self.inner.name
    }

    /// The well-known text: the EPSG table's, else that of the file it was read from.
    pub fn wkt(&self) -> &str {
        &self.inner.wkt
    }

    /// Metres in one native unit: 1 for metres, 0.3048 for feet, 1200/3937 for US survey feet; 1
    /// for a system in degrees, where it means nothing.
    pub fn metres_per_unit(&self) -> f64 {
        self.inner.metres_per_unit
    }

    /// `EPSG:3071`, or the name where no code is known.
    pub fn label(&self) -> String {
        self.inner.code.map_or_else(|| self.inner.name.clone(), |code| format!("EPSG:{code}"))
    }

    fn shift(&self, from: &Proj, to: &Proj, place: Coord<f64>) -> Result<Coord<f64>, CrsError> {
        let mut triple = (place.x, place.y, 0.0);
        proj4rs::transform::transform(from, to, &mut triple)
            .ok()
            .filter(|()| triple.0.is_finite() && triple.1.is_finite())
            .map(|()| Coord { x: triple.0, y: triple.1 })
            .ok_or_else(|| self.out_of_reach(place))
    }

    fn out_of_reach(&self, coord: Coord<f64>) -> CrsError {
        CrsError::OutOfReach { name: self.inner.name.clone(), x: coord.x, y: coord.y }
    }

    /// Longitude and latitude of native numbers, x (or longitude) first.
    ///
    /// # Errors
    /// [`CrsError::OutOfReach`].
    pub fn native_to_lon_lat(&self, native: Coord<f64>) -> Result<LonLat, CrsError> {
        let out_of_reach = || self.out_of_reach(native);
        if self.is_geographic() {
            return LonLat::new(native.x, native.y).ok().ok_or_else(out_of_reach);
        }
        let radians = self.shift(&self.inner.projection, &self.inner.degrees, native)?;
        LonLat::new(radians.x / RADIANS, radians.y / RADIANS).ok().ok_or_else(out_of_reach)
    }

    /// Native numbers of a place.
    ///
    /// # Errors
    /// [`CrsError::OutOfReach`].
    pub fn lon_lat_to_native(&self, place: LonLat) -> Result<Coord<f64>, CrsError> {
        let degrees = Coord { x: place.longitude(), y: place.latitude() };
        if self.is_geographic() {
            return Ok(degrees);
        }
        let radians = Coord { x: degrees.x * RADIANS, y: degrees.y * RADIANS };
        self.shift(&self.inner.degrees, &self.inner.projection, radians)
            .ok()
            .ok_or_else(|| self.out_of_reach(degrees))
    }

    /// Metres east and north of a place in this system.
    ///
    /// # Errors
    /// [`CrsError::NotProjected`] for a system in degrees, [`CrsError::OutOfReach`].
    pub fn project(&self, place: LonLat) -> Result<Coord<f64>, CrsError> {
        if self.is_geographic() {
            return Err(CrsError::NotProjected { name: self.inner.name.clone() });
        }
        let native = self.lon_lat_to_native(place)?;
        Ok(native * self.inner.metres_per_unit)
    }

    /// Metres east and north of many places in this system, in their order.
    ///
    /// # Errors
    /// As [`Self::project`], at the first place that fails.
    pub fn project_all(&self, places: &[LonLat]) -> Result<Vec<Coord<f64>>, CrsError> {
        let part = |places: &[LonLat]| -> Result<Vec<Coord<f64>>, CrsError> {
            places.iter().map(|place| self.project(*place)).collect()
        };
        let (first, second) = places.split_at(places.len() / 2);
        let (first, second) = at_once(|| part(first), || part(second));
        let mut all = first?;
        all.append(&mut second?);
        Ok(all)
    }

    /// The place at metres east and north in this system.
    ///
    /// # Errors
    /// [`CrsError::NotProjected`] for a system in degrees, [`CrsError::OutOfReach`].
    pub fn unproject(&self, metres: Coord<f64>) -> Result<LonLat, CrsError> {
        if self.is_geographic() {
            return Err(CrsError::NotProjected { name: self.inner.name.clone() });
        }
        self.native_to_lon_lat(metres / self.inner.metres_per_unit)
    }

    /// A geometry in longitude and latitude, turned into metres.
    ///
    /// # Errors
    /// As [`Self::project`], at the first vertex that fails.
    pub fn project_geometry<G>(&self, lon_lat: &G) -> Result<G::Output, CrsError>
    where
        G: MapCoords<f64, f64>,
    {
        lon_lat.try_map_coords(|coord| self.project(self.place(coord)?))
    }

    /// A geometry in metres, turned into longitude and latitude.
    ///
    /// # Errors
    /// As [`Self::unproject`], at the first vertex that fails.
    pub fn unproject_geometry<G>(&self, metres: &G) -> Result<G::Output, CrsError>
    where
        G: MapCoords<f64, f64>,
    {
        metres.try_map_coords(|coord| self.unproject(coord).map(coord_of))
    }

    /// A geometry in native numbers, turned into longitude and latitude.
    ///
    /// # Errors
    /// As [`Self::native_to_lon_lat`], at the first vertex that fails.
    pub fn native_geometry_to_lon_lat<G>(&self, native: &G) -> Result<G::Output, CrsError>
    where
        G: MapCoords<f64, f64>,
    {
        native.try_map_coords(|coord| self.native_to_lon_lat(coord).map(coord_of))
    }

    fn place(&self, coord: Coord<f64>) -> Result<LonLat, CrsError> {
        LonLat::new(coord.x, coord.y).ok().ok_or_else(|| self.out_of_reach(coord))
    }
}

/// A place as the bare coordinate of a geometry, longitude in x.
pub fn coord_of(place: LonLat) -> Coord<f64> {
    Coord { x: place.longitude(), y: place.latitude() }
}

impl fmt::Debug for Crs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Crs")
            .field("code", &self.inner.code)
            .field("name", &self.inner.name)
            .field("definition", &self.inner.definition)
            .finish_non_exhaustive()
    }
}

impl PartialEq for Crs {
    /// Two systems are one when they project alike.
    fn eq(&self, other: &Self) -> bool {
        self.inner.definition == other.inner.definition
    }
}

#[cfg(test)]
mod tests;
