use crate::desk::FindingsDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use serde::Deserialize;
use workflow::views::{SpreadView, TrendView, TrendsView};

/// The plant.
#[derive(Debug, Deserialize)]
pub(crate) struct Plant {
    taxon: String,
}

/// A plant over the years.
#[utoipa::path(
    get,
    path = "/api/trend",
    params(("taxon" = String, Query, description = "Code or name of the plant; `any` for all plants together")),
    responses(
        (status = 200, body = TrendView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn trend(
    State(app): State<AppState>,
    plant: Result<Query<Plant>, QueryRejection>,
) -> Result<Json<TrendView>, ApiError> {
    let Ok(Query(plant)) = plant else {
        let hint = "name one: `/api/trend?taxon=CODE`, or ask for all with `/api/trends`";
        return Err(ApiError::refuse(StatusCode::BAD_REQUEST, "no plant is named", hint));
    };
    Ok(Json(app.ask(move |desk| desk.trend(&plant.taxon)).await?))
}

/// Every plant over the years, any plant first.
#[utoipa::path(get, path = "/api/trends", responses((status = 200, body = TrendsView)))]
pub(crate) async fn trends(State(app): State<AppState>) -> Result<Json<TrendsView>, ApiError> {
    Ok(Json(app.ask(FindingsDesk::trends).await?))
}

/// A plant and two surveys.
#[derive(Debug, Deserialize)]
pub(crate) struct Moved {
    taxon: String,
    from: String,
    to: String,
}

/// Where a plant moved between two surveys.
#[utoipa::path(
    get,
    path = "/api/spread",
    params(
        ("taxon" = String, Query, description = "Code or name of the plant"),
        ("from" = String, Query, description = "Name of the earlier survey"),
        ("to" = String, Query, description = "Name of the later survey")
    ),
    responses(
        (status = 200, body = SpreadView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn spread(
    State(app): State<AppState>,
    moved: Result<Query<Moved>, QueryRejection>,
) -> Result<Json<SpreadView>, ApiError> {
    let Ok(Query(moved)) = moved else {
        let hint = "name them: `/api/spread?taxon=CODE&from=EARLIER&to=LATER`";
        let message = "a plant and two surveys are needed";
        return Err(ApiError::refuse(StatusCode::BAD_REQUEST, message, hint));
    };
    Ok(Json(app.ask(move |desk| desk.spread(&moved.taxon, &moved.from, &moved.to)).await?))
}
