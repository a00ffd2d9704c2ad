use super::parts::Collected;
use super::{Layout, LayoutError, Warning, put, text_code};
use crate::design::share_out;
use crate::frame::{Frame, ZoneArea};
use crate::region::{Region, area_of};
use crate::shape::bisect::equal_parts;
use crate::shape::shore::{Arc, ShoreRing, share_by_shore, shore_rings};
use geo_types::MultiPolygon;
use rstar::RTree;
use rstar::primitives::GeomWithData;
use survey::Code;
use units::SquareMetres;

/// How many sub-areas a zone is cut into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SubAreaSize {
    /// This many in each zone.
    Number(usize),
    /// This many over all zones, shared out by area, at least one in each.
    NumberInAll(usize),
    /// Parts of about this area; about an acre is usual (common practice).
    Area(SquareMetres),
}

/// Largest deviation of a sub-area from the mean of its zone.
const NEAR_EQUAL: f64 = 0.02;

/// Cuts the littoral part of each zone into sub-areas of near equal area (within 2 %), in order
/// along the shore, with one site each.
///
/// `littoral` gives each zone's code and the polygon of its plant-bearing water. Sub-areas of zone
/// W3 are W3-1, W3-2 … clockwise along the shore.
///
/// # Formula
/// A stretch of shore owns the water nearest to it; corners are moved along the shore until each
/// stretch owns the same area. Where the water is so wide that such slices would be more than
/// one and a half times as long across as along the shore, a stretch owns several parts and is cut
/// by straight lines. A zone away from the shore is cut by straight lines alone.
/// # Errors
/// No zones, a zone without littoral water, a number or area out of range.
pub fn sub_areas_cut(
    frame: &Frame<'_>,
    littoral: &[ZoneArea],
    size: SubAreaSize,
) -> Result<Layout, LayoutError> {
    if littoral.is_empty() {
        return Err(LayoutError::Nothing {
            what: "zones",
            hint: "add zones (`quillwort add BOOK zones FILE`), or give the whole littoral zone as one",
        });
    }
    let mut areas = Vec::new();
    for zone in littoral {
        // room for a hyphen and the number of the sub-area
        if zone.code.as_str().chars().count() + 6 > Code::LONGEST {
            return Err(LayoutError::Parameter {
                word: "zone code",
                found: zone.code.to_string(),
                expected: format!("at most {} characters", Code::LONGEST - 6),
                hint: "give the zone a shorter code, its sub-areas carry it",
            });
        }
        match Region::new(&zone.polygon) {
            Some(region) => areas.push(region.area()),
            None => return Err(LayoutError::NoLittoralWater { zone: zone.code.clone() }),
        }
    }
    let numbers = numbers_of(&areas, size)?;
    let rings = shore_rings(frame.water());
    let mut parts = Collected::default();
    for ((zone, &n), &area) in littoral.iter().zip(&numbers).zip(&areas) {
        let cut = cut_along_shore(&zone.polygon, n, &rings);
        for (index, polygon) in cut.into_iter().enumerate() {
            let code = text_code(&format!("{}-{}", zone.code, index + 1));
            let own = area_of(&polygon);
            let deviation = own / area * n as f64 - 1.0;
            if deviation.abs() > NEAR_EQUAL {
                let percent = deviation * 100.0;
                parts.warnings.push(Warning::UnequalPart { code: code.clone(), percent });
            }
            parts.add(frame, code, Some(zone.code.clone()), polygon, own, None);
        }
    }
    let mut parameters = Vec::new();
    match size {
        SubAreaSize::Number(n) => put(&mut parameters, "number_in_each_zone", n),
        SubAreaSize::NumberInAll(n) => put(&mut parameters, "number", n),
        SubAreaSize::Area(area) => put(&mut parameters, "area_m2", area.square_metres()),
    }
    let codes: Vec<&str> = littoral.iter().map(|zone| zone.code.as_str()).collect();
    put(&mut parameters, "zones_cut", codes.join(","));
    parameters.extend(frame.parameters());
    let Collected { sites, parts, warnings } = parts;
    Ok(Layout { name: "sub-areas".to_owned(), parameters, sites, parts, warnings })
}

fn numbers_of(areas: &[f64], size: SubAreaSize) -> Result<Vec<usize>, LayoutError> {
    let total: f64 = areas.iter().sum();
    let fault = |word, found: String, expected: String, hint| {
        Err(LayoutError::Parameter { word, found, expected, hint })
    };
    let wanted = match size {
        SubAreaSize::Number(n) => n * areas.len(),
        SubAreaSize::NumberInAll(n) => n,
        SubAreaSize::Area(area) => {
            let square = area.square_metres();
            if square < 1.0 || square > 2.0 * total {
                return fault(
                    "area of a sub-area",
                    format!("{square} m²"),
                    format!("between 1 m² and the littoral area, {total:.0} m²"),
                    "give it with its unit, e.g. `1ac`; about an acre is usual",
                );
            }
            (total / square).round() as usize
        }
    };
    if wanted == 0 || wanted > 20_000 || wanted as f64 > total {
        return fault(
            "number of sub-areas",
            wanted.to_string(),
            "between 1 and 20,000, each of at least a square metre".to_owned(),
            "one sub-area an acre is usual",
        );
    }
    Ok(match size {
        SubAreaSize::Number(n) => vec![n; areas.len()],
        SubAreaSize::Area(area) => {
            areas.iter().map(|own| (own / area.square_metres()).round().max(1.0) as usize).collect()
        }
        SubAreaSize::NumberInAll(n) => {
            let spare = n.saturating_sub(areas.len());
            let more = share_out(areas, &vec![spare; areas.len()], spare);
            more.into_iter().map(|extra| extra + 1).collect()
        }
    })
}

/// A point of shore that owns water, and how much.
#[derive(Debug, Clone, Copy)]
struct Owner {
    ring: usize,
    way: f64,
    cells: usize,
}

fn cut_along_shore(
    polygon: &MultiPolygon<f64>,
    n: usize,
    rings: &[ShoreRing],
) -> Vec<MultiPolygon<f64>> {
    if n < 2 {
        return vec![polygon.clone()];
    }
    let Some(region) = Region::new(polygon) else { return Vec::new() };
    let part = region.area() / n as f64;
    let step = part.sqrt() / 8.0;
    let windows = owned_shore(&region, rings, n, step);
    let shore: f64 = windows.iter().map(|window| window.to - window.from).sum();
    if windows.is_empty() || shore < 0.5 * part.sqrt() {
        return equal_parts(polygon, n);
    }
    // parts across, so that a part is about as long as wide
    let across = region.area() / shore / part.sqrt();
    let rows = if across < 1.5 { 1 } else { across.round() as usize };
    let n_groups = n.div_ceil(rows);
    let counts: Vec<usize> =
        (0..n_groups).map(|k| (k + 1) * n / n_groups - k * n / n_groups).collect();
    let Some(groups) = equal_stretches(polygon, &region, rings, &windows, &counts, step) else {
        return equal_parts(polygon, n);
    };
    groups.iter().zip(&counts).flat_map(|(group, &count)| equal_parts(group, count)).collect()
}

/// A run of shore with the owners along it.
#[derive(Debug, Clone)]
struct Window {
    ring: usize,
    from: f64,
    to: f64,
    owners: Vec<Owner>,
}

/// The stretches of shore that own water of a region, found on a raster of cells.
fn owned_shore(region: &Region, rings: &[ShoreRing], n: usize, step: f64) -> Vec<Window> {
    let bounds = region.bounds();
    let margin = 24.0 * step + 50.0;
    let near = |(x, y): (f64, f64)| {
        x > bounds.min().x - margin
            && x < bounds.max().x + margin
            && y > bounds.min().y - margin
            && y < bounds.max().y + margin
    };
    let mut owners: Vec<Owner> = Vec::new();
    let mut places = Vec::new();
    for (ring, shore) in rings.iter().enumerate() {
        let n_samples = (shore.length() / step).ceil() as usize;
        for k in 0..n_samples {
            let way = (k as f64 + 0.5) * shore.length() / n_samples as f64;
            let place = shore.at(way);
            if near(place) {
                places.push(GeomWithData::new([place.0, place.1], owners.len()));
                owners.push(Owner { ring, way, cells: 0 });
            }
        }
    }
    if owners.is_empty() {
        return Vec::new();
    }
    let tree = RTree::bulk_load(places);
    let side = cell_side(region, n);
    let n_columns = (bounds.width() / side).ceil() as usize;
    let n_rows = (bounds.height() / side).ceil() as usize;
    for row in 0..n_rows {
        let y = bounds.min().y + (row as f64 + 0.5) * side;
        for column in 0..n_columns {
            let x = bounds.min().x + (column as f64 + 0.5) * side;
            if region.contains(x, y)
                && let Some(nearest) = tree.nearest_neighbor(&[x, y])
            {
                owners[nearest.data].cells += 1;
            }
        }
    }
    (0..rings.len()).filter_map(|ring| window(ring, rings, &owners, step)).collect()
}

fn cell_side(region: &Region, n: usize) -> f64 {
    (region.area() / (300 * n).clamp(3_000, 60_000) as f64).sqrt()
}

/// The run of one ring from its first owner to its last, starting after the widest gap.
fn window(ring: usize, rings: &[ShoreRing], owners: &[Owner], step: f64) -> Option<Window> {
    let mut own: Vec<Owner> =
        owners.iter().filter(|owner| owner.ring == ring && owner.cells > 0).copied().collect();
    let round = rings[ring].length();
    let last = own.last()?.way;
    let (mut widest, mut start) = (own[0].way + round - last, 0);
    for k in 1..own.len() {
        if own[k].way - own[k - 1].way > widest + 1e-9 {
            (widest, start) = (own[k].way - own[k - 1].way, k);
        }
    }
    if widest < 4.0 * step {
        // owned all round: from the north-west like every other numbering
        return Some(Window { ring, from: 0.0, to: round, owners: own });
    }
    own.rotate_left(start);
    let n_before = own.len() - start;
    for owner in own.iter_mut().skip(n_before) {
        owner.way += round;
    }
    let pad = (0.45 * widest).min(2.0 * step);
    let (from, to) = (own[0].way - pad, own[own.len() - 1].way + pad);
    Some(Window { ring, from, to, owners: own })
}

/// Moves corners along the shore until each stretch owns its share. None when it cannot be done to
/// within the tolerance.
fn equal_stretches(
    polygon: &MultiPolygon<f64>,
    region: &Region,
    rings: &[ShoreRing],
    windows: &[Window],
    counts: &[usize],
    step: f64,
) -> Option<Vec<MultiPolygon<f64>>> {
    let n: usize = counts.iter().sum();
    let share = region.area() / n as f64;
    // way along all windows, one after the other, against the area owned up to there
    let mut curve = vec![(0.0, 0.0)];
    let mut passed = 0.0;
    let cell = cell_side(region, n).powi(2);
    for window in windows {
        for owner in &window.owners {
            let before = curve[curve.len() - 1].1;
            let way = passed + owner.way - window.from;
            // the owner's water lies half a step on either side of it
            curve.push((way - 0.5 * step, before));
            curve.push((way + 0.5 * step, before + owner.cells as f64 * cell));
        }
        passed += window.to - window.from;
    }
    let counted = curve[curve.len() - 1].1;
    for point in &mut curve {
        point.1 *= region.area() / counted;
        point.0 = point.0.clamp(0.0, passed);
    }
    let wanted: Vec<f64> = counts
        .iter()
        .scan(0, |sum, count| {
            *sum += count;
            Some(*sum as f64 * share)
        })
        .collect();
    let mut aim = wanted.clone();
    let mut stride = vec![1.0; counts.len()];
    let mut last_miss = vec![0.0; counts.len()];
    let mut best: Option<(f64, Vec<MultiPolygon<f64>>)> = None;
    for _ in 0..12 {
        let corners: Vec<f64> =
            aim[..aim.len() - 1].iter().map(|area| way_to(&curve, *area)).collect();
        let arcs = arcs_between(windows, &corners);
        let pieces = share_by_shore(polygon, rings, &arcs, step);
        let mut areas = vec![0.0; counts.len()];
        let mut polygons = vec![MultiPolygon(Vec::new()); counts.len()];
        for piece in pieces {
            areas[piece.label] = piece.area;
            polygons[piece.label] = piece.polygon;
        }
        let worst = areas
            .iter()
            .zip(counts)
            .map(|(area, count)| (area / (*count as f64 * share) - 1.0).abs())
            .fold(0.0, f64::max);
        if best.as_ref().is_none_or(|(least, _)| worst < *least) {
            best = Some((worst, polygons));
        }
        if worst < 0.002 {
            break;
        }
        let mut sum = 0.0;
        for (k, area) in areas.iter().enumerate() {
            sum += area;
            let miss = wanted[k] - sum;
            // a corner that swings to and fro has overshot: half the stride from there on
            if miss * last_miss[k] < 0.0 {
                stride[k] *= 0.5;
            }
            last_miss[k] = miss;
            aim[k] = (aim[k] + stride[k] * miss).clamp(0.0, region.area());
        }
        aim.sort_by(f64::total_cmp);
    }
    best.filter(|(worst, _)| *worst < NEAR_EQUAL).map(|(_, polygons)| polygons)
}

/// Way at which the area owned reaches a value.
fn way_to(curve: &[(f64, f64)], area: f64) -> f64 {
    let index = curve.partition_point(|point| point.1 < area).clamp(1, curve.len() - 1);
    let (a, b) = (curve[index - 1], curve[index]);
    if b.1 > a.1 { a.0 + (area - a.1) / (b.1 - a.1) * (b.0 - a.0) } else { a.0 }
}

/// Arcs between corners given by their way along all windows.
fn arcs_between(windows: &[Window], corners: &[f64]) -> Vec<Arc> {
    let mut arcs = Vec::new();
    let mut passed = 0.0;
    let mut label = 0;
    for window in windows {
        let length = window.to - window.from;
        let mut from = 0.0;
        loop {
            let end = corners.get(label).map_or(length, |corner| (corner - passed).min(length));
            if end > from {
                arcs.push(Arc {
                    ring: window.ring,
                    from: window.from + from,
                    to: window.from + end,
                    label,
                });
                from = end;
            }
            if end >= length {
                break;
            }
            label += 1;
        }
        passed += length;
    }
    arcs
}

#[cfg(test)]
mod tests;
