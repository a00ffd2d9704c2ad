//! The photos of a survey as files, with a list of what each shows.

use crate::error::{Error, Result};
use crate::views::PhotoView;
use exchange::csv_out::ExportPhoto;
use lakebook::LakeBook;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Writes the pictures of a survey into a folder, each named after its site, and `photos.csv`. The
/// pictures carry nothing of the camera's, so no place; the list has places only when asked for.
///
/// # Errors
/// When there is no such survey, it has no photos, or a file is there already or cannot be written.
pub fn photos_to(
    book: &LakeBook,
    survey: &str,
    folder: &Path,
    with_places: bool,
) -> Result<Vec<PathBuf>> {
    let photos = crate::photos::photos(book, survey)?;
    if photos.is_empty() {
        return Err(Error::input(format!("survey `{}` has no photos", survey.trim()))
            .hint("bring them in with `quillwort photos BOOK FOLDER --survey S`"));
    }
    let mut taken = BTreeSet::new();
    let named: Vec<(String, &PhotoView)> =
        photos.iter().map(|photo| (free_name(photo, &mut taken), photo)).collect();
    let rows: Vec<ExportPhoto> = named
        .iter()
        .map(|(name, photo)| ExportPhoto {
            file: name.clone(),
            site: photo.site.clone().unwrap_or_default(),
            taken: photo.taken.clone().unwrap_or_default(),
            taxon_code: photo.taxon.clone().unwrap_or_default(),
            caption: photo.caption.clone(),
            who: photo.who.clone(),
            original: photo.file_name.clone(),
            original_sha256: photo.original_sha256.clone(),
            place: photo.lat.zip(photo.lon),
        })
        .collect();
    let mut written = Vec::new();
    let list = exchange::csv_out::photos(&rows, with_places);
    write(folder, "photos.csv", list.as_bytes(), &mut written)?;
    for (name, photo) in &named {
        let (_, picture) = crate::photos::picture(book, &photo.id)?;
        write(folder, name, &picture, &mut written)?;
    }
    Ok(written)
}

/// `14-IMG_0001.jpg`, and never a name twice.
fn free_name(photo: &PhotoView, taken: &mut BTreeSet<String>) -> String {
    let stem = photo.file_name.rsplit_once('.').map_or(photo.file_name.as_str(), |(stem, _)| stem);
    let site = photo.site.as_deref().unwrap_or("no-site");
    let plain = |c: char| if c.is_alphanumeric() || "-_".contains(c) { c } else { '-' };
    let base: String = format!("{site}-{stem}").chars().map(plain).collect();
    let mut name = format!("{base}.jpg");
    let mut number = 2;
    while !taken.insert(name.to_lowercase()) {
        name = format!("{base}-{number}.jpg");
        number += 1;
    }
    name
}

/// A new file; one that is there already is never overwritten.
fn write(folder: &Path, name: &str, bytes: &[u8], written: &mut Vec<PathBuf>) -> Result<()> {
    let path = folder.join(name);
    let cannot = |error: std::io::Error| {
        Error::input(format!("`{}` cannot be written: {error}", path.display()))
            .hint("name a folder that is new or empty")
    };
    std::fs::create_dir_all(folder).map_err(cannot)?;
    let mut file = std::fs::File::create_new(&path).map_err(cannot)?;
    std::io::Write::write_all(&mut file, bytes).map_err(cannot)?;
    written.push(path);
    Ok(())
}
