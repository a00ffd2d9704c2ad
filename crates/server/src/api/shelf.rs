use super::body;
use crate::desk::DeskError;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use workflow::shelf::NewLakeAsk;
use workflow::views::{ShelfBookView, ShelfView};

/// The lake books beside this one; `FILE` of each answers below `/books/FILE` as this one does.
#[utoipa::path(
    get,
    path = "/api/books",
    responses((status = 200, body = ShelfView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn books(State(app): State<AppState>) -> Result<Json<ShelfView>, ApiError> {
    let Some(shelf) = app.shelf() else { return Ok(Json(ShelfView::default())) };
    Ok(Json(app.away(move || shelf.shelf().books()).await?))
}

/// A new lake book, with a name and nothing else.
#[utoipa::path(
    post,
    path = "/api/books",
    request_body = NewLakeAsk,
    responses((status = 200, body = ShelfBookView), (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody), (status = 409, body = ErrorBody))
)]
pub(crate) async fn begin(
    State(app): State<AppState>,
    ask: Result<Json<NewLakeAsk>, JsonRejection>,
) -> Result<Json<ShelfBookView>, ApiError> {
    let ask = body(ask)?;
    let shelf = app.shelf();
    let begun = app.away(move || {
        let none = || {
            DeskError::not_found(
                "this server keeps one book and begins no others",
                "start it with a folder: `quillwort serve FOLDER`",
            )
        };
        shelf.ok_or_else(none)?.shelf().begin(&ask)
    });
    Ok(Json(begun.await?))
}
