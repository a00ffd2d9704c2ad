use crate::error::ApiError;
use crate::state::AppState;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, StatusCode, header};
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
