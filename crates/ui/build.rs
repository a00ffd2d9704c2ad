//! Builds the screens in `web/` and writes the table of what they consist of.
//!
//! Two ways: with `UI_DIST` naming a folder of built screens nothing of Node is needed; without it,
//! `npm ci` runs when the lock file is newer than what is installed, then Vite builds.

use std::env;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Folder of a build that holds the fonts for print; they are not sent to the browser.
const PRINT_FONTS: &str = "print-fonts";
/// The faces print needs, in the order `fonts()` hands them out.
const FACES: [&str; 6] = ["Regular", "Italic", "SemiBold", "SemiBoldItalic", "Bold", "BoldItalic"];
const GET_NODE: &str = "install Node 20.19 or newer with npm (on Debian and Ubuntu `apt install nodejs npm` when it is new enough), or set UI_DIST to a folder with built screens";

fn main() {
    if let Err(sentence) = run() {
        println!("cargo::error={sentence}");
    }
}

fn run() -> Result<(), String> {
    println!("cargo::rerun-if-env-changed=UI_DIST");
    let out = PathBuf::from(env::var_os("OUT_DIR").ok_or("cargo did not set OUT_DIR")?);
    let dist = match env::var_os("UI_DIST") {
        Some(folder) => {
            println!("cargo::rerun-if-changed={}", Path::new(&folder).display());
            PathBuf::from(folder)
        }
        None => build_screens(&out)?,
    };
    let dist = dist
        .canonicalize()
        .map_err(|error| format!("the folder of built screens `{}`: {error}", dist.display()))?;
    if !dist.join("index.html").is_file() {
        return Err(format!(
            "no `index.html` in `{}`; UI_DIST must name the folder that `npm run build` in web/ fills",
            dist.display()
        ));
    }
    let table = table(&dist)?;
    fs::write(out.join("table.rs"), table).map_err(|error| format!("table.rs: {error}"))
}

/// Builds `web/` into a folder below `out`.
fn build_screens(out: &Path) -> Result<PathBuf, String> {
    let manifest =
        env::var_os("CARGO_MANIFEST_DIR").ok_or("cargo did not set CARGO_MANIFEST_DIR")?;
    let web = Path::new(&manifest).join("../../web");
    for source in
        ["src", "index.html", "public", "vite.config.ts", "svelte.config.js", "package-lock.json"]
    {
        println!("cargo::rerun-if-changed={}", web.join(source).display());
    }
    // the notes on methods are a page of the screens
    println!("cargo::rerun-if-changed={}", web.join("../docs/methods.md").display());
    check_node()?;
    if install_is_stale(&web) {
        let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
        step(
            Command::new(npm).args(["ci", "--no-audit", "--no-fund"]).current_dir(&web),
            "npm ci",
        )?;
    }
    let dist = out.join("dist");
    step(
        Command::new("node")
            .arg("node_modules/vite/bin/vite.js")
            .args(["build", "--emptyOutDir", "--logLevel", "warn", "--outDir"])
            .arg(&dist)
            .current_dir(&web),
        "vite build",
    )?;
    Ok(dist)
}

/// Node of the right age must be there.
fn check_node() -> Result<(), String> {
    let output = Command::new("node").arg("--version").output().map_err(|error| {
        format!(
            "the screens are built with Node, and `node` could not be started ({error}); {GET_NODE}"
        )
    })?;
    let version = String::from_utf8_lossy(&output.stdout).trim().to_owned();
    let mut parts =
        version.trim_start_matches('v').split('.').map(|part| part.parse::<u32>().unwrap_or(0));
    let (major, minor) = (parts.next().unwrap_or(0), parts.next().unwrap_or(0));
    let good = (major == 20 && 19 <= minor) || (major == 22 && 12 <= minor) || 23 <= major;
    if good {
        Ok(())
    } else {
        Err(format!(
            "the screens are built with Node 20.19 or newer, and this is `{version}`; {GET_NODE}"
        ))
    }
}

/// True when nothing is installed, or the lock file changed since.
fn install_is_stale(web: &Path) -> bool {
    let changed = |path: &str| fs::metadata(web.join(path)).and_then(|data| data.modified()).ok();
    match (changed("package-lock.json"), changed("node_modules/.package-lock.json")) {
        (Some(lock), Some(installed)) => installed < lock,
        _ => true,
    }
}

fn step(command: &mut Command, name: &str) -> Result<(), String> {
    let output = command
        .output()
        .map_err(|error| format!("`{name}` in web/ could not be started ({error}); {GET_NODE}"))?;
    if output.status.success() {
        return Ok(());
    }
    let said = String::from_utf8_lossy(&output.stderr).replace('\n', " / ");
    Err(format!("`{name}` in web/ failed; run it there by hand to see all of it. It said: {said}"))
}

/// The source of the table: every file with its type, its mark and its packed twins.
fn table(dist: &Path) -> Result<String, String> {
    let mut files = Vec::new();
    collect(dist, dist, &mut files)?;
    files.sort();
    let mut source = String::from("static ASSETS: &[Asset] = &[\n");
    for name in &files {
        let packed = [".br", ".gz"].iter().any(|ending| name.ends_with(ending));
        if packed || name.starts_with(PRINT_FONTS) {
            continue;
        }
        let path = dist.join(name);
        let bytes = fs::read(&path).map_err(|error| format!("`{}`: {error}", path.display()))?;
        let twin = |ending: &str| {
            let name = format!("{name}.{ending}");
            if files.contains(&name) {
                format!("Some(include_bytes!({}))", literal(&dist.join(name)))
            } else {
                "None".to_owned()
            }
        };
        let _ = writeln!(
            source,
            "    Asset {{ path: {name:?}, content_type: {:?}, etag: \"\\\"{:016x}\\\"\", bytes: include_bytes!({}), brotli: {}, gzip: {} }},",
            content_type(name),
            mark(&bytes),
            literal(&path),
            twin("br"),
            twin("gz"),
        );
    }
    source.push_str("];\nstatic FONTS: &[&[u8]] = &[\n");
    let folder = dist.join(PRINT_FONTS);
    let fonts = FACES.map(|face| folder.join(format!("{face}.ttf")));
    for path in fonts.iter().filter(|path| path.is_file()) {
        let _ = writeln!(source, "    include_bytes!({}),", literal(path));
    }
    if !fonts.iter().all(|path| path.is_file()) {
        println!(
            "cargo::warning=fonts for print are missing in `{}`: print falls back to another typeface",
            folder.display()
        );
    }
    source.push_str("];\n");
    Ok(source)
}

/// A path as a Rust string literal.
fn literal(path: &Path) -> String {
    format!("{:?}", path.to_string_lossy())
}

fn collect(root: &Path, folder: &Path, files: &mut Vec<String>) -> Result<(), String> {
    let entries =
        fs::read_dir(folder).map_err(|error| format!("`{}`: {error}", folder.display()))?;
    for entry in entries {
        let path = entry.map_err(|error| format!("`{}`: {error}", folder.display()))?.path();
        if path.is_dir() {
            collect(root, &path, files)?;
        } else if let Ok(name) = path.strip_prefix(root) {
            files.push(name.to_string_lossy().replace('\\', "/"));
        }
    }
    Ok(())
}

fn content_type(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "woff2" => "font/woff2",
        "json" => "application/json",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

/// FNV-1a, 64 bit: tells one build's file from another's, nothing more.
fn mark(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}
