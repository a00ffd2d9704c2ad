use super::*;
use crate::region::area_of;
use geo_types::{Rect, coord};

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> MultiPolygon<f64> {
    Rect::new(coord! { x: x0, y: y0 }, coord! { x: x1, y: y1 }).to_polygon().into()
}

fn ring(points: &[(f64, f64)]) -> LineString<f64> {
    LineString::from(points.to_vec())
}

/// A star-shaped lake with an island, far from the origin as projected coordinates are.
fn star() -> MultiPolygon<f64> {
    let (cx, cy) = (501_234.567_8, 4_712_345.678_9);
    let around = |n: usize, f: &dyn Fn(f64) -> f64| -> Vec<(f64, f64)> {
        (0..n)
            .map(|k| {
                let angle = k as f64 / n as f64 * std::f64::consts::TAU;
                (cx + f(angle) * angle.cos(), cy + f(angle) * angle.sin())
            })
            .collect()
    };
    let shore = around(240, &|a| 700.0 + 180.0 * (5.0 * a).sin() + 40.0 * (17.0 * a).cos());
    let island = around(40, &|a| 120.0 + 30.0 * (3.0 * a).sin());
    MultiPolygon(vec![Polygon::new(ring(&shore), vec![ring(&island)])])
}

fn lattice(polygon: &MultiPolygon<f64>, side: f64) -> (Vec<[f64; 4]>, impl Fn(f64, f64) -> usize) {
    let bounds = Region::new(polygon).unwrap().bounds();
    let (x0, y0) = (bounds.min().x - 0.37 * side, bounds.min().y - 0.61 * side);
    let n = 60;
    let at = |c: usize, r: usize| (x0 + c as f64 * side, y0 + r as f64 * side);
    let mut cuts = Vec::new();
    for c in 0..n {
        for r in 0..n {
            let (a, b, d) = (at(c, r), at(c + 1, r), at(c, r + 1));
            cuts.push([a.0, a.1, b.0, b.1]);
            cuts.push([a.0, a.1, d.0, d.1]);
        }
    }
    let label = move |x: f64, y: f64| {
        ((y - y0) / side).floor() as usize * 1_000 + ((x - x0) / side).floor() as usize
    };
    (cuts, label)
}

#[test]
fn squares_tile_a_lake_with_an_island() {
    let lake = star();
    let total = area_of(&lake);
    for side in [37.0, 80.0, 211.0] {
        let (cuts, label) = lattice(&lake, side);
        let pieces = subdivide(&lake, &cuts, &label, |_| {});
        let sum: f64 = pieces.iter().map(|piece| piece.area).sum();
        assert!((sum / total - 1.0).abs() < 1e-12, "{side}: {sum} of {total}");
        for piece in &pieces {
            assert!(piece.area > 0.0 && piece.area <= side * side * (1.0 + 1e-9));
            assert!((area_of(&piece.polygon) - piece.area).abs() < 1e-6);
        }
        // every sampled place lies in the piece of its own label and in no other
        let region = Region::new(&lake).unwrap();
        let regions: Vec<(usize, Region)> =
            pieces.iter().map(|p| (p.label, Region::new(&p.polygon).unwrap())).collect();
        let bounds = region.bounds();
        for k in 0..900 {
            let x = bounds.min().x + bounds.width() * (f64::from(k % 30) + 0.417) / 30.0;
            let y = bounds.min().y + bounds.height() * (f64::from(k / 30) + 0.583) / 30.0;
            let owners: Vec<usize> =
                regions.iter().filter(|(_, r)| r.contains(x, y)).map(|(l, _)| *l).collect();
            if region.contains(x, y) {
                assert_eq!(owners, [label(x, y)], "at {x}, {y}");
            } else {
                assert!(owners.is_empty());
            }
        }
    }
}

#[test]
fn cuts_along_the_edges_and_through_the_corners_are_no_trouble() {
    let lake = rect(0.0, 0.0, 100.0, 50.0);
    let mut cuts = Vec::new();
    for c in 0..=4 {
        for r in 0..=2 {
            let (x, y) = (f64::from(c) * 25.0, f64::from(r) * 25.0);
            cuts.push([x, y, x + 25.0, y]);
            cuts.push([x, y, x, y + 25.0]);
        }
    }
    let label = |x: f64, y: f64| (x / 25.0) as usize + 10 * (y / 25.0) as usize;
    let pieces = subdivide(&lake, &cuts, label, |_| {});
    assert_eq!(pieces.len(), 8);
    assert!(pieces.iter().all(|piece| (piece.area - 625.0).abs() < 1e-9));
    // a diagonal through two corners
    let halves =
        subdivide(&lake, &[[0.0, 0.0, 100.0, 50.0]], |x, y| usize::from(y > x / 2.0), |_| {});
    assert_eq!(halves.len(), 2);
    assert!(halves.iter().all(|half| (half.area - 2_500.0).abs() < 1e-9));
}

#[test]
fn a_closed_cut_inside_makes_a_hole_and_its_filling() {
    let lake = rect(0.0, 0.0, 100.0, 100.0);
    let corners = [(40.0, 40.0), (60.0, 40.0), (60.0, 60.0), (40.0, 60.0)];
    let cuts: Vec<[f64; 4]> = (0..4)
        .map(|k| {
            let (a, b) = (corners[k], corners[(k + 1) % 4]);
            [a.0, a.1, b.0, b.1]
        })
        .collect();
    let inner =
        |x: f64, y: f64| usize::from((40.0..60.0).contains(&x) && (40.0..60.0).contains(&y));
    let pieces = subdivide(&lake, &cuts, inner, |_| {});
    assert_eq!(pieces.len(), 2);
    assert!((pieces[0].area - 9_600.0).abs() < 1e-9);
    assert_eq!(pieces[0].polygon.0[0].interiors().len(), 1);
    assert!((pieces[1].area - 400.0).abs() < 1e-9);
}

#[test]
fn joined_faces_lose_the_cut_between_them() {
    let lake = star();
    let (cuts, label) = lattice(&lake, 80.0);
    let plain = subdivide(&lake, &cuts, &label, |_| {});
    let joined = subdivide(&lake, &cuts, &label, |faces| {
        for face in faces.iter_mut() {
            face.label = usize::from(face.label % 1_000 > 11);
        }
    });
    assert!(plain.len() > 100);
    assert_eq!(joined.len(), 2);
    let sum: f64 = joined.iter().map(|piece| piece.area).sum();
    assert!((sum / area_of(&lake) - 1.0).abs() < 1e-12);
    let n_rings: usize = joined.iter().map(|piece| piece.polygon.0.len()).sum();
    assert!(n_rings < 12, "{n_rings} pieces after joining two halves of a star");
}
