use super::{AddOptions, FaultList, file_name, read_placed, text_of};
use crate::error::Result;
use crate::views::AddView;
use geo_types::Geometry;
use lakebook::LakeBook;
use std::path::Path;
use survey::{Landmark, LandmarkId, LandmarkKind};
use units::LonLat;

/// Named places on or by the lake; a name that is there already moves.
pub(super) fn landmarks(book: &mut LakeBook, path: &Path, options: &AddOptions) -> Result<AddView> {
    let placed = read_placed(book, path, options, true)?;
    let known = book.landmarks()?;
    let mut faults = FaultList::default();
    let mut landmarks: Vec<Landmark> = Vec::new();
    for (shape, feature) in placed.shapes.iter().zip(&placed.layer.features) {
        let place = format!("`{}` feature {}", placed.layer.file, feature.row);
        let at = match shape {
            Geometry::Point(point) => LonLat::new(point.x(), point.y()).ok(),
            Geometry::MultiPoint(many) if many.0.len() == 1 => {
                LonLat::new(many.0[0].x(), many.0[0].y()).ok()
            }
            _ => None,
        };
        let Some(position) = at else {
            faults.push(format!("{place} is no point"), "landmarks are points with a name");
            continue;
        };
        let usual = ["name", "landmark", "label", "title", "code"];
        let Some(name) = text_of(feature, options.name_column.as_deref(), &usual) else {
            faults.push(
                format!("{place} has no name"),
                "give each point a column `name`, or name its column with `--name-column`",
            );
            continue;
        };
        let kind = match text_of(feature, None, &["kind", "type"]) {
            Some(text) => match text.parse::<LandmarkKind>() {
                Ok(kind) => kind,
                Err(error) => {
                    faults.push(format!("{place}, field `kind`: {error}"), "correct the kind");
                    continue;
                }
            },
            None if name.to_lowercase().contains("launch") => LandmarkKind::Launch,
            None => LandmarkKind::Landmark,
        };
        if landmarks.iter().any(|one| one.name == name) {
            faults
                .push(format!("{place}: `{name}` is there twice"), "give each place its own name");
            continue;
        }
        landmarks.push(Landmark {
            id: known
                .iter()
                .find(|one| one.name == name)
                .map_or_else(|| LandmarkId(book.new_id()), |one| one.id),
            name,
            kind,
            position,
        });
    }
    faults.close()?;
    let mut view = placed.view(options);
    view.stored = landmarks.len();
    if !options.preview {
        let note = format!("added {} landmarks from {}", landmarks.len(), file_name(path));
        book.transact(&note, |writer| {
            landmarks.iter().try_for_each(|one| writer.put_landmark(one))
        })?;
    }
    Ok(view)
}
