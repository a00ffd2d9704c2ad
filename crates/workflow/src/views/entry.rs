use super::{AmendmentView, CheckView, CrewView, ScaleView, SealView};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// All that a form needs to write up one survey.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EntryView {
    /// Survey.
    pub survey: String,
    /// `us` or `metric`: the units people write; everything here is SI.
    pub units: String,
    /// Set once the record is closed: what is written then is an amendment.
    pub seal: Option<SealView>,
    /// Changes made after the seal, the oldest first.
    pub amendments: Vec<AmendmentView>,
    /// Header with its version.
    pub header: HeaderEntry,
    /// The one scale.
    pub scale: ScaleView,
    /// Sites in the order of the sheet.
    pub sites: Vec<EntrySiteView>,
    /// Visits written so far.
    pub visits: Vec<VisitEntry>,
    /// The lake's list, most often found first.
    pub species: Vec<EntryTaxonView>,
    /// Surface beds.
    pub beds: Vec<BedEntry>,
    /// Shoreline finds.
    pub shoreline: Vec<ShorelineEntry>,
    /// Names of people in this book, for completion.
    pub people: Vec<String>,
    /// Codes of the zones.
    pub zones: Vec<String>,
    /// Bottoms.
    pub sediments: Vec<WordView>,
    /// Reasons for not sampling.
    pub reasons: Vec<WordView>,
    /// Roles of a crew.
    pub roles: Vec<WordView>,
}

/// A word of a fixed list.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct WordView {
    /// Key, as it is sent.
    pub key: String,
    /// Words a person reads.
    pub words: String,
}

/// A planned site as the form needs it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EntrySiteView {
    /// Code.
    pub code: String,
    /// Landmark.
    pub landmark: String,
    /// Zone.
    pub zone: Option<String>,
    /// Sub-area.
    pub sub_area: Option<String>,
    /// Planned longitude.
    pub lon: Option<f64>,
    /// Planned latitude.
    pub lat: Option<f64>,
    /// Depth by the map.
    pub map_depth_m: Option<f64>,
    /// Kept in reserve.
    pub spare: bool,
    /// Why it was taken out of the plan; none when it stands.
    pub dropped: Option<String>,
}

/// A taxon of the lake's list as the form needs it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EntryTaxonView {
    /// Code, unique in the lake.
    pub code: String,
    /// Codes it had before.
    pub aliases: Vec<String>,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// Old and other names the catalogue knows it by.
    pub other_names: Vec<String>,
    /// Growth form, as a key.
    pub growth_form: String,
    /// `native`, `introduced` or `unknown`.
    pub origin: String,
    /// `species`, `genus`, `hybrid`, `aggregate` or `unidentified`.
    pub rank: String,
    /// Listed noxious, as the user set it.
    pub listed_noxious: bool,
    /// Visits of this survey with it.
    pub found_here: usize,
    /// Visits of all surveys with it.
    pub found: usize,
}

/// The header of a survey as it is written.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HeaderBody {
    /// Written protocol and its version.
    #[serde(default)]
    #[schema(required = true)]
    pub protocol: String,
    /// First day, ISO.
    pub start: Option<String>,
    /// Last day, ISO.
    pub end: Option<String>,
    /// Rake throws a site.
    pub throws_per_site: u8,
    /// Deeper sites were not visited by rule.
    pub depth_cap_m: Option<f64>,
    /// Who was there.
    #[serde(default)]
    #[schema(required = true)]
    pub crew: Vec<CrewView>,
    /// The days.
    #[serde(default)]
    #[schema(required = true)]
    pub days: Vec<DayBody>,
    /// Remark.
    #[serde(default)]
    #[schema(required = true)]
    pub note: String,
}

/// A day on the water as it is written. What is missing is not zero.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DayBody {
    /// The day, ISO.
    pub date: Option<String>,
    /// On the water from, `HH:MM`.
    pub start: Option<String>,
    /// Until, `HH:MM`.
    pub end: Option<String>,
    /// Air temperature, °C.
    pub air_c: Option<f64>,
    /// Water temperature, °C.
    pub water_c: Option<f64>,
    /// Sky and weather.
    #[serde(default)]
    #[schema(required = true)]
    pub weather: String,
    /// Wind, m/s.
    pub wind_m_s: Option<f64>,
    /// Wind in words.
    #[serde(default)]
    #[schema(required = true)]
    pub wind_words: String,
    /// Secchi depth.
    pub secchi_m: Option<f64>,
    /// Water level above (+) or below (−) the datum of the depth map.
    pub water_level_m: Option<f64>,
    /// Rake, rope, GPS unit, boat.
    #[serde(default)]
    #[schema(required = true)]
    pub gear: String,
}

/// A header as it stands.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct HeaderEntry {
    /// The version, to be sent back as `base_version`.
    pub version: String,
    /// Who wrote it last.
    pub changed_by: String,
    /// When, RFC 3339 in UTC.
    pub changed_at: String,
    /// What it says.
    pub header: HeaderBody,
}

/// A visit as it is written: any part may be missing while the sheet is being typed.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct VisitBody {
    /// Local time, `2026-07-14T09:15`, or `09:15` in a survey of one day.
    pub time: Option<String>,
    /// Depth measured.
    pub depth_m: Option<f64>,
    /// Bottom, as a key.
    pub sediment: Option<String>,
    /// Why it was not sampled, as a key; none when it was, or while nobody knows.
    pub not_sampled: Option<String>,
    /// Rake throws; one without plants is a bare rake.
    #[serde(default)]
    #[schema(required = true)]
    pub throws: Vec<ThrowBody>,
    /// Species counted where a publisher gave no names.
    pub reported_species: Option<u16>,
    /// Of these, native.
    pub reported_native_species: Option<u16>,
    /// Longitude of the boat.
    pub lon: Option<f64>,
    /// Latitude of the boat.
    pub lat: Option<f64>,
    /// Stated accuracy of the position.
    pub accuracy_m: Option<f64>,
    /// Who wrote it.
    #[serde(default)]
    #[schema(required = true)]
    pub observer: String,
    /// Remark.
    #[serde(default)]
    #[schema(required = true)]
    pub note: String,
}

/// A rake throw as it is written.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ThrowBody {
    /// 1, 2, 3 …
    pub number: u8,
    /// Code of the step for everything on the rake together.
    pub total: Option<String>,
    /// What was on it, and what was seen beside it.
    #[serde(default)]
    #[schema(required = true)]
    pub observations: Vec<ObservationBody>,
}

/// A taxon on a throw as it is written.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ObservationBody {
    /// Code of the taxon, now or before.
    pub taxon: String,
    /// Code of the step; none when only presence was written down.
    pub rating: Option<String>,
    /// `rake`, or `visual` for a plant seen beside it.
    pub seen: Option<String>,
}

/// A visit as it stands.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VisitEntry {
    /// Code of the site.
    pub site: String,
    /// The version, to be sent back as `base_version`.
    pub version: String,
    /// Who wrote it last.
    pub changed_by: String,
    /// When, RFC 3339 in UTC.
    pub changed_at: String,
    /// `sampled-with-plants`, `sampled-without-plants`, or why not.
    pub outcome: String,
    /// What it says.
    pub visit: VisitBody,
}

/// A visit to be kept.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveVisit {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// The version it was made from; none when there was no visit.
    pub base_version: Option<String>,
    /// The visit, whole.
    pub visit: VisitBody,
    /// Why a sealed record is changed: then the save is an amendment, signed by whoever writes.
    /// Left out for a record that is open.
    pub why: Option<String>,
}

/// A header to be kept.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveHeader {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// The version it was made from.
    pub base_version: Option<String>,
    /// The header, whole.
    pub header: HeaderBody,
}

/// Something to be deleted or taken back.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveDeletion {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// The version that was seen.
    pub base_version: Option<String>,
}

/// A change and who makes it.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SignedView {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
}

/// A visit kept: as it now stands, and what is to be said of it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SavedVisit {
    /// The visit; none when it was deleted.
    pub saved: Option<VisitEntry>,
    /// What the check says of this site.
    pub finds: Vec<CheckView>,
    /// Plants that ask for an act at once.
    pub alerts: Vec<PlantAlertView>,
}

/// A specimen to keep; what is none stays as it is written.
#[derive(Debug, Clone, Default)]
pub struct SaveSpecimen {
    /// Number on its label.
    pub number: String,
    /// Code of the plant.
    pub taxon: Option<String>,
    /// Code of the site it came from.
    pub site: Option<String>,
    /// Who took it.
    pub collector: Option<String>,
    /// The day, ISO.
    pub date: Option<String>,
    /// Where it is kept.
    pub kept_at: Option<String>,
    /// Who confirmed the name, and how.
    pub confirmed_by: Option<String>,
}

/// A specimen that is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SpecimenView {
    /// Number on its label.
    pub number: String,
    /// Code of the plant.
    pub taxon: String,
    /// Code of the site it came from.
    pub site: Option<String>,
    /// Who took it.
    pub collector: String,
    /// The day, ISO.
    pub date: Option<String>,
    /// Where it is kept.
    pub kept_at: String,
    /// Who confirmed the name, and how.
    pub confirmed_by: String,
}

/// A plant that asks for an act at once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct PlantAlertView {
    /// Code of the plant.
    pub taxon: String,
    /// What happened.
    pub message: String,
    /// What to do, step by step.
    pub steps: Vec<String>,
}

/// A visit someone else changed meanwhile: both versions, nothing written.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VisitConflictView {
    /// What happened.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// What stands; none when it was deleted.
    pub current: Option<VisitEntry>,
    /// What was sent.
    pub yours: Option<VisitBody>,
}

/// A header someone else changed meanwhile: both versions, nothing written.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct HeaderConflictView {
    /// What happened.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// What stands.
    pub current: HeaderEntry,
    /// What was sent.
    pub yours: HeaderBody,
}

/// A surface bed as it is written.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BedBody {
    /// Codes of what grows in it.
    pub taxa: Vec<String>,
    /// Code of the step.
    pub rating: Option<String>,
    /// Code of the site it was noted at.
    pub site: Option<String>,
    /// Remark.
    #[serde(default)]
    #[schema(required = true)]
    pub note: String,
}

/// A surface bed as it stands.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BedEntry {
    /// Key.
    pub id: String,
    /// True when its edge is drawn on the map.
    pub drawn: bool,
    /// What it says.
    pub bed: BedBody,
}

/// A surface bed to be kept.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveBed {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Key of the one to change; none for a new one.
    pub id: Option<String>,
    /// The bed.
    pub bed: BedBody,
}

/// A shoreline find as it is written.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ShorelineBody {
    /// Code of the plant.
    pub taxon: String,
    /// Longitude, when known.
    pub lon: Option<f64>,
    /// Latitude, when known.
    pub lat: Option<f64>,
    /// Zone, when that is all that is known.
    pub zone: Option<String>,
    /// Remark.
    #[serde(default)]
    #[schema(required = true)]
    pub note: String,
}

/// A shoreline find as it stands.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ShorelineEntry {
    /// Key.
    pub id: String,
    /// What it says.
    pub find: ShorelineBody,
}

/// A shoreline find to be kept.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveShoreline {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Key of the one to change; none for a new one.
    pub id: Option<String>,
    /// The find.
    pub find: ShorelineBody,
}

/// A taxon to be put on the lake's list.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SaveTaxon {
    /// Who is writing.
    #[serde(default)]
    #[schema(required = true)]
    pub by: String,
    /// Scientific, common or old name; the catalogue fills in the rest when it knows it.
    pub name: String,
    /// Common name, for one the catalogue does not know.
    pub common_name: Option<String>,
    /// Code; one is proposed when none is given.
    pub code: Option<String>,
    /// Growth form, as a key.
    pub growth_form: Option<String>,
    /// Origin, as a key.
    pub origin: Option<String>,
    /// Rank, as a key.
    pub rank: Option<String>,
    /// Listed noxious in this lake's state.
    pub listed_noxious: Option<bool>,
}

/// A name that fits what was typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct SpeciesMatchView {
    /// Code on the lake's list; none for a plant only the catalogue has.
    pub code: Option<String>,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// The name of it that fits, when it is another.
    pub matched: String,
    /// Letters that differ; 0 when what was typed stands in the name.
    pub slips: usize,
}

/// One save of the change log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct SaveLogView {
    /// Key.
    pub id: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Who.
    pub by: String,
    /// The device it was made on.
    pub device: String,
    /// What a person reads.
    pub note: String,
    /// What it changed, such as `visit of site 14`.
    pub changed: Vec<String>,
}

/// What an undo took back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct UndoneView {
    /// Note of the save that was taken back; none when there was nothing left.
    pub undone: Option<String>,
}
