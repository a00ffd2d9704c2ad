//! What the tests need, installed where that can be done, else named with how to get it.

use crate::run::Suite;
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread::JoinHandle;

/// Runs a command in a folder of the workspace and tells whether it went well.
type Runner<'a> = dyn FnMut(&str, &str, &mut Command) -> Result<bool> + 'a;

/// What the Python checks and the browser need, installed while Rust is compiled: that is mostly waiting
/// for the network. What goes wrong here is done again, and told, when it is needed.
#[derive(Debug)]
pub(crate) struct Ahead(Vec<JoinHandle<()>>);

impl Ahead {
    pub(crate) fn start(suite: &Suite) -> Self {
        let installs: [fn(&Path, &mut Runner<'_>) -> Result<()>; 3] = [
            |root, run| install_python(root, run).map(drop),
            |_, run| install_chromium(run),
            |root, run| npm_ci(root, "e2e/browser", run),
        ];
        let start = |install: fn(&Path, &mut Runner<'_>) -> Result<()>| {
            let root = suite.root.clone();
            std::thread::spawn(move || {
                let mut quietly = |_: &str, folder: &str, command: &mut Command| {
                    let quiet =
                        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
                    Ok(quiet.current_dir(root.join(folder)).status()?.success())
                };
                let _ = install(&root, &mut quietly);
            })
        };
        Self(installs.map(start).into())
    }

    /// Waits until nothing is being installed.
    pub(crate) fn done(self) {
        for install in self.0 {
            let _ = install.join();
        }
    }
}

/// Node 20.19 or newer builds the screens.
pub(crate) fn need_node(suite: &mut Suite) -> Result<()> {
    let version = Command::new("node").arg("--version").output();
    let text = match version {
        Ok(output) if output.status.success() => {
            String::from_utf8_lossy(&output.stdout).into_owned()
        }
        _ => bail!(
            "Node is missing; it builds the screens\nhint: install Node 20.19 or newer with your system's package manager, then run this again"
        ),
    };
    println!("Node {}", text.trim());
    suite.count("Node is there", true);
    Ok(())
}

/// `npm ci` when the lock file is newer than what is installed.
pub(crate) fn npm_install(suite: &mut Suite, folder: &str) -> Result<()> {
    npm_ci(&suite.root.clone(), folder, &mut |what, folder, command| {
        suite.step(what, folder, command)
    })
}

fn npm_ci(root: &Path, folder: &str, run: &mut Runner<'_>) -> Result<()> {
    let place = root.join(folder);
    let changed = |path: &Path| std::fs::metadata(path).and_then(|meta| meta.modified()).ok();
    let lock = changed(&place.join("package-lock.json"));
    let installed = changed(&place.join("node_modules/.package-lock.json"));
    if installed.is_some() && installed >= lock {
        return Ok(());
    }
    let done = run(
        &format!("npm packages of {folder}"),
        folder,
        Command::new("npm").args(["ci", "--no-audit", "--no-fund"]),
    )?;
    if !done {
        bail!("the npm packages of {folder} could not be installed\nhint: is there a network?");
    }
    Ok(())
}

/// A Python with the reference libraries, in a folder of its own under `target`.
pub(crate) fn python(suite: &mut Suite) -> Result<PathBuf> {
    let root = suite.root.clone();
    install_python(&root, &mut |what, folder, command| suite.step(what, folder, command))
}

fn install_python(root: &Path, run: &mut Runner<'_>) -> Result<PathBuf> {
    let place = root.join("target/checks-python");
    let python = place.join("bin/python");
    let wanted = std::fs::read_to_string(root.join("checks/requirements.txt"))
        .context("checks/requirements.txt")?;
    let stamp = place.join("installed.txt");
    if std::fs::read_to_string(&stamp).is_ok_and(|installed| installed == wanted) {
        return Ok(python);
    }
    let made = run(
        "Python: a folder for the reference libraries",
        ".",
        Command::new("python3").args(["-m", "venv"]).arg(&place),
    )?;
    if !made {
        bail!(
            "Python's venv is missing\nhint: install Python 3.11 or newer with venv (on Debian: python3-venv), then run this again"
        );
    }
    let installed = run(
        "Python: the reference libraries",
        "checks",
        Command::new(&python).args(["-m", "pip", "install", "-q", "-r", "requirements.txt"]),
    )?;
    if !installed {
        bail!("the Python packages could not be installed\nhint: is there a network?");
    }
    std::fs::write(stamp, wanted).context("could not note what was installed")?;
    Ok(python)
}

/// Where cargo put the program.
pub(crate) fn program(root: &Path, profile: &str) -> PathBuf {
    let target =
        std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), PathBuf::from);
    target.join(profile).join("quillwort")
}

fn answers(name: &str) -> bool {
    Command::new(name)
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// A Chromium: the one named, the one there, or, as root on Debian, one installed now.
pub(crate) fn chromium(suite: &mut Suite) -> Result<Option<String>> {
    install_chromium(&mut |what, folder, command| suite.step(what, folder, command))?;
    Ok(named_browser().or_else(known_browser))
}

fn install_chromium(run: &mut Runner<'_>) -> Result<()> {
    if named_browser().or_else(known_browser).is_none() && answers("apt-get") {
        run("Chromium: package lists", ".", Command::new("apt-get").args(["update", "-q"]))?;
        run(
            "Chromium: install",
            ".",
            Command::new("apt-get").args(["install", "-y", "-q", "chromium", "poppler-utils"]),
        )?;
    }
    Ok(())
}

fn named_browser() -> Option<String> {
    std::env::var("CHROMIUM").ok()
}

/// A browser in one of the folders programs are looked for in.
fn known_browser() -> Option<String> {
    let folders = std::env::var_os("PATH")?;
    std::env::split_paths(&folders)
        .flat_map(|folder| {
            ["chromium", "chromium-browser", "google-chrome"].map(|name| folder.join(name))
        })
        .find(|path| path.is_file())
        .map(|path| path.to_string_lossy().into_owned())
}

/// Where temporary files go: memory when there is room, since the tests write books by the hundred, each
/// change synced to the disk, and a disk that is still taking in a build makes them wait for minutes.
pub(crate) fn scratch() -> PathBuf {
    const ROOM_KB: u64 = 2_000_000;
    const MEMORY: &str = "/dev/shm";
    if std::env::var_os("TMPDIR").is_some() {
        return std::env::temp_dir();
    }
    let free = Command::new("df").args(["-Pk", MEMORY]).output().ok().and_then(|output| {
        let text = String::from_utf8(output.stdout).ok()?;
        text.lines().nth(1)?.split_whitespace().nth(3)?.parse::<u64>().ok()
    });
    let writable = || takes_files(Path::new(MEMORY));
    if free.is_some_and(|free| ROOM_KB <= free) && writable() {
        PathBuf::from(MEMORY)
    } else {
        std::env::temp_dir()
    }
}

fn takes_files(folder: &Path) -> bool {
    let file = folder.join(format!("quillwort-{}", std::process::id()));
    std::fs::write(&file, "").is_ok() && std::fs::remove_file(&file).is_ok()
}
