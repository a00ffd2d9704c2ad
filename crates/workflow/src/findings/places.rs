//! Where things are, in metres of the working system.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use geo_types::MultiPolygon;
use std::collections::HashMap;
use survey::{Code, SiteId, SurveyRecord};
use units::LonLat;

/// The water and its zones.
pub(super) struct Lake {
    pub(super) water: MultiPolygon<f64>,
    pub(super) zones: Vec<(Code, MultiPolygon<f64>)>,
    /// Areas of the plane over areas of the ellipsoid.
    pub(super) scale: f64,
}

impl Lake {
    /// None without an outline.
    pub(super) fn of(ground: &Ground) -> Result<Option<Self>> {
        let Some(outline) = &ground.outline else { return Ok(None) };
        let zones = ground
            .zones
            .iter()
            .map(|zone| Ok((zone.code.clone(), project(ground, &zone.area)?)))
            .collect::<Result<_>>()?;
        Ok(Some(Self { water: outline.projected().clone(), zones, scale: outline.area_scale() }))
    }

    /// The same, or a sentence that says how to add an outline.
    pub(super) fn needed(ground: &Ground) -> Result<Self> {
        ground.need_outline()?;
        Self::of(ground)?.ok_or_else(|| Error::fault("the outline is gone"))
    }

    /// For the crates that count cells.
    pub(super) fn cut(&self, cells: usize) -> findings::acres::Water<'_> {
        findings::acres::Water { water: &self.water, zones: &self.zones, cells }
    }
}

/// Where a site is.
#[derive(Debug, Clone, Copy)]
pub(super) struct SitePlace {
    pub(super) lon_lat: LonLat,
    /// East and north; none while the book has no system in metres.
    pub(super) metres: Option<[f64; 2]>,
}

/// Where each site was sampled, else where it was planned.
pub(super) fn of_sites(
    record: &SurveyRecord,
    ground: &Ground,
) -> Result<HashMap<SiteId, SitePlace>> {
    let visits = record.visits_by_site();
    let mut places = HashMap::new();
    for site in &record.sites {
        let actual = visits.get(&site.id).and_then(|visit| visit.actual).map(|fix| fix.position);
        let Some(lon_lat) = actual.or(site.planned) else { continue };
        let metres = if ground.crs.is_geographic() {
            None
        } else {
            let at = ground.project(lon_lat)?;
            Some([at.x, at.y])
        };
        places.insert(site.id, SitePlace { lon_lat, metres });
    }
    Ok(places)
}
