use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::{Path, State};
use workflow::views::FindingsView;

/// What a survey says.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/findings",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = FindingsView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn findings(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<FindingsView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.findings(&name)).await?))
}
