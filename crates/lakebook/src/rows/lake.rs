//! The lake: header, outline, zones, sub-areas, landmarks, treatments.

use super::columns::{At, Key};
use super::stored;
use crate::error::BookError;
use crate::gpb::{AreaColumn, PointColumn};
use crate::{Outline, rows::Stored};
use survey::{BoardLimit, Id, Lake, Landmark, LimitKind, SubArea, Treatment, Zone};
use units::{Metres, SquareMetres};

stored! {
    /// The lake's header.
    LakeRow = Lake in "lake" {
        id: Key,
        name: String,
        water_body_number: String,
        county: String,
        region: String,
        units: String,
        working_epsg: u32,
        littoral_from_m: f64,
        littoral_to_m: f64,
        depth_datum: String,
        code_style: String,
    }
}

impl LakeRow {
    pub(crate) fn of(book: Id, lake: &Lake) -> Self {
        Self {
            id: Key(book),
            name: lake.name.clone(),
            water_body_number: lake.water_body_number.clone(),
            county: lake.county.clone(),
            region: lake.region.clone(),
            units: lake.units.key().to_owned(),
            working_epsg: lake.working_epsg,
            littoral_from_m: lake.littoral.0.metres(),
            littoral_to_m: lake.littoral.1.metres(),
            depth_datum: lake.depth_datum.clone(),
            code_style: lake.code_style.key().to_owned(),
        }
    }

    pub(crate) fn into_lake(self) -> Result<Lake, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Lake {
            units: at.parse("units", &self.units)?,
            code_style: at.parse("code_style", &self.code_style)?,
            littoral: (
                at.metres("littoral_from_m", self.littoral_from_m)?,
                at.metres("littoral_to_m", self.littoral_to_m)?,
            ),
            name: self.name,
            water_body_number: self.water_body_number,
            county: self.county,
            region: self.region,
            working_epsg: self.working_epsg,
            depth_datum: self.depth_datum,
        })
    }
}

stored! {
    /// The outline.
    OutlineRow = Outline in "lake_outline" {
        geom: AreaColumn,
        id: Key,
        source_file: String,
        sha256: String,
        note: String,
    }
}

impl OutlineRow {
    pub(crate) fn of(book: Id, outline: &Outline) -> Self {
        Self {
            geom: AreaColumn(outline.area.clone()),
            id: Key(book),
            source_file: outline.source_file.clone(),
            sha256: outline.sha256.clone(),
            note: outline.note.clone(),
        }
    }

    pub(crate) fn into_outline(self) -> Outline {
        Outline {
            area: self.geom.0,
            source_file: self.source_file,
            sha256: self.sha256,
            note: self.note,
        }
    }
}

stored! {
    /// A zone.
    ZoneRow = Zone in "zone" {
        geom: AreaColumn,
        id: Key,
        code: String,
        name: String,
        protection: String,
        since_year: Option<i16>,
        #[serde(default)]
        rule: String,
        #[serde(default)]
        until_year: Option<i16>,
    }
}

impl ZoneRow {
    pub(crate) fn of(zone: &Zone) -> Self {
        Self {
            geom: AreaColumn(zone.area.clone()),
            id: Key(zone.id.0),
            code: zone.code.to_string(),
            name: zone.name.clone(),
            protection: zone.protection.key().to_owned(),
            since_year: zone.since,
            rule: zone.rule.clone(),
            until_year: zone.until,
        }
    }

    pub(crate) fn into_zone(self) -> Result<Zone, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Zone {
            code: at.code("code", &self.code)?,
            protection: at.parse("protection", &self.protection)?,
            id: self.id.0.into(),
            name: self.name,
            area: self.geom.0,
            since: self.since_year,
            rule: self.rule,
            until: self.until_year,
        })
    }
}

stored! {
    /// A sub-area.
    SubAreaRow = SubArea in "sub_area" {
        geom: AreaColumn,
        id: Key,
        zone_id: Option<Key>,
        code: String,
    }
}

impl SubAreaRow {
    pub(crate) fn of(sub_area: &SubArea) -> Self {
        Self {
            geom: AreaColumn(sub_area.area.clone()),
            id: Key(sub_area.id.0),
            zone_id: sub_area.zone.map(|zone| Key(zone.0)),
            code: sub_area.code.to_string(),
        }
    }

    pub(crate) fn into_sub_area(self) -> Result<SubArea, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(SubArea {
            code: at.code("code", &self.code)?,
            id: self.id.0.into(),
            zone: self.zone_id.map(|zone| zone.0.into()),
            area: self.geom.0,
        })
    }
}

stored! {
    /// A landmark.
    LandmarkRow = Landmark in "landmark" {
        geom: PointColumn,
        id: Key,
        name: String,
        kind: String,
    }
}

impl LandmarkRow {
    pub(crate) fn of(landmark: &Landmark) -> Self {
        Self {
            geom: PointColumn(landmark.position),
            id: Key(landmark.id.0),
            name: landmark.name.clone(),
            kind: landmark.kind.key().to_owned(),
        }
    }

    pub(crate) fn into_landmark(self) -> Result<Landmark, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Landmark {
            kind: at.parse("kind", &self.kind)?,
            id: self.id.0.into(),
            name: self.name,
            position: self.geom.0,
        })
    }
}

stored! {
    /// A treatment.
    TreatmentRow = Treatment in "treatment" {
        geom: AreaColumn,
        id: Key,
        name: String,
        method: String,
        start_date: String,
        end_date: String,
        reported_area_m2: Option<f64>,
        done_by: String,
        survey_before_id: Option<Key>,
        note: String,
    }
}

impl TreatmentRow {
    pub(crate) fn of(treatment: &Treatment) -> Self {
        Self {
            geom: AreaColumn(treatment.area.clone()),
            id: Key(treatment.id.0),
            name: treatment.name.clone(),
            method: treatment.method.key().to_owned(),
            start_date: treatment.dates.0.to_string(),
            end_date: treatment.dates.1.to_string(),
            reported_area_m2: treatment.reported_area.map(SquareMetres::square_metres),
            done_by: treatment.by.clone(),
            survey_before_id: treatment.before.map(|survey| Key(survey.0)),
            note: treatment.note.clone(),
        }
    }

    pub(crate) fn into_treatment(self) -> Result<Treatment, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Treatment {
            method: at.parse("method", &self.method)?,
            dates: (
                at.parse("start_date", &self.start_date)?,
                at.parse("end_date", &self.end_date)?,
            ),
            reported_area: self
                .reported_area_m2
                .map(|area| at.metres("reported_area_m2", area).map(Metres::metres))
                .transpose()?
                .map(SquareMetres::new),
            id: self.id.0.into(),
            name: self.name,
            area: self.geom.0,
            by: self.done_by,
            before: self.survey_before_id.map(|survey| survey.0.into()),
            note: self.note,
        })
    }
}

stored! {
    /// A limit of the lake board.
    BoardLimitRow = BoardLimit in "board_limit" {
        id: Key,
        text: String,
        adopted: String,
        taxon_id: Option<Key>,
        zone: Option<String>,
        kind: String,
        value: f64,
    }
}

impl BoardLimitRow {
    pub(crate) fn of(limit: &BoardLimit) -> Self {
        let (kind, value) = limit.limit.parts();
        Self {
            id: Key(limit.id.0),
            text: limit.text.clone(),
            adopted: limit.adopted.to_string(),
            taxon_id: limit.taxon.map(|taxon| Key(taxon.0)),
            zone: limit.zone.as_ref().map(ToString::to_string),
            kind: kind.to_owned(),
            value,
        }
    }

    pub(crate) fn into_limit(self) -> Result<BoardLimit, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        let limit = LimitKind::from_parts(&self.kind, self.value).ok_or_else(|| {
            at.fault("value", &self.value, format!("a number for `{}`", self.kind))
        })?;
        Ok(BoardLimit {
            adopted: at.parse("adopted", &self.adopted)?,
            zone: self.zone.as_deref().map(|zone| at.code("zone", zone)).transpose()?,
            taxon: self.taxon_id.map(|taxon| taxon.0.into()),
            id: self.id.0.into(),
            text: self.text,
            limit,
        })
    }
}
