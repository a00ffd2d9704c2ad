use crate::desk::RecordDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::{Path, State};
use workflow::views::{CheckView, SurveySitesView, SurveyView};

/// The surveys, newest first.
#[utoipa::path(
    get,
    path = "/api/surveys",
    responses((status = 200, body = Vec<SurveyView>), (status = 500, body = ErrorBody))
)]
pub(crate) async fn surveys(
    State(app): State<AppState>,
) -> Result<Json<Vec<SurveyView>>, ApiError> {
    Ok(Json(app.ask(RecordDesk::surveys).await?))
}

/// The sites of a survey with what came of them.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/sites",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = SurveySitesView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn sites(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<SurveySitesView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.sites(&name)).await?))
}

/// What the check of a survey finds.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/check",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = Vec<CheckView>), (status = 404, body = ErrorBody))
)]
pub(crate) async fn check(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<Vec<CheckView>>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.check(&name)).await?))
}
