use super::compare::Pair;
use super::{Sent, hand_out, query};
use crate::desk::{EntryDesk, NewPhoto};
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::QueryRejection;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use serde::Deserialize;
use workflow::views::{
    AgreementView, CheckView, ConflictView, MergeView, PhotoView, ResolutionView, SaveChoice,
    SaveClock, SaveConflict, SaveDeletion, SavePhoto, SaveResolution, SaveSettlement, SaveVisit,
    SecondEntriesView, SentPhotoView, VisitEntry,
};

/// Confirms a find of the check with a reason; without one it is opened again.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/check",
    params(
        ("name" = String, Path, description = "Name of the survey")
    ),
    request_body = SaveSettlement,
    responses(
        (status = 200, body = CheckView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn settle(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveSettlement>,
) -> Result<Json<CheckView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.settle(&name, &save)).await?))
}

/// Which copy of the book is sent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CopyWords {
    /// Name of its file.
    file: String,
    /// Who takes it in.
    #[serde(default)]
    by: String,
}

/// Takes in another copy of this book: the file is sent whole, and taken in whole or not at all.
#[utoipa::path(
    post,
    path = "/api/merge",
    params(
        ("file" = String, Query, description = "Name of the file"),
        ("by" = Option<String>, Query, description = "Who takes it in")
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses(
        (status = 200, body = MergeView),
        (status = 400, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn merge(
    State(app): State<AppState>,
    words: Result<Query<CopyWords>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<MergeView>, ApiError> {
    let CopyWords { file, by } = query(words)?;
    Ok(Json(app.ask(move |desk| desk.merge(&file, &bytes, by.trim())).await?))
}

/// The whole book as one file to keep elsewhere; it can be taken while others write.
#[utoipa::path(
    get,
    path = "/api/backup",
    responses(
        (status = 200, content_type = "application/geopackage+sqlite3", body = Vec<u8>),
        (status = 500, body = ErrorBody)
    )
)]
pub(crate) async fn backup(State(app): State<AppState>) -> Result<Response, ApiError> {
    Ok(hand_out(app.ask(EntryDesk::backup).await?, "attachment"))
}

/// Edits that contradict each other.
#[utoipa::path(
    get,
    path = "/api/conflicts",
    responses(
        (status = 200, body = Vec<ConflictView>),
        (status = 500, body = ErrorBody)
    )
)]
pub(crate) async fn conflicts(
    State(app): State<AppState>,
) -> Result<Json<Vec<ConflictView>>, ApiError> {
    Ok(Json(app.ask(EntryDesk::conflicts).await?))
}

/// Settles a conflict.
#[utoipa::path(
    post,
    path = "/api/conflicts",
    request_body = SaveConflict,
    responses(
        (status = 204, description = "done"),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn settle_conflict(
    State(app): State<AppState>,
    Sent(save): Sent<SaveConflict>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.settle_conflict(&save)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Names an unknown everywhere at once.
#[utoipa::path(
    post,
    path = "/api/unknowns/resolve",
    request_body = SaveResolution,
    responses(
        (status = 200, body = ResolutionView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn resolve(
    State(app): State<AppState>,
    Sent(save): Sent<SaveResolution>,
) -> Result<Json<ResolutionView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.resolve(&save)).await?))
}

/// Where two people's entries of one survey differ.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/second",
    params(
        ("name" = String, Path, description = "Name of the survey")
    ),
    responses(
        (status = 200, body = SecondEntriesView),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn second_entries(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<SecondEntriesView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.second_entries(&name)).await?))
}

/// Keeps a second person's entry of a site, apart from the first.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/second/{site}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    request_body = SaveVisit,
    responses(
        (status = 200, body = VisitEntry),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn save_second(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
    Sent(save): Sent<SaveVisit>,
) -> Result<Json<VisitEntry>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.save_second(&name, &site, &save)).await?))
}

/// Deletes a second entry.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/second/{site}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    request_body = SaveDeletion,
    responses(
        (status = 204, description = "deleted"),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn delete_second(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
    Sent(save): Sent<SaveDeletion>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.delete_second(&name, &site, &save.by)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Chooses one of two entries, whole or box by box.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/second/{site}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("site" = String, Path, description = "Code of the site")
    ),
    request_body = SaveChoice,
    responses(
        (status = 204, description = "done"),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn choose_entry(
    State(app): State<AppState>,
    Path((name, site)): Path<(String, String)>,
    Sent(save): Sent<SaveChoice>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.choose_entry(&name, &site, &save)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// How far two crews agree on the sites both threw at.
#[utoipa::path(
    get,
    path = "/api/observers",
    params(
        ("from" = String, Query, description = "Survey of the one crew"),
        ("to" = String, Query, description = "Survey of the other crew, at sites of the same codes")
    ),
    responses(
        (status = 200, body = AgreementView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn observers(
    State(app): State<AppState>,
    pair: Result<Query<Pair>, QueryRejection>,
) -> Result<Json<AgreementView>, ApiError> {
    let pair = query(pair)?;
    Ok(Json(app.ask(move |desk| desk.observers(&pair.from, &pair.to)).await?))
}

/// The photos of a survey.
#[utoipa::path(
    get,
    path = "/api/surveys/{name}/photos",
    params(
        ("name" = String, Path, description = "Name of the survey")
    ),
    responses(
        (status = 200, body = Vec<PhotoView>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn photos(
    State(app): State<AppState>,
    Path(name): Path<String>,
) -> Result<Json<Vec<PhotoView>>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.photos(&name)).await?))
}

/// What is said of a photo that is sent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PhotoWords {
    file: String,
    #[serde(default)]
    clock_offset_s: i64,
    #[serde(default)]
    by: String,
}

/// Keeps a photo, at the visit it was taken at by place or time.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/photos",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("file" = String, Query, description = "Name of the file"),
        ("clock_offset_s" = Option<i64>, Query, description = "Seconds the camera's clock is ahead"),
        ("by" = Option<String>, Query, description = "Who sends it")
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses(
        (status = 200, body = SentPhotoView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn add_photo(
    State(app): State<AppState>,
    Path(name): Path<String>,
    words: Result<Query<PhotoWords>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<SentPhotoView>, ApiError> {
    let PhotoWords { file, clock_offset_s, by } = query(words)?;
    let photo = NewPhoto { name: file, bytes: bytes.to_vec(), clock_offset_s, by };
    Ok(Json(app.ask(move |desk| desk.add_photo(&name, &photo)).await?))
}

/// Puts the clock of a camera right by one photo of known time; its photos are matched anew.
#[utoipa::path(
    post,
    path = "/api/surveys/{name}/photos/clock",
    params(("name" = String, Path, description = "Name of the survey")),
    request_body = SaveClock,
    responses(
        (status = 200, body = Vec<PhotoView>),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn correct_clock(
    State(app): State<AppState>,
    Path(name): Path<String>,
    Sent(save): Sent<SaveClock>,
) -> Result<Json<Vec<PhotoView>>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.correct_clock(&name, &save)).await?))
}

/// Takes a photo out of a survey.
#[utoipa::path(
    delete,
    path = "/api/surveys/{name}/photos/{id}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("id" = String, Path, description = "Key")
    ),
    request_body = SaveDeletion,
    responses(
        (status = 204, description = "taken out"),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn delete_photo(
    State(app): State<AppState>,
    Path((name, id)): Path<(String, String)>,
    Sent(save): Sent<SaveDeletion>,
) -> Result<StatusCode, ApiError> {
    app.ask(move |desk| desk.delete_photo(&name, &id, &save.by)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Says what a photo shows: caption, ruler, site, plant.
#[utoipa::path(
    put,
    path = "/api/surveys/{name}/photos/{id}",
    params(
        ("name" = String, Path, description = "Name of the survey"),
        ("id" = String, Path, description = "Key")
    ),
    request_body = SavePhoto,
    responses(
        (status = 200, body = PhotoView),
        (status = 400, body = ErrorBody),
        (status = 404, body = ErrorBody),
        (status = 409, body = ErrorBody)
    )
)]
pub(crate) async fn save_photo(
    State(app): State<AppState>,
    Path((name, id)): Path<(String, String)>,
    Sent(save): Sent<SavePhoto>,
) -> Result<Json<PhotoView>, ApiError> {
    Ok(Json(app.ask(move |desk| desk.save_photo(&name, &id, &save)).await?))
}

/// The picture of a photo: JPEG, upright, without the camera's particulars.
#[utoipa::path(
    get,
    path = "/api/photos/{id}",
    params(
        ("id" = String, Path, description = "Key")
    ),
    responses(
        (status = 200, content_type = "image/jpeg", body = Vec<u8>),
        (status = 404, body = ErrorBody)
    )
)]
pub(crate) async fn picture(
    State(app): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, ApiError> {
    Ok(hand_out(app.ask(move |desk| desk.picture(&id)).await?, "inline"))
}
