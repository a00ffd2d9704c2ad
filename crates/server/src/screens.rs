use crate::error::ApiError;
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use ui::Asset;

/// A file of the screens, or the first page for an address the screens know and we do not.
pub(crate) async fn file(request: Request) -> Response {
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        let hint = "the server reads the lake book and changes nothing";
        return ApiError::refuse(StatusCode::METHOD_NOT_ALLOWED, "only reading is served", hint)
            .into_response();
    }
    let path = request.uri().path();
    let found =
        ui::asset(path).or_else(|| is_place(path).then(|| ui::asset("index.html")).flatten());
    if let Some(asset) = found {
        return send(asset, request.headers());
    }
    let hint = "go to the first page and start from there";
    ApiError::refuse(StatusCode::NOT_FOUND, &format!("no page `{path}`"), hint).into_response()
}

/// A place in the screens has no dot in its last part; a file that is not there has.
fn is_place(path: &str) -> bool {
    !path.rsplit('/').next().unwrap_or_default().contains('.')
}

fn send(asset: Asset, asked: &HeaderMap) -> Response {
    let cache =
        if asset.is_immutable() { "public, max-age=31536000, immutable" } else { "no-cache" };
    let mut headers = HeaderMap::new();
    headers.insert(header::ETAG, HeaderValue::from_static(asset.etag));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(cache));
    headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    if is_known(asked, asset.etag) {
        return (StatusCode::NOT_MODIFIED, headers).into_response();
    }
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(asset.content_type));
    let (encoding, bytes) = packed(asset, asked);
    if let Some(encoding) = encoding {
        headers.insert(header::CONTENT_ENCODING, HeaderValue::from_static(encoding));
    }
    (headers, bytes).into_response()
}

/// True when the browser holds this very file; weak comparison, RFC 9110 section 13.1.2.
fn is_known(asked: &HeaderMap, etag: &str) -> bool {
    let tags = asked.get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    tags.is_some_and(|tags| {
        tags.split(',').map(str::trim).any(|tag| tag == "*" || tag.trim_start_matches("W/") == etag)
    })
}

/// The smallest form the browser takes.
fn packed(asset: Asset, asked: &HeaderMap) -> (Option<&'static str>, &'static [u8]) {
    let takes = |name: &str| {
        asked.get(header::ACCEPT_ENCODING).and_then(|value| value.to_str().ok()).is_some_and(
            |list| {
                list.split(',').any(|entry| {
                    let mut parts = entry.split(';').map(str::trim);
                    parts.next() == Some(name) && !parts.any(|part| part == "q=0")
                })
            },
        )
    };
    match (asset.brotli, asset.gzip) {
        (Some(bytes), _) if takes("br") => (Some("br"), bytes),
        (_, Some(bytes)) if takes("gzip") => (Some("gzip"), bytes),
        _ => (None, asset.bytes),
    }
}
