//! Prints the papers of an invented lake into a folder: `cargo run -p report --example tamarin FOLDER`.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

#[path = "../tests/tamarin/mod.rs"]
mod tamarin;

use report::{Palette, field_sheets, site_map, survey_report};
use std::path::Path;

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| ".".to_owned());
    let Some(fonts) = tamarin::fonts() else { return };
    let keep = |name: &str, draft: report::Draft| {
        let print = draft.print(&fonts).unwrap();
        println!("{name}: {} pages, {} bytes", print.pages.len(), print.pdf.len());
        for remark in &print.remarks {
            println!("  {remark}");
        }
        std::fs::write(Path::new(&folder).join(name), print.pdf).unwrap();
    };
    for (palette, tail) in [(Palette::Colour, ""), (Palette::BlackAndWhite, "-bw")] {
        let settings = tamarin::settings(palette);
        let page = tamarin::site_map_page();
        keep(&format!("map{tail}.pdf"), site_map(&page, &settings, &fonts).unwrap());
        let report = tamarin::survey_report();
        keep(&format!("report{tail}.pdf"), survey_report(&report, &settings, &fonts).unwrap());
    }
    let settings = tamarin::settings(Palette::BlackAndWhite);
    for (name, sheets) in [
        ("sheets-sub-areas.pdf", tamarin::sub_area_sheets()),
        ("sheets-many-codes.pdf", tamarin::many_codes()),
        ("sheets-long-names.pdf", tamarin::long_names()),
    ] {
        keep(name, field_sheets(&sheets, &settings, &fonts).unwrap());
    }
    keep("sheets.pdf", field_sheets(&tamarin::sheets(), &settings, &fonts).unwrap());
}
