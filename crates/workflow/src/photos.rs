//! Photos of a survey: brought to their visits, kept upright and small, the files left alone.

use crate::add::file_name;
use crate::entry::{Codes, open_survey};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{PhotoView, PhotosView, SaveClock, SavePhoto, SentPhotoView};
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
                let row =
                    row_of(PhotoId(book.new_id()), &record, &ground, name, sha256, &photo, offset);
                view.matched += usize::from(row.visit.is_some());
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

/// A photo as the book keeps it, brought to its visit.
fn row_of(
    id: PhotoId,
    record: &SurveyRecord,
    map: &dyn LakeMap,
    file_name: String,
    original_sha256: String,
    photo: &Photo,
    offset: SignedDuration,
) -> PhotoRef {
    let taken = photo.taken.map(|taken| taken.saturating_sub(offset));
    PhotoRef {
        id,
        visit: visit_of(record, map, taken, photo.position).map(|visit| visit.id),
        survey: Some(record.survey.id),
        taxon: None,
        file_name,
        sha256: sha256_hex(&photo.copy),
        original_sha256,
        taken,
        position: photo.position,
        pixels: Some(photo.pixels),
        caption: String::new(),
        with_ruler: false,
    }
}

/// A photo sent by itself, read and made small before the book is asked to write.
#[derive(Debug, Clone)]
pub struct SentPhoto {
    name: String,
    original_sha256: String,
    photo: Photo,
}

impl SentPhoto {
    /// Reads it.
    ///
    /// # Errors
    /// When it is no JPEG photo, is cut off, or claims more pixels than it can hold.
    pub fn read(name: &str, bytes: &[u8]) -> Result<Self> {
        let photo = read_photo(name, bytes).map_err(|fault| {
            let said = Error::input(fault.to_string());
            match fault.hint {
                Some(hint) => said.hint(hint),
                None => said,
            }
        })?;
        Ok(Self { name: name.to_owned(), original_sha256: sha256_hex(bytes), photo })
    }
}

/// Keeps a photo sent by itself, at the visit it was taken at.
///
/// # Errors
/// When the survey is not there or sealed.
pub fn keep_photo(
    book: &mut LakeBook,
    survey: &str,
    sent: &SentPhoto,
    clock_offset_s: i64,
) -> Result<SentPhotoView> {
    let (survey, _) = open_survey(book, survey)?;
    let record = book.record(survey.id)?;
    let before =
        book.photos()?.into_iter().find(|photo| photo.original_sha256 == sent.original_sha256);
    if let Some(before) = before {
        let elsewhere = before.survey.is_some_and(|id| id != survey.id);
        let photo = (!elsewhere).then(|| photo_view(&before, &record));
        let warnings = elsewhere
            .then(|| format!("`{}` is in the book already, with another survey", sent.name));
        return Ok(SentPhotoView { photo, known: true, warnings: warnings.into_iter().collect() });
    }
    let ground = Ground::shore_of(book)?;
    let id = PhotoId(book.new_id());
    let offset = SignedDuration::from_secs(clock_offset_s);
    let SentPhoto { name, original_sha256, photo } = sent;
    let row = row_of(id, &record, &ground, name.clone(), original_sha256.clone(), photo, offset);
    book.transact(&format!("photo {name} of {}", survey.name), |writer| {
        writer.put_picture(&photo.copy)?;
        writer.put_photo(&row)
    })?;
    Ok(SentPhotoView {
        photo: Some(photo_view(&row, &record)),
        known: false,
        warnings: photo.warnings.clone(),
    })
}

/// Letters a camera begins its files with: two photos of one camera have the same.
fn camera_of(file_name: &str) -> String {
    file_name.chars().take_while(|c| !c.is_ascii_digit()).collect::<String>().to_lowercase()
}

/// Puts the clock of one camera right by a photo whose true time is known: its photos move by as
/// much, and those the program brought to a visit are brought anew. What a person linked stays.
///
/// # Errors
/// When the survey is sealed or has no such photo, or the time cannot be read.
pub fn correct_clock(
    book: &mut LakeBook,
    survey: &str,
    save: &SaveClock,
) -> Result<Vec<PhotoView>> {
    let (survey, _) = open_survey(book, survey)?;
    let record = book.record(survey.id)?;
    let known = photo_of(&record, &save.id)?;
    let taken = known.taken.ok_or_else(|| {
        Error::input(format!("`{}` says no time of its own", known.file_name))
            .hint("choose another photo of the same camera whose true time you know")
    })?;
    let off = taken.duration_until(true_time(&save.time, taken)?);
    let ground = Ground::shore_of(book)?;
    let camera = camera_of(&known.file_name);
    let moved: Vec<PhotoRef> = record
        .photos
        .iter()
        .filter(|photo| camera_of(&photo.file_name) == camera)
        .filter_map(|photo| {
            let was = photo.taken?;
            let taken = was.saturating_add(off);
            let place = |taken| visit_of(&record, &ground, Some(taken), photo.position);
            let ours = place(was).map(|visit| visit.id) == photo.visit;
            let visit = if ours { place(taken).map(|visit| visit.id) } else { photo.visit };
            Some(PhotoRef { taken: Some(taken), visit, ..photo.clone() })
        })
        .collect();
    let note = format!(
        "clock of the camera put right by {} s, {} photos of {}",
        off.as_secs(),
        moved.len(),
        survey.name
    );
    book.transact(&note, |writer| moved.iter().try_for_each(|photo| writer.put_photo(photo)))?;
    photos(book, &survey.name)
}

/// A time as it is typed: with its day, or an hour of the day the camera says.
fn true_time(text: &str, taken: DateTime) -> Result<DateTime> {
    let text = text.trim().replace(' ', "T");
    text.parse()
        .or_else(|_error| {
            text.parse::<jiff::civil::Time>().map(|time| taken.date().to_datetime(time))
        })
        .map_err(|_error| {
            Error::input(format!("`{text}` is no time")).hint("write `09:15` or `2026-07-14 09:15`")
        })
}

/// Takes a photo out of the survey; the log keeps that it was there.
///
/// # Errors
/// When the survey is sealed or has no such photo.
pub fn delete_photo(book: &mut LakeBook, survey: &str, id: &str) -> Result<()> {
    let (survey, _) = open_survey(book, survey)?;
    let record = book.record(survey.id)?;
    let photo = photo_of(&record, id)?;
    let note = format!("photo {} of {} taken out", photo.file_name, survey.name);
    Ok(book.transact(&note, |writer| writer.delete_photo(photo.id))?)
}

fn photo_of<'a>(record: &'a SurveyRecord, id: &str) -> Result<&'a PhotoRef> {
    record.photos.iter().find(|photo| photo.id.to_string() == id.trim()).ok_or_else(|| {
        Error::not_found(format!("survey `{}` has no such photo", record.survey.name))
    })
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
    let photo = read_photo(&name, &bytes).map_err(|fault| match &fault.hint {
        Some(hint) => format!("{fault}; {hint}"),
        None => fault.to_string(),
    })?;
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
    let visit = photo.visit.and_then(|id| record.visits.iter().find(|visit| visit.id == id));
    let crew: Vec<&str> = record.survey.crew.iter().map(|member| member.name.as_str()).collect();
    let who = visit.map_or_else(String::new, |visit| {
        if visit.observer.is_empty() { crew.join(", ") } else { visit.observer.clone() }
    });
    let site = visit.and_then(|visit| record.sites.iter().find(|site| site.id == visit.site));
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
        who,
        camera: camera_of(&photo.file_name),
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
    let photo = photo_of(&record, id)?;
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
