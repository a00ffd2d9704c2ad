//! One file a resource; a handler asks the desk one question.

pub(crate) mod book;
pub(crate) mod compare;
pub(crate) mod draw;
pub(crate) mod efficacy;
pub(crate) mod entry;
pub(crate) mod exports;
pub(crate) mod files;
pub(crate) mod findings;
pub(crate) mod keeping;
pub(crate) mod kit;
pub(crate) mod lake;
pub(crate) mod lake_words;
pub(crate) mod look;
pub(crate) mod papers;
pub(crate) mod picture_ask;
pub(crate) mod plan;
pub(crate) mod prints;
pub(crate) mod route;
pub(crate) mod sheet_pictures;
pub(crate) mod shelf;
pub(crate) mod surveys;
pub(crate) mod track;
pub(crate) mod trend;

use crate::desk::Download;
use crate::error::ApiError;
use crate::openapi::openapi;
use crate::state::AppState;
use axum::body::Bytes;
use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, FromRequest, Query, Request};
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{delete, get, post, put};
use axum::{Json, Router};

/// Routes below `/api`.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route("/book", get(book::book))
        .route("/books", get(shelf::books).post(shelf::begin))
        .route("/lake", get(lake::lake))
        .route("/lake/littoral", put(lake::keep_littoral))
        .route("/map", get(lake::map))
        .route("/map/distance", get(lake::distances))
        .merge(draw_routes())
        .route("/surveys", get(surveys::surveys).post(papers::begin))
        .route("/surveys/{name}/sites", get(surveys::sites).post(papers::add_site))
        .route("/surveys/{name}/check", get(surveys::check).post(keeping::settle))
        .merge(entry_routes())
        .merge(papers_routes())
        .route("/surveys/{name}/findings", get(findings::findings))
        .route("/surveys/{name}/print/{kind}", get(prints::print))
        .route("/print/{kind}", get(prints::print_lake))
        .route("/surveys/{name}/packet", get(prints::packet))
        .route("/kit", get(kit::kit).put(kit::keep_kit))
        .route("/surveys/{name}/export/{format}", get(exports::export))
        .route("/route", get(route::route))
        .route("/surveys/{name}/extent", get(findings::extent))
        .route("/surveys/{name}/route", get(route::kept).put(route::keep).delete(route::forget))
        .route("/surveys/{name}/track", post(track::track).layer(picture_sized()))
        .route("/compare", get(compare::compare))
        .route("/effort", get(plan::effort))
        .route("/designs", get(plan::designs))
        .route("/plan/preview", post(plan::preview))
        .route("/surveys/{name}/plan", get(plan::planned))
        .route("/surveys/{name}/sites/{code}", post(plan::change_site))
        .route("/plan", post(plan::plan))
        .route("/treatments", get(efficacy::treatments))
        .route("/efficacy", get(efficacy::efficacy))
        .route("/trend", get(trend::trend))
        .route("/trends", get(trend::trends))
        .route("/spread", get(trend::spread))
        .route("/openapi.json", get(|| async { Json(openapi()) }))
        .fallback(unknown)
        .method_not_allowed_fallback(not_so)
}

/// Writing up a survey by hand.
fn entry_routes() -> Router<AppState> {
    Router::new()
        .route("/surveys/{name}/entry", get(entry::entry))
        .route("/surveys/{name}/visits/{site}", put(entry::save_visit).delete(entry::delete_visit))
        .route("/surveys/{name}/visits/{site}/history", get(entry::visit_log))
        .route("/surveys/{name}/header", put(entry::save_header))
        .route("/surveys/{name}/scale", get(papers::scale).put(papers::change_scale))
        .route("/surveys/{name}/beds", post(entry::save_bed))
        .route("/surveys/{name}/beds/{id}", delete(entry::delete_bed))
        .route("/surveys/{name}/shoreline", post(entry::save_shoreline))
        .route("/surveys/{name}/shoreline/{id}", delete(entry::delete_shoreline))
        .route("/surveys/{name}/history", get(entry::survey_log))
        .route("/taxa", post(entry::add_taxon))
        .route("/unknowns", post(entry::add_unknown))
        .route("/species", get(entry::species))
        .route("/undo", post(entry::undo))
        .route("/conflicts", get(keeping::conflicts).post(keeping::settle_conflict))
        .route("/unknowns/resolve", post(keeping::resolve))
        .route("/observers", get(keeping::observers))
        .route("/surveys/{name}/second", get(keeping::second_entries))
        .route(
            "/surveys/{name}/second/{site}",
            put(keeping::save_second).post(keeping::choose_entry).delete(keeping::delete_second),
        )
        .route(
            "/surveys/{name}/photos",
            get(keeping::photos).post(keeping::add_photo).layer(picture_sized()),
        )
        .route("/surveys/{name}/photos/clock", post(keeping::correct_clock))
        .route(
            "/surveys/{name}/photos/{id}",
            put(keeping::save_photo).delete(keeping::delete_photo),
        )
        .route("/photos/{id}", get(keeping::picture))
        .route(
            "/surveys/{name}/sheet-pictures",
            get(sheet_pictures::list).post(sheet_pictures::add).layer(picture_sized()),
        )
        .route("/surveys/{name}/sheet-pictures/{sha256}", get(sheet_pictures::picture))
}

/// A body of JSON; what cannot be read of it is said in words for a person.
pub(crate) struct Sent<T>(pub(crate) T);

impl<T: serde::de::DeserializeOwned> FromRequest<AppState> for Sent<T> {
    type Rejection = ApiError;

    async fn from_request(request: Request, state: &AppState) -> Result<Self, ApiError> {
        let bytes = Bytes::from_request(request, state).await.map_err(|refused| {
            ApiError::refuse(refused.status(), "what was sent is too large or was cut off", "")
        })?;
        serde_json::from_slice(&bytes).map(Sent).map_err(|error| {
            let hint = "`/api/openapi.json` says what is expected";
            ApiError::refuse(
                StatusCode::BAD_REQUEST,
                &format!("what was sent cannot be read: {error}"),
                hint,
            )
        })
    }
}

/// Largest file of records taken, in bytes: a workbook of 1,000 sites has less than one hundredth.
const LARGEST_FILE: usize = 32 * 1024 * 1024;

/// Largest copy of a book taken, in bytes: photos and scans lie in the book.
const LARGEST_BOOK: usize = 1024 << 20;

/// Files of records, and the closing of a record.
fn papers_routes() -> Router<AppState> {
    let largest = DefaultBodyLimit::max(LARGEST_FILE);
    Router::new()
        .route("/surveys/{name}/record", post(papers::record_file).layer(largest))
        .route("/surveys/{name}/seal", post(papers::seal))
        .route("/verify", get(papers::verify))
        .route("/scales", get(papers::scales))
        .route("/backup", get(keeping::backup))
        .route("/merge", post(keeping::merge).layer(DefaultBodyLimit::max(LARGEST_BOOK)))
}

/// Scans and photos are larger than other changes.
fn picture_sized() -> DefaultBodyLimit {
    DefaultBodyLimit::max(80 << 20)
}

/// The lake drawn by hand, and scanned maps under it.
fn draw_routes() -> Router<AppState> {
    Router::new()
        .route("/draw", get(draw::draw))
        .route("/draw/measure", post(draw::measure))
        .route("/draw/outline", put(draw::outline))
        .route("/draw/islands", post(draw::island))
        .route("/draw/islands/{x}/{y}", delete(draw::fill_island))
        .route("/draw/areas", post(draw::new_area))
        .route("/draw/areas/{id}", put(draw::put_area).delete(draw::delete_area))
        .route("/draw/areas/{id}/split", post(draw::split))
        .route("/draw/corner", post(draw::corner))
        .route("/draw/landmarks", post(draw::new_landmark))
        .route("/draw/landmarks/{id}", put(draw::put_landmark).delete(draw::delete_landmark))
        .route("/draw/contours", post(draw::contours))
        .route("/draw/contours/{sha256}", delete(draw::delete_contours))
        .route("/draw/undo", post(draw::undo))
        .route("/draw/redo", post(draw::redo))
        .route("/draw/place", get(draw::place))
        .route("/files", post(files::add).layer(picture_sized()))
        .route(
            "/backgrounds",
            get(draw::backgrounds).post(draw::new_background).layer(picture_sized()),
        )
        .route("/backgrounds/{id}", delete(draw::delete_background))
        .route("/backgrounds/{id}/picture", get(draw::picture))
        .route("/backgrounds/{id}/north-up", get(draw::north_up))
        .route("/picture", post(draw::page).layer(picture_sized()))
}

async fn unknown() -> ApiError {
    let hint = "`/api/openapi.json` lists what can be asked";
    ApiError::refuse(StatusCode::NOT_FOUND, "nothing is served at this address", hint)
}

async fn not_so() -> ApiError {
    let hint = "`/api/openapi.json` lists what can be asked and what can be changed";
    ApiError::refuse(StatusCode::METHOD_NOT_ALLOWED, "this address is not used in that way", hint)
}

/// What a question asks, or a sentence that says which word of it is not understood.
fn query<T>(ask: Result<Query<T>, QueryRejection>) -> Result<T, ApiError> {
    let hint = "`/api/openapi.json` lists what can be asked";
    ask.map(|Query(ask)| ask).map_err(|error| {
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason(&error.body_text()), hint)
    })
}

/// What a change is made of, or a sentence that says which part of it is not understood.
fn body<T>(ask: Result<Json<T>, JsonRejection>) -> Result<T, ApiError> {
    let hint = "`/api/openapi.json` lists what can be changed";
    ask.map(|Json(ask)| ask).map_err(|error| {
        ApiError::refuse(StatusCode::BAD_REQUEST, &reason(&error.body_text()), hint)
    })
}

/// The part of a rejection that names the field.
fn reason(text: &str) -> String {
    let told = text.split_once(": ").map_or(text, |(_, told)| told);
    format!("the question is not understood: {told}")
}

/// Hands out a file; `how` is `inline` or `attachment`.
fn hand_out(file: Download, how: &str) -> Response {
    let headers: [(HeaderName, HeaderValue); 3] = [
        (header::CONTENT_TYPE, header_value(&file.content_type, "application/octet-stream")),
        (header::CONTENT_DISPOSITION, header_value(&disposition(how, &file.file_name), how)),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-cache")),
    ];
    (headers, file.bytes).into_response()
}

fn header_value(text: &str, otherwise: &str) -> HeaderValue {
    HeaderValue::from_str(text)
        .or_else(|_| HeaderValue::from_str(otherwise))
        .unwrap_or_else(|_| HeaderValue::from_static("attachment"))
}

/// `Content-Disposition` with the name twice: plain for old readers, percent-encoded UTF-8 for the
/// rest (RFC 6266 section 4.3, RFC 8187 section 3.2).
fn disposition(how: &str, name: &str) -> String {
    let plain: String = name
        .chars()
        .map(|c| if c.is_ascii_graphic() && !"\"\\%/".contains(c) || c == ' ' { c } else { '_' })
        .collect();
    let encoded: String = name
        .bytes()
        .map(|byte| match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                char::from(byte).to_string()
            }
            _ => format!("%{byte:02X}"),
        })
        .collect();
    format!("{how}; filename=\"{plain}\"; filename*=UTF-8''{encoded}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_beyond_ascii_is_encoded_as_rfc_8187_section_3_2_3_shows() {
        // The example of RFC 8187, section 3.2.3: "€ rates".
        assert_eq!(
            disposition("attachment", "€ rates"),
            "attachment; filename=\"_ rates\"; filename*=UTF-8''%E2%82%AC%20rates"
        );
    }

    #[test]
    fn a_quote_in_a_name_cannot_end_the_header() {
        assert_eq!(
            disposition("inline", "a\"; x=\"b.pdf"),
            "inline; filename=\"a_; x=_b.pdf\"; filename*=UTF-8''a%22%3B%20x%3D%22b.pdf"
        );
    }
}
