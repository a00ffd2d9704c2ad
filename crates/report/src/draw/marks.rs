//! What stands on the map: sites and landmarks.

use super::data::{LandmarkKind, LandmarkMark, Mark, SiteMark};
use super::map::Painter;
use super::svg::{Ink, Svg, number};
use super::theme::{Theme, count_radius, rating_radius};
use std::fmt::Write as _;

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
            let ink = Ink::line(theme.ink, (0.36 * radius).clamp(0.6, 1.2));
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
        Mark::NotReached => (3.6 * scale.min(1.0)).max(1.5),
    }
}

impl<'a> Painter<'a> {
    /// Median distance between neighbouring sites in pixels, none for fewer than two.
    pub(super) fn spacing(&self) -> Option<f64> {
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
        let sites = self.visible_sites();
        let landmarks = self.visible_landmarks();
        let is_overview = self.is_overview();
        for (place, site) in &sites {
            if site.mark == Mark::PlannedElsewhere {
                self.obstacles.avoid(*place, if is_overview { 0.9 } else { 1.8 });
            } else {
                self.obstacles.block_disc(*place, mark_radius(site.mark, scale) + 0.5);
            }
        }
        self.avoid_route();
        for (place, landmark) in &landmarks {
            self.obstacles.block_disc(*place, if self.style.framed { 5.5 } else { 4.5 });
            draw_landmark(&mut self.svg, self.theme, *place, landmark.kind);
        }
        self.draw_sites(&sites, scale);
        self.letter(&sites, &landmarks, scale);
    }

    /// The whole lake on a small map: sites of other papers are mere dots.
    fn is_overview(&self) -> bool {
        !self.style.framed && self.style.window.is_none()
    }

    fn visible_sites(&self) -> Vec<((f64, f64), &'a SiteMark)> {
        let sites = self.map.sites.iter();
        sites
            .map(|site| (self.plane.at(site.x, site.y), site))
            .filter(|(place, _)| self.field.has(*place))
            .collect()
    }

    fn visible_landmarks(&self) -> Vec<((f64, f64), &'a LandmarkMark)> {
        let landmarks = self.map.landmarks.iter();
        landmarks
            .map(|landmark| (self.plane.at(landmark.x, landmark.y), landmark))
            .filter(|(place, _)| self.field.has(*place))
            .collect()
    }

    fn avoid_route(&mut self) {
        let route: Vec<_> = self.style.route.iter().map(|&(x, y)| self.plane.at(x, y)).collect();
        for pair in route.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            let steps = ((from.0 - to.0).hypot(from.1 - to.1) / 5.0).ceil() as i32;
            for step in 1..steps {
                let share = f64::from(step) / f64::from(steps);
                let place = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
                self.obstacles.avoid(place, 0.8);
            }
        }
    }

    /// Rings and dots first, each kind as one path however many there are, then the rest on top.
    fn draw_sites(&mut self, sites: &[((f64, f64), &SiteMark)], scale: f64) {
        let is_overview = self.is_overview();
        let (mut rings, mut dots) = (String::new(), String::new());
        let is_ring = |mark| matches!(mark, Mark::NotFound | Mark::Count(0));
        let crowded = self.spacing().is_some_and(|spacing| spacing < 9.0);
        let is_dot = |mark| (is_overview || crowded) && mark == Mark::PlannedElsewhere;
        for ((x, y), site) in sites {
            if is_ring(site.mark) {
                let r = mark_radius(site.mark, scale);
                let (left, radius, across) = (number(x - r), number(r), number(2.0 * r));
                let _ = write!(
                    rings,
                    "M{left} {}a{radius} {radius} 0 1 0 {across} 0a{radius} {radius} 0 1 0 -{across} 0z",
                    number(*y)
                );
            } else if is_dot(site.mark) {
                let _ = write!(dots, "M{} {}h1.6v1.6h-1.6z", number(x - 0.8), number(y - 0.8));
            }
        }
        let edge = 0.4 * mark_radius(Mark::NotFound, scale);
        self.svg.path(&rings, Ink::fill(self.theme.paper).edged(self.theme.second, edge));
        self.svg.path(&dots, Ink::fill(self.theme.ink));
        for (place, site) in sites {
            if !is_ring(site.mark) && !is_dot(site.mark) {
                draw_mark(&mut self.svg, self.theme, *place, site.mark, scale);
            }
        }
    }
}

/// Draws the sign of a landmark.
pub(super) fn draw_landmark(
    svg: &mut Svg<'_>,
    theme: Theme,
    (x, y): (f64, f64),
    kind: LandmarkKind,
) {
    let (ink, paper) = (theme.ink, theme.paper);
    match kind {
        LandmarkKind::Launch => {
            svg.rect(x - 5.0, y - 5.0, 10.0, 10.0, Ink::fill(ink).edged(paper, 0.8));
        }
        LandmarkKind::Landmark => {
            svg.circle((x, y), 4.2, Ink::fill(paper).edged(ink, 1.2));
            svg.circle((x, y), 1.2, Ink::fill(ink));
        }
        LandmarkKind::Hazard => {
            let corners = [(x, y - 5.6), (x + 5.2, y + 3.8), (x - 5.2, y + 3.8)];
            svg.polygon(&corners, Ink::fill(paper).edged(ink, 1.2));
            svg.line((x, y - 2.4), (x, y + 1.0), Ink::line(ink, 1.2));
            svg.circle((x, y + 2.5), 0.7, Ink::fill(ink));
        }
    }
}
