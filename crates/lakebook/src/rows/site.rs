//! Planned sites.

use super::columns::{At, Key};
use super::{Stored, stored};
use crate::error::BookError;
use crate::gpb::PointColumn;
use survey::Site;
use units::Metres;

stored! {
    /// A site.
    SiteRow = Site in "site" {
        geom: Option<PointColumn>,
        id: Key,
        survey_id: Key,
        code: String,
        map_depth_m: Option<f64>,
        zone: Option<String>,
        sub_area: Option<String>,
        landmark: String,
        plan_order: u32,
        inclusion_probability: Option<f64>,
        spare: bool,
        /// Left out of the text when there is none, so that a seal of a book of the first form still holds.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        dropped: Option<String>,
    }
}

impl SiteRow {
    pub(crate) fn of(site: &Site) -> Self {
        Self {
            geom: site.planned.map(PointColumn),
            id: Key(site.id.0),
            survey_id: Key(site.survey.0),
            code: site.code.to_string(),
            map_depth_m: site.map_depth.map(Metres::metres),
            zone: site.zone.as_ref().map(ToString::to_string),
            sub_area: site.sub_area.as_ref().map(ToString::to_string),
            landmark: site.landmark.clone(),
            plan_order: site.rank,
            inclusion_probability: site.inclusion_probability,
            spare: site.spare,
            dropped: site.dropped.clone(),
        }
    }

    pub(crate) fn into_site(self) -> Result<Site, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Site {
            code: at.code("code", &self.code)?,
            map_depth: self.map_depth_m.map(|depth| at.metres("map_depth_m", depth)).transpose()?,
            zone: self.zone.as_deref().map(|code| at.code("zone", code)).transpose()?,
            sub_area: self.sub_area.as_deref().map(|code| at.code("sub_area", code)).transpose()?,
            id: self.id.0.into(),
            survey: self.survey_id.0.into(),
            planned: self.geom.map(|point| point.0),
            landmark: self.landmark,
            rank: self.plan_order,
            inclusion_probability: self.inclusion_probability,
            spare: self.spare,
            dropped: self.dropped,
        })
    }
}
