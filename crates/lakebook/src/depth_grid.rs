//! A raster of depths as a data set: its cells as they were, so that its area and volume can be
//! counted by cells at any level of the water.

/// How the bytes of a depth grid begin, so that it is not taken for a picture.
const MAGIC: &[u8; 8] = b"QWDEPTH1";
/// The same with a water surface after the sizes.
const WITH_SURFACE: &[u8; 8] = b"QWDEPTH2";

/// A raster of depths in a projected system, north up.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthGrid {
    /// EPSG code of the system.
    pub epsg: u32,
    /// North-western corner, in the system's own unit.
    pub corner: (f64, f64),
    /// Width and height of a cell, in the system's own unit.
    pub cell: (f64, f64),
    /// Cells in a row.
    pub columns: u32,
    /// Depths in metres below the reference level, negative on land, row by row from the north;
    /// not-a-number where there is no datum.
    pub depths: Vec<f64>,
    /// The elevation the depths were counted from, where they are heights of a raster that keeps
    /// them in 32 bits.
    pub surface: Option<Surface>,
}

/// A water surface in the unit of a raster of elevations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Its elevation.
    pub elevation: f64,
    /// Metres in the raster's unit.
    pub metres_per_unit: f64,
}

impl DepthGrid {
    /// The bytes kept.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(48 + 8 * self.depths.len());
        bytes.extend_from_slice(if self.surface.is_some() { WITH_SURFACE } else { MAGIC });
        bytes.extend_from_slice(&self.epsg.to_le_bytes());
        bytes.extend_from_slice(&self.columns.to_le_bytes());
        for number in [self.corner.0, self.corner.1, self.cell.0, self.cell.1] {
            bytes.extend_from_slice(&number.to_le_bytes());
        }
        if let Some(surface) = self.surface {
            for number in [surface.elevation, surface.metres_per_unit] {
                bytes.extend_from_slice(&number.to_le_bytes());
            }
        }
        for depth in &self.depths {
            bytes.extend_from_slice(&depth.to_le_bytes());
        }
        bytes
    }

    /// Whether bytes are a depth grid, by how they begin.
    pub fn is_one(bytes: &[u8]) -> bool {
        bytes.starts_with(MAGIC) || bytes.starts_with(WITH_SURFACE)
    }

    /// Reads what [`DepthGrid::to_bytes`] wrote; none for anything else, such as a picture.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let plain = bytes.strip_prefix(MAGIC);
        let rest = plain.or_else(|| bytes.strip_prefix(WITH_SURFACE))?;
        let start = if plain.is_some() { 40 } else { 56 };
        let word = |at: usize| Some(u32::from_le_bytes(rest.get(at..at + 4)?.try_into().ok()?));
        let number = |at: usize| Some(f64::from_le_bytes(rest.get(at..at + 8)?.try_into().ok()?));
        let depths = rest.get(start..)?;
        let columns = word(4)?;
        let whole = depths.len().is_multiple_of(8)
            && columns > 0
            && (depths.len() / 8).is_multiple_of(columns as usize);
        whole.then_some(())?;
        Some(Self {
            epsg: word(0)?,
            columns,
            corner: (number(8)?, number(16)?),
            cell: (number(24)?, number(32)?),
            depths: (0..depths.len() / 8).map_while(|i| number(start + 8 * i)).collect(),
            surface: match plain {
                Some(_) => None,
                None => Some(Surface { elevation: number(40)?, metres_per_unit: number(48)? }),
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_go_both_ways_and_pictures_are_none() {
        let grid = DepthGrid {
            epsg: 3071,
            corner: (542_000.5, 430_000.25),
            cell: (2.633_477, 2.633_477),
            columns: 3,
            depths: vec![1.0, -0.5, 2.25, f64::NAN, 0.0, 7.5],
            surface: None,
        };
        let bytes = grid.to_bytes();
        assert!(DepthGrid::is_one(&bytes));
        let back = DepthGrid::from_bytes(&bytes).unwrap();
        assert_eq!(
            (back.epsg, back.corner, back.cell, back.columns),
            (3071, grid.corner, grid.cell, 3)
        );
        for (one, other) in back.depths.iter().zip(&grid.depths) {
            assert_eq!(one.to_bits(), other.to_bits());
        }
        let surface = Surface { elevation: 1_102.36, metres_per_unit: 0.3048 };
        let raised = DepthGrid { surface: Some(surface), depths: vec![1.0, 2.0, 3.0], ..grid };
        assert!(DepthGrid::is_one(&raised.to_bytes()));
        assert_eq!(DepthGrid::from_bytes(&raised.to_bytes()), Some(raised));
        assert!(DepthGrid::from_bytes(b"\x89PNG\r\n").is_none());
        assert!(DepthGrid::from_bytes(&bytes[..bytes.len() - 3]).is_none());
        assert!(DepthGrid::from_bytes(&bytes[..bytes.len() - 8]).is_none());
    }
}
