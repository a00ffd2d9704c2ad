//! Tables that stand in `docs/coverage.md` as the tests compute them.

use std::path::Path;

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
