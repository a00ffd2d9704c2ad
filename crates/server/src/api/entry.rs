use super::Sent;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use workflow::entry::{HeaderSave, VisitSave};
use workflow::views::{
    BedEntry, EntryTaxonView, EntryView, HeaderConflictView, HeaderEntry, SaveBed, SaveDeletion,
    SaveHeader, SaveLogView, SaveShoreline, SaveTaxon, SaveVisit, SavedVisit, ShorelineEntry,
    SignedView, SpeciesMatchView, UndoneView, VisitConflictView,
};

/// Saves told when nobody says how many.
const SAVES: usize = 50;
/// Names offered when nobody says how many.
const NAMES: usize = 8;

fn visit_answer(save: VisitSave) -> Response {
    match save {
        VisitSave::Saved(saved) => Json(*saved).into_response(),
        VisitSave::Conflict(both) => (StatusCode::CONFLICT, Json(*both)).into_response(),
    }
}

/// All that the form of a survey needs.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/entry",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = EntryView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn entry(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<EntryView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.entry(&name)).await?))
}

/// Keeps a visit, whole; parts may be missing.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/visits/{site}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    request_body = SaveVisit,
    responses(
        (status = 200, body = SavedVisit),
        (status = 400, body = ErrorBody),
        (status = 409, body = VisitConflictView, description = "changed by someone else meanwhile, or sealed")
    )
)]
pub(crate) async fn save_visit(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
    Sent(save): Sent<SaveVisit>,
) -> Result<Response, ApiError> {
    Ok(visit_answer(app.ask(move |desk| desk.save_visit(&name, &site, &save)).await?))
}

/// Deletes a visit.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/visits/{site}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    request_body = SaveDeletion,
    responses(
        (status = 200, body = SavedVisit),
        (status = 404, body = ErrorBody),
        (status = 409, body = VisitConflictView, description = "changed by someone else meanwhile, or sealed")
    )
)]
pub(crate) async fn delete_visit(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
    Sent(save): Sent<SaveDeletion>,
) -> Result<Response, ApiError> {
    Ok(visit_answer(app.ask(move |desk| desk.delete_visit(&name, &site, &save)).await?))
}

/// Keeps the header with its days and its crew, whole.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/header",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = SaveHeader,
    responses(
        (status = 200, body = HeaderEntry),
        (status = 400, body = ErrorBody),
        (status = 409, body = HeaderConflictView, description = "changed by someone else meanwhile, or sealed")
    )
)]
pub(crate) async fn save_header(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveHeader>,
) -> Result<Response, ApiError> {
    Ok(match app.ask(move |desk| desk.save_header(&name, &save)).await? {
        HeaderSave::Saved(saved) => Json(*saved).into_response(),
        HeaderSave::Conflict(both) => (StatusCode::CONFLICT, Json(*both)).into_response(),
    })
}

/// Keeps a surface bed, a new one or one there is.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/beds",
    params(
        ("name" = String, Path, description = "Name of the survey")
    ),
    request_body = SaveBed,
    responses(
        (status = 200, body = BedEntry),
        (status = 400, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn save_bed(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveBed>,
) -> Result<Json<BedEntry>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.save_bed(&name, &save)).await?))
}

/// Deletes a surface bed.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/beds/{id}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("id" = String, Path, description = "Key")
    ),
    request_body = SaveDeletion,
    responses(
        (status = 204, description = "deleted"),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn delete_bed(
    State(app): State<AppState>,
    Path((name, id)): Path<(String, String)>,
    Sent(save): Sent<SaveDeletion>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.delete_bed(&name, &id, &save)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Keeps a shoreline find, a new one or one there is.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/shoreline",
    params(
        ("name" = String, Path, description = "Name of the survey")
    ),
    request_body = SaveShoreline,
    responses(
        (status = 200, body = ShorelineEntry),
        (status = 400, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn save_shoreline(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveShoreline>,
) -> Result<Json<ShorelineEntry>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.save_shoreline(&name, &save)).await?))
}

/// Deletes a shoreline find.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/shoreline/{id}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("id" = String, Path, description = "Key")
    ),
    request_body = SaveDeletion,
    responses(
        (status = 204, description = "deleted"),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn delete_shoreline(
    State(app): State<AppState>,
    Path((name, id)): Path<(String, String)>,
    Sent(save): Sent<SaveDeletion>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.delete_shoreline(&name, &id, &save)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Puts a plant on the lake's list, or changes what is said of one that is there.
#[utoipa::path(
    post,
    path = "/api/taxa",
    request_body = SaveTaxon,
    responses(
        (status = 200, body = EntryTaxonView),
        (status = 400, body = ErrorBody)
    )
)]
pub(crate) async fn add_taxon(
    State(app): State<AppState>,
    Sent(save): Sent<SaveTaxon>,
) -> Result<Json<EntryTaxonView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.add_taxon(&save)).await?))
}

/// Puts the next numbered unknown on the lake's list.
#[utoipa::path(
    post,
    path = "/api/unknowns",
    request_body = SignedView,
    responses(
        (status = 200, body = EntryTaxonView),
        (status = 400, body = ErrorBody)
    )
)]
pub(crate) async fn add_unknown(
    State(app): State<AppState>,
    Sent(save): Sent<SignedView>,
) -> Result<Json<EntryTaxonView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.add_unknown(&save.by)).await?))
}

/// Takes back the last save.
#[utoipa::path(
    post,
    path = "/api/undo",
    request_body = SignedView,
    responses(
        (status = 200, body = UndoneView),
        (status = 400, body = ErrorBody)
    )
)]
pub(crate) async fn undo(
    State(app): State<AppState>,
    Sent(save): Sent<SignedView>,
) -> Result<Json<UndoneView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.undo(&save.by)).await?))
}

/// What is looked for.
#[derive(Debug, Deserialize)]
pub(crate) struct Find {
    #[serde(default)]
    find: String,
    limit: Option<usize>,
}

/// Plants that fit what was typed: code, common, scientific or old name, slips of the pen too.
#[utoipa::path(
    get,
    path = "/api/species",
    params(
        ("find" = String, Query, description = "What was typed"),
        ("limit" = Option<usize>, Query, description = "At most so many")
    ),
    responses((status = 200, body = Vec<SpeciesMatchView>))
)]
pub(crate) async fn species(
    State(app): State<AppState>,
    Query(query): Query<Find>,
) -> Result<Json<Vec<SpeciesMatchView>>, ApiError> {
    let limit = query.limit.unwrap_or(NAMES);
    Ok(Json(app.ask(move |desk| desk.species_matches(&query.find, limit)).await?))
}

/// How many.
#[derive(Debug, Deserialize)]
pub(crate) struct Limit {
    limit: Option<usize>,
}

/// The newest saves that touched a survey: who, when, what.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/history",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("limit" = Option<usize>, Query, description = "At most so many")
    ),
    responses((status = 200, body = Vec<SaveLogView>), (status = 404, body = ErrorBody))
)]
pub(crate) async fn survey_log(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Query(query): Query<Limit>,
) -> Result<Json<Vec<SaveLogView>>, ApiError> {
    let limit = query.limit.unwrap_or(SAVES);
    Ok(Json(app.ask(move |desk| desk.survey_log(&name, limit)).await?))
}

/// Everything that happened to one site's visit, newest first.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/visits/{site}/history",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    responses((status = 200, body = Vec<SaveLogView>), (status = 404, body = ErrorBody))
)]
pub(crate) async fn visit_log(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
) -> Result<Json<Vec<SaveLogView>>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.visit_log(&name, &site)).await?))
}
