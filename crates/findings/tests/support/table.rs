//! Tables that stand in `docs/coverage.md` as the tests compute them.

use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A share still to be computed.
pub(crate) type Share = Box<dyn Fn() -> f64 + Sync>;

/// Computes shares on every core, in order; each has its own seed, so the cores change no digit.
pub(crate) fn computed(shares: &[Share]) -> Vec<f64> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(vec![f64::NAN; shares.len()]));
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                while let index = next.fetch_add(1, Ordering::Relaxed)
                    && let Some(share) = shares.get(index)
                {
                    let share = share();
                    done.lock().unwrap()[index] = share;
                }
            });
        }
    });
    done.into_inner().unwrap()
}

/// Fails unless the page holds the table under its mark; with `QUILLWORT_WRITE_DOCS` set, writes it there.
pub(crate) fn stands_in_docs(mark: &str, table: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/coverage.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let (start, end) = (format!("<!-- {mark} -->\n"), format!("<!-- end of {mark} -->\n"));
    let (before, rest) = page.split_once(&start).unwrap();
    let (held, after) = rest.split_once(&end).unwrap();
    if std::env::var_os("QUILLWORT_WRITE_DOCS").is_some() {
        std::fs::write(&path, format!("{before}{start}{table}{end}{after}")).unwrap();
        return;
    }
    assert_eq!(held, table, "docs/coverage.md is out of date: run with QUILLWORT_WRITE_DOCS=1");
}

/// What a share of intervals that hold the truth is: empty within 93–97 %.
pub(crate) fn remark(share: f64) -> &'static str {
    match share {
        share if share < 0.93 => "too seldom",
        share if share > 0.97 => "too often",
        _ => "",
    }
}
