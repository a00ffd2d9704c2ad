//! The inner loops a user waits for, on made-up data of real size. `cargo xtask bench` runs them and
//! then whole commands; the figures worth keeping are ratios, see `commands.py`.

#![allow(clippy::unwrap_used, missing_docs, reason = "a benchmark stops where it must")]

use divan::{Bencher, black_box};
use findings::SurveyFindings;
use findings::one::Options;
use geo_types::{Coord, MultiPolygon, Polygon, coord};
use lakebed::{Crs, DepthData, DepthModel, DepthOptions, Outline, depth_bands};
use sampling::Frame;
use sampling::layouts::{Balanced, balanced};
use survey::scale::RatingScale;
use survey::{
    Code, GrowthForm, HowSeen, Id, Observation, Origin, Rank, Rating, Sampling, Site, SiteId,
    SiteResult, Survey, SurveyId, SurveyRecord, Taxon, TaxonId, Throw, Visit, VisitId,
};
use units::{LonLat, Metres};

fn main() {
    divan::main();
}

/// A round lake of this radius in metres, in the plane.
fn round(radius: f64, corners: u32) -> Vec<(f64, f64)> {
    (0..corners)
        .map(|corner| {
            let turn = std::f64::consts::TAU * f64::from(corner) / f64::from(corners);
            (radius * turn.cos(), radius * turn.sin())
        })
        .collect()
}

fn lake() -> Outline {
    let crs = Crs::from_epsg(32_615).unwrap();
    let middle = crs.project(LonLat::new(-93.0, 45.0).unwrap()).unwrap();
    let ring: Vec<Coord<f64>> = round(1_000.0, 720)
        .into_iter()
        .map(|(x, y)| {
            let place = crs.unproject(coord! {x: middle.x + x, y: middle.y + y}).unwrap();
            coord! {x: place.longitude(), y: place.latitude()}
        })
        .collect();
    let shore = MultiPolygon(vec![Polygon::new(ring.into(), vec![])]);
    Outline::new(&shore, &crs).unwrap().0
}

/// Soundings on a sunflower spiral: even and without a grid.
fn soundings(outline: &Outline, count: u32) -> DepthData {
    let middle = outline.extent().center();
    DepthData::from_soundings((0..count).map(|number| {
        let share = (f64::from(number) + 0.5) / f64::from(count);
        let (radius, turn) = (990.0 * share.sqrt(), f64::from(number) * 2.399_963_229_728_653);
        let at = coord! {x: middle.x + radius * turn.cos(), y: middle.y + radius * turn.sin()};
        (at, 12.0 * (1.0 - share) + 0.4 * (radius / 90.0).sin())
    }))
}

#[divan::bench(args = [10_000, 50_262, 100_000])]
fn depth_model_and_bands(bencher: Bencher<'_, '_>, count: u32) {
    let outline = lake();
    let data = soundings(&outline, count);
    let depths: Vec<Metres> = (0..6).map(|step| Metres::new(f64::from(step) * 2.0)).collect();
    bencher.bench_local(|| {
        let model = DepthModel::build(&outline, &data, &DepthOptions::default()).unwrap();
        black_box(depth_bands(&model, &depths))
    });
}

#[divan::bench(args = [10_000, 100_000, 1_000_000])]
fn thousand_balanced_sites(bencher: Bencher<'_, '_>, cells: usize) {
    let outline = lake();
    let frame = Frame::new(outline.projected().clone()).unwrap();
    let plan = Balanced { n_cells: cells, ..Balanced::new(1_000, 7) };
    bencher.bench_local(|| black_box(balanced(&frame, &plan).unwrap()));
}

fn record(n_sites: u32, n_taxa: u32) -> SurveyRecord {
    let id = |number: u32| Id::v7(1, u128::from(number));
    let scale = RatingScale::by_key("fullness").unwrap().clone();
    let survey = Survey::new(SurveyId(id(0)), "made up", &scale.key).unwrap();
    let mut record = SurveyRecord::empty(survey, scale);
    record.taxa = (0..n_taxa)
        .map(|number| Taxon {
            id: TaxonId(id(1_000_000 + number)),
            code: Code::new(&format!("T{number}")).unwrap(),
            aliases: Vec::new(),
            scientific_name: format!("Plantus {number}"),
            common_name: String::new(),
            growth_form: GrowthForm::Submersed,
            origin: Origin::Native,
            rank: Rank::Species,
            listed_noxious: false,
            conservatism: None,
        })
        .collect();
    for number in 0..n_sites {
        let site = SiteId(id(2_000_000 + number));
        record.sites.push(Site {
            id: site,
            survey: record.survey.id,
            code: Code::new(&format!("{}", number + 1)).unwrap(),
            planned: None,
            map_depth: None,
            zone: None,
            sub_area: None,
            landmark: String::new(),
            rank: number,
            inclusion_probability: None,
            spare: false,
            dropped: None,
        });
        let observations = (0..6)
            .map(|step| Observation {
                taxon: TaxonId(id(1_000_000 + (number * 7 + step * 5) % n_taxa)),
                rating: Some(Rating(1 + ((number + step) % 3) as u8)),
                seen: HowSeen::Rake,
            })
            .collect();
        let throw = Throw { number: 1, total: None, observations };
        record.visits.push(Visit {
            id: VisitId(id(3_000_000 + number)),
            survey: record.survey.id,
            site,
            actual: None,
            time: None,
            depth: Some(Metres::new(0.5 + f64::from(number % 40) * 0.1)),
            sediment: None,
            result: SiteResult::Sampled(Sampling::new(vec![throw], None).unwrap()),
            observer: String::new(),
            note: String::new(),
        });
    }
    record
}

#[divan::bench]
fn findings_of_40_surveys_of_1000_sites(bencher: Bencher<'_, '_>) {
    let record = record(1_000, 60);
    let options = Options { depth_step: Metres::new(0.5) };
    bencher.bench_local(|| {
        for _ in 0..40 {
            black_box(SurveyFindings::of(&record, &options));
        }
    });
}
