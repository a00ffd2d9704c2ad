//! How long a large book takes: 40 surveys of 1,000 sites with six observations each, and 50,262
//! soundings. `cargo run --release --package lakebook --example measure`
#![expect(clippy::print_stdout, reason = "its output is the measurement")]
#![expect(clippy::unwrap_used, reason = "a measurement that fails has nothing to say")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::{new_book, place, put_survey, survey_header, taxa};
use lakebook::{DataSet, DataSetContent};
use std::time::Instant;

fn timed<T>(what: &str, run: impl FnOnce() -> T) -> T {
    let (start, busy) = (Instant::now(), processor_seconds());
    let value = run();
    println!(
        "{what}: {:.3} s, of which the processor {:.3} s",
        start.elapsed().as_secs_f64(),
        processor_seconds() - busy
    );
    value
}

/// Processor time of this program, where the system tells: other programs do not count.
fn processor_seconds() -> f64 {
    let Ok(text) = std::fs::read_to_string("/proc/self/stat") else { return f64::NAN };
    let after_name = text.rsplit(')').next().unwrap_or("");
    let ticks: f64 = after_name
        .split_whitespace()
        .skip(11)
        .take(2)
        .filter_map(|one| one.parse::<f64>().ok())
        .sum();
    ticks / 100.0
}

fn main() {
    let (_folder, path) = place();
    let mut book = new_book(&path);
    let taxa = taxa();
    timed("import 40 surveys x 1,000 visits x 6 observations", || {
        book.transact("forty surveys", |writer| {
            (0..40).try_for_each(|number| put_survey(writer, &survey_header(number), &taxa, 1_000))
        })
        .unwrap();
    });
    let surveys = book.surveys().unwrap();
    timed("load one record, first", || book.record(surveys[3].id).unwrap());
    timed("load one record, again", || book.record(surveys[3].id).unwrap());
    timed("load all 40 records", || {
        surveys.iter().map(|one| book.record(one.id).unwrap().visits.len()).sum::<usize>()
    });
    let soundings = (0..50_262)
        .map(|number: u32| {
            let scatter = f64::from(number.wrapping_mul(2_654_435_761) >> 8) / f64::from(1 << 24);
            (
                -89.42 + scatter * 0.03,
                43.0 + f64::from(number) * 5e-7,
                f64::from(number % 90) / 10.0,
            )
        })
        .collect();
    let set = DataSet {
        name: "depths.csv".into(),
        unit: "ft".into(),
        crs: "EPSG:4326".into(),
        content: DataSetContent::Soundings(soundings),
        note: String::new(),
    };
    let sha256 = timed("add 50,262 soundings", || book.put_data_set(&set, "soundings").unwrap());
    timed("load 50,262 soundings", || book.load_data_set(&sha256).unwrap());
    let mut changed = book.record(surveys[3].id).unwrap().visits[5].clone();
    changed.note = "changed".into();
    timed("save one visit", || {
        book.transact("one visit", |writer| writer.put_visit(&changed)).unwrap();
    });
    timed("seal one survey", || book.seal(surveys[3].id, "A. Heron").unwrap());
    timed("verify", || assert!(book.verify().unwrap().ok));
    timed("rebuild", || book.rebuild().unwrap());
    timed("backup", || book.backup(path.with_extension("backup.gpkg")).unwrap());
    drop(book);
    timed("open", || lakebook::LakeBook::open(&path, common::TestPorts::new("desk")).unwrap());
    println!("file: {:.1} MB", std::fs::metadata(&path).unwrap().len() as f64 / 1e6);
    if let Some(copy) = std::env::args().nth(1) {
        std::fs::copy(&path, copy).unwrap();
    }
}
