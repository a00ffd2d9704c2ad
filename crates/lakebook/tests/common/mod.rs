//! An invented lake for the tests, made from counted numbers.
#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, reason = "the lake is made for tests, which may panic")]

use geo_types::{MultiPolygon, polygon};
use lakebook::{BookError, LakeBook, Outline, Ports};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, AtomicU64, Ordering};
use survey::short_code::CodeStyle;
use survey::{
    BedId, Code, Conditions, Conservatism, CrewMember, CrewRole, Fix, GrowthForm, HowSeen, Id,
    Lake, Landmark, LandmarkId, LandmarkKind, LayoutNote, NotSampled, Observation, Origin, PhotoId,
    PhotoRef, Protection, Rank, Rating, Sampling, Sediment, ShorelineFind, ShorelineFindId, Site,
    SiteId, SiteResult, SubArea, SubAreaId, SurfaceBed, Survey, SurveyId, Taxon, TaxonId, Throw,
    Treatment, TreatmentId, TreatmentMethod, Visit, VisitId, Voucher, VoucherId, Zone, ZoneId,
};
use units::{Celsius, LonLat, Metres, SquareMetres, UnitSystem};

/// 2026-07-14T15:04:05Z.
pub(crate) const START: u64 = 1_784_041_445_000;

/// A clock that steps a second a call, and counted random bits.
#[derive(Debug)]
pub(crate) struct TestPorts {
    time: AtomicU64,
    random: AtomicU64,
    opening: u32,
    device: &'static str,
}

impl TestPorts {
    pub(crate) fn new(device: &'static str) -> Arc<Self> {
        static OPENINGS: AtomicU32 = AtomicU32::new(0);
        let opening = OPENINGS.fetch_add(1, Ordering::Relaxed);
        Arc::new(Self { time: START.into(), random: 1.into(), opening, device })
    }
}

impl Ports for TestPorts {
    fn now_unix_millis(&self) -> u64 {
        self.time.fetch_add(1000, Ordering::Relaxed)
    }
    fn random(&self) -> u128 {
        // splitmix64, so that neighbouring calls share no bits (Steele, Lea and Flood 2014)
        let mix = |seed: u64| {
            let z = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15);
            let z = (z ^ z >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            let z = (z ^ z >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
            u128::from(z ^ z >> 31)
        };
        let count = self.random.fetch_add(2, Ordering::Relaxed);
        // every opening of a book draws other numbers, also in another process
        let seed = u64::from(std::process::id()) << 32 | u64::from(self.opening) << 20;
        mix(seed + count) << 64 | mix(seed + count + 1)
    }
    fn device(&self) -> String {
        self.device.to_owned()
    }
    fn actor(&self) -> String {
        "Ann".to_owned()
    }
}

pub(crate) fn id(number: u128) -> Id {
    Id::v7(START, number)
}

pub(crate) fn code(text: &str) -> Code {
    Code::new(text).unwrap()
}

pub(crate) fn lake() -> Lake {
    Lake {
        name: "Lake Tamarin".into(),
        water_body_number: "1234".into(),
        county: "Nowhere".into(),
        region: "WI".into(),
        units: UnitSystem::Us,
        working_epsg: 32616,
        littoral: (Metres::from_feet(1.0), Metres::from_feet(8.0)),
        depth_datum: "full pool".into(),
        code_style: CodeStyle::TwoPlusTwo,
    }
}

pub(crate) fn taxon(number: u128) -> Taxon {
    let forms = GrowthForm::ALL;
    Taxon {
        id: TaxonId(id(1_000 + number)),
        code: code(&format!("TA{number}")),
        aliases: vec![code(&format!("OLD{number}"))],
        scientific_name: format!("Plantus species{number}"),
        common_name: format!("plant “{number}”"),
        growth_form: if number == 3 {
            GrowthForm::FilamentousAlga
        } else {
            forms[number as usize % 3]
        },
        origin: Origin::Native,
        rank: Rank::Species,
        listed_noxious: number == 2,
        conservatism: number
            .is_multiple_of(2)
            .then(|| Conservatism { value: 5.5, table: "invented, WI".into() }),
    }
}

/// A square of so many hundredths of a degree.
pub(crate) fn square(west: f64, south: f64, size: f64) -> MultiPolygon<f64> {
    MultiPolygon(vec![polygon![
        exterior: [
            (x: west, y: south),
            (x: west + size, y: south),
            (x: west + size, y: south + size),
            (x: west, y: south + size),
            (x: west, y: south),
        ],
        interiors: [[
            (x: west + size * 0.4, y: south + size * 0.4),
            (x: west + size * 0.4, y: south + size * 0.6),
            (x: west + size * 0.6, y: south + size * 0.6),
            (x: west + size * 0.4, y: south + size * 0.4),
        ]],
    ]])
}

pub(crate) fn outline() -> Outline {
    Outline {
        area: square(-89.42, 43.0, 0.1 / 3.0),
        source_file: "outline.geojson".into(),
        sha256: "ab".repeat(32),
        note: "digitised from the county's map".into(),
    }
}

pub(crate) fn zone(number: u128) -> Zone {
    Zone {
        id: ZoneId(id(2_000 + number)),
        code: code(&format!("W{number}")),
        name: format!("West bay {number}"),
        area: square(-89.41, 43.01, 0.001 * (number + 1) as f64),
        protection: if number == 1 { Protection::Conservation } else { Protection::None },
        since: (number == 2).then_some(2019),
        until: None,
        rule: String::new(),
    }
}

pub(crate) fn survey_header(number: u128) -> Survey {
    let mut survey =
        Survey::new(SurveyId(id(3_000 + number)), &format!("20{number:02}-summer"), "fullness")
            .unwrap();
    let day: jiff::civil::Date = format!("20{number:02}-07-14").parse().unwrap();
    survey.set_dates(day, day).unwrap();
    survey.depth_cap = Some(Metres::from_feet(15.0));
    survey.throws_per_site = 2;
    survey.crew =
        vec![CrewMember { name: "A. Heron".into(), role: CrewRole::Lead, identified: true }];
    survey.conditions = vec![Conditions {
        date: Some(day),
        start: Some("08:30:00".parse().unwrap()),
        air: Some(Celsius::from_fahrenheit(71.0)),
        secchi: Some(Metres::from_feet(6.1)),
        weather: "clear".into(),
        ..Conditions::default()
    }];
    survey.layout = LayoutNote {
        layout: "point-grid".into(),
        parameters: vec![("spacing_m".into(), "50".into()), ("seed".into(), "7".into())],
    };
    survey
}

pub(crate) fn site(survey: &Survey, number: u32) -> Site {
    let key = survey.id.0.bits() & 0xffff;
    Site {
        id: SiteId(id(key * 100_000 + u128::from(number))),
        survey: survey.id,
        code: code(&number.to_string()),
        planned: (number % 7 != 6).then(|| {
            LonLat::new(
                -89.42 + f64::from(number % 40) * 0.000_7,
                43.0 + f64::from(number / 40) * 0.000_7,
            )
            .unwrap()
        }),
        map_depth: Some(Metres::new(0.1 + f64::from(number) / 300.0)),
        zone: number.is_multiple_of(2).then(|| code("W1")),
        sub_area: None,
        landmark: if number % 7 == 6 { "red barn".into() } else { String::new() },
        rank: number,
        inclusion_probability: Some(1.0 / 3.0),
        spare: number % 11 == 10,
        dropped: None,
    }
}

/// A visit with six observations on two throws, or a reason why not at every ninth site.
pub(crate) fn visit(survey: &Survey, site: &Site, taxa: &[Taxon]) -> Visit {
    let number = site.rank;
    let observe = |place: u32, seen| Observation {
        taxon: taxa[(number + place) as usize % taxa.len()].id,
        rating: (place != 2).then_some(Rating(((number + place) % 3 + 1) as u8)),
        seen,
    };
    let result = if number % 9 == 8 {
        SiteResult::NotSampled(NotSampled::ALL[number as usize % NotSampled::ALL.len()])
    } else if number % 9 == 7 {
        SiteResult::Sampled(
            Sampling::new(vec![Throw { number: 1, total: None, observations: vec![] }], None)
                .unwrap(),
        )
    } else {
        let throw = |throw: u8, total, from: u32| Throw {
            number: throw,
            total,
            observations: vec![
                observe(from, HowSeen::Rake),
                observe(from + 1, HowSeen::Rake),
                observe(from + 2, HowSeen::Visual),
            ],
        };
        SiteResult::Sampled(
            Sampling::new(vec![throw(1, Some(Rating(3)), 0), throw(2, None, 3)], None).unwrap(),
        )
    };
    Visit {
        id: VisitId(id((survey.id.0.bits() & 0xffff) * 100_000 + 50_000 + u128::from(number))),
        survey: survey.id,
        site: site.id,
        actual: number
            .is_multiple_of(3)
            .then_some(site.planned)
            .flatten()
            .map(|position| Fix { position, accuracy: Some(Metres::new(3.2)) }),
        time: Some("2026-07-14T09:15:00".parse().unwrap()),
        depth: Some(Metres::from_feet(0.7 + f64::from(number % 13))),
        sediment: Some(Sediment::Muck),
        result,
        observer: "A. Heron".into(),
        note: format!("row {number}\tof the \"sheet\" — fine"),
    }
}

/// A survey with so many sites, all visited.
pub(crate) fn put_survey(
    writer: &mut lakebook::Writer<'_>,
    header: &Survey,
    taxa: &[Taxon],
    sites: u32,
) -> Result<(), BookError> {
    writer.put_survey(header)?;
    for number in 0..sites {
        let site = site(header, number);
        writer.put_site(&site)?;
        writer.put_visit(&visit(header, &site, taxa))?;
    }
    Ok(())
}

pub(crate) fn treatment(number: u128, before: Option<SurveyId>) -> Treatment {
    Treatment {
        id: TreatmentId(id(4_000 + number)),
        name: "West bay".into(),
        method: TreatmentMethod::Harvest,
        dates: ("2026-05-01".parse().unwrap(), "2026-05-03".parse().unwrap()),
        area: square(-89.41, 43.01, 0.002),
        reported_area: Some(SquareMetres::from_acres(12.5)),
        by: "county crew".into(),
        before,
        note: String::new(),
    }
}

pub(crate) fn taxa() -> Vec<Taxon> {
    (0..8).map(taxon).collect()
}

/// A folder that goes with the test, and a path in it.
pub(crate) fn place() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tamarin.gpkg");
    (folder, path)
}

pub(crate) fn new_book(path: &Path) -> LakeBook {
    LakeBook::create(path, &lake(), &taxa(), TestPorts::new("desk")).unwrap()
}

/// A book with a bit of everything.
pub(crate) fn full_book(path: &Path) -> LakeBook {
    let mut book = new_book(path);
    let taxa = taxa();
    let header = survey_header(26);
    book.transact("outline and zones", |writer| {
        writer.put_outline(&outline())?;
        for number in 0..3 {
            writer.put_zone(&zone(number))?;
        }
        writer.put_sub_area(&SubArea {
            id: SubAreaId(id(2_500)),
            zone: Some(zone(1).id),
            code: code("W1-1"),
            area: square(-89.41, 43.01, 0.0005),
        })?;
        writer.put_landmark(&Landmark {
            id: LandmarkId(id(2_600)),
            name: "town launch".into(),
            kind: LandmarkKind::Launch,
            position: LonLat::new(-89.4012, 43.0731).unwrap(),
        })
    })
    .unwrap();
    book.transact("survey of 2026", |writer| put_survey(writer, &header, &taxa, 40)).unwrap();
    let site_0 = site(&header, 0);
    book.transact("finds", |writer| {
        writer.put_bed(&SurfaceBed {
            id: BedId(id(5_000)),
            survey: header.id,
            taxa: vec![taxa[0].id, taxa[1].id],
            rating: Some(Rating(2)),
            area: Some(square(-89.41, 43.01, 0.0007)),
            site: None,
            note: "edge drawn by eye".into(),
        })?;
        writer.put_bed(&SurfaceBed {
            id: BedId(id(5_001)),
            survey: header.id,
            taxa: vec![taxa[2].id],
            rating: None,
            area: None,
            site: Some(site_0.id),
            note: String::new(),
        })?;
        writer.put_shoreline_find(&ShorelineFind {
            id: ShorelineFindId(id(5_100)),
            survey: header.id,
            taxon: taxa[4].id,
            position: LonLat::new(-89.4, 43.02).ok(),
            zone: Some(code("W1")),
            note: "at the dock".into(),
        })?;
        writer.put_photo(&PhotoRef {
            id: PhotoId(id(5_200)),
            visit: Some(visit(&header, &site_0, &taxa).id),
            taxon: Some(taxa[0].id),
            file_name: "IMG_0001.JPG".into(),
            sha256: "cd".repeat(32),
            caption: "whole plant".into(),
            with_ruler: true,
            survey: None,
            original_sha256: String::new(),
            taken: None,
            position: None,
            pixels: None,
        })?;
        writer.put_voucher(&Voucher {
            id: VoucherId(id(5_300)),
            survey: header.id,
            number: "V-1".into(),
            taxon: taxa[0].id,
            site: Some(site_0.id),
            collector: "A. Heron".into(),
            date: Some("2026-07-14".parse().unwrap()),
            kept_at: "town hall".into(),
            confirmed_by: String::new(),
        })?;
        writer.put_treatment(&treatment(0, Some(header.id)))
    })
    .unwrap();
    book
}

/// A connection as a GIS has it: with the functions the spatial index asks for.
pub(crate) fn gis(path: &Path) -> rusqlite::Connection {
    use geopackage_core::geometry::{blob_is_empty, blob_xy_envelope};
    use rusqlite::functions::FunctionFlags;
    let connection = rusqlite::Connection::open(path).unwrap();
    let flags = FunctionFlags::SQLITE_UTF8 | FunctionFlags::SQLITE_DETERMINISTIC;
    for (name, at) in [("ST_MinX", 0), ("ST_MaxX", 1), ("ST_MinY", 2), ("ST_MaxY", 3)] {
        connection
            .create_scalar_function(name, 1, flags, move |context| {
                let blob = context.get_raw(0).as_blob_or_null()?;
                Ok(blob.and_then(|blob| blob_xy_envelope(blob).unwrap()).map(|edges| edges[at]))
            })
            .unwrap();
    }
    connection
        .create_scalar_function("ST_IsEmpty", 1, flags, |context| {
            let blob = context.get_raw(0).as_blob_or_null()?;
            Ok(blob.map(|blob| blob_is_empty(blob).unwrap()))
        })
        .unwrap();
    connection
}
