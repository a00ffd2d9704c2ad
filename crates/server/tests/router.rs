//! The router without a socket: what is asked, answered, refused and kept quiet about.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

mod double;

use axum::body::{Body, to_bytes};
use axum::http::{Request, Response, StatusCode, header};
use double::OneSurvey;
use serde_json::Value;
use server::{AppState, DeskError, Shelf, router};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};
use tower::ServiceExt;
use workflow::shelf::NewLakeAsk;
use workflow::views::{ShelfBookView, ShelfView};

/// A server and what it wrote to its log.
fn server() -> (AppState, Arc<Mutex<Vec<String>>>) {
    let lines = Arc::new(Mutex::new(Vec::new()));
    let log = Arc::clone(&lines);
    let state =
        AppState::new(OneSurvey, Arc::new(move |line| log.lock().unwrap().push(line.into())));
    (state, lines)
}

async fn ask(request: Request<Body>) -> (Response<()>, Vec<u8>) {
    let response = router(server().0).oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 1 << 20).await.unwrap();
    (Response::from_parts(parts, ()), bytes.to_vec())
}

fn get(path: &str) -> Request<Body> {
    Request::get(path).header(header::HOST, "localhost:7878").body(Body::empty()).unwrap()
}

async fn json(path: &str) -> (StatusCode, Value) {
    let (response, body) = ask(get(path)).await;
    (response.status(), serde_json::from_slice(&body).unwrap())
}

#[tokio::test]
async fn the_book_answers_with_its_name() {
    let (status, body) = json("/api/book").await;
    assert_eq!(status, StatusCode::OK);
    assert_eq!(body["name"], "Lake Tamarin");
    assert_eq!(body["last_write"], Value::Null);
}

#[tokio::test]
async fn a_question_about_the_lake_arrives_in_metres_and_an_odd_one_is_refused_in_words() {
    let (status, body) = json(
        "/api/map/distance?level_m=-0.6096&min_depth_m=0&max_depth_m=3.5&secchi_m=2&rule=&year=2019",
    )
    .await;
    assert_eq!(status, StatusCode::OK);
    let bands = body["bands"].as_array().unwrap().iter();
    let lengths: Vec<f64> = bands.map(|band| band["from_m"].as_f64().unwrap()).collect();
    assert_eq!(format!("{lengths:?}"), "[-0.6096, 0.0, 3.5, 2.0]");
    assert!((body["beyond_m"].as_f64().unwrap() - 2019.0).abs() < 1e-9);
    let (status, body) = json("/api/map/distance").await;
    assert_eq!((status, body["bands"].as_array().unwrap().len()), (StatusCode::OK, 0));
    for path in
        ["lake?level_m=low", "map?secchi_m=NaN", "lake?level_m=-inf", "map/distance?rule=cubes"]
    {
        let (status, body) = json(&format!("/api/{path}")).await;
        assert_eq!(status, StatusCode::BAD_REQUEST, "{path}");
        assert!(!body["hint"].as_str().unwrap().is_empty(), "{path}: {body}");
    }
}

#[tokio::test]
async fn a_survey_that_is_not_there_says_so_and_what_is() {
    for what in ["sites", "findings", "check", "print/report", "export/csv"] {
        let (status, body) = json(&format!("/api/surveys/Winter/{what}")).await;
        assert_eq!(status, StatusCode::NOT_FOUND, "{what}");
        assert_eq!(body["message"], "no survey `Winter`", "{what}");
        assert_eq!(body["hint"], "this book holds `June 2026`", "{what}");
    }
}

#[tokio::test]
async fn a_name_with_a_space_arrives_whole() {
    let (status, body) = json("/api/surveys/June%202026/check").await;
    assert_eq!(status, StatusCode::OK);
    assert_eq!(body[0]["where"], "site 14");
}

#[tokio::test]
async fn what_is_inside_goes_to_the_log_and_not_to_the_browser() {
    let (state, lines) = server();
    let response = router(state).oneshot(get("/api/lake")).await.unwrap();
    assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
    let body = to_bytes(response.into_body(), 1 << 20).await.unwrap();
    assert!(!String::from_utf8_lossy(&body).contains("secret"));
    let logged = lines.lock().unwrap();
    assert_eq!(logged.as_slice(), ["disk I/O error at /home/chair/secret/tamarin.gpkg"]);
}

#[tokio::test]
async fn a_desk_that_panics_answers_500_and_the_server_lives_on() {
    let (state, _) = server();
    let app = router(state);
    let fallen = app.clone().oneshot(get("/api/surveys/June%202026/findings")).await.unwrap();
    assert_eq!(fallen.status(), StatusCode::INTERNAL_SERVER_ERROR);
    let next = app.oneshot(get("/api/book")).await.unwrap();
    assert_eq!(next.status(), StatusCode::OK);
}

#[tokio::test]
async fn a_comparison_needs_two_names() {
    let (status, body) = json("/api/compare?from=June%202026").await;
    assert_eq!(status, StatusCode::BAD_REQUEST);
    assert_eq!(body["message"], "two surveys are compared");
    let (status, _) = json("/api/compare?from=A&to=A").await;
    assert_eq!(status, StatusCode::BAD_REQUEST);
    let (status, body) = json("/api/compare?from=A&to=B+C").await;
    assert_eq!(status, StatusCode::OK);
    assert_eq!(body["to"]["survey"], "B C");
}

#[tokio::test]
async fn a_print_opens_in_the_browser_and_an_export_is_kept() {
    let (response, body) = ask(get("/api/surveys/June%202026/print/report")).await;
    assert_eq!(response.headers()[header::CONTENT_TYPE], "application/pdf");
    let how = response.headers()[header::CONTENT_DISPOSITION].to_str().unwrap();
    assert!(how.starts_with("inline; filename=\"June 2026 report.pdf\""), "{how}");
    assert_eq!(body, b"%PDF-1.7");

    let (response, _) = ask(get("/api/surveys/June%202026/export/csv")).await;
    let how = response.headers()[header::CONTENT_DISPOSITION].to_str().unwrap();
    assert!(how.ends_with("filename*=UTF-8''Seeh%C3%B6he.csv"), "{how}");
    assert!(how.starts_with("attachment"), "{how}");
}

#[tokio::test]
async fn an_unknown_print_or_export_lists_the_known_ones() {
    let (status, body) = json("/api/surveys/June%202026/print/poster").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert_eq!(
        body["hint"],
        "one of `safety`, `kit`, `sheets`, `map-pages`, `map`, `depth-map`, `plant-cards`, `voucher-labels`, `residents-card`, `report`, `record`, `packet`"
    );
    let (status, body) = json("/api/surveys/June%202026/export/pdf").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert_eq!(body["hint"], "one of `csv`, `geojson`, `gpx`");
}

#[tokio::test]
async fn a_foreign_host_name_is_refused_before_anything_is_read() {
    for host in ["example.org", "localhost.example.org:7878", "127.0.0.1.example.org", "192.0.2.1"]
    {
        for path in ["/api/book", "/", "/assets/x.js"] {
            let request =
                Request::get(path).header(header::HOST, host).body(Body::empty()).unwrap();
            let (response, body) = ask(request).await;
            assert_eq!(response.status(), StatusCode::FORBIDDEN, "{host} {path}");
            assert!(!String::from_utf8_lossy(&body).contains("Tamarin"), "{host} {path}");
        }
    }
    let without = Request::get("/api/book").body(Body::empty()).unwrap();
    assert_eq!(ask(without).await.0.status(), StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn this_machine_and_the_name_listened_on_are_let_in() {
    let (state, _) = server();
    let app = router(state.with_host("Lake.local"));
    for host in ["localhost", "127.0.0.1:7878", "[::1]:7878", "lake.local:7878"] {
        let request =
            Request::get("/api/book").header(header::HOST, host).body(Body::empty()).unwrap();
        let response = app.clone().oneshot(request).await.unwrap();
        assert_eq!(response.status(), StatusCode::OK, "{host}");
    }
}

fn change(headers: &[(&str, &str)], body: &'static str) -> Request<Body> {
    let mut request = Request::post("/api/book").header(header::HOST, "localhost:7878");
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    request.body(Body::from(body)).unwrap()
}

#[tokio::test]
async fn what_is_only_read_is_not_written() {
    for path in ["/api/book", "/", "/lake"] {
        for method in ["POST", "PUT", "DELETE", "PATCH"] {
            let request = Request::builder()
                .method(method)
                .uri(path)
                .header(header::HOST, "localhost")
                .body(Body::empty())
                .unwrap();
            let status = ask(request).await.0.status();
            assert_eq!(status, StatusCode::METHOD_NOT_ALLOWED, "{method} {path}");
        }
    }
}

#[tokio::test]
async fn a_change_from_a_page_elsewhere_is_refused() {
    for headers in [
        [("origin", "http://example.org"), ("content-type", "application/json")],
        [("origin", "http://localhost:9999"), ("content-type", "application/json")],
        [("origin", "null"), ("content-type", "application/json")],
        [("sec-fetch-site", "cross-site"), ("content-type", "application/json")],
        [("sec-fetch-site", "same-site"), ("content-type", "application/json")],
    ] {
        let (response, _) = ask(change(&headers, "{}")).await;
        assert_eq!(response.status(), StatusCode::FORBIDDEN, "{headers:?}");
    }
    let own = [("origin", "http://localhost:7878"), ("content-type", "application/json")];
    let (response, _) = ask(change(&own, "{}")).await;
    assert_eq!(response.status(), StatusCode::METHOD_NOT_ALLOWED, "let through to the route");
}

#[tokio::test]
async fn another_copy_arrives_whole_and_a_stranger_is_refused_in_the_books_own_words() {
    let send = |body| {
        let own = [("content-type", "application/octet-stream")];
        let mut request = change(&own, body);
        *request.uri_mut() = "/api/merge?file=theirs.gpkg&by=Ann".parse().unwrap();
        ask(request)
    };
    let (response, body) = send("a copy").await;
    assert_eq!(response.status(), StatusCode::OK);
    let view: Value = serde_json::from_slice(&body).unwrap();
    assert_eq!((&view["taken"], &view["conflicts"]), (&3.into(), &1.into()));
    let (response, body) = send("something else").await;
    assert_eq!(response.status(), StatusCode::BAD_REQUEST);
    let told = String::from_utf8(body).unwrap();
    assert!(told.contains("`theirs.gpkg` is not a copy") && told.contains("export"), "{told}");
}

#[tokio::test]
async fn a_body_a_form_could_send_is_refused() {
    for kind in ["application/x-www-form-urlencoded", "text/plain", "multipart/form-data"] {
        let (response, _) = ask(change(&[("content-type", kind)], "by=x")).await;
        assert_eq!(response.status(), StatusCode::UNSUPPORTED_MEDIA_TYPE, "{kind}");
    }
    let (response, _) = ask(change(&[("content-length", "4")], "by=x")).await;
    assert_eq!(response.status(), StatusCode::UNSUPPORTED_MEDIA_TYPE, "no type at all");
}

#[tokio::test]
async fn a_place_in_the_screens_gets_the_first_page_under_its_policy() {
    for path in ["/", "/lake", "/findings?survey=June+2026", "/compare"] {
        let (response, body) = ask(get(path)).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert_eq!(response.headers()[header::CONTENT_TYPE], "text/html; charset=utf-8");
        let policy = response.headers()[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(policy.starts_with("default-src 'none'; script-src 'self'"), "{policy}");
        assert_eq!(response.headers()[header::CACHE_CONTROL], "no-cache");
        assert!(body.starts_with(b"<!doctype html>"), "{path}");
    }
}

#[tokio::test]
async fn a_file_that_is_not_there_is_404_and_not_the_first_page() {
    for path in ["/assets/gone-123.js", "/favicon.ico", "/../Cargo.toml"] {
        assert_eq!(ask(get(path)).await.0.status(), StatusCode::NOT_FOUND, "{path}");
    }
    let (status, body) = json("/api/nothing").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert_eq!(body["message"], "nothing is served at this address");
}

#[tokio::test]
async fn a_page_the_browser_holds_is_not_sent_again() {
    let (response, _) = ask(get("/")).await;
    let etag = response.headers()[header::ETAG].clone();
    let again = Request::get("/")
        .header(header::HOST, "localhost")
        .header(header::IF_NONE_MATCH, format!("W/{}, \"other\"", etag.to_str().unwrap()))
        .body(Body::empty())
        .unwrap();
    let (response, body) = ask(again).await;
    assert_eq!(response.status(), StatusCode::NOT_MODIFIED);
    assert!(body.is_empty());
}

#[tokio::test]
async fn every_answer_forbids_guessing_its_type() {
    for path in ["/", "/api/book", "/api/nothing", "/gone.js"] {
        let (response, _) = ask(get(path)).await;
        assert_eq!(response.headers()[header::X_CONTENT_TYPE_OPTIONS], "nosniff", "{path}");
    }
}

#[tokio::test]
async fn a_route_is_asked_in_words_and_an_unknown_word_is_named() {
    let (response, body) = ask(get("/api/route?survey=June%202026&boats=2&draft=1ft")).await;
    assert_eq!(response.status(), StatusCode::OK);
    let body: Value = serde_json::from_slice(&body).unwrap();
    assert_eq!(body["sentence"], "2 boats");
    for wrong in ["survey=June%202026&boots=2", "survey=June%202026&boats=two"] {
        let (response, body) = ask(get(&format!("/api/route?{wrong}"))).await;
        assert_eq!(response.status(), StatusCode::BAD_REQUEST, "{wrong}");
        let body: Value = serde_json::from_slice(&body).unwrap();
        assert!(body["message"].as_str().unwrap().contains("bo"), "{wrong}: {body}");
    }
}

#[tokio::test]
async fn every_path_of_the_document_is_served() {
    let document = serde_json::to_value(server::openapi()).unwrap();
    let paths: BTreeMap<String, BTreeMap<String, Value>> =
        serde_json::from_value(document["paths"].clone()).unwrap();
    assert!(paths.len() >= 10);
    for (path, method) in
        paths.iter().flat_map(|(path, methods)| methods.keys().map(move |method| (path, method)))
    {
        let path = path
            .replace("{name}", "June%202026")
            .replace("{code}", "14")
            .replace("{kind}", "map")
            .replace("{format}", "csv");
        let mut request = get(&path);
        *request.method_mut() = method.to_uppercase().parse().unwrap();
        let (response, body) = ask(request).await;
        let text = String::from_utf8_lossy(&body);
        assert!(!text.contains("nothing is served at this address"), "{path}");
        assert_ne!(response.status(), StatusCode::METHOD_NOT_ALLOWED, "{path}");
    }
}

/// One book, `tamarin.gpkg`, and no others but those begun.
struct OneBook;

impl Shelf for OneBook {
    fn books(&self) -> Result<ShelfView, DeskError> {
        let book = ShelfBookView { file: "tamarin.gpkg".into(), ..ShelfBookView::default() };
        Ok(ShelfView { folder: Some("lakes".into()), books: vec![book] })
    }

    fn begin(&self, ask: &NewLakeAsk) -> Result<ShelfBookView, DeskError> {
        Ok(ShelfBookView { name: ask.name.clone(), ..ShelfBookView::default() })
    }

    fn desk(&self, file: &str) -> Result<Arc<dyn server::Desk>, DeskError> {
        if file == "tamarin.gpkg" {
            return Ok(Arc::new(OneSurvey));
        }
        Err(DeskError::not_found(format!("no lake book `{file}`"), "the first page lists them"))
    }
}

fn begin(host: &str) -> Request<Body> {
    Request::post("/api/books")
        .header(header::HOST, "localhost:7878")
        .header(header::ORIGIN, format!("http://{host}"))
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from(r#"{"name":"Long Lake"}"#))
        .unwrap()
}

async fn at_shelf(request: Request<Body>) -> (StatusCode, Value) {
    let response = router(server().0.with_shelf(OneBook)).oneshot(request).await.unwrap();
    let status = response.status();
    let body = to_bytes(response.into_body(), 1 << 20).await.unwrap();
    (status, serde_json::from_slice(&body).unwrap_or(Value::Null))
}

#[tokio::test]
async fn a_book_of_the_shelf_answers_below_its_file_name() {
    let (status, body) = at_shelf(get("/books/tamarin.gpkg/api/book")).await;
    assert_eq!((status, &body["name"]), (StatusCode::OK, &Value::from("Lake Tamarin")));
    let (status, body) = at_shelf(get("/books/tamarin.gpkg/api/surveys/June%202026/check")).await;
    assert_eq!((status, &body[0]["where"]), (StatusCode::OK, &Value::from("site 14")));
    let (status, _) = at_shelf(get("/books/tamarin.gpkg/lake?zone=W1")).await;
    assert_eq!(status, StatusCode::OK, "its screens too");
    let (status, body) = at_shelf(get("/books/other.gpkg/api/book")).await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert_eq!(body["message"], "no lake book `other.gpkg`");
}

#[tokio::test]
async fn the_shelf_lists_its_books_and_begins_one_for_its_own_pages_only() {
    let (_, body) = at_shelf(get("/api/books")).await;
    assert_eq!(body["books"][0]["file"], "tamarin.gpkg");
    let (status, body) = at_shelf(begin("localhost:7878")).await;
    assert_eq!((status, &body["name"]), (StatusCode::OK, &Value::from("Long Lake")));
    let (status, _) = at_shelf(begin("elsewhere.example")).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_server_of_one_book_lists_and_begins_no_others() {
    let (status, body) = json("/api/books").await;
    assert_eq!((status, &body["folder"]), (StatusCode::OK, &Value::Null));
    let (response, _) = ask(begin("localhost:7878")).await;
    assert_eq!(response.status(), StatusCode::NOT_FOUND);
    let (status, _) = json("/books/tamarin.gpkg/api/book").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
}
