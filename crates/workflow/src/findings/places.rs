//! Where things are, in metres of the working system.

use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::project;
use geo::{Area, BooleanOps};
use geo_types::MultiPolygon;
use std::collections::HashMap;
use survey::{Code, SiteId, SurveyRecord};
use units::{LonLat, Metres, UnitSystem};

/// The water and its zones, where sites were laid.
pub(super) struct Lake {
    pub(super) water: MultiPolygon<f64>,
    pub(super) zones: Vec<(Code, MultiPolygon<f64>)>,
    /// Square metres of ground in a square metre of the plane.
    pub(super) scale: f64,
    /// Deeper water was not sampled by rule and is left out; none when all water is in.
    pub(super) cap: Option<Metres>,
}

impl Lake {
    /// None without an outline. The zones are those of the year, or of now. Water deeper than a
    /// survey went by rule is left out, where the book knows depths.
    pub(super) fn of(
        ground: &Ground,
        cap: Option<Metres>,
        year: Option<i16>,
    ) -> Result<Option<Self>> {
        let Some(outline) = &ground.outline else { return Ok(None) };
        let zones = ground
            .zones_of(year)
            .map(|zone| Ok((zone.code.clone(), project(ground, &zone.area)?)))
            .collect::<Result<_>>()?;
        let mut lake = Self {
            water: outline.projected().clone(),
            zones,
            scale: outline.area_scale(),
            cap: None,
        };
        if let (Some(cap), Some(model)) = (cap, &ground.model)
            && model.max_depth() > cap
        {
            let shallow = lake.water.difference(&lakebed::deeper_than(model, cap));
            if shallow.unsigned_area() > 0.0 {
                lake.water = shallow;
                lake.cap = Some(cap);
            }
        }
        Ok(Some(lake))
    }

    /// The same, or a sentence that says how to add an outline.
    pub(super) fn needed(ground: &Ground, cap: Option<Metres>, year: Option<i16>) -> Result<Self> {
        ground.need_outline()?;
        Self::of(ground, cap, year)?.ok_or_else(|| Error::fault("the outline is gone"))
    }

    /// Which water it is, in words.
    pub(super) fn words(&self, units: UnitSystem) -> String {
        self.cap.map_or_else(
            || "all water".to_owned(),
            |cap| format!("water no deeper than {}, where sites were laid", units.depth(cap)),
        )
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
