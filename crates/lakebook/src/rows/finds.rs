//! Surface beds, shoreline finds, photos and vouchers.

use super::columns::{At, Json, Key, date_text, date_time_text};
use super::{Stored, stored};
use crate::error::BookError;
use crate::gpb::{AreaColumn, PointColumn};
use survey::{PhotoRef, Rating, ShorelineFind, SurfaceBed, Voucher};
use units::LonLat;

stored! {
    /// A surface bed.
    BedRow = Bed in "surface_bed" {
        geom: Option<AreaColumn>,
        id: Key,
        survey_id: Key,
        taxa: Json<Vec<Key>>,
        rating: Option<u8>,
        site_id: Option<Key>,
        note: String,
    }
}

impl BedRow {
    pub(crate) fn of(bed: &SurfaceBed) -> Self {
        Self {
            geom: bed.area.clone().map(AreaColumn),
            id: Key(bed.id.0),
            survey_id: Key(bed.survey.0),
            taxa: Json(bed.taxa.iter().map(|taxon| Key(taxon.0)).collect()),
            rating: bed.rating.map(|rating| rating.0),
            site_id: bed.site.map(|site| Key(site.0)),
            note: bed.note.clone(),
        }
    }

    pub(crate) fn into_bed(self) -> SurfaceBed {
        SurfaceBed {
            id: self.id.0.into(),
            survey: self.survey_id.0.into(),
            taxa: self.taxa.0.into_iter().map(|taxon| taxon.0.into()).collect(),
            rating: self.rating.map(Rating),
            area: self.geom.map(|area| area.0),
            site: self.site_id.map(|site| site.0.into()),
            note: self.note,
        }
    }
}

stored! {
    /// A shoreline find.
    ShorelineFindRow = ShorelineFind in "shoreline_find" {
        geom: Option<PointColumn>,
        id: Key,
        survey_id: Key,
        taxon_id: Key,
        zone: Option<String>,
        note: String,
    }
}

impl ShorelineFindRow {
    pub(crate) fn of(find: &ShorelineFind) -> Self {
        Self {
            geom: find.position.map(PointColumn),
            id: Key(find.id.0),
            survey_id: Key(find.survey.0),
            taxon_id: Key(find.taxon.0),
            zone: find.zone.as_ref().map(ToString::to_string),
            note: find.note.clone(),
        }
    }

    pub(crate) fn into_find(self) -> Result<ShorelineFind, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(ShorelineFind {
            zone: self.zone.as_deref().map(|code| at.code("zone", code)).transpose()?,
            id: self.id.0.into(),
            survey: self.survey_id.0.into(),
            taxon: self.taxon_id.0.into(),
            position: self.geom.map(|point| point.0),
            note: self.note,
        })
    }
}

stored! {
    /// A photo.
    PhotoRow = Photo in "photo" {
        id: Key,
        visit_id: Option<Key>,
        taxon_id: Option<Key>,
        file_name: String,
        sha256: String,
        caption: String,
        with_ruler: bool,
        // the form before had none of these: a row without them reads and seals as it did
        #[serde(default, skip_serializing_if = "Option::is_none")]
        survey_id: Option<Key>,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        original_sha256: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        taken_at: Option<String>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        longitude: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        latitude: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        width_px: Option<u32>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height_px: Option<u32>,
    }
}

impl PhotoRow {
    pub(crate) fn of(photo: &PhotoRef) -> Self {
        Self {
            id: Key(photo.id.0),
            visit_id: photo.visit.map(|visit| Key(visit.0)),
            taxon_id: photo.taxon.map(|taxon| Key(taxon.0)),
            file_name: photo.file_name.clone(),
            sha256: photo.sha256.clone(),
            caption: photo.caption.clone(),
            with_ruler: photo.with_ruler,
            survey_id: photo.survey.map(|survey| Key(survey.0)),
            original_sha256: photo.original_sha256.clone(),
            taken_at: date_time_text(photo.taken),
            longitude: photo.position.map(LonLat::longitude),
            latitude: photo.position.map(LonLat::latitude),
            width_px: photo.pixels.map(|(width, _)| width),
            height_px: photo.pixels.map(|(_, height)| height),
        }
    }

    pub(crate) fn into_photo(self) -> Result<PhotoRef, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        let position = match (self.longitude, self.latitude) {
            (Some(longitude), Some(latitude)) => Some(
                LonLat::new(longitude, latitude)
                    .map_err(|error| at.fault("longitude", &longitude.to_string(), error))?,
            ),
            _ => None,
        };
        Ok(PhotoRef {
            survey: self.survey_id.map(|survey| survey.0.into()),
            taken: at.parse_some("taken_at", self.taken_at.as_deref())?,
            position,
            pixels: self.width_px.zip(self.height_px),
            id: self.id.0.into(),
            visit: self.visit_id.map(|visit| visit.0.into()),
            taxon: self.taxon_id.map(|taxon| taxon.0.into()),
            file_name: self.file_name,
            sha256: self.sha256,
            original_sha256: self.original_sha256,
            caption: self.caption,
            with_ruler: self.with_ruler,
        })
    }
}

stored! {
    /// A voucher.
    VoucherRow = Voucher in "voucher" {
        id: Key,
        survey_id: Key,
        number: String,
        taxon_id: Key,
        site_id: Option<Key>,
        collector: String,
        date: Option<String>,
        kept_at: String,
        confirmed_by: String,
    }
}

impl VoucherRow {
    pub(crate) fn of(voucher: &Voucher) -> Self {
        Self {
            id: Key(voucher.id.0),
            survey_id: Key(voucher.survey.0),
            number: voucher.number.clone(),
            taxon_id: Key(voucher.taxon.0),
            site_id: voucher.site.map(|site| Key(site.0)),
            collector: voucher.collector.clone(),
            date: date_text(voucher.date),
            kept_at: voucher.kept_at.clone(),
            confirmed_by: voucher.confirmed_by.clone(),
        }
    }

    pub(crate) fn into_voucher(self) -> Result<Voucher, BookError> {
        let at = At { table: Self::TABLE, id: &self.id };
        Ok(Voucher {
            date: at.parse_some("date", self.date.as_deref())?,
            id: self.id.0.into(),
            survey: self.survey_id.0.into(),
            number: self.number,
            taxon: self.taxon_id.0.into(),
            site: self.site_id.map(|site| site.0.into()),
            collector: self.collector,
            kept_at: self.kept_at,
            confirmed_by: self.confirmed_by,
        })
    }
}
