//! A plan that is kept, read back.

use super::view::{Head, plan_view, site_view};
use super::{BALANCE_CELLS, LayoutChoice, PlanRequest, depths, lay, zone_areas};
use crate::error::Result;
use crate::ground::Ground;
use crate::surveys::record_of;
use crate::views::{PlanView, PlannedSiteView, SiteChangeView};
use lakebook::{Entity, LakeBook};
use sampling::balance::layout_balance;
use survey::{Site, Survey, SurveyRecord};
use units::Metres;

/// The plan of a survey as it stands, with what was changed by hand.
///
/// # Errors
/// When there is no such survey.
pub fn planned(book: &LakeBook, ground: &Ground, survey: &str) -> Result<PlanView> {
    let record = record_of(book, survey)?;
    let visits = record.visits_by_site();
    let mut sites: Vec<&Site> = record.sites.iter().collect();
    // spares last, in the order they are used
    sites.sort_by_key(|site| (site.spare, site.rank));
    let views: Vec<PlannedSiteView> = sites
        .iter()
        .map(|site| site_view(ground, site, visits.contains_key(&site.id)))
        .collect::<Result<_>>()?;
    let (balance, area) = if ground.outline.is_some() {
        measures(book, ground, &record, &views)?
    } else {
        (None, units::SquareMetres::new(0.0))
    };
    let head = Head {
        survey: record.survey.name.clone(),
        stored: true,
        layout: record.survey.layout.layout.clone(),
        parameters: record.survey.layout.parameters.clone(),
        throws: u32::from(record.survey.throws_per_site),
        balance,
        area,
        changes: changes(book, &record)?,
        warnings: Vec::new(),
    };
    plan_view(book, ground, head, views, &[])
}

/// Balance and area on the water the sites were laid in.
fn measures(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
    views: &[PlannedSiteView],
) -> Result<(Option<f64>, units::SquareMetres)> {
    let request = limits(&record.survey);
    let zones = zone_areas(ground)?;
    let depth = depths(ground);
    // zones taken away since, or depths, leave the whole lake as the water
    let frame = match lay::frame(book, ground, &zones, &depth, &request) {
        Ok(frame) => frame,
        Err(_) => {
            lay::frame(book, ground, &zones, &depth, &PlanRequest::new("", LayoutChoice::SubAreas))?
        }
    };
    let places: Vec<(f64, f64)> = views
        .iter()
        .filter(|site| !site.spare && site.dropped.is_none())
        .filter_map(|site| Some((site.x?, site.y?)))
        .collect();
    Ok((layout_balance(&frame, &places, BALANCE_CELLS), frame.area()))
}

/// The limits a survey's sites were laid in, from the parameters kept with it.
pub(super) fn limits(survey: &Survey) -> PlanRequest {
    let find = |name: &str| {
        let found = survey.layout.parameters.iter().find(|(known, _)| known == name);
        found.map(|(_, value)| value.as_str())
    };
    let metres = |name: &str| find(name).and_then(|value| value.parse().ok()).map(Metres::new);
    PlanRequest {
        min_depth: metres("least_depth_m"),
        max_depth: metres("most_depth_m"),
        zones: find("zones")
            .map(|zones| zones.split(',').map(str::to_owned).collect())
            .unwrap_or_default(),
        ..PlanRequest::new("", LayoutChoice::SubAreas)
    }
}

/// What was done to the sites since they were laid, oldest first.
fn changes(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<SiteChangeView>> {
    let mut changes = Vec::new();
    for site in &record.sites {
        let history = book.history(Entity::Site, &site.id.to_string())?;
        for (place, event) in history.iter().enumerate() {
            // the first event of a site is its laying, unless it was added by hand
            if place == 0 && !event.note.starts_with("site ") {
                continue;
            }
            changes.push((
                event.at().to_owned(),
                event.note.clone(),
                event.actor.clone(),
                &site.code,
            ));
        }
    }
    changes.sort();
    // one save may touch two sites: a dropped one and the spare in its place
    changes.dedup_by(|later, before| later.0 == before.0 && later.1 == before.1);
    Ok(changes
        .into_iter()
        .map(|(at, note, actor, code)| SiteChangeView { code: code.to_string(), at, actor, note })
        .collect())
}
