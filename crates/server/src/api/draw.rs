use super::picture_ask::{BackgroundAsk, DeleteWords, PageAsk, PlaceWords, Seen, SeenWords};
use super::{body, hand_out, query};
use crate::desk::{DrawChange, LakeDesk, NewBackground};
use crate::error::{ApiError, ErrorBody};
use crate::state::AppState;
use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{Path, Query, State};
use axum::response::Response;
use workflow::draw::{
    AreaAsk, ContoursAsk, CornerAsk, GeometryAsk, LandmarkAsk, SplitAsk, UndoAsk,
};
use workflow::views::{AddView, BackgroundView, DrawView, MeasureView, PlaceView};

type Drawn = Result<Json<DrawView>, ApiError>;
type Asked<T> = Result<Json<T>, JsonRejection>;

async fn change(app: AppState, Seen(seen): Seen, change: DrawChange) -> Drawn {
    Ok(Json(app.ask(move |desk| desk.change_drawing(&change, seen.as_deref())).await?))
}

/// All that can be drawn, with every corner.
#[utoipa::path(get, path = "/api/draw", responses((status = 200, body = DrawView), (status = 500, body = ErrorBody)))]
pub(crate) async fn draw(State(app): State<AppState>) -> Drawn {
    Ok(Json(app.ask(LakeDesk::draw).await?))
}

/// What a shape would measure; nothing is kept.
#[utoipa::path(post, path = "/api/draw/measure", request_body = GeometryAsk,
    responses((status = 200, body = MeasureView), (status = 400, body = ErrorBody)))]
pub(crate) async fn measure(
    State(app): State<AppState>,
    ask: Asked<GeometryAsk>,
) -> Result<Json<MeasureView>, ApiError> {
    let ask = body(ask)?;
    Ok(Json(app.ask(move |desk| desk.measure(&ask)).await?))
}

/// Writes the outline.
#[utoipa::path(put, path = "/api/draw/outline", params(SeenWords), request_body = GeometryAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn outline(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<GeometryAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Outline(body(ask)?)).await
}

/// Cuts an island out of the water.
#[utoipa::path(post, path = "/api/draw/islands", params(SeenWords), request_body = GeometryAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn island(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<GeometryAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Island(body(ask)?)).await
}

/// Makes the island at a place water.
#[utoipa::path(delete, path = "/api/draw/islands/{x}/{y}",
    params(SeenWords, ("x" = f64, Path, description = "East, metres"), ("y" = f64, Path, description = "North, metres")),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn fill_island(
    State(app): State<AppState>,
    seen: Seen,
    Path((x, y)): Path<(f64, f64)>,
) -> Drawn {
    change(app, seen, DrawChange::FillIsland([x, y])).await
}

/// Writes a new zone or sub-area.
#[utoipa::path(post, path = "/api/draw/areas", params(SeenWords), request_body = AreaAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn new_area(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<AreaAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Area(None, body(ask)?)).await
}

/// Changes a zone or sub-area.
#[utoipa::path(put, path = "/api/draw/areas/{id}", request_body = AreaAsk,
    params(SeenWords, ("id" = String, Path, description = "Key of the area")),
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn put_area(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
    ask: Asked<AreaAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Area(Some(id), body(ask)?)).await
}

/// Deletes a zone or sub-area.
#[utoipa::path(delete, path = "/api/draw/areas/{id}",
    params(SeenWords, DeleteWords, ("id" = String, Path, description = "Key of the area")),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn delete_area(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
    ask: Result<Query<DeleteWords>, QueryRejection>,
) -> Drawn {
    let for_good = query(ask)?.for_good.unwrap_or(false);
    change(app, seen, DrawChange::DeleteArea(id, for_good)).await
}

/// Parts a zone or sub-area by a line.
#[utoipa::path(post, path = "/api/draw/areas/{id}/split", request_body = SplitAsk,
    params(SeenWords, ("id" = String, Path, description = "Key of the area")),
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn split(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
    ask: Asked<SplitAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Split(id, body(ask)?)).await
}

/// Moves, puts in or takes out a corner in every shape that has it.
#[utoipa::path(post, path = "/api/draw/corner", params(SeenWords), request_body = CornerAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn corner(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<CornerAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Corner(body(ask)?)).await
}

/// Puts a new place on the map.
#[utoipa::path(post, path = "/api/draw/landmarks", params(SeenWords), request_body = LandmarkAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn new_landmark(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<LandmarkAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Landmark(None, body(ask)?)).await
}

/// Changes a place.
#[utoipa::path(put, path = "/api/draw/landmarks/{id}", request_body = LandmarkAsk,
    params(SeenWords, ("id" = String, Path, description = "Key of the place")),
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn put_landmark(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
    ask: Asked<LandmarkAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Landmark(Some(id), body(ask)?)).await
}

/// Takes a place off the map.
#[utoipa::path(delete, path = "/api/draw/landmarks/{id}",
    params(SeenWords, ("id" = String, Path, description = "Key of the place")),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn delete_landmark(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
) -> Drawn {
    change(app, seen, DrawChange::DeleteLandmark(id)).await
}

/// Keeps traced contours as depths.
#[utoipa::path(post, path = "/api/draw/contours", params(SeenWords), request_body = ContoursAsk,
    responses((status = 200, body = DrawView), (status = 400, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn contours(
    State(app): State<AppState>,
    seen: Seen,
    ask: Asked<ContoursAsk>,
) -> Drawn {
    change(app, seen, DrawChange::Contours(body(ask)?)).await
}

/// Takes back the last save.
#[utoipa::path(post, path = "/api/draw/undo", params(SeenWords), request_body = Option<UndoAsk>,
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn undo(
    State(app): State<AppState>,
    seen: Seen,
    ask: Result<Option<Json<Option<UndoAsk>>>, JsonRejection>,
) -> Drawn {
    let meant = body(ask.map(|ask| Json(ask.and_then(|Json(ask)| ask))))?;
    change(app, seen, DrawChange::Undo(meant.map(|ask| ask.note))).await
}

/// Makes the save again that was taken back last.
#[utoipa::path(post, path = "/api/draw/redo", params(SeenWords),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn redo(State(app): State<AppState>, seen: Seen) -> Drawn {
    change(app, seen, DrawChange::Redo).await
}

/// Takes contours out of the depths.
#[utoipa::path(delete, path = "/api/draw/contours/{sha256}",
    params(SeenWords, ("sha256" = String, Path, description = "The depths they came with")),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn delete_contours(
    State(app): State<AppState>,
    seen: Seen,
    Path(sha256): Path<String>,
) -> Drawn {
    change(app, seen, DrawChange::DeleteContours(sha256)).await
}

/// A place of the drawing in degrees, or degrees as a place of the drawing.
#[utoipa::path(get, path = "/api/draw/place", params(PlaceWords),
    responses((status = 200, body = PlaceView), (status = 400, body = ErrorBody)))]
pub(crate) async fn place(
    State(app): State<AppState>,
    ask: Result<Query<PlaceWords>, QueryRejection>,
) -> Result<Json<PlaceView>, ApiError> {
    let at = query(ask)?.place()?;
    Ok(Json(app.ask(move |desk| desk.place(at)).await?))
}

/// Scanned maps under the lake.
#[utoipa::path(get, path = "/api/backgrounds",
    responses((status = 200, body = Vec<BackgroundView>), (status = 500, body = ErrorBody)))]
pub(crate) async fn backgrounds(
    State(app): State<AppState>,
) -> Result<Json<Vec<BackgroundView>>, ApiError> {
    Ok(Json(app.ask(LakeDesk::backgrounds).await?))
}

/// Puts a picture under the lake.
#[utoipa::path(post, path = "/api/backgrounds", params(BackgroundAsk),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses((status = 200, body = AddView), (status = 400, body = ErrorBody)))]
pub(crate) async fn new_background(
    State(app): State<AppState>,
    ask: Result<Query<BackgroundAsk>, QueryRejection>,
    bytes: Bytes,
) -> Result<Json<AddView>, ApiError> {
    let ask = query(ask)?;
    let new = NewBackground {
        bytes: bytes.to_vec(),
        name: ask.name,
        warp: ask.warp,
        page: ask.page.unwrap_or(1),
        points: ask.points,
        preview: ask.preview.unwrap_or(false),
    };
    Ok(Json(app.ask(move |desk| desk.add_background(&new)).await?))
}

/// Takes a picture away from under the lake.
#[utoipa::path(delete, path = "/api/backgrounds/{id}",
    params(SeenWords, ("id" = String, Path, description = "Key of the picture")),
    responses((status = 200, body = DrawView), (status = 404, body = ErrorBody), (status = 409, body = ErrorBody)))]
pub(crate) async fn delete_background(
    State(app): State<AppState>,
    seen: Seen,
    Path(id): Path<String>,
) -> Drawn {
    change(app, seen, DrawChange::DeleteBackground(id)).await
}

/// A picture as it was added.
#[utoipa::path(get, path = "/api/backgrounds/{id}/picture",
    params(("id" = String, Path, description = "Key of the picture")),
    responses((status = 200, content_type = "image/png"), (status = 404, body = ErrorBody)))]
pub(crate) async fn picture(
    State(app): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, ApiError> {
    Ok(hand_out(app.ask(move |desk| desk.background_picture(&id, false)).await?, "inline"))
}

/// A picture drawn north up on its extent.
#[utoipa::path(get, path = "/api/backgrounds/{id}/north-up",
    params(("id" = String, Path, description = "Key of the picture")),
    responses((status = 200, content_type = "image/png"), (status = 404, body = ErrorBody)))]
pub(crate) async fn north_up(
    State(app): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, ApiError> {
    Ok(hand_out(app.ask(move |desk| desk.background_picture(&id, true)).await?, "inline"))
}

/// A page of a PDF, or a picture, as PNG; nothing is kept.
#[utoipa::path(post, path = "/api/picture", params(PageAsk),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses((status = 200, content_type = "image/png"), (status = 400, body = ErrorBody)))]
pub(crate) async fn page(
    State(app): State<AppState>,
    ask: Result<Query<PageAsk>, QueryRejection>,
    bytes: Bytes,
) -> Result<Response, ApiError> {
    let page = query(ask)?.page.unwrap_or(1);
    Ok(hand_out(app.ask(move |desk| desk.page_picture(&bytes, page)).await?, "inline"))
}
