use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use workflow::route::RouteWords;
use workflow::views::RouteView;

/// A day on the water: which boat goes where, in which order, and when it is back.
#[utoipa::path(
    get,
    path = "/api/route",
    params(RouteWords),
    responses(
        (status = 200, body = RouteView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn route(
    State(app): State<AppState>,
    words: Result<Query<RouteWords>, QueryRejection>,
) -> Result<Json<RouteView>, ApiError> {
    let words = words.map_err(|reason| {
        let hint = "`/api/openapi.json` lists the words of `/api/route`";
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason.body_text(), hint)
    })?;
    Ok(Json(app.ask(move |desk| desk.route(&words)).await?))
}

/// The route a survey keeps, with the hours and ways its papers follow.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/route",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = RouteView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn kept(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<RouteView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.kept_route(&name)).await?))
}

/// Plans a day and keeps it: sheets and GPS files follow it from now on.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/route",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = RouteWords,
    responses(
        (status = 200, body = RouteView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn keep(
    State(app): State<AppState>,
    Path(name): Path<String>,
    words: Result<Json<RouteWords>, JsonRejection>,
) -> Result<Json<RouteView>, ApiError> {
    let Json(words) = words.map_err(|reason| {
        let hint = "`/api/openapi.json` lists the words of a route";
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason.body_text(), hint)
    })?;
    let words = RouteWords { survey: name, try_at: None, ..words };
    Ok(Json(app.ask(move |desk| desk.keep_route(&words)).await?))
}

/// Forgets the route a survey keeps: its papers follow the plan again.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/route",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 204), (status = 404, body = ErrorBody))
)]
pub(crate) async fn forget(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.forget_route(&name)).await?;
    Ok(StatusCode::NO_CONTENT)
}
