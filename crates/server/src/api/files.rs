use super::lake_words::finite;
use super::picture_ask::FileAsk;
use super::query;
use crate::desk::NewFile;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use workflow::add::{AddKind, AddOptions};
use workflow::views::AddView;

/// A file into the lake: read whole, checked against the lake, and stored in one save or not at all.
#[utoipa::path(post, path = "/api/files", params(FileAsk),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses((status = 200, body = AddView), (status = 400, body = ErrorBody)))]
pub(crate) async fn add(
    State(app): State<AppState>,
    ask: Result<Query<FileAsk>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<AddView>, ApiError> {
    let ask = query(ask)?;
    let kind = AddKind::from_key(&ask.kind).ok_or_else(|| {
        let words: Vec<&str> = AddKind::ALL.iter().map(|one| one.key()).collect();
        ApiError::unknown_word("kind of file", &ask.kind, &words)
    })?;
    let some = |text: Option<String>| text.filter(|text| !text.trim().is_empty());
    let unit = some(ask.unit)
        .map(|unit| {
            unit.parse().map_err(|_unknown| {
                let hint = "write `ft`, `m` or `cm`";
                let message = format!("`{unit}` is no unit of depth");
                ApiError::refuse(StatusCode::BAD_REQUEST, &message, hint)
            })
        })
        .transpose()?;
    let file = NewFile {
        kind,
        name: ask.name,
        bytes: bytes.to_vec(),
        options: AddOptions {
            layer: some(ask.layer),
            crs: some(ask.crs),
            unit,
            surface: finite("surface", ask.surface)?,
            transducer: finite("transducer_m", ask.transducer_m)?,
            water_level: finite("water_level_m", ask.water_level_m)?,
            fix: ask.fix.unwrap_or(false),
            preview: ask.preview.unwrap_or(false),
            depth_column: some(ask.depth_column),
            code_column: some(ask.code_column),
            name_column: some(ask.name_column),
            sketch: true,
            ..AddOptions::default()
        },
    };
    Ok(Json(app.ask(move |desk| desk.add_file(&file)).await?))
}
