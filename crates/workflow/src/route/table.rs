//! The distances by water a route is planned from, as a table.

use super::{RouteRequest, keep_out, launch, named, places, water};
use crate::error::Result;
use crate::ground::Ground;
use crate::surveys::record_of;
use lakebook::LakeBook;
use std::fmt::Write as _;
use survey::Site;

/// Metres by water between the launch, the landing where there is another, and every site of the plan, as CSV: a row and a
/// column a place, empty where no water joins two of them.
///
/// # Errors
/// As [`super::route`].
pub fn distances(book: &LakeBook, request: &RouteRequest) -> Result<String> {
    let record = record_of(book, &request.survey)?;
    let ground = Ground::of(book)?;
    let landmarks = book.landmarks()?;
    let mut ends = vec![launch(&landmarks, request.from.as_deref())?];
    if let Some(name) = &request.to {
        ends.push(named(&landmarks, name)?);
    }
    let mut sites: Vec<&Site> =
        record.sites.iter().filter(|site| site.stands() && site.planned.is_some()).collect();
    sites.sort_by_key(|site| site.rank);
    let water = water(&ground, &keep_out(&ground, &landmarks, request.draft)?, request.draft)?;
    let mut points = Vec::new();
    for end in &ends {
        points.push(water.place(ground.project(end.position)?));
    }
    points.extend(places(&ground, &sites, request)?.into_iter().map(|at| water.place(at)));
    let matrix = water.matrix(&points);
    let names: Vec<String> = ends
        .iter()
        .map(|end| end.name.clone())
        .chain(sites.iter().map(|site| site.code.to_string()))
        .map(|name| format!("\"{}\"", name.replace('"', "\"\"")))
        .collect();
    let mut text = format!("metres,{}\n", names.join(","));
    for (from, name) in names.iter().enumerate() {
        text.push_str(name);
        for to in 0..names.len() {
            text.push(',');
            if let Some(length) = matrix.get(from, to) {
                // writing to a string does not fail
                let _ = write!(text, "{:.2}", length.metres());
            }
        }
        text.push('\n');
    }
    Ok(text)
}
