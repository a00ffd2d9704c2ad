use crate::error::ApiError;
use crate::state::AppState;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// What the screens may load: what this server sends, nothing else.
const CONTENT_SECURITY_POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; \
     img-src 'self' data:; font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; \
     frame-ancestors 'none'";

/// Refuses a request that reached this machine under a name it does not go by.
///
/// A page from elsewhere can point a name of its own at 127.0.0.1 and have the browser read the
/// book through it (DNS rebinding); the `Host` header gives it away.
pub(crate) async fn host(State(state): State<AppState>, request: Request, next: Next) -> Response {
    let named = request
        .headers()
        .get(header::HOST)
        .and_then(|value| value.to_str().ok())
        .or_else(|| request.uri().host())
        .map(without_port);
    match named {
        Some(name) if is_ours(name, state.hosts()) => next.run(request).await,
        _ => ApiError::refuse(
            StatusCode::FORBIDDEN,
            "this server does not go by that name",
            "open it under `localhost`, or start it with `--listen` and the name it is reached by",
        )
        .into_response(),
    }
}

/// Lets a change through only when it comes from a page of this server or from no page at all.
///
/// A page from elsewhere can send a form to 127.0.0.1 without being asked (cross-site request
/// forgery). A browser then says so in `Origin` or `Sec-Fetch-Site`, and without our consent, which
/// is never given, it cannot send a body of type JSON or of plain bytes.
pub(crate) async fn own_pages(request: Request, next: Next) -> Response {
    match refusal(request.method(), request.headers()) {
        None => next.run(request).await,
        Some(refusal) => refusal.into_response(),
    }
}

fn refusal(method: &Method, headers: &HeaderMap) -> Option<ApiError> {
    if method.is_safe() {
        return None;
    }
    let word = |name: HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    let origin = word(header::ORIGIN).map(|origin| origin.split_once("://").map(|(_, host)| host));
    let ours = origin.is_none_or(|origin| origin.is_some() && origin == word(header::HOST))
        && word(HeaderName::from_static("sec-fetch-site"))
            .is_none_or(|site| ["same-origin", "none"].contains(&site));
    if !ours {
        return Some(ApiError::refuse(
            StatusCode::FORBIDDEN,
            "changes are taken from Quillwort's own pages only",
            "make the change in the window Quillwort opened, or by command",
        ));
    }
    let known = match word(header::CONTENT_TYPE) {
        Some(value) => {
            let media_type = value.split(';').next().unwrap_or(value).trim();
            ["application/json", "application/octet-stream"].contains(&media_type)
        }
        None => {
            word(header::CONTENT_LENGTH).is_none_or(|length| length == "0")
                && !headers.contains_key(header::TRANSFER_ENCODING)
        }
    };
    (!known).then(|| {
        ApiError::refuse(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "a change is sent as JSON, a file as plain bytes",
            "send it as `application/json` or `application/octet-stream`",
        )
    })
}

/// Headers every answer carries.
pub(crate) async fn headers(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let is_page = response
        .headers()
        .get(header::CONTENT_TYPE)
        .is_some_and(|value| value.as_bytes().starts_with(b"text/html"));
    let headers = response.headers_mut();
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    headers.insert("cross-origin-resource-policy", HeaderValue::from_static("same-origin"));
    if is_page {
        let policy = HeaderValue::from_static(CONTENT_SECURITY_POLICY);
        headers.insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    response
}

/// `[::1]:8080` → `[::1]`, `localhost:8080` → `localhost`.
fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port))
            if !port.is_empty() && port.bytes().all(|byte| byte.is_ascii_digit()) =>
        {
            name
        }
        _ => host,
    }
}

fn is_ours(name: &str, more: &[String]) -> bool {
    let name = name.to_ascii_lowercase();
    ["localhost", "127.0.0.1", "[::1]"].contains(&name.as_str()) || more.contains(&name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_port_is_cut_off_and_an_address_of_version_six_stays_whole() {
        for (given, expected) in [
            ("localhost:8080", "localhost"),
            ("localhost", "localhost"),
            ("127.0.0.1:1", "127.0.0.1"),
            ("[::1]:8080", "[::1]"),
            ("[::1]", "[::1]"),
        ] {
            assert_eq!(without_port(given), expected, "{given}");
        }
    }

    #[test]
    fn only_this_machine_and_the_configured_name_are_ours() {
        let more = ["lake.local".to_owned()];
        for ours in ["localhost", "LocalHost", "127.0.0.1", "[::1]", "Lake.local"] {
            assert!(is_ours(ours, &more), "{ours}");
        }
        for other in ["example.org", "localhost.example.org", "127.0.0.1.example.org", ""] {
            assert!(!is_ours(other, &more), "{other}");
        }
    }
}
