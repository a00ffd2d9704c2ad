use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
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
