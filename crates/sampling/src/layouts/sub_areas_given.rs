use super::{Layout, LayoutError, Part, Warning, put, site_at};
use crate::frame::{Frame, ZoneArea};
use crate::pole::pole_of_inaccessibility;
use crate::region::{Region, area_of};
use geo::BooleanOps;
use survey::Code;
use units::SquareMetres;

/// One site in each sub-area of the lake, under the sub-area's code.
///
/// The site lies at the inner point farthest from the sub-area's edges (see
/// [`pole_of_inaccessibility`]); when that point is on land, at the same point of the sub-area's
/// water. A site that the frame would not have (too deep, near a hazard) is kept and reported.
///
/// # Errors
/// [`LayoutError::Nothing`] without sub-areas, [`LayoutError::CodeAtSeveralPlaces`] when two
/// sub-areas carry one code.
pub fn sub_areas_given(frame: &Frame<'_>, areas: &[ZoneArea]) -> Result<Layout, LayoutError> {
    if areas.is_empty() {
        return Err(LayoutError::Nothing {
            what: "sub-areas",
            hint: "add their outlines (`quillwort add BOOK sub-areas FILE`) or have them cut from \
                   the zones",
        });
    }
    for (index, area) in areas.iter().enumerate() {
        if areas[..index].iter().any(|before| before.code == area.code) {
            let places = areas.iter().filter(|other| other.code == area.code).count();
            return Err(LayoutError::CodeAtSeveralPlaces {
                code: area.code.clone(),
                places,
                list: format!("{places} sub-areas"),
            });
        }
    }
    let mut sites = Vec::new();
    let mut parts = Vec::new();
    let mut warnings = Vec::new();
    for area in areas {
        let Some((x, y)) = point_in(frame, area) else {
            warnings.push(Warning::PartOutsideWater { code: area.code.clone() });
            continue;
        };
        if let Err(why) = frame.place(x, y) {
            warnings.push(Warning::OutsideFrame { code: area.code.clone(), why });
        }
        let site = site_at(frame, area.code.clone(), x, y);
        parts.push(Part {
            code: area.code.clone(),
            zone: site.zone.clone(),
            polygon: area.polygon.clone(),
            area: SquareMetres::new(area_of(&area.polygon)),
            shore: None,
        });
        sites.push(super::LaidSite { part: Some(area.code.clone()), ..site });
    }
    let mut parameters = Vec::new();
    put(&mut parameters, "sub_areas", areas.len());
    let codes: Vec<&str> = areas.iter().map(|area| Code::as_str(&area.code)).collect();
    put(&mut parameters, "codes", codes.join(","));
    parameters.extend(frame.parameters());
    Ok(Layout { name: "sub-areas".to_owned(), parameters, sites, parts, warnings })
}

fn point_in(frame: &Frame<'_>, area: &ZoneArea) -> Option<(f64, f64)> {
    Region::new(&area.polygon)?;
    let (x, y, _) = pole_of_inaccessibility(&area.polygon)?;
    if frame.region().contains(x, y) {
        return Some((x, y));
    }
    let water = area.polygon.intersection(frame.water());
    let (x, y, _) = pole_of_inaccessibility(&water)?;
    frame.region().contains(x, y).then_some((x, y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo_types::{MultiPolygon, Rect, coord};

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> MultiPolygon<f64> {
        Rect::new(coord! { x: x0, y: y0 }, coord! { x: x1, y: y1 }).to_polygon().into()
    }

    fn area(code: &str, polygon: MultiPolygon<f64>) -> ZoneArea {
        ZoneArea { code: Code::new(code).unwrap(), polygon }
    }

    #[test]
    fn each_sub_area_has_one_site_inside_under_its_code() {
        let frame = Frame::new(rect(0.0, 0.0, 300.0, 100.0))
            .unwrap()
            .with_zones(&[area("W3", rect(0.0, 0.0, 150.0, 100.0))])
            .unwrap();
        let areas = [
            area("W3-1", rect(0.0, 0.0, 60.0, 60.0)),
            area("W3-2", rect(60.0, 0.0, 120.0, 60.0)),
            // reaches far onto land: the site stays in the water
            area("E1", rect(280.0, 0.0, 900.0, 60.0)),
            area("Z", rect(5_000.0, 0.0, 5_050.0, 60.0)),
        ];
        let layout = sub_areas_given(&frame, &areas).unwrap();
        assert_eq!(layout.sites.len(), 3);
        for (site, given) in layout.sites.iter().zip(&areas) {
            assert_eq!(site.code, given.code);
            assert!(Region::new(&given.polygon).unwrap().contains(site.x, site.y));
            assert!(frame.holds(site.x, site.y));
        }
        assert_eq!(layout.sites[0].zone.as_ref().unwrap().as_str(), "W3");
        assert_eq!(layout.warnings, [Warning::PartOutsideWater { code: Code::new("Z").unwrap() }]);
        assert!((layout.parts[0].area.square_metres() - 3_600.0).abs() < 1e-9);
    }

    #[test]
    fn two_sub_areas_under_one_code_are_refused() {
        let frame = Frame::new(rect(0.0, 0.0, 300.0, 100.0)).unwrap();
        let twice = [area("A", rect(0.0, 0.0, 9.0, 9.0)), area("A", rect(9.0, 0.0, 18.0, 9.0))];
        assert!(sub_areas_given(&frame, &twice).unwrap_err().to_string().contains("`A`"));
    }
}
