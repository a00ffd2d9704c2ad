use super::*;
use geo_types::{LineString, Polygon, Rect, coord};

fn ring(points: &[(f64, f64)]) -> LineString<f64> {
    LineString::from(points.to_vec())
}

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> MultiPolygon<f64> {
    Rect::new(coord! { x: x0, y: y0 }, coord! { x: x1, y: y1 }).to_polygon().into()
}

fn zone(code: &str, polygon: MultiPolygon<f64>) -> ZoneArea {
    ZoneArea { code: Code::new(code).unwrap(), polygon }
}

fn lobed(scale: f64) -> Vec<(f64, f64)> {
    (0..360)
        .map(|k| f64::from(k) / 360.0 * std::f64::consts::TAU)
        .map(|a| {
            let r = scale * (700.0 + 170.0 * (3.0 * a).sin() + 50.0 * (11.0 * a).cos());
            (500_000.0 + r * a.cos(), 4_700_000.0 + r * a.sin())
        })
        .collect()
}

/// Perimeter² over 4π area: 1 for a circle, 1.27 for a square.
fn roundness(polygon: &MultiPolygon<f64>) -> f64 {
    let perimeter: f64 = crate::region::rings(polygon)
        .flat_map(LineString::lines)
        .map(|line| (line.start.x - line.end.x).hypot(line.start.y - line.end.y))
        .sum();
    perimeter * perimeter / (4.0 * std::f64::consts::PI * area_of(polygon))
}

fn check_equal(layout: &Layout, n: usize, total: f64) {
    assert_eq!(layout.parts.len(), n);
    let sum: f64 = layout.parts.iter().map(|part| part.area.square_metres()).sum();
    assert!((sum / total - 1.0).abs() < 1e-9);
    for part in &layout.parts {
        let deviation = part.area.square_metres() * n as f64 / total - 1.0;
        assert!(deviation.abs() < 0.02, "{}: {deviation}", part.code);
    }
}

#[test]
fn a_belt_of_littoral_water_is_cut_along_the_shore() {
    let water = MultiPolygon(vec![Polygon::new(ring(&lobed(1.0)), vec![])]);
    let belt = MultiPolygon(vec![Polygon::new(ring(&lobed(1.0)), vec![ring(&lobed(0.93))])]);
    let frame = Frame::new(water).unwrap();
    let total = area_of(&belt);
    for n in [2, 7, 40, 90] {
        let zones = [zone("L", belt.clone())];
        let layout = sub_areas_cut(&frame, &zones, SubAreaSize::Number(n)).unwrap();
        check_equal(&layout, n, total);
        assert!(layout.warnings.is_empty(), "{n}: {:?}", layout.warnings);
        assert_eq!(layout.parts[0].code.as_str(), "L-1");
        if n >= 40 {
            // the belt is 50 m wide, an average slice 145 or 65 m long: rectangles of 1.7 and 1.3
            let all: f64 = layout.parts.iter().map(|p| roundness(&p.polygon)).sum();
            assert!(all / n as f64 <= 2.2, "{n}: mean roundness {}", all / n as f64);
            // neighbours in number are neighbours on the water: they share a cut
            let corners = |k: usize| -> Vec<(u64, u64)> {
                crate::region::rings(&layout.parts[k].polygon)
                    .flat_map(LineString::coords)
                    .map(|c| (c.x.to_bits(), c.y.to_bits()))
                    .collect()
            };
            for k in 1..n {
                let before = corners(k - 1);
                let shared = corners(k).into_iter().filter(|corner| before.contains(corner));
                assert!(shared.count() >= 2, "{}", layout.parts[k].code);
            }
        }
    }
}

#[test]
fn a_wide_shelf_is_cut_into_compact_parts() {
    let water = rect(0.0, 0.0, 2_000.0, 1_000.0);
    let shelf = rect(0.0, 0.0, 1_000.0, 600.0);
    let frame = Frame::new(water).unwrap();
    let acre = SquareMetres::from_acres(1.0);
    let layout =
        sub_areas_cut(&frame, &[zone("S", shelf.clone())], SubAreaSize::Area(acre)).unwrap();
    let n = (area_of(&shelf) / acre.square_metres()).round() as usize;
    check_equal(&layout, n, area_of(&shelf));
    let mean = layout.parts.iter().map(|p| roundness(&p.polygon)).sum::<f64>() / n as f64;
    assert!(mean < 1.9, "mean roundness {mean}; a square has 1.27");
    assert_eq!(layout.sites.len(), n);
}

#[test]
fn a_shoal_without_shore_is_cut_all_the_same() {
    let frame = Frame::new(rect(0.0, 0.0, 3_000.0, 3_000.0)).unwrap();
    let shoal = rect(1_400.0, 1_400.0, 1_600.0, 1_500.0);
    let layout =
        sub_areas_cut(&frame, &[zone("M", shoal.clone())], SubAreaSize::Number(5)).unwrap();
    check_equal(&layout, 5, area_of(&shoal));
}

#[test]
fn numbers_are_shared_out_by_area() {
    let frame = Frame::new(rect(0.0, 0.0, 900.0, 300.0)).unwrap();
    let zones = [zone("A", rect(0.0, 0.0, 600.0, 60.0)), zone("B", rect(600.0, 0.0, 900.0, 60.0))];
    let layout = sub_areas_cut(&frame, &zones, SubAreaSize::NumberInAll(12)).unwrap();
    let in_a = layout.parts.iter().filter(|p| p.zone.as_ref().unwrap().as_str() == "A").count();
    assert_eq!((in_a, layout.parts.len()), (8, 12));
    assert_eq!(layout, sub_areas_cut(&frame, &zones, SubAreaSize::NumberInAll(12)).unwrap());
}

#[test]
fn impossible_cuts_say_what_to_do() {
    let frame = Frame::new(rect(0.0, 0.0, 900.0, 300.0)).unwrap();
    let flat = zone("N", MultiPolygon(vec![]));
    let long = zone(&"W".repeat(38), rect(0.0, 0.0, 600.0, 60.0));
    let good = zone("A", rect(0.0, 0.0, 600.0, 60.0));
    let acres = |acres| SubAreaSize::Area(SquareMetres::from_acres(acres));
    for (zones, size, want) in [
        (vec![], acres(1.0), "no zones"),
        (vec![good.clone(), flat], acres(1.0), "zone `N` has no water"),
        (vec![long], acres(1.0), "at most 34 characters"),
        (vec![good.clone()], acres(900.0), "littoral area"),
        (vec![good], SubAreaSize::Number(0), "between 1 and"),
    ] {
        let error = sub_areas_cut(&frame, &zones, size).unwrap_err().to_string();
        assert!(error.contains(want) && error.contains("hint: "), "{error}");
    }
}
