//! A route as a view: orders, hours, and every leg as a line.

use super::{RouteRequest, clock};
use crate::error::Result;
use crate::ground::Ground;
use crate::views::{BoatView, DaylightView, LegView, RouteView, StopView};
use geo_types::{Coord, LineString};
use sampling::route::{BoatDay, RoutePlan};
use sampling::solar::Daylight;
use survey::Site;
use units::Metres;

/// Everything a view is made of.
pub(super) struct Laid<'a> {
    pub(super) ground: &'a Ground,
    pub(super) survey: &'a str,
    pub(super) launch: &'a str,
    pub(super) sites: &'a [&'a Site],
    pub(super) found: &'a RoutePlan,
    pub(super) light: &'a Daylight,
    pub(super) request: &'a RouteRequest,
}

pub(super) fn way(ground: &Ground, line: &LineString<f64>) -> Result<Vec<[f64; 2]>> {
    let round = |value: f64| (value * 1e7).round() / 1e7;
    line.coords()
        .map(|at: &Coord<f64>| {
            ground.unproject(*at).map(|place| [round(place.longitude()), round(place.latitude())])
        })
        .collect()
}

fn centimetres(at: &Coord<f64>) -> [f64; 2] {
    let round = |value: f64| (value * 100.0).round() / 100.0;
    [round(at.x), round(at.y)]
}

pub(super) fn leg_view(
    from: &str,
    to: &str,
    line: &LineString<f64>,
    metres_a_minute: f64,
) -> LegView {
    let length: f64 =
        line.0.windows(2).map(|two| (two[1].x - two[0].x).hypot(two[1].y - two[0].y)).sum();
    LegView {
        from: from.to_owned(),
        to: to.to_owned(),
        length_m: length,
        minutes: length / metres_a_minute,
        line: line.coords().map(centimetres).collect(),
    }
}

impl Laid<'_> {
    fn code(&self, site: usize) -> String {
        self.sites[site].code.to_string()
    }

    fn legs(&self, boat: &BoatDay, lines: &[LineString<f64>]) -> Vec<LegView> {
        let end = match (&self.request.to, &self.found.landing) {
            (Some(name), Some(_)) => name.clone(),
            _ => self.launch.to_owned(),
        };
        let mut names = vec![self.launch.to_owned()];
        names.extend(boat.order.iter().map(|site| self.code(*site)));
        names.push(end);
        lines
            .iter()
            .zip(names.windows(2))
            .map(|(line, pair)| {
                leg_view(&pair[0], &pair[1], line, self.request.speed.metres_per_second() * 60.0)
            })
            .collect()
    }

    fn boat(
        &self,
        number: usize,
        boat: &BoatDay,
        line: &LineString<f64>,
        legs: &[LineString<f64>],
    ) -> Result<BoatView> {
        Ok(BoatView {
            boat: number,
            date: boat.finish.date().to_string(),
            start: clock(self.request.start),
            order: boat.order.iter().map(|site| self.code(*site)).collect(),
            length_m: boat.length.metres(),
            minutes: boat.minutes,
            finish: clock(boat.finish.time()),
            stops: boat
                .stops
                .iter()
                .map(|stop| StopView {
                    code: self.code(stop.point),
                    arrive: clock(stop.arrive.time()),
                    leave: clock(stop.leave.time()),
                })
                .collect(),
            legs: self.legs(boat, legs),
            way: way(self.ground, line)?,
        })
    }
}

pub(super) fn view(laid: &Laid<'_>, mut warnings: Vec<String>) -> Result<RouteView> {
    let found = laid.found;
    let mut boats = Vec::new();
    let mut length = 0.0;
    let mut over: Vec<String> = found.cut_off.iter().map(|site| laid.code(*site)).collect();
    for ((day, ways), legs) in found.days.iter().zip(&found.ways).zip(&found.legs) {
        for (index, ((boat, line), legs)) in day.boats.iter().zip(ways).zip(legs).enumerate() {
            length += boat.length.metres();
            boats.push(laid.boat(index + 1, boat, line, legs)?);
        }
    }
    if let Some(last) = found.days.last() {
        over.extend(last.over.iter().map(|site| laid.code(*site)));
    }
    let units = laid.ground.lake.units;
    if found.launch.moved() > Metres::new(1.0) {
        warnings.push(format!(
            "the launch lies {} from the water a boat can use; the way begins there",
            crate::ground::ground_words(units, found.launch.moved())
        ));
    }
    if !found.cut_off.is_empty() {
        let codes: Vec<String> = found.cut_off.iter().map(|site| laid.code(*site)).collect();
        let sites = if codes.len() == 1 { "site" } else { "sites" };
        warnings.push(format!(
            "no water leads from {} to {sites} {}: take another launch or a boat of less draft for \
             them, or drop them from the plan",
            laid.launch,
            codes.join(", ")
        ));
    }
    if !found.from_beside.is_empty() {
        let codes: Vec<String> = found.from_beside.iter().map(|site| laid.code(*site)).collect();
        warnings
            .push(format!("worked from the nearest water a boat can use: {}", codes.join(", ")));
    }
    let (rise, set) = match laid.light {
        Daylight::RisesAndSets { rise, set, .. } => {
            (Some(clock(rise.time())), Some(clock(set.time())))
        }
        _ => (None, None),
    };
    Ok(RouteView {
        survey: laid.survey.to_owned(),
        launch: laid.launch.to_owned(),
        boats,
        length_m: length,
        fits: found.fits(),
        daylight: DaylightView { rise, set },
        over,
        sentence: found.sentence(),
        seed: laid.request.seed,
        warnings,
    })
}
