//! A grid of depths as a GeoTIFF that any GIS opens.
//!
//! References: TIFF 6.0 (Adobe 1992), sections 2 and 3; GeoTIFF 1.1 (OGC 19-008r4, 2019), clauses 7.1
//! to 7.3; the tag `GDAL_NODATA` (42113) as GDAL writes it.

use geo_types::Coord;

/// Stands in cells without water.
pub const NO_DATA: f32 = -9_999.0;

/// A grid of numbers, north up, in metres of a projected system.
#[derive(Debug, Clone, PartialEq)]
pub struct GridOut {
    /// EPSG code of the projected system.
    pub epsg: u16,
    /// North-western corner of the north-western cell.
    pub corner: Coord<f64>,
    /// Side of a cell.
    pub cell: f64,
    /// Cells in a row.
    pub columns: usize,
    /// Values row by row from the north; none where there is no water.
    pub values: Vec<Option<f32>>,
}

const SHORT: u16 = 3;
const LONG: u16 = 4;
const DOUBLE: u16 = 12;
const ASCII: u16 = 2;

/// The bytes of the file: 32-bit floats, one strip, not compressed.
#[expect(clippy::cast_possible_truncation, reason = "a grid of a lake is far below four gigabytes")]
pub fn to_geotiff(grid: &GridOut) -> Vec<u8> {
    let columns = grid.columns.max(1) as u32;
    let rows = (grid.values.len() / grid.columns.max(1)) as u32;
    let size = 4 * columns * rows;
    // model type projected, cells are areas, the system
    let keys: [u16; 16] = [1, 1, 0, 3, 1_024, 0, 1, 1, 1_025, 0, 1, 1, 3_072, 0, 1, grid.epsg];
    let scale = [grid.cell, grid.cell, 0.0];
    let tie = [0.0, 0.0, 0.0, grid.corner.x, grid.corner.y, 0.0];
    let none = format!("{NO_DATA}\0");
    let entries = 14u32;
    let scale_at = 8 + 2 + 12 * entries + 4;
    let tie_at = scale_at + 24;
    let keys_at = tie_at + 48;
    let none_at = keys_at + 32;
    // values begin at a multiple of four
    let values_at = (none_at + none.len() as u32).next_multiple_of(4);
    let mut bytes = Vec::with_capacity((values_at + size) as usize);
    bytes.extend(b"II*\0");
    bytes.extend(8u32.to_le_bytes());
    bytes.extend((entries as u16).to_le_bytes());
    for (tag, kind, count, value) in [
        (256u16, LONG, 1u32, columns),
        (257, LONG, 1, rows),
        (258, SHORT, 1, 32),
        (259, SHORT, 1, 1),
        (262, SHORT, 1, 1),
        (273, LONG, 1, values_at),
        (277, SHORT, 1, 1),
        (278, LONG, 1, rows),
        (279, LONG, 1, size),
        (339, SHORT, 1, 3),
        (33_550, DOUBLE, 3, scale_at),
        (33_922, DOUBLE, 6, tie_at),
        (34_735, SHORT, 16, keys_at),
        (42_113, ASCII, none.len() as u32, none_at),
    ] {
        bytes.extend(tag.to_le_bytes());
        bytes.extend(kind.to_le_bytes());
        bytes.extend(count.to_le_bytes());
        bytes.extend(value.to_le_bytes());
    }
    bytes.extend(0u32.to_le_bytes());
    bytes.extend(scale.iter().chain(&tie).flat_map(|number| number.to_le_bytes()));
    bytes.extend(keys.iter().flat_map(|key| key.to_le_bytes()));
    bytes.extend(none.as_bytes());
    bytes.resize(values_at as usize, 0);
    for value in &grid.values {
        bytes.extend(value.unwrap_or(NO_DATA).to_le_bytes());
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::LayerCrs;

    #[test]
    fn the_reader_reads_it_back() {
        let grid = GridOut {
            epsg: 32_615,
            corner: Coord { x: 578_000.5, y: 4_983_000.25 },
            cell: 5.0,
            columns: 3,
            values: vec![Some(1.5), None, Some(2.25), Some(0.0), Some(7.5), None],
        };
        let raster = crate::read_raster_bytes("depths.tif", &to_geotiff(&grid)).unwrap();
        assert_eq!((raster.width, raster.height, raster.cell), (3, 2, (5.0, 5.0)));
        assert_eq!((raster.origin, raster.crs.clone()), (grid.corner, LayerCrs::Epsg(32_615)));
        let read: Vec<Option<f64>> =
            (0..6).map(|index| raster.value(index % 3, index / 3)).collect();
        let want: Vec<Option<f64>> = grid.values.iter().map(|v| v.map(f64::from)).collect();
        assert_eq!(read, want);
    }
}
