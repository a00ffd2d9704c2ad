use super::hand_out;
use crate::desk::PrintKind;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::extract::{Path, State};
use axum::response::Response;

/// A print of a survey as PDF.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/print/{kind}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("kind" = String, Path, description = "`sheets`, `map` or `report`")
    ),
    responses(
        (status = 200, content_type = "application/pdf", body = Vec<u8>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn print(
    State(app): State<AppState>,
    Path((name, kind)): Path<(String, String)>,
) -> Result<Response, ApiError> {
    let Some(known) = PrintKind::ALL.into_iter().find(|known| known.key() == kind) else {
        return Err(ApiError::unknown_word("print", &kind, &PrintKind::ALL.map(PrintKind::key)));
    };
    Ok(hand_out(app.ask(move |desk| desk.print(&name, known)).await?, "inline"))
}
