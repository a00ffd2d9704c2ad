//! Writes the contract with the screens, `web/openapi.json`: `cargo run -p server --example openapi`.

use std::error::Error;
use std::fs;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/openapi.json");
    let mut text = server::openapi().to_pretty_json()?;
    text.push('\n');
    fs::write(path, text)?;
    Ok(())
}
