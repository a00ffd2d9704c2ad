//! Lake Tamarin into its book, by the steps a user takes.

use super::files;
use super::ground::{Ground as Bed, Place, lon_lat};
use super::plants::{Flora, Season, Stop, species};
use super::random::Random;
use crate::add::{AddKind, AddOptions, add};
use crate::book::{NewBook, new_book};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::limit::{LimitRequest, set_limit};
use crate::plan::{GridChoice, GridTurn, LayoutChoice, PlanRequest, plan};
use crate::record::{RecordRequest, record};
use crate::surveys::{record_of, seal};
use geo::{Area, BooleanOps, Intersects};
use geo_types::{Coord, MultiPolygon, Polygon, Rect, coord};
use jiff::civil::{Time, date};
use lakebook::{LakeBook, Ports};
use sampling::layouts::{SubAreaSize, sub_areas_cut};
use sampling::{Frame, ZoneArea};
use serde_json::json;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use survey::{
    BedId, Code, Conditions, CrewMember, CrewRole, LimitKind, Purpose, ShorelineFind,
    ShorelineFindId, SurfaceBed, SurveyRecord, Voucher, VoucherId,
};
use units::{Celsius, LengthUnit, Metres, MetresPerSecond, SquareMetres, UnitSystem};

/// The whole lake comes out of this number.
const SEED: u64 = 20_260_714;
/// Plants are looked for down to here.
const LIMIT: Metres = Metres::from_feet(15.0);

/// What was made.
#[derive(Debug, Clone)]
pub struct DemoMade {
    /// The book.
    pub book: PathBuf,
    /// The folder of ordinary files it was made from.
    pub files: PathBuf,
    /// Its surveys, earliest first.
    pub surveys: Vec<String>,
}

const SURVEYS: [(&str, Purpose); 3] = [
    ("2020-summer", Purpose::Baseline),
    ("2025-summer", Purpose::PreTreatment),
    ("2026-summer", Purpose::PostTreatment),
];

/// Writes the demo files and the demo book into a folder. `say` is told each step.
///
/// # Errors
/// When the folder cannot be written, or holds a demo book already.
pub fn make(dir: &Path, ports: Arc<dyn Ports>, say: &dyn Fn(&str)) -> Result<DemoMade> {
    let folder = dir.join("files");
    let book_path = dir.join("lake-tamarin.gpkg");
    let cannot = |error: std::io::Error| {
        Error::input(format!("folder `{}` cannot be written: {error}", dir.display()))
            .hint("choose another folder with `--dir`")
    };
    if book_path.exists() {
        return Err(Error::input(format!("`{}` is there already", book_path.display())).hint(
            "open it with `quillwort serve`, delete it, or choose another folder with `--dir`",
        ));
    }
    std::fs::create_dir_all(&folder).map_err(cannot)?;
    let write = |name: &str, text: String| -> Result<PathBuf> {
        let path = folder.join(name);
        std::fs::write(&path, text).map_err(cannot)?;
        Ok(path)
    };
    let mut random = Random::new(SEED);
    let bed = Bed::new(&mut random);
    let new = NewBook {
        name: "Lake Tamarin".to_owned(),
        units: UnitSystem::Us,
        region: "MN".to_owned(),
        county: "an invented county".to_owned(),
        depth_datum: "full pool".to_owned(),
        ..NewBook::default()
    };
    let mut book = new_book(&book_path, &new, ports)?;
    say("drawing the shore");
    let with = |unit| AddOptions { unit, ..AddOptions::default() };
    add(
        &mut book,
        AddKind::Outline,
        &write("outline.geojson", files::outline(&bed))?,
        &with(None),
    )?;
    say("sounding the lake");
    let soundings = write("soundings.csv", files::soundings(&bed, &mut random))?;
    add(&mut book, AddKind::Depths, &soundings, &with(Some(LengthUnit::Foot)))?;
    set_littoral(&mut book)?;
    say("cutting zones and sub-areas");
    let ground = Ground::of(&book)?;
    let (zones, parts) = zones(&ground)?;
    add(&mut book, AddKind::Zones, &write("zones.geojson", files::shapes(&zones))?, &with(None))?;
    add(
        &mut book,
        AddKind::SubAreas,
        &write("sub-areas.geojson", files::shapes(&parts))?,
        &with(None),
    )?;
    add(
        &mut book,
        AddKind::Landmarks,
        &write("landmarks.geojson", files::landmarks())?,
        &with(None),
    )?;
    let names: String = species().flat_map(|name| [name, "\n"]).collect();
    let list = format!("species\n{names}Hydrilla verticillata\nLythrum salicaria\n");
    add(&mut book, AddKind::Species, &write("species.csv", list)?, &with(None))?;
    let beds = treatment(&zones);
    add(
        &mut book,
        AddKind::Treatments,
        &write("treatments.geojson", files::shapes(&beds))?,
        &with(None),
    )?;
    surveys(&mut book, &bed, &beds, &mut random, &write, say)?;
    board_limit(&mut book)?;
    drop(book);
    Ok(DemoMade {
        book: book_path,
        files: folder,
        surveys: SURVEYS.iter().map(|(name, _)| (*name).to_owned()).collect(),
    })
}

/// What the invented board wrote down.
fn board_limit(book: &mut LakeBook) -> Result<()> {
    let request = LimitRequest {
        text: "Milfoil at more than one site in ten is brought before the board.".to_owned(),
        adopted: date(2021, 4, 12),
        taxon: Some("Myriophyllum spicatum".to_owned()),
        zone: None,
        limit: LimitKind::FrequencyAbove(0.1),
    };
    set_limit(book, &request).map(|_limits| ())
}

fn set_littoral(book: &mut LakeBook) -> Result<()> {
    let mut lake = book.lake()?;
    lake.littoral = (Metres::new(0.0), LIMIT);
    Ok(book.transact("plants are looked for down to 15 ft", |writer| writer.put_lake(&lake))?)
}

type Shapes = Vec<(MultiPolygon<f64>, serde_json::Value)>;

/// The water no deeper than the limit, shared out to the nearest zone, each zone cut into acres.
fn zones(ground: &Ground) -> Result<(Shapes, Shapes)> {
    let outline = ground.need_outline()?;
    let model = ground.model.as_ref().ok_or_else(|| Error::fault("the demo lake has no depths"))?;
    let deep = lakebed::deeper_than(model, LIMIT);
    let littoral = outline.projected().difference(&deep);
    let centres: Vec<Coord<f64>> = files::ZONES
        .iter()
        .map(|(_, _, _, (x, y))| {
            let at = lon_lat(coord! {x: *x, y: *y});
            ground.project(
                units::LonLat::new(at.x, at.y).map_err(|error| Error::fault(error.to_string()))?,
            )
        })
        .collect::<Result<_>>()?;
    let mut areas = Vec::new();
    let mut zones: Shapes = Vec::new();
    for (index, (code, name, protection, _)) in files::ZONES.iter().enumerate() {
        let cell = nearest_cell(&centres, index, outline.extent());
        let mut area = littoral.intersection(&cell);
        // a crumb of water beyond a headland belongs to nobody
        area.0.retain(|piece| piece.unsigned_area() > 400.0);
        let lon_lat = unproject(ground, &area)?;
        zones.push((lon_lat, json!({"code": code, "name": name, "protection": protection})));
        areas.push(ZoneArea { code: zone_code(code)?, polygon: area });
    }
    let frame = Frame::new(outline.projected().clone())?.with_zones(&areas)?;
    let cut = sub_areas_cut(&frame, &areas, SubAreaSize::Area(SquareMetres::from_acres(1.0)))?;
    let mut parts: Shapes = Vec::new();
    for part in &cut.parts {
        let zone = part.zone.as_ref().map(ToString::to_string);
        parts.push((
            unproject(ground, &part.polygon)?,
            json!({"code": part.code.as_str(), "zone": zone}),
        ));
    }
    Ok((zones, parts))
}

fn zone_code(code: &str) -> Result<Code> {
    Code::new(code).map_err(|error| Error::fault(error.to_string()))
}

fn unproject(ground: &Ground, area: &MultiPolygon<f64>) -> Result<MultiPolygon<f64>> {
    ground.crs.unproject_geometry(area).map_err(|error| Error::fault(error.to_string()))
}

/// All places nearer to this centre than to the others, within a box.
fn nearest_cell(centres: &[Coord<f64>], index: usize, within: Rect<f64>) -> MultiPolygon<f64> {
    let margin = 50.0;
    let (low, high) = (within.min(), within.max());
    let mut cell: Vec<Coord<f64>> = vec![
        coord! {x: low.x - margin, y: low.y - margin},
        coord! {x: high.x + margin, y: low.y - margin},
        coord! {x: high.x + margin, y: high.y + margin},
        coord! {x: low.x - margin, y: high.y + margin},
    ];
    let own = centres[index];
    for (other, centre) in centres.iter().enumerate() {
        if other == index {
            continue;
        }
        let (nx, ny) = (centre.x - own.x, centre.y - own.y);
        let limit =
            0.5 * (centre.x * centre.x + centre.y * centre.y - own.x * own.x - own.y * own.y);
        let side = |at: &Coord<f64>| nx * at.x + ny * at.y - limit;
        let mut kept = Vec::with_capacity(cell.len() + 1);
        for (place, from) in cell.iter().enumerate() {
            let to = &cell[(place + 1) % cell.len()];
            let (a, b) = (side(from), side(to));
            if a <= 0.0 {
                kept.push(*from);
            }
            if (a < 0.0) != (b < 0.0) && (a - b).abs() > f64::EPSILON {
                let t = a / (a - b);
                kept.push(
                    coord! {x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y)},
                );
            }
        }
        cell = kept;
    }
    let mut ring = cell;
    if let Some(&first) = ring.first() {
        ring.push(first);
    }
    MultiPolygon(vec![Polygon::new(ring.into(), vec![])])
}

/// West bay and the launch cove were treated in May of the last year.
fn treatment(zones: &Shapes) -> Shapes {
    let treated = [("W1", "West bay"), ("S3", "Launch cove")];
    treated
        .iter()
        .filter_map(|(code, name)| {
            let zone = zones.iter().find(|(_, properties)| properties["code"] == *code)?;
            Some((
                zone.0.clone(),
                json!({
                    "name": format!("{name}, May 2026"),
                    "method": "herbicide",
                    "start": "2026-05-16",
                    "end": "2026-05-17",
                    "by": "a licensed applicator, under permit",
                }),
            ))
        })
        .collect()
}

fn seasons() -> [Season; 3] {
    [
        Season {
            index: 0,
            days: ["2020-07-21", "2020-07-22"],
            observer: "J.R.",
            missed: &[("31", "skipped")],
        },
        Season {
            index: 1,
            days: ["2025-07-15", "2025-07-16"],
            observer: "J.R.",
            missed: &[("12", "temporary-obstacle")],
        },
        Season {
            index: 2,
            days: ["2026-07-14", "2026-07-15"],
            observer: "T.K.",
            missed: &[("38", "dock-or-structure"), ("58", "not-navigable-plants")],
        },
    ]
}

/// Three surveys of the same sites.
fn surveys(
    book: &mut LakeBook,
    bed: &Bed,
    beds: &Shapes,
    random: &mut Random,
    write: &dyn Fn(&str, String) -> Result<PathBuf>,
    say: &dyn Fn(&str),
) -> Result<()> {
    let mut flora = None;
    for (season, (name, purpose)) in seasons().into_iter().zip(SURVEYS) {
        say(&format!("surveying, {name}"));
        let layout = match season.index {
            0 => LayoutChoice::PointGrid {
                size: GridChoice::Spacing(Metres::from_feet(215.0)),
                rotation: GridTurn::Degrees(12.0),
                seed: None,
            },
            _ => LayoutChoice::Given(write("points.csv", points(&record_of(book, SURVEYS[0].0)?))?),
        };
        plan(
            book,
            &PlanRequest {
                max_depth: Some(LIMIT),
                scale: Some("handful".to_owned()),
                throws: Some(2),
                purpose: Some(purpose),
                ..PlanRequest::new(name, layout)
            },
        )?;
        let planned = record_of(book, name)?;
        let stops = stops(&planned, beds);
        let flora = flora.get_or_insert_with(|| Flora::new(random, stops.len()));
        let file = write(&format!("{name}.csv"), flora.survey(bed, &stops, season, random))?;
        record(
            book,
            &file,
            &RecordRequest {
                survey: name.to_owned(),
                unit: Some(LengthUnit::Foot),
                ..RecordRequest::default()
            },
        )?;
        finish(book, name, season)?;
        seal(book, name, "T.K.", None)?;
    }
    Ok(())
}

/// The sites as an agency would hand them out: number, longitude, latitude.
fn points(record: &SurveyRecord) -> String {
    let mut text = String::from("site,longitude,latitude\n");
    for site in &record.sites {
        if let Some(at) = site.planned {
            text.push_str(&format!("{},{:.7},{:.7}\n", site.code, at.longitude(), at.latitude()));
        }
    }
    text
}

/// The sites in the lake's own plane.
fn stops(record: &SurveyRecord, beds: &Shapes) -> Vec<Stop> {
    let origin = lon_lat(coord! {x: 0.0, y: 0.0});
    let east = lon_lat(coord! {x: 1_000.0, y: 1_000.0});
    let (per_x, per_y) = ((east.x - origin.x) / 1_000.0, (east.y - origin.y) / 1_000.0);
    let mut sites: Vec<_> = record.sites.iter().collect();
    sites.sort_by_key(|site| site.rank);
    sites
        .into_iter()
        .filter_map(|site| {
            let at = site.planned?;
            let degrees = coord! {x: at.longitude(), y: at.latitude()};
            let place: Place =
                coord! {x: (degrees.x - origin.x) / per_x, y: (degrees.y - origin.y) / per_y};
            Some(Stop {
                code: site.code.to_string(),
                place,
                treated: beds.iter().any(|(area, _)| area.intersects(&degrees)),
            })
        })
        .collect()
}

/// What the sheets' headers and margins said.
fn finish(book: &mut LakeBook, name: &str, season: Season) -> Result<()> {
    let record = record_of(book, name)?;
    let mut survey = record.survey.clone();
    let person =
        |name: &str, role, identified| CrewMember { name: name.to_owned(), role, identified };
    survey.crew = vec![
        person(season.observer, CrewRole::Rake, false),
        person("A.M.", CrewRole::Recorder, true),
    ];
    let days = [
        (date(2020, 7, 21), 24.0, 23.5, 3.4),
        (date(2025, 7, 15), 27.0, 24.5, 3.0),
        (date(2026, 7, 14), 26.0, 24.0, 3.2),
    ];
    let (first, air, water, secchi) = days[season.index];
    let day = |date, wind: f64, weather: &str| Conditions {
        date: Some(date),
        start: Time::new(8, 0, 0, 0).ok(),
        end: Time::new(14, 30, 0, 0).ok(),
        air: Some(Celsius::new(air)),
        water: Some(Celsius::new(water)),
        weather: weather.to_owned(),
        wind: Some(MetresPerSecond::new(wind)),
        wind_words: String::new(),
        secchi: Some(Metres::new(secchi)),
        water_level: Some(Metres::new(-0.06)),
        gear: "double-sided rake head on a rope".to_owned(),
    };
    let second = first.tomorrow().unwrap_or(first);
    survey.conditions = vec![day(first, 2.0, "sunny"), day(second, 3.5, "some cloud")];
    let of =
        |scientific: &str| record.taxa.iter().find(|taxon| taxon.scientific_name == scientific);
    let loosestrife = of("Lythrum salicaria");
    let lily = of("Nymphaea odorata");
    let first_with = |taxon: &survey::Taxon| {
        record
            .visits
            .iter()
            .find(|visit| record.largest_on_rake(visit, taxon.id).is_some())
            .map(|visit| visit.site)
    };
    let medium = record.scale.read("M").ok();
    let ids: Vec<_> = (0..12).map(|_| book.new_id()).collect();
    book.transact(&format!("headers and margins of {name}"), |writer| {
        writer.put_survey(&survey)?;
        if let Some(taxon) = loosestrife.filter(|_| season.index > 1) {
            writer.put_shoreline_find(&ShorelineFind {
                id: ShorelineFindId(ids[0]),
                survey: survey.id,
                taxon: taxon.id,
                position: None,
                zone: Code::new("E2").ok(),
                note: "a few stems by the culvert".to_owned(),
            })?;
        }
        if let Some(taxon) = lily {
            writer.put_bed(&SurfaceBed {
                id: BedId(ids[1]),
                survey: survey.id,
                taxa: vec![taxon.id],
                rating: medium,
                area: None,
                site: first_with(taxon),
                note: "floating leaves, edge not drawn".to_owned(),
            })?;
        }
        for (number, taxon) in ["Myriophyllum spicatum", "Potamogeton praelongus"]
            .iter()
            .filter_map(|name| of(name))
            .enumerate()
        {
            let Some(site) = first_with(taxon) else { continue };
            writer.put_voucher(&Voucher {
                id: VoucherId(ids[2 + number]),
                survey: survey.id,
                number: format!("{}-{}", first.year(), number + 1),
                taxon: taxon.id,
                site: Some(site),
                collector: "A.M.".to_owned(),
                date: Some(first),
                kept_at: "the lake district's herbarium box".to_owned(),
                confirmed_by: String::new(),
            })?;
        }
        Ok(())
    })?;
    Ok(())
}
