//! Places, traced contours, and taking back the last save.

use super::shape::line_of;
use super::{ContoursAsk, LandmarkAsk};
use crate::error::{Error, Result};
use crate::ground::Ground;
use geo_types::{Coord, Geometry};
use lakebook::{DataSet, DataSetContent, DataSetKind, LakeBook};
use survey::{Landmark, LandmarkId};
use units::bounds;

/// Writes a place: a new one without `id`, else over the one that is there.
///
/// # Errors
/// When it has no name, or its kind is none.
pub fn put_landmark(
    book: &mut LakeBook,
    ground: &Ground,
    id: Option<&str>,
    ask: &LandmarkAsk,
) -> Result<()> {
    let name = ask.name.trim();
    if name.is_empty() {
        return Err(Error::input("a place needs a name").hint("name it as the crew says it"));
    }
    let kind = ask.kind.parse().map_err(|error| {
        Error::input(format!("`{}`: {error}", ask.kind)).hint("correct the kind")
    })?;
    let known = book.landmarks()?;
    let id = match id {
        Some(id) => known
            .iter()
            .find(|one| one.id.to_string() == id)
            .map(|one| one.id)
            .ok_or_else(|| Error::not_found("there is no such place"))?,
        None => LandmarkId(book.new_id()),
    };
    if known.iter().any(|one| one.name == name && one.id != id) {
        return Err(Error::input(format!("a place named `{name}` is there already"))
            .hint("give it another name"));
    }
    let position = ground.unproject(Coord { x: ask.at[0], y: ask.at[1] })?;
    let landmark = Landmark { id, name: name.to_owned(), kind, position };
    let note = match known.iter().find(|one| one.id == id) {
        None => format!("put {} {name} on the map", landmark.kind.key()),
        Some(before) if before.position != landmark.position => {
            format!("moved {} {name}", landmark.kind.key())
        }
        Some(before) if before.name != landmark.name => format!("renamed {} {name}", before.name),
        Some(_) => format!("changed {name} to a {}", landmark.kind.key()),
    };
    Ok(book.transact(&note, |writer| writer.put_landmark(&landmark))?)
}

/// Deletes a place by its key.
///
/// # Errors
/// When it is not there.
pub fn delete_landmark(book: &mut LakeBook, id: &str) -> Result<()> {
    let known = book.landmarks()?;
    let landmark = known
        .iter()
        .find(|one| one.id.to_string() == id)
        .ok_or_else(|| Error::not_found("there is no such place"))?;
    let note = format!("took {} off the map", landmark.name);
    Ok(book.transact(&note, |writer| writer.delete_landmark(landmark.id))?)
}

/// Keeps contours traced on the map as depths.
///
/// # Errors
/// When a depth or a line is none, or no model can be made with them.
pub fn trace_contours(book: &mut LakeBook, ground: &Ground, ask: &ContoursAsk) -> Result<()> {
    ground.need_outline()?;
    if ask.contours.is_empty() {
        return Err(
            Error::input("there is no contour to keep").hint("trace one and give its depth")
        );
    }
    let mut lines = Vec::new();
    for (index, contour) in ask.contours.iter().enumerate() {
        let number = index + 1;
        if bounds::DEPTH.check(contour.depth_m).is_err() {
            return Err(Error::input(format!(
                "contour {number} has depth `{}` m",
                contour.depth_m
            ))
            .hint("give each contour its depth below the water"));
        }
        let line = line_of(&contour.line)
            .map_err(|error| Error { message: format!("contour {number}: {error}"), ..error })?;
        let line = ground
            .crs
            .unproject_geometry(&line)
            .map_err(|error| Error::input(error.to_string()).hint(error.hint()))?;
        lines.push((Geometry::LineString(line), contour.depth_m));
    }
    let name = if ask.name.trim().is_empty() { "traced" } else { ask.name.trim() };
    let set = DataSet {
        name: name.to_owned(),
        unit: "m".to_owned(),
        crs: ground.crs.label(),
        content: DataSetContent::Contours(lines),
        note: "traced by hand".to_owned(),
    };
    Ground::with_candidate(book, &set)?;
    let note = match ask.contours.len() {
        1 => "traced a contour".to_owned(),
        many => format!("traced {many} contours"),
    };
    book.put_data_set(&set, &note)?;
    Ok(())
}

/// Takes back the last save and gives its note.
///
/// # Errors
/// When there is nothing to take back, when the last save is another than the one `meant`, or a seal
/// stands in the way.
pub fn undo(book: &mut LakeBook, meant: Option<&str>) -> Result<String> {
    let (last, _) = book.undo_notes()?;
    if let (Some(meant), Some(last)) = (meant, &last)
        && meant != last
    {
        return Err(Error::conflict(format!("the last change is another one by now: {last}"))
            .hint("look at it, then press Undo again if it is to go; nothing was taken back"));
    }
    book.undo_last()?.ok_or_else(|| Error::not_found("there is nothing to take back"))
}

/// Makes the save again that was taken back last and gives its note.
///
/// # Errors
/// When nothing was taken back, or something else was saved since.
pub fn redo(book: &mut LakeBook) -> Result<String> {
    book.redo_last()?.ok_or_else(|| Error::not_found("there is nothing to make again"))
}

/// Takes contours out of the depths: all that came together under this SHA-256.
///
/// # Errors
/// When there are none.
pub fn delete_contours(book: &mut LakeBook, sha256: &str) -> Result<()> {
    let known = book
        .data_sets()?
        .into_iter()
        .find(|one| one.sha256 == sha256 && one.kind == DataSetKind::Contours)
        .ok_or_else(|| {
            Error::not_found("there are no such contours").hint("look at the map again")
        })?;
    let note = format!("took the contours `{}` out", known.name);
    Ok(book.transact(&note, |writer| writer.delete_data_set(sha256))?)
}
