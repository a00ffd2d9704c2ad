use crate::desk::FindingsDesk;
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use serde::Deserialize;
use workflow::findings::EfficacyRequest;
use workflow::views::{EfficacyView, TreatmentView};

/// The treatments of the lake.
#[utoipa::path(
    get,
    path = "/api/treatments",
    responses((status = 200, body = Vec<TreatmentView>))
)]
pub(crate) async fn treatments(
    State(app): State<AppState>,
) -> Result<Json<Vec<TreatmentView>>, ApiError> {
    Ok(Json(app.ask(FindingsDesk::treatments).await?))
}

/// What is asked of a treatment; lists are separated by commas.
#[derive(Debug, Deserialize)]
pub(crate) struct Asked {
    treatment: String,
    before: Option<String>,
    after: Option<String>,
    later: Option<String>,
    control: Option<String>,
    target: Option<String>,
    seed: Option<u64>,
}

/// Words of a list separated by commas.
fn words(text: Option<String>) -> Vec<String> {
    let text = text.unwrap_or_default();
    text.split(',').map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a treatment worked.
#[utoipa::path(
    get,
    path = "/api/efficacy",
    params(
        ("treatment" = String, Query, description = "Codes (`T1`) or names of treatments, separated by commas"),
        ("before" = Option<String>, Query, description = "Survey before; the last one before the treatment when left out"),
        ("after" = Option<String>, Query, description = "Survey after; the first one after the treatment when left out"),
        ("later" = Option<String>, Query, description = "Survey a year on"),
        ("control" = Option<String>, Query, description = "Codes of the zones untreated sites are taken from; everywhere outside treatments when left out"),
        ("target" = Option<String>, Query, description = "Codes of the plants it was meant for; introduced plants found when left out"),
        ("seed" = Option<u64>, Query, description = "Seed of permutations and resamples")
    ),
    responses(
        (status = 200, body = EfficacyView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn efficacy(
    State(app): State<AppState>,
    asked: Result<Query<Asked>, QueryRejection>,
) -> Result<Json<EfficacyView>, ApiError> {
    let Ok(Query(asked)) = asked else {
        let hint = "name it: `/api/efficacy?treatment=T1`; `/api/treatments` lists them";
        return Err(ApiError::refuse(StatusCode::BAD_REQUEST, "no treatment is named", hint));
    };
    let given = |text: Option<String>| text.filter(|text| !text.trim().is_empty());
    let request = EfficacyRequest {
        treatments: words(Some(asked.treatment)),
        before: given(asked.before),
        after: given(asked.after),
        later: given(asked.later),
        control: words(asked.control),
        targets: words(asked.target),
        worthwhile_fall: None,
        seed: asked.seed,
    };
    Ok(Json(app.ask(move |desk| desk.efficacy(&request)).await?))
}
