use super::picture_ask::YearAsk;
use super::query;
use crate::desk::LakeDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use workflow::views::{LakeView, MapView};

/// Measures of the lake.
#[utoipa::path(
    get,
    path = "/api/lake",
    params(YearAsk),
    responses((status = 200, body = LakeView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn lake(
    State(app): State<AppState>,
    ask: Result<Query<YearAsk>, QueryRejection>,
) -> Result<Json<LakeView>, ApiError> {
    let year = query(ask)?.year;
    Ok(Json(app.ask(move |desk| desk.lake(year)).await?))
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
