use super::PlantAlertView;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A survey's header.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SurveyView {
    /// Name, unique in the book.
    pub name: String,
    /// Why, as a key such as `baseline`.
    pub purpose: String,
    /// How, as a key such as `point-intercept`.
    pub method: String,
    /// First day, ISO.
    pub start: Option<String>,
    /// Last day, ISO.
    pub end: Option<String>,
    /// Key of the rating scale.
    pub scale: String,
    /// Rake throws a site.
    pub throws_per_site: u8,
    /// Deeper sites were not visited by rule.
    pub depth_cap_m: Option<f64>,
    /// Sites planned.
    pub planned: usize,
    /// Sites visited.
    pub visited: usize,
    /// Sites sampled.
    pub sampled: usize,
    /// Set once the record is closed.
    pub seal: Option<SealView>,
    /// Changes made after the seal.
    pub amendments: Vec<AmendmentView>,
    /// Who was there.
    pub crew: Vec<CrewView>,
    /// The days.
    pub conditions: Vec<ConditionsView>,
    /// Layout of the sites, e.g. `point-grid`.
    pub layout: String,
    /// Remark.
    pub note: String,
}

/// A change after the seal.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AmendmentView {
    /// Who.
    pub by: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// Why.
    pub why: String,
    /// Codes of the sites whose visits it changed.
    pub sites: Vec<String>,
}

/// The seal of a survey.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SealView {
    /// Who closed it.
    pub by: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// SHA-256 of the canonical record.
    pub sha256: String,
}

/// A person of the crew.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct CrewView {
    /// Name.
    pub name: String,
    /// Role, as a key.
    pub role: String,
    /// True when they named the plants.
    pub identified: bool,
}

/// A day on the water.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ConditionsView {
    /// The day, ISO.
    pub date: Option<String>,
    /// Air temperature, °C.
    pub air_c: Option<f64>,
    /// Water temperature, °C.
    pub water_c: Option<f64>,
    /// Weather.
    pub weather: String,
    /// Wind, m/s.
    pub wind_m_s: Option<f64>,
    /// Wind in words.
    pub wind_words: String,
    /// Secchi depth.
    pub secchi_m: Option<f64>,
    /// Water level against the datum of the depths.
    pub water_level_m: Option<f64>,
    /// Gear.
    pub gear: String,
}

/// A rating scale.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ScaleView {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// Where it comes from.
    pub source: String,
    /// Steps, least first.
    pub steps: Vec<StepView>,
}

/// A step of a scale.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StepView {
    /// Code on the sheet.
    pub code: String,
    /// Name.
    pub name: String,
    /// How it is measured in the boat.
    pub measure: String,
    /// Number used in statistics.
    pub value: Option<u8>,
    /// False for the step of plants seen beside the rake.
    pub on_rake: bool,
}

/// The sites of a survey with what came of them, for the map.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SurveySitesView {
    /// Survey.
    pub survey: String,
    /// Scale.
    pub scale: ScaleView,
    /// Sites in the order of the plan.
    pub sites: Vec<SiteView>,
}

/// A site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SiteView {
    /// Code.
    pub code: String,
    /// Zone.
    pub zone: Option<String>,
    /// Landmark.
    pub landmark: String,
    /// Kept in reserve.
    pub spare: bool,
    /// Taken out of the plan: why and by whom; none for a site that stands.
    pub dropped: Option<String>,
    /// Planned longitude.
    pub lon: Option<f64>,
    /// Planned latitude.
    pub lat: Option<f64>,
    /// East in the working system, of the boat where known, else planned.
    pub x: Option<f64>,
    /// North in the working system.
    pub y: Option<f64>,
    /// Depth by the map.
    pub map_depth_m: Option<f64>,
    /// Depth measured.
    pub depth_m: Option<f64>,
    /// Bottom, as a key.
    pub sediment: Option<String>,
    /// Outcome, as a key; none when nobody went.
    pub outcome: Option<String>,
    /// Largest rating of the whole rake, as a number.
    pub total_rating: Option<f64>,
    /// Species on the rake.
    pub species: usize,
    /// What was found.
    pub taxa: Vec<SiteTaxonView>,
    /// Remark.
    pub note: String,
}

/// A taxon at a site.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SiteTaxonView {
    /// Code.
    pub code: String,
    /// Largest rating over the throws, as its code.
    pub rating: Option<String>,
    /// The same as a number.
    pub value: Option<f64>,
    /// Place of the step among the scale's steps above zero, from 1.
    pub rank: Option<usize>,
    /// `rake`, `visual` or `shoreline`.
    pub seen: String,
}

/// What recording a file did.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RecordResultView {
    /// Survey.
    pub survey: String,
    /// True when nothing was stored.
    pub preview: bool,
    /// Key of the scale.
    pub scale: String,
    /// The survey before when it was rated on another scale, and why where somebody said.
    pub scale_break: Option<ScaleBreakView>,
    /// Rows read.
    pub rows_read: usize,
    /// Things that must be put right before the file can be stored, where it was looked at only.
    pub faults: usize,
    /// Visits recorded.
    pub visits: usize,
    /// Observations recorded.
    pub observations: usize,
    /// Sites made from the file.
    pub new_sites: usize,
    /// Codes of those a planned survey did not have: nobody laid them, or a code was misread.
    pub unplanned: Vec<String>,
    /// Taxa added to the lake's list.
    pub new_taxa: Vec<TaxonListView>,
    /// The sheets of the file; the one that was read says its columns.
    pub sheets: Vec<SheetReadView>,
    /// The file whose columns were remembered, when this one was read like it.
    pub remembered: Option<RememberedColumnsView>,
    /// Rows left out.
    pub skipped: Vec<SkippedRowView>,
    /// Introduced or listed plants that no other survey of the lake holds, with what to do.
    pub alerts: Vec<PlantAlertView>,
    /// The visits as they were understood, in the order of the file.
    pub understood: Vec<UnderstoodView>,
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// How a survey is rated, and what it could be rated on.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ScaleStandView {
    /// The survey.
    pub survey: String,
    /// What it is rated on.
    pub scale: ScaleView,
    /// Why it is another than the surveys before were rated on; empty when nobody said.
    pub reason: String,
    /// What the survey before was rated on; none for the first.
    pub programme: Option<ProgrammeScaleView>,
    /// Whether it is rated on something else than that.
    pub differs: bool,
    /// Whether it is sealed, so that the scale stands.
    pub sealed: bool,
    /// How many ratings are written.
    pub ratings: usize,
    /// Scales it could be rated on.
    pub choices: Vec<ScaleChoiceView>,
}

/// What the survey before was rated on.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ProgrammeScaleView {
    /// That survey.
    pub survey: String,
    /// Key of the scale.
    pub scale: String,
    /// Its name.
    pub name: String,
}

/// What a survey that begins now can be rated on.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ScalesView {
    /// What the last survey was rated on; none before the first.
    pub programme: Option<ProgrammeScaleView>,
    /// Key of the scale that is taken when nobody says.
    pub usual: String,
    /// The scales.
    pub choices: Vec<NewScaleView>,
}

/// A scale for a survey that begins.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct NewScaleView {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// Whether it is another than the last survey was rated on, so that a reason is needed.
    pub breaks: bool,
}

/// A survey rated on another scale than the one before it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ScaleBreakView {
    /// What the survey before was rated on.
    pub before: ProgrammeScaleView,
    /// Key of the scale of this one.
    pub scale: String,
    /// Why; empty when nobody said.
    pub reason: String,
}

/// A scale to choose.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ScaleChoiceView {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// Codes written in the survey that it has not; only a scale that lacks none can be taken.
    pub lacks: Vec<String>,
}

/// Another scale for a survey, or the reason for the one it has.
#[derive(Debug, Clone, Default, Serialize, Deserialize, ToSchema)]
pub struct SaveScale {
    /// Key of the scale.
    pub scale: String,
    /// Why.
    pub reason: String,
    /// Who is writing.
    #[serde(default)]
    pub by: String,
}

/// A file of records whose columns the book remembers.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct RememberedColumnsView {
    /// Its name.
    pub file: String,
    /// Survey it was recorded into.
    pub survey: String,
    /// When, ISO.
    pub kept_at: String,
}

/// A visit as it was understood from a file.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct UnderstoodView {
    /// Code of the site.
    pub site: String,
    /// Local time, ISO.
    pub time: Option<String>,
    /// Depth measured.
    pub depth_m: Option<f64>,
    /// Bottom, as a key.
    pub sediment: Option<String>,
    /// Why it was not sampled, as a key; none when it was.
    pub not_sampled: Option<String>,
    /// What each throw brought up, as codes with their ratings; a bare rake is `0`.
    pub throws: Vec<String>,
    /// Remark.
    pub note: String,
}

/// A sheet of a file of records.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SheetReadView {
    /// Name; empty for a file that has no sheets.
    pub name: String,
    /// Row of its header, as a spreadsheet numbers it; none for a sheet that was not read.
    pub header_row: Option<usize>,
    /// Its columns; none for a sheet that was not read.
    pub columns: Vec<ColumnReadView>,
}

/// A column and what it was taken for.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ColumnReadView {
    /// Place in the row, from 0.
    pub index: usize,
    /// Header as it stands in the file.
    pub header: String,
    /// What it was taken for, as a key.
    pub meaning: String,
    /// The plant it is about.
    pub taxon: Option<String>,
    /// The unit its header states.
    pub unit: Option<String>,
}

/// A row left out.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SkippedRowView {
    /// Row, as a spreadsheet numbers it.
    pub row: usize,
    /// Why.
    pub reason: String,
}

/// A taxon of the lake's list.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TaxonListView {
    /// Code.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// Origin.
    pub origin: String,
    /// Growth form.
    pub growth_form: String,
}

/// A find of the check.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct CheckView {
    /// Stable within one state of the record.
    pub id: String,
    /// `fault` or `doubt`.
    pub severity: String,
    /// Stable kind, e.g. `missing-depth`.
    pub kind: String,
    /// Site or header.
    #[serde(rename = "where")]
    pub place: String,
    /// What was found.
    pub message: String,
    /// Why it matters.
    pub why: String,
    /// What to do.
    pub remedy: String,
    /// True once a person has settled it.
    pub settled: bool,
    /// Why it is right as it is, when settled.
    pub reason: Option<String>,
    /// Who said so.
    pub settled_by: Option<String>,
}

/// What `verify` found.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct VerifyView {
    /// Surveys with a seal.
    pub sealed: usize,
    /// True when everything holds.
    pub ok: bool,
    /// What does not.
    pub broken: Vec<BrokenView>,
}

/// Something that no longer holds.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BrokenView {
    /// What.
    pub what: String,
    /// Where.
    #[serde(rename = "where")]
    pub place: String,
    /// What was expected.
    pub expected: String,
    /// What was found.
    pub found: String,
}
