//! Finds the EPSG code of a projection from its parameters: .prj files seldom carry one.

use std::ops::RangeInclusive;

/// Where the EPSG table keeps the projected systems of North America and the UTM zones of the
/// world.
const RANGES: &[RangeInclusive<u16>] = &[
    2205..=3760,     // State Plane in metres and feet, state-wide systems
    5070..=5072,     // Conus Albers
    5646..=5655,     // Vermont in feet
    6350..=6633,     // NAD83(2011)
    8826..=8826,     // Idaho
    26_847..=26_998, // UTM and State Plane in metres on NAD83, a few in feet
    32_100..=32_161, // State Plane in metres, the rest
    32_601..=32_760, // UTM on WGS 84
];

/// The numbers that make a projection what it is.
#[derive(Debug, Default, Clone, PartialEq)]
struct Parameters {
    projection: String,
    angles: [f64; 4],
    scale: f64,
    offset: [f64; 2],
    metres_per_unit: f64,
}

fn unit(name: &str) -> f64 {
    match name {
        "ft" => units::METRES_PER_FOOT,
        "us-ft" => units::METRES_PER_SURVEY_FOOT,
        _ => 1.0,
    }
}

impl Parameters {
    fn read(definition: &str) -> Option<Self> {
        let mut parameters = Self { scale: 1.0, metres_per_unit: 1.0, ..Self::default() };
        let (mut zone, mut south) = (None, false);
        for part in definition.split_whitespace() {
            let (key, value) = part.trim_start_matches('+').split_once('=').unwrap_or((part, ""));
            let number = || value.parse::<f64>().ok();
            match key {
                "proj" => value.clone_into(&mut parameters.projection),
                "lat_0" => parameters.angles[0] = number()?,
                "lon_0" | "lonc" => parameters.angles[1] = number()?,
                "lat_1" => parameters.angles[2] = number()?,
                "lat_2" => parameters.angles[3] = number()?,
                "k" | "k_0" => parameters.scale = number()?,
                "x_0" => parameters.offset[0] = number()?,
                "y_0" => parameters.offset[1] = number()?,
                "units" => parameters.metres_per_unit = unit(value),
                "to_meter" => parameters.metres_per_unit = number()?,
                "zone" => zone = number(),
                "+south" | "south" => south = true,
                _ => {}
            }
        }
        if parameters.projection == "utm" {
            "tmerc".clone_into(&mut parameters.projection);
            parameters.angles[1] = zone?.mul_add(6.0, -183.0);
            parameters.scale = 0.9996;
            parameters.offset = [500_000.0, if south { 1e7 } else { 0.0 }];
        }
        if parameters.projection == "lcc" && parameters.angles[2] < parameters.angles[3] {
            parameters.angles.swap(2, 3);
        }
        Some(parameters)
    }

    fn same_as(&self, other: &Self) -> bool {
        self.projection == other.projection
            && self.angles.iter().zip(other.angles).all(|(a, b)| (a - b).abs() < 1e-7)
            && (self.scale - other.scale).abs() < 1e-9
            && self.offset.iter().zip(other.offset).all(|(a, b)| (a - b).abs() < 2e-3)
            && (self.metres_per_unit / other.metres_per_unit - 1.0).abs() < 1e-9
    }
}

/// The beginning of the names of the systems on a datum.
fn family(datum: &str) -> &'static str {
    let name = datum.to_ascii_uppercase();
    if !super::wkt::is_nad83(datum) {
        "WGS 84 /"
    } else if name.contains("HARN") || name.contains("HIGH_ACC") || name.contains("HIGH ACC") {
        "NAD83(HARN) /"
    } else if name.contains("2007") {
        "NAD83(NSRS2007) /"
    } else if name.contains("2011") {
        "NAD83(2011) /"
    } else {
        "NAD83 /"
    }
}

fn systems(family: &str) -> impl Iterator<Item = crs_definitions::Def> {
    RANGES
        .iter()
        .flat_map(Clone::clone)
        .filter_map(crs_definitions::from_code)
        .filter(move |definition| name_of(definition).starts_with(family))
        .filter(|definition| !name_of(definition).contains("(deprecated)"))
}

fn name_of(definition: &crs_definitions::Def) -> &'static str {
    definition.wkt.split('"').nth(1).unwrap_or_default()
}

/// The code whose projection has these parameters, on the datum's family.
///
/// A realisation without a system of its own falls back on plain NAD83: they part by decimetres.
pub(super) fn code_of(definition: &str, datum: &str) -> Option<u32> {
    let wanted = Parameters::read(definition)?;
    let first = family(datum);
    let second = if first.starts_with("NAD83(") { Some("NAD83 /") } else { None };
    std::iter::once(first)
        .chain(second)
        .flat_map(systems)
        .find(|candidate| {
            Parameters::read(candidate.proj4).is_some_and(|found| found.same_as(&wanted))
        })
        .map(|candidate| u32::from(candidate.code))
}

/// The projected systems worth trying on numbers whose system nobody knows.
pub(crate) fn candidates() -> impl Iterator<Item = u32> {
    ["NAD83 /", "NAD83(HARN) /"]
        .into_iter()
        .flat_map(systems)
        .map(|definition| u32::from(definition.code))
}
