//! Parts with one site each, shared by the layouts that cut water.

use super::{LaidSite, Part, Warning, site_at};
use crate::frame::Frame;
use crate::pole::pole_of_inaccessibility;
use geo_types::MultiPolygon;
use survey::Code;
use units::{Metres, SquareMetres};

/// What the layouts that cut water collect.
#[derive(Debug, Default)]
pub(crate) struct Collected {
    pub(crate) sites: Vec<LaidSite>,
    pub(crate) parts: Vec<Part>,
    pub(crate) warnings: Vec<Warning>,
}

impl Collected {
    /// Adds a part and its site, at the inner point farthest from its edges.
    pub(crate) fn add(
        &mut self,
        frame: &Frame<'_>,
        code: Code,
        zone: Option<Code>,
        polygon: MultiPolygon<f64>,
        area: f64,
        shore: Option<Metres>,
    ) {
        let Some((x, y, _)) = pole_of_inaccessibility(&polygon) else {
            self.warnings.push(Warning::PartOutsideWater { code });
            return;
        };
        if let Err(why) = frame.place(x, y) {
            self.warnings.push(Warning::OutsideFrame { code: code.clone(), why });
        }
        // pieces under a thousandth of the part are scraps of the outline, not of the part
        let counts = |piece: &&geo_types::Polygon<f64>| {
            crate::region::area_of(&MultiPolygon(vec![(*piece).clone()])) > 0.001 * area
        };
        let pieces = polygon.iter().filter(counts).count();
        if pieces > 1 {
            self.warnings.push(Warning::PartInPieces { code: code.clone(), pieces });
        }
        let mut site = site_at(frame, code.clone(), x, y);
        site.part = Some(code.clone());
        let zone = zone.or_else(|| site.zone.clone());
        site.zone.clone_from(&zone);
        self.sites.push(site);
        self.parts.push(Part { code, zone, polygon, area: SquareMetres::new(area), shore });
    }
}
