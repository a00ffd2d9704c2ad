use geo::{Area, BooleanOps, Euclidean, Length, unary_union};
use geo_types::{LineString, MultiLineString, MultiPolygon};
use survey::Code;

/// What was drawn of a plant in a zone, or over all.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnExtent {
    /// The zone; none over all.
    pub zone: Option<Code>,
    /// Square metres of beds, or metres of shore.
    pub amount: f64,
    /// Drawings that reach into it.
    pub drawings: usize,
}

/// Area of surface beds within the water, square metres: over all, then by zone. Where beds overlap the
/// water counts once.
pub fn bed_areas(
    beds: &[MultiPolygon<f64>],
    water: &MultiPolygon<f64>,
    zones: &[(Code, MultiPolygon<f64>)],
) -> Vec<DrawnExtent> {
    let wet: Vec<MultiPolygon<f64>> = beds.iter().map(|bed| bed.intersection(water)).collect();
    let together = unary_union(&wet);
    let within = |zone: Option<&(Code, MultiPolygon<f64>)>| {
        let cut = |bed: &MultiPolygon<f64>| {
            zone.map_or_else(|| bed.clone(), |(_, shape)| bed.intersection(shape)).unsigned_area()
        };
        DrawnExtent {
            zone: zone.map(|(code, _)| code.clone()),
            amount: cut(&together),
            drawings: wet.iter().filter(|bed| cut(bed) > 0.0).count(),
        }
    };
    std::iter::once(within(None)).chain(zones.iter().map(|zone| within(Some(zone)))).collect()
}

/// Length of shore with a plant, metres: over all, then by zone.
pub fn shore_lengths(
    sections: &[LineString<f64>],
    zones: &[(Code, MultiPolygon<f64>)],
) -> Vec<DrawnExtent> {
    let length = |lines: &MultiLineString<f64>| Euclidean.length(lines);
    let within = |zone: Option<&(Code, MultiPolygon<f64>)>| {
        let lengths: Vec<f64> = sections
            .iter()
            .map(|section| {
                let whole = MultiLineString::new(vec![section.clone()]);
                length(&zone.map_or_else(|| whole.clone(), |(_, shape)| shape.clip(&whole, false)))
            })
            .collect();
        DrawnExtent {
            zone: zone.map(|(code, _)| code.clone()),
            amount: lengths.iter().sum(),
            drawings: lengths.iter().filter(|length| **length > 0.0).count(),
        }
    };
    std::iter::once(within(None)).chain(zones.iter().map(|zone| within(Some(zone)))).collect()
}
