//! The record in open formats.

mod bed;
mod gps;
mod photos;

pub use bed::{BedFormat, bed, bed_to};
pub use photos::photos_to;

use crate::error::{Error, Result};
use crate::surveys::record_of;
use exchange::CellReading;
use exchange::export::{ExportObservation, ExportShoreFind, ExportSite, ExportSurvey, ExportTaxon};
use lakebook::LakeBook;
use std::path::{Path, PathBuf};
use survey::{HowSeen, Observation, Rating, SiteResult, SurveyRecord, Taxon, Visit};

/// A format to write.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExportFormat {
    /// Comma-separated tables: one row a site, and one row an observation beside it.
    Csv,
    /// GeoJSON, RFC 7946.
    GeoJson,
    /// GPX 1.1 waypoints.
    Gpx,
    /// KML 2.2.
    Kml,
}

impl ExportFormat {
    /// The word on the command line.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::GeoJson => "geojson",
            Self::Gpx => "gpx",
            Self::Kml => "kml",
        }
    }
}

/// One file of an export.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExportedFile {
    /// Its name, without a folder.
    pub name: String,
    /// Its content.
    pub text: String,
}

/// A survey as text in a format, first the file that stands for it.
///
/// # Errors
/// When there is no such survey, or a position is not on Earth.
pub fn export(book: &LakeBook, survey: &str, format: ExportFormat) -> Result<Vec<ExportedFile>> {
    Ok(export_for(book, survey, format, None)?.0)
}

/// The same for a receiver that takes names of a length, and what had to be shortened.
///
/// # Errors
/// As [`export`], and when a name cannot be shortened without being taken for another.
pub fn export_for(
    book: &LakeBook,
    survey: &str,
    format: ExportFormat,
    name_length: Option<usize>,
) -> Result<(Vec<ExportedFile>, Vec<String>)> {
    if name_length.is_some_and(|length| !(2..=100).contains(&length)) {
        return Err(Error::input("a receiver takes names of 2 to 100 letters")
            .hint("give `--name-length` as its manual says, often 6 or 10"));
    }
    let record = record_of(book, survey)?;
    let mut warnings = Vec::new();
    let plain = export_survey(&record);
    let stem = file_stem(&record.survey.name);
    let file = |ending: &str, text: String| ExportedFile { name: format!("{stem}{ending}"), text };
    let mut files = match format {
        ExportFormat::Csv => vec![
            file(".csv", exchange::csv_out::wide(&plain)),
            file("-observations.csv", exchange::csv_out::long(&plain)),
        ],
        ExportFormat::GeoJson => {
            vec![file(
                ".geojson",
                exchange::geojson_out::to_geojson(&plain.name, &plain.features())?,
            )]
        }
        ExportFormat::Kml => {
            let mut features = plain.features();
            features.extend(gps::ways(book, &record)?);
            vec![file(".kml", exchange::kml_out::to_kml(&plain.name, &features)?)]
        }
        ExportFormat::Gpx => {
            vec![file(".gpx", gps::gpx(book, &record, name_length, &mut warnings)?)]
        }
    };
    match format {
        ExportFormat::Csv if !plain.shore.is_empty() => {
            files.push(file("-shore.csv", exchange::csv_out::shore(&plain)));
        }
        ExportFormat::GeoJson => {
            let shore = plain.shore_features();
            if !shore.is_empty() {
                let name = format!("{}, shore", plain.name);
                let text = exchange::geojson_out::to_geojson(&name, &shore)?;
                files.push(file("-shore.geojson", text));
            }
        }
        ExportFormat::Csv | ExportFormat::Gpx | ExportFormat::Kml => {}
    }
    Ok((files, warnings))
}

/// Writes surveys to a path: one file for one file, else into a folder.
///
/// # Errors
/// When a file is there already or cannot be written.
pub fn export_to(
    book: &LakeBook,
    survey: Option<&str>,
    format: ExportFormat,
    path: &Path,
    name_length: Option<usize>,
) -> Result<(Vec<PathBuf>, Vec<String>)> {
    let names: Vec<String> = match survey {
        Some(name) => vec![name.to_owned()],
        None => book.surveys()?.into_iter().map(|one| one.name).collect(),
    };
    if names.is_empty() {
        return Err(
            Error::input("the book has no survey yet").hint("lay one with `quillwort plan`")
        );
    }
    let (mut files, mut warnings) = (Vec::new(), Vec::new());
    for name in &names {
        let (more, told) = export_for(book, name, format, name_length)?;
        files.extend(more);
        warnings.extend(told);
    }
    let one_file = survey.is_some() && path.extension().is_some();
    let mut written = Vec::new();
    for (index, file) in files.into_iter().enumerate() {
        let target = if one_file && index == 0 {
            path.to_owned()
        } else if one_file {
            let stem = path
                .file_stem()
                .map(|stem| stem.to_string_lossy().into_owned())
                .unwrap_or_default();
            let own = file_stem(survey.unwrap_or_default());
            let ending = file.name.strip_prefix(&own).unwrap_or(&file.name);
            path.with_file_name(format!("{stem}{ending}"))
        } else {
            path.join(&file.name)
        };
        let cannot = |error: std::io::Error| {
            Error::input(format!("`{}` cannot be written: {error}", target.display()))
        };
        if let Some(folder) = target.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder).map_err(cannot)?;
        }
        std::fs::write(&target, file.text).map_err(cannot)?;
        written.push(target);
    }
    Ok((written, warnings))
}

fn file_stem(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { '-' }).collect()
}

fn export_survey(record: &SurveyRecord) -> ExportSurvey {
    let visits = record.visits_by_site();
    let plants = record.plants();
    let seen = |taxon: &Taxon| {
        record.visits.iter().any(|visit| match &visit.result {
            SiteResult::Sampled(sampling) => {
                sampling.observations().any(|one| one.taxon == taxon.id)
            }
            SiteResult::NotSampled(_) => false,
        }) || record.shoreline.iter().any(|find| find.taxon == taxon.id)
    };
    let taxa: Vec<&Taxon> = record.taxa.iter().filter(|taxon| seen(taxon)).collect();
    // a dropped site is no place to go to; one visited all the same holds what was found
    let mut sites: Vec<_> = record
        .sites
        .iter()
        .filter(|site| site.dropped.is_none() || visits.contains_key(&site.id))
        .collect();
    sites.sort_by_key(|site| site.rank);
    let rows = sites
        .into_iter()
        .map(|site| {
            let visit = visits.get(&site.id).copied();
            let place =
                visit.and_then(|visit| visit.actual).map(|fix| fix.position).or(site.planned);
            ExportSite {
                code: site.code.to_string(),
                longitude: place.map(units::LonLat::longitude),
                latitude: place.map(units::LonLat::latitude),
                zone: site.zone.as_ref().map(ToString::to_string).unwrap_or_default(),
                landmark: site.landmark.clone(),
                date: visit.and_then(|visit| visit.time).map(jiff::civil::DateTime::date),
                time: visit.and_then(|visit| visit.time).map(jiff::civil::DateTime::time),
                depth: visit.and_then(|visit| visit.depth),
                sediment: visit
                    .and_then(|visit| visit.sediment)
                    .map(|one| one.key().to_owned())
                    .unwrap_or_default(),
                outcome: visit
                    .map(|visit| record.outcome(visit, &plants).key().to_owned())
                    .unwrap_or_default(),
                total_rating: visit.map(|visit| total(record, visit)).unwrap_or_default(),
                crew: visit.map(|visit| visit.observer.clone()).unwrap_or_default(),
                comment: visit.map(|visit| visit.note.clone()).unwrap_or_default(),
                cells: taxa.iter().map(|taxon| cell(record, visit, taxon)).collect(),
                observations: visit.map(|visit| observations(record, visit)).unwrap_or_default(),
            }
        })
        .collect();
    ExportSurvey {
        name: record.survey.name.clone(),
        taxa: taxa
            .iter()
            .map(|taxon| ExportTaxon {
                code: taxon.code.to_string(),
                scientific_name: taxon.scientific_name.clone(),
                common_name: taxon.common_name.clone(),
            })
            .collect(),
        sites: rows,
        shore: record
            .shoreline
            .iter()
            .filter_map(|find| {
                let taxon = record.taxa.iter().find(|taxon| taxon.id == find.taxon)?;
                Some(ExportShoreFind {
                    code: taxon.code.to_string(),
                    longitude: find.position.map(units::LonLat::longitude),
                    latitude: find.position.map(units::LonLat::latitude),
                    zone: find.zone.as_ref().map(ToString::to_string).unwrap_or_default(),
                    comment: find.note.clone(),
                })
            })
            .collect(),
    }
}

fn step_code(record: &SurveyRecord, rating: Option<Rating>) -> Option<String> {
    rating.and_then(|rating| record.scale.step_of(rating)).map(|step| step.code.clone())
}

fn total(record: &SurveyRecord, visit: &Visit) -> String {
    let SiteResult::Sampled(sampling) = &visit.result else { return String::new() };
    let largest = sampling.throws().iter().filter_map(|throw| throw.total).max();
    step_code(record, largest).unwrap_or_default()
}

/// What one observation says; a find without a rating is written as the least step above zero.
fn reading(record: &SurveyRecord, one: &Observation) -> CellReading {
    if one.seen == HowSeen::Visual
        || (one.seen == HowSeen::Rake && !record.on_rake(one) && record.says_present(one.rating))
    {
        return CellReading::Visual;
    }
    if !record.says_present(one.rating) {
        return CellReading::Zero;
    }
    let least = || {
        record
            .scale
            .steps
            .iter()
            .find(|step| step.value.is_some_and(|value| value > 0))
            .map_or_else(|| "1".to_owned(), |step| step.code.clone())
    };
    CellReading::Rating(step_code(record, one.rating).unwrap_or_else(least))
}

/// One taxon at one site: zero, not found, not looked for and not reached stay four things.
fn cell(record: &SurveyRecord, visit: Option<&Visit>, taxon: &Taxon) -> CellReading {
    if !record.survey.scope.covers(taxon.id) {
        return CellReading::NotLookedFor;
    }
    let Some(SiteResult::Sampled(sampling)) = visit.map(|visit| &visit.result) else {
        return CellReading::NotReached;
    };
    let mut found: Vec<&Observation> =
        sampling.observations().filter(|one| one.taxon == taxon.id).collect();
    found.sort_by_key(|one| (record.on_rake(one), record.says_present(one.rating), one.rating));
    found.last().map_or(CellReading::NotFound, |one| reading(record, one))
}

fn observations(record: &SurveyRecord, visit: &Visit) -> Vec<ExportObservation> {
    let SiteResult::Sampled(sampling) = &visit.result else { return Vec::new() };
    sampling
        .throws()
        .iter()
        .flat_map(|throw| throw.observations.iter().map(move |one| (throw.number, one)))
        .filter_map(|(number, one)| {
            let taxon = record.taxa.iter().find(|taxon| taxon.id == one.taxon)?;
            Some(ExportObservation {
                code: taxon.code.to_string(),
                throw: Some(u32::from(number)),
                reading: reading(record, one),
                how_seen: one.seen.key().to_owned(),
            })
        })
        .collect()
}
