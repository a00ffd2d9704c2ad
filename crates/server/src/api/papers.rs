use super::Sent;
use crate::desk::{PapersDesk, RecordFile, RecordedFile};
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use workflow::views::{
    ColumnReadView, PlantAlertView, RememberedColumnsView, SaveScale, ScaleBreakView,
    ScaleStandView, ScalesView, SealView, SkippedRowView, TaxonListView, UnderstoodView,
    VerifyView,
};

/// A survey without a plan.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BeginSurvey {
    /// Who is writing.
    #[serde(default)]
    by: String,
    /// Its name.
    name: String,
    /// Key of the rating scale.
    scale: String,
    /// Why it is another scale than the lake's surveys are rated on.
    #[serde(default)]
    scale_reason: String,
    /// Rake throws a site.
    throws_per_site: u8,
}

/// A site known by its code alone.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AddSite {
    /// Who is writing.
    #[serde(default)]
    by: String,
    /// Its code.
    code: String,
}

/// A record to be closed.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CloseRecord {
    /// Who closes it.
    by: String,
    /// Why it is closed although faults are open.
    #[serde(default)]
    despite: Option<String>,
}

/// What is said of a file of records.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch a person sets")]
pub(crate) struct FileWords {
    /// Its name; the ending tells its kind.
    file: String,
    /// Store nothing.
    #[serde(default)]
    preview: bool,
    /// What its columns mean, as TOML.
    #[serde(default)]
    columns: String,
    /// Guess what its columns mean, though the book remembers a file of the same kind.
    #[serde(default)]
    guess_columns: bool,
    /// Sheet of a workbook.
    sheet: Option<String>,
    /// Key of the rating scale.
    scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on.
    #[serde(default)]
    scale_reason: String,
    /// Make a scale of the ratings found.
    #[serde(default)]
    new_scale: bool,
    /// Take unseen names as new plants of the lake.
    #[serde(default)]
    new_taxa: bool,
    /// Unit of depths when the column does not say: `ft` or `m`.
    unit: Option<String>,
    /// The day, ISO, when the file has none.
    date: Option<String>,
    /// Who is writing.
    #[serde(default)]
    by: String,
}

/// A column of a file, and what it was taken for.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct ColumnView {
    /// Its header as it stands in the file.
    header: String,
    /// The key of what it was taken for.
    meaning: String,
}

/// What became of a file of records.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct RecordedFileView {
    /// True when nothing was stored.
    preview: bool,
    /// Key of the scale.
    scale: String,
    /// The survey before when it was rated on another scale, and why where somebody said.
    scale_break: Option<ScaleBreakView>,
    /// Rows read.
    rows_read: usize,
    /// Things that must be put right before the file can be stored; they stand among the rows left
    /// out.
    faults: usize,
    /// Visits.
    visits: usize,
    /// Finds.
    observations: usize,
    /// Sites made from the file.
    new_sites: usize,
    /// Codes of those a planned survey did not have: nobody laid them, or a code was misread.
    unplanned: Vec<String>,
    /// Plants added to the lake's list.
    new_taxa: Vec<TaxonListView>,
    /// Columns, and what they were taken for.
    columns: Vec<ColumnView>,
    /// The file whose columns the book remembered, when this one was read like it.
    remembered: Option<RememberedColumnsView>,
    /// Rows left out.
    skipped: Vec<SkippedRowView>,
    /// Introduced or listed plants that no other survey of the lake holds, with what to do.
    alerts: Vec<PlantAlertView>,
    /// The visits as they were understood.
    understood: Vec<UnderstoodView>,
    /// What the user should know.
    warnings: Vec<String>,
    /// What the columns were taken for, as TOML, for next year.
    map: String,
}

impl From<RecordedFile> for RecordedFileView {
    fn from(RecordedFile { result, columns: map }: RecordedFile) -> Self {
        let columns = result.sheets.into_iter().flat_map(|sheet| sheet.columns);
        let column = |one: ColumnReadView| ColumnView { header: one.header, meaning: one.meaning };
        Self {
            preview: result.preview,
            scale: result.scale,
            scale_break: result.scale_break,
            rows_read: result.rows_read,
            faults: result.faults,
            visits: result.visits,
            observations: result.observations,
            new_sites: result.new_sites,
            unplanned: result.unplanned,
            new_taxa: result.new_taxa,
            columns: columns.map(column).collect(),
            remembered: result.remembered,
            skipped: result.skipped,
            alerts: result.alerts,
            understood: result.understood,
            warnings: result.warnings,
            map,
        }
    }
}

/// Begins a survey whose sites are written as they come.
#[utoipa::path(
    post,
    path = "/api/surveys",
    request_body = BeginSurvey,
    responses((status = 204, description = "begun"), (status = 400, body = ErrorBody))
)]
pub(crate) async fn begin(
    State(app): State<AppState>,
    Json(new): Json<BeginSurvey>,
) -> Result<StatusCode, ApiError> {
    let BeginSurvey { name, scale, scale_reason: reason, throws_per_site, by } = new;
    let save = SaveScale { scale, reason, by };
    app.ask(move |desk| desk.begin_survey(&name, &save, throws_per_site)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// What a survey that begins now can be rated on, and which scales need a reason.
#[utoipa::path(
    get,
    path = "/api/scales",
    responses((status = 200, body = ScalesView), (status = 500, body = ErrorBody))
)]
pub(crate) async fn scales(State(app): State<AppState>) -> Result<Json<ScalesView>, ApiError> {
    Ok(Json(app.ask(PapersDesk::scales).await?))
}

/// How a survey is rated, and what it could be rated on.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/scale",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = ScaleStandView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn scale(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<ScaleStandView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.scale(&name)).await?))
}

/// Rates a survey on another scale, or says why it has its own; a reason is needed.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/scale",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = SaveScale,
    responses(
        (status = 200, body = ScaleStandView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn change_scale(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveScale>,
) -> Result<Json<ScaleStandView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.change_scale(&name, &save)).await?))
}

/// Adds a site known by its code alone.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/sites",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = AddSite,
    responses(
        (status = 204, description = "added"),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn add_site(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Json(site): Json<AddSite>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.add_site(&name, &site.code, &site.by)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Reads a file of records and stores it; with `preview` it is only read.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/record",
    params(
        ("name" = String, Path, description = "Name of the survey; made when new"),
        ("file" = String, Query, description = "Name of the file; the ending tells its kind"),
        ("preview" = Option<bool>, Query, description = "Store nothing"),
        ("columns" = Option<String>, Query, description = "What its columns mean, as TOML"),
        ("guess_columns" = Option<bool>, Query, description = "Guess what its columns mean, though the book remembers"),
        ("sheet" = Option<String>, Query, description = "Sheet of a workbook"),
        ("scale" = Option<String>, Query, description = "Key of the rating scale"),
        ("scale_reason" = Option<String>, Query, description = "Why it is another scale than the surveys before were rated on"),
        ("new_scale" = Option<bool>, Query, description = "Make a scale of the ratings found"),
        ("new_taxa" = Option<bool>, Query, description = "Take unseen names as new plants"),
        ("unit" = Option<String>, Query, description = "Unit of bare depths: `ft` or `m`"),
        ("date" = Option<String>, Query, description = "The day, when the file has none"),
        ("by" = Option<String>, Query, description = "Who is writing")
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses((status = 200, body = RecordedFileView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn record_file(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Query(words): Query<FileWords>,
    bytes: Bytes,
) -> Result<Json<RecordedFileView>, ApiError> {
    let file = RecordFile {
        name: words.file,
        bytes: bytes.to_vec(),
        columns: words.columns,
        guess_columns: words.guess_columns,
        sheet: words.sheet,
        preview: words.preview,
        scale: words.scale,
        scale_reason: words.scale_reason,
        new_scale: words.new_scale,
        new_taxa: words.new_taxa,
        unit: words.unit,
        date: words.date,
        by: words.by,
    };
    Ok(Json(app.ask(move |desk| desk.record_file(&name, &file)).await?.into()))
}

/// Closes a record.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/seal",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = CloseRecord,
    responses(
        (status = 200, body = SealView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn seal(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Json(close): Json<CloseRecord>,
) -> Result<Json<SealView>, ApiError> {
    let sealed = move |desk: &dyn crate::desk::Desk| {
        let despite = close.despite.as_deref().map(str::trim).filter(|why| !why.is_empty());
        desk.seal(&name, close.by.trim(), despite)
    };
    Ok(Json(app.ask(sealed).await?))
}

/// Recomputes every seal of the book and the chain of its log.
#[utoipa::path(
    get,
    path = "/api/verify",
    responses((status = 200, body = VerifyView), (status = 500, body = ErrorBody))
)]
pub(crate) async fn verify(State(app): State<AppState>) -> Result<Json<VerifyView>, ApiError> {
    Ok(Json(app.ask(PapersDesk::verify).await?))
}
