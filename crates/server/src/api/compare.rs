use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use serde::Deserialize;
use workflow::views::CompareView;

/// The two surveys.
#[derive(Debug, Deserialize)]
pub(crate) struct Pair {
    pub(super) from: String,
    pub(super) to: String,
}

/// Two surveys side by side.
#[utoipa::path(
    get,
    path = "/api/compare",
    params(
        ("from" = String, Query, description = "Name of the earlier survey"),
        ("to" = String, Query, description = "Name of the later survey")
    ),
    responses(
        (status = 200, body = CompareView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn compare(
    State(app): State<AppState>,
    pair: Result<Query<Pair>, QueryRejection>,
) -> Result<Json<CompareView>, ApiError> {
    let Ok(Query(pair)) = pair else {
        let hint = "name both: `/api/compare?from=EARLIER&to=LATER`";
        return Err(ApiError::refuse(StatusCode::BAD_REQUEST, "two surveys are compared", hint));
    };
    Ok(Json(app.ask(move |desk| desk.compare(&pair.from, &pair.to)).await?))
}
