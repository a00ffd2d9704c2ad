use super::hand_out;
use super::look::LookWords;
use crate::desk::{Look, PrintKind};
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;

fn known(kind: &str) -> Result<PrintKind, ApiError> {
    PrintKind::from_key(kind).ok_or_else(|| {
        let words: Vec<&str> = PrintKind::ALL.iter().map(|one| one.key()).collect();
        ApiError::unknown_word("print", kind, &words)
    })
}

fn look(words: Result<Query<LookWords>, QueryRejection>) -> Result<Look, ApiError> {
    let Query(words) = words.map_err(|reason| {
        let hint = "write it as `?paper=a4&black_and_white=true&large=true&spares=2`";
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason.body_text(), hint)
    })?;
    Ok(words.look())
}

/// A print of a survey as PDF.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/print/{kind}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("kind" = String, Path, description = "`safety`, `kit`, `sheets`, `map-pages`, `map`, `depth-map`, `plant-cards`, `voucher-labels`, `residents-card`, `report`, `record`, or `packet` for all papers of the day in one file"),
        LookWords
    ),
    responses(
        (status = 200, content_type = "application/pdf", body = Vec<u8>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn print(
    State(app): State<AppState>,
    Path((name, kind)): Path<(String, String)>,
    words: Result<Query<LookWords>, QueryRejection>,
) -> Result<Response, ApiError> {
    let (kind, look) = (known(&kind)?, look(words)?);
    Ok(hand_out(app.ask(move |desk| desk.print(Some(&name), kind, look)).await?, "inline"))
}

/// A print of the lake alone as PDF: depth map, plant cards, residents' card.
#[utoipa::path(
    get,
    path = "/api/print/{kind}",
    params(("kind" = String, Path, description = "`depth-map`, `plant-cards` or `residents-card`"), LookWords),
    responses(
        (status = 200, content_type = "application/pdf", body = Vec<u8>),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn print_lake(
    State(app): State<AppState>,
    Path(kind): Path<String>,
    words: Result<Query<LookWords>, QueryRejection>,
) -> Result<Response, ApiError> {
    let (kind, look) = (known(&kind)?, look(words)?);
    Ok(hand_out(app.ask(move |desk| desk.print(None, kind, look)).await?, "inline"))
}

/// All papers of a survey's day and the files for GPS units, as a ZIP archive.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/packet",
    params(("name" = String, Path, description = "Name of the survey"), LookWords),
    responses(
        (status = 200, content_type = "application/zip", body = Vec<u8>),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn packet(
    State(app): State<AppState>,
    Path(name): Path<String>,
    words: Result<Query<LookWords>, QueryRejection>,
) -> Result<Response, ApiError> {
    let look = look(words)?;
    Ok(hand_out(app.ask(move |desk| desk.packet(&name, look)).await?, "attachment"))
}
