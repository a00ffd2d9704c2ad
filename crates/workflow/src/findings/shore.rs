//! Plants on the shore, by places and by length of shore.

use super::places::{self, Lake};
use crate::error::Result;
use crate::ground::{Ground, year_of};
use crate::views::ShoreView;
use findings::acres::shore_lengths;
use findings::shore::Shore;
use findings::spread::Place;
use geo::Contains;
use std::collections::BTreeMap;
use survey::{Code, HowSeen, SiteResult, SurveyRecord};

/// A place on the shore: its zone and where it is, as far as known.
type Find = (Option<Code>, Option<Place>);

/// Taxa on the shore, by code, over all and then by zone.
pub(super) fn on_shore(record: &SurveyRecord, ground: &Ground) -> Result<Vec<ShoreView>> {
    let finds = finds(record, ground)?;
    let lake =
        if finds.is_empty() { None } else { Lake::of(ground, None, year_of(&record.survey))? };
    let Some(lake) = lake else {
        return Ok(finds.iter().map(|(code, finds)| view(code, None, finds, None)).collect());
    };
    let shore = Shore::of(&lake.water);
    // an area is out of scale by the square of a length
    let scale = lake.scale.sqrt();
    let lengths = shore_lengths(&Shore::lines(&lake.water), &lake.zones);
    let mut views = Vec::new();
    for (code, finds) in &finds {
        let within = |place: &Place| {
            let point = geo_types::Point::new(place[0], place[1]);
            lake.zones
                .iter()
                .find(|(_, shape)| shape.contains(&point))
                .map(|(zone, _)| zone.clone())
        };
        let zoned: Vec<Find> = finds
            .iter()
            .map(|(zone, at)| (zone.clone().or_else(|| at.as_ref().and_then(within)), *at))
            .collect();
        for length in &lengths {
            let here: Vec<Find> = zoned
                .iter()
                .filter(|(zone, _)| length.zone.is_none() || *zone == length.zone)
                .cloned()
                .collect();
            if !here.is_empty() {
                let measured = Some((&shore, length.amount, scale));
                views.push(view(code, length.zone.as_ref(), &here, measured));
            }
        }
    }
    Ok(views)
}

fn view(
    code: &str,
    zone: Option<&Code>,
    finds: &[Find],
    measured: Option<(&Shore, f64, f64)>,
) -> ShoreView {
    let places: Vec<Place> = finds.iter().filter_map(|(_, at)| *at).collect();
    ShoreView {
        code: code.to_owned(),
        zone: zone.map(ToString::to_string),
        places: finds.len(),
        not_placed: finds.len() - places.len(),
        stretch_m: measured
            .filter(|_| !places.is_empty())
            .map(|(shore, _, scale)| shore.stretch(&places) * scale),
        shore_m: measured.map(|(_, length, scale)| length * scale),
    }
}

/// Finds on the shore by code: those noted at sites, and those noted alone.
fn finds(record: &SurveyRecord, ground: &Ground) -> Result<BTreeMap<String, Vec<Find>>> {
    let sites = places::of_sites(record, ground)?;
    let mut finds: BTreeMap<String, Vec<Find>> = BTreeMap::new();
    for visit in &record.visits {
        let SiteResult::Sampled(sampling) = &visit.result else { continue };
        let site = record.sites.iter().find(|site| site.id == visit.site);
        let zone = site.and_then(|site| site.zone.clone());
        let at = sites.get(&visit.site).and_then(|place| place.metres);
        for one in sampling.observations() {
            if one.seen == HowSeen::Shoreline && record.says_present(one.rating) {
                let code = super::code_of(&record.taxa, one.taxon);
                finds.entry(code).or_default().push((zone.clone(), at));
            }
        }
    }
    for find in &record.shoreline {
        let at = match find.position {
            Some(position) if !ground.crs.is_geographic() => {
                let at = ground.project(position)?;
                Some([at.x, at.y])
            }
            _ => None,
        };
        let code = super::code_of(&record.taxa, find.taxon);
        finds.entry(code).or_default().push((find.zone.clone(), at));
    }
    Ok(finds)
}
