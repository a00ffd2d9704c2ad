use super::lake_words::LakeWords;
use super::query;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use workflow::views::{DistanceView, LakeView, MapView};

/// Measures of the lake.
#[utoipa::path(
    get,
    path = "/api/lake",
    params(LakeWords),
    responses(
        (status = 200, body = LakeView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn lake(
    State(app): State<AppState>,
    words: Result<Query<LakeWords>, QueryRejection>,
) -> Result<Json<LakeView>, ApiError> {
    let ask = query(words)?.ask()?;
    Ok(Json(app.ask(move |desk| desk.lake(&ask)).await?))
}

/// The lake as a drawing.
#[utoipa::path(
    get,
    path = "/api/map",
    params(LakeWords),
    responses(
        (status = 200, body = MapView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn map(
    State(app): State<AppState>,
    words: Result<Query<LakeWords>, QueryRejection>,
) -> Result<Json<MapView>, ApiError> {
    let ask = query(words)?.ask()?;
    Ok(Json(app.ask(move |desk| desk.map(&ask)).await?))
}

/// Where the water lies far from any depth that was measured.
#[utoipa::path(
    get,
    path = "/api/map/distance",
    params(LakeWords),
    responses(
        (status = 200, body = DistanceView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn distances(
    State(app): State<AppState>,
    words: Result<Query<LakeWords>, QueryRejection>,
) -> Result<Json<DistanceView>, ApiError> {
    let ask = query(words)?.ask()?;
    Ok(Json(app.ask(move |desk| desk.distances(&ask)).await?))
}

/// The littoral zone asked for becomes the lake's own.
#[utoipa::path(
    put,
    path = "/api/lake/littoral",
    params(LakeWords),
    responses(
        (status = 200, body = LakeView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn keep_littoral(
    State(app): State<AppState>,
    words: Result<Query<LakeWords>, QueryRejection>,
) -> Result<Json<LakeView>, ApiError> {
    let ask = query(words)?.ask()?;
    Ok(Json(app.ask(move |desk| desk.keep_littoral(&ask)).await?))
}
