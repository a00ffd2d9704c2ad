use super::query;
use crate::desk::TrackFile;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use serde::Deserialize;
use workflow::views::TrackView;

/// What is said of a track that is sent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TrackWords {
    file: String,
    within_m: Option<f64>,
    #[serde(default)]
    preview: bool,
    #[serde(default)]
    by: String,
}

/// The track of a day against the plan: where the boat was, how long, what it missed. Visits without a position get the
/// boat's, unless it is a preview.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/track",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("file" = String, Query, description = "Name of the file"),
        ("within_m" = Option<f64>, Query, description = "A boat this near was at the site, metres; 30 when not given"),
        ("preview" = Option<bool>, Query, description = "Write nothing"),
        ("by" = Option<String>, Query, description = "Who sends it")
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses(
        (status = 200, body = TrackView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn track(
    State(app): State<AppState>,
    Path(name): Path<String>,
    words: Result<Query<TrackWords>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<TrackView>, ApiError> {
    let TrackWords { file, within_m, preview, by } = query(words)?;
    let file = TrackFile { name: file, bytes: bytes.to_vec(), within_m, preview, by };
    Ok(Json(app.ask(move |desk| desk.track(&name, &file)).await?))
}
