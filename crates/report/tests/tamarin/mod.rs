//! Lake Tamarin, an invented lake: a round shore with a bay, bands that follow it, zones, landmarks and
//! one survey. Every figure is computed here from the invented sites.
#![allow(
    dead_code,
    missing_docs,
    unused_imports,
    unreachable_pub,
    clippy::assigning_clones,
    clippy::float_cmp,
    clippy::naive_bytecount,
    clippy::print_stdout,
    clippy::too_many_lines,
    clippy::unwrap_used,
    reason = "an invented lake, shared by tests and the example"
)]

#[path = "report.rs"]
mod survey;
pub use survey::survey_report;

use ::report::draw::{
    Contour, DepthBand, GridReference, LandmarkKind, LandmarkMark, MapData, Mark, SiteMark,
    SubAreaShape, TreatedBed, ZoneShape,
};
use ::report::sheet::{CodeWords, FieldSheets, SheetBoat, SheetRow, SheetSpecies};
use ::report::site_map::SiteMap;
use ::report::{Fonts, Palette, Paper, Settings};
use geo_types::{Coord, LineString, MultiLineString, MultiPolygon, Polygon};
use jiff::civil::date;
use std::f64::consts::TAU;
use std::path::PathBuf;
use units::{LonLat, Metres, SquareMetres, UnitSystem};

/// The fonts, or none with a printed line when they are not installed.
pub fn fonts() -> Option<Fonts> {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let family = "@expo-google-fonts/atkinson-hyperlegible-next";
    let folder = std::env::var_os("QUILLWORT_FONTS")
        .map_or_else(|| here.join("../../web/node_modules").join(family), PathBuf::from);
    let faces = ["400Regular", "400Regular_Italic", "600SemiBold", "600SemiBold_Italic", "700Bold"];
    let files: Vec<_> = faces
        .iter()
        .filter_map(|face| {
            let file = format!("AtkinsonHyperlegibleNext_{face}.ttf");
            std::fs::read(folder.join(face).join(file)).ok()
        })
        .collect();
    if files.len() < faces.len() {
        println!("skipped: no fonts in {} (set QUILLWORT_FONTS)", folder.display());
        return None;
    }
    Some(Fonts::new(files).unwrap())
}

pub fn settings(palette: Palette) -> Settings {
    Settings {
        paper: Paper::Letter,
        palette,
        large: false,
        units: UnitSystem::Us,
        printed_on: date(2026, 8, 20),
        author: "Lake Tamarin survey".to_owned(),
    }
}

const EAST: f64 = 305_000.0;
const NORTH: f64 = 4_771_000.0;

/// Distance from the middle to the shore in a direction.
fn shore(angle: f64) -> f64 {
    let wobble = 22.0 * (7.0 * angle + 0.4).sin()
        + 13.0 * (13.0 * angle).sin()
        + 6.0 * (29.0 * angle + 1.0).sin();
    let bay = 210.0 * (-((angle - 2.55) / 0.30).powi(2)).exp();
    let notch = -95.0 * (-((angle - 1.95) / 0.22).powi(2)).exp();
    let cove = -60.0 * (-((angle - 4.1) / 0.25).powi(2)).exp();
    430.0 + 110.0 * (angle).cos().powi(2) + wobble + bay + notch + cove
}

/// A point at a share of the way from the middle to the shore.
fn at(angle: f64, share: f64) -> (f64, f64) {
    let r = shore(angle) * share;
    (EAST + 1.25 * r * angle.cos(), NORTH + 0.8 * r * angle.sin())
}

fn angle_share((x, y): (f64, f64)) -> (f64, f64) {
    let (dx, dy) = ((x - EAST) / 1.25, (y - NORTH) / 0.8);
    let angle = dy.atan2(dx).rem_euclid(TAU);
    (angle, dx.hypot(dy) / shore(angle))
}

fn ring(share: f64) -> LineString<f64> {
    let n = 360;
    (0..=n)
        .map(|step| {
            let (x, y) = at(f64::from(step % n) * TAU / f64::from(n), share);
            Coord { x, y }
        })
        .collect()
}

/// Depth in feet at a share of the way to the shore.
pub fn depth_feet(share: f64) -> f64 {
    34.0 * (1.0 - share).max(0.0).powf(0.9)
}

fn share_of(depth_feet: f64) -> f64 {
    1.0 - (depth_feet / 34.0).powf(1.0 / 0.9)
}

fn circle(x: f64, y: f64, rx: f64, ry: f64) -> LineString<f64> {
    (0..=40)
        .map(|step| {
            let angle = f64::from(step % 40) * TAU / 40.0;
            let wobble = 1.0 + 0.12 * (3.0 * angle).sin();
            Coord { x: x + rx * wobble * angle.cos(), y: y + ry * wobble * angle.sin() }
        })
        .collect()
}

fn island() -> LineString<f64> {
    let (x, y) = at(1.2, 0.68);
    circle(x, y, 48.0, 26.0)
}

fn sector(from: f64, to: f64, outer: f64, inner: f64) -> MultiPolygon<f64> {
    let n = 60;
    let angle = |step: i32| from + (to - from) * f64::from(step) / f64::from(n);
    let mut points: Vec<(f64, f64)> = (0..=n).map(|step| at(angle(step), outer)).collect();
    points.extend((0..=n).rev().map(|step| at(angle(step), inner)));
    points.push(points[0]);
    let line: LineString<f64> = points.into_iter().map(|(x, y)| Coord { x, y }).collect();
    MultiPolygon(vec![Polygon::new(line, Vec::new())])
}

/// Zones as sectors: code, name, from, to.
pub const ZONES: [(&str, &str, f64, f64); 8] = [
    ("E1", "Inlet flats", 5.85, 6.75),
    ("N2", "North shore", 0.467, 1.05),
    ("M1", "Island shoal", 1.05, 1.6),
    ("N1", "North point", 1.6, 2.2),
    ("W1", "West bay", 2.2, 3.0),
    ("W2", "Southwest shore", 3.0, 3.9),
    ("S2", "Launch cove", 3.9, 4.75),
    ("S1", "South shore", 4.75, 5.85),
];

pub fn zone_of(place: (f64, f64)) -> &'static str {
    let (angle, _) = angle_share(place);
    ZONES
        .iter()
        .find(|(_, _, from, to)| {
            (*from..*to).contains(&angle) || (*from..*to).contains(&(angle + TAU))
        })
        .map_or("", |zone| zone.0)
}

/// Sites on an even grid down to the limit of plants, in boat order.
pub fn places() -> Vec<(f64, f64)> {
    let gap = 63.7;
    let mut places = Vec::new();
    for row in -12..12 {
        let mut line: Vec<(f64, f64)> = (-16..16)
            .map(|column| (EAST + gap * f64::from(column), NORTH + gap * f64::from(row) + 11.0))
            .filter(|place| {
                let (_, share) = angle_share(*place);
                let (ix, iy) = at(1.2, 0.68);
                let on_island = ((place.0 - ix) / 55.0).hypot((place.1 - iy) / 32.0) < 1.0;
                share < 0.97 && depth_feet(share) <= 15.0 && !on_island
            })
            .collect();
        if row % 2 != 0 {
            line.reverse();
        }
        places.extend(line);
    }
    places
}

pub fn depth_at(place: (f64, f64)) -> Metres {
    Metres::from_feet(depth_feet(angle_share(place).1))
}

pub fn map() -> MapData {
    let depths = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 34.0];
    let limit = share_of(15.0);
    let bands = depths
        .windows(2)
        .map(|pair| {
            let inner = share_of(pair[1]);
            let mut holes = if inner > 0.02 { vec![ring(inner)] } else { Vec::new() };
            if pair[0] == 10.0 || pair[0] == 5.0 {
                holes.push(island());
            }
            DepthBand {
                from: Metres::from_feet(pair[0]),
                to: Metres::from_feet(pair[1]),
                area: MultiPolygon(vec![Polygon::new(ring(share_of(pair[0])), holes)]),
            }
        })
        .collect();
    let line = |depth: f64| Contour {
        depth: Metres::from_feet(depth),
        lines: MultiLineString(vec![ring(share_of(depth))]),
    };
    let mut zones: Vec<ZoneShape> = ZONES
        .iter()
        .map(|(code, name, from, to)| ZoneShape {
            code: (*code).to_owned(),
            name: (*name).to_owned(),
            area: sector(*from, *to, 1.0, limit),
            conservation: false,
        })
        .collect();
    zones.push(ZoneShape {
        code: "C1".to_owned(),
        name: "Inlet conservation area".to_owned(),
        area: sector(6.1, 6.55, 1.0, 0.78),
        conservation: true,
    });
    let sub_areas = ZONES
        .iter()
        .flat_map(|(code, _, from, to)| {
            (0..3).flat_map(move |k| {
                let step = (to - from) / 3.0;
                let (a, b) = (from + step * f64::from(k), from + step * f64::from(k + 1));
                let middle = f64::midpoint(1.0, limit);
                [(a, b, 1.0, middle), (a, b, middle, limit)].into_iter().enumerate().map(
                    move |(index, (a, b, outer, inner))| SubAreaShape {
                        code: format!("{code}-{}", 2 * k as usize + index + 1),
                        area: sector(a, b, outer, inner),
                    },
                )
            })
        })
        .collect();
    let landmark = |name: &str, kind, angle: f64| {
        let (x, y) = at(angle, 1.0);
        LandmarkMark { name: name.to_owned(), kind, x, y }
    };
    let degrees = |x: f64, y: f64| {
        // not far from true in the middle of the zone; the lake is invented anyway
        let lat = 43.07 + (y - NORTH) / 111_100.0;
        LonLat::new(-89.40 + (x - EAST) / 81_300.0, lat).unwrap()
    };
    let control = [(-600.0, -400.0), (600.0, -400.0), (600.0, 400.0), (-600.0, 400.0)]
        .map(|(x, y)| (EAST + x, NORTH + y, degrees(EAST + x, NORTH + y)));
    MapData {
        title: "Lake Tamarin".to_owned(),
        outline: MultiPolygon(vec![Polygon::new(ring(1.0), vec![island()])]),
        bands,
        contours: [5.0, 10.0, 20.0, 25.0, 30.0].map(line).to_vec(),
        plant_limit: Some(line(15.0)),
        deepest: Some((EAST, NORTH, Metres::from_feet(34.0))),
        zones,
        sub_areas,
        treated: vec![TreatedBed {
            name: "treated bed A".to_owned(),
            size: SquareMetres::from_acres(14.3),
            area: sector(2.3, 2.75, 0.99, 0.75),
        }],
        landmarks: vec![
            landmark("twin pines", LandmarkKind::Landmark, 2.7),
            landmark("boathouse", LandmarkKind::Landmark, 1.95),
            landmark("flagpole", LandmarkKind::Landmark, 1.3),
            landmark("culvert", LandmarkKind::Landmark, 0.1),
            landmark("dam (outlet)", LandmarkKind::Landmark, 5.3),
            landmark("old dock", LandmarkKind::Landmark, 3.3),
            landmark("Launch", LandmarkKind::Launch, 4.2),
            landmark("stump field", LandmarkKind::Hazard, 5.9),
        ],
        sites: Vec::new(),
        grid: GridReference::Geographic { control: control.to_vec(), datum: "NAD83".to_owned() },
    }
}

pub const SPECIES: [(&str, &str, &str, bool); 18] = [
    ("CEDE", "Ceratophyllum demersum", "coontail", false),
    ("NAFL", "Najas flexilis", "slender naiad", false),
    ("CHAR", "Chara sp.", "muskgrass", false),
    ("POZO", "Potamogeton zosteriformis", "flat-stem pondweed", false),
    ("VAAM", "Vallisneria americana", "wild celery", false),
    ("ELCA", "Elodea canadensis", "common waterweed", false),
    ("POPR", "Potamogeton praelongus", "white-stem pondweed", false),
    ("PORO", "Potamogeton robbinsii", "fern pondweed", false),
    ("MYSP", "Myriophyllum spicatum", "Eurasian watermilfoil", true),
    ("NYOD", "Nymphaea odorata", "fragrant water lily", false),
    ("HEDU", "Heteranthera dubia", "water stargrass", false),
    ("STPE", "Stuckenia pectinata", "sago pondweed", false),
    ("NUVA", "Nuphar variegata", "spatterdock", false),
    ("MYSI", "Myriophyllum sibiricum", "northern watermilfoil", false),
    ("POCR", "Potamogeton crispus", "curly-leaf pondweed", true),
    ("UTVU", "Utricularia vulgaris", "common bladderwort", false),
    ("HYVE", "Hydrilla verticillata", "hydrilla", true),
    ("UN-1", "unknown 1", "unknown 1", false),
];

pub fn codes(pairs: &[(&str, &str)]) -> Vec<CodeWords> {
    pairs
        .iter()
        .map(|(code, words)| CodeWords { code: (*code).to_owned(), words: (*words).to_owned() })
        .collect()
}

pub fn sheets() -> FieldSheets {
    let rows = places()
        .into_iter()
        .enumerate()
        .map(|(index, place)| SheetRow {
            code: (index + 1).to_string(),
            zone: zone_of(place).to_owned(),
            group: None,
            landmark: match index % 9 {
                4 => "twin pines".to_owned(),
                7 => "boathouse".to_owned(),
                _ => String::new(),
            },
            planned_depth: Some(depth_at(place)),
            place: Some(place),
            way: Vec::new(),
            position: None,
            arrive: String::new(),
            boat: Some(0),
        })
        .collect();
    FieldSheets {
        lake: "Lake Tamarin".to_owned(),
        survey: "summer survey 2026".to_owned(),
        short_id: "LT 26-S".to_owned(),
        mark: "QW1/01J2X7Q8ZK4T/26S".to_owned(),
        row_word: "site".to_owned(),
        throws: 3,
        rows,
        rows_per_sheet: 15,
        boats: vec![SheetBoat {
            boat: "boat 1".to_owned(),
            date: "14 July 2026".to_owned(),
            hours: "leaves Launch 8:30, home 11:45".to_owned(),
        }],
        spares: 0,
        species: SPECIES
            .iter()
            .map(|(code, _, name, introduced)| SheetSpecies {
                code: (*code).to_owned(),
                name: (*name).to_owned(),
                introduced: *introduced,
            })
            .collect(),
        ratings: codes(&[
            ("0", "bare rake"),
            ("T", "trace: a pinch"),
            ("S", "sparse: one handful"),
            ("M", "medium: both hands full"),
            ("D", "dense: full, hard to lift"),
        ]),
        outcomes: codes(&[
            ("P", "plants stop the boat"),
            ("X", "too deep"),
            ("K", "rock or dock"),
            ("W", "swim area"),
            ("R", "not reached: say why"),
            ("–", "that throw not made"),
        ]),
        bottoms: codes(&[("mu", "muck"), ("sa", "sand"), ("ro", "rock")]),
        cautions: vec![
            "Wear your life jacket.".to_owned(),
            "Drain, clean and dry boat and rake before you leave.".to_owned(),
        ],
        map: map(),
    }
}

pub fn site_map_page() -> SiteMap {
    let mut map = map();
    map.treated.clear();
    map.sub_areas.clear();
    map.sites = places()
        .into_iter()
        .enumerate()
        .map(|(index, (x, y))| SiteMark {
            code: (index + 1).to_string(),
            x,
            y,
            mark: Mark::Planned,
        })
        .collect();
    SiteMap {
        lake: "Lake Tamarin".to_owned(),
        survey: "summer survey 2026".to_owned(),
        map,
        depth_reference: "full pool, 812.4 ft".to_owned(),
        notes: vec!["Invented lake, for trying out.".to_owned()],
    }
}

pub const LONG_NAME: &str =
    "Lake Chargoggagoggmanchauggagoggchaubunagungamaugg of the Northern Highlands";

/// A sheet whose every text is too long, and some in other scripts.
pub fn long_names() -> FieldSheets {
    let mut sheets = sheets();
    sheets.rows.truncate(10);
    sheets.lake = LONG_NAME.to_owned();
    sheets.survey = "second repeated late-summer survey of the whole littoral zone 2026".to_owned();
    sheets.rows[0].landmark = "the big leaning white pine behind the old boathouse".to_owned();
    sheets.rows[1].code = "PI-2026-0002".to_owned();
    sheets.rows[2].zone = "north-east".to_owned();
    sheets.rows[3].landmark = "Озеро Ладога, Λίμνη, 湖".to_owned();
    sheets
}

/// More plants than a sheet has room for.
pub fn many_codes() -> FieldSheets {
    let mut sheets = sheets();
    sheets.rows.truncate(30);
    sheets.species = (0..70)
        .map(|index| SheetSpecies {
            code: format!("XY{index:02}"),
            name: format!("a pondweed with a name of some length {index}"),
            introduced: index % 10 == 0,
        })
        .collect();
    sheets
}

/// A survey by sub-areas with four places in each.
pub fn sub_area_sheets() -> FieldSheets {
    let mut sheets = sheets();
    sheets.row_word = "place".to_owned();
    sheets.throws = 1;
    sheets.rows = sheets
        .map
        .sub_areas
        .iter()
        .take(9)
        .flat_map(|area| {
            let ring = area.area.0[0].exterior();
            let n = ring.0.len() as f64;
            let x = ring.coords().map(|place| place.x).sum::<f64>() / n;
            let y = ring.coords().map(|place| place.y).sum::<f64>() / n;
            (1..=4).map(move |number| SheetRow {
                code: format!("place {number}"),
                zone: String::new(),
                group: Some(area.code.clone()),
                landmark: String::new(),
                planned_depth: None,
                place: (number == 1).then_some((x, y)),
                way: Vec::new(),
                position: None,
                arrive: String::new(),
                boat: None,
            })
        })
        .collect();
    sheets
}
