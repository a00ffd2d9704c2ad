use super::parts::Collected;
use super::{Layout, LayoutError, number_code, put};
use crate::frame::Frame;
use crate::region::Region;
use crate::shape::subdivide::{Face, subdivide};
use geo_types::MultiPolygon;
use std::collections::BTreeMap;
use units::{Metres, bounds};

/// What becomes of squares that the shore cuts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartialSquares {
    /// Each stays a part, however small.
    Keep,
    /// Pieces smaller than this share of a whole square join the neighbour they share most edge
    /// with. A quarter is usual.
    Merge(f64),
}

/// What a layout of squares is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Squares {
    /// Side; 250 ft is usual (common practice).
    pub side: Metres,
    /// Clockwise, in degrees.
    pub rotation: f64,
    /// A corner of the squares; the middle of the box around the water, to the metre, when none.
    pub origin: Option<(f64, f64)>,
    /// Rule for partial squares.
    pub partial: PartialSquares,
}

/// More squares than any crew will ever visit; a slip of units gets here.
const MOST_SQUARES: f64 = 200_000.0;

/// Squares of water with one site each, at the inner point farthest from the edges.
///
/// `area` is the water to cut, the littoral zone or all of it when the depths are not known.
/// Numbered row by row from the north-west, every second row backwards. The squares tile the area.
///
/// # Errors
/// A side out of range or larger than the lake, a merging share outside 0..=1, no water.
pub fn squares(
    frame: &Frame<'_>,
    area: &MultiPolygon<f64>,
    plan: &Squares,
) -> Result<Layout, LayoutError> {
    let side = plan.side.metres();
    let fault = |found: String, expected: String, hint| {
        Err(LayoutError::Parameter { word: "side of the squares", found, expected, hint })
    };
    let Some(region) = Region::new(area) else { return Err(LayoutError::NothingLeft) };
    if bounds::SPACING.check(side).is_err() || side > region.extent() {
        let most = region.extent().min(bounds::SPACING.most);
        let expected =
            format!("between {} m and {most:.0} m, the lake's extent", bounds::SPACING.least);
        return fault(format!("{side} m"), expected, "give it with its unit, e.g. `250ft`");
    }
    if region.area() / side / side > MOST_SQUARES {
        return fault(
            format!("{side} m"),
            format!("wide enough for at most {MOST_SQUARES:.0} squares"),
            "check the unit of the side",
        );
    }
    let share = match plan.partial {
        PartialSquares::Keep => 0.0,
        PartialSquares::Merge(share) => share,
    };
    if !(0.0..=1.0).contains(&share) || !plan.rotation.is_finite() {
        return Err(LayoutError::Parameter {
            word: "share below which squares are merged, or rotation",
            found: format!("{share}, {}", plan.rotation),
            expected: "a share between 0 and 1 and a number of degrees".to_owned(),
            hint: "0.25 merges pieces smaller than a quarter of a square",
        });
    }
    let raster = Raster::new(&region, plan);
    let cuts = raster.cuts(&region);
    let least = share * side * side;
    let label = |x: f64, y: f64| raster.number(x, y);
    let pieces = subdivide(area, &cuts, label, |faces| {
        if least > 0.0 {
            merge_small(faces, least);
        }
    });
    let mut order: Vec<(usize, i64, usize)> = pieces
        .iter()
        .enumerate()
        .map(|(index, piece)| {
            let (column, row) = (piece.label % raster.n_columns, piece.label / raster.n_columns);
            let from_north = raster.n_rows - row;
            let along = column as i64;
            (from_north, if from_north.is_multiple_of(2) { -along } else { along }, index)
        })
        .collect();
    order.sort_unstable();
    // the first row that holds water runs east, whatever its parity
    let first = order.first().map_or(1, |entry| entry.0);
    if first.is_multiple_of(2) {
        for entry in &mut order {
            entry.1 = -entry.1;
        }
        order.sort_unstable();
    }
    let mut parts = Collected::default();
    for (number, (_, _, index)) in order.into_iter().enumerate() {
        let piece = &pieces[index];
        let code = number_code(number + 1);
        parts.add(frame, code, None, piece.polygon.clone(), piece.area, None);
    }
    let mut parameters = Vec::new();
    put(&mut parameters, "side_m", side);
    put(&mut parameters, "rotation_deg", plan.rotation);
    put(&mut parameters, "origin_x_m", raster.origin.0);
    put(&mut parameters, "origin_y_m", raster.origin.1);
    match plan.partial {
        PartialSquares::Keep => put(&mut parameters, "partial", "keep"),
        PartialSquares::Merge(share) => {
            put(&mut parameters, "partial", format!("merge below {share} of a square"));
        }
    }
    parameters.extend(frame.parameters());
    let Collected { sites, parts, warnings } = parts;
    Ok(Layout { name: "squares".to_owned(), parameters, sites, parts, warnings })
}

struct Raster {
    origin: (f64, f64),
    side: f64,
    along: (f64, f64),
    up: (f64, f64),
    first: (i64, i64),
    n_columns: usize,
    n_rows: usize,
}

impl Raster {
    fn new(region: &Region, plan: &Squares) -> Self {
        let (sin, cos) = plan.rotation.to_radians().sin_cos();
        let (along, up) = ((cos, -sin), (sin, cos));
        let bounds = region.bounds();
        let origin = plan.origin.unwrap_or((bounds.center().x.round(), bounds.center().y.round()));
        let side = plan.side.metres();
        let (low, high) = (bounds.min(), bounds.max());
        let span = |axis: (f64, f64)| {
            let ways = [(low.x, low.y), (high.x, low.y), (low.x, high.y), (high.x, high.y)]
                .map(|(x, y)| ((x - origin.0) * axis.0 + (y - origin.1) * axis.1) / side);
            let least = ways.iter().copied().fold(f64::INFINITY, f64::min).floor() as i64 - 1;
            let most = ways.iter().copied().fold(f64::NEG_INFINITY, f64::max).ceil() as i64 + 1;
            (least, (most - least) as usize)
        };
        let ((first_column, n_columns), (first_row, n_rows)) = (span(along), span(up));
        Self { origin, side, along, up, first: (first_column, first_row), n_columns, n_rows }
    }

    fn at(&self, column: usize, row: usize) -> (f64, f64) {
        let u = (self.first.0 + column as i64) as f64 * self.side;
        let v = (self.first.1 + row as i64) as f64 * self.side;
        (
            self.origin.0 + u * self.along.0 + v * self.up.0,
            self.origin.1 + u * self.along.1 + v * self.up.1,
        )
    }

    fn number(&self, x: f64, y: f64) -> usize {
        let (dx, dy) = (x - self.origin.0, y - self.origin.1);
        let place = |axis: (f64, f64), first: i64, n: usize| {
            let way = ((dx * axis.0 + dy * axis.1) / self.side).floor() as i64 - first;
            way.clamp(0, n as i64 - 1) as usize
        };
        place(self.up, self.first.1, self.n_rows) * self.n_columns
            + place(self.along, self.first.0, self.n_columns)
    }

    /// Sides of all squares over the water's box.
    fn cuts(&self, region: &Region) -> Vec<[f64; 4]> {
        let bounds = region.bounds();
        let near = |a: (f64, f64), b: (f64, f64)| {
            a.0.min(b.0) <= bounds.max().x
                && a.0.max(b.0) >= bounds.min().x
                && a.1.min(b.1) <= bounds.max().y
                && a.1.max(b.1) >= bounds.min().y
        };
        let mut cuts = Vec::new();
        for row in 0..=self.n_rows {
            for column in 0..=self.n_columns {
                let a = self.at(column, row);
                for b in [self.at(column + 1, row), self.at(column, row + 1)] {
                    if near(a, b) {
                        cuts.push([a.0, a.1, b.0, b.1]);
                    }
                }
            }
        }
        cuts
    }
}

/// Joins faces smaller than `least` to the neighbour they share most edge with, smallest first,
/// until none is left that has a neighbour. A joined part keeps the label of its larger half.
fn merge_small(faces: &mut [Face], least: f64) {
    // pieces of one square on two sides of a spit are parts of their own from here on
    let mut group: Vec<usize> = (0..faces.len()).collect();
    let mut area: Vec<f64> = faces.iter().map(|face| face.area).collect();
    let mut shared: Vec<BTreeMap<usize, f64>> =
        faces.iter().map(|face| face.neighbours.iter().copied().collect()).collect();
    let mut queue: std::collections::BTreeSet<(u64, usize)> =
        (0..faces.len()).filter(|&k| area[k] < least).map(|k| (area[k].to_bits(), k)).collect();
    while let Some((bits, small)) = queue.pop_first() {
        if area[small].to_bits() != bits {
            continue;
        }
        let best = shared[small]
            .iter()
            .max_by(|a, b| a.1.total_cmp(b.1).then(b.0.cmp(a.0)))
            .map(|(neighbour, _)| *neighbour);
        let Some(into) = best else { continue };
        queue.remove(&(area[into].to_bits(), into));
        let borders = std::mem::take(&mut shared[small]);
        for (neighbour, length) in borders {
            shared[neighbour].remove(&small);
            if neighbour != into {
                *shared[into].entry(neighbour).or_insert(0.0) += length;
                *shared[neighbour].entry(into).or_insert(0.0) += length;
            }
        }
        area[into] += area[small];
        area[small] = 0.0;
        for entry in &mut group {
            if *entry == small {
                *entry = into;
            }
        }
        if area[into] < least {
            queue.insert((area[into].to_bits(), into));
        }
    }
    // one label a group: that of its own face, made unique when another group has it too
    let mut owner: BTreeMap<usize, usize> = BTreeMap::new();
    let mut order: Vec<usize> = (0..faces.len()).filter(|&k| group[k] == k).collect();
    order.sort_by(|&a, &b| area[b].total_cmp(&area[a]).then(a.cmp(&b)));
    let labels: Vec<usize> = faces.iter().map(|face| face.label).collect();
    let mut free = labels.iter().copied().collect::<std::collections::BTreeSet<_>>();
    let mut final_label = vec![0; faces.len()];
    for &k in &order {
        let mut label = labels[k];
        if owner.contains_key(&label) {
            // the nearest free label of a face of the group, else the square stays in one part
            let own = (0..faces.len()).find(|&f| group[f] == k && !owner.contains_key(&labels[f]));
            label = own.map_or(label, |f| labels[f]);
        }
        owner.entry(label).or_insert(k);
        free.remove(&label);
        final_label[k] = label;
    }
    for (index, face) in faces.iter_mut().enumerate() {
        face.label = final_label[group[index]];
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::region::area_of;
    use geo_types::{Rect, coord, polygon};

    fn plan(side: f64, partial: PartialSquares) -> Squares {
        Squares { side: Metres::new(side), rotation: 0.0, origin: Some((0.0, 0.0)), partial }
    }

    #[test]
    fn whole_squares_are_whole() {
        let lake: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 300.0, y: 200.0 }).to_polygon().into();
        let frame = Frame::new(lake.clone()).unwrap();
        let layout = squares(&frame, &lake, &plan(100.0, PartialSquares::Keep)).unwrap();
        let places: Vec<(f64, f64)> =
            layout.sites.iter().map(|s| (s.x.round(), s.y.round())).collect();
        let want = [
            (50.0, 150.0),
            (150.0, 150.0),
            (250.0, 150.0),
            (250.0, 50.0),
            (150.0, 50.0),
            (50.0, 50.0),
        ];
        assert_eq!(places, want);
        assert!(layout.parts.iter().all(|p| (p.area.square_metres() - 1e4).abs() < 1e-6));
    }

    #[test]
    fn partial_squares_are_kept_or_merged_by_the_rule() {
        let lake: MultiPolygon<f64> = polygon![
            (x: 0.0, y: 0.0), (x: 1_010.0, y: -35.0), (x: 1_330.0, y: 520.0), (x: 480.0, y: 905.0),
            (x: -120.0, y: 610.0)
        ]
        .into();
        let frame = Frame::new(lake.clone()).unwrap();
        let total = area_of(&lake);
        let side = Metres::from_feet(250.0).metres();
        let whole = side * side;
        let kept = squares(&frame, &lake, &plan(side, PartialSquares::Keep)).unwrap();
        let merged = squares(&frame, &lake, &plan(side, PartialSquares::Merge(0.25))).unwrap();
        for layout in [&kept, &merged] {
            let sum: f64 = layout.parts.iter().map(|part| part.area.square_metres()).sum();
            assert!((sum / total - 1.0).abs() < 1e-12);
            assert_eq!(layout.sites.len(), layout.parts.len());
        }
        assert!(kept.parts.iter().any(|part| part.area.square_metres() < 0.25 * whole));
        assert!(merged.parts.iter().all(|part| part.area.square_metres() >= 0.25 * whole));
        assert!(merged.parts.len() < kept.parts.len());
        assert!(merged.warnings.is_empty(), "{:?}", merged.warnings);
        let turned = Squares { rotation: 30.0, ..plan(side, PartialSquares::Merge(0.25)) };
        let turned = squares(&frame, &lake, &turned).unwrap();
        let sum: f64 = turned.parts.iter().map(|part| part.area.square_metres()).sum();
        assert!((sum / total - 1.0).abs() < 1e-12);
    }

    #[test]
    fn impossible_squares_say_what_to_do() {
        let lake: MultiPolygon<f64> =
            Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 300.0, y: 200.0 }).to_polygon().into();
        let frame = Frame::new(lake.clone()).unwrap();
        for (side, share) in [(0.5, 0.2), (5_000.0, 0.2), (50.0, 3.0)] {
            let error = squares(&frame, &lake, &plan(side, PartialSquares::Merge(share)));
            assert!(error.unwrap_err().to_string().contains("hint: "));
        }
    }
}
