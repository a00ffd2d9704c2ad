use super::{VisitBody, VisitEntry};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A find to be confirmed as it is.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveSettlement {
    /// Who says so.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Name of the find.
    pub id: String,
    /// Why it is right as it is; empty opens it again.
    #[serde(default)]
    #[schema(required = true)]
    pub reason: String,
}

/// What a merge did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct MergeView {
    /// Changes taken in.
    pub taken: usize,
    /// Edits kept beside for a person to choose.
    pub conflicts: usize,
    /// What was there twice and got a second name.
    pub renamed: Vec<String>,
}

/// Two edits of one record that contradict each other.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct ConflictView {
    /// Key, to settle it by.
    pub id: String,
    /// Which record, in words.
    pub what: String,
    /// Who made the edit kept beside, and when.
    pub other_by: String,
    /// When, RFC 3339 in UTC.
    pub other_at: String,
    /// Who wrote what stands; empty when it is not there.
    pub current_by: String,
    /// When, RFC 3339 in UTC; empty when it is not there.
    pub current_at: String,
    /// Fields that differ: name, what stands, what the other says.
    pub fields: Vec<ConflictFieldView>,
}

/// A field two edits disagree in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct ConflictFieldView {
    /// Field.
    pub field: String,
    /// What stands.
    pub current: String,
    /// What the other edit says.
    pub other: String,
}

/// A conflict to be settled.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveConflict {
    /// Who chooses.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Key of the conflict.
    pub id: String,
    /// `current` or `other`.
    pub keep: String,
}

/// An unknown to be named.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveResolution {
    /// Who named it.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Code of the unknown.
    pub code: String,
    /// What it is: a name, or a code of the lake's list.
    pub name: String,
    /// `photo`, `specimen`, `expert` or `dna`.
    pub evidence: String,
    /// The day it was named, ISO.
    pub on: Option<String>,
    /// Remark.
    #[serde(default)]
    #[schema(required = true)]
    pub note: String,
}

/// What naming an unknown changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct ResolutionView {
    /// Code it had.
    pub was: String,
    /// Code it has now.
    pub code: String,
    /// Name it has now.
    pub name: String,
    /// Visits, beds, finds, photos and specimens that name it.
    pub places: usize,
    /// Sealed surveys that were amended.
    pub amended: Vec<String>,
}

/// Two people's entries of one sheet side by side.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SecondEntriesView {
    /// Sites entered a second time.
    pub entered: usize,
    /// Sites where both say the same.
    pub same: usize,
    /// Sites where they do not.
    pub different: Vec<EntryDifferenceView>,
    /// The second entries as they stand.
    pub entries: Vec<VisitEntry>,
}

/// A site two entries disagree about.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EntryDifferenceView {
    /// Site.
    pub site: String,
    /// Who entered it first; empty when nobody did or nobody signed.
    pub first_by: String,
    /// Who entered it second.
    pub second_by: String,
    /// Fields that differ.
    pub fields: Vec<ConflictFieldView>,
    /// The first entry; none when nobody entered it.
    pub first: Option<VisitBody>,
    /// The second entry.
    pub second: VisitBody,
}

/// Which of two entries is right.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveChoice {
    /// Who chooses.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// `first` or `second`.
    pub keep: String,
    /// Boxes the choice is about, `depth`, `bottom`, `throw 1`, `outcome`, `note`; the whole entry
    /// when none is named.
    #[serde(default)]
    pub boxes: Vec<String>,
}

/// How far two crews agree on sites both threw at.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
pub struct AgreementView {
    /// The one survey.
    pub from: String,
    /// The other.
    pub to: String,
    /// Sites both sampled.
    pub sites: usize,
    /// Pairs of site and plant compared: plants either crew found at a site, and not found by both.
    pub pairs: usize,
    /// What both, one or neither found, plant by plant.
    pub taxa: Vec<AgreementTaxonView>,
    /// Share of pairs where both say found, or both say not found.
    pub same_presence: Option<f64>,
    /// Cohen's kappa of found and not found; none when it cannot be computed.
    pub kappa_presence: Option<f64>,
    /// Weighted kappa of the ratings.
    pub kappa_rating: Option<f64>,
    /// How ratings are weighted.
    pub weighting: String,
    /// What the figures say, in a sentence.
    pub sentence: String,
}

/// At how many of the shared sites two crews found a plant.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct AgreementTaxonView {
    /// Its code on the lake's list.
    pub code: String,
    /// Its common name, or its scientific one.
    pub name: String,
    /// Sites where both found it.
    pub both: usize,
    /// Sites where only the one crew did.
    pub only_from: usize,
    /// Sites where only the other did.
    pub only_to: usize,
    /// Sites where neither did.
    pub neither: usize,
}

/// What bringing a folder of photos in did.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, ToSchema)]
pub struct PhotosView {
    /// Photos kept.
    pub kept: usize,
    /// Of these, at a visit.
    pub matched: usize,
    /// Photos that were in the book before.
    pub known: usize,
    /// Seconds the camera's clock was taken to be ahead.
    pub clock_offset_s: i64,
    /// Files left out, and what is odd about others.
    pub left_out: Vec<String>,
}

/// A photo of a survey; its picture is at `/api/photos/{id}`.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
pub struct PhotoView {
    /// Key.
    pub id: String,
    /// Name of the file it came from.
    pub file_name: String,
    /// Site of its visit.
    pub site: Option<String>,
    /// Code of the plant or unknown it shows.
    pub taxon: Option<String>,
    /// Local time, the camera's clock put right.
    pub taken: Option<String>,
    /// Longitude by the camera.
    pub lon: Option<f64>,
    /// Latitude by the camera.
    pub lat: Option<f64>,
    /// Pixels across.
    pub width: Option<u32>,
    /// Pixels down.
    pub height: Option<u32>,
    /// Caption.
    pub caption: String,
    /// True when a ruler is in the picture.
    pub with_ruler: bool,
    /// Who was at the visit: its observer, else the crew.
    pub who: String,
    /// Letters the files of its camera begin with.
    pub camera: String,
    /// SHA-256 of the picture kept.
    pub sha256: String,
    /// SHA-256 of the file it was made from.
    pub original_sha256: String,
}

/// What a photo shows.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SavePhoto {
    /// Who says so.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Code of the site whose visit it belongs to.
    pub site: Option<String>,
    /// Code of the plant or unknown it shows.
    pub taxon: Option<String>,
    /// Caption.
    #[serde(default)]
    #[schema(required = true)]
    pub caption: String,
    /// True when a ruler is in the picture.
    #[serde(default)]
    #[schema(required = true)]
    pub with_ruler: bool,
}

/// A photo sent by itself.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
pub struct SentPhotoView {
    /// The photo; none when the book has it with another survey.
    pub photo: Option<PhotoView>,
    /// True when the book had it before.
    pub known: bool,
    /// What is odd about it.
    pub warnings: Vec<String>,
}

/// A photo whose true time is known: the clock of its camera is put right by it.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveClock {
    /// Who says so.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Key of the photo.
    pub id: String,
    /// Its true local time: `2026-07-14T09:15`, or `09:15` of the day the camera says.
    pub time: String,
}
