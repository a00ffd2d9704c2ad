//! A plan as it is shown.

use crate::error::Result;
use crate::ground::Ground;
use crate::lake::{band_depths, polygons_json};
use crate::views::{
    ParameterView, PlanDepthView, PlanPartView, PlanView, PlannedSiteView, SiteChangeView,
    ZoneCountView,
};
use lakebed::coord_of;
use lakebook::LakeBook;
use sampling::effort::{Pace, hours_of_tour, hours_on_water};
use sampling::layouts::{Layout, Part};
use sampling::route::{Budget, Matrix, TourRules, shortest_tour};
use survey::{LandmarkKind, Site, Survey};
use units::{Metres, SquareMetres, UnitSystem, decimals};

/// A layout with its measures.
pub(super) struct Laid {
    pub(super) layout: Layout,
    pub(super) balance: Option<f64>,
    pub(super) area: SquareMetres,
}

/// Above so many sites the way is taken from the formula: the order would take longer than anybody waits.
const MOST_ORDERED: usize = 400;
/// Kicks of the search for a good way; a few per cent above the best are near enough for hours.
const KICKS: u64 = 300;

/// Hours for a good way from the launch through places and back, in straight lines.
pub(crate) fn good_way(
    launch: Option<(f64, f64)>,
    places: &[(f64, f64)],
    throws: u32,
    area: SquareMetres,
) -> Result<f64> {
    let pace = Pace::default();
    let points: Vec<(f64, f64)> = launch.into_iter().chain(places.iter().copied()).collect();
    if places.len() > MOST_ORDERED || points.len() < 2 {
        return Ok(hours_on_water(places.len(), throws, area, &pace)?);
    }
    let matrix = Matrix::from_fn(points.len(), |i, j| {
        Some(Metres::new((points[i].0 - points[j].0).hypot(points[i].1 - points[j].1)))
    });
    let tour = shortest_tour(&matrix, &TourRules::default(), Budget::Kicks(KICKS));
    Ok(match tour {
        Ok(tour) => hours_of_tour(places.len(), throws, tour.length, &pace)?,
        // two sites at one place have no way between them
        Err(_) => hours_on_water(places.len(), throws, area, &pace)?,
    })
}

/// The first launch of the lake.
pub(crate) fn launch(book: &LakeBook, ground: &Ground) -> Result<Option<(f64, f64)>> {
    let launch = book.landmarks()?.into_iter().find(|one| one.kind == LandmarkKind::Launch);
    launch.map(|one| ground.project(one.position).map(|at| (at.x, at.y))).transpose()
}

/// A layout just made, kept or not.
pub(super) fn laid_view(
    book: &LakeBook,
    ground: &Ground,
    survey: &Survey,
    laid: &Laid,
    sites: &[Site],
    stored: bool,
) -> Result<PlanView> {
    let layout = &laid.layout;
    let views: Vec<PlannedSiteView> = sites
        .iter()
        .zip(&layout.sites)
        .map(|(site, laid)| {
            let panel = laid.panel;
            Ok(PlannedSiteView { panel, ..site_view(ground, site, false)? })
        })
        .collect::<Result<_>>()?;
    let head = Head {
        survey: survey.name.clone(),
        stored,
        layout: layout.name.clone(),
        parameters: layout.parameters.clone(),
        throws: u32::from(survey.throws_per_site),
        balance: laid.balance,
        area: laid.area,
        changes: Vec::new(),
        warnings: layout.warnings.iter().map(ToString::to_string).collect(),
    };
    plan_view(book, ground, head, views, &layout.parts)
}

/// What a view says of the plan as a whole.
pub(super) struct Head {
    pub(super) survey: String,
    pub(super) stored: bool,
    pub(super) layout: String,
    pub(super) parameters: Vec<(String, String)>,
    pub(super) throws: u32,
    pub(super) balance: Option<f64>,
    pub(super) area: SquareMetres,
    pub(super) changes: Vec<SiteChangeView>,
    pub(super) warnings: Vec<String>,
}

/// One site.
pub(super) fn site_view(ground: &Ground, site: &Site, visited: bool) -> Result<PlannedSiteView> {
    let at = site.planned.map(|place| ground.project(place)).transpose()?;
    Ok(PlannedSiteView {
        code: site.code.to_string(),
        lon: site.planned.map(|at| coord_of(at).x),
        lat: site.planned.map(|at| coord_of(at).y),
        x: at.map(|at| at.x),
        y: at.map(|at| at.y),
        zone: site.zone.as_ref().map(ToString::to_string),
        part: site.sub_area.as_ref().map(ToString::to_string),
        landmark: site.landmark.clone(),
        depth_m: site.map_depth.map(Metres::metres),
        inclusion_probability: site.inclusion_probability,
        spare: site.spare,
        dropped: site.dropped.clone(),
        visited,
        panel: None,
    })
}

/// Counts, hours and sentence of a plan.
pub(super) fn plan_view(
    book: &LakeBook,
    ground: &Ground,
    head: Head,
    sites: Vec<PlannedSiteView>,
    parts: &[Part],
) -> Result<PlanView> {
    let standing: Vec<&PlannedSiteView> =
        sites.iter().filter(|site| !site.spare && site.dropped.is_none()).collect();
    let places: Vec<(f64, f64)> =
        standing.iter().filter_map(|site| Some((site.x?, site.y?))).collect();
    let hours = good_way(launch(book, ground)?, &places, head.throws, head.area)?;
    let (by_zone, by_depth) = (by_zone(ground, &standing), by_depth(ground, &standing));
    let count = standing.len();
    let spares = sites.iter().filter(|site| site.spare && site.dropped.is_none()).count();
    let sentence = sentence(ground.lake.units, &head, count, spares, hours);
    Ok(PlanView {
        survey: head.survey,
        stored: head.stored,
        layout: head.layout,
        parameters: head
            .parameters
            .into_iter()
            .map(|(name, value)| ParameterView { name, value })
            .collect(),
        parts: parts
            .iter()
            .map(|part| PlanPartView {
                code: part.code.to_string(),
                zone: part.zone.as_ref().map(ToString::to_string),
                area_m2: part.area.square_metres(),
                shore_m: part.shore.map(Metres::metres),
                geometry: polygons_json(&part.polygon),
            })
            .collect(),
        count,
        spares,
        by_zone,
        by_depth,
        balance: head.balance,
        area_m2: head.area.square_metres(),
        hours,
        sentence,
        changes: head.changes,
        warnings: head.warnings,
        sites,
    })
}

fn by_zone(ground: &Ground, sites: &[&PlannedSiteView]) -> Vec<ZoneCountView> {
    let count = |zone: Option<&str>| sites.iter().filter(|one| one.zone.as_deref() == zone).count();
    let mut counts: Vec<ZoneCountView> = ground
        .zones
        .iter()
        .map(|zone| ZoneCountView {
            zone: Some(zone.code.to_string()),
            sites: count(Some(zone.code.as_str())),
        })
        .collect();
    let outside = count(None);
    if outside > 0 {
        counts.push(ZoneCountView { zone: None, sites: outside });
    }
    counts
}

fn by_depth(ground: &Ground, sites: &[&PlannedSiteView]) -> Vec<PlanDepthView> {
    let mut counts = Vec::new();
    if let Some(model) = &ground.model {
        let limits = band_depths(ground, model.max_depth());
        for (index, from) in limits.iter().enumerate() {
            let to = limits.get(index + 1);
            let within = |depth: f64| {
                // the shore itself belongs to the first band
                (depth > from.metres() || index == 0) && to.is_none_or(|to| depth <= to.metres())
            };
            counts.push(PlanDepthView {
                from_m: Some(from.metres()),
                to_m: to.map(|to| to.metres()),
                sites: sites.iter().filter(|one| one.depth_m.is_some_and(within)).count(),
            });
        }
    }
    let unknown = sites.iter().filter(|one| one.depth_m.is_none()).count();
    if unknown > 0 {
        counts.push(PlanDepthView { from_m: None, to_m: None, sites: unknown });
    }
    counts
}

fn sentence(units: UnitSystem, head: &Head, count: usize, spares: usize, hours: f64) -> String {
    let noun = |n: usize, one: &str| if n == 1 { one.to_owned() } else { format!("{one}s") };
    let throws = format!("{} {} each", head.throws, noun(head.throws as usize, "throw"));
    let mut text = format!(
        "{count} {} on {}, {throws}: about {} hours on the water",
        noun(count, "site"),
        units.area(head.area),
        decimals(hours, 0)
    );
    if spares > 0 {
        text.push_str(&format!("; {spares} {} in reserve", noun(spares, "spare")));
    }
    if let Some(balance) = head.balance {
        text.push_str(&format!("; spatial balance {}, 0 is perfect", decimals(balance, 2)));
    }
    text.push('.');
    text
}
