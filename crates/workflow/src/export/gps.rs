//! Files for receivers and phones: waypoints named as on the sheets, and the route of each boat.

use crate::error::{Error, Result};
use crate::route;
use exchange::Value;
use exchange::export::ExportFeature;
use exchange::gpx_out::{Route, Waypoint};
use exchange::names;
use geo_types::LineString;
use lakebook::{KeptBoat, LakeBook};
use survey::{LandmarkKind, Site, SurveyRecord};

fn about(site: &Site) -> String {
    let mut parts = Vec::new();
    if let Some(zone) = &site.zone {
        parts.push(format!("zone {zone}"));
    }
    if !site.landmark.is_empty() {
        parts.push(site.landmark.clone());
    }
    if site.spare {
        parts.push("spare".to_owned());
    }
    parts.join(", ")
}

/// The lake's launches, then the sites in the order of the papers, then the spares; the route of each
/// boat as a `<rte>`.
pub(super) fn gpx(
    book: &LakeBook,
    record: &SurveyRecord,
    length: Option<usize>,
    warnings: &mut Vec<String>,
) -> Result<String> {
    let order = route::in_order(book, record)?;
    let ordered = order.parts.iter().flat_map(|part| part.sites.iter().copied());
    let spares = record.sites.iter().filter(|site| site.spare);
    let mut waypoints: Vec<Waypoint> = ordered
        .chain(spares)
        .filter_map(|site| {
            let at = site.planned?;
            Some(Waypoint {
                name: site.code.to_string(),
                longitude: at.longitude(),
                latitude: at.latitude(),
                description: about(site),
                symbol: "Flag, Blue".to_owned(),
            })
        })
        .collect();
    let n_sites = waypoints.len();
    for landmark in book.landmarks()?.into_iter().filter(|one| one.kind != LandmarkKind::Landmark) {
        let launch = landmark.kind == LandmarkKind::Launch;
        waypoints.push(Waypoint {
            name: landmark.name,
            longitude: landmark.position.longitude(),
            latitude: landmark.position.latitude(),
            description: if launch { "launch" } else { "hazard: keep clear" }.to_owned(),
            symbol: if launch { "Anchor" } else { "Danger Area" }.to_owned(),
        });
    }
    let boats: Vec<&KeptBoat> = order.parts.iter().filter_map(|part| part.boat.as_ref()).collect();
    let mut titles: Vec<String> =
        boats.iter().map(|boat| format!("Boat {} {}", boat.boat, boat.date)).collect();
    let codes: Vec<String> = waypoints.iter().map(|one| one.name.clone()).collect();
    if let Some(length) = length {
        let fitted = fit(&codes, length)?;
        for (waypoint, name) in waypoints.iter_mut().zip(fitted.names) {
            waypoint.name = name;
        }
        titles = (1..=boats.len())
            .map(|number| format!("R{number}").chars().take(length).collect())
            .collect();
        if !fitted.shortened.is_empty() {
            let pairs: Vec<String> =
                fitted.shortened.iter().map(|(from, to)| format!("{from} is {to}")).collect();
            warnings.push(format!(
                "names longer than {length} letters are shortened: {}; the sheets keep the long ones",
                pairs.join(", ")
            ));
        }
    }
    let find = |code: &str| codes.iter().take(n_sites).position(|one| one == code);
    let routes: Vec<Route> = boats
        .iter()
        .zip(titles)
        .map(|(boat, name)| Route {
            name,
            stops: boat
                .stops
                .iter()
                .filter_map(|stop| find(&stop.code).map(|index| waypoints[index].clone()))
                .collect(),
        })
        .filter(|route| !route.stops.is_empty())
        .collect();
    Ok(exchange::gpx_out::to_gpx(&record.survey.name, &waypoints, &routes)?)
}

fn fit(codes: &[String], length: usize) -> Result<names::Fitted> {
    names::fit(codes, length).map_err(|name| {
        Error::input(format!(
            "`{name}` is longer than the {length} letters the receiver takes, and every shorter name of it \
             stands for another place"
        ))
        .hint("give a larger `--name-length`, or name the place anew")
    })
}

/// The way of each boat as a line, for maps.
pub(super) fn ways(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<ExportFeature>> {
    let Some(route) = book.route(record.survey.id)? else { return Ok(Vec::new()) };
    Ok(route
        .boats
        .iter()
        .map(|boat| {
            let mut line: Vec<(f64, f64)> = Vec::new();
            for way in boat.stops.iter().map(|stop| &stop.way).chain([&boat.home]) {
                line.extend(way.iter().skip(usize::from(!line.is_empty())).map(|at| (at[0], at[1])));
            }
            ExportFeature {
                name: Some(format!("Boat {}, {}", boat.boat, boat.date)),
                geometry: LineString::from(line).into(),
                properties: vec![
                    ("leaves".to_owned(), Value::Text(boat.start.clone())),
                    ("home".to_owned(), Value::Text(boat.finish.clone())),
                ],
            }
        })
        .filter(|way| !matches!(&way.geometry, geo_types::Geometry::LineString(line) if line.0.len() < 2))
        .collect())
}
