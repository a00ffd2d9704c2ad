use super::{LaidSite, Layout, LayoutError, Warning, put, site_at};
use crate::frame::Frame;
use std::collections::{BTreeMap, BTreeSet};
use survey::Code;

/// A point that already has its number.
#[derive(Debug, Clone, PartialEq)]
pub struct GivenPoint {
    /// Its code, kept.
    pub code: Code,
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
}

/// Points nearer to each other than this are one place: half a metre, less than any receiver in a
/// boat can tell.
const ONE_PLACE: f64 = 0.5;

/// Takes points as they are, an agency's grid or the sites of an earlier survey: numbers and order
/// are kept, points outside the frame are kept and reported.
///
/// A code given twice at one place (within half a metre) is laid once and reported.
///
/// # Errors
/// [`LayoutError::Nothing`] without points; [`LayoutError::CodeAtSeveralPlaces`] for each code that
/// stands for several places (all at once, in [`LayoutError::Several`]).
pub fn given(frame: &Frame<'_>, points: &[GivenPoint]) -> Result<Layout, LayoutError> {
    if points.is_empty() {
        return Err(LayoutError::Nothing {
            what: "points",
            hint: "give a file with one row a site: code, longitude, latitude",
        });
    }
    let mut by_code: BTreeMap<&Code, Vec<&GivenPoint>> = BTreeMap::new();
    for point in points {
        by_code.entry(&point.code).or_default().push(point);
    }
    let mut faults = Vec::new();
    let mut warnings = Vec::new();
    for (code, same) in &by_code {
        let first = same[0];
        let apart = |p: &&&GivenPoint| (p.x - first.x).hypot(p.y - first.y) > ONE_PLACE;
        if same.iter().any(|point| apart(&point)) {
            let places = same.iter().map(|p| format!("({:.1}, {:.1})", p.x, p.y));
            faults.push(LayoutError::CodeAtSeveralPlaces {
                code: (*code).clone(),
                places: same.len(),
                list: places.collect::<Vec<_>>().join(", "),
            });
        } else if same.len() > 1 {
            warnings.push(Warning::GivenTwice { code: (*code).clone() });
        }
    }
    match faults.len() {
        0 => {}
        1 => return Err(faults.remove(0)),
        _ => return Err(LayoutError::Several(faults)),
    }
    let mut laid = BTreeSet::new();
    let mut sites: Vec<LaidSite> = Vec::new();
    for point in points {
        if !laid.insert(&point.code) {
            continue;
        }
        if let Err(why) = frame.place(point.x, point.y) {
            warnings.push(Warning::OutsideFrame { code: point.code.clone(), why });
        }
        sites.push(site_at(frame, point.code.clone(), point.x, point.y));
    }
    warnings.extend(same_place(&sites));
    let mut parameters = Vec::new();
    put(&mut parameters, "points", sites.len());
    parameters.extend(frame.parameters());
    Ok(Layout { name: "given".to_owned(), parameters, sites, parts: Vec::new(), warnings })
}

/// The sites of an earlier survey again, under their numbers, so that the two surveys can be compared
/// place by place.
///
/// # Errors
/// As [`given`].
pub fn given_again(
    frame: &Frame<'_>,
    survey: &str,
    points: &[GivenPoint],
) -> Result<Layout, LayoutError> {
    let mut layout = given(frame, points)?;
    "given-again".clone_into(&mut layout.name);
    layout.parameters.insert(0, ("survey".to_owned(), survey.to_owned()));
    Ok(layout)
}

/// Pairs of sites at one place, found in squares of that size.
fn same_place(sites: &[LaidSite]) -> Vec<Warning> {
    let square = |value: f64| (value / ONE_PLACE).floor() as i64;
    let mut squares: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    let mut warnings = Vec::new();
    for (index, site) in sites.iter().enumerate() {
        let (column, row) = (square(site.x), square(site.y));
        for dx in -1..=1 {
            for dy in -1..=1 {
                for &other in squares.get(&(column + dx, row + dy)).into_iter().flatten() {
                    let before = &sites[other];
                    if (before.x - site.x).hypot(before.y - site.y) <= ONE_PLACE {
                        warnings.push(Warning::SamePlace {
                            code: before.code.clone(),
                            other: site.code.clone(),
                        });
                    }
                }
            }
        }
        squares.entry((column, row)).or_default().push(index);
    }
    warnings
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::polygon;

    fn frame() -> Frame<'static> {
        let water = polygon![
            (x: 0.0, y: 0.0), (x: 100.0, y: 0.0), (x: 100.0, y: 100.0), (x: 0.0, y: 100.0)
        ];
        Frame::new(water.into()).unwrap()
    }

    fn point(code: &str, x: f64, y: f64) -> GivenPoint {
        GivenPoint { code: Code::new(code).unwrap(), x, y }
    }

    #[test]
    fn numbers_and_order_are_kept_and_points_on_land_reported() {
        let points = [point("7", 10.0, 10.0), point("003", 20.0, 20.0), point("A-1", 500.0, 1.0)];
        let layout = given(&frame(), &points).unwrap();
        let codes: Vec<&str> = layout.sites.iter().map(|site| site.code.as_str()).collect();
        assert_eq!(codes, ["7", "003", "A-1"]);
        assert_eq!(layout.warnings.len(), 1);
        assert!(layout.warnings[0].to_string().contains("`A-1` is on land"));
    }

    #[test]
    fn duplicates_are_reported_by_kind() {
        let points = [
            point("1", 10.0, 10.0),
            point("1", 10.1, 10.0),
            point("2", 30.0, 30.0),
            point("3", 30.2, 29.9),
        ];
        let layout = given(&frame(), &points).unwrap();
        assert_eq!(layout.sites.len(), 3);
        let code = |text| Code::new(text).unwrap();
        assert_eq!(
            layout.warnings,
            [
                Warning::GivenTwice { code: code("1") },
                Warning::SamePlace { code: code("2"), other: code("3") }
            ]
        );
    }

    #[test]
    fn a_code_for_two_places_is_refused_and_all_such_codes_are_named() {
        let points = [
            point("1", 10.0, 10.0),
            point("1", 60.0, 10.0),
            point("2", 30.0, 30.0),
            point("2", 30.0, 90.0),
        ];
        let error = given(&frame(), &points).unwrap_err().to_string();
        assert!(
            error.contains("`1`") && error.contains("`2`") && error.contains("hint:"),
            "{error}"
        );
        assert!(given(&frame(), &[]).is_err());
    }
}
