use super::{hand_out, query};
use crate::desk::NewSheetPicture;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::response::Response;
use serde::Deserialize;
use workflow::views::SheetScanView;

/// What is said of a picture that is sent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SheetWords {
    file: String,
    sheet: Option<u32>,
    sheets: Option<u32>,
    #[serde(default)]
    sites: String,
    #[serde(default)]
    by: String,
}

/// The pictures of a survey's field sheets.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/sheet-pictures",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = Vec<SheetScanView>), (status = 404, body = ErrorBody))
)]
pub(crate) async fn list(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<Vec<SheetScanView>>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.sheet_pictures(&name)).await?))
}

/// Files a picture of a field sheet by the mark on it, or as it is said where that cannot be read.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/sheet-pictures",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("file" = String, Query, description = "Name of the file"),
        ("sheet" = Option<u32>, Query, description = "Number of the sheet, where its mark cannot be read"),
        ("sheets" = Option<u32>, Query, description = "Number of sheets"),
        ("sites" = Option<String>, Query, description = "Codes of its rows from the top, a line each"),
        ("by" = Option<String>, Query, description = "Who sends it")
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses(
        (status = 200, body = SheetScanView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn add(
    State(app): State<AppState>,
    Path(name): Path<String>,
    words: Result<Query<SheetWords>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<SheetScanView>, ApiError> {
    let SheetWords { file, sheet, sheets, sites, by } = query(words)?;
    let sites = sites.lines().map(str::to_owned).collect();
    let said = sheet.map(|sheet| (sheet, sheets.unwrap_or(sheet), sites));
    let picture = NewSheetPicture { name: file, bytes: bytes.to_vec(), said, by };
    Ok(Json(app.ask(move |desk| desk.add_sheet_picture(&name, picture)).await?))
}

/// The picture of a field sheet, as it was sent.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/sheet-pictures/{sha256}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("sha256" = String, Path, description = "SHA-256 of the file")
    ),
    responses(
        (status = 200, content_type = "image/jpeg", body = Vec<u8>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn picture(
    State(app): State<AppState>,
    Path((name, sha256)): Path<(String, String)>,
) -> Result<Response, ApiError> {
    Ok(hand_out(app.ask(move |desk| desk.sheet_picture(&name, &sha256)).await?, "inline"))
}
