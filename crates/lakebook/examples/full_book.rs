//! Writes an invented book with a bit of everything, for programs that read books.
//! `cargo run --package lakebook --example full_book -- FILE.gpkg`
#![expect(clippy::unwrap_used, reason = "a failure is told by the panic")]

#[path = "../tests/common/mod.rs"]
mod common;

use lakebook::{DataSet, DataSetContent};

fn main() {
    let path = std::env::args_os().nth(1).unwrap();
    let mut book = common::full_book(path.as_ref());
    let contour = geo_types::LineString::from(vec![(-89.42, 43.01), (-89.41, 43.02)]);
    for (name, content) in [
        (
            "depths.csv",
            DataSetContent::Soundings(vec![(-89.42, 43.01, 3.048), (-89.41, 43.02, 1.5)]),
        ),
        (
            "contours.geojson",
            DataSetContent::Contours(vec![
                (contour.into(), 1.524),
                (common::square(-89.41, 43.01, 0.01).into(), 3.048),
            ]),
        ),
    ] {
        let set = DataSet {
            name: name.into(),
            unit: "ft".into(),
            crs: "EPSG:4326".into(),
            content,
            note: String::new(),
        };
        book.put_data_set(&set, name).unwrap();
    }
    book.seal(common::survey_header(26).id, "A. Heron").unwrap();
}
