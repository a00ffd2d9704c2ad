//! What comes with a picture in the address; the picture itself is the body.

use serde::Deserialize;
use utoipa::IntoParams;

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
