use super::{body, query};
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{Path, Query, State};
use workflow::effort::{DesignsAsk, EffortAsk};
use workflow::plan::{PlanAsk, SiteAsk};
use workflow::views::{DesignsView, EffortView, PlanView};

/// How many sites a purpose needs on this lake.
#[utoipa::path(
    get,
    path = "/api/effort",
    params(EffortAsk),
    responses((status = 200, body = EffortView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn effort(
    State(app): State<AppState>,
    ask: Result<Query<EffortAsk>, QueryRejection>,
) -> Result<Json<EffortView>, ApiError> {
    let ask = query(ask)?;
    Ok(Json(app.ask(move |desk| desk.effort(&ask)).await?))
}

/// Ways to lay the same number of sites, side by side.
#[utoipa::path(
    get,
    path = "/api/designs",
    params(DesignsAsk),
    responses((status = 200, body = DesignsView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn designs(
    State(app): State<AppState>,
    ask: Result<Query<DesignsAsk>, QueryRejection>,
) -> Result<Json<DesignsView>, ApiError> {
    let ask = query(ask)?;
    Ok(Json(app.ask(move |desk| desk.designs(&ask)).await?))
}

/// A plan as it would be laid; nothing is kept.
#[utoipa::path(
    post,
    path = "/api/plan/preview",
    request_body = PlanAsk,
    responses((status = 200, body = PlanView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn preview(
    State(app): State<AppState>,
    ask: Result<Json<PlanAsk>, JsonRejection>,
) -> Result<Json<PlanView>, ApiError> {
    let ask = body(ask)?;
    Ok(Json(app.ask(move |desk| desk.preview_plan(&ask)).await?))
}

/// Lays the sites of a survey and keeps them.
#[utoipa::path(
    post,
    path = "/api/plan",
    request_body = PlanAsk,
    responses((status = 200, body = PlanView), (status = 400, body = ErrorBody))
)]
pub(crate) async fn plan(
    State(app): State<AppState>,
    ask: Result<Json<PlanAsk>, JsonRejection>,
) -> Result<Json<PlanView>, ApiError> {
    let ask = body(ask)?;
    Ok(Json(app.ask(move |desk| desk.plan(&ask)).await?))
}

/// The plan of a survey as it stands, with what was changed by hand.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/plan",
    params(("name" = String, Path, description = "Name of the survey")),
    responses((status = 200, body = PlanView), (status = 404, body = ErrorBody))
)]
pub(crate) async fn planned(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<PlanView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.planned(&name)).await?))
}

/// Moves, drops, restores or adds a site; the plan as it then stands.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/sites/{code}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("code" = String, Path, description = "Code of the site; `new` for one with the next number")
    ),
    request_body = SiteAsk,
    responses(
        (status = 200, body = PlanView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn change_site(
    State(app): State<AppState>,
    Path((name, code)): Path<(String, String)>,
    ask: Result<Json<SiteAsk>, JsonRejection>,
) -> Result<Json<PlanView>, ApiError> {
    let ask = body(ask)?;
    Ok(Json(app.ask(move |desk| desk.change_site(&name, &code, &ask)).await?))
}
