//! Every lettering on the map, the most wanted first.

use super::data::{LandmarkKind, LandmarkMark, SiteMark};
use super::labels::{Ground, around, centred};
use super::map::{Painter, ZoneCodes};
use super::marks::mark_radius;
use super::plane::{Rect, edge_distance, inner_points, inside};
use super::svg::Lettering;
use crate::fonts::Face;
use units::decimals;

impl Painter<'_> {
    /// On a framed map landmarks come before the codes of sites; on a small one, where the codes are
    /// what a crew looks for, after them.
    pub(super) fn letter(
        &mut self,
        sites: &[((f64, f64), &SiteMark)],
        landmarks: &[((f64, f64), &LandmarkMark)],
        scale: f64,
    ) {
        self.treated_names();
        if self.style.framed {
            self.landmark_names(landmarks);
            self.zone_codes();
            self.site_codes(sites, scale);
        } else {
            self.site_codes(sites, scale);
            self.landmark_names(landmarks);
        }
        self.deepest();
        self.contour_figures();
    }

    fn landmark_names(&mut self, landmarks: &[((f64, f64), &LandmarkMark)]) {
        if !self.style.landmark_names {
            return;
        }
        for (place, landmark) in landmarks {
            // half the sign's width and its edge, so that every name stands as far from its sign
            let (face, radius) = match landmark.kind {
                LandmarkKind::Landmark => (Face::Italic, 4.8),
                LandmarkKind::Launch => (Face::SemiBold, 5.4),
                LandmarkKind::Hazard => (Face::SemiBold, 6.4),
            };
            let size = 12.0 * self.style.lettering;
            self.label(*place, radius, &landmark.name, (size, face), Ground::Land);
        }
    }

    fn site_codes(&mut self, sites: &[((f64, f64), &SiteMark)], scale: f64) {
        if !self.style.site_codes {
            return;
        }
        let most = 11.5 * self.style.lettering;
        let size = self.spacing().map_or(most, |spacing| (spacing * 0.46).clamp(6.0, most));
        let face = if self.style.framed { Face::Plain } else { Face::Bold };
        let mut left_out = 0;
        for (place, site) in sites {
            let radius = mark_radius(site.mark, scale);
            if !self.label(*place, radius, &site.code, (size, face), Ground::Any) {
                left_out += 1;
            }
        }
        if left_out > 0 {
            self.svg.remarks.push(format!(
                "{left_out} of {} site codes found no room on the map of {}",
                sites.iter().filter(|(_, site)| !site.code.is_empty()).count(),
                self.map.title
            ));
        }
    }

    /// Writes a name beside a mark if there is room, and says whether there was.
    fn label(
        &mut self,
        place: (f64, f64),
        radius: f64,
        text: &str,
        (size, face): (f64, Face),
        ground: Ground,
    ) -> bool {
        if text.trim().is_empty() {
            return true;
        }
        let width = self.svg.fonts().width(text, size, face);
        let candidates = around(place, radius, width, size * 0.92);
        let Some(rect) = self.obstacles.take(candidates, ground) else { return false };
        let halo = self.ground_colour(rect);
        let how = Lettering::new(size, face, self.theme.ink).halo(halo);
        self.svg.text((rect.x, rect.bottom() - size * 0.17), text, how);
        true
    }

    fn ground_colour(&self, rect: Rect) -> &'static str {
        let centre = (rect.x + rect.width / 2.0, rect.y + rect.height / 2.0);
        if inside(&self.shore, centre) {
            self.theme.water(self.style.depth, 0, self.map.bands.len().max(1))
        } else {
            self.theme.land
        }
    }

    fn zone_codes(&mut self) {
        if self.style.zone_codes == ZoneCodes::None {
            return;
        }
        let size = 14.0 * self.style.lettering;
        for zone in &self.map.zones {
            let rings = self.plane.rings(&zone.area);
            if rings.is_empty() {
                continue;
            }
            let width = self.svg.fonts().width(&zone.code, size, Face::Bold);
            let boxes = |points: Vec<(f64, f64)>| {
                points.into_iter().map(move |point| centred(point, width, size))
            };
            let on_land = || boxes(self.beside_shore(&rings, width, size)).collect::<Vec<_>>();
            let on_water = || boxes(inner_points(&rings, 40)).collect::<Vec<_>>();
            let (first, second) = match self.style.zone_codes {
                ZoneCodes::OnLand => ((on_land(), Ground::Land), (on_water(), Ground::Water)),
                _ => ((on_water(), Ground::Water), (on_land(), Ground::Land)),
            };
            let rect = self
                .obstacles
                .take(first.0, first.1)
                .or_else(|| self.obstacles.take(second.0, second.1));
            if let Some(rect) = rect {
                let how =
                    Lettering::new(size, Face::Bold, self.theme.ink).halo(self.ground_colour(rect));
                self.svg.text((rect.x, rect.bottom() - size * 0.17), &zone.code, how);
            } else {
                self.svg.remarks.push(format!("zone code {} found no room on the map", zone.code));
            }
        }
    }

    /// Places on land beside the stretch of shore an area has, its middle first.
    fn beside_shore(&self, rings: &[Vec<(f64, f64)>], width: f64, height: f64) -> Vec<(f64, f64)> {
        let ashore: Vec<(f64, f64)> = rings
            .iter()
            .flatten()
            .copied()
            .filter(|point| edge_distance(&self.shore, *point) < 1.2)
            .collect();
        let middle = ashore.len() / 2;
        let mut order: Vec<usize> = (0..ashore.len()).collect();
        order.sort_by_key(|index| index.abs_diff(middle));
        let (far_x, far_y) = (width / 2.0 + 7.0, height / 2.0 + 6.0);
        order
            .into_iter()
            .step_by(ashore.len().div_ceil(24).max(1))
            .flat_map(|index| {
                let (x, y) = ashore[index];
                (0..12).map(move |turn| {
                    let angle = f64::from(turn) * std::f64::consts::TAU / 12.0;
                    (x + far_x * angle.cos(), y + far_y * angle.sin())
                })
            })
            .filter(|point| {
                !inside(&self.shore, *point) && edge_distance(&self.shore, *point) > height * 0.6
            })
            .take(60)
            .collect()
    }

    fn treated_names(&mut self) {
        let size = 12.0 * self.style.lettering;
        for bed in &self.map.treated {
            let rings = self.plane.rings(&bed.area);
            let text = format!("{}, {}", bed.name, self.style.units.area(bed.size));
            let width = self.svg.fonts().width(&text, size, Face::SemiBold);
            let candidates: Vec<_> = self
                .beside_shore(&rings, width, size)
                .into_iter()
                .map(|point| centred(point, width, size))
                .collect();
            if let Some(rect) = self.obstacles.take(candidates, Ground::Land) {
                let how = Lettering::new(size, Face::SemiBold, self.theme.accent)
                    .halo(self.ground_colour(rect));
                self.svg.text((rect.x, rect.bottom() - size * 0.17), &text, how);
            }
        }
    }

    fn deepest(&mut self) {
        let count = self.map.bands.len();
        let units = self.style.units;
        if let Some((x, y, depth)) = self.map.deepest {
            let text = decimals(units.depth_value(depth), 0);
            let size = 14.0 * self.style.lettering;
            let width = self.svg.fonts().width(&text, size, Face::Bold);
            let place = self.plane.at(x, y);
            let rect = centred(place, width, size * 0.86);
            if self.field.has(place) && self.obstacles.take([rect], Ground::Any).is_some() {
                let (ink, halo) =
                    self.theme.on_water(self.style.depth, count.saturating_sub(1), count.max(1));
                let how = Lettering::new(size, Face::Bold, ink).halo(halo);
                self.svg.text((rect.x, rect.bottom() - 1.0), &text, how);
            }
        }
    }

    fn contour_figures(&mut self) {
        if !self.style.contour_figures {
            return;
        }
        let count = self.map.bands.len();
        let units = self.style.units;
        let size = 11.5 * self.style.lettering;
        for contour in self.map.contours.iter().chain(&self.map.plant_limit) {
            let value = units.depth_value(contour.depth);
            if value <= 0.0 {
                continue;
            }
            let text = decimals(value, usize::from((value - value.round()).abs() > 0.05));
            let width = self.svg.fonts().width(&text, size, Face::SemiBold);
            let band = self.map.bands.iter().position(|band| band.to >= contour.depth);
            let (ink, halo) =
                self.theme.on_water(self.style.depth, band.unwrap_or(0), count.max(1));
            let mut lines = self.plane.lines(&contour.lines);
            lines.sort_by_key(|line| std::cmp::Reverse(line.len()));
            for line in lines.iter().take(2).filter(|line| line.len() > 12) {
                let places: Vec<_> = (1..12)
                    .map(|part| line[(line.len() - 1) * part / 12])
                    .map(|place| centred(place, width + 4.0, size))
                    .collect();
                if let Some(rect) = self.obstacles.take(places, Ground::Water) {
                    let how = Lettering::new(size, Face::SemiBold, ink).halo(halo);
                    let base = (rect.x + 2.0, rect.bottom() - size * 0.14);
                    self.svg.text(base, &text, how);
                }
            }
        }
    }
}
