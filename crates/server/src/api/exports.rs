use super::hand_out;
use crate::desk::ExportFormat;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::extract::{Path, State};
use axum::response::Response;

/// A survey in an open format, as a file to keep.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/export/{format}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("format" = String, Path, description = "`csv`, `geojson` or `gpx`")
    ),
    responses(
        (status = 200, content_type = "application/octet-stream", body = Vec<u8>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn export(
    State(app): State<AppState>,
    Path((name, format)): Path<(String, String)>,
) -> Result<Response, ApiError> {
    let Some(known) = ExportFormat::ALL.into_iter().find(|known| known.key() == format) else {
        let known = ExportFormat::ALL.map(ExportFormat::key);
        return Err(ApiError::unknown_word("export", &format, &known));
    };
    Ok(hand_out(app.ask(move |desk| desk.export(&name, known)).await?, "attachment"))
}
