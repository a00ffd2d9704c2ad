use crate::desk::LakeDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::State;
use workflow::views::BookView;

/// The book as the first page needs it.
#[utoipa::path(
    get,
    path = "/api/book",
    responses((status = 200, body = BookView), (status = 500, body = ErrorBody))
)]
pub(crate) async fn book(State(app): State<AppState>) -> Result<Json<BookView>, ApiError> {
    Ok(Json(app.ask(LakeDesk::book).await?))
}
