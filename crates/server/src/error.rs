use crate::desk::{DeskError, DeskErrorKind};
use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use utoipa::ToSchema;

/// What the browser is told when a question is not answered.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ErrorBody {
    /// What happened.
    pub message: String,
    /// What to do; empty when there is nothing.
    pub hint: String,
}

/// An error on its way out: status and words, nothing of the inside.
#[derive(Debug)]
pub(crate) struct ApiError {
    status: StatusCode,
    body: ErrorBody,
}

/// The one table from kinds to statuses.
const STATUSES: [(DeskErrorKind, StatusCode); 4] = [
    (DeskErrorKind::NotFound, StatusCode::NOT_FOUND),
    (DeskErrorKind::BadRequest, StatusCode::BAD_REQUEST),
    (DeskErrorKind::Conflict, StatusCode::CONFLICT),
    (DeskErrorKind::Internal, StatusCode::INTERNAL_SERVER_ERROR),
];

impl ApiError {
    /// Words for the browser; `log` gets what the browser must not see.
    pub(crate) fn new(error: DeskError, log: impl FnOnce(&str)) -> Self {
        let status = STATUSES
            .iter()
            .find(|(kind, _)| *kind == error.kind)
            .map_or(StatusCode::INTERNAL_SERVER_ERROR, |(_, status)| *status);
        if error.kind != DeskErrorKind::Internal {
            let body = ErrorBody { message: error.message, hint: error.hint };
            return Self { status, body };
        }
        log(&error.message);
        let body = ErrorBody {
            message: "the lake book could not answer".to_owned(),
            hint: "the window Quillwort was started from says what went wrong".to_owned(),
        };
        Self { status, body }
    }

    /// A word in the address that is none of those known.
    pub(crate) fn unknown_word(what: &str, found: &str, known: &[&str]) -> Self {
        let body = ErrorBody {
            message: format!("no {what} `{found}`"),
            hint: format!("one of `{}`", known.join("`, `")),
        };
        Self { status: StatusCode::NOT_FOUND, body }
    }

    /// Something wrong with the question itself.
    pub(crate) fn refuse(status: StatusCode, message: &str, hint: &str) -> Self {
        Self { status, body: ErrorBody { message: message.to_owned(), hint: hint.to_owned() } }
    }
}

impl IntoResponse for ApiError {
    fn into_response(self) -> Response {
        (self.status, Json(self.body)).into_response()
    }
}
