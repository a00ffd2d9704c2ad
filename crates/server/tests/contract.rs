//! The committed contract is the one the server keeps.

use std::fs;
use std::path::Path;

#[test]
fn the_committed_openapi_document_is_the_servers() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/openapi.json");
    let committed = fs::read_to_string(&path).unwrap();
    let served = server::openapi().to_pretty_json().unwrap();
    assert!(
        committed.trim_end() == served,
        "web/openapi.json is out of date: run `cargo run -p server --example openapi`, then `npm run types` in web/"
    );
}
