//! What stands on the map: sites, landmarks, and every lettering.

use super::data::{LandmarkKind, Mark};
use super::labels::{Ground, around, centred};
use super::map::{Painter, ZoneCodes};
use super::plane::{Rect, edge_distance, inner_points, inside};
use super::svg::{Ink, Lettering, Svg};
use super::theme::{Theme, count_radius, rating_radius};
use crate::fonts::Face;
use units::decimals;

/// Smallest radius of a disc.
const LEAST_RADIUS: f64 = 1.6;

/// Draws the mark of a site. `scale` shrinks discs where sites stand close.
pub(super) fn draw_mark(
    svg: &mut Svg<'_>,
    theme: Theme,
    place: (f64, f64),
    mark: Mark,
    scale: f64,
) {
    let radius = mark_radius(mark, scale);
    match mark {
        Mark::Planned => {
            svg.circle(place, radius, Ink::fill(theme.accent).edged(theme.paper, 0.6));
        }
        Mark::PlannedElsewhere => {
            svg.circle(place, radius, Ink::fill(theme.paper).edged(theme.accent, 0.9));
        }
        Mark::Found { .. } | Mark::Count(1..) => {
            svg.circle(place, radius, Ink::fill(theme.plant).edged(theme.paper, 0.7));
        }
        Mark::NotFound | Mark::Count(0) => {
            svg.circle(place, radius, Ink::fill(theme.paper).edged(theme.second, 0.4 * radius));
        }
        Mark::NotReached => {
            let (x, y) = place;
            let ink = Ink::line(theme.ink, 1.2);
            svg.line((x - radius, y - radius), (x + radius, y + radius), ink);
            svg.line((x - radius, y + radius), (x + radius, y - radius), ink);
        }
    }
}

pub(super) fn mark_radius(mark: Mark, scale: f64) -> f64 {
    match mark {
        Mark::Planned => (3.6 * scale).clamp(LEAST_RADIUS, 3.6),
        Mark::PlannedElsewhere => (2.4 * scale).clamp(1.3, 2.4),
        Mark::Found { step, of } => (rating_radius(step, of) * scale).max(LEAST_RADIUS),
        Mark::Count(0) | Mark::NotFound => (2.2 * scale.min(1.0)).max(1.3),
        Mark::Count(count) => (count_radius(count) * scale).max(LEAST_RADIUS),
        Mark::NotReached => (3.6 * scale.min(1.0)).max(2.0),
    }
}

impl Painter<'_> {
    /// Median distance between neighbouring sites in pixels, none for fewer than two.
    fn spacing(&self) -> Option<f64> {
        const LOOK_AT: usize = 150;
        let places: Vec<_> =
            self.map.sites.iter().map(|site| self.plane.at(site.x, site.y)).collect();
        let every = places.len().div_ceil(LOOK_AT).max(1);
        let mut nearest: Vec<f64> = places
            .iter()
            .enumerate()
            .step_by(every)
            .filter_map(|(index, place)| {
                places
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != index)
                    .map(|(_, other)| (place.0 - other.0).hypot(place.1 - other.1))
                    .filter(|distance| *distance > 0.0)
                    .min_by(f64::total_cmp)
            })
            .collect();
        nearest.sort_by(f64::total_cmp);
        nearest.get(nearest.len() / 2).copied()
    }

    /// How much discs shrink or grow so that neighbours do not cover each other.
    pub(super) fn mark_scale(&self) -> f64 {
        let largest =
            self.map.sites.iter().map(|site| mark_radius(site.mark, 1.0)).fold(8.6_f64, f64::max);
        self.spacing().map_or(1.0, |spacing| (spacing / (2.4 * largest)).clamp(0.2, 1.25))
    }

    pub(super) fn marks(&mut self) {
        let scale = self.mark_scale();
        let view = self.field;
        let is_overview = !self.style.framed && self.style.window.is_none();
        let sites: Vec<_> = self
            .map
            .sites
            .iter()
            .map(|site| (self.plane.at(site.x, site.y), site))
            .filter(|(place, _)| view.has(*place))
            .collect();
        for (place, site) in &sites {
            let small = is_overview && site.mark == Mark::PlannedElsewhere;
            let radius = if small { 0.9 } else { mark_radius(site.mark, scale) };
            self.obstacles.block_disc(*place, radius + 0.5);
        }
        let landmarks: Vec<_> = self
            .map
            .landmarks
            .iter()
            .map(|landmark| (self.plane.at(landmark.x, landmark.y), landmark))
            .filter(|(place, _)| view.has(*place))
            .collect();
        let framed = self.style.framed;
        let route: Vec<_> = self.style.route.iter().map(|&(x, y)| self.plane.at(x, y)).collect();
        for pair in route.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let steps = ((from.0 - to.0).hypot(from.1 - to.1) / 5.0).ceil() as i32;
            for step in 1..steps {
                let share = f64::from(step) / f64::from(steps);
                let place = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
                self.obstacles.block_disc(place, 0.8);
            }
        }
        for (place, landmark) in &landmarks {
            let (ink, paper) = (self.theme.ink, self.theme.paper);
            self.obstacles.block_disc(*place, if framed { 5.5 } else { 4.5 });
            let (x, y) = *place;
            match landmark.kind {
                LandmarkKind::Launch => {
                    self.svg.rect(x - 5.0, y - 5.0, 10.0, 10.0, Ink::fill(ink).edged(paper, 0.8));
                }
                LandmarkKind::Landmark => {
                    self.svg.circle(*place, 4.2, Ink::fill(paper).edged(ink, 1.2));
                    self.svg.circle(*place, 1.2, Ink::fill(ink));
                }
                LandmarkKind::Hazard => {
                    let corners = [(x, y - 5.6), (x + 5.2, y + 3.8), (x - 5.2, y + 3.8)];
                    self.svg.polygon(&corners, Ink::fill(paper).edged(ink, 1.2));
                    self.svg.line((x, y - 2.4), (x, y + 1.0), Ink::line(ink, 1.2));
                    self.svg.circle((x, y + 2.5), 0.7, Ink::fill(ink));
                }
            }
        }
        for (place, site) in &sites {
            if is_overview && site.mark == Mark::PlannedElsewhere {
                self.svg.circle(*place, 0.9, Ink::fill(self.theme.ink));
            } else {
                draw_mark(&mut self.svg, self.theme, *place, site.mark, scale);
            }
        }

        self.treated_names();
        if self.style.landmark_names {
            for (place, landmark) in &landmarks {
                let face = match landmark.kind {
                    LandmarkKind::Landmark => Face::Italic,
                    LandmarkKind::Launch | LandmarkKind::Hazard => Face::SemiBold,
                };
                self.label(*place, 4.5, &landmark.name, (12.0, face), Ground::Land);
            }
        }
        self.zone_codes();
        if self.style.site_codes {
            let size = self.spacing().map_or(11.5, |spacing| (spacing * 0.46).clamp(5.5, 11.5));
            let mut left_out = 0;
            for (place, site) in &sites {
                let radius = mark_radius(site.mark, scale);
                let face = if framed { Face::Plain } else { Face::Bold };
                if !self.label(*place, radius, &site.code, (size, face), Ground::Any) {
                    left_out += 1;
                }
            }
            if left_out > 0 {
                self.svg.remarks.push(format!(
                    "{left_out} of {} site codes found no room on the map of {}",
                    sites.len(),
                    self.map.title
                ));
            }
        }
        self.soundings();
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
        let size = 14.0;
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
        let size = 12.0;
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

    /// The deepest place and the figures of contours.
    fn soundings(&mut self) {
        let count = self.map.bands.len();
        let units = self.style.units;
        if let Some((x, y, depth)) = self.map.deepest {
            let text = decimals(units.depth_value(depth), 0);
            let width = self.svg.fonts().width(&text, 14.0, Face::Bold);
            let place = self.plane.at(x, y);
            let rect = centred(place, width, 12.0);
            if self.field.has(place) && self.obstacles.take([rect], Ground::Any).is_some() {
                let (ink, halo) =
                    self.theme.on_water(self.style.depth, count.saturating_sub(1), count.max(1));
                let how = Lettering::new(14.0, Face::Bold, ink).halo(halo);
                self.svg.text((rect.x, rect.bottom() - 1.0), &text, how);
            }
        }
        if !self.style.contour_figures {
            return;
        }
        let size = 11.5;
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
