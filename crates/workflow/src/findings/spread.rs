//! Where a plant moved.

use super::places::{self, Lake, SitePlace};
use super::{all_records, brief_of, methods, taxon_of, warning_view};
use crate::error::{Error, Result};
use crate::ground::{Ground, year_of};
use crate::views::{
    AlongShoreView, FirstFoundView, ShiftView, SpreadSiteView, SpreadView, SpreadYearView,
    WarningView,
};
use findings::acres::{NearestWater, USUAL_CELLS, Ways};
use findings::shore::Shore;
use findings::spread::{Place, Question, first_found, straight};
use findings::summary::{Everything, direction, summary};
use findings::{Comparison, Spread};
use lakebook::LakeBook;
use std::collections::HashMap;
use survey::{Code, LandmarkKind, Site, SiteId, SiteResult, SurveyRecord, Taxon};
use units::UnitSystem;

/// Resamples and permutations.
const RESAMPLES: u32 = 999;
/// Cells the ways through the water are found on.
const WAY_CELLS: usize = 3_000;

/// Where a plant, by its code or name, moved between two surveys.
///
/// # Errors
/// When a survey or the plant is not there.
pub fn spread_view(
    book: &LakeBook,
    taxon: &str,
    from: &str,
    to: &str,
    seed: u64,
) -> Result<SpreadView> {
    let taxon = taxon_of(book, taxon)?.ok_or_else(|| {
        Error::input("`any` is no plant that can move").hint("name one plant by its code")
    })?;
    let records = all_records(book)?;
    let named = |name: &str| {
        let survey = book.survey_by_name(name)?;
        records
            .iter()
            .find(|record| record.survey.id == survey.id)
            .ok_or_else(|| Error::fault(format!("survey `{name}` has no record")))
    };
    let (earlier, later) = (named(from)?, named(to)?);
    let ground = super::one::ground_for(book, later)?;
    let map = Map::of(book, &ground, [earlier, later])?;
    let spread = map.spread(earlier, later, &taxon, seed);
    let units = book.lake()?.units;
    map.view(&spread, &taxon, (earlier, later), &records, units, seed, &ground)
}

/// The water, its launches and where the sites are.
pub(super) struct Map {
    ways: Option<Ways>,
    launches: Vec<(String, Place)>,
    places: HashMap<SiteId, SitePlace>,
}

impl Map {
    pub(super) fn of<'a>(
        book: &LakeBook,
        ground: &Ground,
        records: impl IntoIterator<Item = &'a SurveyRecord>,
    ) -> Result<Self> {
        let lake = Lake::of(ground, None, None)?;
        let ways = lake.as_ref().and_then(|lake| Ways::of(&lake.cut(WAY_CELLS)).ok());
        let mut launches = Vec::new();
        let landmarks = book.landmarks()?;
        for one in landmarks.into_iter().filter(|one| one.kind == LandmarkKind::Launch) {
            if !ground.crs.is_geographic() {
                let at = ground.project(one.position)?;
                launches.push((one.name, [at.x, at.y]));
            }
        }
        let mut places = HashMap::new();
        for record in records {
            places.extend(places::of_sites(record, ground)?);
        }
        Ok(Self { ways, launches, places })
    }

    fn place(&self, site: &Site) -> Option<Place> {
        self.places.get(&site.id)?.metres
    }

    pub(super) fn spread(
        &self,
        from: &SurveyRecord,
        to: &SurveyRecord,
        taxon: &Taxon,
        seed: u64,
    ) -> Spread {
        let place = |site: &Site| self.place(site);
        let distance = |one: Place, other: Place| match &self.ways {
            Some(ways) => ways.between(one, other),
            None => straight(one, other),
        };
        Spread::of(&Question {
            from,
            to,
            taxon: taxon.id,
            place: &place,
            distance: &distance,
            launches: &self.launches,
            resamples: RESAMPLES,
            seed,
        })
    }

    #[expect(clippy::too_many_arguments, reason = "the parts of one answer")]
    fn view(
        &self,
        of: &Spread,
        taxon: &Taxon,
        (from, to): (&SurveyRecord, &SurveyRecord),
        records: &[SurveyRecord],
        units: UnitSystem,
        seed: u64,
        ground: &Ground,
    ) -> Result<SpreadView> {
        let shift = of.shift.as_ref().ok();
        let lists = of.places.clone().unwrap_or_default();
        let name = taxon.spoken_name();
        let spreads = [(name, of)];
        let everything = Everything { spread: &spreads, ..Everything::default() };
        let (gained_m2, lost_m2) = self.areas(to, ground, &lists.gained, &lists.lost)?;
        let comparison = Comparison::of(from, to);
        let all: Vec<&SurveyRecord> = records.iter().collect();
        let warnings: Vec<WarningView> =
            comparison.warnings.iter().map(|one| warning_view(one, units)).collect();
        Ok(SpreadView {
            code: taxon.code.to_string(),
            scientific_name: taxon.scientific_name.clone(),
            name: name.to_owned(),
            from: brief_of(from),
            to: brief_of(to),
            shift_m: shift.map(|one| ShiftView {
                value: one.metres.value,
                low: one.metres.low,
                high: one.metres.high,
                p: one.p,
            }),
            bearing_deg: shift.map(|one| one.bearing),
            direction: shift.map(|one| direction(one.bearing).to_owned()).unwrap_or_default(),
            along_shore: shift.and_then(|one| along(ground, one.from, one.to)),
            middle_from: shift.map(|one| one.from),
            middle_to: shift.map(|one| one.to),
            why_not: of.shift.as_ref().err().map(super::one::first_line).unwrap_or_default(),
            gained: self.sites(to, &lists.gained, &of.nearest_launch),
            lost: self.sites(to, &lists.lost, &[]),
            kept: self.sites(to, &lists.kept, &[]),
            gained_m2,
            lost_m2,
            zones_gained: of.zones.gained.iter().map(ToString::to_string).collect(),
            zones_lost: of.zones.lost.iter().map(ToString::to_string).collect(),
            first_found: first_found(&all, taxon.id)
                .into_iter()
                .map(|one| FirstFoundView {
                    zone: one.zone.map(|zone| zone.to_string()),
                    survey: one.name,
                    date: one.date.map(|date| date.to_string()),
                    sites: one.sites,
                    blanks_before: one.blanks_before,
                })
                .collect(),
            years: records
                .iter()
                .filter(|record| !record.visits.is_empty())
                .map(|record| year(record, taxon, ground))
                .collect::<Result<_>>()?,
            warnings,
            sentence: summary(&everything, units)
                .into_iter()
                .next()
                .map(|one| one.text)
                .unwrap_or_default(),
            resamples: RESAMPLES,
            seed,
            methods: methods::of_spread(),
        })
    }

    fn sites(
        &self,
        record: &SurveyRecord,
        codes: &[Code],
        launches: &[(Code, String, f64)],
    ) -> Vec<SpreadSiteView> {
        let by_code: HashMap<&Code, &Site> =
            record.sites.iter().map(|site| (&site.code, site)).collect();
        codes
            .iter()
            .map(|code| {
                let place = by_code.get(code).and_then(|site| self.places.get(&site.id));
                let launch = launches.iter().find(|(site, _, _)| site == code);
                SpreadSiteView {
                    code: code.to_string(),
                    lon: place.map(|one| one.lon_lat.longitude()),
                    lat: place.map(|one| one.lon_lat.latitude()),
                    x: place.and_then(|one| one.metres).map(|at| at[0]),
                    y: place.and_then(|one| one.metres).map(|at| at[1]),
                    nearest_launch: launch.map(|(_, name, _)| name.clone()),
                    launch_m: launch.map(|(_, _, way)| *way),
                }
            })
            .collect()
    }

    /// Water nearest to the sites gained and lost, of the sites sampled in the later survey.
    fn areas(
        &self,
        record: &SurveyRecord,
        ground: &Ground,
        gained: &[Code],
        lost: &[Code],
    ) -> Result<(Option<f64>, Option<f64>)> {
        let Some(lake) = Lake::of(ground, record.survey.depth_cap, year_of(&record.survey))? else {
            return Ok((None, None));
        };
        let sampled: std::collections::HashSet<SiteId> = record
            .visits
            .iter()
            .filter(|visit| matches!(visit.result, SiteResult::Sampled(_)))
            .map(|visit| visit.site)
            .collect();
        let (codes, places): (Vec<&Code>, Vec<Place>) = record
            .sites
            .iter()
            .filter(|site| sampled.contains(&site.id))
            .filter_map(|site| Some((&site.code, self.place(site)?)))
            .unzip();
        let Ok(water) = NearestWater::of(&lake.cut(USUAL_CELLS), &places) else {
            return Ok((None, None));
        };
        let area = |wanted: &[Code]| {
            let points: Vec<usize> =
                (0..codes.len()).filter(|n| wanted.contains(codes[*n])).collect();
            Some(water.area_of(&points).square_metres() * lake.scale)
        };
        Ok((area(gained), area(lost)))
    }
}

/// The shift along the lake's own shore.
fn along(ground: &Ground, from: Place, to: Place) -> Option<AlongShoreView> {
    let way = Shore::of(ground.outline.as_ref()?.projected()).way(from, to)?;
    Some(AlongShoreView {
        shore_m: way.metres,
        way: if way.clockwise { "clockwise" } else { "counter-clockwise" }.to_owned(),
        from_off_m: way.off.0,
        to_off_m: way.off.1,
    })
}

fn year(record: &SurveyRecord, taxon: &Taxon, ground: &Ground) -> Result<SpreadYearView> {
    let places = places::of_sites(record, ground)?;
    let mut view = SpreadYearView {
        survey: record.survey.name.clone(),
        date: record.survey.start.map(|date| date.to_string()),
        looked_for: record.survey.scope.covers(taxon.id),
        found: Vec::new(),
        blank: Vec::new(),
    };
    for visit in &record.visits {
        if !matches!(visit.result, SiteResult::Sampled(_)) {
            continue;
        }
        let Some(at) = places.get(&visit.site).and_then(|place| place.metres) else { continue };
        if record.largest_on_rake(visit, taxon.id).is_some() {
            view.found.push(at);
        } else if view.looked_for {
            view.blank.push(at);
        }
    }
    Ok(view)
}
