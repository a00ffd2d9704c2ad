use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::place;
use geo_types::Geometry;
use sampling::layouts::GivenPoint;
use survey::Code;

/// An agency's points with their numbers.
pub(super) fn given_points(
    ground: &Ground,
    path: &std::path::Path,
    crs: Option<&str>,
) -> Result<Vec<GivenPoint>> {
    let (layer, crs) = place::read_layer(path, None, crs)?;
    let around = place::surroundings(ground.outline.as_ref(), &ground.lake.region);
    let native: Vec<_> =
        layer.features.iter().flat_map(|feature| place::coordinates(&feature.geometry)).collect();
    place::refuse_strays(&layer.file, &native, &crs, around.as_ref())?;
    let usual = [
        "site",
        "sampling_point",
        "sampling point",
        "point",
        "point_id",
        "point id",
        "code",
        "id",
        "name",
        "pt_",
        "pt_num",
        "pt_no",
        "site_id",
        "number",
        "label",
    ];
    let mut points = Vec::new();
    let mut faults = Vec::new();
    for feature in &layer.features {
        let shape = place::to_lon_lat(&layer.file, &feature.geometry, &crs)?;
        let Geometry::Point(point) = shape else {
            faults.push(format!("`{}` row {} is no point", layer.file, feature.row));
            continue;
        };
        let label = usual
            .iter()
            .filter_map(|name| feature.attribute(name))
            .map(ToString::to_string)
            .find(|text| !text.trim().is_empty());
        let Some(code) = label.as_deref().and_then(|text| Code::new(text).ok()) else {
            faults.push(format!(
                "`{}` row {} has no site number, expected a column `site`",
                layer.file, feature.row
            ));
            continue;
        };
        let lon_lat = units::LonLat::new(point.x(), point.y()).map_err(|error| {
            Error::input(format!("`{}` row {}: {error}", layer.file, feature.row))
        })?;
        let at = ground.project(lon_lat)?;
        points.push(GivenPoint { code, x: at.x, y: at.y });
    }
    if faults.is_empty() {
        Ok(points)
    } else {
        faults.truncate(20);
        Err(Error::input(faults.join("\n"))
            .hint("an agency's numbers are kept, so each point needs one"))
    }
}
