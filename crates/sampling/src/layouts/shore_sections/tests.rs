use super::*;
use geo_types::{LineString, Polygon, Rect, coord};

/// A lobed lake of about 1.9 km² with an island; radius as a function of the angle.
fn lobed(scale: f64) -> Vec<(f64, f64)> {
    (0..400)
        .map(|k| f64::from(k) / 400.0 * std::f64::consts::TAU)
        .map(|a| {
            let r = scale * (760.0 + 190.0 * (4.0 * a).sin() + 60.0 * (13.0 * a).cos());
            (500_000.0 + r * a.cos(), 4_700_000.0 + r * a.sin())
        })
        .collect()
}

fn ring(points: &[(f64, f64)]) -> LineString<f64> {
    LineString::from(points.to_vec())
}

fn lake() -> MultiPolygon<f64> {
    let island: Vec<(f64, f64)> = (0..50)
        .map(|k| f64::from(k) / 50.0 * std::f64::consts::TAU)
        .map(|a| (500_380.0 + 60.0 * a.cos(), 4_700_040.0 + 45.0 * a.sin()))
        .collect();
    MultiPolygon(vec![Polygon::new(ring(&lobed(1.0)), vec![ring(&island)])])
}

/// Water between the shore and the same line drawn in, and a collar around the island.
fn littoral() -> MultiPolygon<f64> {
    let collar: Vec<(f64, f64)> = (0..50)
        .map(|k| f64::from(k) / 50.0 * std::f64::consts::TAU)
        .map(|a| (500_380.0 + 90.0 * a.cos(), 4_700_040.0 + 75.0 * a.sin()))
        .collect();
    MultiPolygon(vec![
        Polygon::new(ring(&lobed(1.0)), vec![ring(&lobed(0.9))]),
        Polygon::new(ring(&collar), vec![lake().0[0].interiors()[0].clone()]),
    ])
}

fn plan(length: f64) -> ShoreSections {
    ShoreSections { length: Metres::new(length), islands: true, corners: vec![], offshore: None }
}

fn total(layout: &Layout) -> f64 {
    layout.parts.iter().map(|part| part.area.square_metres()).sum()
}

#[test]
fn sections_tile_the_littoral_zone() {
    let frame = Frame::new(lake()).unwrap();
    let littoral = littoral();
    for length in [30.48, 91.44, 400.0] {
        let layout = shore_sections(&frame, Some(&littoral), &plan(length)).unwrap();
        assert!((total(&layout) / area_of(&littoral) - 1.0).abs() < 1e-9, "{length} m");
        assert!(layout.warnings.is_empty(), "{length} m: {:?}", layout.warnings);
        // sections of a ring are equally long and near the length asked for
        for part in &layout.parts {
            let shore = part.shore.unwrap().metres();
            assert!((0.7..1.42).contains(&(shore / length)), "{}: {shore} m", part.code);
        }
        // no overlap: any place lies in one section, and that is the one whose shore is nearest
        let regions: Vec<Region> =
            layout.parts.iter().map(|part| Region::new(&part.polygon).unwrap()).collect();
        let whole = Region::new(&littoral).unwrap();
        let bounds = whole.bounds();
        for k in 0..2_500 {
            let x = bounds.min().x + bounds.width() * (f64::from(k % 50) + 0.41) / 50.0;
            let y = bounds.min().y + bounds.height() * (f64::from(k / 50) + 0.53) / 50.0;
            let owners = regions.iter().filter(|region| region.contains(x, y)).count();
            assert_eq!(owners, usize::from(whole.contains(x, y)), "{length} m at {x}, {y}");
        }
    }
}

#[test]
fn a_section_owns_the_water_nearest_to_it() {
    let frame = Frame::new(lake()).unwrap();
    let littoral = littoral();
    let length = 120.0;
    let layout = shore_sections(&frame, Some(&littoral), &plan(length)).unwrap();
    let rings = shore_rings(frame.water());
    let arcs = sections(&rings, length, &[]);
    let mut n_strays = 0;
    for (index, site) in layout.sites.iter().enumerate() {
        let nearest = rings
            .iter()
            .enumerate()
            .map(|(ring, shore)| (ring, shore.nearest(site.x, site.y)))
            .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
            .unwrap();
        let arc = arcs[index];
        let inside = nearest.0 == arc.ring && nearest.1.0 >= arc.from && nearest.1.0 <= arc.to;
        n_strays += usize::from(!inside);
    }
    assert_eq!(n_strays, 0);
}

#[test]
fn corners_fall_on_landmarks() {
    let frame = Frame::new(lake()).unwrap();
    let rings = shore_rings(frame.water());
    let landmark = rings[0].at(1_234.5);
    let on_island = rings[1].at(77.0);
    let arcs = sections(&rings, 150.0, &[landmark, on_island]);
    let corner = |ring: usize, way: f64| {
        arcs.iter().any(|arc| arc.ring == ring && (arc.from - way).abs() < 1e-6)
    };
    assert!(corner(0, 1_234.5) && corner(1, 77.0));
    for (ring, shore) in rings.iter().enumerate() {
        let sum: f64 = arcs.iter().filter(|a| a.ring == ring).map(|a| a.to - a.from).sum();
        assert!((sum - shore.length()).abs() < 1e-6);
    }
}

#[test]
fn water_beyond_the_littoral_zone_falls_into_offshore_parts() {
    let frame = Frame::new(lake()).unwrap();
    let littoral = littoral();
    let size = SquareMetres::from_acres(20.0);
    let wished = ShoreSections { offshore: Some(size), ..plan(100.0) };
    let layout = shore_sections(&frame, Some(&littoral), &wished).unwrap();
    let offshore: Vec<_> =
        layout.parts.iter().filter(|part| part.code.as_str().starts_with('O')).collect();
    let sum: f64 = offshore.iter().map(|part| part.area.square_metres()).sum();
    let beyond = frame.region().area() - area_of(&littoral);
    assert!((sum / beyond - 1.0).abs() < 1e-6, "{sum} of {beyond}");
    for part in &offshore {
        assert!((part.area / size - 1.0).abs() < 0.1, "{}: {:?}", part.code, part.area);
    }
}

#[test]
fn a_lake_without_depths_is_warned_of_and_islands_may_be_left_out() {
    let frame = Frame::new(lake()).unwrap();
    let layout = shore_sections(&frame, None, &plan(200.0)).unwrap();
    assert!(layout.warnings.contains(&Warning::DepthsNotKnown));
    assert!((total(&layout) / frame.region().area() - 1.0).abs() < 1e-9);
    let mainland = ShoreSections { islands: false, ..plan(200.0) };
    let without = shore_sections(&frame, None, &mainland).unwrap();
    assert!(without.parts.len() < layout.parts.len());
    assert!((total(&without) / frame.region().area() - 1.0).abs() < 1e-9);
}

#[test]
fn impossible_lengths_say_what_to_do() {
    let square = Rect::new(coord! { x: 0.0, y: 0.0 }, coord! { x: 90.0, y: 90.0 }).to_polygon();
    let frame = Frame::new(square.into()).unwrap();
    for length in [0.2, 500.0] {
        let error = shore_sections(&frame, None, &plan(length)).unwrap_err().to_string();
        assert!(error.contains("hint: "), "{error}");
    }
}
