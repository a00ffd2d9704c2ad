use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use serde::Deserialize;
use workflow::views::{ExtentView, FindingsView};

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

/// The taxon to map.
#[derive(Debug, Deserialize)]
pub(crate) struct Mapped {
    taxon: String,
}

/// A map of the chance of a taxon over the water.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/extent",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("taxon" = String, Query, description = "Code or name of the plant; `any` for all plants together")
    ),
    responses(
        (status = 200, body = ExtentView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn extent(
    State(app): State<AppState>,
    Path(name): Path<String>,
    mapped: Result<Query<Mapped>, QueryRejection>,
) -> Result<Json<ExtentView>, ApiError> {
    let Ok(Query(mapped)) = mapped else {
        let hint = "name it: `/api/surveys/NAME/extent?taxon=CODE`";
        return Err(ApiError::refuse(
            StatusCode::BAD_REQUEST,
            "one plant is mapped at a time",
            hint,
        ));
    };
    Ok(Json(app.ask(move |desk| desk.extent(&name, &mapped.taxon)).await?))
}
