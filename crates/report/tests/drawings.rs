//! Pictures by themselves: inks, escapes, windows, many vertices.

#[path = "tamarin/mod.rs"]
mod tamarin;

use geo_types::{Coord, LineString, MultiPolygon, Polygon};
use report::draw::{
    Depth, DepthStrip, Extent, GridReference, MapStyle, Mark, SiteMark, ZoneCodes, depth_strip,
    draw_map,
};
use report::{Palette, PrintError};
use std::collections::BTreeSet;
use units::{Metres, UnitSystem};

macro_rules! fonts_or_skip {
    () => {
        match tamarin::fonts() {
            Some(fonts) => fonts,
            None => return,
        }
    };
}

/// All colours written in an SVG.
fn colours(svg: &str) -> BTreeSet<String> {
    svg.split('"').filter(|part| part.starts_with('#')).map(str::to_owned).collect()
}

fn style(palette: Palette) -> MapStyle {
    MapStyle {
        site_codes: true,
        zone_codes: ZoneCodes::OnWater,
        landmark_names: true,
        contour_figures: true,
        depth: Depth::Full,
        ..MapStyle::new(palette, UnitSystem::Us, 700.0, 600.0)
    }
}

#[test]
fn black_and_white_is_black_and_white() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    map.sites = tamarin::site_map_page().map.sites;
    let colour = draw_map(&map, &style(Palette::Colour), &fonts).unwrap();
    assert!(colours(&colour.svg).len() > 8);
    let plain = draw_map(&map, &style(Palette::BlackAndWhite), &fonts).unwrap();
    let want = ["#000000", "#FFFFFF"].map(str::to_owned).into();
    assert_eq!(colours(&plain.svg), want, "a photocopier knows two inks");
    for word in [">34<", ">flagpole<", ">W1<", ">111<", ">15<", ">500 ft<", ">89.400° W<"] {
        assert!(plain.svg.contains(word), "no {word} on the map");
    }
}

#[test]
fn a_name_cannot_break_out_of_the_picture() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    map.title = "</title><script>".to_owned();
    map.landmarks[0].name = "</text><script>&\"".to_owned();
    let drawing = draw_map(&map, &style(Palette::Colour), &fonts).unwrap();
    assert!(!drawing.svg.contains("<script"));
    assert!(drawing.svg.contains("&lt;/text&gt;&lt;script&gt;&amp;&quot;"));
}

#[test]
fn metres_stand_along_the_frame_when_asked() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    map.grid = GridReference::Projected { name: "NAD83 / UTM zone 16N".to_owned() };
    let style = MapStyle { units: UnitSystem::Metric, ..style(Palette::Colour) };
    let drawing = draw_map(&map, &style, &fonts).unwrap();
    for word in [">305,000 E<", ">4,771,000 N<", ">200 m<"] {
        assert!(drawing.svg.contains(word), "no {word} on the map");
    }
}

/// Straight lines of an SVG that run along or across the page: middle, width, height.
fn straight(svg: &str) -> Vec<[f64; 4]> {
    let value = |line: &str, name: &str| -> Option<f64> {
        let (_, from) = line.split_once(&format!(" {name}=\""))?;
        from.split_once('"')?.0.parse().ok()
    };
    let lines = svg.split("<line").skip(1).filter_map(|line| {
        let (x, y) = (value(line, "x1")?, value(line, "y1")?);
        let (x_2, y_2) = (value(line, "x2")?, value(line, "y2")?);
        Some([f64::midpoint(x, x_2), f64::midpoint(y, y_2), (x - x_2).abs(), (y - y_2).abs()])
    });
    lines.filter(|line| line[2] == 0.0 || line[3] == 0.0).collect()
}

#[test]
fn crosses_stand_where_meridians_meet_parallels_on_a_map_without_sites() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    let lines = straight(&draw_map(&map, &style(Palette::Colour), &fonts).unwrap().svg);
    let near = |a: f64, b: f64| (a - b).abs() < 0.02;
    let arms = |lines: &[[f64; 4]], along: bool| -> Vec<(f64, f64)> {
        let size = |line: &[f64; 4]| if along { line[2] } else { line[3] };
        lines.iter().filter(|line| near(size(line), 10.0)).map(|line| (line[0], line[1])).collect()
    };
    let (along, across) = (arms(&lines, true), arms(&lines, false));
    assert!(along.len() >= 4, "{along:?}");
    assert_eq!(along, across);
    // the ticks along the frame are six pixels long; the map is hardly turned
    let ticks: Vec<_> = lines.iter().filter(|line| near(line[2] + line[3], 6.0)).collect();
    for (x, y) in along {
        let stands = |axis: usize, at: f64| {
            ticks.iter().any(|tick| tick[3 - axis] > 0.0 && (tick[axis] - at).abs() < 6.0)
        };
        assert!(stands(0, x) && stands(1, y), "{x}, {y} among {ticks:?}");
    }
    map.sites = tamarin::site_map_page().map.sites;
    let all = straight(&draw_map(&map, &style(Palette::Colour), &fonts).unwrap().svg);
    assert_eq!(arms(&all, true), [], "a site is no cross");
}

#[test]
fn a_window_keeps_its_size_and_shows_only_its_sites() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    map.sites = tamarin::site_map_page().map.sites;
    let first = map.sites[0].clone();
    let window = Extent {
        min_x: first.x - 10.0,
        max_x: first.x + 10.0,
        min_y: first.y - 10.0,
        max_y: first.y + 10.0,
    };
    let style = MapStyle { framed: false, window: Some(window), ..style(Palette::Colour) };
    let drawing = draw_map(&map, &style, &fonts).unwrap();
    assert!((drawing.width, drawing.height) == (700.0, 600.0));
    assert!(drawing.svg.contains(">1<") && !drawing.svg.contains(">2<"));
}

#[test]
fn a_shore_of_many_vertices_is_thinned_to_what_can_be_seen() {
    let fonts = fonts_or_skip!();
    let n = 200_000;
    let ring: LineString<f64> = (0..=n)
        .map(|step| {
            let angle = f64::from(step % n) * std::f64::consts::TAU / f64::from(n);
            Coord { x: 1_000.0 * angle.cos(), y: 700.0 * angle.sin() }
        })
        .collect();
    let mut map = tamarin::map();
    map.outline = MultiPolygon(vec![Polygon::new(ring, Vec::new())]);
    let style = MapStyle::new(Palette::Colour, UnitSystem::Us, 300.0, 300.0);
    let drawing = draw_map(&map, &style, &fonts).unwrap();
    assert!(drawing.svg.len() < 400_000, "{} bytes", drawing.svg.len());
}

#[test]
fn sites_outside_the_shore_are_on_the_map_and_stray_ones_do_not_shrink_it() {
    let fonts = fonts_or_skip!();
    let plain = draw_map(&tamarin::map(), &style(Palette::Colour), &fonts).unwrap();
    let extent = tamarin::map().extent().unwrap();
    let site = |code: &str, x: f64| SiteMark {
        code: code.to_owned(),
        x,
        y: f64::midpoint(extent.min_y, extent.max_y),
        mark: Mark::Planned,
    };
    let mut map = tamarin::map();
    map.sites = vec![site("OUT", extent.max_x + 90.0)];
    let drawing = draw_map(&map, &style(Palette::Colour), &fonts).unwrap();
    assert!(drawing.svg.contains(">OUT<"));
    map.sites = vec![site("STRAY", extent.max_x + 90_000.0)];
    let drawing = draw_map(&map, &style(Palette::Colour), &fonts).unwrap();
    assert!(!drawing.svg.contains(">STRAY<"));
    assert!((drawing.height - plain.height).abs() < 1e-9);
}

#[test]
fn a_line_for_a_lake_is_refused() {
    let fonts = fonts_or_skip!();
    let mut map = tamarin::map();
    let line: LineString<f64> = vec![(0.0, 0.0), (5.0, 0.0), (9.0, 0.0), (0.0, 0.0)].into();
    map.outline = MultiPolygon(vec![Polygon::new(line, Vec::new())]);
    let error = draw_map(&map, &style(Palette::Colour), &fonts).unwrap_err();
    assert!(matches!(error, PrintError::NoOutline { .. }));
}

#[test]
fn a_depth_strip_of_few_has_discs_and_of_many_has_bars() {
    let fonts = fonts_or_skip!();
    let strip = |n: usize| DepthStrip {
        found: (0..n)
            .map(|k| (Metres::from_feet((k % 15) as f64), Mark::Found { step: 2, of: 4 }))
            .collect(),
        not_found: (0..n).map(|k| Metres::from_feet((k % 14) as f64 + 0.3)).collect(),
        deepest: Metres::from_feet(15.0),
    };
    let few = depth_strip(&strip(30), 500.0, Palette::Colour, UnitSystem::Us, &fonts);
    assert_eq!(few.svg.matches("<circle").count(), 60);
    let many = depth_strip(&strip(1_500), 500.0, Palette::Colour, UnitSystem::Us, &fonts);
    assert_eq!(many.svg.matches("<circle").count(), 0);
    assert!(many.svg.contains("tallest bar: 100 sites above, 108 sites below"), "{}", many.svg);
    assert!(many.description.contains("1500 sites with it"));
}
