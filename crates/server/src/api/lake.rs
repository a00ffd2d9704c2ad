use crate::desk::LakeDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::State;
use workflow::views::{LakeView, MapView};

/// Measures of the lake.
#[utoipa::path(
    get,
    path = "/api/lake",
    responses((status = 200, body = LakeView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn lake(State(app): State<AppState>) -> Result<Json<LakeView>, ApiError> {
    Ok(Json(app.ask(LakeDesk::lake).await?))
}

/// The lake as a drawing.
#[utoipa::path(
    get,
    path = "/api/map",
    responses((status = 200, body = MapView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn map(State(app): State<AppState>) -> Result<Json<MapView>, ApiError> {
    Ok(Json(app.ask(LakeDesk::map).await?))
}
