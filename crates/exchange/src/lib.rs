//! File formats in and out, one file a format.
//!
//! A reader turns a file into something neutral, a [`Layer`] of features or a [`RecordTable`] of
//! rows, that still knows which row and which field everything came from. It collects all
//! [`Faults`] of a file before it refuses it. It never asks the lake: whether a site, a taxon or a
//! rating exists is settled by the caller. The writers take plain structs and know no book.
//!
//! Start with [`read_layer`], [`read_raster`] and [`read_record`].
#![warn(missing_docs)]

mod archive;
mod cells;
mod columns;
pub mod csv_out;
mod dbf;
pub mod export;
pub mod fault;
mod geojson;
pub mod geojson_out;
pub mod geotiff_out;
mod gpx;
pub mod gpx_out;
mod kind;
mod kml;
pub mod kml_out;
mod layer;
pub mod names;
mod nmea;
pub mod photo;
mod picture;
mod points;
pub mod raster;
mod record;
mod rings;
mod shapefile;
pub mod sheet_mark;
pub mod text;
pub mod track;
mod workbook;
mod xml;
pub mod zip_out;
mod zipped;

pub use cells::{DateOrder, DepthCell, parse_depth};
pub use columns::{ColumnGuess, ColumnMap, ColumnRef, Form, Meaning};
pub use fault::{Fault, Faults};
pub use kind::FileKind;
pub use layer::{
    DepthField, Feature, Layer, LayerCrs, ReadOptions, Skipped, Value, read_layer, read_layer_bytes,
};
pub use picture::{MOST_PIXELS, Picture, PictureFile, read_picture, read_picture_bytes};
pub use raster::{Raster, read_raster, read_raster_bytes};
pub use record::{
    CellReading, PairedCell, Recall, RecordOptions, RecordRow, RecordTable, Shape, TaxonCell,
    look_at_record, read_record, read_record_bytes,
};
