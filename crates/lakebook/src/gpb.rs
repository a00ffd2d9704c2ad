//! Geometry columns: longitude and latitude as GeoPackage blobs in the tables and as nested arrays
//! in the log.

use geo_types::{Coord, Geometry, LineString, MultiPolygon, Polygon};
use geopackage_core::GpbGeometry;
use geopackage_core::geometry::encode_gpb;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use units::LonLat;

/// The reference system of every table.
pub(crate) const EPSG: i32 = 4326;

/// West, south, east, north.
pub(crate) type Bounds = [f64; 4];

/// A point column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PointColumn(pub(crate) LonLat);

/// A multipolygon column.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct AreaColumn(pub(crate) MultiPolygon<f64>);

fn failed(error: impl std::error::Error + Send + Sync + 'static) -> FromSqlError {
    FromSqlError::Other(Box::new(error))
}

/// The blob of a point: 8 bytes of header without envelope, then 21 bytes of little-endian WKB.
///
/// # References
/// OGC 12-128r19 (GeoPackage 1.4), clause 2.1.3, `StandardGeoPackageBinary`.
pub(crate) fn point_blob(longitude: f64, latitude: f64) -> [u8; 29] {
    let mut blob = [0; 29];
    blob[..4].copy_from_slice(&[b'G', b'P', 0, 1]);
    blob[4..8].copy_from_slice(&EPSG.to_le_bytes());
    blob[8] = 1;
    blob[9..13].copy_from_slice(&1_u32.to_le_bytes());
    blob[13..21].copy_from_slice(&longitude.to_le_bytes());
    blob[21..29].copy_from_slice(&latitude.to_le_bytes());
    blob
}

/// The place in a point blob, whatever program wrote it.
pub(crate) fn point_of(blob: &[u8]) -> Result<(f64, f64), FromSqlError> {
    if let Ok(whole) = <&[u8; 29]>::try_from(blob)
        && whole[..4] == [b'G', b'P', 0, 1]
        && whole[8..13] == [1, 1, 0, 0, 0]
    {
        let number = |from: usize| {
            let mut bytes = [0; 8];
            bytes.copy_from_slice(&whole[from..from + 8]);
            f64::from_le_bytes(bytes)
        };
        return Ok((number(13), number(21)));
    }
    match geometry_of(blob)? {
        Geometry::Point(point) => Ok((point.x(), point.y())),
        _ => Err(FromSqlError::InvalidType),
    }
}

/// The blob of any geometry.
pub(crate) fn geometry_blob(geometry: &Geometry<f64>) -> rusqlite::Result<Vec<u8>> {
    encode_gpb(geometry, EPSG)
        .map(|(blob, _)| blob)
        .map_err(|error| rusqlite::Error::ToSqlConversionFailure(Box::new(error)))
}

/// The geometry of any blob.
pub(crate) fn geometry_of(blob: &[u8]) -> Result<Geometry<f64>, FromSqlError> {
    GpbGeometry::parse(blob).map_err(failed)?.to_geo().ok_or(FromSqlError::InvalidType)
}

/// The height of a point, or of a line that is level, in a blob that holds heights.
///
/// # References
/// OGC 12-128r19 (GeoPackage 1.4), clause 2.1.3, for the header; OGC 06-103r4 (simple features),
/// clause 8.2, for well-known binary: 1000 is added to the type for heights, 3000 for heights and
/// measures.
pub(crate) fn height_of(blob: &[u8]) -> Option<f64> {
    let envelope = match blob.get(3)? >> 1 & 7 {
        0 => 0,
        1 => 32,
        2 | 3 => 48,
        4 => 64,
        _ => return None,
    };
    level(blob.get(8 + envelope..)?)
}

fn level(wkb: &[u8]) -> Option<f64> {
    let little = *wkb.first()? == 1;
    let int = |at: usize| {
        let bytes: [u8; 4] = wkb.get(at..at + 4)?.try_into().ok()?;
        Some(if little { u32::from_le_bytes(bytes) } else { u32::from_be_bytes(bytes) })
    };
    let number = |at: usize| {
        let bytes: [u8; 8] = wkb.get(at..at + 8)?.try_into().ok()?;
        Some(if little { f64::from_le_bytes(bytes) } else { f64::from_be_bytes(bytes) })
    };
    let kind = int(1)?;
    let (kind, width) = match kind / 1_000 {
        1 => (kind - 1_000, 24),
        3 => (kind - 3_000, 32),
        _ => return None,
    };
    match kind {
        1 => number(21),
        2 => {
            let first = number(25)?;
            let rest = (1..int(5)? as usize).map(|vertex| number(25 + vertex * width));
            let is_level =
                |height: Option<f64>| height.is_some_and(|one| (one - first).abs() < 1e-9);
            rest.into_iter().all(is_level).then_some(first)
        }
        // several of one, as programs write that make every line a multiple one
        4 | 5 if int(5)? == 1 => level(wkb.get(9..)?),
        _ => None,
    }
}

/// Bounds of a geometry; none when empty.
pub(crate) fn bounds(coords: impl Iterator<Item = Coord<f64>>) -> Option<Bounds> {
    coords.fold(None, |bounds: Option<Bounds>, at| {
        Some(bounds.map_or([at.x, at.y, at.x, at.y], |[west, south, east, north]| {
            [west.min(at.x), south.min(at.y), east.max(at.x), north.max(at.y)]
        }))
    })
}

impl PointColumn {
    pub(crate) fn bounds(&self) -> Bounds {
        let (x, y) = (self.0.longitude(), self.0.latitude());
        [x, y, x, y]
    }
}

impl AreaColumn {
    pub(crate) fn bounds(&self) -> Option<Bounds> {
        use geo_types::geometry::MultiPolygon as Area;
        let Area(polygons) = &self.0;
        bounds(polygons.iter().flat_map(|one| one.exterior().coords().copied()))
    }
}

impl ToSql for PointColumn {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(point_blob(self.0.longitude(), self.0.latitude()).to_vec().into())
    }
}

impl FromSql for PointColumn {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let (longitude, latitude) = point_of(value.as_blob()?)?;
        LonLat::new(longitude, latitude).map(Self).map_err(failed)
    }
}

impl ToSql for AreaColumn {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(geometry_blob(&Geometry::MultiPolygon(self.0.clone()))?.into())
    }
}

impl FromSql for AreaColumn {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        match geometry_of(value.as_blob()?)? {
            Geometry::MultiPolygon(area) => Ok(Self(area)),
            Geometry::Polygon(one) => Ok(Self(MultiPolygon(vec![one]))),
            _ => Err(FromSqlError::InvalidType),
        }
    }
}

impl Serialize for PointColumn {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        [self.0.longitude(), self.0.latitude()].serialize(to)
    }
}

impl<'de> Deserialize<'de> for PointColumn {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let [longitude, latitude] = <[f64; 2]>::deserialize(from)?;
        LonLat::new(longitude, latitude).map(Self).map_err(serde::de::Error::custom)
    }
}

type Ring = Vec<[f64; 2]>;

impl Serialize for AreaColumn {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let ring = |line: &LineString<f64>| line.coords().map(|at| [at.x, at.y]).collect::<Ring>();
        let polygons: Vec<Vec<Ring>> = self
            .0
            .iter()
            .map(|one| std::iter::once(one.exterior()).chain(one.interiors()).map(ring).collect())
            .collect();
        polygons.serialize(to)
    }
}

impl<'de> Deserialize<'de> for AreaColumn {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let polygons = <Vec<Vec<Ring>>>::deserialize(from)?;
        let line = |ring: Ring| ring.into_iter().map(|[x, y]| Coord { x, y }).collect();
        Ok(Self(MultiPolygon(
            polygons
                .into_iter()
                .map(|rings| {
                    let mut lines = rings.into_iter().map(line);
                    let exterior = lines.next().unwrap_or_else(|| LineString(Vec::new()));
                    Polygon::new(exterior, lines.collect())
                })
                .collect(),
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: OGC 06-103r4, clause 8.2: byte order, type, count where there are several, x, y, z.
    #[test]
    fn heights_are_read_of_points_and_level_lines() {
        let point = |z: f64| {
            let mut wkb = vec![1];
            wkb.extend(1_001_u32.to_le_bytes());
            for one in [-89.4, 43.1, z] {
                wkb.extend(one.to_le_bytes());
            }
            wkb
        };
        let line = |heights: &[f64]| {
            let mut wkb = vec![0];
            wkb.extend(3_002_u32.to_be_bytes());
            wkb.extend((heights.len() as u32).to_be_bytes());
            for z in heights {
                for one in [-89.4, 43.1, *z, 7.0] {
                    wkb.extend(one.to_be_bytes());
                }
            }
            wkb
        };
        let many = |member: Vec<u8>| {
            let mut wkb = vec![1];
            wkb.extend(1_005_u32.to_le_bytes());
            wkb.extend(1_u32.to_le_bytes());
            wkb.extend(member);
            wkb
        };
        let blob = |wkb: Vec<u8>, envelope: usize| {
            let mut blob = vec![b'G', b'P', 0, if envelope == 0 { 1 } else { 3 }];
            blob.extend(EPSG.to_le_bytes());
            blob.extend(vec![0; envelope]);
            blob.extend(wkb);
            blob
        };
        for (blob, want) in [
            (blob(point(-2.5), 0), Some(-2.5)),
            (blob(point(-2.5), 32), Some(-2.5)),
            (blob(line(&[3.0, 3.0, 3.0]), 0), Some(3.0)),
            (blob(line(&[3.0, 4.0]), 0), None),
            (blob(many(line(&[3.0, 3.0])), 32), Some(3.0)),
            (blob(point(1.0)[..20].to_vec(), 0), None),
            (point_blob(-89.4, 43.1).to_vec(), None),
        ] {
            assert_eq!(height_of(&blob), want);
        }
    }

    /// Source: OGC 12-128r19 (GeoPackage 1.4), clause 2.1.3: magic `GP`, version 0, flags, srs id,
    /// then well-known binary. The codec of the format library reads the same place.
    #[test]
    fn a_point_blob_reads_back_with_the_format_library() {
        let blob = point_blob(-89.4012, 43.0731);
        assert_eq!(&blob[..2], b"GP");
        let parsed = GpbGeometry::parse(&blob).unwrap();
        assert_eq!(parsed.header().srs_id, 4326);
        let Geometry::Point(point) = parsed.to_geo().unwrap() else { panic!("no point") };
        assert_eq!((point.x(), point.y()), (-89.4012, 43.0731));
        assert_eq!(point_of(&blob).unwrap(), (-89.4012, 43.0731));
        let (other, _) = encode_gpb(&point, EPSG).unwrap();
        assert_eq!(point_of(&other).unwrap(), (-89.4012, 43.0731));
    }
}
