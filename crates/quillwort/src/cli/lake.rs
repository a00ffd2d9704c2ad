//! What the lake is made of.

use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// `new`.
#[derive(Debug, Args)]
pub(crate) struct NewArgs {
    /// File of the book; `.gpkg` is added when missing
    pub(crate) book: PathBuf,
    /// Name of the lake
    #[arg(long)]
    pub(crate) name: String,
    /// Units people read
    #[arg(long, default_value = "us", value_parser = ["us", "metric"])]
    pub(crate) units: String,
    /// Projected system to compute in, e.g. EPSG:26916; UTM of the lake when not given
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// State or region, e.g. WI: origins of plants and C values are looked up under it
    #[arg(long, default_value = "")]
    pub(crate) region: String,
    /// County
    #[arg(long, default_value = "")]
    pub(crate) county: String,
    /// The state's number of the water body
    #[arg(long, default_value = "")]
    pub(crate) water_body_number: String,
    /// What the depths count from
    #[arg(long, default_value = "full pool")]
    pub(crate) depth_datum: String,
    /// How species codes are made: 2+2 or 3+3 letters of the scientific name, or initials of the
    /// common name
    #[arg(long, default_value = "2+2", value_parser = ["2+2", "3+3", "initials"])]
    pub(crate) codes: String,
}

/// What `add` takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum AddKind {
    /// Shoreline with islands
    Outline,
    /// Soundings: x, y, depth
    Depths,
    /// Lines or rings of equal depth
    Contours,
    /// Named parts of the lake
    Zones,
    /// Parts of zones
    SubAreas,
    /// Named places, launches, hazards
    Landmarks,
    /// What was treated, where and when
    Treatments,
    /// Names of plants for the lake's list, one a line
    Species,
    /// A scanned map to lie under the lake: PNG, JPEG, or a page of a PDF
    Background,
    /// GPX file a receiver brought home, against the plan of a survey
    Track,
    /// Photo or scan of a field sheet, JPEG or PNG
    Sheet,
}

/// `add`.
#[derive(Debug, Args)]
pub(crate) struct AddArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// What the file holds
    pub(crate) kind: AddKind,
    /// The file
    pub(crate) file: PathBuf,
    /// Control points of a background: name, pixel_x, pixel_y, longitude, latitude
    #[arg(long)]
    pub(crate) points: Option<PathBuf>,
    /// How a background's pixels become places: affine from 3 points, projective from 4,
    /// thin-plate from 6
    #[arg(long, value_parser = ["affine", "projective", "thin-plate"])]
    pub(crate) warp: Option<String>,
    /// Page of a PDF
    #[arg(long, default_value_t = 1)]
    pub(crate) page: usize,
    /// Name of a background; its file's when not given
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// The file's coordinates are pixels of this background: shapes traced over it
    #[arg(long)]
    pub(crate) on: Option<String>,
    /// Correct positions that look to be a known slip, such as a missing minus
    #[arg(long)]
    pub(crate) fix: bool,
    /// How deep the transducer hung below the water, e.g. 1ft
    #[arg(long)]
    pub(crate) transducer: Option<String>,
    /// Level of the water on the sounding day above the reference level, e.g. -0.5ft
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) water_level: Option<String>,
    /// Layer within the file, or the feature to take, by name
    #[arg(long)]
    pub(crate) layer: Option<String>,
    /// System of the file's coordinates, e.g. EPSG:3071, when the file does not say
    #[arg(long)]
    pub(crate) crs: Option<String>,
    /// Unit of the file's depths
    #[arg(long)]
    pub(crate) unit: Option<String>,
    /// Elevation of the water surface, for a raster of bed elevations, in its own unit
    #[arg(long)]
    pub(crate) surface: Option<f64>,
    /// Column that holds the depth
    #[arg(long)]
    pub(crate) depth_column: Option<String>,
    /// Column that holds the code
    #[arg(long)]
    pub(crate) code_column: Option<String>,
    /// Column that holds the name
    #[arg(long)]
    pub(crate) name_column: Option<String>,
    /// Survey a track belongs to
    #[arg(long)]
    pub(crate) survey: Option<String>,
    /// A boat this near was at the site, e.g. 100ft
    #[arg(long)]
    pub(crate) within: Option<String>,
    /// Show what would be stored, store nothing
    #[arg(long)]
    pub(crate) preview: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// `lake`.
#[derive(Debug, Args)]
pub(crate) struct LakeArgs {
    /// The book
    pub(crate) book: PathBuf,
    /// Shallow limit of the littoral zone, e.g. 1ft
    #[arg(long)]
    pub(crate) min_depth: Option<String>,
    /// Deep limit of the littoral zone, e.g. 8ft
    #[arg(long)]
    pub(crate) max_depth: Option<String>,
    /// Secchi depth the deep limit is reckoned from, e.g. 10ft
    #[arg(long, conflicts_with = "max_depth")]
    pub(crate) secchi: Option<String>,
    /// Regression of plants' greatest depth on Secchi depth
    #[arg(long, requires = "secchi", value_parser = [
        "caffrey-2007", "canfield-1985", "chambers-kalff-1985",
    ])]
    pub(crate) regression: Option<String>,
    /// Level of the water above the reference, metres unless a unit is given, e.g. -0.5 or 1ft
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) level: Option<String>,
    /// How area and volume are found; by the depths there are when not given
    #[arg(long, value_parser = ["grid", "frustum", "trapezoid", "raster-cells"])]
    pub(crate) rule: Option<String>,
    /// The zones of this year; those in use when not given
    #[arg(long)]
    pub(crate) year: Option<i16>,
    /// Keep the littoral zone given here as the lake's own
    #[arg(long)]
    pub(crate) keep: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}
