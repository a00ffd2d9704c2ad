use crate::bounds::{self, OutOfRange};
use std::fmt;

/// A place on Earth in WGS 84 degrees, always built longitude first, always in range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LonLat {
    longitude: f64,
    latitude: f64,
}

impl LonLat {
    /// A place from its longitude and latitude in decimal degrees.
    ///
    /// # Errors
    /// [`OutOfRange`] naming the first of the two that is not on Earth.
    pub fn new(longitude: f64, latitude: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            longitude: bounds::LONGITUDE.check(longitude)?,
            latitude: bounds::LATITUDE.check(latitude)?,
        })
    }

    /// Degrees east of Greenwich.
    pub const fn longitude(self) -> f64 {
        self.longitude
    }

    /// Degrees north of the equator.
    pub const fn latitude(self) -> f64 {
        self.latitude
    }
}

impl fmt::Display for LonLat {
    /// Latitude first as people say it, to 0.00001 degree (about one metre).
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (ns, ew) = (
            if self.latitude < 0.0 { 'S' } else { 'N' },
            if self.longitude < 0.0 { 'W' } else { 'E' },
        );
        write!(f, "{:.5}° {ns}, {:.5}° {ew}", self.latitude.abs(), self.longitude.abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_prints_as_people_say_it() {
        let place = LonLat::new(-89.4012, 43.0731).unwrap();
        assert_eq!(place.to_string(), "43.07310° N, 89.40120° W");
    }

    #[test]
    fn a_latitude_over_ninety_is_refused_by_name() {
        let error = LonLat::new(43.0, -95.0).unwrap_err();
        assert_eq!(error.to_string(), "latitude `-95` is not between -90 and 90 degrees");
    }
}
