//! Reading the tables into the trade's types.

use crate::error::BookError;
use crate::rows::{
    BackgroundRow, BedRow, BoardLimitRow, Key, LakeRow, LandmarkRow, OutlineRow, PhotoRow,
    ScaleRow, ShorelineFindRow, SiteRow, Stored, SubAreaRow, SurveyRow, TaxonRow, TreatmentRow,
    VisitRow, VoucherRow, ZoneRow,
};
use crate::{Background, Outline};
use rusqlite::{Connection, OptionalExtension};
use std::collections::BTreeMap;
use survey::scale::RatingScale;
use survey::{
    BoardLimit, Id, Lake, Landmark, PhotoRef, Seal, SubArea, Survey, SurveyId, SurveyRecord, Taxon,
    Treatment, Zone,
};

pub(crate) fn book_id(connection: &Connection) -> Result<Option<Id>, BookError> {
    Ok(connection
        .prepare_cached("SELECT id FROM lake LIMIT 1")?
        .query_row([], |row| row.get::<_, Key>(0))
        .optional()?
        .map(|key| key.0))
}

pub(crate) fn lake(connection: &Connection) -> Result<Lake, BookError> {
    LakeRow::all(connection)?
        .pop()
        .ok_or(BookError::Unknown { entity: "lake", id: String::new() })?
        .into_lake()
}

pub(crate) fn outline(connection: &Connection) -> Result<Option<Outline>, BookError> {
    Ok(OutlineRow::all(connection)?.pop().map(OutlineRow::into_outline))
}

pub(crate) fn zones(connection: &Connection) -> Result<Vec<Zone>, BookError> {
    ZoneRow::select(connection, "ORDER BY code, id", [])?
        .into_iter()
        .map(ZoneRow::into_zone)
        .collect()
}

pub(crate) fn sub_areas(connection: &Connection) -> Result<Vec<SubArea>, BookError> {
    SubAreaRow::select(connection, "ORDER BY code, id", [])?
        .into_iter()
        .map(SubAreaRow::into_sub_area)
        .collect()
}

pub(crate) fn landmarks(connection: &Connection) -> Result<Vec<Landmark>, BookError> {
    LandmarkRow::select(connection, "ORDER BY name, id", [])?
        .into_iter()
        .map(LandmarkRow::into_landmark)
        .collect()
}

pub(crate) fn board_limits(connection: &Connection) -> Result<Vec<BoardLimit>, BookError> {
    BoardLimitRow::select(connection, "ORDER BY adopted, id", [])?
        .into_iter()
        .map(BoardLimitRow::into_limit)
        .collect()
}

pub(crate) fn backgrounds(connection: &Connection) -> Result<Vec<Background>, BookError> {
    BackgroundRow::select(connection, "ORDER BY name, id", [])?
        .into_iter()
        .map(BackgroundRow::into_background)
        .collect()
}

pub(crate) fn treatments(connection: &Connection) -> Result<Vec<Treatment>, BookError> {
    TreatmentRow::select(connection, "ORDER BY start_date, id", [])?
        .into_iter()
        .map(TreatmentRow::into_treatment)
        .collect()
}

pub(crate) fn taxa(connection: &Connection) -> Result<Vec<Taxon>, BookError> {
    TaxonRow::select(connection, "ORDER BY scientific_name, id", [])?
        .into_iter()
        .map(TaxonRow::into_taxon)
        .collect()
}

pub(crate) fn scales(connection: &Connection) -> Result<Vec<RatingScale>, BookError> {
    Ok(ScaleRow::all(connection)?.into_iter().map(ScaleRow::into_scale).collect())
}

/// How many steps a scale of the book has; none when the book does not hold it.
pub(crate) fn scale_steps(
    connection: &Connection,
    scale: &str,
) -> Result<Option<usize>, BookError> {
    let steps: Option<i64> = connection
        .prepare_cached(
            "SELECT (SELECT count(*) FROM rating_step WHERE scale_id = rating_scale.id) \
             FROM rating_scale WHERE id = ?1",
        )?
        .query_row([scale], |row| row.get(0))
        .optional()?;
    Ok(steps.map(|steps| steps as usize))
}

/// Sealed surveys by key, with their names.
pub(crate) fn sealed_names(connection: &Connection) -> Result<BTreeMap<String, String>, BookError> {
    Ok(connection
        .prepare_cached("SELECT id, name FROM survey WHERE seal_sha256 IS NOT NULL")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?)
}

fn seals(connection: &Connection) -> Result<BTreeMap<Key, Seal>, BookError> {
    let mut statement = connection.prepare_cached(
        "SELECT id, coalesce(seal_by, ''), coalesce(seal_at, ''), seal_sha256 FROM survey \
         WHERE seal_sha256 IS NOT NULL",
    )?;
    let seals = statement
        .query_map([], |row| {
            Ok((row.get(0)?, Seal { by: row.get(1)?, at: row.get(2)?, sha256: row.get(3)? }))
        })?
        .collect::<Result<_, _>>()?;
    Ok(seals)
}

/// Surveys by their first day; the planned ones without a day stand last.
pub(crate) fn surveys(connection: &Connection) -> Result<Vec<Survey>, BookError> {
    let mut seals = seals(connection)?;
    SurveyRow::select(connection, "ORDER BY start_date IS NULL, start_date, name, id", [])?
        .into_iter()
        .map(|row| {
            let seal = seals.remove(&row.id);
            row.into_survey(seal)
        })
        .collect()
}

pub(crate) fn survey_by_name(connection: &Connection, name: &str) -> Result<Survey, BookError> {
    let wanted = name.trim().to_lowercase();
    let all = surveys(connection)?;
    let known: Vec<String> = all.iter().map(|survey| survey.name.clone()).collect();
    all.into_iter()
        .find(|survey| survey.name.to_lowercase() == wanted)
        .ok_or_else(|| BookError::UnknownSurvey { name: name.trim().to_owned(), known })
}

pub(crate) fn photos(connection: &Connection) -> Result<Vec<PhotoRef>, BookError> {
    PhotoRow::all(connection)?.into_iter().map(PhotoRow::into_photo).collect()
}

/// The whole record of a survey.
pub(crate) fn record(connection: &Connection, survey: SurveyId) -> Result<SurveyRecord, BookError> {
    let key = survey.to_string();
    let row = SurveyRow::one(connection, &key)?
        .ok_or_else(|| BookError::Unknown { entity: "survey", id: key.clone() })?;
    let scale = ScaleRow::one(connection, &row.scale_id)?
        .ok_or_else(|| BookError::Unknown { entity: "rating scale", id: row.scale_id.clone() })?;
    let seal = seals(connection)?.remove(&row.id);
    let of_survey = "WHERE survey_id = ?1 ORDER BY id";
    let mut record = SurveyRecord::empty(row.into_survey(seal)?, scale.into_scale());
    record.sites =
        SiteRow::select(connection, "WHERE survey_id = ?1 ORDER BY plan_order, code, id", [&key])?
            .into_iter()
            .map(SiteRow::into_site)
            .collect::<Result<_, _>>()?;
    record.visits = VisitRow::select(connection, of_survey, [&key])?
        .into_iter()
        .map(VisitRow::into_visit)
        .collect::<Result<_, _>>()?;
    record.taxa = taxa(connection)?;
    record.beds =
        BedRow::select(connection, of_survey, [&key])?.into_iter().map(BedRow::into_bed).collect();
    record.shoreline = ShorelineFindRow::select(connection, of_survey, [&key])?
        .into_iter()
        .map(ShorelineFindRow::into_find)
        .collect::<Result<_, _>>()?;
    record.photos = PhotoRow::select(
        connection,
        "WHERE visit_id IN (SELECT id FROM visit WHERE survey_id = ?1) OR survey_id = ?1 ORDER BY id",
        [&key],
    )?
    .into_iter()
    .map(PhotoRow::into_photo)
    .collect::<Result<_, _>>()?;
    record.vouchers = VoucherRow::select(connection, of_survey, [&key])?
        .into_iter()
        .map(VoucherRow::into_voucher)
        .collect::<Result<_, _>>()?;
    Ok(record)
}
