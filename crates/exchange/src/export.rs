//! What the writers take: plain structs that know no lake book.

use crate::fault::{Fault, Faults};
use crate::layer::Value;
use crate::record::CellReading;
use geo_types::{Geometry, Point};
use jiff::civil::{Date, Time};
use units::Metres;

/// What the codes in an exported table mean, in the order to print them.
///
/// Zero, not found, not looked for and not reached are four different things.
pub const CELL_CODES: [(&str, &str); 5] = [
    ("V", "seen from the boat or the shore, not on the rake"),
    ("0", "a zero was written down for this plant"),
    ("NF", "looked for and not found"),
    ("NL", "not looked for here"),
    ("NR", "the site was not reached or not sampled"),
];

/// A survey to write.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExportSurvey {
    /// Its name.
    pub name: String,
    /// The plants, in the order of the columns.
    pub taxa: Vec<ExportTaxon>,
    /// The sites, in the order of the rows.
    pub sites: Vec<ExportSite>,
    /// Plants seen on the shore, at no site.
    pub shore: Vec<ExportShoreFind>,
}

/// A plant seen on the shore.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExportShoreFind {
    /// Code of the plant.
    pub code: String,
    /// Degrees east, WGS 84, where somebody noted the place.
    pub longitude: Option<f64>,
    /// Degrees north, WGS 84.
    pub latitude: Option<f64>,
    /// Zone.
    pub zone: String,
    /// Free words.
    pub comment: String,
}

/// A plant of the list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ExportTaxon {
    /// Its short code in the lake.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
}

/// A site and what was recorded there.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExportSite {
    /// Its code.
    pub code: String,
    /// Degrees east, WGS 84.
    pub longitude: Option<f64>,
    /// Degrees north, WGS 84.
    pub latitude: Option<f64>,
    /// Zone.
    pub zone: String,
    /// Landmark.
    pub landmark: String,
    /// Day of the visit.
    pub date: Option<Date>,
    /// Time of the visit.
    pub time: Option<Time>,
    /// Depth of water.
    pub depth: Option<Metres>,
    /// Bottom sediment.
    pub sediment: String,
    /// Outcome of the visit, as its key.
    pub outcome: String,
    /// Rating of all plants together, as a code of the scale.
    pub total_rating: String,
    /// Who was there.
    pub crew: String,
    /// Free words.
    pub comment: String,
    /// One cell a plant, in the order of [`ExportSurvey::taxa`], for the wide table.
    pub cells: Vec<CellReading>,
    /// One entry an observation, for the long table.
    pub observations: Vec<ExportObservation>,
}

/// One observation of one plant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExportObservation {
    /// Code of the plant.
    pub code: String,
    /// Number of the rake throw.
    pub throw: Option<u32>,
    /// What was recorded.
    pub reading: CellReading,
    /// On the rake, by eye or on the shore, as its key.
    pub how_seen: String,
}

/// A shape with attributes, in WGS 84 degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct ExportFeature {
    /// Its label, if it has one.
    pub name: Option<String>,
    /// Its shape, `x` = longitude.
    pub geometry: Geometry<f64>,
    /// Its attributes in order.
    pub properties: Vec<(String, Value)>,
}

impl ExportSurvey {
    /// The sites that have a position, as points with what was recorded there.
    pub fn features(&self) -> Vec<ExportFeature> {
        self.sites.iter().filter_map(|site| self.feature(site)).collect()
    }

    /// The finds on the shore that have a position, as points.
    pub fn shore_features(&self) -> Vec<ExportFeature> {
        let text = |text: &str| {
            if text.is_empty() { Value::Null } else { Value::Text(text.to_owned()) }
        };
        let feature = |find: &ExportShoreFind| {
            let (longitude, latitude) = find.longitude.zip(find.latitude)?;
            let taxon = self.taxa.iter().find(|taxon| taxon.code == find.code);
            Some(ExportFeature {
                name: Some(find.code.clone()),
                geometry: Geometry::Point(Point::new(longitude, latitude)),
                properties: vec![
                    ("survey".to_owned(), text(&self.name)),
                    ("taxon".to_owned(), text(taxon.map_or("", |one| &one.scientific_name))),
                    ("taxon_code".to_owned(), text(&find.code)),
                    ("zone".to_owned(), text(&find.zone)),
                    ("comment".to_owned(), text(&find.comment)),
                ],
            })
        };
        self.shore.iter().filter_map(feature).collect()
    }

    fn feature(&self, site: &ExportSite) -> Option<ExportFeature> {
        let (longitude, latitude) = site.longitude.zip(site.latitude)?;
        let text = |text: &str| {
            if text.is_empty() { Value::Null } else { Value::Text(text.to_owned()) }
        };
        let mut properties = vec![
            ("survey".to_owned(), text(&self.name)),
            ("site".to_owned(), text(&site.code)),
            ("zone".to_owned(), text(&site.zone)),
            ("date".to_owned(), site.date.map_or(Value::Null, Value::Date)),
            ("depth_m".to_owned(), site.depth.map_or(Value::Null, |d| Value::Number(tenth_mm(d)))),
            ("sediment".to_owned(), text(&site.sediment)),
            ("outcome".to_owned(), text(&site.outcome)),
            ("total_rating".to_owned(), text(&site.total_rating)),
            ("comment".to_owned(), text(&site.comment)),
        ];
        properties.extend(
            self.taxa
                .iter()
                .zip(&site.cells)
                .map(|(taxon, cell)| (taxon.scientific_name.clone(), text(cell.code()))),
        );
        Some(ExportFeature {
            name: Some(site.code.clone()),
            geometry: Point::new(longitude, latitude).into(),
            properties,
        })
    }
}

/// Metres to a tenth of a millimetre: no digit of a depth read in feet or centimetres is lost.
pub(crate) fn tenth_mm(depth: Metres) -> f64 {
    (depth.metres() * 10_000.0).round() / 10_000.0 + 0.0
}

/// Degrees to seven decimals, about a centimetre; RFC 7946 section 11.2 warns against more.
pub(crate) fn degrees(value: f64) -> f64 {
    (value * 1e7).round() / 1e7 + 0.0
}

/// Whether a place is on Earth; otherwise the fault of writing it.
pub(crate) fn check_degrees(format: &str, name: &str, x: f64, y: f64) -> Result<(), Faults> {
    if x.abs() <= 180.0 && y.abs() <= 90.0 {
        return Ok(());
    }
    Err(Fault::file(format, "longitude and latitude in degrees")
        .field(name)
        .found(format!("{x}, {y}"))
        .hint("positions are written in WGS 84: the shape was not brought back to degrees")
        .into())
}

/// Text safe inside an XML element or attribute; characters XML 1.0 cannot hold are dropped.
pub(crate) fn xml(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\t' | '\n' | '\r' => safe.push(c),
            '\0'..='\x1F' | '\u{FFFE}' | '\u{FFFF}' => {}
            _ => safe.push(c),
        }
    }
    safe
}
