//! Photos of a survey: brought to their visits, kept upright and small, the files left alone.

use crate::add::file_name;
use crate::entry::{Codes, open_survey};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{PhotoView, PhotosView, SavePhoto};
use exchange::photo::{Photo, is_photo_name, read_photo};
use jiff::SignedDuration;
use jiff::civil::DateTime;
use lakebook::{LakeBook, sha256_hex};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use survey::check::LakeMap;
use survey::{PhotoId, PhotoRef, SurveyRecord, Visit};
use units::LonLat;

/// What the user says about a folder of photos.
#[derive(Debug, Clone, Default)]
pub struct PhotoRequest {
    /// Name of the survey.
    pub survey: String,
    /// Seconds the camera's clock is ahead.
    pub clock_offset_s: Option<i64>,
    /// `FILE=TIME`: a photo whose true time is known.
    pub known: Option<String>,
}

/// A photo belongs to a visit written within so much of it (common practice).
const NEAR_IN_TIME: SignedDuration = SignedDuration::from_mins(10);
/// Or taken within so much of the boat's place; a phone in a boat is good to about 20 m.
const NEAR_M: f64 = 50.0;
/// Photos turned into copies before they are stored together.
const TOGETHER: usize = 50;

/// Brings a folder of photos into the book. One that cannot be read is left out and said.
///
/// # Errors
/// When the survey is not there or sealed, or the folder cannot be read.
pub fn add_photos(
    book: &mut LakeBook,
    folder: &Path,
    request: &PhotoRequest,
) -> Result<PhotosView> {
    let (survey, _) = open_survey(book, &request.survey)?;
    let record = book.record(survey.id)?;
    let ground = Ground::shore_of(book)?;
    let files = photo_files(folder)?;
    let offset = clock_offset(folder, request)?;
    let there: BTreeSet<String> =
        book.photos()?.into_iter().map(|photo| photo.original_sha256).collect();
    let mut view = PhotosView::default();
    for part in files.chunks(TOGETHER) {
        let mut read = read_all(part);
        read.sort_by(|a, b| a.0.cmp(&b.0));
        let mut kept = Vec::new();
        for (path, outcome) in read {
            match outcome {
                Err(reason) => view.left_out.push(reason),
                Ok((sha256, _)) if there.contains(&sha256) => view.known += 1,
                Ok((sha256, photo)) => {
                    view.left_out.extend(photo.warnings.iter().cloned());
                    kept.push((file_name(&path), sha256, photo));
                }
            }
        }
        let rows: Vec<(PhotoRef, Vec<u8>)> = kept
            .into_iter()
            .map(|(name, sha256, photo)| {
                let taken = photo.taken.map(|taken| taken.saturating_sub(offset));
                let visit = visit_of(&record, &ground, taken, photo.position);
                view.matched += usize::from(visit.is_some());
                let row = PhotoRef {
                    id: PhotoId(book.new_id()),
                    visit: visit.map(|visit| visit.id),
                    survey: Some(survey.id),
                    taxon: None,
                    file_name: name,
                    sha256: sha256_hex(&photo.copy),
                    original_sha256: sha256,
                    taken,
                    position: photo.position,
                    pixels: Some(photo.pixels),
                    caption: String::new(),
                    with_ruler: false,
                };
                (row, photo.copy)
            })
            .collect();
        if rows.is_empty() {
            continue;
        }
        view.kept += rows.len();
        let note = format!("{} photos of {}", rows.len(), survey.name);
        book.transact(&note, |writer| {
            rows.iter().try_for_each(|(row, copy)| {
                writer.put_picture(copy)?;
                writer.put_photo(row)
            })
        })?;
    }
    view.clock_offset_s = offset.as_secs();
    Ok(view)
}

fn photo_files(folder: &Path) -> Result<Vec<PathBuf>> {
    let cannot = |error: std::io::Error| {
        Error::input(format!("folder `{}` cannot be read: {error}", folder.display()))
            .hint("give the folder the photos are in")
    };
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .map_err(cannot)?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| is_photo_name(&file_name(path)))
        .collect();
    files.sort();
    if files.is_empty() {
        return Err(Error::input(format!("folder `{}` holds no photos", folder.display()))
            .hint("photos end in `.jpg`, `.jpeg` or `.heic`"));
    }
    Ok(files)
}

type ReadPhoto = (PathBuf, std::result::Result<(String, Photo), String>);

/// Reads photos on every core: turning a large picture small is most of the work.
fn read_all(files: &[PathBuf]) -> Vec<ReadPhoto> {
    let (next, read) = (AtomicUsize::new(0), Mutex::new(Vec::with_capacity(files.len())));
    let workers = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    std::thread::scope(|scope| {
        for _ in 0..workers.min(files.len()) {
            scope.spawn(|| {
                while let Some(path) = files.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let one = (path.clone(), read_one(path));
                    read.lock().unwrap_or_else(PoisonError::into_inner).push(one);
                }
            });
        }
    });
    read.into_inner().unwrap_or_else(PoisonError::into_inner)
}

fn read_one(path: &Path) -> std::result::Result<(String, Photo), String> {
    let name = file_name(path);
    let bytes = std::fs::read(path).map_err(|error| format!("`{name}` cannot be read: {error}"))?;
    let photo = read_photo(&name, &bytes).map_err(|fault| fault.to_string())?;
    Ok((sha256_hex(&bytes), photo))
}

/// How far the camera's clock is ahead, as said or from one photo of known time.
fn clock_offset(folder: &Path, request: &PhotoRequest) -> Result<SignedDuration> {
    if let Some(seconds) = request.clock_offset_s {
        return Ok(SignedDuration::from_secs(seconds));
    }
    let Some(known) = &request.known else { return Ok(SignedDuration::ZERO) };
    let (name, time) = known.split_once('=').ok_or_else(|| {
        Error::input(format!("`{known}` is not a file and its true time"))
            .hint("write it as `IMG_0001.JPG=2026-07-14T09:15:00`")
    })?;
    let time: DateTime = time.trim().parse().map_err(|_error| {
        Error::input(format!("`{time}` is no time")).hint("write `2026-07-14T09:15:00`")
    })?;
    let (_, photo) = read_one(&folder.join(name.trim())).map_err(Error::input)?;
    let taken = photo.taken.ok_or_else(|| {
        Error::input(format!("`{}` says no time of its own", name.trim()))
            .hint("choose another photo whose true time you know")
    })?;
    Ok(time.duration_until(taken))
}

/// The visit a photo was taken at: by place when the camera knew it, else by time.
fn visit_of<'a>(
    record: &'a SurveyRecord,
    map: &dyn LakeMap,
    taken: Option<DateTime>,
    position: Option<LonLat>,
) -> Option<&'a Visit> {
    let planned = |visit: &Visit| {
        record.sites.iter().find(|site| site.id == visit.site).and_then(|site| site.planned)
    };
    let far = |visit: &Visit| {
        let there = visit.actual.map(|fix| fix.position).or_else(|| planned(visit))?;
        Some(map.distance(position?, there).metres())
    };
    let late = |visit: &Visit| Some(visit.time?.duration_until(taken?).abs());
    if position.is_some() {
        let nearest = record
            .visits
            .iter()
            .filter_map(|visit| Some((far(visit)?, visit)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((way, visit)) = nearest.filter(|(way, _)| *way <= NEAR_M) {
            let _ = way;
            // the same place on another day is another visit
            let day = |time: DateTime| time.date();
            let same_day = match (visit.time.map(day), taken.map(day)) {
                (Some(a), Some(b)) => a == b,
                _ => true,
            };
            return same_day.then_some(visit);
        }
        return None;
    }
    record
        .visits
        .iter()
        .filter(|visit| visit.time.is_some_and(|time| time.time() != jiff::civil::Time::midnight()))
        .filter_map(|visit| Some((late(visit)?, visit)))
        .min_by_key(|(late, _)| *late)
        .filter(|(late, _)| *late <= NEAR_IN_TIME)
        .map(|(_, visit)| visit)
}

/// The photos of a survey.
///
/// # Errors
/// When there is no such survey.
pub fn photos(book: &LakeBook, survey: &str) -> Result<Vec<PhotoView>> {
    let survey = book.survey_by_name(survey)?;
    let record = book.record(survey.id)?;
    Ok(record.photos.iter().map(|photo| photo_view(photo, &record)).collect())
}

fn photo_view(photo: &PhotoRef, record: &SurveyRecord) -> PhotoView {
    let codes = Codes::of(&record.taxa);
    let site = photo
        .visit
        .and_then(|id| record.visits.iter().find(|visit| visit.id == id))
        .and_then(|visit| record.sites.iter().find(|site| site.id == visit.site));
    PhotoView {
        id: photo.id.to_string(),
        file_name: photo.file_name.clone(),
        site: site.map(|site| site.code.to_string()),
        taxon: photo.taxon.map(|taxon| codes.code(taxon)),
        taken: photo.taken.map(|taken| taken.to_string()),
        lon: photo.position.map(LonLat::longitude),
        lat: photo.position.map(LonLat::latitude),
        width: photo.pixels.map(|(width, _)| width),
        height: photo.pixels.map(|(_, height)| height),
        caption: photo.caption.clone(),
        with_ruler: photo.with_ruler,
        sha256: photo.sha256.clone(),
        original_sha256: photo.original_sha256.clone(),
    }
}

/// Says what a photo shows: caption, ruler, site, plant or unknown.
///
/// # Errors
/// When the survey is sealed or has no such photo, site or plant.
pub fn save_photo(
    book: &mut LakeBook,
    survey: &str,
    id: &str,
    save: &SavePhoto,
) -> Result<PhotoView> {
    let (survey, _) = open_survey(book, survey)?;
    let record = book.record(survey.id)?;
    let photo =
        record.photos.iter().find(|photo| photo.id.to_string() == id.trim()).ok_or_else(|| {
            Error::not_found(format!("survey `{}` has no such photo", survey.name))
        })?;
    let word = |text: &Option<String>| {
        text.as_deref().map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned)
    };
    let visit = match word(&save.site) {
        Some(code) => {
            let site = book.site_by_code(survey.id, &code)?;
            let visit = book.visit_of(site.id)?.ok_or_else(|| {
                Error::input(format!("nothing is written for site `{code}` yet"))
                    .hint("write up the site first")
            })?;
            Some(visit.id)
        }
        None => None,
    };
    let codes = Codes::of(&record.taxa);
    let changed = PhotoRef {
        visit,
        survey: Some(survey.id),
        taxon: word(&save.taxon).map(|code| codes.read(&code)).transpose()?,
        caption: save.caption.trim().to_owned(),
        with_ruler: save.with_ruler,
        ..photo.clone()
    };
    let note = format!("photo {} of {}", photo.file_name, survey.name);
    book.transact(&note, |writer| writer.put_photo(&changed))?;
    Ok(photo_view(&changed, &record))
}

/// The picture of a photo: JPEG, upright, without the camera's particulars.
///
/// # Errors
/// When the book keeps no such picture.
pub fn picture(book: &LakeBook, id: &str) -> Result<(String, Vec<u8>)> {
    let missing = || {
        Error::not_found("the book keeps no such picture")
            .hint("bring the photos in with `quillwort photos`")
    };
    let photo = book
        .photos()?
        .into_iter()
        .find(|photo| photo.id.to_string() == id.trim())
        .ok_or_else(missing)?;
    let bytes = book.picture(&photo.sha256)?.ok_or_else(missing)?;
    Ok((photo.file_name, bytes))
}
