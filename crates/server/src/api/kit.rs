use crate::desk::OutwardDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::StatusCode;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The kit list as text.
#[derive(Debug, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct KitText {
    /// One thing a line; a line that begins with `#` is a heading, one with `~` stays ashore and is not printed.
    text: String,
}

/// The kit list: the lake's own, else the usual one.
#[utoipa::path(get, path = "/api/kit", responses((status = 200, body = KitText)))]
pub(crate) async fn kit(State(app): State<AppState>) -> Result<Json<KitText>, ApiError> {
    Ok(Json(KitText { text: app.ask(OutwardDesk::kit).await? }))
}

/// Makes the kit list the lake's own; an empty text goes back to the usual one.
#[utoipa::path(
    put,
    path = "/api/kit",
    request_body = KitText,
    responses((status = 200, body = KitText), (status = 400, body = ErrorBody))
)]
pub(crate) async fn keep_kit(
    State(app): State<AppState>,
    text: Result<Json<KitText>, JsonRejection>,
) -> Result<Json<KitText>, ApiError> {
    let Json(KitText { text }) = text.map_err(|reason| {
        let hint = "send `{\"text\": \"# To sample\\nrake\"}`";
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason.body_text(), hint)
    })?;
    Ok(Json(KitText { text: app.ask(move |desk| desk.keep_kit(&text)).await? }))
}
