//! What comes with a picture, a file or a place in the address; the bytes themselves are the body.

use crate::error::ApiError;
use axum::extract::FromRequestParts;
use axum::http::StatusCode;
use axum::http::header::IF_MATCH;
use axum::http::request::Parts;
use serde::Deserialize;
use std::convert::Infallible;
use utoipa::IntoParams;
use workflow::draw::PlaceAsk;

/// What is said of a picture that is sent as its bytes.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct BackgroundAsk {
    /// Its name.
    pub(crate) name: String,
    /// `affine`, `projective` or `thin-plate`.
    pub(crate) warp: Option<String>,
    /// Page of a PDF, from 1.
    pub(crate) page: Option<usize>,
    /// Control points as a table: a header `name,pixel_x,pixel_y,longitude,latitude`, a line each.
    pub(crate) points: String,
    /// Only say how well the points fit.
    pub(crate) preview: Option<bool>,
}

/// Which page of a PDF.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct PageAsk {
    /// From 1.
    pub(crate) page: Option<usize>,
}

/// What is said of a file that is sent as its bytes.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct FileAsk {
    /// `outline`, `depths`, `contours`, `zones`, `sub-areas`, `landmarks`, `treatments` or `species`.
    pub(crate) kind: String,
    /// Its name; the ending says what kind of file it is.
    pub(crate) name: String,
    /// Only say what would be stored.
    pub(crate) preview: Option<bool>,
    /// Positions that look to be a known slip are corrected.
    pub(crate) fix: Option<bool>,
    /// Reference system, when the file does not say, `EPSG:n`.
    pub(crate) crs: Option<String>,
    /// Unit of depths, `ft`, `m` or `cm`.
    pub(crate) unit: Option<String>,
    /// Layer within the file, or the lake among many.
    pub(crate) layer: Option<String>,
    /// Elevation of the water surface, for a raster of bed elevations, in its own unit.
    pub(crate) surface: Option<f64>,
    /// How deep the transducer hung below the water, metres.
    pub(crate) transducer_m: Option<f64>,
    /// Level of the water on the sounding day above the reference level, metres, negative below.
    pub(crate) water_level_m: Option<f64>,
    /// Column of the depth.
    pub(crate) depth_column: Option<String>,
    /// Column of the code.
    pub(crate) code_column: Option<String>,
    /// Column of the name.
    pub(crate) name_column: Option<String>,
}

/// How an area goes.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct DeleteWords {
    /// From the record of earlier surveys too.
    pub(crate) for_good: Option<bool>,
}

/// Which drawing a change was made from.
#[derive(Debug, IntoParams)]
#[into_params(parameter_in = Header)]
pub(crate) struct SeenWords {
    /// Version of the drawing that was changed; a change made from an older one is refused.
    #[param(rename = "if-match", required = false)]
    pub(crate) _seen: Option<String>,
}

/// The version in the header of a change; none when it does not say.
#[derive(Debug)]
pub(crate) struct Seen(pub(crate) Option<String>);

impl<S: Sync> FromRequestParts<S> for Seen {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let said = parts.headers.get(IF_MATCH).and_then(|value| value.to_str().ok());
        let seen = said.map(|text| text.trim().trim_matches('"').to_owned());
        Ok(Self(seen.filter(|text| !text.is_empty() && text != "*")))
    }
}

/// A place: two metres, or two degrees.
#[derive(Debug, Deserialize, IntoParams)]
pub(crate) struct PlaceWords {
    /// East, metres of the working system.
    pub(crate) x: Option<f64>,
    /// North, metres of the working system.
    pub(crate) y: Option<f64>,
    /// Degrees east.
    pub(crate) longitude: Option<f64>,
    /// Degrees north.
    pub(crate) latitude: Option<f64>,
}

impl PlaceWords {
    pub(crate) fn place(&self) -> Result<PlaceAsk, ApiError> {
        match (self.x, self.y, self.longitude, self.latitude) {
            (Some(x), Some(y), None, None) => Ok(PlaceAsk::Metres(x, y)),
            (None, None, Some(longitude), Some(latitude)) => {
                Ok(PlaceAsk::Degrees { longitude, latitude })
            }
            _ => Err(ApiError::refuse(
                StatusCode::BAD_REQUEST,
                "a place is two numbers",
                "give `x` and `y`, or `longitude` and `latitude`",
            )),
        }
    }
}
