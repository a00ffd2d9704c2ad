//! A survey as CSV: RFC 4180, UTF-8, one header row, no merged cells, units in the headers.
//!
//! The wide table has one row a site and one column a plant, the long table one row an
//! observation; a site without any still has its row, so that none is lost. Cells use the codes of
//! the survey's scale and [`crate::export::CELL_CODES`]. [`crate::read_record`] reads both back.

use crate::export::{ExportSite, ExportSurvey, degrees, tenth_mm};
use jiff::civil::{Date, Time};

/// Headers of the wide table before the plants, with what they hold.
pub const WIDE_HEADERS: [(&str, &str); 13] = [
    ("site", "code of the site"),
    ("zone", "zone of the lake"),
    ("landmark", "landmark near the site"),
    ("date", "day of the visit, ISO 8601"),
    ("time", "time of the visit, 24 hours"),
    ("latitude", "degrees north, WGS 84"),
    ("longitude", "degrees east, WGS 84"),
    ("depth_m", "depth of water in metres"),
    ("sediment", "bottom sediment"),
    ("outcome", "sampled with or without plants, or why not sampled"),
    ("total_rating", "rating of all plants together"),
    ("crew", "who was there"),
    ("comment", "free words"),
];

/// Headers that the long table has beside those of the wide one.
pub const LONG_HEADERS: [(&str, &str); 6] = [
    ("throw", "number of the rake throw"),
    ("taxon", "scientific name"),
    ("taxon_code", "code of the plant in the lake"),
    ("common_name", "common name"),
    ("rating", "code of the survey's scale, or one of the codes for none"),
    ("how_seen", "on the rake, by eye, or on the shore"),
];

/// Headers of the table of plants on the shore.
pub const SHORE_HEADERS: [(&str, &str); 7] = [
    ("taxon", "scientific name"),
    ("taxon_code", "code of the plant in the lake"),
    ("common_name", "common name"),
    ("zone", "zone of the lake"),
    ("latitude", "degrees north, WGS 84"),
    ("longitude", "degrees east, WGS 84"),
    ("comment", "free words"),
];

/// A photo that is written to a file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExportPhoto {
    /// Name of the file beside the table.
    pub file: String,
    /// Code of the site.
    pub site: String,
    /// Local time, ISO 8601.
    pub taken: String,
    /// Code of the plant.
    pub taxon_code: String,
    /// Caption.
    pub caption: String,
    /// Who was there.
    pub who: String,
    /// Name of the file it was made from.
    pub original: String,
    /// SHA-256 of that file.
    pub original_sha256: String,
    /// Latitude and longitude of the camera.
    pub place: Option<(f64, f64)>,
}

/// One row a photo; where it was taken stands there only when asked for.
pub fn photos(list: &[ExportPhoto], with_places: bool) -> String {
    let mut head: Vec<String> =
        ["file", "site", "taken", "taxon_code", "caption", "who", "original", "original_sha256"]
            .map(str::to_owned)
            .to_vec();
    if with_places {
        head.extend(["latitude", "longitude"].map(str::to_owned));
    }
    let mut rows = vec![head];
    for one in list {
        let mut row = vec![
            one.file.clone(),
            one.site.clone(),
            one.taken.clone(),
            one.taxon_code.clone(),
            one.caption.clone(),
            one.who.clone(),
            one.original.clone(),
            one.original_sha256.clone(),
        ];
        if with_places {
            let text =
                |value: Option<f64>| value.map_or_else(String::new, |v| degrees(v).to_string());
            row.push(text(one.place.map(|(latitude, _)| latitude)));
            row.push(text(one.place.map(|(_, longitude)| longitude)));
        }
        rows.push(row);
    }
    write(&rows)
}

/// One row a plant seen on the shore.
pub fn shore(survey: &ExportSurvey) -> String {
    let place = |value: Option<f64>| value.map_or_else(String::new, |v| degrees(v).to_string());
    let mut rows = vec![headers(&SHORE_HEADERS).collect()];
    for find in &survey.shore {
        let taxon = survey.taxa.iter().find(|taxon| taxon.code == find.code);
        rows.push(vec![
            taxon.map_or_else(|| find.code.clone(), |taxon| taxon.scientific_name.clone()),
            find.code.clone(),
            taxon.map_or_else(String::new, |taxon| taxon.common_name.clone()),
            find.zone.clone(),
            place(find.latitude),
            place(find.longitude),
            find.comment.clone(),
        ]);
    }
    write(&rows)
}

/// One row a site, one column a plant under its scientific name.
pub fn wide(survey: &ExportSurvey) -> String {
    let taxa = survey.taxa.iter().map(|taxon| taxon.scientific_name.clone());
    let mut rows = vec![headers(&WIDE_HEADERS).chain(taxa).collect()];
    for site in &survey.sites {
        let mut row = site_cells(site).to_vec();
        let cell = |index: usize| site.cells.get(index).map_or("", |cell| cell.code()).to_owned();
        row.extend((0..survey.taxa.len()).map(cell));
        rows.push(row);
    }
    write(&rows)
}

/// One row an observation.
pub fn long(survey: &ExportSurvey) -> String {
    let mut rows = vec![headers(&WIDE_HEADERS).chain(headers(&LONG_HEADERS)).collect()];
    for site in &survey.sites {
        let start = site_cells(site);
        for seen in &site.observations {
            let taxon = survey.taxa.iter().find(|taxon| taxon.code == seen.code);
            let mut row = start.to_vec();
            row.extend([
                seen.throw.map_or_else(String::new, |throw| throw.to_string()),
                taxon.map_or_else(|| seen.code.clone(), |taxon| taxon.scientific_name.clone()),
                seen.code.clone(),
                taxon.map_or_else(String::new, |taxon| taxon.common_name.clone()),
                seen.reading.code().to_owned(),
                seen.how_seen.clone(),
            ]);
            rows.push(row);
        }
        if site.observations.is_empty() {
            let mut row = start.to_vec();
            row.resize(WIDE_HEADERS.len() + LONG_HEADERS.len(), String::new());
            rows.push(row);
        }
    }
    write(&rows)
}

fn headers(table: &[(&str, &str)]) -> impl Iterator<Item = String> {
    table.iter().map(|(name, _)| (*name).to_owned())
}

fn site_cells(site: &ExportSite) -> [String; 13] {
    let place = |value: Option<f64>| value.map_or_else(String::new, |v| degrees(v).to_string());
    [
        site.code.clone(),
        site.zone.clone(),
        site.landmark.clone(),
        site.date.as_ref().map_or_else(String::new, Date::to_string),
        site.time.as_ref().map_or_else(String::new, Time::to_string),
        place(site.latitude),
        place(site.longitude),
        site.depth.map_or_else(String::new, |depth| tenth_mm(depth).to_string()),
        site.sediment.clone(),
        site.outcome.clone(),
        site.total_rating.clone(),
        site.crew.clone(),
        site.comment.clone(),
    ]
}

fn write(rows: &[Vec<String>]) -> String {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::<u8>::new());
    for row in rows {
        // a Vec takes every byte, and all rows are as long as the first
        let written = writer.write_record(row);
        debug_assert!(written.is_ok(), "{written:?}");
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}
